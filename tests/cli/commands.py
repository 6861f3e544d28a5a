"""Run a command of lumbercalc, and hold what it refuses to one line."""

from __future__ import annotations

from typer.testing import CliRunner, Result

from lumbercalc.cli import app

LONGEST_LINE = 300


def run(*arguments: object) -> Result:
    """Run the command in a terminal of 80 columns."""
    words = [str(argument) for argument in arguments]
    return CliRunner().invoke(app, words, env={"COLUMNS": "80"})


def assert_one_line(result: Result, *words: str) -> None:
    """Exit status 2, nothing on standard output, one short line on standard error."""
    assert isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == 2
    assert result.stdout == ""
    [line] = result.stderr.splitlines()
    assert line.startswith("lumbercalc: ")
    assert len(line) < LONGEST_LINE
    for word in words:
        assert word in line
