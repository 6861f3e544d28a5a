"""The header of a data logger's file: which lines it has, and what it says over each column."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from lumbercalc.book.logger.marks import (
    DEGREE,
    HUMIDITY_WORDS,
    NO_READING,
    READING,
    TEMPERATURE_WORDS,
)
from lumbercalc.book.logger.times import match_time
from lumbercalc.book.logger.zones import ZONE

HEADER_LINES = 5
"""A header, a line of units and some lines without a reading may stand over the first reading."""
PART = re.compile(rf"\s*(?:{ZONE}|{DEGREE}\s?[FC]|%\s?(?:RH)?)\s*")
"""Of a name with a comma inside: Time, UTC. A bare F may stand over a column of units."""


@dataclass(frozen=True)
class Header:
    """What stands over the columns.

    Parameters
    ----------
    names : list of str
        Of each column, "" where there is nothing.
    width : int
        Columns up to the last that has a name; 0 where there is no header.
    first_row : int
        Place of the first row below it.
    """

    names: list[str]
    width: int
    first_row: int

    def label(self, place: int) -> str:
        """Name a column for a message.

        Parameters
        ----------
        place : int
            Counted from 0.

        Returns
        -------
        str
            Its header, or its number where it has none.
        """
        name = self.names[place]
        return repr(name[:40]) if name else str(place + 1)


def find_header(rows: Sequence[Sequence[str]], first: int, width: int) -> Header:
    """Find the header over the first reading.

    It begins with the last line that names a temperature, else a humidity; else with the first
    of the lines right over the readings that have a word over all columns but one.

    Parameters
    ----------
    rows : sequence of rows
        The file's beginning.
    first : int
        Place of the first reading.
    width : int
        Columns of the readings.

    Returns
    -------
    Header
        Without names where there is none.
    """
    start = _start(rows, first, width)
    if start is None:
        return Header([""] * width, 0, first)
    below = next(n for n in range(start + 1, first + 1) if n == first or not _is_words(rows[n]))
    lines = [_joined(row, width) for row in rows[start:below]]
    over = [[*row, *[""] * width] for row in lines]
    names = [
        " ".join(text for row in over if (text := row[n].strip()).casefold() not in NO_READING)
        for n in range(width)
    ]
    return Header([" ".join(name.split()) for name in names], max(map(filled, lines)), below)


def filled(row: Sequence[str]) -> int:
    """Count the cells of a row up to the last that is not blank.

    Parameters
    ----------
    row : sequence of str
        Its cells.

    Returns
    -------
    int
        0 for a blank row.
    """
    return max((n for n, text in enumerate(row, 1) if text.strip()), default=0)


def _joined(row: Sequence[str], width: int) -> Sequence[str]:
    """Join names that a comma inside has split, where a line is wider than the readings."""
    joined: list[str] = []
    for text in row:
        if joined and PART.fullmatch(text):
            joined[-1] += f", {text.strip()}"
        else:
            joined.append(text)
    return joined if filled(row) > width and filled(joined) >= width else row


def _start(rows: Sequence[Sequence[str]], first: int, width: int) -> int | None:
    near = range(first - 1, max(first - 1 - HEADER_LINES, -1), -1)
    for words in (TEMPERATURE_WORDS, HUMIDITY_WORDS):  # a line of units may hold "%RH"
        for n in near:
            if len(rows[n]) > 1 and any(map(words.search, rows[n])):
                return n
    start = None
    for n in near:
        cells = sum(bool(text.strip()) for text in rows[n])
        if cells >= max(width - 1, 2) and _is_words(rows[n]):
            start = n
        elif cells:
            break
    return start


def _is_words(row: Sequence[str]) -> bool:
    """Tell whether a line has words, and neither a time nor a number: a name, or a unit."""
    told = [text for text in row if text.strip().casefold() not in NO_READING]
    return not any(match_time(text) or READING.fullmatch(text) for text in told)
