"""Run another program until it ends, or end it in time with all that it started."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

Said = subprocess.CompletedProcess[str]
"""What a program printed, and its exit status."""

PATIENCE = 180
"""Seconds that a program may take: a first start on a slow disk is no failure."""


def run(
    command: Sequence[str | Path], environment: Mapping[str, str] | None = None, given: str = ""
) -> Said:
    """Run a program.

    Parameters
    ----------
    command : sequence of str or Path
        The program and its arguments.
    environment : mapping of str to str, optional
        Its variables; those of this process when left out.
    given : str
        What it reads from standard input.

    Returns
    -------
    subprocess.CompletedProcess
        With what it printed.

    Raises
    ------
    TimeoutError
        When it took too long; neither it nor anything that it started runs any more.
    OSError
        When it cannot be started.

    Examples
    --------
    >>> run([sys.executable, "-c", "print(input(), end=chr(33))"], given="8/4").stdout
    '8/4!'
    """
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        errors="replace",
        env=environment,
        start_new_session=True,  # soffice only starts the program that does the work
    ) as process:
        try:
            printed, complaints = process.communicate(given, timeout=PATIENCE)
        except subprocess.TimeoutExpired:
            _end(process)
            raise TimeoutError(f"{command[0]} did not finish in {PATIENCE} seconds") from None
        except BaseException:  # Ctrl+C does not reach a session of its own
            _end(process)
            raise
    return subprocess.CompletedProcess(command, process.returncode, printed, complaints)


def _end(process: subprocess.Popen[str]) -> None:
    """End a program and all that it started."""
    if sys.platform == "win32":
        tree = ["taskkill", "/F", "/T", "/PID", str(process.pid)]
        subprocess.run(tree, capture_output=True, check=False)
    else:
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
    process.kill()
