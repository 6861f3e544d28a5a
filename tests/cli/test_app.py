"""The command line as a whole: its version, its help, and what every command does alike."""

from __future__ import annotations

import os
import subprocess
import sys
from inspect import cleandoc
from pathlib import Path

import pytest
from openpyxl.workbook import Workbook

from lumbercalc.cli import app
from lumbercalc.version import TEMPLATE, VERSION
from tests.book.old_shops import SECOND
from tests.cli.commands import assert_one_line, run


def test_version() -> None:
    assert run("--version").stdout == f"lumbercalc {VERSION}\n"


def test_without_a_command_the_help_is_shown() -> None:
    shown = run().output
    for command in ("new", "demo", "report", "check", "climate", "functions", "addin", "species"):
        assert command in shown


def test_the_help_of_a_command_is_not_broken_twice() -> None:
    """In a terminal of 80 columns, 78 are text; the lines of a paragraph are kept as they are."""
    for command in app.registered_commands:
        for paragraph in cleandoc(getattr(command.callback, "__doc__", "")).split("\n\n"):
            lines = paragraph.splitlines()
            assert len(lines) == 1 or max(map(len, lines)) <= 78, paragraph


@pytest.mark.parametrize("command", [("report",), ("quote", "--sale", "1"), ("labels",)])
def test_a_workbook_of_an_older_template_is_told_from_one_of_something_else(
    command: tuple[str, ...],
) -> None:
    name, *options = command
    words = f"its template is 2, older than {TEMPLATE}; run: lumbercalc upgrade"
    assert_one_line(run(name, SECOND, *options), words)


def test_words_that_a_code_page_lacks_do_not_stop_it(tmp_path: Path) -> None:
    """As where Windows sends the output to a file."""
    workbook = Workbook()
    workbook.worksheets[0].title = "Dąb 1"
    workbook.worksheets[0]["A1"].value = "=EMC(70,140)"
    workbook.save(tmp_path / "shop.xlsx")
    done = subprocess.run(
        [sys.executable, "-m", "lumbercalc.cli", "check", str(tmp_path / "shop.xlsx")],
        env={**os.environ, "PYTHONIOENCODING": "cp1252"},
        capture_output=True,
        check=False,
    )
    assert b"Traceback" not in done.stderr
    assert b"refused       D?b 1!A1: EMC: rh_pct is 140" in done.stdout
