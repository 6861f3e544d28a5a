"""Fixtures that more than one folder of tests uses."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

# Before lumbercalc is imported: a developer's own species must not leak into the tests.
os.environ["LUMBERCALC_SETTINGS"] = tempfile.mkdtemp(prefix="lumbercalc-settings-")

from lumbercalc.hosts.calc.install import install
from lumbercalc.hosts.calc.office import CalcError, Office
from tests.hosts.calc.calc_session import Calc, calc_python, office_in

collect_ignore = ["hosts/calc/calc_driver.py"]  # it runs on Calc's own Python


def calc_missing(reason: str) -> None:
    """Skip a test that needs Calc, or fail it where Calc is required."""
    if os.environ.get("LUMBERCALC_REQUIRE_CALC") == "1":
        pytest.fail(reason)
    pytest.skip(reason)


@pytest.fixture
def own_office(tmp_path: Path) -> Office:
    """An installed Calc with an empty profile for one test."""
    try:
        return office_in(tmp_path)
    except CalcError as missing:
        calc_missing(str(missing))
        raise


@pytest.fixture(scope="session")
def calc(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """A running Calc with the add-in, in a profile that is thrown away."""
    try:
        office = office_in(tmp_path_factory.mktemp("calc"))
        python = calc_python(office)
    except (CalcError, FileNotFoundError) as missing:
        calc_missing(str(missing))
        raise
    install(office)
    running = Calc(office, python)
    yield running
    running.quit()


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how many faults of files the tests made: full disks, killed commands and the like."""
    faults = sum(
        count
        for reports in terminalreporter.stats.values()
        for report in reports
        for name, count in getattr(report, "user_properties", [])
        if name == "faults of files" and getattr(report, "when", "") == "call"
    )
    if faults:
        terminalreporter.write_line(f"faults of files tried: {faults}")
