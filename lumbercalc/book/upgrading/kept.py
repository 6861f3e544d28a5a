"""Sheet Kept from before: whatever an upgrade found no place for, with where and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.page.layout import ROW_HEIGHT, head, print_setup
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.xlsx.typed import type_in

SHEET = "Kept from before"
HEADERS = ("Sheet", "Cell", "What stood there", "Why it is here")
WIDTHS = (22, 12, 60, 66)


@dataclass(frozen=True)
class Kept:
    """One thing that is kept.

    Parameters
    ----------
    sheet, cell : str
        Where it stood.
    value : object
        What stood there; a formula as its text.
    why : str
        Why it is not in its place.
    """

    sheet: str
    cell: str
    value: Any
    why: str


def add_kept(workbook: Workbook, kept: Sequence[Kept]) -> None:
    """Add the sheet, as the last one.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    kept : sequence of Kept
        One a row.
    """
    sheet = workbook.create_sheet(SHEET)
    lead = "From the workbook before the upgrade; delete this sheet when you need none of it."
    head(sheet, SHEET, lead, len(HEADERS))
    for number, (text, width) in enumerate(zip(HEADERS, WIDTHS, strict=True), 1):
        header = sheet.cell(HEADER_ROW, number)
        header.value, header.style = text, "lc header"
        sheet.column_dimensions[get_column_letter(number)].width = width
    for row, each in enumerate(kept, FIRST_ROW):
        for number, what in enumerate((each.sheet, each.cell, each.value, each.why), 1):
            cell = sheet.cell(row, number)
            cell.style = "lc text"
            cell.alignment = Alignment(horizontal="left", vertical="center")
            type_in(cell, what)
        sheet.row_dimensions[row].height = ROW_HEIGHT
    sheet.freeze_panes = f"A{FIRST_ROW}"
    print_setup(sheet, f"A1:D{FIRST_ROW + max(1, len(kept)) - 1}")
    sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"
