"""Signs that a logger's file holds more than one record, or a unit that changes in it."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import numpy as np
import pandas as pd

from lumbercalc.book.logger.columns import Columns
from lumbercalc.book.logger.marks import (
    DEGREE,
    HUMIDITY_WORDS,
    OTHER_WORDS,
    READING,
    TEMPERATURE_WORDS,
)
from lumbercalc.book.logger.month_names import WEEKDAY
from lumbercalc.book.logger.zones import ZONE
from lumbercalc.faults import FileFault
from lumbercalc.sheet.vocabulary import FORECAST_TEMP_LIMITS

OTHER_READING_F = 2.0
"""Readings of one time that differ by more are of two times or two loggers (common practice, no
source)."""
OTHER_READING_RH = 5.0
"""The same in % RH (common practice, no source)."""
MOST_OTHER = 0.05
"""Share of rows whose time was there before with another reading; the hour that comes twice when
summer time ends is less."""
JUMP_F = 27.0
"""15 deg C: air seldom changes by more from one reading to the next (common practice, no
source)."""
JUMP_HOURS = 3
"""Between readings farther apart it may."""
MOST_DEVICES = 20
"""Different texts in a column that tells loggers apart; notes and readings have more."""
LEAST_SHARE = 0.05
"""Share of the rows that a text must have to be taken for a logger's name."""
DEVICE_WORDS = re.compile(
    r"device|sensor|logger|probe|channel|station|location|serial|room|place|site"
    r"|(?<![a-z])(?:name|id|source|mac|node|zone)(?![a-z])",
    re.IGNORECASE,
)
UNIT_CELL = re.compile(rf"(?:{DEGREE})?\s?[FC]", re.IGNORECASE)
OF_TIME = re.compile(rf"{ZONE}|(?i:{WEEKDAY.pattern})")
"""What belongs to a time, and stands in a column of its own."""
DEVICE = re.compile(r"\d{1,20}|(?!\s*[-+]?\d+[.,]\d+\s*$).*[^\W\d].*", re.DOTALL)
"""A name or a whole number, as loggers are told apart by."""


def refuse_other_readings(path: Path, readings: pd.DataFrame) -> None:
    """Refuse a log in which many times come again with other readings.

    Parameters
    ----------
    path : Path
        For messages.
    readings : DataFrame
        time, temp_f, rh_pct of the rows that can be used, by their rows in the file.

    Raises
    ------
    FileFault
        Naming one of them: the hour may stand where it is not read, or two loggers are in one file.
    """
    again = readings["time"].duplicated()
    if not again.any():
        return
    first = readings.groupby("time")[["temp_f", "rh_pct"]].transform("first")
    apart = (readings[["temp_f", "rh_pct"]] - first).abs()
    other = again & ((apart["temp_f"] > OTHER_READING_F) | (apart["rh_pct"] > OTHER_READING_RH))
    if other.mean() <= MOST_OTHER:
        return
    row = int(readings.index[other][0])
    here, there = readings.loc[row], first.loc[row]
    raise FileFault(
        f"{path}: {int(other.sum())} of {len(readings)} rows have a time that was there before, "
        f"with another reading, such as row {row}: {here['time']:%Y-%m-%d %H:%M} with "
        f"{here['temp_f']:.1f} deg F and {here['rh_pct']:.1f} % RH, before with "
        f"{there['temp_f']:.1f} and {there['rh_pct']:.1f}; if the time of day is in a column of "
        "its own, name that column Time and write 14:30 or the hour; if two loggers are in one "
        "file, make a file of each"
    )


