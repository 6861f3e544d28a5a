"""Values of cells as the engine has them, and as a file stores them."""

from __future__ import annotations

from typing import Any

import numpy as np
import schedula
from formulas.functions import Error, XlError

from lumbercalc.book.xlsx.cell_value import CellValue


def cell_value(value: Any) -> CellValue | None:
    """Give what a cell can hold.

    Parameters
    ----------
    value : object
        Of the engine.

    Returns
    -------
    float, str, bool or None
        An error as its text; None for an object of the engine, such as an area.
    """
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
