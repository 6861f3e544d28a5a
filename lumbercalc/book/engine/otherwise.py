"""One formula of a computed workbook, computed once more in another way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from formulas.ranges import Ranges

from lumbercalc.book.engine.areas import formula_cells
from lumbercalc.book.engine.values import Refusal, cell_value, each_value
from lumbercalc.book.xlsx.cell_value import CellValue
from lumbercalc.book.xlsx.places import Place


@dataclass
class Way:
    """In which way the engine computes.

    Parameters
    ----------
    blanks_stay : bool
        Whether a blank cell that stands alone is blank in a workbook of Calc, too.
    is_frank : bool
        Whether what answers for errors leaves refusals as they are: an IFERROR that would show
        nothing, and ISERROR and the like.
    """

    blanks_stay: bool = False
    is_frank: bool = False

    @contextmanager
    def of(self, *, blanks_stay: bool, is_frank: bool) -> Iterator[None]:
        """Compute so for a while.

        Parameters
        ----------
        blanks_stay, is_frank : bool
            As of the class.

        Yields
        ------
        None
            While it is so.
        """
        self.blanks_stay, self.is_frank = blanks_stay, is_frank
        try:
            yield
        finally:
            self.blanks_stay = self.is_frank = False


WAY = Way()
"""The engine's functions look here."""


@dataclass(frozen=True)
class Answer:
    """What a formula comes to, before it is put into its cells.

    Parameters
    ----------
    values : list of list
        Row by row; None for what no cell can hold.
    refusals : dict
        Reason of each call that this formula itself refuses, by row and column from 0 on.
    """

    values: list[list[CellValue | None]]
    refusals: dict[tuple[int, int], str]

    @property
    def height(self) -> int:
        """Rows of it."""
        return len(self.values)

    @property
    def width(self) -> int:
        """Columns of it."""
        return len(self.values[0])


class Again:
    """Computes formulas of a workbook once more.

    Parameters
    ----------
    model : ExcelModel
        Of the engine, with all its cells.
    solution : mapping
        What it came to.
    names : mapping of str to str
        Names of the sheets by those that the engine knows them by.
    """

    def __init__(self, model: Any, solution: Any, names: Mapping[str, str]) -> None:
        self._model, self._solution, self._names = model, solution, names
        self._answers: dict[tuple[Place, bool, bool], Answer | None] = {}

    @cached_property
    def _cells(self) -> dict[Place, Any]:
        return {area.first: cell for cell, area in formula_cells(self._model, self._names)}

    def answer(
        self, place: Place, *, blanks_stay: bool = False, is_frank: bool = False
    ) -> Answer | None:
        """Compute a formula of the cells as they were computed.

        Parameters
        ----------
        place : tuple
            Of the formula.
        blanks_stay, is_frank : bool
            As of `Way`.

        Returns
        -------
        Answer or None
            None where it was not computed.
        """
        asked = (place, blanks_stay, is_frank)
        if asked not in self._answers:
            with WAY.of(blanks_stay=blanks_stay, is_frank=is_frank):
                self._answers[asked] = self._compute(place)
        return self._answers[asked]

    def _compute(self, place: Place) -> Answer | None:
        cell = self._cells.get(place)
        given = [self._solution.get(key) for key in (cell.inputs or () if cell else ())]
        if cell is None or any(value is None for value in given):
            return None
        found = cell.func(*given)
        block = np.asarray(found.value if isinstance(found, Ranges) else found, object)
        block = block.reshape(1, -1) if block.ndim < 2 else block
        came_in = {id(value) for each in given for value in each_value(each)}
        refusals = {
            where: value.reason
            for where, value in np.ndenumerate(block)
            if isinstance(value, Refusal) and id(value) not in came_in
        }
        return Answer([[cell_value(value) for value in row] for row in block], refusals)
