"""Read a data logger's CSV: times, temperatures and humidities, and what was wrong with them."""

from __future__ import annotations

import codecs
import csv
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
import pandas as pd

from lumbercalc.book.logger.columns import NO_READING, READING, Columns, find_columns, split
from lumbercalc.book.logger.times import gaps, read_times
from lumbercalc.faults import FileFault
from lumbercalc.sheet.vocabulary import RH_LIMITS, TEMP_LIMITS

Unit = Literal["F", "C"]

LARGEST_LOG = 50_000_000
"""Bytes; a reading a minute for a year takes about 20 million."""
MOST_BAD = 0.05
"""Share of rows that may be unreadable or impossible; above it the file is not what it seems."""
HOTTEST_C = 45.0
"""Air of a yard or a shop: a log that goes higher is taken as deg F where it names no unit."""
SHOWN = 3
"""Bad rows that are shown."""

FAHRENHEIT = re.compile(r"fahrenheit|℉|(?<![a-z])f(?![a-z])", re.IGNORECASE)
CELSIUS = re.compile(r"celsius|℃|(?<![a-z])c(?![a-z])", re.IGNORECASE)


@dataclass(frozen=True, eq=False)
class ClimateLog:
    """A logger's record of the air.

    Parameters
    ----------
    air : DataFrame
        temp_f [deg F] and rh_pct [% RH] by time: sorted, each time once.
    rows : int
        Rows after the header that are not blank.
    blank : int
        Rows without a temperature or a humidity.
    duplicates : int
        Rows of a time that was there before; the first is kept.
    bad : int
        Rows left out as unreadable or impossible.
    examples : list of str
        Some of them, with their rows in the file.
    columns : tuple of str
        Headers of time, temperature and humidity, "" where there are none.
    unit, order : str
        How temperatures and days were read, and why.
    """

    air: pd.DataFrame
    rows: int
    blank: int
    duplicates: int
    bad: int
    examples: list[str]
    columns: tuple[str, str, str]
    unit: str
    order: str

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
        """Where more than a day passes without a reading."""
        return gaps(pd.DatetimeIndex(self.air.index))


def read_log(
    path: Path,
    *,
    unit: Unit | None = None,
    day_first: bool | None = None,
    temperature: str = "",
    humidity: str = "",
) -> ClimateLog:
    """Read a data logger's CSV file.

    Parameters
    ----------
    path : Path
        The file: commas, semicolons or tabs; a header or none; decimal points or commas.
    unit : {"F", "C"}, optional
        Of the temperatures; else the header or the readings say it, or they are too high for deg C.
    day_first : bool, optional
        Order of dates such as 3/4/2025; else it is decided by what makes times go forward.
    temperature, humidity : str
        Headers of the columns, where there are several.

    Returns
    -------
    ClimateLog
        With every decision in words. Times are taken as the clock showed them: no time zones.

    Raises
    ------
    FileFault
        When the file is no such log, or more than `MOST_BAD` of its rows are bad.
    """
    try:
        rows = split(_text(path), path)
    except csv.Error as fault:
        raise FileFault(f"{path}: this is not a CSV file ({fault})") from None
    columns = find_columns(rows, path, temperature, humidity)
    texts = _texts(rows, columns)
    times = read_times(texts["time"], day_first)
    temp, rh = _numbers(texts["temp"]), _numbers(texts["rh"])
    scale, unit_words = _unit(path, unit, columns.headers[1], texts["temp"], temp)
    temp_f = temp if scale == "F" else temp * 1.8 + 32
    readings = pd.DataFrame({"time": times.values, "temp_f": temp_f, "rh_pct": rh})
    timed = times.values.notna()
    blank = timed & (_no_reading(texts["temp"]) | _no_reading(texts["rh"]))
    bad = _bad(readings, blank)
    shown = readings.index[bad][:SHOWN]
    examples = [_example(texts.loc[row], readings.loc[row], row) for row in shown]
    if bad.mean() > MOST_BAD:
        raise FileFault(
            f"{path}: {int(bad.sum())} of {len(texts)} rows cannot be used, more than "
            f"{MOST_BAD:.0%}; the first: {examples[0]}"
        )
    usable = readings[~bad & ~blank]
    if usable.empty:
        raise FileFault(f"{path}: no row has both a temperature and a humidity")
    once = usable.drop_duplicates("time").set_index("time").sort_index()
    return ClimateLog(
        air=once,
        rows=len(texts),
        blank=int(blank.sum()),
        duplicates=len(usable) - len(once),
        bad=int(bad.sum()),
        examples=examples,
        columns=columns.headers,
        unit=unit_words,
        order=times.order,
    )


