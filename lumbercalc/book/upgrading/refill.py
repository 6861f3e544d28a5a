"""A new workbook that is filled again from an older one: what is placed, and what is kept."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from openpyxl.cell.cell import Cell
from openpyxl.workbook import Workbook

from lumbercalc.book.inputs import NO_SUCH_NUMBER, Kind
from lumbercalc.book.upgrading.kept import Kept
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Place, address
from lumbercalc.book.xlsx.typed import type_in

NO_VALUE = "a formula without a value"


@dataclass
class Refill:
    """A workbook on its way into today's template.

    Parameters
    ----------
    old : OldWorkbook
        As it was found.
    template : int
        Which one made it.
    workbook : Workbook
        Of today's template; takes what was typed.
    rows : Counter
        Filled rows that were placed, by sheet.
    kept : list of Kept
        What has no place.
    done : dict
        Cells of the old workbook that are dealt with, and where each was placed, if it was.
    """

    old: OldWorkbook
    template: int
    workbook: Workbook
    rows: Counter[str] = field(default_factory=Counter)
    kept: list[Kept] = field(default_factory=list)
    done: dict[Place, Place | None] = field(default_factory=dict)

    def cell(self, place: Place) -> Cell:
        """Give a cell of the new workbook.

        Parameters
        ----------
        place : tuple
            Sheet, row and column.

        Returns
        -------
        Cell
            To be filled.
        """
        cell: Cell = self.workbook[place[0]][address(place)]
        return cell

    def place(self, source: Place, target: Place, kind: Kind) -> None:
        """Bring what stands in a cell to its new place.

        Parameters
        ----------
        source, target : tuple
            Sheet, row and column, before and now.
        kind : Kind
            What the input may hold.
        """
        self.done[source] = target
        there = self.old.cells.get(source)
        if there is None:
            return
        where = f"{target[0]}!{address(target)}"
        if there.formula:
            has = there.value not in (None, "")
            self.keep(source, there.formula, f"its value is in {where}" if has else NO_VALUE)
        value = there.value
        if value in (None, ""):
            return
        reason = kind.refusal(value)
        if reason == NO_SUCH_NUMBER:
            self.keep(source, str(value), reason)
            return
        type_in(self.cell(target), value)
        if reason:
            self.keep(source, value, f"it stands in {where} too, but {reason}")

    def keep_cell(self, place: Place, why: str) -> None:
        """Keep what stood in a cell, if anything did.

        Parameters
        ----------
        place : tuple
            Sheet, row and column.
        why : str
            Why it is not in its place.
        """
        there = self.old.cells.get(place)
        if there is not None:
            self.keep(place, there.formula or there.value, why)

    def keep(self, place: Place, value: Any, why: str) -> None:
        """Keep what stood in a cell.

        Parameters
        ----------
        place : tuple
            Sheet, row and column.
        value : object
            What stood there.
        why : str
            Why it is not in its place, or what is wrong with it.
        """
        self.kept.append(Kept(place[0], address(place), value, why))
        self.done.setdefault(place)
