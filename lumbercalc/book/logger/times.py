"""The times of a data logger: ISO, month/day, day/month, day.month.year, months by name."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
import pandas as pd

from lumbercalc.book.logger.month_names import MONTH, in_numbers
from lumbercalc.book.logger.zones import ZONE, zone_words

DAY = re.compile(
    r"(?:(?P<year>\d{4})[-/.](?P<m>\d{1,2})[-/.](?P<d>\d{1,2})"
    r"|(?P<first>\d{1,2})(?P<mark>[-/.])(?P<second>\d{1,2})(?P=mark)(?P<late_year>\d{4}|\d\d))",
    re.ASCII,
)
"""A day: the year first, or last."""
CLOCK = re.compile(
    r"(?P<hour>\d{1,2})[:.](?P<minute>\d\d)(?:[:.](?P<s>\d\d)(?:[.,]\d+)?)?"
    r"(?:\s*(?P<half>[AaPp])\.?[Mm]\.?)?"
    rf"(?:\s*(?P<zone>{ZONE})(?:\s?[(\[][^()\[\]]{{1,40}}[)\]])?)?",
    re.ASCII,
)
"""A time of day, with colons or points; fractions of a second are dropped. The zone behind it may
have its long name in brackets."""
TIME = re.compile(
    rf"\s*{DAY.pattern}(?:(?:\s*[T_]|,?\s+(?:(?:at|-)\s+)?){CLOCK.pattern})?\s*", re.ASCII
)
"""A day in numbers, mostly with a time of day."""

EARLIEST, LATEST = 1990, 2199
"""Years that a logger writes; one whose battery died writes an earlier one."""
MONTH_DAY, DAY_MONTH, YEAR_MONTH = "month/day", "day/month", "year-month-day"
"""What the numbers of a day are, in their order."""
ENDINGS = {21: "st", 31: "st", 22: "nd", 23: "rd"}
"""Of ordinals from 13 to 31; all others end in th."""


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


def match_time(text: str) -> re.Match[str] | None:
    """Tell whether a cell is a time.

    Parameters
    ----------
    text : str
        The cell.

    Returns
    -------
    re.Match or None
        Of `TIME`, of the text with its month in numbers; None where it is no time.

    Examples
    --------
    >>> match_time("Jan 12, 2026 2:05 PM EST")["zone"], match_time("12-Jan-2026")["hour"]
    ('EST', None)
    """
    return TIME.fullmatch(in_numbers(text))


def read_times(texts: pd.Series[str], day_first: bool | None = None, header: str = "") -> Times:
    """Read a column of times, and decide which of two numbers is the day.

    A month by its name decides it, and a date with points is day.month.year. Otherwise that order
    is taken in which more of the texts are dates at all, then the one in which fewer times step
    against the rest, then the one with fewer steps longer than a day; where nothing decides,
    month/day. Where all three numbers have two digits, the first may be the year: it is where the
    log is of fewer days so. A time zone changes no time: the clock is taken as written.

    Parameters
    ----------
    texts : Series of str
        As they stand in the file.
    day_first : bool, optional
        The order, where the person knows it.
    header : str
        What stands over the times; it may name their zone.

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
    parts = texts.map(in_numbers).str.extract(f"^(?:{TIME.pattern})$", flags=re.ASCII)
    named = any(map(MONTH.search, texts[parts["year"].notna()]))
    times = _in_order(parts, day_first, named=named)
    return Times(times.values, times.order + zone_words(parts["zone"].dropna().unique(), header))


def _in_order(parts: pd.DataFrame, day_first: bool | None, *, named: bool) -> Times:
    undecided = parts["first"].notna() & (parts["mark"] != ".")
    if day_first is not None and parts["first"].notna().any():
        words = "day before month" if day_first else "month before day"
        order = DAY_MONTH if day_first else MONTH_DAY
        return Times(_assemble(parts, order, points_too=True), f"{words}, as asked")
    if not undecided.any():
        points = parts["first"].notna().any()
        values = _assemble(parts, DAY_MONTH, points_too=False)
        order = "months by name" if named else "day.month.year" if points else "year-month-day"
        return Times(values, order)
    readings = {each: _assemble(parts, each, points_too=False) for each in (MONTH_DAY, DAY_MONTH)}
    chosen, why = _decide(readings, parts[undecided])
    short = parts.loc[undecided, "late_year"].str.len() == 2
    if short.all() and (parts.loc[undecided, "first"].str.len() == 2).all():
        years = _assemble(parts, YEAR_MONTH, points_too=False)
        if (better := _years_first(years, readings[chosen])) is not None:
            return Times(years, f"{YEAR_MONTH}: {better}")
    return Times(readings[chosen], f"{chosen}: {why}")


def _decide(readings: dict[str, pd.Series[pd.Timestamp]], parts: pd.DataFrame) -> tuple[str, str]:
    """Choose between month first and day first, and say why."""
    unread = {order: int(values.isna().sum()) for order, values in readings.items()}
    if unread[DAY_MONTH] != unread[MONTH_DAY]:
        chosen = min(unread, key=unread.__getitem__)
        numbers = pd.to_numeric(parts["first" if chosen == DAY_MONTH else "second"])
        above = numbers[numbers.between(13, 31)]
        if above.empty:
            return chosen, "more of the rows are dates so"
        return chosen, f"there is no {_ordinal(int(above.iloc[0]))} month"
    steps = {order: _against(values) for order, values in readings.items()}
    if steps[DAY_MONTH] != steps[MONTH_DAY]:
        return min(steps, key=steps.__getitem__), "so the times go forward without leaps"
    return MONTH_DAY, "either is possible, taken as usual in the US"


def _years_first(years: pd.Series[pd.Timestamp], other: pd.Series[pd.Timestamp]) -> str | None:
    """Say why dates are read with the year first, or None where they are not."""
    unread = int(years.isna().sum()), int(other.isna().sum())
    if unread[0] < unread[1]:
        return "more of the rows are dates so"
    days = (years.max() - years.min()).days, (other.max() - other.min()).days
    if unread[0] == unread[1] < len(years) and days[0] < days[1]:
        return f"so the log is of {days[0]:,} days, and not of {days[1]:,}"
    return None


def _against(values: pd.Series[pd.Timestamp]) -> tuple[int, int]:
    """Count steps against the main direction of a column of times, and steps beyond a day."""
    steps = values.dropna().diff().dropna()
    back, forth = (steps < pd.Timedelta(0)).sum(), (steps > pd.Timedelta(0)).sum()
    return min(int(back), int(forth)), int((steps.abs() > pd.Timedelta(days=1)).sum())


def _ordinal(number: int) -> str:
    return f"{number}{ENDINGS.get(number, 'th')}"


def _assemble(parts: pd.DataFrame, order: str, *, points_too: bool) -> pd.Series[pd.Timestamp]:
    """Make times of the parts; a date with points is day first unless the order was asked for."""
    number = {
        name: pd.to_numeric(parts[name], errors="coerce")
        for name in ("year", "m", "d", "first", "second", "late_year", "hour", "minute", "s")
    }
    points = (parts["mark"] == ".").to_numpy(bool) & (not points_too)
    days_first = points | (order == DAY_MONTH)
    years_first = ~points & (order == YEAR_MONTH)
    late = number["late_year"].where(~years_first, number["first"])
    late = late.where(late > 99, late + 2000)
    month = number["second"].where(days_first | years_first, number["first"])
    day = number["first"].where(days_first, number["second"])
    day = day.where(~years_first, number["late_year"])
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
