"""Times as loggers write them: orders of day and month, clocks, and what is no time."""

from __future__ import annotations

from datetime import datetime, timedelta

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lumbercalc.book.logger.times import read_times
from tests.book.logger.forms import FORMS


def stamps(form: str, start: datetime, hours: int, count: int) -> pd.Series[str]:
    return pd.Series([(start + timedelta(hours=hours * n)).strftime(form) for n in range(count)])


@pytest.mark.parametrize(
    ("form", "start", "hours", "count", "words"),
    [
        ("%m/%d/%Y %H:%M", datetime(2025, 3, 28), 6, 40, "month/day: there is no"),
        ("%d/%m/%Y %H:%M", datetime(2025, 3, 28), 6, 40, "day/month: there is no"),
        ("%m/%d/%Y %H:%M", datetime(2025, 5, 3), 1, 200, "month/day: so the times go forward"),
        ("%d/%m/%Y %H:%M", datetime(2025, 5, 3), 1, 200, "day/month: so the times go forward"),
        ("%d-%m-%y %H:%M", datetime(2025, 5, 3), 1, 200, "day/month: so the times go forward"),
        ("%m/%d/%Y %H:%M", datetime(2025, 5, 3), 1, 5, "month/day: either is possible"),
        ("%d.%m.%Y %H:%M", datetime(2025, 5, 3), 1, 5, "day.month.year"),
        ("%Y-%m-%d", datetime(2025, 5, 3), 24, 5, "year-month-day"),
        ("%d-%b-%Y %H:%M", datetime(2025, 5, 3), 1, 5, "months by name"),
        ("%b %d %y %H:%M", datetime(2025, 5, 3), 1, 5, "months by name"),
    ],
)
def test_order_of_day_and_month(
    form: str, start: datetime, hours: int, count: int, words: str
) -> None:
    texts = stamps(form, start, hours, count)
    for each in (texts, texts[::-1]):  # newest first too
        times = read_times(each)
        assert times.order.startswith(words)
        expected = [start + timedelta(hours=hours * n) for n in range(count)]
        assert sorted(times.values.tolist()) == expected
        assert (times.values.diff().dropna() > timedelta(0)).nunique() == 1


@pytest.mark.parametrize("form", ["%y-%m-%d %H:%M", "%y/%m/%d %H:%M"])
def test_a_year_of_two_digits_first(form: str) -> None:
    start = datetime(2025, 3, 1)
    times = read_times(stamps(form, start, 2, 600))  # day/month would be of 2001 to 2031
    assert times.values.tolist() == [start + timedelta(hours=2 * n) for n in range(600)]
    assert times.order == "year-month-day: so the log is of 49 days, and not of 10,957"
    for last in ("%m/%d/%y %H:%M", "%d/%m/%y %H:%M"):
        there = read_times(stamps(last, start, 2, 600)).values
        assert there.tolist() == times.values.tolist()


@pytest.mark.parametrize(
    ("zones", "header", "words"),
    [
        (["-05:00", "-04:00"], "Time", "; by the clock of -05:00, -04:00, as written"),
        (["Z", "Z"], "Time", "; in UTC, as written: days begin some hours off"),
        (["", ""], "Time, UTC", "; in UTC, as written"),
        (["", ""], "Date/Time (GMT-05:00)", "; by the clock of GMT-05:00, as written"),
        (["", ""], "Time", ""),
    ],
)
def test_a_zone_changes_no_time_and_is_told(zones: list[str], header: str, words: str) -> None:
    """Half past one in the morning comes twice where daylight saving ends."""
    texts = pd.Series([f"2025-11-02 01:30:00{zone}" for zone in zones])
    times = read_times(texts, header=header)
    assert set(times.values) == {datetime(2025, 11, 2, 1, 30)}
    assert times.order.startswith(f"year-month-day{words}")
    assert (times.order == "year-month-day") is (not words)


def test_a_text_with_a_month_that_is_no_time_tells_no_order() -> None:
    assert read_times(pd.Series(["2025-03-31", "End of March"])).order == "year-month-day"


@pytest.mark.parametrize("day_first", [True, False])
def test_order_can_be_asked_for(day_first: bool) -> None:
    times = read_times(pd.Series(["03/04/2025 10:00", "03.04.2025 11:00"]), day_first)
    assert times.values.dt.month.tolist() == ([4, 4] if day_first else [3, 3])
    assert times.order.endswith("as asked")


@pytest.mark.parametrize(
    ("text", "there"),
    [
        ("2025-06-01 12:00 AM", "2025-06-01 00:00:00"),
        ("2025-06-01 12:00 pm", "2025-06-01 12:00:00"),
        ("6/1/25 1:05 a.m.", "2025-06-01 01:05:00"),
        ("2025-06-01 23:59:59.75", "2025-06-01 23:59:59"),
        ("2025-06-01 14.30", "2025-06-01 14:30:00"),
        ("2024-02-29", "2024-02-29 00:00:00"),
        ("2025-02-29", None),
        ("2025-06-31 10:00", None),
        ("2025-06-01 24:00", None),
        ("2025-06-01 10:60", None),
        ("2025-06-01 13:00 PM", None),
        ("2025-06-01 00:30 AM", None),
        ("2025-06-01T10:00Z", "2025-06-01 10:00:00"),
        ("2025-06-01 10:00+02:00", "2025-06-01 10:00:00"),
        ("2025-06-01T23:05:00.250-0500", "2025-06-01 23:05:00"),
        ("6/1/25 11:05 PM EST", "2025-06-01 23:05:00"),
        ("2025-06-01 23:05 GMT-5 (Colombia Standard Time)", "2025-06-01 23:05:00"),
        ("2025-06-01_23:05", "2025-06-01 23:05:00"),
        ("Jun 1, 2025 at 11:05 PM", "2025-06-01 23:05:00"),
        ("2025-06-01 23:05 o'clock", None),
        ("2025-06-01 EST", None),
        ("31-Jun-2025 10:00", None),
        ("29-Feb-2024", "2024-02-29 00:00:00"),
        ("1970-01-01 00:00", None),
        ("10:00", None),
        ("45809.5", None),
        ("", None),
    ],
)
def test_one_time(text: str, there: str | None) -> None:
    [time] = read_times(pd.Series([text])).values
    assert pd.isna(time) if there is None else str(time) == there


@given(st.datetimes(datetime(1990, 1, 1), datetime(2199, 12, 31)), st.sampled_from(FORMS))
@settings(max_examples=60, deadline=None)
def test_any_time_in_any_form(time: datetime, form: str) -> None:
    form = form.replace("%y", "%Y")
    day_first = True if form.startswith("%d/") else None if form[1] in "Yd" else False
    [there] = read_times(pd.Series([time.strftime(form)]), day_first).values
    precise = "%S" in form
    assert there == time.replace(microsecond=0, second=time.second if precise else 0)
