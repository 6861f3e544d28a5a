"""Answers of several cells: how they are put into cells, and how many rows and columns they have.

The engine fills the cells row after row where there are as many as the answer has, of whatever
height, and begins the answer anew in columns that it does not have; ROWS and COLUMNS it knows of
areas only.
"""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from functools import partial
from typing import Any

import numpy as np
from formulas import ranges
from formulas.functions import Error, XlError

from lumbercalc.book.engine.values import each_value, engines_own, wrapped

FITTED = ranges._reshape_array_as_excel
SIZES = engines_own("COLUMNS", "ROWS")
TABLE = 2
"""Axes of rows and columns."""


def register(table: MutableMapping[str, Any]) -> None:
    """Put our own in the place of the engine's.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    ranges._reshape_array_as_excel = fitted
    for name, function in SIZES.items():
        axis = 0 if name.endswith("ROWS") else 1
        table[name] = wrapped(partial(_size, function, axis))


def fitted(answer: Any, shape: tuple[int, int]) -> Any:
    """Put an answer into cells.

    Parameters
    ----------
    answer : ndarray
        Of the engine.
    shape : tuple of int
        Rows and columns of the cells.

    Returns
    -------
    ndarray
        #N/A in the cells that the answer does not have; one row or column is in each of them.
    """
    if np.shape(answer) == shape or np.ndim(answer) != TABLE or shape == (1, 1):
        return FITTED(answer, shape)
    cells = np.full(shape, getattr(answer, "_default", Error.errors["#N/A"]), object)
    height, width = (
        all_of if has == 1 else min(has, all_of)
        for has, all_of in zip(answer.shape, shape, strict=True)
    )
    cells[:height, :width] = answer[:height, :width]
    return cells


def _size(function: Callable[..., Any], axis: int, answer: Any) -> Any:
    values = each_value(answer)
    if len(values) == 1 and isinstance(values[0], XlError):
        return values[0]
    return function(answer) if hasattr(answer, "ranges") else np.atleast_2d(answer).shape[axis]
