"""Workbooks of older templates for the tests of `lumbercalc upgrade`; each is read only once."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import coordinate_to_tuple
from openpyxl.workbook import Workbook

from lumbercalc.book.inputs import named_area
from lumbercalc.book.template import build
from lumbercalc.book.upgrading import upgrade as upgrade_module
from lumbercalc.book.upgrading.own_contents import contents_of
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.upgrading.upgrade import bring_over, upgrade
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook, as_old, read_old
from lumbercalc.book.xlsx.places import Place

OLD = Path(__file__).parent / "old_templates"
FIRST, SECOND, THIRD = OLDEST = [OLD / f"template-{number}.xlsx" for number in (1, 2, 3)]
COMMITTED = Path(__file__).parents[2] / "workbook" / "lumber-shop.xlsx"
"""The blank workbook of the last template that was built."""


@cache
def todays() -> Workbook:
    """Today's template; read it, do not change it."""
    return build()


@cache
def contents_of_today() -> set[str]:
    return contents_of(as_old(todays()))


@cache
def found_in(old: Path) -> OldWorkbook:
    return read_old(open_archive(old))


@cache
def opened(old: Path) -> Workbook:
    return load_workbook(old)


@cache
def plain(old: Path) -> Refill:
    """A workbook upgraded as it is; read it, do not change it."""
    return upgraded(found_in(old))


def upgraded(old: OldWorkbook) -> Refill:
    """What `bring_over` gives, with today's own contents told only once for all tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(upgrade_module, "contents_of", lambda template: contents_of_today())
        return bring_over(old, FIRST)


def upgraded_file(path: Path) -> Refill:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(upgrade_module, "contents_of", lambda template: contents_of_today())
        return upgrade(path)


def edited(source: Path, folder: Path, change: Callable[[Workbook], object]) -> Path:
    """An old workbook after somebody's change, saved again."""
    workbook = load_workbook(source)
    change(workbook)
    path = folder / "edited.xlsx"
    workbook.save(path)
    return path


def copy_of(found: OldWorkbook) -> OldWorkbook:
    return OldWorkbook(dict(found.cells), dict(found.names))


def retyped(old: Path, typed: dict[str, Any]) -> OldWorkbook:
    """An old workbook with other values in some cells, such as "Boards!A5"; None clears one."""
    found = copy_of(found_in(old))
    for where, value in typed.items():
        sheet, _, cell = where.partition("!")
        put(found, (sheet, *coordinate_to_tuple(cell)), value)
    return found


def put(found: OldWorkbook, place: Place, value: Any) -> None:
    found.cells.pop(place, None)
    if value is not None:
        found.cells[place] = OldCell(value)


def typed_names(old: Path) -> set[str]:
    """Names of the columns and cells that a shop types in, by their style."""
    workbook = opened(old)
    return {
        name
        for name, area in found_in(old).names.items()
        if 1 in (1 + area.last_row - area.first_row, 1 + area.last_column - area.first_column)
        and workbook[area.sheet].cell(area.first_row, area.first_column).style == "lc input"
    }


def blank(old: Path) -> OldWorkbook:
    """An old workbook with nothing typed in it."""
    found = copy_of(found_in(old))
    for name in typed_names(old):
        for place in found.names[name].places:
            found.cells.pop(place, None)
    for (sheet, row), cells in found.rows.items():
        if sheet == "Sale":  # the discounts of its lines have no name
            for column in cells:
                if opened(old)[sheet].cell(row, column).style == "lc input":
                    found.cells.pop((sheet, row, column), None)
    return found


def first_cells(workbook: Workbook, name: str, number: int) -> list[Any]:
    """What stands in the first cells of a name."""
    places = named_area(workbook, name).places[:number]
    return [workbook[sheet].cell(row, column).value for sheet, row, column in places]
