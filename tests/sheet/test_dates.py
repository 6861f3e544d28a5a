"""Dates of any host, and the serial numbers of spreadsheets."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet.dates import FIRST_SERIAL, LAST_SERIAL, read_date, serial
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.refusal import Refused

DAY = Argument("the_date", "date", Limits("date"), "a date")


@pytest.mark.parametrize(
    ("cell", "day"),
    [
        (date(2026, 5, 1), "2026-05-01"),
        (datetime(2026, 5, 1, 23, 59), "2026-05-01"),
        (np.datetime64("2026-05-01T10:00", "ns"), "2026-05-01"),
        ("2026-05-01", "2026-05-01"),
        (" 2026-05-01 10:00 ", "2026-05-01"),
        # Serials: 1900 date system, ECMA-376 18.17.4.1.
        (18264, "1950-01-01"),
        (46143, "2026-05-01"),
        (46143.99, "2026-05-01"),
        (2958465, "9999-12-31"),
        (2958465.99, "9999-12-31"),
        (Decimal(46143), "2026-05-01"),
    ],
)
def test_a_day_however_it_is_written(cell: Any, day: str) -> None:
    assert read_date(DAY, cell) == np.datetime64(day, "D")


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        (FIRST_SERIAL - 1, "the_date is 18263; it must be a date, as YYYY-MM-DD"),
        (2026, "the_date is 2026; it must be a date, as YYYY-MM-DD or a date cell from 1950-01-01"),
        (date(1949, 12, 31), "1949-12-31"),
        (LAST_SERIAL + 1, "9999-12-31"),
        ("1 May", 'the text "1 May"'),
        (True, "TRUE"),
        (np.datetime64("10500-01-01"), "10500-01-01"),
        (datetime(2026, 5, 1, tzinfo=UTC), "without a time zone"),
        ("2026-05-01T10:00+02:00", "without a time zone"),
        (10**400, "more than 300 digits"),
    ],
)
def test_what_is_no_date(cell: Any, said: str) -> None:
    with pytest.raises(Refused) as refused:
        read_date(DAY, cell)
    assert str(refused.value).startswith("the_date is ")
    assert said in str(refused.value)
    assert "it must be a date" in str(refused.value)


@pytest.mark.parametrize(
    ("day", "number"),
    # the day numbers of the OpenDocument format 1.2 with its default null date, 1899-12-30
    [(date(1899, 12, 30), 0.0), (date(1900, 3, 1), 61.0), (date(2000, 1, 1), 36526.0)],
)
def test_dates_are_counted_as_spreadsheets_store_them(day: date, number: float) -> None:
    assert serial(day) == number
