"""Numbers in the template's inputs that are out of the limits declared of them."""

from __future__ import annotations

from typing import Any

import pytest

from lumbercalc.book.checking.texts import texts
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.loads import LOADS
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.old_workbook import as_old
from tests.book.small_shop import put


@pytest.mark.parametrize(
    ("cells", "line"),
    [
        ({"purchase": -2000}, "Loads!D5: Logs or lumber ($) is -2000; it must be from 0 to "),
        ({"purchase": 1_000_000.5}, "Loads!D5: Logs or lumber ($) is 1000000.5; it must be"),
        ({"purchase": 10**400}, "Loads!D5: Logs or lumber ($) is "),
        ({"purchase": 0}, ""),
        ({"purchase": 1_000_000}, ""),
        ({"purchase": "=-5"}, ""),  # what a formula comes to is computed, and checked elsewhere
    ],
)
def test_a_number_out_of_its_limits_is_told(cells: dict[str, Any], line: str) -> None:
    workbook = build()
    put(workbook, BOARDS, [{"width": 7.5, "length": 8}])
    put(workbook, LOADS, [{"name": "A", **cells}])
    if cells["purchase"] == "=-5":
        workbook["Loads"]["D5"].data_type = "f"
    told = [str(finding).split(maxsplit=1)[1] for finding in texts(as_old(workbook))]
    assert [each.startswith(line) for each in told] == [True] * (line != "")
