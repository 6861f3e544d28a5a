"""The add-in's end of the pipe: starts the shop's own Python and hands it one call at a time.

Runs inside Calc, on Calc's Python: standard library only, Python 3.8 and later.
"""

from __future__ import annotations

import os
import subprocess
import tempfile
import threading
import time
from collections.abc import Mapping, Sequence
from typing import IO, Any

# relative: in Calc the package has another name
from .packing import OutOfStepError, receive, send
from .waiting import stay_awake

MEND = 'activate the environment that lumbercalc is installed in and run "lumbercalc addin calc"'
"""What puts a missing or outdated worker right."""

RETRY_AFTER = 5.0
"""Seconds before a worker that could not be started is tried again: a full sheet must not wait."""

CALC_ONLY = ("LD_LIBRARY_PATH", "DYLD_LIBRARY_PATH")
"""Variables that Calc sets for its own libraries."""


def without_python(environment: Mapping[str, str]) -> dict[str, str]:
    """Leave out what belongs to one Python alone: another one would take it for its own.

    Parameters
    ----------
    environment : mapping of str to str
        Variables of a process.

    Returns
    -------
    dict of str to str
        The others.

    Examples
    --------
    >>> without_python({"HOME": "/home/shop", "PYTHONPATH": "/x", "__PYVENV_LAUNCHER__": "/y"})
    {'HOME': '/home/shop'}
    """
    return {
        name: value
        for name, value in environment.items()
        if not name.upper().startswith("PYTHON") and name != "__PYVENV_LAUNCHER__"
    }


class WorkerMissingError(RuntimeError):
    """The worker cannot be started, or stopped twice on the same call; the message says why."""


class CallRefusedError(RuntimeError):
    """The answer is that this call cannot be made; the message says why."""


class _StoppedError(Exception):
    """The worker ended, or sent something that is not the protocol."""


def rows_of(reply: Mapping[str, Any]) -> Any:
    """Take the rows out of a reply.

    Parameters
    ----------
    reply : mapping
        From the worker, or from the environment inside Calc.

    Returns
    -------
    list of list, or dict
        Rows of cells, packed ones as they are.

    Raises
    ------
    CallRefusedError
        When it says why there are none.

    Examples
    --------
    >>> rows_of({"rows": [[8.0]]})
    [[8.0]]
    """
    if "error" in reply:
        raise CallRefusedError(str(reply["error"]))
    return reply["rows"]


