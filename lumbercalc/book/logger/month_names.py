"""Days with the name of a month, as exports write them in English, brought to numbers."""

from __future__ import annotations

import re

from lumbercalc.sheet.climate_table import MONTHS

_NAMES = sorted(filter(str.isalpha, MONTHS), key=len, reverse=True)
WEEKDAY = re.compile(
    r"(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?\.?", re.IGNORECASE
)
MONTH = re.compile(rf"(?P<month>{'|'.join(_NAMES)})(?![a-z])", re.IGNORECASE)

_BEFORE = re.compile(rf"\A\s*+(?:{WEEKDAY.pattern},?\s++)?", re.IGNORECASE)
_GAP = r"[-/.,\s]{0,2}"
_DAY = r"(?P<day>\d{1,2})(?:st|nd|rd|th)?(?!\d)"
_YEAR = r"(?P<year>\d{4}|\d\d)(?!\d)"
_CLOCK = r"(?P<clock>\d{1,2}:\d\d(?::\d\d)?(?:\s[A-Z]{3,4})?)"
FORMS = tuple(
    re.compile(form, re.ASCII | re.IGNORECASE)
    for form in (
        rf"{_DAY}{_GAP}{MONTH.pattern}{_GAP}{_YEAR}",
        rf"{MONTH.pattern}{_GAP}{_DAY}[-/.,\s]{{1,2}}{_YEAR}(?!:)",
        rf"(?P<year>\d{{4}}){_GAP}{MONTH.pattern}{_GAP}{_DAY}",
        rf"{MONTH.pattern}\s{{1,2}}{_DAY}\s{_CLOCK}\s(?P<year>\d{{4}})",
    )
)
"""12-Jan-2026, Jan 12 2026, 2026-Jan-12, and Jan 12 14:05:00 2026 as the C language prints it. A
year of two digits stands last."""


def in_numbers(text: str) -> str:
    """Write a day that names its month in numbers, and drop a weekday before a day.

    Parameters
    ----------
    text : str
        A time of a log, or any other cell.

    Returns
    -------
    str
        The year first, where a month is named; else the text without the weekday.

    Examples
    --------
    >>> in_numbers("12-Jan-26 14:05"), in_numbers("Mon, Sept. 7, 2026 2:05 PM")
    ('2026-1-12 14:05', '2026-9-7 2:05 PM')
    >>> in_numbers("7/9/2026 14:05")
    '7/9/2026 14:05'
    """
    bare = _BEFORE.sub("", text)
    found = next((found for form in FORMS if (found := form.match(bare))), None)
    if found is None:
        return bare
    year = found["year"] if len(found["year"]) == 4 else f"20{found['year']}"
    month = MONTHS[found["month"].casefold()]
    clock = f" {found['clock']}" if "clock" in found.groupdict() else ""
    return f"{year}-{month}-{found['day']}{clock}{bare[found.end() :]}"
