"""INDEX as the `formulas` engine computes it, in the cells that are asked for."""

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
        The same, faster where one cell of one area is asked for by its place; and whole rows and
        columns where 0 is asked for, of which the engine's own gives one cell. Not for an area up
        to it, A1:INDEX(...): the template has none, and `check` follows none.
    """

    def narrowed(compiling: bool, area: Any, *place: Any) -> Any:
        if not compiling and isinstance(area, Ranges) and len(area.ranges) == 1 and area.values:
            whole = _rows_or_columns(area, place)
            if whole is not None:
                return whole
            area, place = _narrowed(area, place)
        elif not compiling and isinstance(area, np.ndarray):
            asked = [_alone(one) for one in place]
            if asked and all(_is_number(one) and int(one) == 0 for one in asked):
                return area
        return index(compiling, area, *place)

    return narrowed


def _rows_or_columns(area: Ranges, place: tuple[Any, ...]) -> Ranges | None:
    """Give a whole row or column, or all of an area, where 0 is asked for; None otherwise."""
    height, width = area.value.shape
    asked = [_alone(one) for one in _in_line((height, width), place)]
    if len(asked) != 2 or not all(_is_number(one) for one in asked) or 0 not in map(int, asked):
        return None
    row, column = map(int, asked)
    if not (0 <= row <= height and 0 <= column <= width):
        return None
    rows = (row, row) if row else (1, height)
    columns = (column, column) if column else (1, width)
    return _part(area, rows, columns)


def _in_line(shape: tuple[int, ...], place: tuple[Any, ...]) -> tuple[Any, ...]:
    """Give row and column, where one number tells the place in one line."""
    if len(place) == 1 and 1 in shape:
        return (1, *place) if shape[0] == 1 else (*place, 1)
    return place


def _narrowed(area: Ranges, place: tuple[Any, ...]) -> tuple[Ranges, tuple[Any, ...]]:
    """Give what INDEX answers the same for: of all cells of an area the one that is asked for."""
    asked = [_alone(one) for one in place]
    if any(isinstance(one, XlError) or one == "" for one in asked):
        return _cell(area, 1, 1), place  # an error, whatever the area holds
    height, width = area.value.shape
    asked = list(_in_line((height, width), tuple(asked)))
    if len(asked) != 2 or not all(_is_number(one) and one >= 1 for one in asked):
        return area, place
    row, column = map(int, asked)
    if row > height or column > width:
        return _cell(area, 1, 1), (row, column)
    return _cell(area, row, column), (1, 1)


def _cell(area: Ranges, row: int, column: int) -> Ranges:
    """Give one cell of an area as an area."""
    return _part(area, (row, row), (column, column))


def _part(area: Ranges, rows: tuple[int, int], columns: tuple[int, int]) -> Ranges:
    """Give the cells between two rows and two columns of an area, as an area."""
    [corners] = area.ranges
    first, last = (
        f"{get_column_letter(int(corners['n1']) + column - 1)}{int(corners['r1']) + row - 1}"
        for row, column in zip(rows, columns, strict=True)
    )
    sheet = corners["sheet_id"]
    address = first if first == last else f"{first}:{last}"
    held = area.value[rows[0] - 1 : rows[1], columns[0] - 1 : columns[1]]
    return Ranges().push(f"{sheet}!{address}" if sheet else address, held)


def _alone(place: Any) -> Any:
    """Give the value that stands alone; None where there are more."""
    held = np.ravel(place.value if isinstance(place, Ranges) else place)
    return held[0] if len(held) == 1 else None


def _is_number(value: Any) -> bool:
    return isinstance(value, Real) and isfinite(value)
