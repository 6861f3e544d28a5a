"""Write workbooks so that nothing is lost: never over a file unasked, and with a dated backup."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from lumbercalc.book.faults import FileFault
from lumbercalc.book.macros import SUFFIX as MACRO_SUFFIX

SUFFIXES = (".xlsx", MACRO_SUFFIX)
"""Of the workbooks that are written: without macros, and with them."""


def may_write(
    path: Path, *, force: bool, what: str = "a workbook", endings: Sequence[str] = SUFFIXES
) -> None:
    """Refuse to write over an existing file, or where nothing can be written.

    Parameters
    ----------
    path : Path
        Where the file is to be written.
    force : bool
        Whether the person asked to replace it.
    what : str
        What it is.
    endings : sequence of str
        How its name may end.

    Raises
    ------
    FileFault
        With what to do instead.
    """
    if path.suffix.lower() not in endings:
        raise FileFault(f"{path}: the name of {what} must end in {' or '.join(endings)}")
    if path.is_dir():
        raise FileFault(f"{path}: this is a folder; name a file in it")
    if path.exists() and not force:
        raise FileFault(f"{path}: there is a file already; choose another name or use --force")
    if not path.parent.is_dir():
        raise FileFault(f"{path}: there is no folder {path.parent}")


def keep_backup(path: Path, now: datetime) -> Path | None:
    """Copy a workbook beside itself before it is changed.

    Parameters
    ----------
    path : Path
        The workbook.
    now : datetime
        Goes into the name of the copy.

    Returns
    -------
    Path or None
        The copy, or None where there was nothing to copy.
    """
    if not path.exists():
        return None
    stamp = now.strftime("%Y-%m-%d-%H%M%S")
    copy = path.with_name(f"{path.stem}.backup-{stamp}{path.suffix}")
    count = 1
    while copy.exists():
        count += 1
        copy = path.with_name(f"{path.stem}.backup-{stamp}-{count}{path.suffix}")
    shutil.copy2(path, copy)
    return copy
