"""What one cell or one header of a data logger's file tells: a number, its unit, what it is of."""

from __future__ import annotations

import re
from typing import Literal

Unit = Literal["F", "C"]

READING = re.compile(
    r"\s*+([-+]?\d+(?:[.,]\d+)?)\s*+"
    r"((?:[°º]|[Dd]eg(?:rees)?\.?)?\s*+[FCfc]|[℃℉]|%\s*+(?:RH|rh)?)?\s*",
    re.ASCII,
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
TEMPERATURE_UNIT = re.compile(
    r"[°º]\s?[FC](?![a-z])|(?<![a-z])deg[a-z.]{0,8}\s?[FC](?![a-z])|[(\[]\s?[FC]\s?[)\]]|[℃℉]"
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
    return bool(TEMPERATURE_UNIT.search(LETTERED.sub("", header))) and not _other(header)


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
    return "%" in header and not _other(header)


def _other(header: str) -> bool:
    return bool(OTHER_WORDS.search(header) or OTHER_PERCENT.search(header))
