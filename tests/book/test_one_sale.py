"""One sale of a workbook: found by number, and chosen in a copy."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from lumbercalc.book.one_sale import copy_of_sale, find_sale
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.faults import FileFault

NUMBER = "S-1004"


@pytest.mark.parametrize(
    ("number", "kind"),
    [
        ("S-1004", "Invoice"),
        ("S-1003", "Cancelled"),
        ("S-1006", "Lapsed quote"),
        ("S-1010", "Quote"),
    ],
)
def test_a_sale_is_found_with_what_it_is(demo: Path, number: str, kind: str) -> None:
    assert find_sale(open_archive(demo), number.lower()) == (number, kind)


def test_an_unknown_number_is_refused_with_the_last_ones(demo: Path) -> None:
    with pytest.raises(FileFault, match=r"no sale 'S-9' on Sales; the last are: S-1007, .*S-1011"):
        find_sale(open_archive(demo), "S-9")


def test_the_copy_shows_the_sale_alone_and_the_workbook_stays(demo: Path, tmp_path: Path) -> None:
    before = demo.read_bytes()
    archive = open_archive(demo)
    (tmp_path / "copy.xlsx").write_bytes(copy_of_sale(archive, find_sale(archive, NUMBER)))
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
