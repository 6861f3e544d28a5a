"""A workbook of which a test reads a part: what that part does not hang on is not computed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from openpyxl.utils.cell import range_boundaries
from openpyxl.workbook import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.engine.filled_down import TEXT_OR_AREA
from lumbercalc.book.page.block import Block
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.places import Area, Place

Asked = str | Block | tuple[str, str]
"""A sheet, or a defined name of cells; a block; or what the sheet Checks counts, and of which."""

WORD = re.compile(r"[^\W\d][\w.]*")


def clear_others(workbook: Workbook, asked: Iterable[Asked]) -> None:
    """Clear each formula on which nothing hangs that is asked for, directly or through others.

    Parameters
    ----------
    workbook : Workbook
        With its rows; it is changed.
    asked : iterable of str, Block or tuple
        All that is read of its values.

    Raises
    ------
    KeyError
        When it has no such sheet, name or check.
    """
    formulas = _Formulas(workbook)
    needed = formulas.before(area for each in asked for area in _areas(workbook, each))
    for sheet, row, column in formulas.places - needed:
        workbook[sheet].cell(row, column).value = None


def bare_copy(workbook: Workbook) -> Workbook:
    """Copy what is computed with, and of a table's blank rows the first: the others are like it.

    Parameters
    ----------
    workbook : Workbook
        With its rows.

    Returns
    -------
    Workbook
        Its sheets, cells and names, without styles, validations and charts.
    """
    bare = Workbook()
    bare.remove(bare.worksheets[0])
    blank_rows = {table.sheet: _blank_row(workbook, table) for table in TABLES}
    columns = {table.sheet: len(table.columns) for table in TABLES}
    for sheet in workbook.worksheets:
        copy = bare.create_sheet(sheet.title)
        last, right = blank_rows.get(sheet.title, sheet.max_row), columns.get(sheet.title, 0)
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.value is not None):
            if cell.row <= last or cell.column > right:
                copy.cell(cell.row, cell.column).value = cell.value
                copy.cell(cell.row, cell.column).data_type = cell.data_type
    for name, defined in workbook.defined_names.items():
        define(bare, name, defined.attr_text)
    return bare


def row_of_check(workbook: Workbook, what: str, sheet: str) -> int:
    """Find the row of the sheet Checks that counts something of a sheet.

    Parameters
    ----------
    workbook : Workbook
        With the sheet Checks.
    what, sheet : str
        As they stand there.

    Returns
    -------
    int
        Its number.

    Raises
    ------
    KeyError
        When nothing of the kind is counted.
    """
    for row in workbook["Checks"].iter_rows(min_row=FIRST_ROW):
        if (row[0].value, row[1].value) == (what, sheet):
            return int(row[0].row)
    raise KeyError((what, sheet))


class _Formulas:
    """The formulas of a workbook; a long one is looked through only where it is needed."""

    def __init__(self, workbook: Workbook) -> None:
        self._named = {
            name.casefold(): list(_areas(workbook, name)) for name in workbook.defined_names
        }
        self._texts: dict[Place, str] = {}
        self._filled: dict[Place, Place] = {}  # cells of an array formula: where it stands
        for sheet in workbook.worksheets:
            for cell in (cell for row in sheet.iter_rows() for cell in row):
                if cell.data_type == "f":
                    place = (sheet.title, cell.row, cell.column)
                    if isinstance(cell.value, ArrayFormula):
                        area = _area(cell.value.ref, sheet.title)
                        self._filled |= dict.fromkeys(area.places, place)
                    self._texts[place] = getattr(cell.value, "text", cell.value)

    @property
    def places(self) -> set[Place]:
        """Where they stand."""
        return set(self._texts)

    def before(self, asked: Iterable[Area]) -> set[Place]:
        """Give the formulas in some areas, and those on which they hang."""
        found: set[Place] = set()
        waiting, done = list(asked), set[Area]()
        while waiting:
            area = waiting.pop()
            if area not in done:
                done.add(area)
                new = self._in(area) - found
                found |= new
                waiting += [read for place in new for read in self._read(place)]
        return found

    def _in(self, area: Area) -> set[Place]:
        places = (self._filled.get(place, place) for place in area.places)
        return {place for place in places if place in self._texts}

    def _read(self, place: Place) -> Iterator[Area]:
        """Give the areas that a formula reads; names in its texts as well, which does no harm."""
        areas, words = _words_of(self._texts[place], place[0])
        yield from areas
        for word in words & self._named.keys():
            yield from self._named[word]


@cache
def _words_of(formula: str, sheet: str) -> tuple[list[Area], set[str]]:
    """Give the areas that are written in a formula, and its words; most shops have the same."""
    found = (one[0] for one in TEXT_OR_AREA.finditer(formula))
    areas = [_area(area, sheet) for area in found if not area.startswith('"')]
    return areas, {word.casefold() for word in WORD.findall(formula)}


def _areas(workbook: Workbook, asked: Asked) -> Iterator[Area]:
    if isinstance(asked, Block):
        yield from (_area(asked.area(column.key)) for column in asked.columns)
    elif isinstance(asked, tuple):
        yield _area(f"C{row_of_check(workbook, *asked)}", "Checks")
    elif asked in workbook.sheetnames:
        yield _area(workbook[asked].dimensions, asked)
    else:
        yield from (_area(*reversed(each)) for each in workbook.defined_names[asked].destinations)


def _area(written: str, own: str = "") -> Area:
    sheet, _, cells = written.rpartition("!")
    return Area(sheet.strip("'") or own, *range_boundaries(cells))


def _blank_row(workbook: Workbook, table: Table) -> int:
    """Give the row below the last one in which something is typed."""
    rows = workbook[table.sheet].iter_rows(min_row=FIRST_ROW, max_col=len(table.columns))
    cells = (cell for row in rows for cell in row)
    typed = (cell.row for cell in cells if cell.value is not None and cell.data_type != "f")
    return max(typed, default=FIRST_ROW - 1) + 1
