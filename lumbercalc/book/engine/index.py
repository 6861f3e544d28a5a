"""INDEX as the `formulas` engine computes it, in the one cell that is asked for."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite
from numbers import Real
from typing import Any

import numpy as np
from formulas.functions import XlError
from formulas.ranges import Ranges
from openpyxl.utils import get_column_letter


def of_one_cell(index: Callable[..., Any]) -> Callable[..., Any]:
    """Have the engine's INDEX look at one cell.

    Parameters
    ----------
    index : callable
        The engine's own: it makes an area of each cell, and takes as long as the column is.

    Returns
    -------
    callable
        The same, faster where one cell of one area is asked for by its place. Not for an area up
        to it, A1:INDEX(...): the template has none, and `check` follows none.
    """

    def narrowed(compiling: bool, area: Any, *place: Any) -> Any:
        if not compiling and isinstance(area, Ranges) and len(area.ranges) == 1 and area.values:
            area, place = _narrowed(area, place)
        return index(compiling, area, *place)

    return narrowed


def _narrowed(area: Ranges, place: tuple[Any, ...]) -> tuple[Ranges, tuple[Any, ...]]:
    """Give what INDEX answers the same for: of all cells of an area the one that is asked for."""
    asked = [_alone(one) for one in place]
    if any(isinstance(one, XlError) or one == "" for one in asked):
        return _cell(area, 1, 1), place  # an error, whatever the area holds
    height, width = area.value.shape
    if len(asked) == 1 and 1 in (height, width):
        asked = [1, *asked] if height == 1 else [*asked, 1]
    if len(asked) != 2 or not all(_is_number(one) and one >= 1 for one in asked):
        return area, place
    row, column = map(int, asked)
    if row > height or column > width:
        return _cell(area, 1, 1), (row, column)
    return _cell(area, row, column), (1, 1)


def _cell(area: Ranges, row: int, column: int) -> Ranges:
    """Give one cell of an area as an area."""
    [corners] = area.ranges
    letter = get_column_letter(int(corners["n1"]) + column - 1)
    address = f"{letter}{int(corners['r1']) + row - 1}"
    sheet = corners["sheet_id"]
    name = f"{sheet}!{address}" if sheet else address
    return Ranges().push(name, [[area.value[row - 1, column - 1]]])


def _alone(place: Any) -> Any:
    """Give the value that stands alone; None where there are more."""
    held = np.ravel(place.value if isinstance(place, Ranges) else place)
    return held[0] if len(held) == 1 else None


def _is_number(value: Any) -> bool:
    return isinstance(value, Real) and isfinite(value)
