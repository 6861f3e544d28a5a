"""Compute any workbook anew, as far as it can be, beside the values that are stored in it.

The file is read cell by cell and put into a new workbook for the engine: links, pictures, merged
areas and macros never get there, and nothing that a formula names outside of the file is read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import formulas
from openpyxl.utils.cell import coordinate_to_tuple, get_column_letter, range_boundaries
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.utils.exceptions import IllegalCharacterError
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.engine.compute import NOT_READ, Computed, compute_workbook
from lumbercalc.book.engine.formula_size import LARGEST_AREA
from lumbercalc.book.engine.formula_text import FormulaText, Known, for_the_engine, read_formula
from lumbercalc.book.engine.not_followed import not_followed
from lumbercalc.book.page.table import HEADER_ROW, Table
from lumbercalc.book.template import TABLES
from lumbercalc.book.upgrading.kept import type_in
from lumbercalc.book.xlsx.archive import Archive, open_archive
from lumbercalc.book.xlsx.cell_value import CellValue, in_words, is_error, plain, same
from lumbercalc.book.xlsx.old_workbook import Area, OldCell, OldWorkbook, Place, address, read_old
from lumbercalc.book.xlsx.reader import open_workbook
from lumbercalc.faults import FileFault
from lumbercalc.sheet.catalogue import CATALOGUE

FOLLOWED_BY_THE_ENGINE = ("LET",)
"""Functions of its grammar, which are not in its list."""
MOST_FILLED = 500_000
"""Cells that all array formulas of a workbook fill."""


@dataclass(frozen=True)
class Fresh:
    """A workbook as it is stored, and as it is computed.

    Parameters
    ----------
    sheets : list of str
        In order.
    old : OldWorkbook
        What the file holds.
    texts : dict
        What was found in each formula.
    names : dict
        The same of each defined name that is no area, by the name.
    ours : list of tuple
        Cells whose formulas call our functions, in the order of the sheets.
    computed : Computed
        Values anew.
    archive : Archive
        The file as it was read.
    """

    sheets: list[str]
    old: OldWorkbook
    texts: dict[Place, FormulaText]
    names: dict[str, FormulaText]
    ours: list[Place]
    computed: Computed
    archive: Archive

    def value(self, place: Place) -> CellValue | None:
        """Give what a cell comes to, or what was typed in it.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        float, str, bool or None
            None for a blank cell, and for a formula that cannot be computed.
        """
        computed = self.computed.values.get((place[0], address(place)))
        if computed is not None:
            return computed
        cell = self.old.cells.get(place)
        return None if cell is None or cell.formula else plain(cell.value)

    def computed_places(self) -> Iterator[Place]:
        """Give the cells that formulas fill, as far as they can be computed.

        Yields
        ------
        tuple
            Sheet, row and column.
        """
        for sheet, where in self.computed.values:
            yield (sheet, *coordinate_to_tuple(where))

    def difference(self, place: Place) -> str:
        """Say what is stored in a cell, and what it comes to.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        str
            Such as "stored 5, fresh 4".
        """
        return f"stored {in_words(self.stored(place))}, fresh {in_words(self.value(place))}"

    @cached_property
    def to_refresh(self) -> dict[Place, CellValue]:
        """What a copy with fresh values has otherwise than the file.

        Our functions' formulas, what they depend on and what depends on them, where another value
        is stored; and every formula beside which nothing is stored.
        """
        dependence = self.computed.dependence
        related = {*self.ours, *dependence.before(self.ours), *dependence.after(self.ours)}
        changed = {}
        for place in self.computed_places():
            stored, computed = self.stored(place), self.computed.values[place[0], address(place)]
            if stored is None or (place in related and not same(stored, computed)):
                changed[place] = computed
        return changed

    def stored(self, place: Place) -> CellValue | None:
        """Give what the file stores in a cell.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        float, str, bool or None
            None where nothing is stored.
        """
        cell = self.old.cells.get(place)
        return None if cell is None else plain(cell.value)


def compute_anew(path: Path, tell: Callable[[int], None]) -> Fresh:
    """Read a workbook and compute its formulas.

    Parameters
    ----------
    path : Path
        An .xlsx or .xlsm file; it is only read.
    tell : callable
        Is told how many formulas there are before they are computed.

    Returns
    -------
    Fresh
        Stored and computed.

    Raises
    ------
    FileFault
        When the file cannot be read, or takes more than this machine has.
    """
    archive = open_archive(path)
    opened = open_workbook(archive, [])
    if opened.epoch == CALENDAR_MAC_1904:
        raise FileFault(
            f"{path}: it counts days from 1904; set it to count from 1900, as the functions do"
        )
    old = read_old(archive)
    local = {name for sheet in opened.worksheets for name in sheet.defined_names}
    known = _known(opened.sheetnames, old, local)
    names = {
        name: read_formula(f"={text.removeprefix('=')}", "", known)
        for name, text in old.other_names.items()
    }
    texts = {
        place: read_formula(cell.formula, place[0], known)
        for place, cell in old.cells.items()
        if cell.formula
    }
    arrays = _arrays(old)
    for place, text in texts.items():
        area = old.cells[place].area
        if not area:
            text.not_followed.extend(text.alone)
        elif place not in arrays:
            text.not_followed.append(f"it fills the cells {area[:40]}: too many")
    tell(len(texts))
    missing = not_followed(texts, names, old.names)
    filled = {
        each: place for place, area in arrays.items() for each in area.places if each != place
    }
    workbook = _clean(opened.sheetnames, old, filled, texts, names, missing)
    tables = [table for table in TABLES if _in_place(table, old)]
    told = {(place[0], address(place)): why for place, why in missing.items()}
    try:
        computed = compute_workbook(workbook, tables, told, opened.sheetnames)
    except MemoryError:
        raise FileFault(f"{path}: its formulas take more memory than there is") from None
    except Exception as fault:  # the engine raises whatever a workbook happens to cause
        raise FileFault(
            f"{path}: its formulas cannot be computed ({type(fault).__name__})"
        ) from None
    ours = [place for place, text in texts.items() if text.calls]
    ours += [place for place, first in filled.items() if texts[first].calls]
    return Fresh(opened.sheetnames, old, texts, names, ours, computed, archive)


def _known(sheets: list[str], old: OldWorkbook, local: set[str]) -> Known:
    used = {sheet.casefold(): (1, 1) for sheet in sheets}
    for sheet, row, column in old.cells:
        last_row, last_column = used[sheet.casefold()]
        used[sheet.casefold()] = max(row, last_row), max(column, last_column)
    names = {name.casefold() for name in (*old.names, *old.other_names)}
    functions = {*formulas.get_functions(), *CATALOGUE, *FOLLOWED_BY_THE_ENGINE}
    columns = {name.casefold() for name, area in old.names.items() if area.height * area.width > 1}
    return Known(used, names, {name.casefold() for name in local} - names, functions, columns)


def _clean(
    sheets: list[str],
    old: OldWorkbook,
    filled: dict[Place, Place],
    texts: dict[Place, FormulaText],
    names: dict[str, FormulaText],
    missing: dict[Place, str],
) -> Workbook:
    """Put what is computed with into a new workbook."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for sheet in sheets:
        workbook.create_sheet(for_the_engine(sheet))
    for place, cell in old.cells.items():
        if cell.formula and place not in missing:
            target = workbook[for_the_engine(place[0])]
            if place in filled or not _put_formula(target, place, cell, texts[place]):
                missing[place] = NOT_READ
        elif not cell.formula and place not in filled:
            value = plain(cell.value)
            typed = workbook[for_the_engine(place[0])][address(place)]
            if is_error(value):
                typed.value = value
            else:
                type_in(typed, value)
    used = set().union(*(text.names for text in texts.values()))
    used |= set().union(*(text.names for text in names.values()))
    for name, area in old.names.items():
        if name.casefold() in used:
            workbook.defined_names[name] = DefinedName(name, attr_text=_written(area))
    for name, text in names.items():
        if name.casefold() in used and not (text.broken or text.not_followed):
            workbook.defined_names[name] = DefinedName(name, attr_text=text.text.removeprefix("="))
    missing |= {place: missing[first] for place, first in filled.items() if first in missing}
    return workbook


