"""Change cells of a workbook file and nothing else: every other byte of its parts stays.

openpyxl would lose stored values, and whatever it does not know. Here the bytes of the changed
cells are exchanged in the sheet's XML; the rest of the file is copied as it is.
"""

from __future__ import annotations

import os
import shutil
import stat
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from pathlib import Path

from lumbercalc.book.faults import FileFault
from lumbercalc.book.files import keep_backup
from lumbercalc.book.reader import readable
from lumbercalc.book.sheet_xml import Content, calculate_on_load, change_sheet
from lumbercalc.book.stored import sheet_files

BOOK = "xl/workbook.xml"


@dataclass(frozen=True)
class Seen:
    """A file as it was when it was read: its size and time of change.

    Parameters
    ----------
    size, changed : int
        Bytes, nanoseconds.
    """

    size: int
    changed: int

    @classmethod
    def of(cls, path: Path) -> Seen:
        """Look at a file.

        Parameters
        ----------
        path : Path
            The file.

        Returns
        -------
        Seen
            As it is now.
        """
        state = path.stat()
        return cls(state.st_size, state.st_mtime_ns)


def may_change(path: Path) -> None:
    """Refuse to change a workbook that is read-only, or open in a spreadsheet.

    Parameters
    ----------
    path : Path
        The file.

    Raises
    ------
    FileFault
        With what to do.
    """
    if not path.is_file():
        raise FileFault(f"{path}: there is no such file")
    if not path.stat().st_mode & stat.S_IWUSR or not os.access(path, os.W_OK):
        raise FileFault(f"{path}: the file is read-only")
    for lock in (f".~lock.{path.name}#", f"~${path.name}"):  # of Calc, of Excel
        if path.with_name(lock).exists():
            raise FileFault(
                f"{path}: it is open in a spreadsheet (there is a file {lock}); close it first"
            )


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
    path = path.resolve()  # replacing a link would leave the workbook itself as it was
    may_change(path)
    if Seen.of(path) != seen:
        raise FileFault(f"{path}: the file was changed meanwhile; try again")
    with readable(path):
        content = _changed_file(path, sheet, cells, like_row)
    unfinished = path.with_name(f".{path.name}.unfinished")
    backup = None
    try:
        unfinished.write_bytes(content)
        shutil.copymode(path, unfinished)
        backup = keep_backup(path, now)
        os.replace(unfinished, path)
    except OSError as fault:
        if backup is not None:
            backup.unlink(missing_ok=True)
        raise FileFault(f"{path}: the file cannot be written ({fault.strerror or fault})") from None
    finally:
        unfinished.unlink(missing_ok=True)
    return backup


def _changed_file(path: Path, sheet: str, cells: Mapping[str, Content], like_row: int) -> bytes:
    target = BytesIO()
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w") as new:
        [part] = [file for file, name in sheet_files(old).items() if name == sheet]
        for item in old.infolist():
            content = old.read(item)
            if item.filename == part:
                content = change_sheet(content, cells, like_row=like_row, sheet=sheet)
            elif item.filename == BOOK:
                content = calculate_on_load(content)
            new.writestr(item, content, item.compress_type)
    _check_rest(path, target, {part, BOOK})
    return target.getvalue()


def _check_rest(path: Path, target: BytesIO, changed: set[str]) -> None:
    """Read the new file back: it must have the same parts, all others with the same bytes."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target) as new:
        if old.namelist() != new.namelist() or any(
            old.read(name) != new.read(name) for name in old.namelist() if name not in changed
        ):
            raise FileFault(f"{path}: more than the cells would change; nothing was written")
