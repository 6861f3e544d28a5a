"""Texts that stand where a number or a date belongs, as far as all spreadsheets read them alike."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, MutableMapping
from datetime import date
from functools import partial
from typing import Any

from formulas.functions import Error
from formulas.functions.date import xdate, xdatedif
from formulas.functions.operators import OPERATORS

from lumbercalc.book.engine.single_values import first_error, value_by_value
from lumbercalc.book.engine.values import AS_GIVEN, NotFollowed, engines_own
from lumbercalc.book.engine.writing import written
from lumbercalc.sheet.dates import serial

BY_LOCALE = re.compile(
    r"[-+(]?\s*[$\u20ac\u00a3]?\s*[.,]?\d[\d.,:/%() \u20ac$\u00a3-]*(?:[AP]M)?", re.IGNORECASE
)
"""What a spreadsheet may read as a number, a date or a time, each by its own settings."""
FIRST_YEAR = 1900
TRUTH = {"TRUE": 1.0, "FALSE": 0.0}
OF_TRUTHS = engines_own("AND", "OR")
"""The engine's own."""
WILD = re.compile("[*?~]")


def register(table: MutableMapping[str, Any]) -> None:
    """Put our operators and functions in the place of the engine's.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    OPERATORS["*"] = value_by_value(lambda one, other: one * other, input_parser=operands)
    OPERATORS["/"] = value_by_value(_quotient, input_parser=operands)
    OPERATORS["^"] = table["POWER"] = value_by_value(_power, input_parser=operands)
    OPERATORS["U-"] = value_by_value(lambda number: -number, input_parser=operands)
    OPERATORS["%"] = value_by_value(lambda number: number / 100.0, input_parser=operands)
    table["VALUE"] = value_by_value(lambda number: number, input_parser=operands)
    table["DATEVALUE"] = value_by_value(_date_value, **AS_GIVEN)
    table["SEARCH"] = value_by_value(_search, **AS_GIVEN)
    table["DATE"] = value_by_value(_date, input_parser=operands)
    table["DATEDIF"] = value_by_value(_between, **AS_GIVEN)
    for name, function in OF_TRUTHS.items():
        table[name] = function | {"function": partial(_of_truths, function["function"])}
    table["IF"] = table["IF"] | {
        "function": value_by_value(
            _if,
            **AS_GIVEN,
            check_nan=False,
            check_error=lambda asked, *_: first_error(asked),
        )
    }


def operands(*given: Any) -> list[float]:
    """Read what an operator is given.

    Parameters
    ----------
    *given : object
        Numbers, truth values and texts.

    Returns
    -------
    list of float
        Of the texts the plain numbers, and dates such as 2026-05-01.

    Raises
    ------
    ValueError
        When a text is no number.
    NotFollowed
        When a spreadsheet reads it by its own settings.
    """
    try:
        return [float(each) for each in given]
    except ValueError:
        return [number_in(each) if isinstance(each, str) else float(each) for each in given]


def number_in(text: str) -> float:
    """Read a text as a number.

    Parameters
    ----------
    text : str
        Of a cell or a formula.

    Returns
    -------
    float
        A date as its day number.

    Raises
    ------
    ValueError
        When it is none.
    NotFollowed
        When a spreadsheet reads it by its own settings.

    Examples
    --------
    >>> number_in(" 7.5"), number_in("2026-03-01")
    (7.5, 46082.0)
    """
    try:
        return float(text)
    except ValueError:
        pass
    try:
        return float(serial(date.fromisoformat(text)))
    except ValueError:
        pass
    if text.upper() in TRUTH:
        return TRUTH[text.upper()]
    if BY_LOCALE.fullmatch(text.strip()[:40]):
        raise NotFollowed(f"which number the text {text[:20]!r} is, is not followed")
    raise ValueError(text)


def _quotient(one: float, other: float) -> Any:
    return one / other if other else Error.errors["#DIV/0!"]


def _power(base: float, exponent: float) -> Any:
    if base == 0 and exponent < 0:
        return Error.errors["#DIV/0!"]
    if base < 0 and not exponent.is_integer():
        raise NotFollowed("a root of a negative number is not followed")
    return base**exponent


def _date_value(text: Any) -> float:
    try:
        return float(serial(date.fromisoformat(text)))
    except (TypeError, ValueError):
        if any(sign.isdigit() for sign in str(text)):
            raise NotFollowed(f"which day {str(text)[:20]!r} is, is not followed") from None
        raise


def _date(year: float, month: float, day: float) -> Any:
    if year < FIRST_YEAR:
        raise NotFollowed("DATE of a year before 1900 is not followed")
    return xdate(math.floor(year), math.floor(month), math.floor(day))


def _between(first: Any, last: Any, unit: Any) -> Any:
    start, end = operands(first, last)
    if str(unit).upper() not in ("D", "M", "Y"):
        raise NotFollowed(f"DATEDIF with {str(unit)[:10]!r} is not followed")
    return xdatedif(start, end, str(unit).upper())


def _search(sought: Any, text: Any, start: Any = 1) -> Any:
    sought = written(sought)
    if WILD.search(sought):
        raise NotFollowed(f"SEARCH for the pattern {sought[:20]!r} is not followed")
    found = written(text).casefold().find(sought.casefold(), int(float(start)) - 1)
    return found + 1 if found >= 0 else Error.errors["#VALUE!"]


def _of_truths(function: Callable[..., Any], *given: Any) -> Any:
    if any(type(each) is str for each in given):
        return NotFollowed("a text among what is true or not is not followed").err
    return function(*given)


def _if(asked: Any, then: Any, otherwise: Any = False) -> Any:
    if isinstance(asked, str):
        if asked.strip().upper() in ("TRUE", "FALSE") or BY_LOCALE.fullmatch(asked.strip()[:40]):
            raise NotFollowed(f"whether the text {asked[:20]!r} is true is not followed")
        return Error.errors["#VALUE!"]
    return then if asked else otherwise
