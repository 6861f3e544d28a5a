"""Loading the environment into a process that was not made for it; in children, not in here."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from lumbercalc.hosts.calc import inside
from lumbercalc.hosts.calc.inside import UnfitError, load, state

CALLS = [["BOARD_FEET", ["8/4", 6, 8]], ["EMC", [70, -1]]]


def told(asked: dict[str, Any], *, bare: bool = False) -> dict[str, Any]:
    """Run the program on this Python; bare is without what is installed, lumbercalc itself too."""
    ended = subprocess.run(
        [sys.executable, "-I", *(["-S"] if bare else []), inside.__file__],
        input=json.dumps({"folders": [], "modules": {}, "calls": CALLS, "names": [], **asked}),
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    report: dict[str, Any] = json.loads(ended.stdout.splitlines()[-1])
    return report


def package(folder: Path, name: str, text: str = "") -> Path:
    file = folder / name / "__init__.py"
    file.parent.mkdir(parents=True)
    file.write_text(text)
    return file


ROOT = str(Path(inside.__file__).parents[3])


def test_the_environment_answers_and_tells_its_files() -> None:
    found = told({"folders": [ROOT], "names": ["lumbercalc", "numpy"]})
    # 8/4 x 6 in x 8 ft / 12 = 8 bf, by the definition of the board foot; -1 % RH is refused
    assert found["answers"] == '[{"rows": [[8.0]]}, {"rows": [[NaN]]}]'
    assert found["modules"]["lumbercalc"] == state("lumbercalc")
    assert found["modules"]["numpy"] == state("numpy")
    assert (found["build"], found["version"]) == (inside.build(), sys.version.split()[0])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("raise OSError('disk gone')", "OSError: disk gone"),
        ("raise SystemExit('leave')", "SystemExit: leave"),
        ("import no_such_module_of_ours", "No module named 'no_such_module_of_ours'"),
    ],
)
def test_what_fails_to_load_is_unfit_in_words(tmp_path: Path, text: str, words: str) -> None:
    package(tmp_path, "lumbercalc", text)
    assert words in told({"folders": [str(tmp_path)]}, bare=True)["unfit"]


def test_a_call_that_fails_is_unfit_too() -> None:
    found = told({"folders": [ROOT], "calls": [["NO_SUCH", []]]})
    assert "no function 'NO_SUCH'" in found["unfit"]


def test_another_build_of_python_is_refused_before_anything_is_loaded(tmp_path: Path) -> None:
    package(tmp_path, "lumbercalc", "raise SystemExit('loaded')")
    with pytest.raises(UnfitError, match="not 3\\.8"):
        load({"build": "3.8", "folders": [str(tmp_path)], "modules": {}})
    assert str(tmp_path) not in sys.path


def test_a_module_of_calc_that_comes_first_is_refused_unloaded(tmp_path: Path) -> None:
    """Another NumPy on Calc's own path would be loaded in place of the environment's."""
    calcs = package(tmp_path / "calc", "numpy", "raise SystemExit('loaded')")
    shops = package(tmp_path / "shop", "numpy")
    was = [str(shops), os.stat(shops).st_mtime_ns]
    program = f"import sys; sys.path.insert(0, {str(calcs.parents[1])!r}); "
    program += f"exec(open({inside.__file__!r}).read())"
    asked = {
        "folders": [str(shops.parents[1])],
        "modules": {"numpy": was},
        "calls": [],
        "names": [],
    }
    ended = subprocess.run(
        [sys.executable, "-I", "-c", f"__file__ = {inside.__file__!r}; {program}"],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    report = json.loads(ended.stdout.splitlines()[-1])
    assert f"numpy is not the one in {shops}" in report["unfit"]


@pytest.mark.parametrize("change", ["touched", "gone"])
def test_a_module_that_changed_since_it_was_tried_is_refused(tmp_path: Path, change: str) -> None:
    file = package(tmp_path, "only_for_this_test")
    was = [str(file), os.stat(file).st_mtime_ns]
    if change == "gone":
        file.unlink()
        file.parent.rmdir()
    else:
        os.utime(file, ns=(0, was[1] + 1))
    found = told({"folders": [str(tmp_path)], "modules": {"only_for_this_test": was}})
    assert "only_for_this_test is not the one in" in found["unfit"]


def test_the_folders_come_last_on_the_search_path_and_go_if_it_fails(tmp_path: Path) -> None:
    before = list(sys.path)
    # The first is there already, for another extension perhaps: it stays.
    folders = [before[-1], str(tmp_path)]
    with pytest.raises(UnfitError):
        load({"build": inside.build(), "folders": folders, "modules": {"csv": ["/no", 0]}})
    assert sys.path == before
    package(tmp_path, "lumbercalc", "import sys; raise OSError(sys.path[-1])")
    assert str(tmp_path) in told({"folders": [str(tmp_path)]}, bare=True)["unfit"]
