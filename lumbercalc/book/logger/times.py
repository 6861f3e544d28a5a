"""The times of a data logger: ISO, month/day, day/month, day.month.year; with or without AM."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
import pandas as pd

DAY = re.compile(
    r"(?:(?P<year>\d{4})[-/.](?P<m>\d{1,2})[-/.](?P<d>\d{1,2})"
    r"|(?P<first>\d{1,2})(?P<mark>[-/.])(?P<second>\d{1,2})(?P=mark)(?P<late_year>\d{4}|\d\d))",
    re.ASCII,
)
"""A day: the year first, or last."""
CLOCK = re.compile(
    r"(?P<hour>\d{1,2}):(?P<minute>\d\d)(?::(?P<s>\d\d)(?:[.,]\d+)?)?(?:\s*(?P<half>[AaPp])\.?[Mm]\.?)?",
    re.ASCII,
)
"""A time of day; fractions of a second are dropped."""
TIME = re.compile(rf"\s*{DAY.pattern}(?:(?:\s*T|,?\s+){CLOCK.pattern})?\s*", re.ASCII)
"""A day, mostly with a time of day; a time zone is none of it."""

EARLIEST, LATEST = 1990, 2199
"""Years that a logger writes; one whose battery died writes an earlier one."""
DAY_SECONDS = 86_400
ENDINGS = {21: "st", 31: "st", 22: "nd", 23: "rd"}
"""Of the ordinals from 13th to 31st."""


@dataclass(frozen=True, eq=False)
class Times:
    """A column of times.

    Parameters
    ----------
    values : Series of datetime64
        NaT where the text is no time.
    order : str
        How a day was read, and why: for the person to check.
    """

    values: pd.Series[pd.Timestamp]
    order: str


def read_times(texts: pd.Series[str], day_first: bool | None = None) -> Times:
    """Read a column of times, and decide which of two numbers is the day.

    A date with points is day.month.year. Otherwise that order is taken in which more of the texts
    are dates at all, then the one in which fewer times step against the rest, then the one with
    fewer steps longer than a day; where nothing decides, month/day.

    Parameters
    ----------
    texts : Series of str
        As they stand in the file.
    day_first : bool, optional
        The order, where the person knows it.

    Returns
    -------
    Times
        Of the same index.

    Examples
    --------
    >>> times = read_times(pd.Series(["11/30/2025 11:30 PM", "12/01/2025 12:30 AM"]))
    >>> times.values.dt.strftime("%Y-%m-%d %H:%M").tolist(), times.order
    (['2025-11-30 23:30', '2025-12-01 00:30'], 'month/day: there is no 30th month')
    """
    parts = texts.str.extract(f"^(?:{TIME.pattern})$", flags=re.ASCII)
    undecided = parts["first"].notna() & (parts["mark"] != ".")
    if day_first is not None and parts["first"].notna().any():
        words = "day before month" if day_first else "month before day"
        return Times(_assemble(parts, day_first, points_too=True), f"{words}, as asked")
    if not undecided.any():
        points = parts["first"].notna().any()
        values = _assemble(parts, True, points_too=False)
        return Times(values, "day.month.year" if points else "year-month-day")
    readings = {first: _assemble(parts, first, points_too=False) for first in (False, True)}
    chosen, why = _decide(readings, parts[undecided])
    words = "day/month" if chosen else "month/day"
    return Times(readings[chosen], f"{words}: {why}")


def _decide(readings: dict[bool, pd.Series[pd.Timestamp]], parts: pd.DataFrame) -> tuple[bool, str]:
    """Choose between month first (False) and day first (True), and say why."""
    unread = {first: int(values.isna().sum()) for first, values in readings.items()}
    if unread[True] != unread[False]:
        chosen = unread[True] < unread[False]
        numbers = pd.to_numeric(parts["first" if chosen else "second"])
        above = numbers[numbers.between(13, 31)]
        if above.empty:
            return chosen, "more of the rows are dates so"
        return chosen, f"there is no {_ordinal(int(above.iloc[0]))} month"
    steps = {first: _against(values) for first, values in readings.items()}
    if steps[True] != steps[False]:
        return steps[True] < steps[False], "so the times go forward without leaps"
    return False, "either is possible, taken as usual in the US"


def _against(values: pd.Series[pd.Timestamp]) -> tuple[int, int]:
    """Count steps against the main direction of a column of times, and steps beyond a day."""
    steps = values.dropna().diff().dropna().dt.total_seconds()
    return min(int((steps < 0).sum()), int((steps > 0).sum())), int(
        (steps.abs() > DAY_SECONDS).sum()
    )


def _ordinal(number: int) -> str:
    return f"{number}{ENDINGS.get(number, 'th')}"


def _assemble(parts: pd.DataFrame, day_first: bool, *, points_too: bool) -> pd.Series[pd.Timestamp]:
    """Make times of the parts; a date with points is day first unless the order was asked for."""
    number = {
        name: pd.to_numeric(parts[name], errors="coerce")
        for name in ("year", "m", "d", "first", "second", "late_year", "hour", "minute", "s")
    }
    days_first = np.full(len(parts), day_first)
    if not points_too:
        days_first |= (parts["mark"] == ".").to_numpy(bool)
    late = number["late_year"].where(number["late_year"] > 99, number["late_year"] + 2000)
    month = number["second"].where(days_first, number["first"])
    day = number["first"].where(days_first, number["second"])
    hour = number["hour"].fillna(0)
    half = parts["half"].str.lower()
    impossible = half.notna() & ~hour.between(1, 12)
    hour = hour.where(half.isna(), hour % 12 + 12 * (half == "p"))
    frame = pd.DataFrame(
        {
            "year": number["year"].fillna(late),
            "month": number["m"].fillna(month),
            "day": number["d"].fillna(day),
            "hour": hour,
            "minute": number["minute"].fillna(0),
            "second": number["s"].fillna(0),
        }
    )
    outside = ~frame["year"].between(EARLIEST, LATEST)
    # pandas lets 24:00 and minute 60 run over into the next day or hour
    outside |= (frame["hour"] > 23) | (frame["minute"] > 59) | (frame["second"] > 59)
    frame[outside | impossible] = np.nan
    return pd.to_datetime(frame, errors="coerce")


def gaps(times: pd.DatetimeIndex) -> list[tuple[pd.Timestamp, pd.Timestamp]]:
    """Find where more than a day passes without a reading.

    Parameters
    ----------
    times : DatetimeIndex
        Sorted.

    Returns
    -------
    list of (Timestamp, Timestamp)
        The last reading before each gap and the first after it.

    Examples
    --------
    >>> hours = pd.DatetimeIndex(["2025-01-01 00:00", "2025-01-02 00:00", "2025-01-04 00:00"])
    >>> [(str(a.date()), str(b.date())) for a, b in gaps(hours)]
    [('2025-01-02', '2025-01-04')]
    """
    after = np.flatnonzero(np.diff(times.to_numpy()) > np.timedelta64(timedelta(days=1)))
    return [(times[place], times[place + 1]) for place in after.tolist()]
