"""Find the columns of the air's temperature and humidity, and of nothing that is named for them."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

from lumbercalc.book.logger.layout import Layout
from lumbercalc.book.logger.marks import (
    DERIVED,
    HUMIDITY_WORDS,
    OTHER_WORDS,
    READING,
    TEMPERATURE_WORDS,
    Quantity,
    names_humidity,
    names_other,
    names_temperature,
    unit_quantity,
)
from lumbercalc.faults import FileFault

WORDS: dict[Quantity, re.Pattern[str]] = {
    "temperature": TEMPERATURE_WORDS,
    "humidity": HUMIDITY_WORDS,
}
UNITS: dict[Quantity, Callable[[str], bool]] = {
    "temperature": names_temperature,
    "humidity": names_humidity,
}


def find_air(layout: Layout, free: list[int], temperature: str, humidity: str) -> tuple[int, int]:
    """Find temperature and humidity: as asked, by words, by units, else by elimination.

    Parameters
    ----------
    layout : Layout
        Of the file.
    free : list of int
        Places of the columns that are not of the times.
    temperature, humidity : str
        Headers or numbers that the person names; "" where not.

    Returns
    -------
    int, int
        Places of temperature and humidity.

    Raises
    ------
    FileFault
        When one is missing, or more than one may be meant.
    """
    temp = layout.asked(free, "temperature", temperature) if temperature else None
    rh = layout.asked(free, "humidity", humidity) if humidity else None
    by_word = False
    if temp is None:
        temp = _by_words(layout, [n for n in free if n != rh], "temperature")
        by_word |= temp is not None
    if rh is None:
        rh = _by_words(layout, [n for n in free if n != temp], "humidity")
        by_word |= rh is not None
    numbers = {n: read for n in free if (read := _numbers(layout, n))}
    own = {n: read for n, read in numbers.items() if not names_other(layout.header.names[n])}
    if temp is None:
        temp = _by_units(layout, [n for n in own if n != rh], "temperature")
    if rh is None:
        rh = _by_units(layout, [n for n in own if n != temp], "humidity")
    if temp is not None and rh is not None:
        return temp, rh
    named = by_word and layout.header.width > 0  # such a header would name the other one too
    if temp is None and rh is None:
        if not _derived(layout, free):
            return _by_content(layout, own)
    elif len(numbers.keys() - {temp, rh}) == 1 and not named:
        [left] = numbers.keys() - {temp, rh}
        if left in own and temp is None and rh is not None:
            return left, rh
        if left in own and temp is not None and all(0 <= each <= 105 for each in own[left]):
            return temp, left
    raise _missing(layout, free, list(own), {"temperature": temp, "humidity": rh})


def _by_words(layout: Layout, free: list[int], what: Quantity) -> int | None:
    names = layout.header.names
    found = [n for n in free if WORDS[what].search(names[n]) and not OTHER_WORDS.search(names[n])]
    return layout.one(found, what) if found else None


def _by_units(layout: Layout, free: list[int], what: Quantity) -> int | None:
    found = [n for n in free if UNITS[what](layout.header.names[n])]
    found = found or [n for n in free if what in layout.cells(n, unit_quantity)]
    return layout.one(found, what) if found else None


def _by_content(layout: Layout, numbers: dict[int, list[float]]) -> tuple[int, int]:
    """Tell two columns apart by what they hold: a humidity is from 0 to 100."""
    header = layout.header
    over = "the header has no words or units of" if header.width else "no header has the words"
    both = layout.choose("temperature", "humidity")
    if len(numbers) != 2:
        raise FileFault(
            f"{layout.path}: {over} temperature and humidity, and the columns of numbers are "
            f"{len(numbers)}; {both}: "
            + layout.labels(list(numbers) or list(range(len(header.names))))
        )
    first, second = numbers
    possible = {place: all(0 <= n <= 100 for n in numbers[place]) for place in numbers}
    if possible[first] != possible[second]:
        return (second, first) if possible[first] else (first, second)
    raise FileFault(
        f"{layout.path}: {over} temperature and humidity, and nothing tells the columns "
        f"{layout.labels([first, second])} apart, as both "
        f"{'fit' if possible[first] else 'go beyond'} 0 to 100; {both}"
    )


def _missing(
    layout: Layout, free: list[int], own: list[int], found: dict[Quantity, int | None]
) -> FileFault:
    """Say what there is and what there is not: a dew point is not offered as a temperature."""
    missing = [what for what, place in found.items() if place is None]
    there: dict[str, list[int]] = {
        what: [place] for what, place in found.items() if place is not None
    }
    others = [n for n in free if n not in found.values()]
    choice = [n for n in others if n in own]
    if derived := _derived(layout, others):
        has = [f"{what} ({layout.labels(places)})" for what, places in (there | derived).items()]
        words = f"the file has {' and '.join(has)}, but no {' and no '.join(missing)} of the air"
        if not choice:
            return FileFault(f"{layout.path}: {words}; let the logger's program export that too")
    else:
        words = f"there is no column of {' and '.join(missing)}"
        choice = choice or others
    return FileFault(
        f"{layout.path}: {words}; {layout.choose(*missing)} among the columns: "
        + layout.labels(choice)
    )


def _derived(layout: Layout, free: list[int]) -> dict[str, list[int]]:
    """Give the columns of what follows from the air's temperature and humidity."""
    found = {
        kind: [n for n in free if words.search(layout.header.names[n])]
        for kind, words in DERIVED.items()
    }
    return {kind: places for kind, places in found.items() if places}


def _numbers(layout: Layout, place: int) -> list[float]:
    """Give the numbers of a column; none of one that counts the readings."""
    found = layout.cells(place, READING.fullmatch)
    read = [float(each[1].replace(",", ".")) for each in found if each]
    counts_up = len(read) > 1 and all(b - a == 1 for a, b in pairwise(read))
    return [] if counts_up else read
