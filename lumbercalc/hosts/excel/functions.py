"""The functions in Excel: the module that xlwings serves, its UDF module.

Every function of the catalogue is here under its own name, marked by xlwings' decorators. Off
Windows these do nothing, and the functions can be called as they are.

A refused cell is a text that begins with the marker; the VBA module of `wrappers` makes a
true error of it, and without that module the text itself says in the cell what is wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time
from typing import Any

import xlwings

from lumbercalc.hosts.excel.wrappers import LONGEST_HELP
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function
from lumbercalc.sheet.help import argument_help, function_help, signature
from lumbercalc.sheet.refusal import MARKER, shortened

LONGEST_TEXT = 255
"""Characters of a text in rows of cells, and so of a refusal."""

ERROR_CODES = {
    **{2000: "#NULL!", 2007: "#DIV/0!", 2015: "#VALUE!", 2023: "#REF!", 2029: "#NAME?"},
    **{2036: "#NUM!", 2042: "#N/A", 2043: "#GETTING_DATA", 2045: "#SPILL!", 2046: "#CONNECT!"},
    **{2047: "#BLOCKED!", 2048: "#UNKNOWN!", 2049: "#FIELD!", 2050: "#CALC!"},
}
"""Excel's error values by their number (XlCVError)."""

ERRORS = {code - 2_146_828_288: text for code, text in ERROR_CODES.items()}
"""The same as they arrive: as whole numbers, where every number of a cell is a float."""


def refusal_text(reason: str) -> str:
    """Write a refusal for a cell.

    Parameters
    ----------
    reason : str
        Why it is refused.

    Returns
    -------
    str
        The marker and the reason.

    Examples
    --------
    >>> refusal_text("width_in is 0 in")
    '#INPUT: width_in is 0 in'
    """
    return shortened(MARKER + reason, LONGEST_TEXT)


def taken(given: Any) -> Any:
    """Take the cells of one argument from xlwings.

    Parameters
    ----------
    given : object
        Rows of cells; None for an argument left out.

    Returns
    -------
    object
        Rows of cells, or a cell that stands alone; errors as their texts.

    Examples
    --------
    >>> taken([[7.5]]), taken([[1.0, -2146826246]])
    (7.5, [[1.0, '#N/A']])
    """
    if not isinstance(given, (list, tuple)):
        return given
    rows = [
        [ERRORS.get(cell, cell) if type(cell) is int else cell for cell in row] for row in given
    ]
    return rows[0][0] if len(rows) == len(rows[0]) == 1 else rows


def answered(function: Function, given: tuple[Any, ...]) -> Any:
    """Answer a call of Excel; never raises.

    Parameters
    ----------
    function : Function
        A function of the catalogue.
    given : tuple
        Of each argument what xlwings hands over.

    Returns
    -------
    object
        One cell, or rows of cells: numbers, texts, truth values, datetimes, "" for a blank.
    """
    refusal = str if function.repeats else refusal_text  # what explains answers in plain words
    try:
        answer = call(function.name, [taken(cells) for cells in given])
        rows = answer.rows(problem=refusal, day=lambda day: datetime.combine(day, time()))
    except Exception as fault:  # xlwings would show the bare words of it as if they were an answer
        return refusal(f"{function.name} failed: {type(fault).__name__}: {fault}")
    if len(rows) == len(rows[0]) == 1:
        return rows[0][0]
    return [
        [shortened(cell, LONGEST_TEXT) if isinstance(cell, str) else cell for cell in row]
        for row in rows
    ]


def worksheet_function(function: Function) -> Callable[..., Any]:
    """Make the function that xlwings serves.

    Parameters
    ----------
    function : Function
        A function of the catalogue.

    Returns
    -------
    callable
        With the declared arguments, its help and its group, for xlwings to find.
    """

    def answer(*given):  # type: ignore[no-untyped-def]  # xlwings would take hints as converters
        return answered(function, given)

    answer.__name__ = answer.__qualname__ = function.name
    answer.__doc__ = shortened(function_help(function), LONGEST_HELP)
    answer.__signature__ = signature(function, lambda _: None)  # type: ignore[attr-defined]
    marked: Callable[..., Any] = answer
    for argument in function.arguments:
        about = shortened(argument_help(argument), LONGEST_HELP)
        # A block stays a block, and an error says which one it is: else it would arrive as a blank.
        marked = xlwings.arg(argument.name, doc=about, ndim=2, err_to_str=True)(marked)
    return xlwings.func(category=function.group)(marked)  # last: each mark sets the group anew


globals().update({name: worksheet_function(one) for name, one in CATALOGUE.items()})