def _text(path: Path) -> str:
    if not path.is_file():
        raise FileFault(f"{path}: there is no such file")
    if path.stat().st_size > LARGEST_LOG:
        raise FileFault(f"{path}: {path.stat().st_size} bytes; at most {LARGEST_LOG} are read")
    content = path.read_bytes()
    wide = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    try:
        text = content.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")  # an older logger's degree sign; the rest is ASCII
    if "\0" in text:
        raise FileFault(f"{path}: this is not a text file")
    return text


def _texts(rows: list[list[str]], columns: Columns) -> pd.DataFrame:
    """Give the texts of time, temperature and humidity by the row of the file."""

    def cell(row: list[str], place: int) -> str:
        return row[place].strip() if place < len(row) else ""

    body = [
        (number, row)
        for number, row in enumerate(rows[columns.first_row :], columns.first_row + 1)
        if any(text.strip() for text in row)
    ]
    times = [cell(row, columns.time) for _, row in body]
    if columns.clock is not None:
        clocks = [cell(row, columns.clock) for _, row in body]
        times = [f"{day} {clock}" for day, clock in zip(times, clocks, strict=True)]
    return pd.DataFrame(
        {
            "time": times,
            "temp": [cell(row, columns.temperature) for _, row in body],
            "rh": [cell(row, columns.humidity) for _, row in body],
        },
        index=pd.Index([number for number, _ in body]),
        dtype=object,
    )


def _no_reading(texts: pd.Series[str]) -> pd.Series[bool]:
    return texts.str.casefold().isin(NO_READING)


def _numbers(texts: pd.Series[str]) -> pd.Series[float]:
    """Read numbers with a decimal point or comma; NaN where there is none."""
    number = texts.str.extract(f"^(?:{READING.pattern})$", flags=re.ASCII)[0]
    return pd.to_numeric(number.str.replace(",", "."), errors="coerce")


def _unit(
    path: Path, asked: Unit | None, header: str, texts: pd.Series[str], values: pd.Series[float]
) -> tuple[Unit, str]:
    """Decide the unit of the temperatures, and say why.

    Raises
    ------
    FileFault
        When nothing tells it: a frosty day in deg F reads like a warm one in deg C.
    """
    for said, where in ((header, "the header says"), (texts.iloc[0], "the readings say")):
        fahrenheit, celsius = FAHRENHEIT.search(said), CELSIUS.search(said)
        if bool(fahrenheit) != bool(celsius):
            unit: Unit = "F" if fahrenheit else "C"
            if asked in (None, unit):
                return unit, f"deg {unit}, as {where}"
            return asked, f"deg {asked}, as asked, although {where} deg {unit}: look at the means"
    if asked is not None:
        return asked, f"deg {asked}, as asked"
    hottest = float(values.quantile(0.99))
    if hottest > HOTTEST_C:
        return "F", f"deg F, as the warmest readings are above {HOTTEST_C:g}"
    raise FileFault(
        f"{path}: the temperatures name no unit, and {values.min():g} to {values.max():g} can be "
        "deg F or deg C; say which with --unit F or --unit C"
    )


def _bad(readings: pd.DataFrame, blank: pd.Series[bool]) -> pd.Series[bool]:
    """Mark rows without a time that can be read, and those with a reading that cannot be."""
    temp = TEMP_LIMITS.inside(readings["temp_f"].to_numpy(np.float64))  # NaN is not inside
    rh = RH_LIMITS.inside(readings["rh_pct"].to_numpy(np.float64))
    inside = pd.Series(temp & rh, index=readings.index)
    return readings["time"].isna() | ~(inside | blank)


def _example(texts: pd.Series[str], reading: pd.Series[float], row: int) -> str:
    """Say what is wrong with a row: its text and what it must be."""
    if pd.isna(reading["time"]):
        return f"row {row}: {texts['time'][:40]!r} is not a time (without a time zone)"
    if not RH_LIMITS.inside(reading["rh_pct"]):
        return f"row {row}: humidity {texts['rh'][:40]!r} must be {RH_LIMITS.words()}"
    return f"row {row}: temperature {texts['temp'][:40]!r} must be {TEMP_LIMITS.words()}"
