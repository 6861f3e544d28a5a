"""What a formula cell comes to, as it is computed and as a file stores it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from decimal import ROUND_HALF_UP, Context, Decimal
from sys import float_info
from typing import Any

from openpyxl.utils.datetime import to_excel

from lumbercalc.sheet.dates import FIRST_SERIAL, LAST_SERIAL, SERIAL_ZERO
from lumbercalc.sheet.refusal import ERROR_TEXTS, MARKER, shown

CellValue = float | str | bool
Values = dict[tuple[str, str], CellValue]
"""Value of each formula cell, by sheet name and address; an error is its text, such as #NUM!."""

SHOWN_NAMES = 5
"""That a fault gives, the last ones on the sheet."""
LONGEST_TEXT = 32_767
"""Characters of a cell (specifications of Excel and Calc)."""
RELATIVE = 1e-9
"""Difference that is none: no spreadsheet keeps more than 15 digits."""
NEARLY_ZERO = 1e-12
"""A remainder such as 1 - 0.9 - 0.1, which a spreadsheet takes for 0."""
ANY_FLOAT = Context(prec=1000)
"""Digits enough to round whatever a cell can hold: 1E+300 to the cent has 303."""


def held(value: Any) -> Any:
    """Give a value of a file as a cell can hold it.

    Parameters
    ----------
    value : object
        As openpyxl reads it.

    Returns
    -------
    object
        The error #NUM! for a number beyond all numbers of a spreadsheet, else the value.

    Examples
    --------
    >>> held(7.5), held(10**400)
    (7.5, '#NUM!')
    """
    if isinstance(value, (int, float)) and not abs(value) <= float_info.max:
        return "#NUM!"
    return value


def plain(value: Any) -> CellValue | None:
    """Give a stored value without its date format.

    Parameters
    ----------
    value : object
        As openpyxl reads it.

    Returns
    -------
    float, str, bool or None
        A date as its day number, what is `held` of a number; None where nothing is stored.
    """
    if isinstance(value, (date, datetime, time, timedelta)):
        return float(to_excel(value))  # type: ignore[no-untyped-call]
    value = held(value)
    return value if value is None or isinstance(value, (bool, str)) else float(value)


def day_of(value: Any) -> date | None:
    """Give the day of a cell.

    Parameters
    ----------
    value : object
        Date, day number, or anything else.

    Returns
    -------
    date or None
        None for what is no day.

    Examples
    --------
    >>> day_of(46000.25), day_of("soon")
    (datetime.date(2025, 12, 9), None)
    """
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, (int, float)) and FIRST_SERIAL <= value <= LAST_SERIAL:
        return SERIAL_ZERO + timedelta(days=int(value))
    return None


def day_text(value: Any) -> str:
    """Write the day of a cell.

    Parameters
    ----------
    value : object
        Date, day number, or anything else.

    Returns
    -------
    str
        What is no day as `text_of` shows it.

    Examples
    --------
    >>> day_text(46000.25), day_text("never"), day_text(None)
    ('2025-12-09', 'never', '')
    """
    day = day_of(value)
    return text_of(value) if day is None else day.isoformat()


def text_of(value: Any) -> str:
    """Show a cell as a spreadsheet joins it to a text.

    Parameters
    ----------
    value : object
        As it is stored.

    Returns
    -------
    str
        "" for a blank one.

    Examples
    --------
    >>> text_of(7.0), text_of("WA-07"), text_of(None)
    ('7', 'WA-07', '')
    """
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)


def half_up(number: float, digits: int) -> Decimal:
    """Round as a sheet rounds and shows: halves of the number's 15 digits away from zero.

    Parameters
    ----------
    number : float
        Finite.
    digits : int
        After the point; negative ones before it.

    Returns
    -------
    Decimal
        With so many digits.

    Examples
    --------
    >>> print(half_up(7.335, 2), half_up(0.5, 0), half_up(3 * 0.145, 2))
    7.34 1 0.44
    """
    exact = Decimal(f"{float(number):.15g}")
    return exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP, ANY_FLOAT)


def name_of(value: Any) -> str:
    """Give a name as it is compared: a spreadsheet looks names up without regard to case.

    Parameters
    ----------
    value : object
        A cell with a tag, the name of a stack or the number of a sale; or what was asked for.

    Returns
    -------
    str
        "" for a blank one.

    Examples
    --------
    >>> name_of("Walnut 1 ") == name_of("walnut 1"), name_of(1001) == name_of("1001")
    (True, True)
    """
    return text_of(value).strip().casefold()


def last_names(cells: Iterable[Any]) -> str:
    """Name the last of those that there are, for the fault of one that is not there.

    Parameters
    ----------
    cells : iterable of object
        With names, from top to bottom.

    Returns
    -------
    str
        Parted by commas; in words where there is none.

    Examples
    --------
    >>> last_names(["Walnut 1", None, "Oak 1"]), last_names([])
    ('Walnut 1, Oak 1', 'none yet')
    """
    names = [text_of(cell) for cell in cells if name_of(cell)]
    return ", ".join(names[-SHOWN_NAMES:]) or "none yet"


def is_error(value: CellValue | None) -> bool:
    """Tell whether a value is an error, or the words of a refusal.

    Parameters
    ----------
    value : float, str, bool or None
        Stored or computed.

    Returns
    -------
    bool
        True for "#NUM!".
    """
    return isinstance(value, str) and (value in ERROR_TEXTS or value.startswith(MARKER))


def same(stored: CellValue | None, fresh: CellValue) -> bool:
    """Tell whether a stored value is the computed one.

    Parameters
    ----------
    stored : float, str, bool or None
        From the file; None where nothing is stored, or the text "".
    fresh : float, str or bool
        As it is computed.

    Returns
    -------
    bool
        Numbers to 1e-9, TRUE as 1, texts exactly, one error as good as another: hosts differ in
        theirs. #NAME? is none of them: the functions were not there when the file was saved.
    """
    if is_error(fresh):
        return is_error(stored) and (stored != "#NAME?" or fresh == "#NAME?")
    if isinstance(fresh, str) or isinstance(stored, str) or stored is None:
        return (stored or "") == fresh
    return math.isclose(stored, fresh, rel_tol=RELATIVE, abs_tol=NEARLY_ZERO)


def in_words(value: CellValue | None) -> str:
    """Show a value in a finding.

    Parameters
    ----------
    value : float, str, bool or None
        Stored or computed.

    Returns
    -------
    str
        Numbers plain, texts in quotes, errors as they are.

    Examples
    --------
    >>> in_words(7.5), in_words("oak"), in_words("#NUM!"), in_words(None)
    ('7.5', 'the text "oak"', '#NUM!', 'nothing')
    """
    if value is None:
        return "nothing"
    return value if value in ERROR_TEXTS else shown(value)
