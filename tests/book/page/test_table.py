"""A table's rows as they are written into its sheet."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.page.layout import ROW_HEIGHT
from lumbercalc.book.page.styles import add_styles
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Column, Table

TABLE = Table(
    "Tally",
    "tally",
    "Boards.",
    (
        Column("width", "Width (in)", "input", 9, "0.00"),
        Column("twice", "Twice (in)", "result", 9, "0.0", '=IF({width}="","",2*{width})'),
    ),
    rows=3,
)


def test_each_row_has_its_own_formula_format_and_height() -> None:
    workbook = Workbook()
    add_styles(workbook)
    sheet = TABLE.write(workbook)
    rows = range(FIRST_ROW, FIRST_ROW + 3)
    assert [sheet[f"B{row}"].value for row in rows] == [
        f'=IF($A{row}="","",2*$A{row})' for row in rows
    ]
    assert sheet[f"B{FIRST_ROW + 3}"].value is None
    assert {sheet.row_dimensions[row].height for row in rows} == {ROW_HEIGHT}
    assert sheet.row_dimensions[HEADER_ROW].height > ROW_HEIGHT
    assert sheet.row_dimensions[FIRST_ROW + 3].height is None
    assert {(sheet[f"A{row}"].style, sheet[f"B{row}"].style) for row in rows} == {
        ("lc input", "lc result")
    }
    assert {sheet[f"B{row}"].number_format for row in rows} == {sheet["B5"].number_format}
