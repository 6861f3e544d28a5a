"""What a call gives back, and how a host turns it into cells."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.cells import out
from lumbercalc.sheet.dates import LAST_DAY
from lumbercalc.sheet.limits import MOST, Limits

FROM_0 = Limits("number", 0, MOST)
"""Any number from 0 up, as nearly every answer is."""

NOT_REACHED = "not reached"
"""What stands for a date that the air cannot give within five years."""

BEYOND = {
    "f": "the result is too large to be a number",
    "M": f"the result is a date after {LAST_DAY}, the last one that a sheet has",
}
"""Why no cell can hold what `beyond_cells` marks, by the kind of the results' type."""


@dataclass
class Answer:
    """What a call gives: values in the shape of the cells, and where there is none, why.

    Parameters
    ----------
    cells : ndarray, or list
        In reading order: an array where every cell has an answer of one kind, numbers, truth
        values, dates (datetime64[D]) or texts; else a list of numbers, texts, truth values, dates,
        and None for a blank.
    shape : tuple of int
        Rows and columns.
    problems : dict
        Position in reading order to the reason of a refusal.
    remarks : dict
        The same for answers that are a text because there is no number, such as "not reached".
    """

    cells: NDArray[Any] | list[Any]
    shape: tuple[int, int]
    problems: dict[int, str] = field(default_factory=dict)
    remarks: dict[int, str] = field(default_factory=dict)

    @property
    def values(self) -> list[Any]:
        """The cells as a list."""
        return self.cells if isinstance(self.cells, list) else self.cells.tolist()

    def rows(
        self,
        problem: Callable[[str], Any],
        day: Callable[[date], Any],
        blank: Any = "",
        flag: Callable[[bool], Any] = bool,
    ) -> list[list[Any]]:
        """Give the cells of the answer as a host wants them.

        Parameters
        ----------
        problem : callable
            What stands in a refused cell, made from the reason.
        day : callable
            What stands for a date.
        blank : object
            What stands in a blank cell.
        flag : callable
            What stands for a truth value.

        Returns
        -------
        list of list
            Rows of cells.
        """
        if isinstance(self.cells, np.ndarray) and self.cells.dtype.kind == "f":
            rows: list[list[Any]] = self.cells.reshape(self.shape).tolist()
            return rows
        if isinstance(self.cells, np.ndarray) and self.cells.dtype.kind == "O":
            cells = self.cells.tolist()
        else:
            cells = [blank if value is None else out(value, day, flag) for value in self.values]
        for place, reason in self.problems.items():
            cells[place] = problem(reason)
        width = self.shape[1]
        if width == 1:
            return [[cell] for cell in cells]
        return [cells[start : start + width] for start in range(0, len(cells), width)]


def refusal(reason: str) -> Answer:
    """Make the answer of a call that is refused as a whole.

    Parameters
    ----------
    reason : str
        In words.

    Returns
    -------
    Answer
        One cell.
    """
    return Answer([None], (1, 1), {0: reason})


def no_answer(column: NDArray[Any]) -> NDArray[np.bool_]:
    """Mark the rows for which a computation has no answer: NaN, no date, no text.

    Parameters
    ----------
    column : ndarray
        One value a row.

    Returns
    -------
    ndarray of bool
        In the same shape.
    """
    if column.dtype.kind in "fM":
        return np.asarray(np.isnan(column))  # of dates, it marks NaT
    texts = column.tolist() if column.dtype.kind in "OU" else []
    if {None, ""}.isdisjoint(texts):
        return np.zeros(column.shape, bool)
    return np.array([value is None or value == "" for value in texts], bool)


def all_answered(column: NDArray[Any]) -> bool:
    """Tell whether every row of a computation has an answer that a cell can hold.

    Parameters
    ----------
    column : ndarray
        One value a row.

    Returns
    -------
    bool
        False where one is missing, infinite, or a date after 9999.

    Examples
    --------
    >>> all_answered(np.array([1e300, 2.0])), all_answered(np.array([1.0, np.nan]))
    (True, False)
    """
    if column.dtype.kind == "f":  # nearly every column, and in one pass
        return FROM_0.all_inside(column) or bool(np.isfinite(column).all())
    return not (no_answer(column) | beyond_cells(column)).any()


def remarks_at(places: list[int], words: str | list[str]) -> dict[int, str]:
    """Put words to the answers that are a text because there is no number.

    Parameters
    ----------
    places : list of int
        Positions in reading order.
    words : str or list of str
        One text for all, or one for each.

    Returns
    -------
    dict
        Position to words.

    Examples
    --------
    >>> remarks_at([2, 8], "too damp")
    {2: 'too damp', 8: 'too damp'}
    """
    each = np.broadcast_to(np.array(words, object), (len(places),))
    return dict(zip(places, each.tolist(), strict=True))


def beyond_cells(column: NDArray[Any]) -> NDArray[np.bool_]:
    """Mark the rows whose result no cell can hold: an infinity, or a date after 9999.

    Parameters
    ----------
    column : ndarray
        One value a row.

    Returns
    -------
    ndarray of bool
        In the same shape.

    Examples
    --------
    >>> beyond_cells(np.array([1e300, np.inf])).tolist()
    [False, True]
    """
    if column.dtype.kind == "f":
        return np.asarray(np.isinf(column))
    if column.dtype.kind == "M":
        return np.asarray(column > LAST_DAY)
    return np.zeros(column.shape, bool)
