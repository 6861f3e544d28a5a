"""Find the columns of a data logger's file: those of the times here, then those of the air."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

from lumbercalc.book.logger.air_columns import find_air
from lumbercalc.book.logger.header import HEADER_LINES, Header, filled, find_header
from lumbercalc.book.logger.layout import Layout
from lumbercalc.book.logger.lines import LOOKED_AT, is_reading, time_place
from lumbercalc.book.logger.times import CLOCK, match_time
from lumbercalc.book.logger.zones import in_universal_time
from lumbercalc.faults import FileFault

CLOCK_WORDS = re.compile(r"time|hour|clock|(?<![a-z])hr(?![a-z])", re.IGNORECASE)
"""In the header of a time of day that is written as 14 or 14.30, which may be a temperature too."""
HALF = re.compile(r"\s*[AaPp]\.?[Mm]\.?\s*", re.ASCII)
"""AM or PM, in a column of its own."""
LEAST_TIMES = 0.9
"""Share of the rows looked at that have a time in a column of times, at least."""


@dataclass(frozen=True)
class Asked:
    """Columns that the person names: by header, or by number from 1 on; "" where not.

    Parameters
    ----------
    time, temperature, humidity : str
        As typed.
    """

    time: str
    temperature: str
    humidity: str


@dataclass(frozen=True)
class Columns:
    """Where things stand in the file.

    Parameters
    ----------
    header : Header
        What stands over the columns, and where the readings begin.
    time, temperature, humidity : int
        Places of the columns.
    clock, half : int or None
        Places of the time of day and of AM or PM, where they stand in columns of their own.
    """

    header: Header
    time: int
    temperature: int
    humidity: int
    clock: int | None
    half: int | None

    @property
    def labels(self) -> tuple[str, str, str]:
        """Headers of time, temperature and humidity; "column 2" and the like where none is."""
        places = (self.time, self.temperature, self.humidity)
        time, temp, rh = (self.header.names[n] or f"column {n + 1}" for n in places)
        return time, temp, rh

    @property
    def time_header(self) -> str:
        """What stands over the day and the time of day."""
        places = (self.time,) if self.clock is None else (self.time, self.clock)
        return " ".join(self.header.names[n] for n in places)

    @property
    def width(self) -> int:
        """Columns up to the last of the header; without one, of the readings."""
        return self.header.width or len(self.header.names)

    @property
    def others(self) -> list[int]:
        """Places of the columns that are not read."""
        read = (self.time, self.temperature, self.humidity, self.clock, self.half)
        return [n for n in range(len(self.header.names)) if n not in read]


def find_columns(rows: list[list[str]], path: Path, asked: Asked) -> Columns:
    """Find the columns by the words of the header, its units, and what the cells hold.

    Parameters
    ----------
    rows : list of list of str
        From `read_rows`.
    path : Path
        For messages.
    asked : Asked
        Columns that the person names.

    Returns
    -------
    Columns
        Of the air's own temperature and humidity.

    Raises
    ------
    FileFault
        When a column is missing or more than one may be meant.
    """
    looked_at = rows[:LOOKED_AT]
    [(time, _)] = Counter(time_place(row) for row in looked_at if is_reading(row)).most_common(1)
    body = [n for n, row in enumerate(looked_at) if is_reading(row) and time_place(row) == time]
    above = [n for n, row in enumerate(looked_at[: body[0]], 1) if is_reading(row)]
    if len(above) > HEADER_LINES:  # a line or two of when the log began may look like readings
        raise FileFault(
            f"{path}: rows {above[0]} to {above[-1]} have the time in another column than those "
            "below; make a file of each part"
        )
    [(width, _)] = Counter(filled(looked_at[n]) for n in body).most_common(1)
    most = max(len(looked_at[n]) for n in body)
    found = find_header(looked_at, body[0], width)
    header = replace(found, names=found.names + [""] * (most - width))
    sample = [looked_at[n] + [""] * (most - len(looked_at[n])) for n in body]
    layout = Layout(path, header, sample)
    time = _time(layout, asked.time)
    clock, half = _clock(layout, time)
    free = [n for n in range(most) if n not in (time, clock, half)]
    temp, rh = find_air(layout, free, asked.temperature, asked.humidity)
    return Columns(header, time, temp, rh, clock, half)


def _time(layout: Layout, asked: str) -> int:
    """Find the column of times; of two, one of UTC is not the place's."""
    least = LEAST_TIMES * len(layout.sample)
    names = layout.header.names
    found = [n for n in range(len(names)) if sum(map(bool, layout.cells(n, match_time))) >= least]
    found = found or [time_place(layout.sample[0])]
    if asked:
        return layout.asked(found, "time", asked)
    local = [n for n in found if not in_universal_time(names[n])]
    return layout.one(local or found, "time")


def _clock(layout: Layout, time: int) -> tuple[int | None, int | None]:
    """Find the columns of the time of day, where the times are days only, and of AM or PM."""
    names = layout.header.names
    others = [n for n in range(len(names)) if n != time]
    days = [match for match in layout.cells(time, match_time) if match]
    clock = None
    if not any(match["hour"] for match in days):
        told = [n for n in others if layout.all_fit(n, lambda t: ":" in t and CLOCK.fullmatch(t))]
        named = [n for n in others if CLOCK_WORDS.search(names[n])]
        hours = [n for n in named if layout.all_fit(n, lambda t: CLOCK.fullmatch(t) or _hour(t))]
        clock = next(iter(told or hours), None)
        if clock is None:
            return None, None
    half = next((n for n in others if n != clock and layout.all_fit(n, HALF.fullmatch)), None)
    return clock, half


def _hour(text: str) -> bool:
    return text.isascii() and text.isdigit() and int(text) <= 24
