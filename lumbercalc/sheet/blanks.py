"""What counts as a blank cell, and what stands in its place in a column."""

from __future__ import annotations

import math
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np

from lumbercalc.sheet.dates import NO_DAY
from lumbercalc.sheet.function import Argument, Kind
from lumbercalc.sheet.refusal import is_number


def is_blank(cell: Any) -> bool:
    """Tell whether a cell is blank: nothing, an empty or white text, or a missing number.

    Parameters
    ----------
    cell : object
        Any cell of any host.

    Returns
    -------
    bool
        True for a blank.

    Examples
    --------
    >>> is_blank("  "), is_blank(float("nan")), is_blank(0)
    (True, True, False)
    """
    if cell is None:
        return True
    if isinstance(cell, str):
        return not cell or cell.isspace()
    if isinstance(cell, (float, np.floating)):
        return math.isnan(cell)
    if isinstance(cell, Decimal):
        return cell.is_nan()
    # A missing date (NaT) is the only one that is not equal to itself.
    return isinstance(cell, (date, np.datetime64)) and bool(cell != cell)


def is_blank_of_calc(argument: Argument, cell: Any) -> bool:
    """Tell whether a cell is the 0 by which Calc hands over a blank one, where a name is chosen.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Any cell of any host.

    Returns
    -------
    bool
        False where 0 may be meant.
    """
    chosen = argument.kind == "text" and argument.shape == "cell" and argument.optional
    return chosen and is_number(cell) and cell == 0


def blank_of(kind: Kind) -> Any:
    """Give the value that stands in a blank cell of a column of this kind.

    Parameters
    ----------
    kind : str
        Kind of the argument.

    Returns
    -------
    object
        NaN, no date, False or an empty text.
    """
    if kind in ("number", "thickness"):
        return math.nan
    if kind == "date":
        return NO_DAY
    return False if kind == "flag" else ""
