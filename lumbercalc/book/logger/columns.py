"""Find the columns of a data logger's file: its delimiter, its header, what each holds."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from itertools import islice, pairwise
from pathlib import Path

from lumbercalc.book.logger.times import CLOCK, TIME
from lumbercalc.faults import FileFault

DELIMITERS = (";", "\t", ",")
"""In this order: decimal commas and commas in texts make the last one the least sure."""
LOOKED_AT = 400
"""Lines from which the layout is told."""
HEADER_LINES = 5
"""A header, a line of units and some lines without a reading may stand over the first reading."""

READING = re.compile(
    r"\s*+([-+]?\d+(?:[.,]\d+)?)\s*+([°º]?\s*[FC]|[℃℉]|%\s*+(?:RH|rh)?)?\s*", re.ASCII
)
"""A number with a decimal point or comma, and perhaps its unit. Blanks are taken once (`*+`): the
time that a long cell takes grows with its length, not with the square of it."""
NO_READING = frozenset({"", "-", "--", "---", "----", "na", "n/a", "nan", "null", "none", "err"})
"""What loggers write, in any case, where a sensor gave nothing."""

TEMPERATURE_WORDS = re.compile(r"temp", re.IGNORECASE)
HUMIDITY_WORDS = re.compile(r"humid|(?<![a-z])r\.?h(?![a-z])", re.IGNORECASE)
OTHER_WORDS = re.compile(
    r"dew|wet|absolute|index|feels|alarm|(?<![a-z])(?:min|max|low|high|set)", re.IGNORECASE
)
"""Of columns that are named for temperature or humidity too, but are not the air's own."""


@dataclass(frozen=True)
class Columns:
    """Where things stand in the file.

    Parameters
    ----------
    first_row : int
        Place of the first reading among the rows.
    time, temperature, humidity : int
        Places of the columns.
    clock : int or None
        Place of the time of day, where the day stands in a column of its own.
    headers : tuple of str
        Texts over time, temperature and humidity, "" where there are none.
    """

    first_row: int
    time: int
    temperature: int
    humidity: int
    clock: int | None
    headers: tuple[str, str, str]


def split(text: str, path: Path) -> list[list[str]]:
    """Split a file into rows of cells by the delimiter that makes readings of most of its rows.

    Parameters
    ----------
    text : str
        The whole file.
    path : Path
        For messages.

    Returns
    -------
    list of list of str
        Every row of the file, blank ones too.

    Raises
    ------
    FileFault
        When no delimiter makes readings of it.
    """

    def rows(delimiter: str) -> Iterator[list[str]]:
        return csv.reader(StringIO(text, newline=None), delimiter=delimiter)

    def readings(delimiter: str) -> int:
        return sum(_is_reading(row) for row in islice(rows(delimiter), LOOKED_AT))

    found = {delimiter: readings(delimiter) for delimiter in DELIMITERS}
    best = max(found, key=found.__getitem__)
    if not found[best]:
        raise FileFault(
            f"{path}: no row has a time (such as 2025-06-01 14:30, without a time zone), a "
            "temperature and a humidity, with commas, semicolons or tabs between them"
        )
    return list(rows(best))


def find_columns(
    rows: list[list[str]], path: Path, temperature: str = "", humidity: str = ""
) -> Columns:
    """Find the columns by the words of the header, else by what they hold.

    Parameters
    ----------
    rows : list of list of str
        From `split`.
    path : Path
        For messages.
    temperature, humidity : str
        Headers of the columns, where the person names them.

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
    shape = Counter((len(row), _time_place(row)) for row in looked_at if _is_reading(row))
    (width, time), _ = shape.most_common(1)[0]
    body = [n for n, row in enumerate(looked_at) if len(row) == width and _time_place(row) == time]
    headers = _headers(looked_at, body[0], width)
    sample = [looked_at[n] for n in body]
    clock = _clock_place(sample, time)
    free = [n for n in range(width) if n not in (time, clock)]
    named = any(TEMPERATURE_WORDS.search(h) or HUMIDITY_WORDS.search(h) for h in headers)
    if named or temperature or humidity:
        temp = _named(headers, free, "temperature", TEMPERATURE_WORDS, temperature, path)
        rh = _named(headers, free, "humidity", HUMIDITY_WORDS, humidity, path)
    else:
        temp, rh = _by_content(sample, free, path)
    return Columns(body[0], time, temp, rh, clock, (headers[time], headers[temp], headers[rh]))


def _is_reading(row: Sequence[str]) -> bool:
    return _time_place(row) >= 0 and any(READING.fullmatch(cell) for cell in row)


def _time_place(row: Sequence[str]) -> int:
    """Give the place of the first time in a row, or -1."""
    return next((n for n, cell in enumerate(row) if TIME.fullmatch(cell)), -1)


def _clock_place(sample: list[list[str]], time: int) -> int | None:
    """Find the column of the time of day where the times are days only."""
    if any(CLOCK.search(row[time]) for row in sample):
        return None
    for place in range(len(sample[0])):
        if all(CLOCK.fullmatch(row[place].strip()) for row in sample):
            return place
    return None


def _headers(rows: list[list[str]], first: int, width: int) -> list[str]:
    """Join what stands over each column: the last line that names a temperature, and units."""
    for words in (TEMPERATURE_WORDS, HUMIDITY_WORDS):  # a line of units may hold "%RH"
        for start in range(first - 1, max(first - 1 - HEADER_LINES, -1), -1):
            if len(rows[start]) > 1 and any(map(words.search, rows[start])):
                over = [row + [""] * width for row in rows[start:first]]
                return [" ".join(row[n] for row in over).strip() for n in range(width)]
    return [""] * width


def _named(
    headers: list[str], free: list[int], what: str, words: re.Pattern[str], asked: str, path: Path
) -> int:
    if asked:
        found = [n for n in free if headers[n].casefold() == asked.strip().casefold()]
    else:
        found = [n for n in free if words.search(headers[n]) and not OTHER_WORDS.search(headers[n])]
    if len(found) == 1:
        return found[0]
    there = ", ".join(repr(headers[n][:40]) for n in found or free)
    if found:
        raise FileFault(f"{path}: columns {there} may be the {what}; choose with --{what} HEADER")
    sought = f"column {asked[:40]!r}" if asked else f"column of {what}"
    raise FileFault(
        f"{path}: there is no {sought}; choose with --{what} HEADER among the columns: {there}"
    )


def _by_content(sample: list[list[str]], free: list[int], path: Path) -> tuple[int, int]:
    """Tell temperature from humidity without a header: temperature first, unless it cannot be."""
    numbers: dict[int, list[float]] = {}
    for place in free:
        found = [READING.fullmatch(row[place]) for row in sample]
        read = [float(each[1].replace(",", ".")) for each in found if each]
        counts_up = len(read) > 1 and all(b - a == 1 for a, b in pairwise(read))
        if read and not counts_up:  # a column that counts the readings is none
            numbers[place] = read
    if len(numbers) != 2:
        raise FileFault(
            f"{path}: no header has the words temperature and humidity, and the columns of "
            f"numbers are {len(numbers)}; without a header they must be two"
        )
    first, second = numbers
    marks = {place: any("%" in row[place] for row in sample) for place in numbers}
    possible = {place: all(0 <= n <= 100 for n in numbers[place]) for place in numbers}
    swapped = (possible[first] and not possible[second]) or (marks[first] and not marks[second])
    return (second, first) if swapped else (first, second)
