"""Fixtures that more than one folder of tests uses."""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

# Before lumbercalc is imported: a developer's own species must not leak into the tests.
os.environ["LUMBERCALC_SETTINGS"] = tempfile.mkdtemp(prefix="lumbercalc-settings-")

from lumbercalc.book import template
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.records import fill
from lumbercalc.hosts.calc.install import put_in
from lumbercalc.hosts.calc.office import CalcError, Office
from tests.book.computed_once import NOW, computed_in, of_all_workers, own_copy
from tests.hosts.calc.calc_session import Calc, office_in

OWN_SETTINGS = Path(os.environ["LUMBERCALC_SETTINGS"])

gc.set_threshold(100_000, 20, 100)  # workbooks are of a million objects: looked through less often

collect_ignore = ["hosts/calc/calc_driver.py"]  # it runs on Calc's own Python


@pytest.fixture(scope="session", autouse=True)
def computed_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the values of a saved workbook: many tests save the same one, at half a minute each."""
    folder = of_all_workers(tmp_path_factory)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(template, "compute", computed_in(folder))
        yield


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The template filled with the invented shop, with computed values."""

    def make(path: Path) -> None:
        workbook = template.build()
        fill(workbook, sample_folder())
        template.save(workbook, path, now=NOW)

    return own_copy(tmp_path_factory, "demo.xlsx", make)


@pytest.fixture
def uncomputed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Write workbooks without computing them, for tests of files and not of values."""
    monkeypatch.setattr(template, "compute", lambda path, tables: {})
    monkeypatch.setattr(template, "with_values", lambda content, values: content)


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


def running_calc(folder: Path, by_worker: bool) -> Iterator[Calc]:
    """Start a Calc with the add-in, in a profile that is thrown away."""
    try:
        office = office_in(folder)
        office.python()
    except CalcError as missing:
        calc_missing(str(missing))
        raise
    put_in(office, by_worker)
    running = Calc(office)
    yield running
    running.quit()


@pytest.fixture(scope="session")
def calc_as_installed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """A running Calc with the add-in as it installs itself: in Calc's process where it can."""
    yield from running_calc(tmp_path_factory.mktemp("calc"), by_worker=False)


@pytest.fixture(scope="session")
def calc_by_worker(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """A running Calc whose add-in is told to use the worker."""
    yield from running_calc(tmp_path_factory.mktemp("calc_by_worker"), by_worker=True)


@pytest.fixture(scope="session")
def calc(calc_as_installed: Calc) -> Calc:
    """A running Calc with the add-in."""
    return calc_as_installed


def pytest_unconfigure() -> None:
    """Remove what was made before the tests; with pytest-xdist in each of its processes."""
    shutil.rmtree(OWN_SETTINGS)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how often the tests tried what goes wrong: faults of files, calls with hostile cells."""
    tried: Counter[str] = Counter()
    for reports in terminalreporter.stats.values():
        for report in reports:
            if getattr(report, "when", "") == "call":
                tried.update(dict(report.user_properties))
    for name, count in tried.items():
        terminalreporter.write_line(f"{name} tried: {count:,}")
