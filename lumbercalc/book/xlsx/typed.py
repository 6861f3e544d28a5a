"""A value put into a cell as it was typed in another workbook."""

from __future__ import annotations

from typing import Any

from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE, Cell

from lumbercalc.book.xlsx.cell_value import LONGEST_TEXT
from lumbercalc.wood.own_species import FORMULA_STARTS


def type_in(cell: Cell, value: Any) -> None:
    """Put a value into a cell as it was: a text that looks like a formula stays a text.

    Parameters
    ----------
    cell : Cell
        Keeps its number format, unless it has none for a date.
    value : object
        A text, number, truth value, date or time; characters that no cell can hold become U+FFFD.
    """
    if not isinstance(value, str):
        number_format = cell.number_format
        cell.value = value
        if number_format not in ("General", "@"):  # else a date takes a format of its own
            cell.number_format = number_format
        return
    cell.value = ILLEGAL_CHARACTERS_RE.sub("\N{REPLACEMENT CHARACTER}", value)[:LONGEST_TEXT]
    cell.data_type = "s"
    if value.startswith((*FORMULA_STARTS, "-")) and cell.number_format != "@":
        cell.quotePrefix = True  # else typing Enter in the cell would make a formula of it
