"""What the template writes fits into its cells: measured in Helvetica, as wide as the workbook's.

Liberation Sans has Helvetica's widths by design. A column is counted in digits of the plain cells'
font: 5.25 points each in Excel, where Arial 10 has 7 pixels of 1/96 in (from memory), and 5.56 in
Calc. Here it is the narrower of the two.
"""

from __future__ import annotations

import re

import pytest
from openpyxl.cell import Cell
from openpyxl.utils import range_boundaries
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet
from reportlab.pdfbase.pdfmetrics import stringWidth

from lumbercalc.book.page.styles import FONT, SIZE
from lumbercalc.book.sheets.plan_options import PLAN
from lumbercalc.book.template import build
from tests.book.test_template import SHEETS

POINTS_PER_DIGIT = 5.25
MARGINS = 4
"""Points left and right of a cell's text together."""
INDENT = 7
LINE = 1.17
"""Height of a line, in heights of its letters."""


@pytest.fixture(scope="module")
def workbook() -> Workbook:
    return build()


def typed(sheet: Worksheet) -> list[Cell]:
    """Cells with a text of the template's own in columns that are shown."""
    return [
        cell
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell, Cell)
        and isinstance(cell.value, str)
        and cell.data_type == "s"
        and not sheet.column_dimensions[cell.column_letter].hidden
        and not sheet.row_dimensions[cell.row].hidden
    ]


def length(text: str, cell: Cell) -> float:
    """Points."""
    letters = {(False, False): "", (True, False): "-Bold", (False, True): "-Oblique"}
    looks = letters.get((bool(cell.font.b), bool(cell.font.i)), "-BoldOblique")
    return float(stringWidth(text, f"Helvetica{looks}", cell.font.sz))


def width(sheet: Worksheet, first: int, last: int) -> float:
    """Points of columns."""
    columns = (sheet.cell(1, number).column_letter for number in range(first, last + 1))
    shown = (sheet.column_dimensions[each] for each in columns)
    return sum(each.width * POINTS_PER_DIGIT for each in shown if not each.hidden)


def room(sheet: Worksheet, cell: Cell) -> float:
    """Points for a cell's text: with the blank cells right of it where it may run into them."""
    last = cell.column
    for merged in sheet.merged_cells.ranges:
        if (merged.min_row, merged.min_col) == (cell.row, cell.column):
            return width(sheet, cell.column, merged.max_col) - MARGINS - indent(cell)
    end = range_boundaries(re.sub(r".*!|\$", "", sheet.print_area))[2] or 0
    beyond = end if cell.column <= end else cell.column + 20
    while cell.alignment.horizontal in (None, "left") and last < beyond and not wraps(cell):
        if sheet.cell(cell.row, last + 1).value is not None:
            break
        last += 1
    return width(sheet, cell.column, last) - MARGINS - indent(cell)


def indent(cell: Cell) -> float:
    return float(cell.alignment.indent or 0) * INDENT


def wraps(cell: Cell) -> bool:
    return bool(cell.alignment.wrap_text)


def lines(text: str, cell: Cell, points: float) -> int:
    """Count the lines that a text is broken into."""
    count = 0
    for paragraph in text.split("\n"):
        count, line = count + 1, ""
        for word in re.split(r"(?<=[ -])", paragraph):
            if line and length((line + word).rstrip(), cell) > points:
                count, line = count + 1, ""
            line += word
    return count


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_text_of_the_template_is_cut(workbook: Workbook, sheet: str) -> None:
    page = workbook[sheet]
    cut = [
        (cell.coordinate, cell.value)
        for cell in typed(page)
        if not wraps(cell) and length(str(cell.value), cell) > room(page, cell)
    ]
    assert cut == []


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_wrapped_text_is_higher_than_its_row(workbook: Workbook, sheet: str) -> None:
    page = workbook[sheet]
    heights = page.row_dimensions
    high = [
        (cell.coordinate, cell.value)
        for cell in typed(page)
        if wraps(cell) and heights[cell.row].height
        for needed in (lines(str(cell.value), cell, room(page, cell)) * cell.font.sz * LINE,)
        if needed > heights[cell.row].height + 2
        and not any(cell.coordinate in merged for merged in page.merged_cells.ranges)
    ]
    assert high == []


def test_all_of_a_choice_is_on_one_page(workbook: Workbook) -> None:
    page = workbook["Plan"]
    last = page.row_breaks.brk[0].id
    rows = (page.row_dimensions[row] for row in range(1, last + 1))
    height = sum(row.height or 15 for row in rows if not row.hidden)
    margins = page.page_margins
    across, down = 11 - margins.left - margins.right, 8.5 - margins.top - margins.bottom
    scale = across * 72 / width(page, 1, 1 + len(PLAN.columns))
    assert height * scale <= down * 72


def test_columns_are_counted_in_the_workbook_s_own_letters(workbook: Workbook) -> None:
    plain = workbook["Start"]["F200"].font
    assert (plain.name, plain.sz) == (FONT, SIZE)
