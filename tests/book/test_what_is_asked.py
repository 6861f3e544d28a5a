"""What is cleared of a workbook of which a part is asked for, and what is left of a copy."""

from __future__ import annotations

from datetime import date

import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.engine.compute import compute_workbook
from lumbercalc.book.page.block import Block
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import FIRST_ROW, Column
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.template import build
from tests.book.small_shop import oak, put
from tests.book.what_is_asked import Asked, bare_copy, clear_others

BLOCK = Block("Other sheet", (Column("sum", "Sum", "result"),), rows=2, header_row=1)
CELLS = {
    "Here": {
        "A1": 2, "A2": 3,
        "B1": "=A1*2", "B2": "=$A$2*2", "B3": "=SUM(B1:B2)", "B4": "=two+1", "B5": '="B1"&"!B3"',
        "B6": "=C2", "B7": "=B7+1", "C1": ArrayFormula("C1:C2", "=B1:B2*10"),
    },
    "Other sheet": {"A2": "=Here!B3", "A3": "=SUM(ROUND(Two,0),'Other sheet'!A2)"},
    "Checks": {"A5": "Rows", "B5": "Here", "C5": "=COUNT(Here!A1:A2)",
               "A6": "Rows", "B6": "Other sheet", "C6": "=COUNT(BOTH)"},
}  # fmt: skip
NAMES = {"two": "'Here'!$B$2", "both": "'Other sheet'!$A$2:$A$3", "deepest": "'Here'!$B$6"}


def workbook() -> Workbook:
    made = Workbook()
    made.remove(made.worksheets[0])
    for title, cells in CELLS.items():
        sheet = made.create_sheet(title)
        for address, value in cells.items():
            sheet[address].value = value
    for name, area in NAMES.items():
        define(made, name, area)
    return made


def formulas(made: Workbook) -> set[str]:
    return {
        f"{sheet.title}!{cell.coordinate}"
        for sheet in made.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


OF_BLOCK = {"Other sheet!A2", "Other sheet!A3", "Here!B1", "Here!B2", "Here!B3"}


@pytest.mark.parametrize(
    ("asked", "left"),
    [
        ("two", {"Here!B2"}),
        ("both", OF_BLOCK),
        (BLOCK, OF_BLOCK),
        ("Other sheet", OF_BLOCK),
        (("Rows", "Here"), {"Checks!C5"}),
        (("Rows", "Other sheet"), OF_BLOCK | {"Checks!C6"}),
        # the second cell of the array formula in C1
        ("deepest", {"Here!B6", "Here!C1", "Here!B1", "Here!B2"}),
    ],
)
def test_what_is_asked_for_is_left_with_all_that_it_hangs_on(asked: Asked, left: set[str]) -> None:
    made = workbook()
    clear_others(made, [asked])
    assert formulas(made) == left
    assert made["Here"]["A2"].value == 3


def test_a_name_in_a_text_is_no_cell() -> None:
    made = workbook()
    define(made, "text", "'Here'!$B$5")
    clear_others(made, ["text"])
    assert formulas(made) == {"Here!B5"}


def test_what_is_not_there_cannot_be_asked_for() -> None:
    with pytest.raises(KeyError, match="three"):
        clear_others(workbook(), ["three"])
    with pytest.raises(KeyError, match="Boards"):
        clear_others(workbook(), [("Rows", "Boards")])


def test_a_copy_of_the_template_has_the_first_blank_row_and_comes_to_the_same() -> None:
    """Board feet and days of two boards; a formula as a text stays one."""
    whole = build()
    put(whole, BOARDS, [oak("=A1", 6, 10), oak("B", 9, 8, ready=date(2026, 5, 9))])
    copy = bare_copy(whole)
    asked = ["board_bf", "board_tag"]
    for made in (whole, copy):
        clear_others(made, asked)
    letter = BOARDS.letter("bf")
    assert formulas(copy) == {f"Boards!{letter}{FIRST_ROW + row}" for row in range(3)}
    assert formulas(whole) >= formulas(copy)
    sheet, template = copy["Boards"], whole["Boards"]
    assert (sheet["A5"].value, sheet["A5"].data_type) == ("=A1", "s")
    there = {cell.coordinate: cell.value for row in sheet.iter_rows() for cell in row
             if cell.data_type != "f" and cell.value is not None}  # fmt: skip
    assert there == {cell.coordinate: cell.value for row in template.iter_rows() for cell in row
                     if cell.data_type != "f" and cell.value is not None}  # fmt: skip
    values = compute_workbook(copy).values
    assert [values["Boards", f"{letter}{FIRST_ROW + row}"] for row in range(3)] == [5, 6, ""]
