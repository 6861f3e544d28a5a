"""Plain formulas, without a function of ours, as the spreadsheet stored them.

The engine computes some formulas otherwise than a spreadsheet does. Where a value is stored beside
such a formula, and nothing that it reads came to another value, the spreadsheet has computed it:
that value is taken, and what depends on it is computed with it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Mapping
from functools import partial

import numpy as np
from formulas.ranges import Ranges

from lumbercalc.book.engine.areas import areas_read, formula_cells
from lumbercalc.book.engine.filled_down import FilledDown
from lumbercalc.book.engine.values import cell_value, engine_value
from lumbercalc.book.xlsx.cell_value import CellValue, same
from lumbercalc.book.xlsx.places import Area, Place

NO_VALUES = (None, "#NAME?")
"""Stored where a spreadsheet has computed nothing, or knew a function not."""


class AsStored:
    """Takes plain formulas as they are stored, until something that they read changed.

    Parameters
    ----------
    stored : mapping
        Values by place; None or no entry where nothing is stored.
    ours : container
        Places of the formulas that call our functions: these are always computed.
    """

    def __init__(self, stored: Mapping[Place, CellValue | None], ours: Container[Place]) -> None:
        self._stored = stored
        self._ours = ours
        self.taken: dict[Place, CellValue] = {}
        """What the engine came to where another value was taken as it is stored."""
        self._changed: dict[str, set[tuple[int, int]]] = defaultdict(set)

    def changed(self, place: Place) -> bool:
        """Tell whether a formula came to something else than what is stored.

        Parameters
        ----------
        place : tuple
            Of a formula that was computed.

        Returns
        -------
        bool
            False too where the stored value was taken.
        """
        return place[1:] in self._changed[place[0]]

    def watch(self, model: FilledDown, names: Mapping[str, str]) -> None:
        """Look at every formula of a model as soon as it is computed, before others read it.

        Parameters
        ----------
        model : FilledDown
            With all its cells, not finished.
        names : mapping of str to str
            Names of the sheets by those that the engine knows them by.
        """
        for cell, area in formula_cells(model, names):
            node = model.dsp.nodes[cell.output]
            look = partial(self._look, area, partial(areas_read, model, cell, names, area.sheet))
            node["filters"] = (*node["filters"], look)

    def _look(self, area: Area, read: Callable[[], Iterable[Area]], computed: Ranges) -> Ranges:
        """Give what a formula was computed to, or what is stored in its cells."""
        found = [cell_value(value) for value in np.asarray(computed.value, object).ravel()]
        places = area.places
        stored = [self._stored.get(place) for place in places]
        different = [
            place
            for place, was, now in zip(places, stored, found, strict=True)
            if now is None or was is None or not same(was, now)
        ]
        if not different:
            return computed
        is_plain = places[0] not in self._ours and not any(was in NO_VALUES for was in stored)
        if is_plain and not any(self._holds_a_change(each) for each in read()):
            self.taken |= {
                place: now for place, now in zip(places, found, strict=True) if now is not None
            }
            block = np.empty((area.height, area.width), object)
            block.ravel()[:] = [engine_value(was) for was in stored if was is not None]
            return Ranges().set_value(computed.ranges[0], block)
        for sheet, row, column in different:
            self._changed[sheet].add((row, column))
        return computed

    def _holds_a_change(self, area: Area) -> bool:
        changed = self._changed[area.sheet]
        if area.height * area.width < len(changed):
            return any(place[1:] in changed for place in area.places)
        return any(
            area.first_row <= row <= area.last_row
            and area.first_column <= column <= area.last_column
            for row, column in changed
        )
