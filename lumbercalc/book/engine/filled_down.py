"""A workbook's formulas for the `formulas` engine: what is filled down is compiled only once.

The engine compiles each cell by itself, which takes most of its time. In a table the formula of
a row is that of the row above with other addresses: such cells share what was compiled of the
first one, each with its own addresses as inputs.
"""

from __future__ import annotations

import os
import re
from collections import OrderedDict
from functools import lru_cache
from typing import Any

import formulas
from formulas.cell import Cell, Ref, wrap_cell_func
from formulas.excel import BOOK
from formulas.functions import Error
from formulas.ranges import Ranges
from openpyxl.utils import column_index_from_string
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.engine.blank_rows import BlankRows
from lumbercalc.book.xlsx.cell_value import plain

NAMED = "taken.xlsx"
"""By which the engine knows a workbook that is no file."""
ADDRESS = r"(\$?)([A-Z]{1,3})(\$?)([0-9]+)"
TEXT_OR_AREA = re.compile(
    rf"\"[^\"]*\"|(?:'[^']+'!|(?<![\w.])\w+!)?(?<![\w.$\\?]){ADDRESS}(?::{ADDRESS})?(?![\w(.!])",
    re.IGNORECASE,
)
ONE_AREA = re.compile(r"('[^':\[]+'|\w+)!\$[A-Z]{1,3}\$[0-9]+(:\$[A-Z]{1,3}\$[0-9]+)?")
"""What most names stand for: not of another file, nor of several sheets."""
OWN_PLACE = re.compile(r"\b(?:ROW|COLUMN)\s*\(\s*\)", re.IGNORECASE)
"""What is compiled with the cell's own place in it."""
QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'")
CROSSING = re.compile(r"[\w)\]}]\s+[\w([{$]")
"""What two areas have in common, which is computed when it is compiled."""


class FilledDown(formulas.ExcelModel):  # type: ignore[misc]  # the engine has no types
    """The engine's model of a workbook, with one compilation for each filled-down formula."""

    def __init__(self, blank_rows: BlankRows | None = None) -> None:
        """Begin with nothing compiled; `blank_rows` are those that were cut away."""
        super().__init__()
        self._blank_rows = blank_rows
        self._compiled: dict[tuple[str, str], tuple[list[Ranges], Cell]] = {}
        self._known: dict[tuple[str, str], Ranges] = {}
        self._names_not_read: set[str] = set()
        self.not_read: set[tuple[str, str]] = set()
        """Sheet in capitals and address of each formula that the engine cannot read."""

    def take(self, workbook: Workbook) -> FilledDown:
        """Add a workbook's cells and names, without a file of them.

        Parameters
        ----------
        workbook : Workbook
            Its dates become numbers.

        Returns
        -------
        FilledDown
            This model.
        """
        self.basedir = os.devnull  # no folder: nothing beside the workbook can be read
        self.books[NAMED.upper()] = {BOOK: workbook}
        return self.loads(NAMED)  # type: ignore[no-any-return]

    def push(self, worksheet: Any, context: dict[str, Any]) -> FilledDown:
        """Add a sheet's cells.

        Parameters
        ----------
        worksheet : Worksheet
            Of openpyxl.
        context : dict
            Of the workbook.

        Returns
        -------
        FilledDown
            This model.
        """
        return super().push(_Filled(worksheet), context)  # type: ignore[no-any-return]

    def add_references(self, book: Workbook, context: dict[str, Any]) -> dict[str, Any]:
        """Add a workbook's names, with one compilation for those of one area.

        Parameters
        ----------
        book : Workbook
            Names of a sheet's own and hidden ones are left out, as the engine leaves them. What it
            cannot read is left out too, and formulas that use it are not read.
        context : dict
            Of the workbook.

        Returns
        -------
        dict
            Areas by name in capitals, None for what is no area.
        """
        found: dict[str, Any] = {}
        nodes: set[str] = set()
        first: Ref | None = None
        for name in book.defined_names.values():
            if name.hidden or name.localSheetId is not None:
                continue
            is_area = ONE_AREA.fullmatch(name.value or "") is not None
            try:
                if is_area and first is not None:
                    named = _named_area(first, name, context)
                else:
                    named = Ref(name.name.upper(), f"={name.value}", context)
                    named.compile(context=context)
            except Exception:  # as of a formula
                self._names_not_read.add(Ref(name.name.upper(), None, context).output)
                continue
            first = first or (named if is_area else None)
            nodes |= named.add(self.dsp, context=context)
            found[named.output] = None
            self.cells[named.output] = named
        self._update_refs(nodes, found)
        return found

    def _assemble_ranges(self, cells: Any, nodes: Any = None, compact: int = 1) -> None:
        if self._blank_rows is not None:
            self._blank_rows.assemble(self, cells)
        super()._assemble_ranges(cells, nodes, compact)

    def _compile_cell(
        self,
        address: str,
        value: Any,
        context: dict[str, Any],
        check_formula: bool,
        references: dict[str, Any],
    ) -> Cell:
        plain = (address, value, context, check_formula, references)
        if not (check_formula and isinstance(value, str) and value.startswith("=")):
            return super()._compile_cell(*plain)
        try:
            cell = self._compile_formula(*plain)
        except Exception:  # the engine's parser raises whatever a formula happens to cause
            cell = None
        if cell is not None and self._names_not_read.isdisjoint(cell.func.inputs):
            return cell
        self.not_read.add((context["sheet"], address))
        return Cell(address, Error.errors["#NAME?"], context=context, check_formula=False)

    def _compile_formula(
        self,
        address: str,
        value: str,
        context: dict[str, Any],
        check_formula: bool,
        references: dict[str, Any],
    ) -> Cell:
        plain = (address, value, context, check_formula, references)
        shape, written = relative(value, address)
        if OWN_PLACE.search(shape) or CROSSING.search(QUOTED.sub("", shape)):
            return super()._compile_cell(*plain)
        key = (context["sheet"], shape)
        areas = [self._area(one, context) for one in written]
        if key in self._compiled:
            first_areas, first = self._compiled[key]
            moved = _moved(first_areas, areas)
            named = first.func.inputs.keys() & references.keys()
            if moved is not None and first.func.inputs.keys() <= moved.keys() | named:
                return _shared(first, moved, address, context, references)
        letters = value.upper()  # the engine would try every name of the workbook
        used = {
            name: found for name, found in references.items() if name.rpartition("!")[2] in letters
        }
        cell = super()._compile_cell(address, value, context, check_formula, used)
        self._compiled[key] = areas, cell  # the latest: where two areas were one they were no model
        return cell

    def _area(self, written: str, context: dict[str, Any]) -> Ranges:
        """Read an area as it stands in a formula of a sheet; most stand in many."""
        key = (context["sheet"], written)
        if key not in self._known:
            self._known[key] = Ranges().push(written, context=context)
        return self._known[key]


