"""A program is ended in time, with all that it started; the stand-ins are this Python's."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from lumbercalc.hosts import programs
from lumbercalc.hosts.calc import office
from lumbercalc.hosts.calc.office import CalcError
from lumbercalc.hosts.excel.machine import ExcelError, this_machine

GRANDCHILD = """
import sys, time
for _ in range(3000):
    open(sys.argv[1], "a").write("x")
    time.sleep(0.01)
"""
CHILD = """
import subprocess, sys
subprocess.Popen([sys.executable, "-c", sys.argv[1], sys.argv[2]]).wait()
"""


@pytest.fixture
def hanging(tmp_path: Path) -> list[str]:
    """A program that waits for one that it started, as soffice does."""
    return [sys.executable, "-c", CHILD, GRANDCHILD, str(tmp_path / "written")]


def assert_nothing_is_written_any_more(written: Path) -> None:
    size = written.stat().st_size
    assert size > 0
    time.sleep(0.5)
    assert written.stat().st_size == size


def test_a_program_that_takes_too_long_is_ended_with_what_it_started(
    hanging: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(programs, "PATIENCE", 2)
    with pytest.raises(TimeoutError, match=r"did not finish in 2 seconds$"):
        programs.run(hanging)
    assert_nothing_is_written_any_more(tmp_path / "written")


def test_so_it_is_when_the_person_breaks_off(
    hanging: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken_off(process: subprocess.Popen[str], *_: Any, **__: Any) -> None:
        while not (tmp_path / "written").exists():
            time.sleep(0.01)
        raise KeyboardInterrupt

    monkeypatch.setattr(subprocess.Popen, "communicate", broken_off)
    with pytest.raises(KeyboardInterrupt):
        programs.run(hanging)
    assert_nothing_is_written_any_more(tmp_path / "written")


def test_each_host_says_what_to_do(hanging: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(programs, "PATIENCE", 0.2)
    with pytest.raises(CalcError, match=r"in 0\.2 seconds: close LibreOffice and try again"):
        office.run(hanging)
    with pytest.raises(ExcelError, match=r"in 0\.2 seconds: close Excel and try again"):
        this_machine().run(hanging)


def test_what_is_printed_and_the_status_are_told() -> None:
    script = "import sys; print(input()); sys.exit('why not')"
    said = programs.run([sys.executable, "-c", script], given="8/4\n")
    assert (said.returncode, said.stdout, said.stderr) == (1, "8/4\n", "why not\n")


def test_a_program_gets_the_variables_that_are_given(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LUMBERCALC_TEST", "mine")
    asked = [sys.executable, "-c", "import os; print(os.environ.get('LUMBERCALC_TEST'))"]
    assert programs.run(asked).stdout == "mine\n"
    assert office.run(asked).stdout == "mine\n"
    environment = office.office_environment()
    assert programs.run(asked, {**environment, "LUMBERCALC_TEST": "theirs"}).stdout == "theirs\n"
