"""One sale of a workbook, found by its number."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.quote.find import find_sale
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.faults import FileFault


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
    row = find_sale(open_archive(demo), number.lower()).row
    assert (row["number"], row["kind"]) == (number, kind)


def test_an_unknown_number_is_refused_with_the_last_ones(demo: Path) -> None:
    with pytest.raises(FileFault, match=r"no sale 'S-9' on Sales; the last are: S-1007, .*S-1011"):
        find_sale(open_archive(demo), "S-9")
