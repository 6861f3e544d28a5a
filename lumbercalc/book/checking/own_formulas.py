"""Which formulas of a workbook are the template's own, by where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from openpyxl.workbook import Workbook

from lumbercalc.book.page.table import Table
from lumbercalc.book.tables import TABLES
from lumbercalc.book.template import build
from lumbercalc.book.template_mark import MARK, template_of
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Area, Place


def foreign(old: OldWorkbook, tables: Sequence[Table]) -> set[Place]:
    """Find the formulas that the template does not have.

    Parameters
    ----------
    old : OldWorkbook
        As the file has it.
    tables : sequence of Table
        Of the template, that stand in their places.

    Returns
    -------
    set of tuple
        Their places; empty where no table is in its place.
    """
    if not tables:
        return set()
    computed = {
        table.sheet: {table.number(column.key) for column in table.columns if column.formula}
        for table in tables
    }
    last = {table.sheet: table.last_row for table in tables}
    own = _of_the_template()
    return {
        place
        for place, cell in old.cells.items()
        if cell.formula
        and place not in own
        and not (place[2] in computed.get(place[0], ()) and place[1] <= last[place[0]])
    }


def shops_own(old: OldWorkbook, tables: Sequence[Table]) -> set[Place]:
    """Find the formulas that are surely not the template's.

    Parameters
    ----------
    old : OldWorkbook
        As the file has it.
    tables : sequence of Table
        Of the template, that stand in their places.

    Returns
    -------
    set of tuple
        All of a workbook that no template made. Where a table is not in its place, as in an older
        template, only those on sheets that the template does not have and no name leads to.
    """
    is_own = template_of(old.names, old.value(MARK)) is None
    if not is_own and len(tables) == len(TABLES):
        return foreign(old, tables)
    led_to = {area.sheet for area in old.names.values()}
    template = set() if is_own else {*_template().sheetnames, *led_to}
    return {place for place, cell in old.cells.items() if cell.formula and place[0] not in template}


def columns_of(old: OldWorkbook, tables: Sequence[Table]) -> dict[str, Area]:
    """Give the names that reach to the last row of a table.

    Parameters
    ----------
    old : OldWorkbook
        As the file has it.
    tables : sequence of Table
        Of the template, that stand in their places.

    Returns
    -------
    dict
        Area by the name in lower case.
    """
    last = {table.sheet: table.last_row for table in tables}
    return {
        name.casefold(): area
        for name, area in old.names.items()
        if last.get(area.sheet) == area.last_row
    }


@cache
def _template() -> Workbook:
    return build()


@cache
def _of_the_template() -> frozenset[Place]:
    """Give the places of the template's formulas."""
    return frozenset(
        (sheet.title, int(cell.row or 0), int(cell.column or 0))
        for sheet in _template().worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    )
