"""Site: the months in which wood dries, and cold air that is warmed."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl.worksheet.worksheet import Worksheet

import lumbercalc as lc
from lumbercalc.book.sheets.site import FIRST_ROW
from lumbercalc.book.sheets.site_months import (
    DRIES,
    FIRST_MONTH,
    GAINS,
    MARKS_ROW,
    STILL,
    WARMED_ROW,
)
from tests.book.stored_values import stored_in


@pytest.fixture(scope="module")
def site(demo: Path) -> Worksheet:
    return stored_in(demo)["Site"]


def months(sheet: Worksheet, row: int) -> list[object]:
    """The twelve cells of a row."""
    return [sheet.cell(row, FIRST_MONTH + month).value for month in range(12)]


def test_wood_dries_where_the_air_is_drier_and_not_in_the_cold(site: Worksheet) -> None:
    # The demo's yard: EMC 12 to 14.5 %, 28 deg F in January; wood at 15 %.
    assert site.cell(MARKS_ROW, FIRST_MONTH - 1).value == "yard"
    marks = months(site, MARKS_ROW)
    assert marks[0] == STILL  # its EMC of 13.5 % would do, but at 28 deg F
    assert marks[3] == DRIES
    assert marks[8] == STILL  # EMC 14.5 %
    for mark, emc in zip(marks, months(site, FIRST_ROW), strict=True):
        assert mark in (DRIES, STILL)
        if mark == DRIES:
            assert isinstance(emc, float)
            assert emc <= 15 - 1.5
    assert GAINS not in marks


def test_warmed_air_dries_in_winter(site: Worksheet) -> None:
    first = WARMED_ROW + 3
    temp, rh, outside, room_rh, room = (months(site, first + row) for row in range(5))
    # January at 28 deg F and 70 % RH, warmed to 66 deg F: from lumbercalc's own functions, whose
    # sources are checked in tests/wood/test_air.py.
    assert (temp[0], rh[0]) == (28, 70)
    assert room_rh[0] == pytest.approx(lc.heated_rh(28, 70, 66))
    assert room[0] == pytest.approx(lc.emc(66, room_rh[0]))
    assert room[0] < 5 < outside[0]  # type: ignore[operator]
    assert room[6] in ("", None)  # July is warmer outside than in the room
