"""Blocks of cells as they come from any host, and values as cells can hold them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime
from decimal import Decimal
from itertools import chain
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.refusal import Refused
from lumbercalc.wood.texts import Texts

Block: TypeAlias = NDArray[Any] | Texts
"""Two-dimensional array of cells: rows and columns."""

ROWS = (list, tuple, np.ndarray, Texts)
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
    ndarray or Texts, shape (rows, columns)
        Numbers and truth values keep their type, nothing but texts becomes `Texts`, anything
        else an array of objects.

    Raises
    ------
    Refused
        When the rows are not equally long, or a cell is itself a row.

    Examples
    --------
    >>> block([1.0, None, 3.0]).shape
    (3, 1)
    """
    array: Block
    if isinstance(cells, Texts):
        array = cells
    elif isinstance(cells, np.ndarray):
        texts = Texts.of(cells.ravel().tolist()) if cells.dtype.kind in "OU" else None
        array = cells if texts is None else texts.reshape(*cells.shape)
    elif isinstance(cells, (list, tuple)):
        array = _array(cells)
    else:
        array = np.empty((1, 1), object)
        array[0, 0] = cells
    if array.ndim > 2:
        raise Refused("has more than two dimensions")
    return array if array.ndim == 2 else array.reshape(-1, 1)


def _array(rows: Sequence[Any]) -> Block:
    """Arrange a column of cells or rows of cells; what is asked of a kind is asked once."""
    if (texts := Texts.of(rows)) is not None:
        return texts
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
        if (texts := Texts.of(cells)) is not None:
            return texts.reshape(*shape)
        kinds = set(map(type, cells))
    else:
        cells, shape = list(rows), (len(rows), 1)
    if kinds == {bool}:
        return np.array(cells, bool).reshape(shape)
    if kinds and kinds <= {float, int}:
        try:
            return np.array(cells, float).reshape(shape)
        except OverflowError:  # a whole number beyond any float: read as a cell, and refused there
            pass
    if any(issubclass(kind, ROWS) for kind in kinds):
        raise Refused("has rows that are not rows of single cells")
    return np.fromiter(cells, object, len(cells)).reshape(shape)


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


def listed(cells: NDArray[Any]) -> list[Any]:
    """List cells one by one.

    Parameters
    ----------
    cells : ndarray
        From `block`.

    Returns
    -------
    list
        Arrays of dates keep their type, of which tolist may make whole numbers.
    """
    return list(cells.ravel()) if cells.dtype.kind in "OMm" else cells.ravel().tolist()


def rows_of(cells: NDArray[Any]) -> Iterator[list[Any]]:
    """Go through cells row by row.

    Parameters
    ----------
    cells : ndarray, shape (rows, columns)
        From `block`, as an array.

    Yields
    ------
    list
        The cells of one row.
    """
    for row in cells:
        yield listed(row)
