"""Columns of checked values, read from the blocks of cells that a call was given."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import NoneType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.blanks import blank_of
from lumbercalc.sheet.cells import Block, listed
from lumbercalc.sheet.dates import days, is_serial, serials
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.readers import read_cell
from lumbercalc.sheet.refusal import Refused
from lumbercalc.wood.texts import Texts


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
        if self.values.shape == shape:
            return self.values.ravel()
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
    found = _each(argument, listed(cells))
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
