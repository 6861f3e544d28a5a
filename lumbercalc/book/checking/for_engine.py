"""What of a workbook the engine computes with: a new workbook of its cells, formulas and names."""

from __future__ import annotations

from openpyxl.utils.cell import get_column_letter, range_boundaries
from openpyxl.utils.exceptions import IllegalCharacterError
from openpyxl.workbook import Workbook
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.engine.compute import NOT_READ
from lumbercalc.book.engine.formula_size import LARGEST_AREA
from lumbercalc.book.engine.formula_text import FormulaText
from lumbercalc.book.engine.written_names import for_the_engine
from lumbercalc.book.page.names import define
from lumbercalc.book.xlsx.cell_value import is_error, plain
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook
from lumbercalc.book.xlsx.places import Area, Place, address
from lumbercalc.book.xlsx.typed import type_in

MOST_FILLED = 500_000
"""Cells that all array formulas of a workbook fill."""


def workbook_for_engine(
    sheets: list[str],
    old: OldWorkbook,
    filled: dict[Place, Place],
    texts: dict[Place, FormulaText],
    names: dict[str, FormulaText],
    missing: dict[Place, str],
    areas: dict[str, Area],
) -> Workbook:
    """Put what is computed with into a new workbook.

    Parameters
    ----------
    sheets : list of str
        In order.
    old : OldWorkbook
        What the file holds.
    filled : dict
        Cells that array formulas fill, and the place of the formula.
    texts : dict
        What was found in each formula.
    names : dict
        The same of each defined name that is no area, by the name.
    missing : dict
        Formulas that are not given to the engine, and why; those that it cannot read are added.
    areas : dict
        Defined names of cells.

    Returns
    -------
    Workbook
        Sheets as `for_the_engine` names them.
    """
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for sheet in sheets:
        workbook.create_sheet(for_the_engine(sheet))
    for place, cell in old.cells.items():
        if cell.formula and place not in missing:
            target = workbook[for_the_engine(place[0])]
            if place in filled or not _put_formula(target, place, cell, texts[place]):
                missing[place] = NOT_READ
        elif not cell.formula and place not in filled:
            value = plain(cell.value)
            typed = workbook[for_the_engine(place[0])][address(place)]
            if is_error(value):
                typed.value = value
            else:
                type_in(typed, value)
    used = set().union(*(text.names for text in texts.values()))
    used |= set().union(*(text.names for text in names.values()))
    for name, area in areas.items():
        if name.casefold() in used:
            define(workbook, name, _written(area))
    for name, text in names.items():
        if name.casefold() in used and not (text.broken or text.not_followed):
            define(workbook, name, text.text.removeprefix("="))
    missing |= {place: missing[first] for place, first in filled.items() if first in missing}
    return workbook


def _put_formula(sheet: Worksheet, place: Place, cell: OldCell, text: FormulaText) -> bool:
    try:
        target = sheet[address(place)]
        target.value = ArrayFormula(cell.area, text.text) if cell.area else text.text
        target.data_type = "f"
    except (IllegalCharacterError, ValueError):
        return False
    return True


def array_formulas(old: OldWorkbook) -> dict[Place, Area]:
    """Give the cells that array formulas fill, without those that are too many, or nonsense.

    Parameters
    ----------
    old : OldWorkbook
        What the file holds.

    Returns
    -------
    dict
        Area by the place of the formula.
    """
    arrays: dict[Place, Area] = {}
    left = MOST_FILLED
    for place, cell in old.cells.items():
        area = _array(place, cell) if cell.area else None
        cells = area.height * area.width if area is not None else 0
        if area is not None and cells <= min(left, LARGEST_AREA):
            arrays[place] = area
            left -= cells
    return arrays


def _array(place: Place, cell: OldCell) -> Area | None:
    try:
        left, top, right, bottom = range_boundaries(cell.area)
        area = Area(place[0], int(left or 0), int(top or 0), int(right or 0), int(bottom or 0))
    except (TypeError, ValueError):
        return None
    return area if area.first == place else None


def _written(area: Area) -> str:
    first = f"${get_column_letter(area.first_column)}${area.first_row}"
    last = f"${get_column_letter(area.last_column)}${area.last_row}"
    return f"'{for_the_engine(area.sheet)}'!{first}" + (f":{last}" if last != first else "")
