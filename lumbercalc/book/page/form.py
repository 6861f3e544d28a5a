"""Label and value pairs on sheets that are no table: named cells to type in and to read."""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import alignment, padded
from lumbercalc.book.page.names import define, row_above
from lumbercalc.book.page.table import Role
from lumbercalc.book.page.validation import validate
from lumbercalc.sheet.limits import Limits


@dataclass(frozen=True)
class Field:
    """One labelled cell.

    Parameters
    ----------
    name : str
        Defined name of the cell, or "" for none.
    label : str
        What the shop reads, with the unit.
    role : {"input", "result", "check"}
        Typed, computed, or a check in words.
    number_format : str
        Of the cell.
    value : object
        First value of an input, or the formula of a result.
    limits : Limits, optional
        Of an input.
    choices : str
        Formula of a list to choose from.
    about : str
        Note right of the cell.
    """

    name: str
    label: str
    role: Role
    number_format: str
    value: object = None
    limits: Limits | None = None
    choices: str = ""
    about: str = ""


AFTER_THE_LAST = 10**6
"""More rows, and columns, than a table has."""


def chosen_or_first(choice: str, column: str) -> str:
    """Write the formula of what a sheet shows: what was chosen, else the first that has a name.

    Parameters
    ----------
    choice : str
        Name of the cell in which a row's name may be typed.
    column : str
        Name of a table's column of names, which may have blank rows.

    Returns
    -------
    str
        Formula: a blank text for a table without a name.

    Examples
    --------
    >>> chosen_or_first("card_stack", "stack_name")  # doctest: +ELLIPSIS
    '=IF(card_stack<>"",card_stack,IFERROR(INDEX(stack_name,SUMPRODUCT(MIN(ROW(stack_name)...
    """
    rows = f'ROW({column})+{AFTER_THE_LAST}*({column}="")'
    first = f"SUMPRODUCT(MIN({rows}))-{row_above(column)}"
    return f'=IF({choice}<>"",{choice},IFERROR(INDEX({column},{first}),""))'


def or_blank(there: str) -> str:
    """Write the formula of what stands in another cell; what is blank there stays blank.

    Parameters
    ----------
    there : str
        The cell: its address, its name or a formula that finds it.

    Returns
    -------
    str
        Part of a formula: spreadsheets show a blank cell that is referred to as 0.

    Examples
    --------
    >>> or_blank("as_of")
    'IF(as_of="","",as_of)'
    """
    return f'IF({there}="","",{there})'


def row_of(name: str, column: str) -> str:
    """Write the formula of the row of a table in which a name stands.

    Parameters
    ----------
    name : str
        Cell with the name: the cell's own name, or "{key}" of a column.
    column : str
        Name of the table's column of names.

    Returns
    -------
    str
        Formula: a blank text for no name, and for one that is not there.

    Examples
    --------
    >>> row_of("card_name", "stack_name")
    '=IF(card_name="","",IFERROR(MATCH(card_name,stack_name,0),""))'
    """
    return f'=IF({name}="","",IFERROR(MATCH({name},{column},0),""))'


def looked_up(column: str, row: str, unless: str = "") -> str:
    """Write the formula of what stands in a row of a table's column.

    Parameters
    ----------
    column : str
        Name of the column.
    row : str
        Cell with the number of the row in it: its name, or "{key}" of a column.
    unless : str
        Condition under which there is no such row; by default its number is blank.

    Returns
    -------
    str
        Formula: a blank text where there is no such row, or nothing stands in it.

    Examples
    --------
    >>> looked_up("stack_place", "card_row")
    '=IF(card_row="","",IF(INDEX(stack_place,card_row)="","",INDEX(stack_place,card_row)))'
    """
    none = unless or f'{row}=""'
    return f'=IF({none},"",{or_blank(f"INDEX({column},{row})")})'


def write_form(
    workbook: Workbook,
    sheet: Worksheet,
    fields: list[Field],
    at: tuple[int, int],
    label_columns: int = 1,
    value_columns: int = 1,
) -> int:
    """Write labelled cells one under the other.

    Parameters
    ----------
    workbook : Workbook
        Takes the defined names.
    sheet : Worksheet
        Where they stand.
    fields : list of Field
        From top to bottom.
    at : tuple of int
        Row and column of the first label.
    label_columns, value_columns : int
        Columns that a label and a cell reach over.

    Returns
    -------
    int
        The row after the last one.
    """
    row, column = at
    value_column = column + label_columns
    letter = get_column_letter(value_column)
    for field in fields:
        label, cell = sheet.cell(row, column), sheet.cell(row, value_column)
        about = sheet.cell(row, value_column + value_columns)
        label.value, label.style = field.label, "lc label"
        cell.style, cell.number_format = f"lc {field.role}", padded(field.number_format)
        cell.alignment = alignment(field.number_format)
        cell.value = field.value  # type: ignore[assignment]
        if field.about:
            about.value, about.style = field.about, "lc lead"
        if field.role == "input":
            validate(sheet, cell.coordinate, field.limits, field.choices, field.label, "")
        if field.name:
            define(workbook, field.name, f"'{sheet.title}'!${letter}${row}")
        for first, columns in ((column, label_columns), (value_column, value_columns)):
            for number in range(first + 1, first + columns):
                sheet.cell(row, number).style = sheet.cell(row, first).style
            if columns > 1:
                sheet.merge_cells(
                    start_row=row, end_row=row, start_column=first, end_column=first + columns - 1
                )
        row += 1
    return row
