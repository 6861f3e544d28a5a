"""Find the columns of a data logger's file: by the header's words and units, else by the cells."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from lumbercalc.book.logger.header import HEADER_LINES, Header, find_header
from lumbercalc.book.logger.lines import LOOKED_AT, is_reading, time_place
from lumbercalc.book.logger.marks import (
    HUMIDITY_WORDS,
    OTHER_WORDS,
    READING,
    TEMPERATURE_WORDS,
    names_humidity,
    names_temperature,
)
from lumbercalc.book.logger.times import CLOCK, TIME
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
    [(width, _)] = Counter(_filled(looked_at[n]) for n in body).most_common(1)
    most = max(len(looked_at[n]) for n in body)
    found = find_header(looked_at, body[0], width)
    header = replace(found, names=found.names + [""] * (most - width))
    sample = [looked_at[n] + [""] * (most - len(looked_at[n])) for n in body]
    layout = _Layout(path, header, sample)
    time = layout.time(asked.time)
    clock, half = layout.clock(time)
    free = [n for n in range(most) if n not in (time, clock, half)]
    temp, rh = layout.air(free, asked)
    return Columns(header, time, temp, rh, clock, half)


def _filled(row: Sequence[str]) -> int:
    """Count the cells of a row up to the last that is not blank."""
    return max((n for n, text in enumerate(row, 1) if text.strip()), default=0)


@dataclass(frozen=True)
class _Layout:
    """A header with some of the rows below it, all as wide."""

    path: Path
    header: Header
    sample: list[list[str]]

    def time(self, asked: str) -> int:
        """Find the column of times."""
        least = LEAST_TIMES * len(self.sample)
        places = range(len(self.header.names))
        found = [n for n in places if sum(map(bool, self._matches(TIME, n))) >= least]
        found = found or [time_place(self.sample[0])]
        return self._asked(found, "time", asked) if asked else self._one(found, "time")

    def clock(self, time: int) -> tuple[int | None, int | None]:
        """Find the columns of the time of day, where the times are days only, and of AM or PM."""
        others = [n for n in range(len(self.header.names)) if n != time]
        days = [match for match in self._matches(TIME, time) if match]
        clock = None
        if not any(match["hour"] for match in days):
            told = [n for n in others if self._all(n, lambda t: ":" in t and CLOCK.fullmatch(t))]
            named = [n for n in others if CLOCK_WORDS.search(self.header.names[n])]
            hours = [n for n in named if self._all(n, lambda t: CLOCK.fullmatch(t) or _hour(t))]
            clock = next(iter(told or hours), None)
            if clock is None:
                return None, None
        half = next((n for n in others if n != clock and self._all(n, HALF.fullmatch)), None)
        return clock, half

    def air(self, free: list[int], asked: Asked) -> tuple[int, int]:
        """Find temperature and humidity: as asked, by words, by units, else by elimination."""
        temp = self._asked(free, "temperature", asked.temperature) if asked.temperature else None
        rh = self._asked(free, "humidity", asked.humidity) if asked.humidity else None
        by_word = False
        if temp is None:
            temp = self._by_words([n for n in free if n != rh], "temperature", TEMPERATURE_WORDS)
            by_word |= temp is not None
        if rh is None:
            rh = self._by_words([n for n in free if n != temp], "humidity", HUMIDITY_WORDS)
            by_word |= rh is not None
        numbers = {n: read for n in free if (read := self._numbers(n))}
        if temp is None:
            there = [n for n in numbers if n != rh]
            temp = self._by_units(there, "temperature", names_temperature, "FCfc℃℉")
        if rh is None:
            there = [n for n in numbers if n != temp]
            rh = self._by_units(there, "humidity", names_humidity, "%")
        if temp is not None and rh is not None:
            return temp, rh
        if temp is None and rh is None:
            return self._by_content(numbers)
        what, other = ("temperature", rh) if temp is None else ("humidity", temp)
        there = [n for n in numbers if n != other]
        left = [n for n in there if not OTHER_WORDS.search(self.header.names[n])]
        fits = temp is None or all(0 <= each <= 105 for n in left for each in numbers[n])
        if len(left) == len(there) == 1 and fits and not (by_word and self.header.width):
            if rh is not None:
                return left[0], rh
            if temp is not None:
                return temp, left[0]
        raise FileFault(
            f"{self.path}: there is no column of {what}; {self._choose(what)} among the columns: "
            + self._list([n for n in free if n != other])
        )

    def _by_words(self, free: list[int], what: str, words: re.Pattern[str]) -> int | None:
        names = self.header.names
        found = [n for n in free if words.search(names[n]) and not OTHER_WORDS.search(names[n])]
        return self._one(found, what) if found else None

    def _by_units(
        self, free: list[int], what: str, names: Callable[[str], bool], units: str
    ) -> int | None:
        found = [n for n in free if names(self.header.names[n])]
        if not found:
            found = [n for n in free if any(row[n].strip()[-1:] in units for row in self.sample)]
        return self._one(found, what) if found else None

    def _by_content(self, numbers: dict[int, list[float]]) -> tuple[int, int]:
        """Tell two columns apart by what they hold: a humidity is from 0 to 100."""
        over = (
            "the header has no words or units of"
            if self.header.width
            else "no header has the words"
        )
        if len(numbers) != 2:
            raise FileFault(
                f"{self.path}: {over} temperature and humidity, and the columns of numbers are "
                f"{len(numbers)}; {self._choose('temperature', 'humidity')}: "
                + self._list(list(numbers) or list(range(len(self.header.names))))
            )
        first, second = numbers
        possible = {place: all(0 <= n <= 100 for n in numbers[place]) for place in numbers}
        if possible[first] != possible[second]:
            return (second, first) if possible[first] else (first, second)
        raise FileFault(
            f"{self.path}: {over} temperature and humidity, and nothing tells the columns "
            f"{self._list([first, second])} apart, as both "
            f"{'fit' if possible[first] else 'go beyond'} 0 to 100; "
            f"{self._choose('temperature', 'humidity')}"
        )

    def _asked(self, free: list[int], what: str, asked: str) -> int:
        """Find a column by its header, else by its number."""
        typed = " ".join(asked.split())
        found = [n for n in free if self.header.names[n].casefold() == typed.casefold()]
        if not found and typed.isascii() and typed.isdigit():
            found = [n for n in free if n + 1 == int(typed)]
        if found:
            return self._one(found, what)
        raise FileFault(
            f"{self.path}: there is no column {asked[:40]!r}; {self._choose(what)} among the "
            f"columns: {self._list(free)}"
        )

    def _one(self, found: list[int], what: str) -> int:
        if len(found) == 1:
            return found[0]
        raise FileFault(
            f"{self.path}: columns {self._list(found)} may be the {what}; {self._choose(what)}, "
            f"or by number: {' or '.join(str(n + 1) for n in found)}"
        )

    def _choose(self, *what: str) -> str:
        given = "HEADER" if self.header.width else "NUMBER"
        return "choose with " + " and ".join(f"--{each} {given}" for each in what)

    def _list(self, places: list[int]) -> str:
        return ", ".join(self.header.label(n) for n in places)

    def _matches(self, pattern: re.Pattern[str], place: int) -> list[re.Match[str] | None]:
        return [pattern.fullmatch(row[place]) for row in self.sample]

    def _all(self, place: int, fits: Callable[[str], object]) -> bool:
        told = [text for row in self.sample if (text := row[place].strip())]
        return bool(told) and all(map(fits, told))

    def _numbers(self, place: int) -> list[float]:
        """Give the numbers of a column; none of one that counts the readings."""
        found = self._matches(READING, place)
        read = [float(each[1].replace(",", ".")) for each in found if each]
        counts_up = len(read) > 1 and all(b - a == 1 for a, b in pairwise(read))
        return [] if counts_up else read


def _hour(text: str) -> bool:
    return text.isascii() and text.isdigit() and int(text) <= 24
