"""Write a file so that nothing is lost: whole or not at all, never over one unasked, one at a time.

What is written goes to a draft in the same folder and is on the disk before it takes the file's
place, so that a full disk, a lost power or a killed command leaves the old file whole. What a
killed command left behind (a draft, a lock) is cleared by the next one that writes the file.
"""

from __future__ import annotations

import errno
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path

from lumbercalc.faults import FileFault
from lumbercalc.file_checks import Seen, refuse_changed

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

WHAT_TO_DO = {
    errno.ENOSPC: "the disk is full: make room on it, or choose another one",
    errno.EDQUOT: "your share of the disk is full: make room in it, or choose another disk",
    errno.EFBIG: "the disk takes no file of this size: choose another one",
    errno.EACCES: "choose a folder in which you may write, and close the file elsewhere",
    errno.EPERM: "choose a folder in which you may write, and close the file elsewhere",
    errno.EROFS: "the disk is read-only: choose another one",
    errno.ELOOP: "its links lead back to themselves: name the file itself",
}
"""By error number."""
NEW = 0o666
"""Who may read and write a new file, as far as the system's mask lets them."""
NO_LINK = getattr(os, "O_NOFOLLOW", 0)
"""A link in a lock's place would make a file wherever it leads; Windows has no such flag."""


def write_file(
    path: Path, content: bytes, *, force: bool, now: datetime, seen: Seen | None = None
) -> Path | None:
    """Write a file whole or not at all; a dated backup of the one before is kept beside it.

    Parameters
    ----------
    path : Path
        Where; of a link, the file that it names.
    content : bytes
        All of it.
    force : bool
        Whether an existing file is replaced.
    now : datetime
        For the name of the backup.
    seen : Seen, optional
        The existing file when it was read: one that changed meanwhile is left alone.

    Returns
    -------
    Path or None
        The backup, or None where there was no file.

    Raises
    ------
    FileFault
        With what to do; the file is then as it was, and nothing is left beside it.
    """
    with write_faults(path):
        path = _behind_links(path)
    with write_faults(path), _alone(path):
        draft, copy = path.with_name(f".{path.name}.draft"), path.with_name(f".{path.name}.backup")
        for left in (draft, copy):
            left.unlink(missing_ok=True)
        if seen is not None:
            refuse_changed(path, seen)
        backup = None
        try:
            there = force and path.exists()
            _put(draft, content, path.stat().st_mode if there else NEW)
            if there:
                shutil.copymode(path, draft)
                backup = _keep_backup(path, copy, now)
            _move(draft, path, force=force)
        except OSError:
            if backup is not None:
                backup.unlink(missing_ok=True)
            raise
        finally:
            for left in (draft, copy):
                with suppress(OSError):
                    left.unlink(missing_ok=True)
    return backup


@contextmanager
def write_faults(path: Path) -> Iterator[None]:
    """Turn what the system says while a file is written into one line with what to do.

    Parameters
    ----------
    path : Path
        For the message.

    Raises
    ------
    FileFault
        In place of an OSError.
    """
    try:
        yield
    except OSError as fault:
        reason = fault.strerror or str(fault)
        what = WHAT_TO_DO.get(fault.errno or 0, "try again, or choose another folder")
        raise FileFault(
            f"{path}: the file cannot be written ({reason}); {what}; nothing was changed"
        ) from None


def _behind_links(path: Path) -> Path:
    """Find the file that links name: replacing a link would leave the file itself as it was."""
    with suppress(FileNotFoundError):
        path.stat()  # refuses links without an end, which later Pythons would replace
    return path.resolve()


@contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Hold the file against other commands; the system lets go of it when a command is killed."""
    lock = path.with_name(f".{path.name}.lock")
    held = _hold(lock, path)
    try:
        yield
    finally:
        if sys.platform != "win32":  # there a file that is open cannot be removed
            lock.unlink(missing_ok=True)
        os.close(held)
        if sys.platform == "win32":
            with suppress(OSError):  # the next command has it already
                lock.unlink(missing_ok=True)


def _hold(lock: Path, path: Path) -> int:
    while True:
        if lock.is_symlink():
            raise FileFault(f"{path}: {lock.name} beside it is a link; remove it")
        held = os.open(lock, os.O_RDWR | os.O_CREAT | NO_LINK, 0o600)
        try:
            _lock(held)
        except (BlockingIOError, PermissionError):
            os.close(held)
            raise FileFault(
                f"{path}: another command is writing it; wait until it is done and try again"
            ) from None
        except OSError as fault:
            if fault.errno not in (errno.ENOLCK, errno.ENOTSUP, errno.ENOSYS):
                os.close(held)
                raise
            return held  # a disk without locks: it goes without
        with suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(held), os.stat(lock)):
                return held
        os.close(held)  # the one before removed it between opening and locking


def _lock(held: int) -> None:
    if sys.platform == "win32":
        msvcrt.locking(held, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _put(path: Path, content: bytes, mode: int) -> None:
    """Write a new file and wait until it is on the disk; at no moment may more people read it."""
    with open(path, "xb", opener=lambda name, flags: os.open(name, flags, mode & NEW)) as file:
        file.write(content)
        file.flush()
        _sync(file.fileno())


def _sync(number: int) -> None:
    """Wait until an open file is on the disk."""
    if sys.platform == "darwin":  # where fsync does not wait for the disk's own memory
        try:
            fcntl.fcntl(number, fcntl.F_FULLFSYNC)
            return
        except OSError as fault:
            if fault.errno not in (errno.ENOTSUP, errno.ENOTTY, errno.EINVAL):
                raise  # else it is a disk that has no such order, as in a network
    os.fsync(number)


def _keep_backup(path: Path, copy: Path, now: datetime) -> Path:
    """Copy a file beside itself, under its dated name when the copy is whole."""
    _put(copy, path.read_bytes(), path.stat().st_mode)
    shutil.copystat(path, copy)
    stamp = now.strftime("%Y-%m-%d-%H%M%S")
    backup = path.with_name(f"{path.stem}.backup-{stamp}{path.suffix}")
    count = 1
    while backup.exists():
        count += 1
        backup = path.with_name(f"{path.stem}.backup-{stamp}-{count}{path.suffix}")
    os.rename(copy, backup)
    return backup


def _move(draft: Path, path: Path, *, force: bool) -> None:
    """Let the draft take the file's place; unless it is asked for, never that of another file."""
    if force:
        os.replace(draft, path)
    else:
        try:
            os.link(draft, path)  # unlike a rename it fails where there is a file
        except OSError as fault:  # or on a disk without hard links
            if isinstance(fault, FileExistsError) or path.exists():
                raise FileFault(f"{path}: there is a file already; choose another name") from None
            os.rename(draft, path)
    if sys.platform != "win32":
        with suppress(OSError):  # some disks cannot; the file itself is there
            folder = os.open(path.parent, os.O_RDONLY)
            try:
                _sync(folder)
            finally:
                os.close(folder)
