"""Which way the add-in calculates is found by trying; live Calc does as it was told."""

from __future__ import annotations

import ast
import json
import re
import sys
from pathlib import Path

import pytest

from lumbercalc.hosts import programs
from lumbercalc.hosts.calc import inside
from lumbercalc.hosts.calc import way as way_module
from lumbercalc.hosts.calc.install import check, put_in
from lumbercalc.hosts.calc.office import CalcError, Office
from lumbercalc.hosts.calc.way import ASKED, NEEDED, Way, find_way, package_environment
from tests.hosts.calc.calc_session import Calc


class WithPython(Office):
    """A LibreOffice whose Python is a program of the test."""

    calcs_python: Path

    def python(self) -> Path:
        return self.calcs_python


def office_with(python: Path) -> Office:
    office = WithPython(Path("soffice"), Path("unopkg"))
    object.__setattr__(office, "calcs_python", python)
    return office


def stand_in(folder: Path, script: str) -> Path:
    """A Python that says what it is told to."""
    python = folder / "python"
    python.write_text(f"#!/bin/sh\n{script}\n")
    python.chmod(0o755)
    return python


def test_a_python_of_the_same_build_loads_the_environment() -> None:
    way = find_way(office_with(Path(sys.executable)))
    assert way.inside is not None, way
    assert way.inside["build"] == inside.build()
    assert set(way.inside["modules"]) < set(NEEDED)
    assert all(Path(folder).is_dir() for folder in way.inside["folders"])
    assert str(way).startswith("in Calc itself: ")


REPORT = {"build": "b", "version": "3.10.4", "suffix": inside.EXTENSION_SUFFIXES[0]}


@pytest.mark.parametrize(
    ("script", "words"),
    [
        ("kill -SEGV $$", "exit code -11"),
        ("echo hello", "failed when it was tried"),
        ("echo 'no encodings' >&2; exit 1", "no encodings"),
        (f"echo '{json.dumps({**REPORT, 'suffix': '.cp310.so'})}'", r"3\.10\.4 .*\.cp310\.so"),
        (f"echo '{json.dumps({**REPORT, 'unfit': 'no glibc'})}'", "no glibc"),
        (f"echo '{json.dumps({**REPORT, 'answers': '[]', 'modules': {}})}'", "other answers"),
    ],
    ids=["crashes", "says no report", "cannot start", "another version", "unfit", "other answers"],
)
@pytest.mark.skipif(sys.platform == "win32", reason="the stand-ins are shell scripts")
def test_whatever_fails_leaves_it_to_the_worker(tmp_path: Path, script: str, words: str) -> None:
    way = find_way(office_with(stand_in(tmp_path, f"cat > /dev/null\n{script}")))
    assert way.inside is None
    assert str(way).startswith("by a worker process: ")
    assert re.search(words, way.why), way.why


@pytest.mark.skipif(sys.platform == "win32", reason="the stand-ins are shell scripts")
def test_a_python_that_hangs_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = way_module._trial

    def impatient(python: Path, *rest: object) -> object:
        patience = 0.2 if python.parent == tmp_path else 60
        monkeypatch.setattr(programs, "PATIENCE", patience)
        return real(python, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(way_module, "_trial", impatient)
    way = find_way(office_with(stand_in(tmp_path, "exec sleep 30")))
    assert way.inside is None
    assert re.search(r"could not be tried .*did not finish in 0\.2 seconds", way.why), way.why


@pytest.mark.parametrize(
    "fault", [CalcError("no Python with the uno module"), PermissionError("may not be started")]
)
def test_no_python_at_all_leaves_it_to_the_worker(
    monkeypatch: pytest.MonkeyPatch, fault: OSError
) -> None:
    def none(self: Office) -> Path:
        raise fault

    monkeypatch.setattr(Office, "python", none)
    way = find_way(Office(Path("soffice"), Path("unopkg")))
    assert (way.inside, way.why) == (None, str(fault))


def test_needed_are_all_that_the_calculation_imports() -> None:
    root = Path(way_module.__file__).parents[2]
    imported = set()
    for folder in ("sheet", "wood"):
        for file in (root / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(file.read_text("utf-8"))):
                if isinstance(node, ast.Import):
                    imported |= {alias.name.split(".")[0] for alias in node.names}
                elif isinstance(node, ast.ImportFrom):
                    imported.add(str(node.module).split(".")[0])
    # pandas is imported only for a caller that handed a Series over; Calc never does
    assert imported - sys.stdlib_module_names - {"pandas"} <= set(NEEDED)


def test_the_package_is_found_from_any_folder() -> None:
    root = str(Path(way_module.__file__).parents[3])
    assert package_environment() in ({}, {"PYTHONPATH": root})


def steps(office: Office) -> dict[str, tuple[bool, str]]:
    return {step.name: (step.done, step.detail) for step in check(office)}


def answer(calc: Calc) -> object:
    calc.new()
    calc.fill("A1", [["=BOARD_FEET(1;6;8)"]])
    return calc.read()["A1"].value


@pytest.mark.calc
def test_calc_goes_the_way_that_was_found(calc_as_installed: Calc, own_office: Office) -> None:
    # 1 in x 6 in x 8 ft / 12 = 4 bf, by the definition of the board foot
    assert answer(calc_as_installed) == 4.0
    found = find_way(own_office)
    assert bool(calc_as_installed.workers()) == (found.inside is None), found


@pytest.mark.calc
def test_the_worker_answers_where_it_was_asked_for(
    calc_by_worker: Calc, own_office: Office
) -> None:
    assert answer(calc_by_worker) == 4.0
    assert len(calc_by_worker.workers()) == 1
    put_in(own_office, by_worker=True)
    assert steps(own_office)["way"] == (True, f"calculates {ASKED}")
    assert "--worker" in str(ASKED)


@pytest.mark.calc
def test_an_environment_that_changed_is_left_to_the_worker_and_told(
    own_office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As after an upgrade of NumPy: what is on disk is not what was tried."""
    found = find_way(own_office)
    stale = {"build": inside.build(), "folders": [], **(found.inside or {})}
    stale["modules"] = {"numpy": ["/earlier/numpy/__init__.py", 1]}
    with monkeypatch.context() as earlier:
        earlier.setattr(
            "lumbercalc.hosts.calc.install.find_way", lambda office: Way(stale, "as it was")
        )
        put_in(own_office)
    done, detail = steps(own_office)["way"]
    assert not done
    assert 'run "lumbercalc addin calc"' in detail
    calc = Calc(own_office)
    try:
        assert answer(calc) == 4.0
        assert len(calc.workers()) == 1
    finally:
        calc.quit()
