"""What is looked at before a file is written: each refusal is one line with what to do."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from lumbercalc.faults import FileFault
from lumbercalc.file_checks import Seen, may_change, may_write, refuse_changed, refuse_open


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(b"a year of weighings")
    return path


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("shop.xls", "the name of a workbook must end in .xlsx or .xlsm"),
        ("folder.xlsx", "this is a folder; name a file in it"),
        ("folder", "this is a folder; name a file in it"),
        ("shop.xlsx", "there is a file already; choose another name or use --force"),
        ("none/shop.xlsx", "there is no folder"),
    ],
)
def test_where_nothing_may_be_written(old: Path, name: str, words: str) -> None:
    (old.parent / "folder.xlsx").mkdir()
    (old.parent / "folder").mkdir()
    path = old.parent / name
    with pytest.raises(FileFault, match=re.escape(f"{path}: {words}")):
        may_write(path, force=False)


def test_a_new_file_and_one_that_is_to_be_replaced_may_be_written(old: Path) -> None:
    may_write(old.with_name("new.XLSX"), force=False)
    may_write(old, force=True)
    may_write(old.with_name("labels.pdf"), force=False, endings=(".pdf",))


def test_a_file_that_is_not_there_cannot_be_changed(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="there is no such file"):
        may_change(tmp_path / "shop.xlsx")
    with pytest.raises(FileFault, match="this is a folder"):
        may_change(tmp_path)


def test_a_file_that_is_read_only(old: Path) -> None:
    old.chmod(0o444)
    for refuse in (may_change, lambda path: may_write(path, force=True)):
        with pytest.raises(FileFault, match="the file is read-only; make it writable or take a"):
            refuse(old)


@pytest.mark.parametrize("lock", [".~lock.shop.xlsx#", "~$shop.xlsx"])
def test_a_file_that_is_open_in_a_spreadsheet_is_not_replaced(old: Path, lock: str) -> None:
    (old.parent / lock).write_text("")
    words = f"open in a spreadsheet (there is a file {lock}); close it first"
    for refuse in (refuse_open, may_change, lambda path: may_write(path, force=True)):
        with pytest.raises(FileFault, match=re.escape(words)):
            refuse(old)


def test_a_link_is_open_where_its_file_is(old: Path, tmp_path: Path) -> None:
    (tmp_path / "links").mkdir()
    link = tmp_path / "links" / "link.xlsx"
    link.symlink_to(old)
    refuse_open(link)
    (old.parent / f".~lock.{old.name}#").write_text("")
    with pytest.raises(FileFault, match="open in a spreadsheet"):
        refuse_open(link)


def test_a_file_that_grew_is_seen_to_have_changed(old: Path) -> None:
    before = Seen.of(old)
    refuse_changed(old, before)
    old.write_bytes(b"two years of weighings")
    with pytest.raises(FileFault, match="the file was changed meanwhile; try again"):
        refuse_changed(old, before)
