"""Months by their names, as exports write them in English."""

from __future__ import annotations

import calendar
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.book.logger.month_names import in_numbers
from lumbercalc.book.logger.times import match_time


@pytest.mark.parametrize(
    ("text", "there"),
    [
        ("12-Jan-2026 14:05", "2026-1-12 14:05"),
        ("Jan 12, 2026 2:05 PM", "2026-1-12 2:05 PM"),
        ("12 January 2026", "2026-1-12"),
        ("12-JAN-26", "2026-1-12"),
        ("12-jan.-2026", "2026-1-12"),
        ("12. Jan. 2026 14:05", "2026-1-12 14:05"),
        ("12JAN2026 14:05", "2026-1-12 14:05"),
        ("Sept. 7th, 2026", "2026-9-7"),
        ("Mon Jan 12 2026 14:05:00", "2026-1-12 14:05:00"),
        ("Monday, January 12, 2026 2:05 PM", "2026-1-12 2:05 PM"),
        ("2026-Jan-12", "2026-1-12"),
        # C standard (ISO/IEC 9899), asctime: the year last, the day after a second blank
        ("Mon Jan  5 14:05:00 2026", "2026-1-5 14:05:00"),
        ("Mon Jan 12 14:05:00 EST 2026", "2026-1-12 14:05:00 EST"),
        # RFC 5322, section 3.3: the date of a message
        ("Mon, 12 Jan 2026 14:05:00 -0500", "2026-1-12 14:05:00 -0500"),
        ("Mon 01/12/2026 14:05", "01/12/2026 14:05"),
    ],
)
def test_forms_of_a_day(text: str, there: str) -> None:
    assert in_numbers(text) == there
    assert match_time(text)


@pytest.mark.parametrize(
    "text",
    ["Jan 12", "Jan 12 14:05", "12-Foo-2026", "12-Janitor-2026", "32 May", "May", "Sun", "Mon 12",
     "12-Jan-2026x", "2026-Jan-123", "12-Jan-20266", "Marble 12 2026", ""],
)  # fmt: skip
def test_what_is_no_day(text: str) -> None:
    assert match_time(text) is None


@given(
    st.dates(date(1990, 1, 1), date(2199, 12, 31)),
    st.sampled_from(["{d}-{m}-{y}", "{m} {d}, {y}", "{d} {m} {y}", "{y}-{m}-{d}", "{d}.{m}.{y}"]),
    st.booleans(),
    st.sampled_from([str.upper, str.lower, str.title]),
)
def test_any_day_by_any_name(day: date, form: str, short: bool, case: object) -> None:
    names = calendar.month_abbr if short else calendar.month_name
    text = form.format(y=day.year, m=case(names[day.month]), d=day.day)  # type: ignore[operator]
    assert in_numbers(text) == f"{day.year}-{day.month}-{day.day}"
