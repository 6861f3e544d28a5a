"""The sample for xlwings Lite, and what of lumbercalc a Python in the browser can do without."""

from __future__ import annotations

import ast
import json
import re
import runpy
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from lumbercalc.sheet.catalogue import CATALOGUE

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "samples" / "xlwings_lite"

NEEDS_SCIPY = {"RH_FOR_EMC", "MC_UPPER", "SAMPLES_NEEDED", "READINESS"}

ON_THE_DESKTOP = {
    "win32com", "pythoncom", "pywintypes", "appscript", "psutil", "uno",
    "formulas", "schedula", "openpyxl", "defusedxml", "typer", "rich", "pandas",
}  # fmt: skip
"""What is not needed to calculate, or is not there in a browser."""

REFUSE = """\
import sys

class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in REFUSED:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)

sys.meta_path.insert(0, Refuse())
"""

EVERY_EXAMPLE = """\
import json
import types

# the decorators do nothing off Windows; import xlwings itself loads more than they need
stand_in = types.ModuleType("xlwings")
stand_in.func = stand_in.arg = lambda *_, **__: (lambda function: function)
sys.modules["xlwings"] = stand_in

from lumbercalc.hosts.excel import functions
from lumbercalc.sheet.catalogue import CATALOGUE

def rows(argument):
    if not isinstance(argument, list):
        return [[argument]]
    return [row if isinstance(row, list) else [row] for row in argument]

answers = {name: str(getattr(functions, name)(*map(rows, function.example.arguments)))
           for name, function in CATALOGUE.items()}
print(json.dumps(answers))
"""


def without(refused: set[str], code: str) -> subprocess.CompletedProcess[str]:
    """Run code in a Python of its own that cannot import some packages."""
    return subprocess.run(
        [sys.executable, "-c", f"REFUSED = {refused!r}\n{REFUSE}{code}"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )


def answers(refused: set[str]) -> dict[str, str]:
    """The answer to each function's example, where some packages are missing."""
    done = without(refused, EVERY_EXAMPLE)
    assert done.returncode == 0, done.stderr
    found: dict[str, str] = json.loads(done.stdout)
    return found


@pytest.fixture(scope="module")
def with_everything() -> dict[str, str]:
    return answers(set())


def test_refusing_a_package_works() -> None:
    done = without({"numpy"}, "import lumbercalc")
    assert "ModuleNotFoundError: No module named 'numpy'" in done.stderr


def test_nothing_of_the_desktop_is_needed(with_everything: dict[str, str]) -> None:
    assert answers(ON_THE_DESKTOP) == with_everything
    assert with_everything["BOARD_FEET"] == "10.0"
    refused = {name for name, answer in with_everything.items() if "failed" in answer}
    assert refused == set()


def test_without_scipy_four_functions_say_so_and_all_others_work(
    with_everything: dict[str, str],
) -> None:
    found = answers(ON_THE_DESKTOP | {"scipy"})
    assert {name for name, answer in found.items() if "No module named 'scipy" in answer} == (
        NEEDS_SCIPY
    )
    kept = found.keys() - NEEDS_SCIPY
    assert {name: found[name] for name in kept} == {name: with_everything[name] for name in kept}
    told = (SAMPLE / "README.md").read_text()
    assert all(name in told for name in NEEDS_SCIPY)


@pytest.fixture
def lite(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """The names of main.py, as it runs with decorators that write down what they mark."""
    stand_in = ModuleType("xlwings")

    def arg(name: str, **options: Any) -> Any:
        def mark(function: Any) -> Any:
            function.__dict__.setdefault("marked", {})[name] = options
            return function

        return mark

    def func(**options: Any) -> Any:
        def mark(function: Any) -> Any:
            function.is_marked = True
            return function

        return mark

    stand_in.arg, stand_in.func = arg, func  # type: ignore[attr-defined]
    monkeypatch.setattr("lumbercalc.hosts.excel.functions.xlwings", stand_in)
    return runpy.run_path(str(SAMPLE / "main.py"), run_name="main")


def test_sample_registers_the_catalogue_and_nothing_else(lite: dict[str, Any]) -> None:
    public = {name: each for name, each in lite.items() if getattr(each, "is_marked", False)}
    assert set(public) == set(CATALOGUE)
    for name, function in CATALOGUE.items():
        made = public[name]
        assert (made.__name__, made.__module__) == (name, "main")
        marked = getattr(made, "marked", {})
        assert set(marked) == {each.name for each in function.arguments}
        assert all(options["ndim"] == 2 and options["doc"] for options in marked.values())


def test_sample_answers(lite: dict[str, Any]) -> None:
    # blocks as they arrive with ndim=2
    assert lite["BOARD_FEET"]([["8/4"]], [[7.5]], [[8.0]]) == 10.0
    assert lite["BOARD_FEET"]([["8/4"]], [[-7.5]], [[8.0]]).startswith("#INPUT: width_in is -7.5")


def test_requirements_name_what_is_imported() -> None:
    lines = (SAMPLE / "requirements.txt").read_text().splitlines()
    names = {line for line in lines if line and not line.startswith("#")}
    assert all(re.fullmatch(r"[a-z]+", name) for name in names)  # Lite pins versions itself
    imported = {
        node.module.partition(".")[0] if isinstance(node, ast.ImportFrom) else name.name
        for folder in ("wood", "sheet")
        for file in (ROOT / "lumbercalc" / folder).rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text()))
        if isinstance(node, (ast.Import, ast.ImportFrom)) and getattr(node, "module", "") != "."
        for name in node.names
        if not isinstance(node, ast.ImportFrom) or node.module
    }
    outside = imported - set(sys.stdlib_module_names) - {"lumbercalc"}
    packages = {name.partition(".")[0] for name in outside}
    assert {"numpy", "scipy", "psychrolib"} <= packages
    assert names == packages | {"xlwings"}
