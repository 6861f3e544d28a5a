"""Cut a workbook down to the rows in use before it is computed, and give the rest its values.

A blank row of a table computes to the same as every other blank row, so one of them is enough:
what is left takes as long as the shop's data, not as long as the empty rows of the sheets.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from openpyxl.cell.cell import Cell
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.engine.filled_down import TEXT_OR_AREA, relative
from lumbercalc.book.page.table import FIRST_ROW, Table

NAME_OF_COLUMNS = re.compile(
    r"^'(?P<sheet>[^'!]+)'!(?P<left>\$[A-Z]+\$)(?P<top>\d+):(?P<right>\$[A-Z]+\$)(?P<last>\d+)$"
)

WHOLE = "__whole"
"""Behind a name that is not shortened: the formulas of a shop's own see all rows of a table."""


@dataclass(frozen=True)
class Dropped:
    """Formula cells that were cut away.

    Parameters
    ----------
    sheet : str
        Their sheet.
    blank_row : int
        The blank row that was kept.
    addresses : tuple of (str, int)
        Column letter and row of each.
    """

    sheet: str
    blank_row: int
    addresses: tuple[tuple[str, int], ...]


def trim(workbook: Workbook, tables: Sequence[Table]) -> list[Dropped]:
    """Cut the blank rows of tables away, all but one, and shorten the names of their columns.

    A row with anything else than the formulas that are filled down is no blank one.

    Parameters
    ----------
    workbook : Workbook
        Is changed: pass a copy.
    tables : sequence of Table
        Whose rows are cut.

    Returns
    -------
    list of Dropped
        What was cut, with the row whose values it shares.
    """
    dropped = []
    kept_rows: dict[str, int] = {}
    for table in tables:
        sheet = workbook[table.sheet]
        inputs = [table.letter(column.key) for column in table.columns if not column.formula]
        computed = [table.letter(column.key) for column in table.columns if column.formula]
        last = min(sheet.max_row, table.last_row)  # what stands below is no row of the table
        used = max(
            (
                row
                for letter in inputs
                for row in range(FIRST_ROW, last + 1)
                if sheet[f"{letter}{row}"].value is not None
            ),
            default=FIRST_ROW - 1,
        )
        used = max(used, _last_of_its_own(sheet, computed, used + 1, last))
        blank_row = used + 1
        kept_rows[table.sheet] = blank_row
        cut = [
            (letter, row)
            for letter in computed
            for row in range(blank_row + 1, last + 1)
            if sheet[f"{letter}{row}"].value is not None
        ]
        for letter, row in cut:
            sheet[f"{letter}{row}"].value = None
        dropped.append(Dropped(table.sheet, blank_row, tuple(cut)))
    last_rows = {table.sheet: table.last_row for table in tables}
    for name in workbook.defined_names.values():
        found = NAME_OF_COLUMNS.match(name.attr_text or "")
        if (
            found
            and not name.name.endswith(WHOLE)
            and last_rows.get(found["sheet"]) == int(found["last"])
        ):
            area = f"{found['left']}{found['top']}:{found['right']}{kept_rows[found['sheet']]}"
            name.attr_text = f"'{found['sheet']}'!{area}"
    return dropped


def _last_of_its_own(sheet: Worksheet, letters: list[str], blank_row: int, last: int) -> int:
    """Give the last row with something else than the blank row's formulas filled down."""
    found = 0
    for letter in letters:
        is_filled_down = _filled_down_from(sheet[f"{letter}{blank_row}"])
        for row in range(last, max(blank_row, found), -1):
            cell = sheet[f"{letter}{row}"]
            if cell.value is not None and not is_filled_down(cell):
                found = row
                break
    return found


def _filled_down_from(kept: Cell) -> Callable[[Cell], bool]:
    """Give what tells whether a cell of the same column has the formula of this one, filled down.

    To compare texts takes a tenth of the time of comparing shapes, and nearly all are the same.
    """
    formula = _formula(kept)
    if formula is None:
        return lambda cell: False
    shape = relative(formula, kept.coordinate)[0]
    parts, end = [], 0
    for area in TEXT_OR_AREA.finditer(formula):
        for fixed, number in (3, 4), (7, 8):  # of either corner; a text has none
            if area[number] and not area[fixed]:
                parts.append((formula[end : area.start(number)], int(area[number]) - kept.row))
                end = area.end(number)
    rest = formula[end:]

    def is_alike(cell: Cell) -> bool:
        own = _formula(cell)
        if own is None:
            return False
        written = "".join([f"{part}{cell.row + far}" for part, far in parts]) + rest
        return own == written or relative(own, cell.coordinate)[0] == shape

    return is_alike


def _formula(cell: Cell) -> str | None:
    """Give the formula of a cell; None for any other cell, and for an array formula."""
    return cell.value if cell.data_type == "f" and isinstance(cell.value, str) else None