def headers_again(path: Path, columns: Columns, rows: dict[int, list[str]]) -> list[int]:
    """Find the header among the rows that are no readings.

    Parameters
    ----------
    path : Path
        For messages.
    columns : Columns
        As they were found.
    rows : dict
        Rows of the file without a time: number to cells.

    Returns
    -------
    list of int
        Numbers of the rows in which the same columns begin anew.

    Raises
    ------
    FileFault
        When other columns begin: the readings below would be read from the wrong ones.
    """
    read = (columns.time, columns.temperature, columns.humidity)
    both = (TEMPERATURE_WORDS, HUMIDITY_WORDS)
    again = []
    for number, row in rows.items():
        cells = [" ".join(text.split()) for text in row]
        there = {place: cells[place] if place < len(cells) else "" for place in read}
        if all(
            columns.header.names[place].casefold().startswith(text.casefold() or "?")
            for place, text in there.items()
        ):
            again.append(number)
        elif len(cells) > 1 and all(any(map(words.search, cells)) for words in both):
            raise FileFault(
                f"{path}: row {number} begins a second table with other columns "
                f"({', '.join(filter(None, cells))[:80]}); make a file of each table"
            )
    return again


def several_loggers(path: Path, columns: Columns, rows: list[list[str]]) -> list[str]:
    """Look for a column that tells several loggers apart.

    Parameters
    ----------
    path : Path
        For messages.
    columns : Columns
        As they were found.
    rows : list of list of str
        The readings.

    Returns
    -------
    list of str
        Remarks on columns of a few texts that come again and again.

    Raises
    ------
    FileFault
        When the header of such a column says that it names devices or places.
    """
    remarks = []
    for place in columns.others:
        name = columns.header.names[place]
        if TEMPERATURE_WORDS.search(name) or HUMIDITY_WORDS.search(name):
            continue
        texts = Counter(row[place].strip() for row in rows if place < len(row))
        texts.pop("", None)
        common = [text for text, n in texts.items() if n >= LEAST_SHARE * len(rows)]
        if not (1 < len(texts) <= MOST_DEVICES and len(common) > 1):
            continue
        if not all(map(DEVICE.fullmatch, texts)) or all(map(OF_TIME.fullmatch, texts)):
            continue
        label = columns.header.label(place)
        if all(map(UNIT_CELL.fullmatch, texts)):
            raise FileFault(
                f"{path}: column {label} names both deg F and deg C; make a file of each"
            )
        said = bool(DEVICE_WORDS.search(name)) and not OTHER_WORDS.search(name)
        if not said and all(map(READING.fullmatch, texts)):
            continue
        held = ", ".join(repr(text[:20]) for text in common[:3])
        held += " ..." if len(common) > 3 else ""
        if said:
            raise FileFault(
                f"{path}: column {label} names several loggers or places ({held}); their readings "
                "would be averaged: make a file of the rows of each"
            )
        remarks.append(
            f"column {label} holds {held}: if these are several loggers, their readings are "
            "averaged; make a file of the rows of each"
        )
    return remarks


def implausible(air: pd.DataFrame) -> list[str]:
    """Tell of temperatures that may be in another unit than the one they were read in.

    Parameters
    ----------
    air : DataFrame
        temp_f by time, sorted.

    Returns
    -------
    list of str
        Remarks; nothing is changed.
    """
    remarks = []
    warm = float(air["temp_f"].quantile(0.99))
    most = FORECAST_TEMP_LIMITS.highest or 0
    if warm > most:
        remarks.append(
            f"the warmest readings are {warm:.0f} deg F, and air over {most:g} deg F is a kiln's: "
            "look at the unit and the columns"
        )
    times = pd.DatetimeIndex(air.index)
    near = np.diff(times.to_numpy()) <= np.timedelta64(JUMP_HOURS, "h")
    steps = np.abs(np.diff(air["temp_f"].to_numpy(np.float64)))
    jumps = np.flatnonzero(near & (steps > JUMP_F))
    if jumps.size:
        before, after = air["temp_f"].iloc[jumps[0]], air["temp_f"].iloc[jumps[0] + 1]
        count = "once" if jumps.size == 1 else f"{jumps.size:,} times"
        remarks.append(
            f"the temperature jumps by more than {JUMP_F:g} deg F (15 deg C) {count}, first at "
            f"{times[jumps[0] + 1]:%Y-%m-%d %H:%M} from {before:.1f} to {after:.1f} deg F: if the "
            "unit or the logger changes there, make a file of each part"
        )
    return remarks
