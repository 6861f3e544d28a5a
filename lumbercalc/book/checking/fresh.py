"""Compute any workbook anew, as far as it can be, beside the values that are stored in it.

The file is read cell by cell and put into a new workbook for the engine: links, pictures, merged
areas and macros never get there, and nothing that a formula names outside of the file is read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from openpyxl.utils.cell import coordinate_to_tuple
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from lumbercalc.book.checking.for_engine import array_formulas, workbook_for_engine
from lumbercalc.book.checking.own_formulas import columns_of, foreign
from lumbercalc.book.engine.as_stored import AsStored
from lumbercalc.book.engine.compared import COMPARED
from lumbercalc.book.engine.compute import Checking, Computed, compute_workbook
from lumbercalc.book.engine.formula_reader import read_formula
from lumbercalc.book.engine.formula_text import FormulaText, Known
from lumbercalc.book.engine.not_followed import not_followed
from lumbercalc.book.engine.trim import WHOLE
from lumbercalc.book.engine.written_names import for_the_engine
from lumbercalc.book.page.table import HEADER_ROW, Table
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.archive import Archive, open_archive, readable
from lumbercalc.book.xlsx.cell_value import CellValue, in_words, plain, same
from lumbercalc.book.xlsx.old_workbook import OldWorkbook, read_old
from lumbercalc.book.xlsx.places import Place, address
from lumbercalc.book.xlsx.reader import open_workbook
from lumbercalc.book.xlsx.stale import says_it_is_old
from lumbercalc.faults import FileFault
from lumbercalc.sheet.catalogue import CATALOGUE

STRICT = "if it is saved as Strict Open XML, save it as an ordinary Excel workbook (.xlsx)"
APP, FROM_CALC = "docProps/app.xml", b"<Application>LibreOffice"
"""Where a file says which program saved it."""


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
    filled : dict
        Cells that array formulas fill, and the place of the formula.
    computed : Computed
        Values anew.
    archive : Archive
        The file as it was read.
    as_stored : AsStored, optional
        What of it came to another value; None where the file says that its values may be old.
    """

    sheets: list[str]
    old: OldWorkbook
    texts: dict[Place, FormulaText]
    names: dict[str, FormulaText]
    ours: list[Place]
    filled: dict[Place, Place]
    computed: Computed
    archive: Archive
    as_stored: AsStored | None

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
        typed = cell is not None and not cell.formula and place not in self.filled
        return plain(cell.value) if cell is not None and typed else None

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
        stored = self.stored(place)
        was = "nothing" if stored == "" else in_words(stored)
        return f"stored {was}, fresh {in_words(self.value(place))}"

    @cached_property
    def to_refresh(self) -> dict[Place, CellValue]:
        """What a copy with fresh values has otherwise than the file.

        Every formula beside which nothing is stored; our functions' formulas where another value
        is stored, and what depends on any of these. Where the file says that its values may be
        old, also what our functions' formulas depend on.
        """
        dependence = self.computed.dependence
        related = {*self.ours}
        if self.as_stored is None:
            related |= {*dependence.before(self.ours), *dependence.after(self.ours)}
        changed = {}
        for place in self.computed_places():
            stored, computed = self.stored(place), self.computed.values[place[0], address(place)]
            told = place in related or (
                self.as_stored is not None and self.as_stored.changed(place)
            )
            if stored is None or (told and not same(stored, computed)):
                changed[place] = computed
        return changed

    @cached_property
    def taken(self) -> dict[Place, CellValue]:
        """Plain formulas that ours depend on, taken as stored: what they are computed to here."""
        taken = {} if self.as_stored is None else self.as_stored.taken
        before = self.computed.dependence.before(self.ours) if taken else set()
        return {place: value for place, value in taken.items() if place in before}

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
        return _stored(self.old, place)


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
    if not opened.sheetnames:
        raise FileFault(f"{path}: no sheet of it can be read; {STRICT}")
    old = read_old(archive)
    local = {name for sheet in opened.worksheets for name in sheet.defined_names}
    known = _known(opened.sheetnames, old, local)
    tables = [table for table in TABLES if _in_place(table, old)]
    readers = foreign(old, tables)
    columns = columns_of(old, tables) if readers else {}
    names = {
        name: read_formula(f"={text.removeprefix('=')}", "", known)
        for name, text in old.other_names.items()
    }
    for text in names.values():
        if text.is_relative:
            text.not_followed.append("it is counted from the cell that uses it")
    texts = {
        place: read_formula(cell.formula, place[0], known, columns if place in readers else ())
        for place, cell in old.cells.items()
        if cell.formula
    }
    arrays = array_formulas(old)
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
    whole = {name + WHOLE: area for name, area in columns.items()}
    areas = {**old.names, **whole}
    workbook = workbook_for_engine(opened.sheetnames, old, filled, texts, names, missing, areas)
    told = {(place[0], address(place)): why for place, why in missing.items()}
    ours = [place for place, text in texts.items() if text.calls]
    ours += [place for place, first in filled.items() if texts[first].calls]
    as_stored = None if says_it_is_old(archive) else _as_stored(old, {*texts, *filled}, ours)
    checking = Checking(
        told,
        opened.sheetnames,
        as_stored,
        _is_from_calc(archive),
        {(for_the_engine(place[0]), *place[1:]) for place in readers},
    )
    try:
        computed = compute_workbook(workbook, tables, checking)
    except MemoryError:
        raise FileFault(f"{path}: its formulas take more memory than there is") from None
    except Exception as fault:  # the engine raises whatever a workbook happens to cause
        raise FileFault(
            f"{path}: its formulas cannot be computed ({type(fault).__name__})"
        ) from None
    return Fresh(opened.sheetnames, old, texts, names, ours, filled, computed, archive, as_stored)


def _known(sheets: list[str], old: OldWorkbook, local: set[str]) -> Known:
    used = {sheet.casefold(): (1, 1) for sheet in sheets}
    for sheet, row, column in old.cells:
        last_row, last_column = used[sheet.casefold()]
        used[sheet.casefold()] = max(row, last_row), max(column, last_column)
    names = {name.casefold() for name in (*old.names, *old.other_names)}
    functions = {*COMPARED, *CATALOGUE}
    columns = {name.casefold() for name, area in old.names.items() if area.height * area.width > 1}
    return Known(used, names, {name.casefold() for name in local} - names, functions, columns)


def _as_stored(old: OldWorkbook, formulas: Iterable[Place], ours: list[Place]) -> AsStored:
    return AsStored({place: _stored(old, place) for place in formulas}, set(ours))


def _stored(old: OldWorkbook, place: Place) -> CellValue | None:
    if place in old.no_texts:
        return ""
    cell = old.cells.get(place)
    return None if cell is None else plain(cell.value)


def _is_from_calc(archive: Archive) -> bool:
    """Tell whether Calc saved the file: it hands a blank cell over as 0."""
    with readable(archive.path), archive.parts() as parts:
        return APP in parts.namelist() and FROM_CALC in parts.read(APP)


def _in_place(table: Table, old: OldWorkbook) -> bool:
    """Tell whether every column of a table stands where the template has it."""
    return all(
        (cell := old.cells.get((table.sheet, HEADER_ROW, number))) is not None
        and cell.value == column.header
        for number, column in enumerate(table.columns, 1)
    )
