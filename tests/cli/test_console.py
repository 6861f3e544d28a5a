"""One line for a fault, as it is: not wrapped, no markup, no traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.commands import assert_one_line, run
from tests.cli.hostile_files import NOT_READ

ROOT = str(Path(__file__).parents[2])


@pytest.mark.parametrize("name", ["none.xlsx", "folder", "line\nbreak.xlsx", "[red]red[/red].xlsx"])
def test_report_of_no_file(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    result = run("report", tmp_path / name)
    words = "this is a folder" if name == "folder" else "there is no such file"
    assert_one_line(result, words, " ".join(name.split()))


def test_a_long_line_is_not_wrapped_and_there_is_no_traceback(tmp_path: Path) -> None:
    path = tmp_path / ("w" * 90 + ".xlsx")
    path.write_bytes(b"no workbook\0")
    done = subprocess.run(
        [sys.executable, "-m", "lumbercalc.cli", "report", str(path)],
        capture_output=True, text=True, check=False, env={"COLUMNS": "40", "PYTHONPATH": ROOT},
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"lumbercalc: {path}: {NOT_READ}\n"


FULL = Path("/dev/full")
"""Takes nothing: the disk is full (Linux, full(4))."""


@pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("command", [("functions",), ("functions", "EMC"), ("--help",)])
def test_output_that_cannot_be_written_is_told_in_one_line(command: tuple[str, ...]) -> None:
    with FULL.open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "lumbercalc.cli", *command],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False,
            env={"PYTHONPATH": ROOT},
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr == ("lumbercalc: the output cannot be written (No space left on device)\n")


@pytest.mark.skipif(sys.platform == "win32", reason="its pipes end otherwise")
@pytest.mark.parametrize("command", [("functions", "EMC"), ("species", "show")])
def test_output_that_nobody_reads_ends_the_command_without_a_word(command: tuple[str, ...]) -> None:
    """As of | head -1, once that has its line."""
    unread, output = os.pipe()
    os.close(unread)
    done = subprocess.run(
        [sys.executable, "-m", "lumbercalc.cli", *command],
        stdout=output, stderr=subprocess.PIPE, text=True, check=False,
        env={"PYTHONPATH": ROOT},
    )  # fmt: skip
    os.close(output)
    assert (done.returncode, done.stderr) == (1, "")
