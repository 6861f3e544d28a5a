"""Read everything a shop may have in a workbook: values, formulas as texts, names, remarks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from openpyxl.workbook import Workbook
from openpyxl.worksheet.formula import ArrayFormula, DataTableFormula

from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.beside_cells import Beside, read_beside
from lumbercalc.book.xlsx.cell_value import CellValue, plain
from lumbercalc.book.xlsx.defined import area_of
from lumbercalc.book.xlsx.places import Area, Place
from lumbercalc.book.xlsx.reader import open_workbook
from lumbercalc.faults import FileFault

MOST_PLACES = 20_000_000
"""Cells of a sheet, blank ones before its last ones too; 5,000 boards take half a million."""
MOST_ROWS, MOST_COLUMNS = 1_048_576, 16_384
"""Of a sheet of a spreadsheet."""
LONGEST_FORMULAS = 300_000_000
"""Characters of all formulas of a sheet: one formula may be shared by a million cells."""


@dataclass(frozen=True)
class OldCell:
    """What stands in a cell.

    Parameters
    ----------
    value : object
        Typed, or stored beside the formula; None where a formula has none.
    formula : str
        With "=" in front; "" where the value was typed.
    area : str
        Address of the cells that an array formula fills; "" for any other.
    """

    value: Any
    formula: str = ""
    area: str = ""


@dataclass(frozen=True)
class OldWorkbook:
    """A workbook as it was found.

    Parameters
    ----------
    cells : dict
        Every cell that holds something, by sheet, row and column, sheet by sheet.
    names : dict
        Defined names of cells.
    other_names : dict
        Defined names of anything else, as texts.
    beside : Beside
        Notes, links, text boxes, charts and the like.
    no_texts : set of tuple
        Formulas beside which the text "" is stored: there a value is not missing.
    """

    cells: dict[Place, OldCell]
    names: dict[str, Area]
    other_names: dict[str, str] = field(default_factory=dict)
    beside: Beside = field(default_factory=Beside)
    no_texts: set[Place] = field(default_factory=set)

    @cached_property
    def rows(self) -> dict[tuple[str, int], dict[int, OldCell]]:
        """The cells of each row by column, by sheet and row."""
        rows: dict[tuple[str, int], dict[int, OldCell]] = {}
        for (sheet, row, column), cell in self.cells.items():
            rows.setdefault((sheet, row), {})[column] = cell
        return rows

    @cached_property
    def last_rows(self) -> dict[tuple[str, int], int]:
        """The last row that holds something, by sheet and column."""
        last: dict[tuple[str, int], int] = {}
        for sheet, row, column in self.cells:
            last[sheet, column] = max(row, last.get((sheet, column), 0))
        return last

    def value(self, name: str) -> Any:
        """Give the value of the first cell of a name.

        Parameters
        ----------
        name : str
            Defined or not.

        Returns
        -------
        object
            None where it is blank, or there is no such name.
        """
        area = self.names.get(name)
        if area is None:
            return None
        cell = self.cells.get(area.first)
        return None if cell is None or cell.value == "" else cell.value

    def stored(self, place: Place) -> CellValue | None:
        """Give what is stored in a cell.

        Parameters
        ----------
        place : tuple
            Of the cell.

        Returns
        -------
        float, str, bool or None
            None where nothing is stored.
        """
        if place in self.no_texts:
            return ""
        cell = self.cells.get(place)
        return None if cell is None else plain(cell.value)


def read_old(archive: Archive) -> OldWorkbook:
    """Read a workbook that a template made and a shop changed.

    Parameters
    ----------
    archive : Archive
        From `open_archive`, of a file saved by any spreadsheet.

    Returns
    -------
    OldWorkbook
        Formulas as texts with the values that are stored beside them: nothing is computed.

    Raises
    ------
    FileFault
        When the file cannot be read.
    """
    path = archive.path
    values = open_workbook(archive)
    formulas = open_workbook(archive, formulas=True)
    with readable(path):
        stored = {place: value for place, value, _ in _cells(values, path)}
        no_texts = {place for place, value in stored.items() if value is None}
        cells: dict[Place, OldCell] = {}
        for place, value, is_formula in _cells(formulas, path):
            if isinstance(value, DataTableFormula):  # no formula that can be read: what it came to
                if stored.get(place) is not None:
                    cells[place] = OldCell(stored[place])
            elif is_formula:
                text = value if isinstance(value, str) else str(getattr(value, "text", "") or "")
                area = value.ref if isinstance(value, ArrayFormula) else ""
                cells[place] = OldCell(stored.get(place), "=" + text.removeprefix("="), area)
            elif value not in (None, ""):
                cells[place] = OldCell(value)
        names, other = _names(formulas)
        with archive.parts() as parts:
            beside = read_beside(parts)
    return OldWorkbook(cells, names, other, beside, no_texts)


def as_old(workbook: Workbook) -> OldWorkbook:
    """Take a workbook that is being built as one that was found.

    Parameters
    ----------
    workbook : Workbook
        From `template.build`.

    Returns
    -------
    OldWorkbook
        Its cells and names.
    """
    cells = {
        (sheet.title, cell.row, cell.column): OldCell(None, str(cell.value))
        if cell.data_type == "f"
        else OldCell(cell.value)
        for sheet in workbook.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value not in (None, "")
    }
    return OldWorkbook(cells, *_names(workbook))


def _cells(workbook: Workbook, path: Path) -> Iterator[tuple[Place, Any, bool]]:
    """Give the cells that the file has; what it says of a sheet's size is not believed."""
    for sheet in workbook.worksheets:
        sheet.reset_dimensions()
        places = characters = 0
        for number, row in enumerate(sheet.iter_rows(), 1):
            places += len(row)
            if number > MOST_ROWS or len(row) > MOST_COLUMNS or places > MOST_PLACES:
                raise FileFault(
                    f"{path}: the sheet {sheet.title[:40]!r} reaches further than {MOST_PLACES:,} "
                    "cells; clear what stands far from the tables"
                )
            for cell in row:
                if cell.value is not None or cell.data_type == "str":  # the text ""
                    place = (sheet.title, int(cell.row or 0), int(cell.column or 0))
                    is_formula = cell.data_type == "f"
                    characters += len(str(cell.value)) if is_formula else 0
                    if characters > LONGEST_FORMULAS:
                        raise FileFault(
                            f"{path}: the formulas of {sheet.title[:40]!r} are longer than "
                            f"{LONGEST_FORMULAS:,} characters"
                        )
                    yield place, cell.value, is_formula


def _names(workbook: Workbook) -> tuple[dict[str, Area], dict[str, str]]:
    names: dict[str, Area] = {}
    other: dict[str, str] = {}
    for name, defined in workbook.defined_names.items():
        area = area_of(defined, workbook.sheetnames)
        if area is None:
            other[name] = defined.attr_text or ""
        else:
            names[name] = area
    return names, other
