"""Find the inputs of today's template in an older workbook, and bring them over."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.inputs import (
    SPECIES,
    Cells,
    Kind,
    input_columns,
    kind_of,
    named_area,
)
from lumbercalc.book.page.names import column_area, define
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.page.validation import QUARTERS
from lumbercalc.book.records import extend
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Area, Place

HEADERS_LOOKED_FOR = 60
"""Rows above the first named one in which a table's headers may stand."""
FEWEST_HEADERS = 2


def bring_rows(refill: Refill, table: Table) -> None:
    """Bring a table's rows, each as far below the first as it stood.

    Parameters
    ----------
    refill : Refill
        Takes them.
    table : Table
        Of today's template.
    """
    found = _find_columns(refill.old, table)
    if not found:
        return
    old, sheet = refill.old, table.sheet
    first = min(area.first_row for area in found.values())
    last = max(
        min(area.last_row, old.last_rows.get((area.sheet, area.first_column), 0))
        for area in found.values()
    )
    fits = min(last, first + table.last_row - FIRST_ROW)
    extend(refill.workbook[sheet], table, fits - first + 1)
    filled = set()
    for key, area in found.items():
        column, kind = table.number(key), kind_of(table.column(key))
        for row in range(first, last + 1):
            source = (area.sheet, row, area.first_column)
            if source not in old.cells:
                continue
            if row <= fits:
                refill.place(source, (sheet, FIRST_ROW + row - first, column), kind)
                filled.add(row)
            else:
                refill.keep_cell(source, f"no room on {sheet}: it ends in row {table.last_row}")
    refill.rows[sheet] += len(filled)


def _find_columns(old: OldWorkbook, table: Table) -> dict[str, Area]:
    """Find a table's input columns by their names, those without one by their headers."""
    columns = input_columns(table)
    named = {column.key: old.names[name] for name, column in columns.items() if name in old.names}
    header = _header_row(old, table, named)
    if header is None:
        return named
    sheet, header_row = header
    last = max((area.last_row for area in named.values()), default=0)
    last = max(last, header_row + table.last_row - FIRST_ROW + 1)
    found: dict[str, Area] = {}
    for column in columns.values():
        area = named.get(column.key)
        number = area.first_column if area else column_under(old, sheet, header_row, column.header)
        if number is not None:
            # a row put in above the first named one belongs to the table too
            found[column.key] = Area(sheet, number, header_row + 1, number, last)
    return found


def _header_row(old: OldWorkbook, table: Table, named: dict[str, Area]) -> tuple[str, int] | None:
    """Find the row of a table's headers: above its named columns, else where it stands today."""
    headers = {column.header for column in table.columns}
    sheet, below = table.sheet, FIRST_ROW + HEADERS_LOOKED_FOR
    for area in named.values():
        sheet, below = area.sheet, area.first_row

    def matches(row: int) -> int:
        texts = {cell.value for cell in old.rows.get((sheet, row), {}).values()}
        return len(headers & texts)

    best = max(range(max(1, below - HEADERS_LOOKED_FOR * 2), below), key=matches, default=0)
    return (sheet, best) if best and matches(best) >= FEWEST_HEADERS else None


def column_under(old: OldWorkbook, sheet: str, header_row: int, header: str) -> int | None:
    """Find the column that has a header.

    Parameters
    ----------
    old : OldWorkbook
        As it was found.
    sheet, header_row : str, int
        Where the headers stand.
    header : str
        As it is written.

    Returns
    -------
    int or None
        Number of the column.
    """
    row = old.rows.get((sheet, header_row), {})
    return next((column for column, cell in row.items() if cell.value == header), None)


def bring_cells(refill: Refill, name: str, cells: Cells) -> None:
    """Bring a field, a list or a row of choices; where it is blank, blank it stays.

    Parameters
    ----------
    refill : Refill
        Takes them.
    name : str
        Of its cells, in both workbooks.
    cells : Cells
        Where they are today.
    """
    sources = refill.old.names[name].places
    if name == QUARTERS:
        sources += list(_below(refill.old, sources[-1]))
        cells = _longer_list(refill.workbook, cells, len(sources))
    for place in cells.places:
        refill.cell(place).value = None
    for source, target in zip(sources, cells.places, strict=False):
        refill.place(source, target, cells.kind)
    for source in sources[len(cells.places) :]:
        refill.keep_cell(source, f"no room in {cells.kind.label}")


def bring_species(refill: Refill) -> None:
    """Bring the names under the species table that are not in it today.

    Parameters
    ----------
    refill : Refill
        Takes them.
    """
    if SPECIES not in refill.old.names:
        return
    targets = named_area(refill.workbook, SPECIES).places
    there = {refill.cell(target).value for target in targets}
    free = (target for target in targets if refill.cell(target).value is None)
    for source in refill.old.names[SPECIES].places:
        cell = refill.old.cells.get(source)
        if cell is None or cell.value in there:
            refill.done[source] = None
            continue
        target = next(free, None)
        if target is None:
            refill.keep_cell(source, "no room under the species")
        else:
            refill.place(source, target, Kind("Species", "@"))


def _below(old: OldWorkbook, last: Place) -> Iterator[Place]:
    """Give the filled cells that go on under a list."""
    sheet, row, column = last
    for below in count(row + 1):
        if (sheet, below, column) not in old.cells:
            return
        yield sheet, below, column


def _longer_list(workbook: Workbook, cells: Cells, needed: int) -> Cells:
    """Make a list and its name as long as the shop's."""
    sheet, row, column = cells.places[0]
    places = [(sheet, row + n, column) for n in range(max(needed, len(cells.places)))]
    first = workbook[sheet].cell(row, column)
    for place in places[len(cells.places) :]:
        cell = workbook[sheet].cell(place[1], place[2])
        cell.style, cell.number_format = first.style, first.number_format
    letter = get_column_letter(column)
    define(workbook, QUARTERS, column_area(sheet, letter, row, row + needed - 1))
    return Cells(places, cells.kind)
