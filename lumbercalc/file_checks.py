"""Look before a file is read or written: may it be, is it open elsewhere, did it change since."""

from __future__ import annotations

import os
import stat
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from lumbercalc.faults import FileFault

WORKBOOKS = (".xlsx", ".xlsm")
"""Endings of the workbooks that are written: without macros, and with them."""


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


def may_write(
    path: Path,
    *,
    force: bool,
    what: str = "a workbook",
    endings: Sequence[str] = WORKBOOKS,
    instead: str = "choose another name or use --force",
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
    instead : str
        What to do where there is a file already.

    Raises
    ------
    FileFault
        With what to do instead.
    """
    if path.is_dir():
        raise FileFault(f"{path}: this is a folder; name a file in it")
    if path.suffix.lower() not in endings:
        raise FileFault(f"{path}: the name of {what} must end in {' or '.join(endings)}")
    if path.exists() and not force:
        raise FileFault(f"{path}: there is a file already; {instead}")
    if not path.parent.is_dir():
        raise FileFault(f"{path}: there is no folder {path.parent}")
    if path.exists():
        may_change(path)


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
    if path.is_dir():
        raise FileFault(f"{path}: this is a folder; name a file in it")
    if not path.is_file():
        raise FileFault(f"{path}: there is no such file")
    if not path.stat().st_mode & stat.S_IWUSR or not os.access(path, os.W_OK):
        raise FileFault(f"{path}: the file is read-only; make it writable or take a copy of it")
    refuse_open(path)


def refuse_open(path: Path) -> None:
    """Refuse a workbook that is open in a spreadsheet: what is not saved there would be missed.

    Parameters
    ----------
    path : Path
        The file.

    Raises
    ------
    FileFault
        Names the file by which a spreadsheet says so.
    """
    for file in (path, Path(os.path.realpath(path))):  # a link may be open under its file's name
        for lock in (f".~lock.{file.name}#", f"~${file.name}"):  # of Calc, of Excel
            if (file.parent / lock).exists():  # with_name fails for "."
                raise FileFault(
                    f"{path}: it is open in a spreadsheet (there is a file {lock}); close it first"
                )


def refuse_changed(path: Path, seen: Seen) -> None:
    """Refuse a file that is not as it was when it was read.

    Parameters
    ----------
    path : Path
        The file.
    seen : Seen
        As it was.

    Raises
    ------
    FileFault
        Says so.
    """
    if Seen.of(path) != seen:
        raise FileFault(f"{path}: the file was changed meanwhile; try again")
