"""Blocks of cells as they come from any host, and columns of checked values made from them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.readers import READERS, MemoryOf, blank_of, is_blank
from lumbercalc.sheet.refusal import Refused

Block = NDArray[Any]
"""Two-dimensional array of cells: rows and columns."""


def block(cells: Any) -> Block:
    """Arrange what a host gives, one cell or rows of cells, as a two-dimensional array.

    Parameters
    ----------
    cells : object
        One cell, a sequence of cells (a column), a sequence of rows, or an array of up to two
        dimensions.

    Returns
    -------
    ndarray, shape (rows, columns)
        Numbers keep their type; anything else becomes an array of objects.

    Raises
    ------
    Refused
        When the rows are not equally long, or a cell is itself a row.

    Examples
    --------
    >>> block([1.0, None, 3.0]).shape
    (3, 1)
    """
    if isinstance(cells, np.ndarray):
        array = cells
    elif isinstance(cells, (list, tuple)):
        nested = [isinstance(row, (list, tuple, np.ndarray)) for row in cells]
        if any(nested) and not all(nested):
            raise Refused("mixes cells and rows of cells")
        if any(isinstance(row, np.ndarray) and row.ndim != 1 for row in cells):
            raise Refused("has rows that are not rows of single cells")
        rows = cells if any(nested) else [[cell] for cell in cells]
        width = len(rows[0]) if rows else 1
        if any(len(row) != width for row in rows):
            raise Refused("has rows that are not equally long")
        array = _array(rows, width)
    else:
        array = np.empty((1, 1), object)
        array[0, 0] = cells
    if array.ndim == 0:
        return array.reshape(1, 1)
    if array.ndim == 1:
        return array.reshape(-1, 1)
    if array.ndim > 2:
        raise Refused("has more than two dimensions")
    return array


def _array(rows: Any, width: int) -> Block:
    kinds = {type(cell) for row in rows for cell in row}
    if kinds and kinds <= {float, int}:
        try:
            return np.array([list(row) for row in rows], float)
        except OverflowError:  # a whole number beyond any float: read as a cell, and refused there
            pass
    if kinds & {list, tuple, np.ndarray}:
        raise Refused("has rows that are not rows of single cells")
    array = np.empty((len(rows), width), object)
    for i, row in enumerate(rows):
        for j, cell in enumerate(row):
            array[i, j] = cell
    return array


@dataclass
class Column:
    """Checked values of one argument, in the shape of its block.

    Parameters
    ----------
    values : ndarray
        One value a cell; what stands in blank and refused cells has no meaning.
    blank : ndarray of bool
        True where the cell is blank.
    problems : dict
        Position in reading order to the refusal.
    """

    values: NDArray[Any]
    blank: NDArray[np.bool_]
    problems: dict[int, Refused] = field(default_factory=dict)


def read(argument: Argument, cells: Block) -> Column:
    """Read a block of cells as one argument and check its limits.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cells : ndarray, shape (rows, columns)
        From `block`.

    Returns
    -------
    Column
        In the same shape.
    """
    if argument.kind in ("number", "thickness") and cells.dtype.kind in "fiu":
        return _read_numbers(argument, cells.astype(float, copy=False))
    memory: MemoryOf = {}
    reader = READERS[argument.kind]
    values: list[Any] = []
    problems: dict[int, Refused] = {}
    blank = np.zeros(cells.size, bool)
    fill = blank_of(argument.kind)
    for place, cell in enumerate(_listed(cells)):
        if is_blank(cell):
            blank[place] = True
            values.append(fill)
            continue
        try:
            values.append(reader(argument, cell, memory))
        except Refused as refusal:
            problems[place] = refusal
            values.append(fill)
    return Column(
        _typed(argument, values).reshape(cells.shape), blank.reshape(cells.shape), problems
    )


def _listed(cells: Block) -> list[Any]:
    """List the cells; arrays of dates keep their type, of which tolist may make whole numbers."""
    return list(cells.ravel()) if cells.dtype.kind in "OMm" else cells.ravel().tolist()


def _read_numbers(argument: Argument, numbers: NDArray[np.float64]) -> Column:
    blank = np.isnan(numbers)
    refused = argument.limits.outside(numbers) & ~blank
    problems: dict[int, Refused] = {}
    if refused.any():
        reader = READERS[argument.kind]
        for place in np.flatnonzero(refused).tolist():
            try:
                reader(argument, float(numbers.flat[place]), {})
            except Refused as refusal:
                problems[place] = refusal
    return Column(numbers, blank, problems)


def _typed(argument: Argument, values: list[Any]) -> NDArray[Any]:
    if argument.kind in ("number", "thickness"):
        return np.array(values, float)
    if argument.kind == "date":
        return np.array(values, "datetime64[D]")
    if argument.kind == "flag":
        return np.array(values, bool)
    array = np.empty(len(values), object)
    array[:] = values
    return array


def default_of(argument: Argument) -> Any:
    """Give the value of an argument that is left out.

    Parameters
    ----------
    argument : Argument
        An optional one.

    Returns
    -------
    object
        Its default, or the blank of its kind.
    """
    return blank_of(argument.kind) if argument.default is None else argument.default


def out(value: Any, day: Callable[[date], Any]) -> Any:
    """Turn one value of an answer into what a cell can hold.

    Parameters
    ----------
    value : object
        Number, text, truth value or date of the answer.
    day : callable
        What stands for a date in this host.

    Returns
    -------
    object
        Python number, text, truth value, or what `day` gives.

    Examples
    --------
    >>> out(np.datetime64("2026-11-02"), str)
    '2026-11-02'
    """
    if isinstance(value, np.datetime64):
        return day(value.astype("datetime64[D]").astype(date))
    if isinstance(value, datetime):
        return day(value.date())
    if isinstance(value, date):
        return day(value)
    if isinstance(value, np.generic):
        return value.item()
    if isinstance(value, Decimal):
        return float(value)
    return value


def rows_of(cells: Block) -> Iterator[list[Any]]:
    """Go through a block row by row.

    Parameters
    ----------
    cells : ndarray, shape (rows, columns)
        From `block`.

    Yields
    ------
    list
        The cells of one row.
    """
    for row in cells:
        yield _listed(row)
