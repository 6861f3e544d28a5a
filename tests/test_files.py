"""Faults of files: whatever happens while one is written, the old one is whole and nothing stays.

The faults are those of the system itself where a test can have them: a small disk, a limit on the
size of files, an account without rights, a killed process, several processes at once. Elsewhere
the call that writes fails part-way.
"""

from __future__ import annotations

import errno
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl.workbook import Workbook

from lumbercalc import files
from lumbercalc.book import template
from lumbercalc.faults import FileFault
from lumbercalc.file_checks import Seen
from lumbercalc.files import write_file

NOW = datetime(2026, 11, 25, 10, 0, 0)
OLD = b"a year of weighings"
NOBODY = 65534
KILLS = 40

forks = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no fork")


def zipped(letter: str, size: int = 300_000) -> bytes:
    """A workbook's archive: cut anywhere it is no longer one."""
    content = BytesIO()
    with zipfile.ZipFile(content, "w") as archive:
        archive.writestr("xl/workbook.xml", letter * size)
    return content.getvalue()


def forked(what: Callable[[], object]) -> str:
    """Do something in a process of its own; give the fault's text, or ""."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        said = ""
        try:
            what()
        except FileFault as fault:
            said = str(fault)
        except BaseException as other:
            said = f"{type(other).__name__}: {other}"
        os.write(writing, said.encode())
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as pipe:
        said = pipe.read()
    os.waitpid(child, 0)
    return said


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(OLD)
    return path


def assert_untouched(path: Path, *others: Path) -> None:
    assert path.read_bytes() == OLD
    assert sorted(path.parent.iterdir()) == sorted([path, *others])


def assert_told(said: str, path: Path, *words: str) -> None:
    assert said.startswith(f"{path}: ")
    assert said.count("\n") == 0
    for word in words:
        assert word in said


# What goes well


def test_a_new_file_is_written_whole_and_alone(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    assert write_file(path, b"new", force=False, now=NOW) is None
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


def test_an_old_file_is_kept_under_a_dated_name_with_its_rights_and_time(old: Path) -> None:
    old.chmod(0o640)  # as far as the system has such rights
    before = old.stat()
    contents = (OLD, b"second", b"third", b"fourth")
    backups = [write_file(old, content, force=True, now=NOW) for content in contents[1:]]
    kept = [backup for backup in backups if backup is not None]
    assert [backup.name for backup in kept] == [
        f"shop.backup-2026-11-25-100000{count}.xlsx" for count in ("", "-2", "-3")
    ]
    assert tuple(backup.read_bytes() for backup in kept) == contents[:3]
    assert kept[0].stat().st_mtime_ns == before.st_mtime_ns
    assert old.read_bytes() == b"fourth"
    assert old.stat().st_mode == kept[0].stat().st_mode == before.st_mode
    assert len(list(old.parent.iterdir())) == 4


@pytest.mark.skipif(sys.platform != "linux", reason="names open files by Linux's /proc")
def test_what_is_written_is_on_the_disk_before_it_takes_the_file_s_place(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    synced, replaced = os.fsync, os.replace

    def fsync(number: int) -> None:
        done.append(f"sync {Path(os.readlink(f'/proc/self/fd/{number}')).name}")
        synced(number)

    def replace(source: Path, target: Path) -> None:
        done.append("replace")
        replaced(source, target)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(os, "replace", replace)
    write_file(old, b"new", force=True, now=NOW)
    folder = f"sync {old.parent.name}"
    assert done == ["sync .shop.xlsx.draft", "sync .shop.xlsx.backup", "replace", folder]


@pytest.mark.parametrize("number", [0, errno.ENOTSUP, errno.EIO], ids=errno.errorcode.get)
def test_macos_is_told_to_wait_for_the_disk_itself(
    old: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    fcntl = pytest.importorskip("fcntl", reason="Windows has no fcntl")
    orders: list[object] = []
    synced = os.fsync

    def ordered(file: int, order: object) -> None:
        orders.append(order)
        if number:
            raise OSError(number, os.strerror(number))

    def fsync(file: int) -> None:
        orders.append("fsync")
        synced(file)

    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setattr(fcntl, "F_FULLFSYNC", "full", raising=False)
    monkeypatch.setattr(fcntl, "fcntl", ordered)
    monkeypatch.setattr(os, "fsync", fsync)
    if number == errno.EIO:
        with pytest.raises(FileFault, match="Input/output error"):
            write_file(old, b"new", force=True, now=NOW)
        assert_untouched(old)
        return
    write_file(old, b"new", force=True, now=NOW)
    each = ["full", "fsync"] if number else ["full"]  # a disk in a network knows only fsync
    assert orders == each * 3  # the draft, the backup, their folder


def test_what_a_killed_command_left_is_cleared(old: Path) -> None:
    for left in ("draft", "backup", "lock"):
        (old.parent / f".shop.xlsx.{left}").write_bytes(b"half")
    other = old.parent / ".shop2.xlsx.draft"  # of another workbook
    other.write_bytes(b"half")
    backup = write_file(old, b"new", force=True, now=NOW)
    assert backup is not None
    assert sorted(old.parent.iterdir()) == sorted([old, backup, other])


# What goes wrong


def test_a_file_that_comes_meanwhile_is_not_replaced(old: Path) -> None:
    with pytest.raises(FileFault, match="there is a file already; choose another name"):
        write_file(old, b"new", force=False, now=NOW)
    assert_untouched(old)


def test_nor_on_a_disk_without_hard_links(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", refused)
    with pytest.raises(FileFault, match="there is a file already; choose another name"):
        write_file(old, b"new", force=False, now=NOW)
    assert_untouched(old)
    other = old.with_name("other.xlsx")
    write_file(other, b"new", force=False, now=NOW)
    assert other.read_bytes() == b"new"


@pytest.fixture
def loop(tmp_path: Path) -> Path:
    """A link to a link to itself."""
    path, other = tmp_path / "shop.xlsx", tmp_path / "other.xlsx"
    try:
        path.symlink_to(other)
        other.symlink_to(path)
    except OSError as refused:
        if sys.platform == "linux":
            raise
        pytest.skip(f"this account may make no links ({refused})")
    return path


@pytest.mark.parametrize("force", [False, True])
def test_links_without_an_end_are_told_and_stay(loop: Path, force: bool) -> None:
    with pytest.raises(FileFault) as fault:
        write_file(loop, b"new", force=force, now=NOW)
    assert_told(str(fault.value), loop, "its links lead back to themselves: name the file itself")
    assert loop.is_symlink()
    assert len(list(loop.parent.iterdir())) == 2


def test_a_file_that_changed_meanwhile_is_left_alone(old: Path) -> None:
    seen = Seen.of(old)
    old.write_bytes(OLD + b" and more")
    with pytest.raises(FileFault, match="changed meanwhile; try again"):
        write_file(old, b"new", force=True, now=NOW, seen=seen)
    assert old.read_bytes() == OLD + b" and more"


@pytest.fixture
def small_disk() -> Iterator[Path]:
    """A disk of 64 kB, where one may be mounted; else a folder whose files may have no more."""
    folder = Path(tempfile.mkdtemp(prefix="lumbercalc-disk-"))
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(folder)]
    mounted = shutil.which("mount") and subprocess.run(mount, capture_output=True).returncode == 0
    yield folder
    if mounted:
        subprocess.run(["umount", str(folder)], check=True)
    shutil.rmtree(folder)


def written_with_limit(path: Path, content: bytes, *, force: bool) -> str:
    """Write where the system takes no file over 40 kB."""

    def limited() -> None:
        import resource  # which Windows lacks

        resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, 40_000))
        write_file(path, content, force=force, now=NOW)

    return forked(limited)


@forks
def test_a_full_disk(small_disk: Path, record_property: Callable[[str, Any], None]) -> None:
    path = small_disk / "shop.xlsx"
    path.write_bytes(OLD)
    if os.path.ismount(small_disk):
        said = forked(lambda: write_file(path, b"x" * 100_000, force=True, now=NOW))
        assert_told(said, path, "No space left", "the disk is full: make room", "nothing was")
        assert_untouched(path)
        said = forked(lambda: write_file(path, b"x" * 66_000, force=True, now=NOW))
        assert_told(said, path, "the disk is full")
        assert_untouched(path)
    said = written_with_limit(path, b"x" * 50_000, force=True)
    assert_told(said, path, "File too large", "choose another one")
    assert_untouched(path)
    record_property("faults of files", 3)


@forks
def test_no_room_for_the_backup(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(b"y" * 60_000)
    said = written_with_limit(path, b"x" * 30_000, force=True)
    assert_told(said, path, "File too large")
    assert path.read_bytes() == b"y" * 60_000
    assert list(tmp_path.iterdir()) == [path]


class Failing:
    """A true file, of which one call fails: of the write, after half of it."""

    def __init__(self, file: Any, call: str, fault: OSError) -> None:
        self.file, self.call, self.fault = file, call, fault

    def __enter__(self) -> Failing:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()

    def write(self, content: bytes) -> None:
        self.file.write(content[: len(content) // 2] if self.call == "write" else content)
        self._fail("write")

    def flush(self) -> None:
        self.file.flush()
        self._fail("flush")

    def fileno(self) -> int:
        self._fail("fsync")
        number: int = self.file.fileno()
        return number

    def _fail(self, call: str) -> None:
        if call == self.call:
            raise self.fault


NUMBERS = {
    errno.ENOSPC: "the disk is full: make room on it",
    errno.EDQUOT: "your share of the disk is full",
    errno.EACCES: "choose a folder in which you may write",
    errno.EROFS: "the disk is read-only",
    errno.EIO: "try again, or choose another folder",
}
CALLS = [
    *((call, file) for file in ("draft", "backup") for call in ("open", "write", "flush", "fsync")),
    ("os.open", "lock"),
    ("os.replace", "draft"),
    ("os.link", "draft"),
    ("os.rename", "backup"),
    ("shutil.copymode", "draft"),
    ("shutil.copystat", "backup"),
]
"""What fails, and of which file."""


def fail(monkeypatch: pytest.MonkeyPatch, call: str, of: str, fault: OSError) -> None:
    module, dot, name = call.partition(".")
    if dot:
        there = {"os": os, "shutil": shutil}[module]
        real = getattr(there, name)

        def failing(*arguments: Any) -> Any:
            if any(str(argument).endswith(f".{of}") for argument in arguments):
                raise fault
            return real(*arguments)

        monkeypatch.setattr(there, name, failing)
        return

    def opened(path: Path, mode: str, **options: Any) -> Any:
        if not path.name.endswith(f".{of}"):
            return open(path, mode, **options)
        if call == "open":
            raise fault
        return Failing(open(path, mode, **options), call, fault)

    monkeypatch.setattr(files, "open", opened, raising=False)


@pytest.mark.parametrize("number", NUMBERS, ids=errno.errorcode.get)
@pytest.mark.parametrize("place", CALLS, ids=lambda place: " of ".join(place))
def test_a_write_that_fails_anywhere_leaves_everything(
    old: Path,
    place: tuple[str, str],
    number: int,
    monkeypatch: pytest.MonkeyPatch,
    record_property: Callable[[str, Any], None],
) -> None:
    call, of = place
    new = call == "os.link"  # of a file that is not there yet; where links fail, it is renamed
    path = old.with_name("new.xlsx") if new else old
    with monkeypatch.context() as patch:
        fail(patch, call, of, OSError(number, os.strerror(number)))
        if new:
            fail(patch, "os.rename", "draft", OSError(number, os.strerror(number)))
        with pytest.raises(FileFault) as fault:
            write_file(path, b"x" * 5000, force=not new, now=NOW)
    assert_told(str(fault.value), path, os.strerror(number), NUMBERS[number], "nothing was changed")
    assert_untouched(old)
    record_property("faults of files", 1)
    write_file(path, b"new", force=True, now=NOW)
    assert path.read_bytes() == b"new"


def test_no_room_for_what_is_computed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(template, "compute", full)
    workbook = Workbook()
    with pytest.raises(FileFault) as fault:
        template.save(workbook, tmp_path / "shop.xlsx", now=NOW)
    assert_told(str(fault.value), tmp_path / "shop.xlsx", "the disk is full")
    assert list(tmp_path.iterdir()) == []


def as_nobody(what: Callable[[], object]) -> str:
    """Do something without the rights of the administrator."""

    def without_rights() -> None:
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(NOBODY)
            os.setuid(NOBODY)
        what()

    return forked(without_rights)


@pytest.fixture
def read_only_folder() -> Iterator[Path]:
    folder = Path(tempfile.mkdtemp(prefix="lumbercalc-read-only-"))
    (folder / "shop.xlsx").write_bytes(OLD)
    (folder / "shop.xlsx").chmod(0o666)
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@forks
def test_a_folder_that_is_read_only(read_only_folder: Path) -> None:
    for name, force in (("shop.xlsx", True), ("new.xlsx", False)):
        path = read_only_folder / name
        said = as_nobody(lambda path=path, force=force: write_file(path, b"", force=force, now=NOW))
        assert_told(said, path, "Permission denied", "choose a folder in which you may write")
        assert_untouched(read_only_folder / "shop.xlsx")


@forks
def test_a_command_killed_at_any_moment_leaves_a_whole_file(
    tmp_path: Path, record_property: Callable[[str, Any], None]
) -> None:
    path = tmp_path / "shop.xlsx"
    contents = [zipped("a"), zipped("b")]
    path.write_bytes(contents[0])
    chance = random.Random(7)
    caught = set()
    for _ in range(KILLS):
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            while True:
                for content in contents:
                    os.write(writing, b".")
                    write_file(path, content, force=True, now=NOW)
        os.read(reading, 1)  # it has begun
        time.sleep(chance.uniform(0, 0.03))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(reading)
        os.close(writing)
        assert path.read_bytes() in contents
        left = {other.name for other in tmp_path.iterdir() if other.name.startswith(".")}
        caught |= {name.rpartition(".")[2] for name in left}
        for backup in tmp_path.glob("shop.backup-*.xlsx"):
            assert backup.read_bytes() in contents
            backup.unlink()
    assert "draft" in caught  # it was killed while it wrote
    backup = write_file(path, contents[1], force=True, now=NOW)
    assert backup is not None
    assert sorted(tmp_path.iterdir()) == sorted([path, backup])
    record_property("faults of files", KILLS)


@forks
def test_commands_at_once_write_one_after_the_other_or_say_so(
    tmp_path: Path, record_property: Callable[[str, Any], None]
) -> None:
    path = tmp_path / "shop.xlsx"
    contents = [zipped(letter) for letter in "abcd"]
    path.write_bytes(contents[0])
    seen = Seen.of(path)
    said: list[str] = []
    children = []
    for content in contents:
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            words = "written"
            for _ in range(10):
                try:
                    write_file(path, content, force=True, now=NOW)
                except FileFault as fault:
                    words = str(fault)
            os.write(writing, words.encode())
            os._exit(0)
        os.close(writing)
        children.append((child, reading))
    for child, reading in children:
        os.waitpid(child, 0)
        said.append(os.read(reading, 4000).decode())
        os.close(reading)
    busy = f"{path}: another command is writing it; wait until it is done and try again"
    assert set(said) <= {"written", busy}
    assert path.read_bytes() in contents
    kept = {other for other in tmp_path.iterdir() if other != path}
    assert all(re.fullmatch(r"shop\.backup-[-\d]+\.xlsx", other.name) for other in kept)
    assert all(other.read_bytes() in contents for other in kept)
    with pytest.raises(FileFault, match="changed meanwhile"):
        write_file(path, b"", force=True, now=NOW, seen=seen)
    record_property("faults of files", len(contents))


@forks
def test_a_command_that_holds_a_file_is_waited_for(old: Path) -> None:
    with files._alone(old):
        said = forked(lambda: write_file(old, b"new", force=True, now=NOW))
    assert_told(said, old, "another command is writing it; wait until it is done and try again")
    assert_untouched(old)
    assert forked(lambda: write_file(old, b"new", force=True, now=NOW)) == ""
    assert old.read_bytes() == b"new"


@pytest.mark.skipif(sys.platform == "win32", reason="no such rights there")
def test_a_private_file_is_at_no_moment_open_to_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o600)
    modes: set[int] = set()

    def looked_at(number: int) -> None:
        modes.update(each.stat().st_mode & 0o777 for each in tmp_path.iterdir())

    monkeypatch.setattr(files, "_sync", looked_at)
    before = os.umask(0o022)
    try:
        write_file(path, b"new", force=True, now=NOW)
        assert modes == {0o600}
        write_file(tmp_path / "other.xlsx", b"new", force=False, now=NOW)
    finally:
        os.umask(before)
    assert {each.name: each.stat().st_mode & 0o777 for each in tmp_path.iterdir()} == {
        "shop.xlsx": 0o600,
        "shop.backup-2026-11-25-100000.xlsx": 0o600,
        "other.xlsx": 0o644,
    }


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_lock_that_is_a_link_makes_no_file_where_it_leads(tmp_path: Path) -> None:
    (tmp_path / ".shop.xlsx.lock").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(FileFault, match=r"\.shop\.xlsx\.lock beside it is a link; remove it"):
        write_file(tmp_path / "shop.xlsx", b"new", force=False, now=NOW)
    assert not (tmp_path / "elsewhere").exists()
    assert not (tmp_path / "shop.xlsx").exists()