def _put_formula(sheet: Worksheet, place: Place, cell: OldCell, text: FormulaText) -> bool:
    try:
        target = sheet[address(place)]
        target.value = ArrayFormula(cell.area, text.text) if cell.area else text.text
        target.data_type = "f"
    except (IllegalCharacterError, ValueError):
        return False
    return True


def _arrays(old: OldWorkbook) -> dict[Place, Area]:
    """Give the cells that array formulas fill, without those that are too many, or nonsense."""
    arrays: dict[Place, Area] = {}
    left = MOST_FILLED
    for place, cell in old.cells.items():
        area = _array(place, cell) if cell.area else None
        cells = area.height * area.width if area is not None else 0
        if area is not None and cells <= min(left, LARGEST_AREA):
            arrays[place] = area
            left -= cells
    return arrays


def _array(place: Place, cell: OldCell) -> Area | None:
    try:
        left, top, right, bottom = range_boundaries(cell.area)
        area = Area(place[0], int(left or 0), int(top or 0), int(right or 0), int(bottom or 0))
    except (TypeError, ValueError):
        return None
    return area if (area.first_row, area.first_column) == place[1:] else None


def _written(area: Area) -> str:
    first = f"${get_column_letter(area.first_column)}${area.first_row}"
    last = f"${get_column_letter(area.last_column)}${area.last_row}"
    return f"'{for_the_engine(area.sheet)}'!{first}" + (f":{last}" if last != first else "")


def _in_place(table: Table, old: OldWorkbook) -> bool:
    """Tell whether every column of a table stands where the template has it."""
    return all(
        (cell := old.cells.get((table.sheet, HEADER_ROW, number))) is not None
        and cell.value == column.header
        for number, column in enumerate(table.columns, 1)
    )
