"""Which formulas of a workbook depend on which: those before a cell, and those after it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from lumbercalc.book.xlsx.places import Area, Place


class Dependence:
    """The formulas of a workbook with the areas that they read.

    Parameters
    ----------
    read : dict of tuple to sequence of Area
        Areas by the place of the formula.
    """

    def __init__(self, read: Mapping[Place, Sequence[Area]]) -> None:
        self._read = read
        readers: dict[Area, list[Place]] = defaultdict(list)
        for place, areas in read.items():
            for area in areas:
                readers[area].append(place)
        self._readers = dict(readers)
        self._areas: dict[str, list[Area]] = defaultdict(list)
        for area in readers:
            if area.first_row < area.last_row or area.first_column < area.last_column:
                self._areas[area.sheet].append(area)
        self._bounds = {sheet: _bounds(areas) for sheet, areas in self._areas.items()}
        self._formulas: dict[str, list[Place]] = defaultdict(list)
        for place in read:
            self._formulas[place[0]].append(place)
        self._numbers = {
            sheet: np.array([place[1:] for place in places])
            for sheet, places in self._formulas.items()
        }

    def after(self, places: Iterable[Place]) -> dict[Place, Place]:
        """Give the formulas that read any of some cells, directly or through others.

        Parameters
        ----------
        places : iterable of tuple
            Of cells.

        Returns
        -------
        dict of tuple to tuple
            Each formula with the one of the cells that it hangs on; a cell itself only where it
            reads another of them.
        """
        waiting = [(place, place) for place in places]
        found: dict[Place, Place] = {}
        done: set[Area] = set()
        while waiting:
            place, origin = waiting.pop()
            for area in self._areas_with(place):
                if area not in done:
                    done.add(area)
                    new = [reader for reader in self._readers[area] if reader not in found]
                    found |= dict.fromkeys(new, origin)
                    waiting += [(reader, origin) for reader in new]
        return found

    def before(self, places: Iterable[Place]) -> set[Place]:
        """Give the formulas that some formulas read, directly or through others.

        Parameters
        ----------
        places : iterable of tuple
            Of formulas.

        Returns
        -------
        set of tuple
            The formulas themselves are not among them, unless they depend on each other.
        """
        waiting, found = list(places), set()
        done: set[Area] = set()
        while waiting:
            for area in self._read.get(waiting.pop(), ()):
                if area not in done:
                    done.add(area)
                    new = [place for place in self._formulas_in(area) if place not in found]
                    found.update(new)
                    waiting += new
        return found

    def _areas_with(self, place: Place) -> list[Area]:
        sheet, row, column = place
        alone = Area(sheet, column, row, column, row)
        found = [alone] if alone in self._readers else []
        if sheet in self._bounds:
            left, top, right, bottom = self._bounds[sheet].T
            inside = (left <= column) & (column <= right) & (top <= row) & (row <= bottom)
            found += [self._areas[sheet][number] for number in np.flatnonzero(inside)]
        return found

    def _formulas_in(self, area: Area) -> list[Place]:
        if area.height == area.width == 1:
            return [area.first] if area.first in self._read else []
        if area.sheet not in self._numbers:
            return []
        row, column = self._numbers[area.sheet].T
        inside = (area.first_row <= row) & (row <= area.last_row)
        inside &= (area.first_column <= column) & (column <= area.last_column)
        return [self._formulas[area.sheet][number] for number in np.flatnonzero(inside)]


def _bounds(areas: Sequence[Area]) -> NDArray[np.int64]:
    return np.array(
        [(area.first_column, area.first_row, area.last_column, area.last_row) for area in areas],
        np.int64,
    )
