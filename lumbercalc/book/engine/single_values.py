"""What is computed value by value, with a short way for single values.

The engine takes NumPy's way for blocks with each operator and each IF, and puts each area together
of the cells that it is given. Nearly all that a formula computes with is one cell, and that way
took a fifth of the time of a workbook.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import update_wrapper
from typing import Any

import numpy as np
import schedula
from formulas.functions import XlError, wrap_ufunc
from formulas.ranges import Ranges

PUT_TOGETHER = Ranges.value
"""The engine's own value of an area."""
INNER = ("args_parser", "safe_eval", "otype", "return_func")
"""What the engine's `wrap_ufunc` does with one value of each argument, and before and after it."""


def register() -> None:
    """Have the engine take an area that it was given whole as it is."""
    Ranges.value = property(_value)


def _value(area: Ranges) -> Any:
    if area._value is schedula.NONE and len(area.ranges) == 1:
        _, area._value = area.values.get(area.ranges[0]["name"], (None, schedula.NONE))
    return PUT_TOGETHER.fget(area)


def value_by_value(function: Callable[..., Any], **how: Any) -> Callable[..., Any]:
    """Make a function of the engine of one that takes single values.

    Parameters
    ----------
    function : callable
        Of numbers, texts, truth values and errors.
    **how
        As `wrap_ufunc` takes it; not for arguments that are areas as a whole.

    Returns
    -------
    callable
        Of areas, arrays and single values.
    """
    return with_short_way(wrap_ufunc(function, **{"check_error": first_error, **how}))


def first_error(*values: Any) -> XlError | None:
    """Find the first error among single values.

    Parameters
    ----------
    *values : object
        Of the engine.

    Returns
    -------
    XlError or None
        None where there is none.
    """
    return next((value for value in values if isinstance(value, XlError)), None)


def with_short_way(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a function of the engine a short way for single values.

    Parameters
    ----------
    function : callable
        Made by `wrap_ufunc`.

    Returns
    -------
    callable
        Answers the same; what it is given otherwise, and what fails, is for the function itself.
    """
    held = inspect.getclosurevars(inspect.unwrap(function, stop=_is_made)).nonlocals
    parse, evaluate, kind, finish = (held[name] for name in INNER)

    def answer(*cells: Any) -> Any:
        try:
            values = [cell.value if isinstance(cell, Ranges) else cell for cell in cells]
            given = tuple(parse(*map(_single, values)))
            block = np.empty((1,) * max(map(_dimensions, values)), object)
            block[(0,) * block.ndim] = evaluate(*given)
            return finish(block.view(kind), *given)
        except Exception:  # of whatever kind
            return function(*cells)

    return update_wrapper(answer, function)


def _is_made(function: Callable[..., Any]) -> bool:
    return set(INNER) <= set(function.__code__.co_freevars)


def _single(value: Any) -> Any:
    """Give the one value of a block; ValueError where there are more."""
    is_plain = type(value) is float or isinstance(value, str)
    return value if is_plain else np.asarray(value, object).item()


def _dimensions(value: Any) -> int:
    return value.ndim if isinstance(value, np.ndarray) else 0
