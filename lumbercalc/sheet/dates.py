"""Dates and the serial numbers under which spreadsheets keep them."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.limits import Numbers
from lumbercalc.sheet.refusal import is_number, refuse_errors, refused

FIRST_SERIAL = 18264
"""Serial of 1950-01-01: a smaller number is a year or a count, such as 2026 typed for a date, and
no day of a shop."""

LAST_SERIAL = 2958465
"""Serial of LAST_DAY."""

LAST_DAY = np.datetime64("9999-12-31", "D")
"""The last day of both hosts."""

NO_DAY = np.datetime64("NaT", "D")
"""The date of a blank cell."""

SERIAL_ZERO = date(1899, 12, 30)
"""Day 0 of the hosts' serial dates from 61 up."""

FIRST_DAY = SERIAL_ZERO + timedelta(days=FIRST_SERIAL)
"""1950-01-01, the first date that the functions take."""


def serial(day: date) -> float:
    """Count a date the way a spreadsheet stores it.

    Parameters
    ----------
    day : date
        From 1900-03-01: before it the hosts' calendars differ.

    Returns
    -------
    float
        Days since 1899-12-30 [day].

    Examples
    --------
    >>> serial(date(2026, 3, 1))
    46082.0
    """
    return float((day - SERIAL_ZERO).days)


def is_serial(numbers: Numbers) -> Any:
    """Mark the numbers that are dates of both hosts.

    Parameters
    ----------
    numbers : float or ndarray of float [day]
        Serial numbers.

    Returns
    -------
    bool or ndarray of bool
        False outside FIRST_SERIAL to the end of LAST_SERIAL, and for NaN.

    Examples
    --------
    >>> is_serial(46082.75), is_serial(60.0)
    (True, False)
    """
    return (numbers >= FIRST_SERIAL) & (numbers < LAST_SERIAL + 1)


def days(serials: NDArray[np.float64]) -> NDArray[np.datetime64]:
    """Give the dates of serial numbers.

    Parameters
    ----------
    serials : ndarray of float [day]
        From FIRST_SERIAL to before the day after LAST_SERIAL; NaN for a blank.

    Returns
    -------
    ndarray of datetime64[D]
        The days, without their times; no date for a blank.

    Examples
    --------
    >>> days(np.array([46082.75, np.nan])).tolist()
    [datetime.date(2026, 3, 1), None]
    """
    whole = np.floor(np.where(np.isnan(serials), 0.0, serials)).astype("timedelta64[D]")
    return np.where(np.isnan(serials), NO_DAY, np.datetime64(SERIAL_ZERO, "D") + whole)


def serials(dates: NDArray[np.datetime64]) -> NDArray[np.float64]:
    """Count dates the way a spreadsheet stores them.

    Parameters
    ----------
    dates : ndarray of datetime64[D]
        Any days.

    Returns
    -------
    ndarray of float [day]
        Serial numbers; NaN for no date. Days that no spreadsheet has get one too.

    Examples
    --------
    >>> serials(np.array(["2026-03-01", "NaT"], "datetime64[D]"))
    array([46082.,    nan])
    """
    count = (dates - np.datetime64(SERIAL_ZERO, "D")).astype(float)
    return np.where(np.isnat(dates), np.nan, count)


def read_date(argument: Argument, cell: Any) -> np.datetime64:
    """Read a date: a date, a datetime, ISO text, or a serial number.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    datetime64[D]
        The day; a time of day is dropped.

    Raises
    ------
    Refused
        For anything else, for days before 1950, and for times with a time zone.
    """
    refuse_errors(argument, cell)
    how = f", as YYYY-MM-DD or a date cell from {FIRST_DAY} to {LAST_DAY}"
    if isinstance(cell, str):
        try:
            cell = datetime.fromisoformat(cell.strip())
        except ValueError:
            raise refused(argument, cell, how) from None
    if isinstance(cell, datetime):
        if cell.tzinfo is not None:
            raise refused(argument, cell, " without a time zone")
        cell = cell.date()
    if isinstance(cell, date):
        number = serial(cell)
    elif isinstance(cell, np.datetime64):  # a year beyond 9999 is no Python date
        number = float((cell.astype("datetime64[D]") - np.datetime64(SERIAL_ZERO)).astype(int))
    elif not is_number(cell):
        raise refused(argument, cell, how)
    else:
        try:
            number = float(cell)
        except OverflowError:
            raise refused(argument, cell, how) from None
    if not is_serial(number):
        raise refused(argument, cell, how)
    return np.datetime64(SERIAL_ZERO + timedelta(days=int(number)), "D")
