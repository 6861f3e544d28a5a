"""Where the defined names of a workbook lead."""

from __future__ import annotations

from openpyxl.workbook.defined_name import DefinedName


def areas_of(defined: DefinedName) -> list[tuple[str, str]]:
    """Give the cells that a defined name names.

    Parameters
    ----------
    defined : DefinedName
        As openpyxl has read it, which leaves an apostrophe in the name of a sheet doubled.

    Returns
    -------
    list of (str, str)
        Title of the sheet and address; none where the name is one of a formula.

    Examples
    --------
    >>> areas_of(DefinedName("board_tag", attr_text="'My Boards''24'!$A$5:$A$304"))
    [("My Boards'24", '$A$5:$A$304')]
    """
    try:
        return [(sheet.replace("''", "'"), cells) for sheet, cells in defined.destinations]
    except AttributeError:  # a piece of a formula that names no sheet
        return []
