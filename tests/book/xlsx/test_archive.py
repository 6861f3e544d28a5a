"""Other kinds of file than a workbook: each is named, with what to do."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.xlsx.archive import OLD_EXCEL, open_archive
from lumbercalc.faults import FileFault
from tests.cli.commands import assert_one_line, run
from tests.cli.hostile_files import zipped

ODS = zipped(
    **{"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": b"<x/>"}
)
SAVE = "open it in the spreadsheet and save it as .xlsx"


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("demo.ods", ODS, f"it is an .ods workbook; {SAVE}"),
        ("demo.xlsx", ODS, f"it is an .ods workbook; {SAVE}"),
        ("demo.xls", OLD_EXCEL + b"...", f"it is an .xls workbook, or has a password; {SAVE}"),
        ("demo.xlsb", zipped(**{"xl/workbook.bin": b"."}), f"it is an .xlsb workbook; {SAVE}"),
        ("boards.csv", b"tag,width\n", f"it is a text file, such as CSV; {SAVE}"),
        ("boards.xlsx", b"tag,width\n", f"it is a text file, such as CSV; {SAVE}"),
        ("boards.xlsx", "tag\n".encode("utf-16"), f"it is a text file, such as CSV; {SAVE}"),
    ],
)
def test_another_kind_of_file_is_named(
    tmp_path: Path, name: str, content: bytes, words: str
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(FileFault) as fault:
        open_archive(path)
    assert str(fault.value) == f"{path}: this is not a workbook that can be read: {words}"
    for command in (["report"], ["check"], ["check", "--fix-values"], ["upgrade"]):
        assert_one_line(run(*command, path), words)
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_is_called_one(tmp_path: Path) -> None:
    for command in (["report"], ["check"], ["upgrade"]):
        assert_one_line(run(*command, tmp_path), "this is a folder")
