"""Values of cells as the engine has them, and as a file stores them."""

from __future__ import annotations

from collections.abc import Callable
from functools import update_wrapper
from typing import Any

import numpy as np
import schedula
from formulas.errors import FoundError, RangeValueError
from formulas.functions import Error, XlError, get_functions, wrap_func
from formulas.ranges import Ranges

from lumbercalc.book.xlsx.cell_value import CellValue

PREFIX = "_XLFN."
"""What stands before the names of functions newer than the format."""
AS_GIVEN = {"input_parser": lambda *given: given}
"""For `wrap_ufunc`: the engine would make numbers of the arguments."""


class Unknown(XlError):  # type: ignore[misc]  # noqa: N818 - a value of the engine
    """Stands for a value that is not known, with the reason; no cell holds it."""

    reason = ""

    @classmethod
    def of(cls, reason: str) -> Unknown:
        """Make one.

        Parameters
        ----------
        reason : str
            Why it is not known.

        Returns
        -------
        Unknown
            A value of its own.
        """
        unknown = cls("#N/A")
        unknown.reason = reason
        return unknown


class Refusal(XlError):  # type: ignore[misc]  # noqa: N818 - a value of the engine
    """What a refused call gives, #NUM! as in Calc, with the reason."""

    reason = ""

    @classmethod
    def of(cls, name: str, reason: str) -> Refusal:
        """Make one.

        Parameters
        ----------
        name : str
            Of the function.
        reason : str
            What PROBLEM says.

        Returns
        -------
        Refusal
            A value of its own: formulas that pass it on keep it.
        """
        refusal = cls("#NUM!")
        refusal.reason = f"{name}: {reason}"
        return refusal


class NotFollowed(FoundError):  # type: ignore[misc]  # noqa: N818 - what is thrown is no fault
    """A function does not answer here: spreadsheets differ, or the engine does.

    Parameters
    ----------
    reason : str
        Why not. What the function gives is `Unknown`, for a branch of an IF may not be taken; it is
        #VALUE! where a workbook is not checked, but made.
    """

    is_check = True
    """Set by `functions.register`."""

    def __init__(self, reason: str) -> None:
        super().__init__(err=Unknown.of(reason) if self.is_check else Error.errors["#VALUE!"])


class LeftOut(int):
    """An argument between commas with nothing in it: 0 to a spreadsheet's own functions."""


def cell_value(value: Any) -> CellValue | None:
    """Give what a cell can hold.

    Parameters
    ----------
    value : object
        Of the engine.

    Returns
    -------
    float, str, bool or None
        An error as its text; None for an object of the engine, such as an area, and for `Unknown`.
    """
    if isinstance(value, Unknown):
        return None
    if isinstance(value, XlError):
        return str(value)
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (int, float, np.integer, np.floating)):
        number = float(value)
        return number if np.isfinite(number) else "#NUM!"
    if value is schedula.EMPTY:
        return ""
    return value if isinstance(value, str) else None


def engine_value(value: CellValue) -> Any:
    """Give a stored value as the engine computes with it.

    Parameters
    ----------
    value : float, str or bool
        From a file.

    Returns
    -------
    object
        The text of an error as that error.
    """
    return Error.errors.get(value, value) if isinstance(value, str) else value


def wrapped(function: Callable[..., Any]) -> Callable[..., Any]:
    """Make a function of the engine of one that takes areas as they are.

    Parameters
    ----------
    function : callable
        Of areas (`Ranges`), arrays and single values.

    Returns
    -------
    callable
        Gives the error that it finds, and #VALUE! where it fails.
    """
    of_areas = wrap_func(function, ranges=True)

    def wrapper(*arguments: Any) -> Any:
        try:
            return of_areas(*arguments)
        except RangeValueError:  # while the formula is compiled
            return schedula.NONE

    return update_wrapper(wrapper, function)


def each_value(argument: Any) -> list[Any]:
    """Give the values of an argument, row by row.

    Parameters
    ----------
    argument : object
        An area, an array or a single value.

    Returns
    -------
    list
        Blank cells are `schedula.EMPTY`.
    """
    if isinstance(argument, Ranges):
        argument = argument.value
    if isinstance(argument, np.ndarray):
        return argument.ravel().tolist()
    return [argument]


def with_each(change: Callable[[Any], Any], argument: Any) -> Any:
    """Give an argument with its values changed one by one.

    Parameters
    ----------
    change : callable
        Of one value.
    argument : object
        An area, an array or a single value.

    Returns
    -------
    object
        An array for an area.
    """
    if isinstance(argument, Ranges):
        argument = argument.value
    if not isinstance(argument, np.ndarray):
        return change(argument)
    changed = argument.astype(object)
    changed.ravel()[:] = [change(value) for value in argument.ravel().tolist()]
    return changed


def shows_nothing(value: Any) -> bool:
    """Tell whether a value that stands for an error hides it: blank, 0, or a text of signs only.

    Parameters
    ----------
    value : object
        Of the engine.

    Returns
    -------
    bool
        False for another number, which may be a second way to it, and for a word about it.

    Examples
    --------
    >>> shows_nothing(""), shows_nothing(0), shows_nothing("-"), shows_nothing("look")
    (True, True, True, False)
    """
    held = cell_value(value)
    if isinstance(held, str):
        return not any(sign.isalnum() for sign in held)
    return held is not None and not held


def engines_own(*names: str) -> dict[str, Any]:
    """Give functions of the engine as they are before others take their places.

    Parameters
    ----------
    *names : str
        In capitals, without the prefix of those newer than the format.

    Returns
    -------
    dict
        By the name that the engine has for each, with the prefix and without.
    """
    table = get_functions()
    return {name: own for name, own in table.items() if name.removeprefix(PREFIX) in names}


def number_or_none(text: str) -> float | None:
    """Read a text as a plain number.

    Parameters
    ----------
    text : str
        Of a cell or a formula.

    Returns
    -------
    float or None
        None where it is none.
    """
    try:
        return float(text)
    except ValueError:
        return None
