"""Label and value pairs on sheets that are no table: named cells to type in and to read."""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.layout import alignment, padded
from lumbercalc.book.table import Role
from lumbercalc.book.validation import validation
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
    number_format: str = "General"
    value: object = None
    limits: Limits | None = None
    choices: str = ""
    about: str = ""


def write_form(
    workbook: Workbook, sheet: Worksheet, fields: list[Field], at: tuple[int, int]
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

    Returns
    -------
    int
        The row after the last one.
    """
    row, column = at
    letter = get_column_letter(column + 1)
    for field in fields:
        label, cell, about = (sheet.cell(row, column + n) for n in range(3))
        label.value, label.style = field.label, "lc label"
        cell.style, cell.number_format = f"lc {field.role}", padded(field.number_format)
        cell.alignment = alignment(field.number_format)
        cell.value = field.value  # type: ignore[assignment]
        if field.about:
            about.value, about.style = field.about, "lc lead"
        if field.role == "input":
            rule = validation(field.limits, field.choices, field.label, "")
            if rule is not None:
                rule.add(cell.coordinate)
                sheet.add_data_validation(rule)
        if field.name:
            workbook.defined_names[field.name] = DefinedName(
                field.name, attr_text=f"'{sheet.title}'!${letter}${row}"
            )
        row += 1
    return row