class Link:
    """A worker process and the pipe to it: started at the first call, started again if it ends.

    Parameters
    ----------
    command : sequence of str
        The interpreter and its arguments.
    environment : mapping of str to str
        Variables that the worker gets on top of the user's own.

    Notes
    -----
    One message each way: ``{"name": ..., "arguments": [...]}`` is answered by
    ``{"rows": [[...]]}`` or ``{"error": "words"}``, rows of numbers as `packed`; the worker's
    first message is ``{"ready": true}``.
    The worker ends when its standard input does, however Calc ended.
    """

    def __init__(self, command: Sequence[str], environment: Mapping[str, str]) -> None:
        self._command = list(command)
        self._environment = dict(environment)
        self._lock = threading.Lock()
        self._worker: subprocess.Popen[bytes] | None = None
        self._complaints: IO[bytes] | None = None
        self._missing = ""
        self._missing_since = 0.0

    def ask(self, name: str, arguments: Sequence[Any]) -> Any:
        """Make one call.

        Parameters
        ----------
        name : str
            Name in the catalogue.
        arguments : sequence
            Cells, or rows of cells, perhaps packed; None for one that is left out.

        Returns
        -------
        list of list, or dict
            Rows of cells, or packed ones.

        Raises
        ------
        WorkerMissingError
            There is nobody to answer.
        CallRefusedError
            The worker says why not.
        """
        request = {"name": name, "arguments": list(arguments)}
        with self._lock:
            return rows_of(self._exchange_twice(request))

    def close(self) -> None:
        """End the worker; the next call starts a new one."""
        with self._lock:
            self._stop()

    def _exchange_twice(self, request: Mapping[str, Any]) -> dict[str, Any]:
        reason = ""
        for _ in range(2):
            try:
                return self._exchange(self._running(), request)
            except _StoppedError as stopped:
                reason = f"the calculation ended without an answer ({stopped}{self._last_words()})"
                self._stop()
            except BaseException:  # an answer left unread would be taken for the next call's
                self._stop()
                raise
        raise WorkerMissingError(reason)

    def _exchange(
        self, worker: subprocess.Popen[bytes], request: Mapping[str, Any]
    ) -> dict[str, Any]:
        assert worker.stdin is not None
        try:
            send(worker.stdin, request)
        except OSError as error:
            raise _StoppedError("its pipe is closed") from error
        reply = self._read(worker)
        if "error" not in reply and not isinstance(reply.get("rows"), (list, dict)):
            raise _StoppedError("its answer holds no rows")
        return reply

    def _read(self, worker: subprocess.Popen[bytes]) -> dict[str, Any]:
        assert worker.stdout is not None
        stay_awake(worker.stdout)
        try:
            return receive(worker.stdout)
        except EOFError:
            raise _StoppedError("it has ended") from None
        except (OSError, ValueError, OutOfStepError) as error:
            raise _StoppedError("its answer is not readable") from error

    def _running(self) -> subprocess.Popen[bytes]:
        if self._worker is not None and self._worker.poll() is None:
            return self._worker
        self._stop()
        if self._missing and time.monotonic() - self._missing_since < RETRY_AFTER:
            raise WorkerMissingError(self._missing)
        try:
            self._missing = ""
            return self._start()
        except WorkerMissingError as missing:
            self._missing, self._missing_since = str(missing), time.monotonic()
            raise

    def _start(self) -> subprocess.Popen[bytes]:
        try:
            self._complaints = tempfile.TemporaryFile()  # noqa: SIM115 - closed with the worker
        except OSError as error:
            raise WorkerMissingError(
                f"lumbercalc's Python cannot be started: there is no room for a temporary file "
                f"({error.strerror or error}); make some on that disk"
            ) from error
        try:
            self._worker = subprocess.Popen(
                self._command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=self._complaints,
                env=self._clean_environment(),
                creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            )
        except OSError as error:
            self._stop()
            raise WorkerMissingError(
                f"lumbercalc's Python cannot be started: {self._command[0]} "
                f"({error.strerror or error}); {MEND}"
            ) from error
        try:
            if self._read(self._worker).get("ready") is not True:
                raise _StoppedError("its first line is not the greeting")
        except _StoppedError as stopped:
            words = f"{stopped}{self._last_words()}"
            self._stop()
            raise WorkerMissingError(
                f"lumbercalc does not run in {self._command[0]} ({words}); {MEND}"
            ) from stopped
        return self._worker

    def _clean_environment(self) -> dict[str, str]:
        inherited = without_python(os.environ)
        for name in CALC_ONLY:
            inherited.pop(name, None)
        return {**inherited, **self._environment}

    def _last_words(self) -> str:
        if self._complaints is None:
            return ""
        if self._worker is not None:
            self._end(self._worker)
        self._complaints.seek(0)
        lines = self._complaints.read().decode("utf-8", "replace").strip().splitlines()
        return f": {lines[-1].strip()}" if lines else ""

    def _stop(self) -> None:
        worker, self._worker = self._worker, None
        complaints, self._complaints = self._complaints, None
        if worker is not None:
            self._end(worker)
        if complaints is not None:
            complaints.close()

    def _end(self, worker: subprocess.Popen[bytes]) -> None:
        worker.kill()
        worker.wait()
        for pipe in (worker.stdin, worker.stdout):
            if pipe is not None:
                try:
                    pipe.close()
                except OSError:  # what was still unsent has nowhere to go
                    continue
