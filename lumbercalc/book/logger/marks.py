"""What one cell or one header of a data logger's file tells: a number, its unit, what it is of."""

from __future__ import annotations

import re
from typing import Literal

Unit = Literal["F", "C"]
Quantity = Literal["temperature", "humidity"]

DEGREE = "Â?[°º˚¡ø?\ufffd]"
"""A degree sign, or what it becomes where a program takes its encoding for another: `¡` and `ø` are
that of Mac OS Roman and of code page 437 read as Latin-1, `Â°` that of UTF-8."""
READING = re.compile(
    r"\s*+([-+]?\d+(?:[.,]\d+)?)\s*+"
    rf"((?:{DEGREE}|[Dd]eg(?:rees)?\.?)?\s*+[FCfc]|[℃℉]|%\s*+(?:[Rr]\.?[Hh]\.?)?|[Rr][Hh]\s?%?)?\s*",
    re.ASCII,
)
"""A number with a decimal point or comma, and perhaps its unit. Blanks are taken once (`*+`): the
time that a long cell takes grows with its length, not with the square of it."""
NO_READING = frozenset(
    {"", "-", "--", "---", "----", "na", "n/a", "n.a.", "#n/a", "nan", "null", "none", "err"}
    | {"error", "no data"}
)
"""What loggers write, in any case, where a sensor gave nothing."""

TEMPERATURE_WORDS = re.compile(r"temp", re.IGNORECASE)
HUMIDITY_WORDS = re.compile(r"humid|(?<![a-z])(?:r\.?h|hum)(?![a-z])", re.IGNORECASE)
DERIVED = {
    "dew point": re.compile(r"dew|taupunkt|(?<![a-z])(?:dp|td)(?![a-z])", re.IGNORECASE),
    "moisture content": re.compile(r"moisture|(?<![a-z])e?mc(?![a-z])", re.IGNORECASE),
    "wet bulb": re.compile(r"wet[\W_]*bulb|(?<![a-z])(?:wb|tw|twb)(?![a-z])", re.IGNORECASE),
}
"""Of what follows from the air's temperature and humidity, in degrees or in percent too."""
OTHER_WORDS = re.compile(
    "|".join(words.pattern for words in DERIVED.values())
    + r"|wet|absolute|specific|index|humidex|feels|apparent|chill|alarm"
    r"|(?<![a-z])(?:ratio|min|max|low|high|set)",
    re.IGNORECASE,
)
"""Of columns that are named for temperature or humidity too, but are not the air's own."""
TEMPERATURE_UNIT = re.compile(
    rf"{DEGREE}\s?[FC](?![a-z])"
    r"|(?<![a-z])deg[a-z.]{0,8}\s?[FC](?![a-z])|[(\[]\s?[FC]\s?[)\]]|[℃℉]"
    r"|celsius|fahrenheit|(?<![a-z])t[\W_]{0,3}[FC](?![a-z])",
    re.IGNORECASE,
)
"""In a header that has no word for temperature: a bare letter alone is none, but T C is."""
OTHER_PERCENT = re.compile(
    r"batter|charge|volt|signal|level|power|soil|moist|light|cloud|oxygen|(?<![a-z])c?o2",
    re.IGNORECASE,
)
"""Of columns in percent that are no humidity of the air."""

FAHRENHEIT = re.compile(r"fahrenheit|℉|(?<![a-z])(?:deg)?f(?![a-z])", re.IGNORECASE)
CELSIUS = re.compile(r"celsius|℃|(?<![a-z])(?:deg)?c(?![a-z])", re.IGNORECASE)
LETTERED = re.compile(
    r"(?<![a-z])(?:channel|sensor|probe|port|zone|room|logger)[\s._#-]{1,3}[a-z](?![a-z])",
    re.IGNORECASE,
)
"""The letter of such a name is no unit."""


def header_unit(header: str) -> Unit | None:
    """Tell the unit of temperature that a header names.

    Parameters
    ----------
    header : str
        What stands over the column.

    Returns
    -------
    {"F", "C"} or None
        None where it names none, or both.

    Examples
    --------
    >>> header_unit("T(C)"), header_unit("temp_f"), header_unit("Channel C temp")
    ('C', 'F', None)
    """
    said = LETTERED.sub("", header)
    fahrenheit, celsius = FAHRENHEIT.search(said), CELSIUS.search(said)
    if bool(fahrenheit) == bool(celsius):
        return None
    return "F" if fahrenheit else "C"


def names_temperature(header: str) -> bool:
    """Tell whether a header without a word for it is over a temperature, by the unit it names.

    Parameters
    ----------
    header : str
        What stands over the column.

    Returns
    -------
    bool
        False for a dew point, and the like.
    """
    return bool(TEMPERATURE_UNIT.search(LETTERED.sub("", header))) and not names_other(header)


def names_humidity(header: str) -> bool:
    """Tell whether a header without a word for it is over a humidity, by its percent sign.

    Parameters
    ----------
    header : str
        What stands over the column.

    Returns
    -------
    bool
        False for a battery's percent, and the like.
    """
    return "%" in header and not names_other(header)


def names_other(header: str) -> bool:
    """Tell whether a header is over what is neither the air's temperature nor its humidity.

    Parameters
    ----------
    header : str
        What stands over the column.

    Returns
    -------
    bool
        False for a header that tells nothing.

    Examples
    --------
    >>> names_other("Dew point (F)"), names_other("Battery %"), names_other("Channel 1")
    (True, True, False)
    """
    return bool(OTHER_WORDS.search(header) or OTHER_PERCENT.search(header))


def unit_quantity(text: str) -> Quantity | None:
    """Tell what a cell is of, by the unit beside its number.

    Parameters
    ----------
    text : str
        The cell.

    Returns
    -------
    {"temperature", "humidity"} or None
        None where it is no number, or has no unit.

    Examples
    --------
    >>> unit_quantity("70.5 °F"), unit_quantity("45 %RH"), unit_quantity("45")
    ('temperature', 'humidity', None)
    """
    found = READING.fullmatch(text)
    if not found or not found[2]:
        return None
    return "temperature" if found[2][-1] in "FCfc℃℉" else "humidity"
