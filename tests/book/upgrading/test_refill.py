"""A cell on its way into the new workbook: what is placed, what is kept, what is refused."""

from __future__ import annotations

import math

from openpyxl.workbook import Workbook

from lumbercalc.book.inputs import Kind
from lumbercalc.book.upgrading.kept import Kept
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook


def one_sheet() -> Workbook:
    workbook = Workbook()
    workbook.create_sheet("Boards")
    return workbook


def test_a_typed_formula_brings_its_value() -> None:
    """As a spreadsheet stores it beside the formula; nothing is computed from it."""
    place = ("Boards", 5, 6)
    refill = Refill(OldWorkbook({place: OldCell(7.25, "=7+1/4")}, {}), 1, one_sheet())
    refill.place(place, place, Kind("Width (in)", "0.00"))
    assert refill.workbook["Boards"]["F5"].value == 7.25
    assert refill.kept == [Kept("Boards", "F5", "=7+1/4", "its value is in Boards!F5")]
    assert refill.done == {place: place}


def test_numbers_that_no_cell_can_hold_are_kept() -> None:
    refill = Refill(OldWorkbook({}, {}), 1, one_sheet())
    for row, number in enumerate((math.inf, 10**400), 5):
        place = ("Boards", row, 6)
        refill.old.cells[place] = OldCell(number)
        refill.place(place, place, Kind("Width (in)", "0.00"))
    assert [each.why for each in refill.kept] == ["no spreadsheet holds such a number"] * 2
    assert refill.workbook["Boards"]["F5"].value is None
