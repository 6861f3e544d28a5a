"""Numbers as texts, as Calc writes them (seen in 25.2), and TEXT with plain formats of numbers."""

from __future__ import annotations

import re
from collections.abc import MutableMapping
from decimal import Decimal
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from formulas.functions import operators, text, wrap_ufunc

from lumbercalc.book.engine.values import AS_GIVEN, LeftOut, NotFollowed
from lumbercalc.book.xlsx.cell_value import half_up

ALIKE = 2.0**-48
"""Part of two numbers by which they differ and are equal, as Calc compares."""
ALL_DIGITS = 1e16
"""Below it whole numbers are written with all their digits."""
BLANKS = re.compile(" {2,}")
TEXT = text.FUNCTIONS["TEXT"]
"""The engine's own, for dates."""
MARCH_1900 = 61
"""Serial of 1900-03-01: before it the spreadsheets' calendars differ."""
OF_DATES = re.compile(r"(?:[ymdhs]+|AM/PM|A/P|[-/:., ]|\\.|\"[^\"]*\")+", re.IGNORECASE)
SECTION = re.compile(
    r"(?P<before>(?:\"[^\"]*\"|\\.|_.|[-+$()/: \u20ac\u00a3])*)"
    r"(?P<whole>[#0,]*)(?P<decimals>\.[#0]*)?"
    r"(?P<after>(?:\"[^\"]*\"|\\.|_.|[-+$()/: %\u20ac\u00a3])*)"
)
LITERAL = re.compile(r"\"([^\"]*)\"|\\(.)|_(.)|(.)")
COLOR = re.compile(r"^\[(?:black|blue|cyan|green|magenta|red|white|yellow)\]", re.IGNORECASE)


def register(table: MutableMapping[str, Any]) -> None:
    """Have the engine write numbers as Calc does.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    text._str = operators._str = written
    table["TRIM"] = wrap_ufunc(_trimmed, **text._kw1)
    table["UPPER"] = wrap_ufunc(_upper, **text._kw1)
    table["TEXT"] = wrap_ufunc(_text, **AS_GIVEN)
    table["FIXED"] = wrap_ufunc(_fixed, **AS_GIVEN)


def written(value: Any) -> str:
    """Write a value as a spreadsheet joins it to a text: 15 digits of a number.

    Parameters
    ----------
    value : object
        A number, a truth value, which is one in Calc, or a text.

    Returns
    -------
    str
        Calc's own way with large exponents.

    Examples
    --------
    >>> written(1 / 3), written(10.0), written(1e20), written(1 / 30000)
    ('0.333333333333333', '10', '1E+020', '0.0000333333333333333')
    """
    if isinstance(value, str):
        return str(value)
    if isinstance(value, LeftOut):
        return ""
    if isinstance(value, (bool, np.bool_)):
        return str(int(value))
    value = float(value)
    if value.is_integer() and abs(value) < ALL_DIGITS:
        return str(int(value))
    number = Decimal(f"{value:.15g}")
    exponent = number.adjusted()
    if exponent >= 16 or exponent < -15:
        digits = f"{number.scaleb(-exponent):f}"
        return f"{_without_noughts(digits)}E{'-' if exponent < 0 else '+'}{abs(exponent):03d}"
    return _without_noughts(f"{number:f}")


def _without_noughts(digits: str) -> str:
    return digits.rstrip("0").rstrip(".") if "." in digits else digits


def _trimmed(given: str) -> str:
    return BLANKS.sub(" ", given.strip(" "))


def _upper(given: str) -> str:
    if len(given.upper()) != len(given):
        raise NotFollowed(f"UPPER of {given[:20]!r} is not followed")
    return given.upper()


class _Section(NamedTuple):
    before: str
    least: int
    thousands: bool
    shown: int
    most: int
    after: str


def _text(value: Any, code: Any) -> Any:
    code = written(code)
    if isinstance(value, str):
        try:
            value = float(value)
        except ValueError:
            if re.search(r"\d", value):
                raise NotFollowed(f"TEXT of the text {value[:20]!r} is not followed") from None
            return value
    if code.casefold() in ("general", "@"):
        return written(value)
    if OF_DATES.fullmatch(code) and re.search("[ymdhs]", code, re.IGNORECASE):
        if value < MARCH_1900:
            raise NotFollowed("TEXT of a day before March 1900 is not followed")
        return np.ravel(TEXT(float(value), code))[0]
    return formatted(float(value), code)


def formatted(number: float, code: str) -> str:
    """Write a number in a format.

    Parameters
    ----------
    number : float
        Finite.
    code : str
        With up to three sections, for positive and negative numbers and for 0.

    Returns
    -------
    str
        Halves away from zero.

    Raises
    ------
    NotFollowed
        For a format with anything else than figures and signs.

    Examples
    --------
    >>> formatted(7.125, "0.00"), formatted(-1234.5, "$#,##0;($#,##0)"), formatted(0.5, "0%")
    ('7.13', '($1,235)', '50%')
    """
    sections = _sections(code)
    few = len(sections)
    if number < 0 and few > 1:
        return _in_section(abs(number), sections[1])
    if number == 0 and few > 2:
        return _in_section(0.0, sections[2])
    return _in_section(number, sections[0])


@lru_cache(maxsize=200)
def _sections(code: str) -> tuple[_Section, ...]:
    parts = re.findall(r"(?:\"[^\"]*\"|\\.|[^;])+", code)
    sections = []
    for part in parts:
        found = SECTION.fullmatch(COLOR.sub("", part))
        whole = found["whole"] if found else ","
        if found is None or whole.startswith(",") or whole.endswith(",") or len(parts) > 3:
            raise NotFollowed(f"TEXT with the format {code[:40]!r} is not followed")
        decimals = (found["decimals"] or "").removeprefix(".")
        sections.append(
            _Section(found["before"], whole.count("0"), "," in whole,
                     decimals.rfind("0") + 1, len(decimals), found["after"])
        )  # fmt: skip
    if not sections:
        raise NotFollowed("TEXT without a format is not followed")
    return tuple(sections)


def _in_section(number: float, section: _Section) -> str:
    percent = section.after.count("%")
    rounded = half_up(float(Decimal(f"{number:.15g}").scaleb(2 * percent)), section.most)
    whole, _, decimals = f"{rounded.copy_abs():f}".partition(".")
    if section.most == 0 and section.least == 0 and not whole.strip("0"):
        whole = ""
    whole = whole.lstrip("0").rjust(section.least, "0")
    if section.thousands:
        whole = re.sub(r"(?<=\d)(?=(?:\d{3})+$)", ",", whole)
    shown = decimals[: section.shown] + decimals[section.shown :].rstrip("0")
    sign = "-" if rounded < 0 else ""
    point = f".{shown}" if shown else ""
    return f"{sign}{_plain(section.before)}{whole}{point}{_plain(section.after)}"


def _plain(literals: str) -> str:
    return "".join(
        " " if padded else quoted or escaped or sign
        for quoted, escaped, padded, sign in LITERAL.findall(literals)
    )


def _fixed(number: Any, decimals: Any = 2, no_commas: Any = False) -> str:
    if isinstance(number, str) or isinstance(no_commas, str) or not 0 <= float(decimals) <= 15:
        raise NotFollowed("FIXED of such arguments is not followed")
    shown = "." + "0" * int(decimals) if int(decimals) else ""
    return formatted(float(number), f"{'0' if no_commas else '#,##0'}{shown}")
