"""Blocks of cells as they come from any host, and columns of checked values made from them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from itertools import chain
from types import NoneType
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.dates import days, is_serial, serials
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.readers import blank_of, read_cell
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


@dataclass
class Column:
    """Checked values of one argument, in the shape of its block.

    Parameters
    ----------
    values : ndarray or Texts
        One value a cell. In a blank one stands what an optional argument is when left out; else
        what stands in blank and refused cells has no meaning.
    blank : ndarray of bool, or None
        True where the cell is blank; None where none is.
    problems : dict
        Position in reading order to the refusal.
    """

    values: Block
    blank: NDArray[np.bool_] | None = None
    problems: dict[int, Refused] = field(default_factory=dict)

    def spread(self, shape: tuple[int, ...]) -> Any:
        """Give the values that go with the rows of a call.

        Parameters
        ----------
        shape : tuple of int
            Rows and columns of the answer.

        Returns
        -------
        object
            One value where there is only one, else a value for each cell in reading order.
        """
        if self.values.size == 1:
            return self.values.ravel()[0]
        if isinstance(self.values, Texts):
            which = np.broadcast_to(self.values.which, shape)
            return Texts(self.values.different, which.ravel())
        return np.broadcast_to(self.values, shape).ravel()


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
    if isinstance(cells, Texts):
        return _read_texts(argument, cells)
    if argument.kind in ("number", "thickness", "date") and cells.dtype.kind in "fiu":
        return _read_numbers(argument, cells.astype(float, copy=False))
    if argument.kind == "date" and cells.dtype.kind == "M":
        dates, blank = cells.astype("datetime64[D]"), np.isnat(cells)
        if np.all(is_serial(serials(dates)) | blank):
            return _column(argument, dates, blank, {})
    if argument.kind == "flag" and cells.dtype.kind == "b":
        return Column(cells)
    found = _each(argument, _listed(cells))
    is_blank, is_refused = _set_apart(found)
    return Column(
        _filled(argument, found, is_blank | is_refused).reshape(*cells.shape),
        is_blank.reshape(cells.shape) if is_blank.any() else None,
        {place: found[place] for place in np.flatnonzero(is_refused).tolist()},
    )


def _read_texts(argument: Argument, cells: Texts) -> Column:
    """Read each different text once."""
    found = [read_cell(argument, text) for text in cells.different]
    is_blank, is_refused = _set_apart(found)
    problems: dict[int, Refused] = {}
    if is_refused.any():
        which = cells.which.ravel()
        places = np.flatnonzero(is_refused[which]).tolist()
        problems = {place: found[which[place]] for place in places}
    return Column(
        _filled(argument, found, is_blank | is_refused)[cells.which],
        is_blank[cells.which] if is_blank.any() else None,
        problems,
    )


def _each(argument: Argument, cells: list[Any]) -> list[Any]:
    """Read each cell; a text stands in many cells of a column, and is read once."""
    texts = {text: read_cell(argument, text) for text in {c for c in cells if type(c) is str}}
    return [texts[cell] if type(cell) is str else read_cell(argument, cell) for cell in cells]


def _listed(cells: NDArray[Any]) -> list[Any]:
    """List the cells; arrays of dates keep their type, of which tolist may make whole numbers."""
    return list(cells.ravel()) if cells.dtype.kind in "OMm" else cells.ravel().tolist()


def _read_numbers(argument: Argument, numbers: NDArray[np.float64]) -> Column:
    """Read a column of numbers at once; only those that are refused are read one by one."""
    is_date = argument.kind == "date"
    if not is_date and argument.limits.all_inside(numbers):
        return Column(numbers)
    blank = np.isnan(numbers)
    good = is_serial(numbers) if is_date else argument.limits.inside(numbers)
    problems: dict[int, Refused] = {}
    for place in np.flatnonzero(~(good | blank)).tolist():
        found = read_cell(argument, float(numbers.flat[place]))
        if isinstance(found, Refused):
            problems[place] = found
    values = days(np.where(good, numbers, np.nan)) if is_date else numbers
    return _column(argument, values, blank, problems)


def _column(
    argument: Argument,
    values: NDArray[Any],
    blank: NDArray[np.bool_],
    problems: dict[int, Refused],
) -> Column:
    if not blank.any():
        return Column(values, None, problems)
    return Column(np.where(blank, _in_a_blank(argument), values), blank, problems)


def _set_apart(found: list[Any]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Mark the cells that are blank and those that are refused."""
    is_blank, is_refused = np.zeros((2, len(found)), bool)
    if any(issubclass(kind, (NoneType, Refused)) for kind in set(map(type, found))):
        is_blank[:] = [value is None for value in found]
        is_refused[:] = [isinstance(value, Refused) for value in found]
    return is_blank, is_refused


def _filled(argument: Argument, found: list[Any], gaps: NDArray[np.bool_]) -> Block:
    """Arrange what was read in the type of its kind, the gaps filled up."""
    if gaps.any():
        fill = _in_a_blank(argument)
        if fill == "" and not argument.optional:  # without a meaning, but to be looked up
            fill = next((value for value in found if isinstance(value, str)), fill)
        found = [fill if gap else value for value, gap in zip(found, gaps.tolist(), strict=True)]
    if argument.kind in ("number", "thickness"):
        return np.array(found, float)
    if argument.kind == "date":
        return np.array(found, "datetime64[D]")
    if argument.kind == "flag":
        return np.array(found, bool)
    texts = Texts.of(found)
    return np.fromiter(found, object, len(found)) if texts is None else texts


def _in_a_blank(argument: Argument) -> Any:
    return default_of(argument) if argument.optional else blank_of(argument.kind)


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
        yield _listed(row)
