"""Sheet Curves: the numbers that the charts draw.

A charted cell is always a number: where there is nothing to draw it repeats a point that is there.
"""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.page.form import write_form
from lumbercalc.book.page.layout import head, print_setup
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.sheets.card_curve import CARD_BLOCKS, CARD_COURSE, CARD_FIELDS, CARD_LINES
from lumbercalc.book.sheets.course import CURVES
from lumbercalc.book.sheets.stack_curves import (
    LABELS_COLUMN,
    STACK_BLOCKS,
    STACK_LINES,
    STACKS_FIELDS,
    add_lookups,
)


def add_curves(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the sheets that its formulas look up.
    """
    sheet = workbook.create_sheet(CURVES)
    blocks = (*CARD_BLOCKS, *STACK_BLOCKS)
    card_end = CARD_LINES.left + len(CARD_LINES.columns) - 1
    end = STACK_LINES.left + len(STACK_LINES.columns) - 1
    head(sheet, CURVES, "What the charts draw. There is nothing to type here.", end)
    for letter, width in (("A", 28), ("B", 16), ("C", 3)):
        sheet.column_dimensions[letter].width = width
    row = write_form(workbook, sheet, CARD_FIELDS, (FIRST_ROW, 1))
    write_form(workbook, sheet, STACKS_FIELDS, (row + 1, 1))
    for block in blocks:
        block.write(sheet)
    past, ahead = CARD_COURSE
    for band in ahead.columns[len(past.columns) :]:
        header = sheet[f"{ahead.letter(band.key)}{HEADER_ROW}"]
        header.value, header.style = band.header, "lc header"
    add_lookups(sheet)
    for title, column in (("Chart of Stack card", 4), ("Chart of Start", LABELS_COLUMN)):
        cell = sheet.cell(HEADER_ROW - 1, column)
        cell.value, cell.style = title, "lc label"
    sheet.freeze_panes = f"A{FIRST_ROW}"
    for row in {block.header_row for block in blocks if block.headed}:
        sheet.row_dimensions[row].height = 44
    last_row = max(block.last_row for block in CARD_BLOCKS)
    print_setup(sheet, f"A1:{get_column_letter(card_end)}{last_row}")
    sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"
