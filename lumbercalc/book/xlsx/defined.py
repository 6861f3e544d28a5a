"""Which defined names of a workbook lead to cells, and to which."""

from __future__ import annotations

from openpyxl.workbook.defined_name import DefinedName


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
