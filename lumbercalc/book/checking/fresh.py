"""A workbook as it is stored, beside what it comes to when it is computed anew."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from openpyxl.utils.cell import coordinate_to_tuple

from lumbercalc.book.engine.as_stored import AsStored
from lumbercalc.book.engine.compute import Computed
from lumbercalc.book.engine.formula_text import FormulaText
from lumbercalc.book.xlsx.archive import Archive
from lumbercalc.book.xlsx.cell_value import CellValue, in_words, plain, same
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Place, address


@dataclass(frozen=True)
class Fresh:
    """A workbook as it is stored, and as it is computed.

    Parameters
    ----------
    sheets : list of str
        In order.
    old : OldWorkbook
        What the file holds.
    texts : dict
        What was found in each formula.
    names : dict
        The same of each defined name that is no area, by the name.
    ours : list of tuple
        Cells whose formulas call our functions, in the order of the sheets.
    own : set of tuple
        Formulas that are not the template's.
    filled : dict
        Cells that array formulas fill, and the place of the formula.
    computed : Computed
        Values anew.
    archive : Archive
        The file as it was read.
    as_stored : AsStored, optional
        What of it came to another value; None where the file says that its values may be old.
    from_calc : bool
        Whether Calc saved the file.
    """

    sheets: list[str]
    old: OldWorkbook
    texts: dict[Place, FormulaText]
    names: dict[str, FormulaText]
    ours: list[Place]
    own: set[Place]
    filled: dict[Place, Place]
    computed: Computed
    archive: Archive
    as_stored: AsStored | None
    from_calc: bool

    def value(self, place: Place) -> CellValue | None:
        """Give what a cell comes to, or what was typed in it.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        float, str, bool or None
            None for a blank cell, and for a formula that cannot be computed.
        """
        computed = self.computed.values.get((place[0], address(place)))
        if computed is not None:
            return computed
        cell = self.old.cells.get(place)
        typed = cell is not None and not cell.formula and place not in self.filled
        return plain(cell.value) if cell is not None and typed else None

    def is_blank(self, place: Place) -> bool:
        """Tell whether a cell holds neither a value nor a formula.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        bool
            False for a formula that comes to an empty text.
        """
        return place not in self.old.cells and place not in self.filled

    def difference(self, place: Place) -> str:
        """Say what is stored in a cell, and what it comes to.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        str
            Such as "stored 5, fresh 4".
        """
        stored = self.old.stored(place)
        was = "nothing" if stored == "" else in_words(stored)
        return f"stored {was}, fresh {in_words(self.value(place))}"

    @cached_property
    def to_refresh(self) -> dict[Place, CellValue]:
        """What a copy with fresh values has otherwise than the file.

        Every formula beside which nothing is stored; our functions' formulas where another value
        is stored, and what depends on any of these. Where the file says that its values may be
        old, also what our functions' formulas depend on.
        """
        dependence = self.computed.dependence()
        related = {*self.ours}
        if self.as_stored is None:
            related |= {*dependence.before(self.ours), *dependence.after(self.ours)}
        changed = {}
        for (sheet, where), computed in self.computed.values.items():
            place = (sheet, *coordinate_to_tuple(where))
            stored = self.old.stored(place)
            told = place in related or (
                self.as_stored is not None and self.as_stored.changed(place)
            )
            if stored is None or (told and not same(stored, computed)):
                changed[place] = computed
        return changed

    @cached_property
    def taken(self) -> dict[Place, CellValue]:
        """Plain formulas that ours depend on, taken as stored: what they are computed to here."""
        taken = {} if self.as_stored is None else self.as_stored.taken
        before = self.computed.dependence().before(self.ours) if taken else set()
        return {place: value for place, value in taken.items() if place in before}
