"""Change cells of a workbook file and nothing else: every other byte of its parts stays.

openpyxl would lose stored values, and whatever it does not know. Here the bytes of the changed
cells are exchanged in the sheet's XML; the rest of the file is copied as it is.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Mapping
from datetime import datetime
from functools import partial
from io import BytesIO
from pathlib import Path

from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.calculation_mark import calculate_on_load
from lumbercalc.book.xlsx.parts import BOOK, exchange_parts, sheet_files
from lumbercalc.book.xlsx.sheet_xml import Content, change_sheet
from lumbercalc.faults import FileFault
from lumbercalc.file_checks import may_change
from lumbercalc.files import write_file


def change_cells(
    archive: Archive, sheet: str, cells: Mapping[str, Content], *, like_row: int, now: datetime
) -> Path | None:
    """Change cells of one sheet in a workbook file; a dated backup is kept beside it.

    Cells keep their style; new ones take it from their column in another row. The workbook is
    marked to be recalculated on load (calcPr fullCalcOnLoad, ECMA-376 part 1, 18.2.2), because
    the stored values of formulas that depend on the cells are of before. Calc 25.2 does not heed
    the mark and shows what is stored until it is told to recalculate everything.

    Parameters
    ----------
    archive : Archive
        The file as it was read; macros stay as they are.
    sheet : str
        Name of the sheet.
    cells : dict of str to Content
        By address.
    like_row : int
        Row whose styles and height new cells and rows take.
    now : datetime
        For the name of the backup.

    Returns
    -------
    Path or None
        The backup.

    Raises
    ------
    FileFault
        When the file changed meanwhile, a cell holds a formula, or nothing can be written there;
        the file is then as it was.
    """
    path = archive.path
    may_change(path)
    with readable(path):
        content = changed_cells(archive, sheet, cells, like_row=like_row)
    return write_file(path, content, force=True, now=now, seen=archive.seen)


def changed_cells(
    archive: Archive, sheet: str, cells: Mapping[str, Content], *, like_row: int
) -> bytes:
    """Give a workbook file with some cells of one sheet changed, as `change_cells` writes it.

    Parameters
    ----------
    archive, sheet, cells, like_row
        As `change_cells` takes them.

    Returns
    -------
    bytes
        Of the new file.

    Raises
    ------
    FileFault
        When a cell holds a formula.
    """
    with archive.parts() as parts:
        [part] = [file for file, name in sheet_files(parts).items() if name == sheet]
    change = partial(change_sheet, cells=cells, like_row=like_row, sheet=sheet)
    return change_parts(archive, {part: change, BOOK: calculate_on_load})


def change_parts(archive: Archive, changes: Mapping[str, Callable[[bytes], bytes]]) -> bytes:
    """Give a workbook file with some of its parts changed; every other one keeps its bytes.

    Parameters
    ----------
    archive : Archive
        Of the file.
    changes : mapping of str to callable
        By the name of the part: takes its bytes, gives those in their place.

    Returns
    -------
    bytes
        Of the new file.

    Raises
    ------
    FileFault
        When more would change.
    """
    content = exchange_parts(archive.content, changes)
    _check_rest(archive, BytesIO(content), set(changes))
    return content


def _check_rest(archive: Archive, target: BytesIO, changed: set[str]) -> None:
    """Read the new file back: it must have the same parts, all others with the same bytes."""
    with archive.parts() as old, zipfile.ZipFile(target) as new:
        if old.namelist() != new.namelist() or any(
            old.read(name) != new.read(name) for name in old.namelist() if name not in changed
        ):
            raise FileFault(
                f"{archive.path}: more than the cells would change; nothing was written"
            )
