"""The workbooks that lie in the repository are those that lumbercalc builds today."""

from __future__ import annotations

import math
import re
import tomllib
from pathlib import Path

import openpyxl
from oletools.olevba import VBA_Parser

from lumbercalc.book.template import build, save
from tests.book.computed_once import NOW

ROOT = Path(__file__).parents[2]
REBUILD = 'rebuild it: DEVELOPERS.md, "Rebuild the workbooks", says what has to be run before'


def contents(path: Path) -> dict[str, object]:
    """Every cell's formula or value, every stored value, every defined name."""
    found: dict[str, object] = {}
    for stored in (False, True):
        workbook = openpyxl.load_workbook(path, data_only=stored)
        for sheet in workbook:
            for row in sheet.iter_rows():
                for cell in row:
                    if cell.value is not None:
                        what = "stored in" if stored else "typed in"
                        found[f"{what} {sheet.title}!{cell.coordinate}"] = cell.value
        found |= {name: defined.attr_text for name, defined in workbook.defined_names.items()}
    return found


def equal(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-9)
    return one == other


def same(kept: Path, fresh: Path) -> None:
    before, now = contents(kept), contents(fresh)
    differing = {
        key for key in before.keys() | now.keys() if not equal(before.get(key), now.get(key))
    }
    assert not sorted(differing)[:10], REBUILD


def test_template_is_current(tmp_path: Path) -> None:
    save(build(), tmp_path / "fresh.xlsx", now=NOW)
    same(ROOT / "workbook" / "lumber-shop.xlsx", tmp_path / "fresh.xlsx")


def test_template_with_macros_is_current(tmp_path: Path) -> None:
    save(build(macros=True), tmp_path / "fresh.xlsm", now=NOW)
    same(ROOT / "workbook" / "lumber-shop.xlsm", tmp_path / "fresh.xlsm")


def test_macros_are_of_the_xlwings_that_windows_gets() -> None:
    # the VBA part loads a library with this version in its name
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    [pinned] = [each for each in project["dependencies"] if re.match(r"xlwings==.*win32", each)]
    parser = VBA_Parser(str(ROOT / "workbook" / "lumber-shop.xlsm"))
    [module] = [code for _, _, name, code in parser.extract_macros() if name == "xlwings.bas"]
    parser.close()
    [version] = re.findall(r'XLWINGS_VERSION As String = "(.*)"', module)
    assert pinned.startswith(f"xlwings=={version};")


def test_filled_sample_is_current(demo: Path) -> None:
    same(ROOT / "samples" / "lumber-shop-demo.xlsx", demo)
