"""The defined names of a workbook that is being built."""

from __future__ import annotations

from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName


def define(workbook: Workbook, name: str, text: str) -> None:
    """Give cells, or a formula, a defined name.

    Parameters
    ----------
    workbook : Workbook
        That takes the name; one that it has already leads there from now on.
    name : str
        The name.
    text : str
        Absolute address with its sheet, such as "'Boards'!$C$5:$C$5004", or a formula without "=".
    """
    workbook.defined_names[name] = DefinedName(name, attr_text=text)


def column_area(sheet: str, letter: str, first: int, last: int) -> str:
    """Write the address of some rows of a column.

    Parameters
    ----------
    sheet : str
        Its title.
    letter : str
        Of the column.
    first, last : int
        Rows.

    Returns
    -------
    str
        Absolute, as a name leads there.

    Examples
    --------
    >>> column_area("Boards", "C", 5, 304)
    "'Boards'!$C$5:$C$304"
    """
    return f"'{sheet}'!${letter}${first}:${letter}${last}"


def row_above(column: str) -> str:
    """Write the number of the row above a table's first one.

    Parameters
    ----------
    column : str
        Name of a column of the table.

    Returns
    -------
    str
        Part of a formula: rows may be put in above a table.

    Examples
    --------
    >>> row_above("board_tag")
    '(ROW(INDEX(board_tag,1))-1)'
    """
    return f"(ROW(INDEX({column},1))-1)"


def place(table: str, key: str) -> str:
    """Write the place of this row in a table's named columns.

    Parameters
    ----------
    table, key : str
        Of an input column of the row.

    Returns
    -------
    str
        Part of a formula: 1 in the first row, also once a row was put in above the table.

    Examples
    --------
    >>> place("board", "tag")
    '(ROW({tag})-(ROW(INDEX(board_tag,1))-1))'
    """
    return f"(ROW({{{key}}})-{row_above(f'{table}_{key}')})"
