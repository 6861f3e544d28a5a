"""One sale of a workbook, chosen in a copy."""

from __future__ import annotations

from pathlib import Path

import openpyxl

from lumbercalc.book.quote.copy import copy_of_sale
from lumbercalc.book.xlsx.archive import open_archive

NUMBER = "S-1004"


def test_the_copy_shows_the_sale_alone_and_the_workbook_stays(demo: Path, tmp_path: Path) -> None:
    before = demo.read_bytes()
    archive = open_archive(demo)
    (tmp_path / "copy.xlsx").write_bytes(copy_of_sale(archive, NUMBER))
    assert demo.read_bytes() == before
    copy = openpyxl.load_workbook(tmp_path / "copy.xlsx")
    assert [sheet.title for sheet in copy if sheet.sheet_state == "visible"] == ["Sale"]
    assert copy.active is not None
    assert copy.active.title == "Sale"
    assert [sheet.title for sheet in copy if sheet.print_area] == ["Sale"]
    [(sheet, address)] = copy.defined_names["sale_choice"].destinations
    assert (sheet, copy[sheet][address.replace("$", "")].value) == ("Sale", NUMBER)
    original = openpyxl.load_workbook(demo)
    for other in original:
        for row in other.iter_rows():
            for cell in row:
                if (other.title, cell.coordinate) != (sheet, address.replace("$", "")):
                    assert copy[other.title][cell.coordinate].value == cell.value
