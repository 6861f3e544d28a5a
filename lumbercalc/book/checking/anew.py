"""Compute any workbook anew, as far as it can be, beside the values that are stored in it.

The file is read cell by cell and put into a new workbook for the engine: links, pictures, merged
areas and macros never get there, and nothing that a formula names outside of the file is read.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from lumbercalc.book.checking.for_engine import array_formulas, workbook_for_engine
from lumbercalc.book.checking.formula_texts import formula_texts
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.checking.own_formulas import columns_of, foreign, shops_own
from lumbercalc.book.engine.as_stored import AsStored
from lumbercalc.book.engine.compared import COMPARED
from lumbercalc.book.engine.compute import Checking, compute_workbook
from lumbercalc.book.engine.formula_reader import read_formula
from lumbercalc.book.engine.formula_text import Known
from lumbercalc.book.engine.not_followed import not_followed
from lumbercalc.book.engine.trim import WHOLE
from lumbercalc.book.engine.written_names import for_the_engine
from lumbercalc.book.page.table import HEADER_ROW, Table
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.archive import Archive, open_archive, readable
from lumbercalc.book.xlsx.old_workbook import OldWorkbook, read_old
from lumbercalc.book.xlsx.places import address
from lumbercalc.book.xlsx.reader import open_workbook, refuse_1904
from lumbercalc.book.xlsx.stale import says_it_is_old
from lumbercalc.faults import FileFault
from lumbercalc.sheet.catalogue import CATALOGUE

STRICT = "if it is saved as Strict Open XML, save it as an ordinary Excel workbook (.xlsx)"
APP, FROM_CALC = "docProps/app.xml", b"<Application>LibreOffice"
"""Where a file says which program saved it."""


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
    opened = open_workbook(archive)
    refuse_1904(opened, path)
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
    arrays = array_formulas(old)
    texts = formula_texts(old, known, arrays, readers, columns)
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
    as_stored = None
    if not says_it_is_old(archive):
        as_stored = AsStored({place: old.stored(place) for place in {*texts, *filled}}, set(ours))
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
    return Fresh(
        opened.sheetnames,
        old,
        texts,
        names,
        ours,
        shops_own(old, tables),
        filled,
        computed,
        archive,
        as_stored,
        checking.from_calc,
    )


def _known(sheets: list[str], old: OldWorkbook, local: set[str]) -> Known:
    used = {sheet.casefold(): (1, 1) for sheet in sheets}
    for sheet, row, column in old.cells:
        last_row, last_column = used[sheet.casefold()]
        used[sheet.casefold()] = max(row, last_row), max(column, last_column)
    names = {name.casefold() for name in (*old.names, *old.other_names)}
    functions = {*COMPARED, *CATALOGUE}
    columns = {name.casefold() for name, area in old.names.items() if area.height * area.width > 1}
    return Known(used, names, {name.casefold() for name in local} - names, functions, columns)


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
