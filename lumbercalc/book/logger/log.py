"""Read a data logger's CSV: times, temperatures and humidities, and what was wrong with them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd

from lumbercalc.book.logger.columns import Asked, Columns, find_columns
from lumbercalc.book.logger.lines import read_rows
from lumbercalc.book.logger.marks import NO_READING, Unit
from lumbercalc.book.logger.mixed import (
    headers_again,
    implausible,
    refuse_other_readings,
    several_loggers,
)
from lumbercalc.book.logger.times import read_times
from lumbercalc.book.logger.units import CELSIUS_LIMITS, read_numbers, read_temperatures
from lumbercalc.faults import FileFault
from lumbercalc.sheet.vocabulary import RH_LIMITS, TEMP_LIMITS

MOST_BAD = 0.05
"""Share of rows that may be unreadable or impossible; above it the file is not what it seems."""
FOG_RH = 105.0
"""Sensors show a little over 100 % RH in fog and dew; up to here that is taken as 100 (common
practice, no source)."""
SHOWN = 3
"""Bad rows that are shown."""


@dataclass(frozen=True, eq=False)
class ClimateLog:
    """A logger's record of the air.

    Parameters
    ----------
    path : Path
        The file.
    air : DataFrame
        temp_f [deg F] and rh_pct [% RH] by time: sorted, each time once.
    rows : int
        Rows after the header that are not blank, and not the header again.
    blank : int
        Rows without a temperature or a humidity.
    duplicates : int
        Rows of a time that was there before; the first is kept.
    fog : int
        Rows with a humidity over 100 %, up to `FOG_RH`: taken as 100.
    bad : int
        Rows left out as unreadable or impossible.
    examples : list of str
        Some of them, with their rows in the file.
    columns : tuple of str
        Headers of time, temperature and humidity; "column 2" and the like where there are none.
    unit, order : str
        How temperatures and days were read, and why.
    remarks : list of str
        What may be wrong and cannot be known.
    """

    path: Path
    air: pd.DataFrame
    rows: int
    blank: int
    duplicates: int
    fog: int
    bad: int
    examples: list[str]
    columns: tuple[str, str, str]
    unit: str
    order: str
    remarks: list[str]

    @property
    def first(self) -> pd.Timestamp:
        """Time of the first reading."""
        return pd.Timestamp(self.air.index[0])

    @property
    def last(self) -> pd.Timestamp:
        """Time of the last reading."""
        return pd.Timestamp(self.air.index[-1])

    @property
    def gaps(self) -> list[tuple[pd.Timestamp, pd.Timestamp]]:
        """The last reading before each gap of more than a day, and the first after it."""
        times = self.air.index
        far = np.diff(times) > np.timedelta64(1, "D")
        return list(zip(times[:-1][far], times[1:][far], strict=True))


def read_log(
    path: Path,
    *,
    unit: Unit | None = None,
    day_first: bool | None = None,
    time: str = "",
    temperature: str = "",
    humidity: str = "",
) -> ClimateLog:
    """Read a data logger's CSV file.

    Parameters
    ----------
    path : Path
        The file: commas, semicolons or tabs; a header or none; decimal points or commas.
    unit : {"F", "C"}, optional
        Of the temperatures; else the readings or the header say it, or they are too high for deg C.
    day_first : bool, optional
        Order of dates such as 3/4/2025; else it is decided by what makes times go forward.
    time, temperature, humidity : str
        Headers of the columns, or their numbers from 1 on, where there are several.

    Returns
    -------
    ClimateLog
        With every decision in words. Times are taken as the clock showed them, in whatever zone.

    Raises
    ------
    FileFault
        When the file is no such log, or more than `MOST_BAD` of its rows are bad.
    """
    rows = read_rows(path)
    columns = find_columns(rows, path, Asked(time, temperature, humidity))
    texts = _texts(rows, columns)
    times = read_times(texts["time"], day_first, columns.time_header)
    timed = times.values.notna()
    untimed = {int(row): rows[int(row) - 1] for row in texts.index[~timed]}
    again = headers_again(path, columns, untimed)
    texts, values, timed = texts.drop(again), times.values.drop(again), timed.drop(again)
    header = columns.header.names[columns.temperature]
    temperatures = read_temperatures(path, unit, header, texts["temp"])
    rh, _ = read_numbers(texts["rh"])
    fog = (rh > 100) & (rh <= FOG_RH)
    readings = pd.DataFrame(
        {"time": values, "temp_f": temperatures.temp_f, "rh_pct": rh.where(~fog, 100.0)}
    )
    wide = _too_wide(rows, columns, texts.index) & timed
    blank = timed & ~wide & (_no_reading(texts["temp"]) | _no_reading(texts["rh"]))
    bad = wide | _bad(readings, blank)
    examples = [
        _wide_words(rows[int(row) - 1], int(row), columns)
        if wide.loc[row]
        else _example(
            int(row), texts.loc[row], readings.loc[row], celsius=temperatures.celsius.loc[row]
        )
        for row in readings.index[bad][:SHOWN]
    ]
    if bad.mean() > MOST_BAD:
        raise FileFault(
            f"{path}: {int(bad.sum())} of {len(texts)} rows cannot be used, more than "
            f"{MOST_BAD:.0%}; the first: {examples[0]}"
        )
    usable = readings[~bad & ~blank]
    if usable.empty:
        raise FileFault(f"{path}: no row has both a temperature and a humidity")
    remarks = several_loggers(path, columns, [rows[int(row) - 1] for row in usable.index])
    refuse_other_readings(path, usable)
    once = usable.drop_duplicates("time").set_index("time").sort_index()
    return ClimateLog(
        path=path,
        air=once,
        rows=len(texts),
        blank=int(blank.sum()),
        duplicates=len(usable) - len(once),
        fog=int(fog[usable.index].sum()),
        bad=int(bad.sum()),
        examples=examples,
        columns=columns.labels,
        unit=temperatures.words,
        order=times.order,
        remarks=_header_words(columns, again) + remarks + implausible(once),
    )


def _header_words(columns: Columns, again: list[int]) -> list[str]:
    """Tell of a header that stands again, and of one that is wider than all readings."""
    remarks = []
    if again:
        numbers = ", ".join(map(str, again[:SHOWN])) + (", ..." if len(again) > SHOWN else "")
        remarks.append(
            f"the header stands again in row{'s' if len(again) > 1 else ''} {numbers}: what is "
            "below is taken as of the same logger"
        )
    if columns.width > len(columns.header.names):
        remarks.append(
            f"the header has {columns.width} columns and the readings {len(columns.header.names)}: "
            "if a comma stands inside a name, those behind it are moved; look at the columns"
        )
    return remarks


def _texts(rows: list[list[str]], columns: Columns) -> pd.DataFrame:
    """Give the texts of time, temperature and humidity by the row of the file."""

    def cell(row: list[str], place: int) -> str:
        return row[place].strip() if place < len(row) else ""

    first = columns.header.first_row
    body = [
        (number, row)
        for number, row in enumerate(rows[first:], first + 1)
        if any(text.strip() for text in row)
    ]
    times = [cell(row, columns.time) for _, row in body]
    if columns.clock is not None:
        clocks = [cell(row, columns.clock) for _, row in body]
        whole = [f"{clock}:00" if clock.isdigit() else clock for clock in clocks]
        times = [f"{day} {clock}" for day, clock in zip(times, whole, strict=True)]
    if columns.half is not None:
        halves = [cell(row, columns.half) for _, row in body]
        times = [f"{clock} {half}" for clock, half in zip(times, halves, strict=True)]
    return pd.DataFrame(
        {
            "time": times,
            "temp": [cell(row, columns.temperature) for _, row in body],
            "rh": [cell(row, columns.humidity) for _, row in body],
        },
        index=pd.Index([number for number, _ in body]),
        dtype=object,
    )


def _too_wide(rows: list[list[str]], columns: Columns, index: pd.Index[int]) -> pd.Series[bool]:
    """Mark rows with more than blank cells beyond the header: all in them may be moved."""
    width = columns.width
    wide = [any(map(str.strip, rows[row - 1][width:])) for row in index.tolist()]
    return pd.Series(wide, index=index, dtype=bool)


def _wide_words(row: list[str], number: int, columns: Columns) -> str:
    return (
        f"row {number} has {len(row)} cells and the header {columns.width}: a comma inside a "
        "number or a text moves what is behind it; write decimal points, or semicolons between the "
        "cells, and a header over every column"
    )


def _no_reading(texts: pd.Series[str]) -> pd.Series[bool]:
    return texts.str.casefold().isin(NO_READING)


def _bad(readings: pd.DataFrame, blank: pd.Series[bool]) -> pd.Series[bool]:
    """Mark rows without a time that can be read, and those with a reading that cannot be."""
    temp = TEMP_LIMITS.inside(readings["temp_f"].to_numpy(np.float64))  # NaN is not inside
    rh = RH_LIMITS.inside(readings["rh_pct"].to_numpy(np.float64))
    inside = pd.Series(temp & rh, index=readings.index)
    return readings["time"].isna() | ~(inside | blank)


def _example(row: int, texts: pd.Series[str], reading: pd.Series[float], *, celsius: bool) -> str:
    """Say what is wrong with a row: its text and what it must be."""
    if pd.isna(reading["time"]):
        return f"row {row}: {texts['time'][:40]!r} is not a time"
    if not RH_LIMITS.inside(reading["rh_pct"]):
        return f"row {row}: humidity {texts['rh'][:40]!r} must be {RH_LIMITS.words()}"
    limits = CELSIUS_LIMITS if celsius else TEMP_LIMITS
    return f"row {row}: temperature {texts['temp'][:40]!r} must be {limits.words()}"
