"""Which defined names of a workbook lead to cells, and to which."""

from __future__ import annotations

import re
from collections.abc import Container

from openpyxl.utils.cell import range_boundaries
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.xlsx.places import Area

LARGEST_NAME = 200_000
"""Cells; a name of more is none of the template's."""

FIXED = re.compile(r"!\$[A-Z]+\$\d+(?::\$[A-Z]+\$\d+)?$", re.IGNORECASE)
"""The end of a name's text that has a dollar before each column and row."""


def is_macro(defined: DefinedName) -> bool:
    """Tell whether a name stands for a macro or a function, and for no cells.

    Excel saves the help of a function in VBA under such a name (ECMA-376 part 1, 18.2.5).

    Parameters
    ----------
    defined : DefinedName
        As openpyxl has read it.

    Returns
    -------
    bool
        True where the name leads to no cells, whatever its text says.

    Examples
    --------
    >>> is_macro(DefinedName("EMC", function=True, vbProcedure=True, attr_text="#REF!"))
    True
    """
    return bool(defined.function or defined.vbProcedure or defined.xlm)


def areas_of(defined: DefinedName | None) -> list[tuple[str, str]]:
    """Give the cells that a defined name names.

    Parameters
    ----------
    defined : DefinedName or None
        As openpyxl has read it, which leaves an apostrophe in the name of a sheet doubled; None
        for a name that is not there.

    Returns
    -------
    list of (str, str)
        Title of the sheet and address; none where the name is one of a formula.

    Examples
    --------
    >>> areas_of(DefinedName("board_tag", attr_text="'My Boards''24'!$A$5:$A$304"))
    [("My Boards'24", '$A$5:$A$304')]
    """
    if defined is None:
        return []
    try:
        return [(sheet.replace("''", "'"), cells) for sheet, cells in defined.destinations]
    except AttributeError:  # a piece of a formula that names no sheet
        return []


def area_of(defined: DefinedName | None, sheets: Container[str]) -> Area | None:
    """Give the cells of a name that names the same ones wherever it is used, and not too many.

    Parameters
    ----------
    defined : DefinedName or None
        As openpyxl has read it; None for a name that is not there.
    sheets : container of str
        Titles of the workbook's sheets.

    Returns
    -------
    Area or None
        None for a name of several areas, of a formula, or that moves with the cell that uses it.

    Examples
    --------
    >>> area_of(DefinedName("board_tag", attr_text="Boards!$A$5:$A$304"), {"Boards"})
    Area(sheet='Boards', first_column=1, first_row=5, last_column=1, last_row=304)
    """
    try:
        [(sheet, cells)] = areas_of(defined)
        bounds = range_boundaries(cells)
    except ValueError:  # several areas, or a formula
        return None
    if defined is None or sheet not in sheets or not FIXED.search(defined.attr_text or ""):
        return None
    area = Area(sheet, *(int(number or 0) for number in bounds))
    return area if area.height * area.width <= LARGEST_NAME else None
