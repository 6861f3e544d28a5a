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

from lumbercalc.book.archive import open_archive
from lumbercalc.book.calculation_mark import calculate_on_load
from lumbercalc.book.reader import readable
from lumbercalc.book.sheet_xml import Content, change_sheet
from lumbercalc.book.stored import sheet_files
from lumbercalc.faults import FileFault
from lumbercalc.file_checks import Seen, may_change
from lumbercalc.files import write_file

BOOK = "xl/workbook.xml"


def change_cells(
    path: Path,
    sheet: str,
    cells: Mapping[str, Content],
    *,
    like_row: int,
    seen: Seen,
    now: datetime,
) -> Path | None:
    """Change cells of one sheet in a workbook file; a dated backup is kept beside it.

    Cells keep their style; new ones take it from their column in another row. The workbook is
    marked to be recalculated on load (calcPr fullCalcOnLoad, ECMA-376 part 1, 18.2.2), because
    the stored values of formulas that depend on the cells are of before. Calc 25.2 does not heed
    the mark and shows what is stored until it is told to recalculate everything.

    Parameters
    ----------
    path : Path
        An .xlsx or .xlsm file that `open_workbook` read; macros stay as they are.
    sheet : str
        Name of the sheet.
    cells : dict of str to Content
        By address.
    like_row : int
        Row whose styles and height new cells and rows take.
    seen : Seen
        The file when it was read.
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
    may_change(path)
    if Seen.of(path) != seen:
        raise FileFault(f"{path}: the file was changed meanwhile; try again")
    with readable(path):
        [part] = [file for file, name in sheets_of(path).items() if name == sheet]
        change = partial(change_sheet, cells=cells, like_row=like_row, sheet=sheet)
        content = change_parts(path, {part: change, BOOK: calculate_on_load})
    return write_file(path, content, force=True, now=now, seen=seen)


def sheets_of(path: Path) -> dict[str, str]:
    """Give the part of each sheet of a workbook file.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    dict of str to str
        Part to the sheet's name.
    """
    with zipfile.ZipFile(open_archive(path)) as archive:
        return sheet_files(archive)


def change_parts(path: Path, changes: Mapping[str, Callable[[bytes], bytes]]) -> bytes:
    """Give a workbook file with some of its parts changed; every other one keeps its bytes.

    Parameters
    ----------
    path : Path
        The file; it is only read.
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
    target = BytesIO()
    with zipfile.ZipFile(open_archive(path)) as old, zipfile.ZipFile(target, "w") as new:
        for item in old.infolist():
            content = old.read(item)
            if item.filename in changes:
                content = changes[item.filename](content)
            new.writestr(item, content, item.compress_type)
    _check_rest(path, target, set(changes))
    return target.getvalue()


def _check_rest(path: Path, target: BytesIO, changed: set[str]) -> None:
    """Read the new file back: it must have the same parts, all others with the same bytes."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target) as new:
        if old.namelist() != new.namelist() or any(
            old.read(name) != new.read(name) for name in old.namelist() if name not in changed
        ):
            raise FileFault(f"{path}: more than the cells would change; nothing was written")