class _Filled:
    """A sheet of the cells that hold something: openpyxl gives every cell up to the last one."""

    def __init__(self, sheet: Any) -> None:
        self._sheet = sheet

    def __getattr__(self, name: str) -> Any:
        return getattr(self._sheet, name)

    def iter_rows(self) -> list[list[Any]]:
        cells = [cell for _, cell in sorted(self._sheet._cells.items()) if cell.value is not None]
        for cell in cells:
            if cell.data_type == "d":
                cell.value = plain(cell.value)
        return [cells]


@lru_cache(maxsize=100_000)  # a workbook's formulas, which are asked for twice
def relative(formula: str, address: str) -> tuple[str, tuple[str, ...]]:
    """Write a formula with the distances from its own cell in place of relative addresses.

    Parameters
    ----------
    formula : str
        As it stands in the cell.
    address : str
        Of the cell, such as "C5".

    Returns
    -------
    tuple of str and tuple of str
        The same for all cells of a formula filled down; and its areas, in their order.

    Examples
    --------
    >>> relative('=IF($A5="","A5",B4+SUM($C$5:$C$9))', "D5")
    ('=IF(A[0]="","A5",[-2][-1]+SUM(C5:C9))', ('$A5', 'B4', '$C$5:$C$9'))
    """
    own = re.fullmatch(ADDRESS, address)
    if own is None:  # an area of one formula, which is never filled down
        return f"{address} {formula}", ()
    row, column = int(own[4]), column_index_from_string(own[2])
    areas: list[str] = []

    def distances(found: re.Match[str]) -> str:
        if found[0].startswith('"'):
            return found[0]
        areas.append(found[0])
        sheet, mark, area = found[0].rpartition("!")
        parts = [
            (letter if fixed_column else f"[{column_index_from_string(letter) - column}]")
            + (number if fixed_row else f"[{int(number) - row}]")
            for fixed_column, letter, fixed_row, number in re.findall(ADDRESS, area.upper())
        ]
        return sheet + mark + ":".join(parts)

    return TEXT_OR_AREA.sub(distances, formula), tuple(areas)


def _moved(first: list[Ranges], other: list[Ranges]) -> dict[str, Ranges] | None:
    """Give the area that stands for each of the first cell's areas, by name; None if unclear."""
    moved: dict[str, Ranges] = {}
    for one, another in zip(first, other, strict=True):
        name = one.ranges[0]["name"]
        if name in moved and moved[name].ranges[0]["name"] != another.ranges[0]["name"]:
            return None
        moved[name] = another
    return moved


def _named_area(first: Ref, name: DefinedName, context: dict[str, Any]) -> Ref:
    """Share what was compiled of the first name that stands for one area."""
    named = Ref(name.name.upper(), None, context)
    [given] = first.func.inputs
    _take(named, first, OrderedDict({given: Ranges().push(name.value, context=context)}))
    return named


def _shared(
    first: Cell,
    moved: dict[str, Ranges],
    address: str,
    context: dict[str, Any],
    references: dict[str, Any],
) -> Cell:
    """Share what was compiled of the first cell of a formula that is filled down."""
    cell = Cell(address, None, context=context, check_formula=False)
    inputs = OrderedDict(
        (name, area if name in references else moved[name])
        for name, area in first.func.inputs.items()
    )
    _take(cell, first, inputs, references)
    return cell


def _take(
    cell: Cell,
    first: Cell,
    inputs: OrderedDict[str, Ranges],
    references: dict[str, Any] | None = None,
) -> None:
    """Have a cell or name compute what another one does, of areas of its own."""
    cell.func = wrap_cell_func(first.func.func, cell._args)
    cell.func.__name__ = f"={cell.output}"  # the engine counts up from 0 for a name that is taken
    cell.func.inputs = inputs
    cell.update_inputs(references=references)
