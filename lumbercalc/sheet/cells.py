"""Blocks of cells as they come from any host, and columns of checked values made from them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.dates import days, is_serial, serials
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.readers import blank_of, read_cell
from lumbercalc.sheet.refusal import Refused

Block = NDArray[Any]
"""Two-dimensional array of cells: rows and columns."""

ROWS = (list, tuple, np.ndarray)
"""What is not a single cell."""


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
        array = _array(cells)
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


def _array(rows: Sequence[Any]) -> Block:
    """Arrange a column of cells or rows of cells; what is asked of a kind is asked once."""
    kinds = set(map(type, rows))
    nested = {issubclass(kind, ROWS) for kind in kinds}
    if len(nested) > 1:
        raise Refused("mixes cells and rows of cells")
    if nested == {True}:
        if any(issubclass(k, np.ndarray) for k in kinds) and any(np.ndim(row) != 1 for row in rows):
            raise Refused("has rows that are not rows of single cells")
        widths = set(map(len, rows))
        if len(widths) > 1:
            raise Refused("has rows that are not equally long")
        cells, shape = list(chain.from_iterable(rows)), (len(rows), widths.pop())
    else:
        cells, shape = list(rows), (len(rows), 1)
    kinds = set(map(type, cells)) if nested == {True} else kinds
    if kinds and kinds <= {float, int}:
        try:
            return np.array(cells, float).reshape(shape)
        except OverflowError:  # a whole number beyond any float: read as a cell, and refused there
            pass
    if any(issubclass(kind, ROWS) for kind in kinds):
        raise Refused("has rows that are not rows of single cells")
    return np.fromiter(cells, object, len(cells)).reshape(shape)


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
    if argument.kind in ("number", "thickness", "date") and cells.dtype.kind in "fiu":
        return _read_numbers(argument, cells.astype(float, copy=False))
    if argument.kind == "date" and cells.dtype.kind == "M":
        dates, blank = cells.astype("datetime64[D]"), np.isnat(cells)
        if np.all(is_serial(serials(dates)) | blank):
            return Column(dates, blank)
    values = _values(argument, _listed(cells))
    blank = np.zeros(cells.size, bool)
    problems: dict[int, Refused] = {}
    if any(issubclass(kind, (Refused, type(None))) for kind in set(map(type, values))):
        fill = blank_of(argument.kind)
        for place, found in enumerate(values):
            if found is None:
                blank[place] = True
            elif isinstance(found, Refused):
                problems[place] = found
            else:
                continue
            values[place] = fill
    return Column(
        _typed(argument, values).reshape(cells.shape), blank.reshape(cells.shape), problems
    )


def _values(argument: Argument, cells: list[Any]) -> list[Any]:
    """Read each cell; a text stands in many cells of a column, and is read once."""
    all_texts = set(map(type, cells)) == {str}
    distinct = set(cells) if all_texts else {cell for cell in cells if type(cell) is str}
    texts = {text: read_cell(argument, text) for text in distinct}
    if all_texts:
        return [*map(texts.__getitem__, cells)]
    return [texts[cell] if type(cell) is str else read_cell(argument, cell) for cell in cells]


def _listed(cells: Block) -> list[Any]:
    """List the cells; arrays of dates keep their type, of which tolist may make whole numbers."""
    return list(cells.ravel()) if cells.dtype.kind in "OMm" else cells.ravel().tolist()


def _read_numbers(argument: Argument, numbers: NDArray[np.float64]) -> Column:
    """Read a column of numbers at once; only those that are refused are read one by one."""
    is_date = argument.kind == "date"
    if not is_date and argument.limits.all_inside(numbers):
        return Column(numbers, np.zeros(numbers.shape, bool))
    blank = np.isnan(numbers)
    good = is_serial(numbers) if is_date else argument.limits.inside(numbers)
    problems: dict[int, Refused] = {}
    for place in np.flatnonzero(~(good | blank)).tolist():
        found = read_cell(argument, float(numbers.flat[place]))
        if isinstance(found, Refused):
            problems[place] = found
    values = days(np.where(good, numbers, np.nan)) if is_date else numbers
    return Column(values, blank, problems)


def _typed(argument: Argument, values: list[Any]) -> NDArray[Any]:
    if argument.kind in ("number", "thickness"):
        return np.array(values, float)
    if argument.kind == "date":
        return np.array(values, "datetime64[D]")
    if argument.kind == "flag":
        return np.array(values, bool)
    return np.fromiter(values, object, len(values))


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


def out(value: Any, day: Callable[[date], Any], flag: Callable[[bool], Any] = bool) -> Any:
    """Turn one value of an answer into what a cell can hold.

    Parameters
    ----------
    value : object
        Number, text, truth value or date of the answer.
    day : callable
        What stands for a date in this host.
    flag : callable
        What stands for a truth value in this host.

    Returns
    -------
    object
        Python number or text, or what `day` and `flag` give.

    Examples
    --------
    >>> out(np.datetime64("2026-11-02"), str), out(np.True_, str, float)
    ('2026-11-02', 1.0)
    """
    if type(value) in (float, str):  # nearly every cell
        return value
    if isinstance(value, (bool, np.bool_)):
        return flag(bool(value))
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
