"""Tables for the terminal, in 80 columns: texts and numbers as a workbook has them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rich.box import SIMPLE_HEAD
from rich.table import Table as Printed
from rich.text import Text

from lumbercalc.book.xlsx.cell_value import half_up
from lumbercalc.terminal import text_cell


def new_table(title: str, left: Sequence[str], right: Sequence[str]) -> Printed:
    """Make a table that fits in 80 columns: texts left, numbers and dates right and never cut.

    Parameters
    ----------
    title : str
        Over it.
    left, right : sequence of str
        Headers of its columns, from left to right.

    Returns
    -------
    rich.table.Table
        Without rows.
    """
    printed = Printed(
        title=text_cell(title), title_justify="left", box=SIMPLE_HEAD, padding=(0, 1, 0, 0)
    )
    for header in left:
        printed.add_column(header)
    for header in right:
        printed.add_column(header, justify="right", no_wrap=True)
    return printed


def number_cell(value: Any, digits: int, most: int = 0) -> Text:
    """Show a cell's number with so many digits, or with more where more were typed.

    Parameters
    ----------
    value : object
        Of the cell; what is no number is shown as a text.
    digits : int
        After the point.
    most : int
        Digits that are shown where they are not 0; 0 shows no more than `digits`.

    Returns
    -------
    rich.text.Text
        For a row of a table.

    Examples
    --------
    >>> number_cell(1234.5, 2).plain, number_cell(0.12345, 2, 5).plain
    ('1,234.50', '0.12345')
    >>> number_cell(-0.0021, 2).plain
    '0.00'
    """
    if not isinstance(value, (int, float)):
        return text_cell(value)
    shown = f"{half_up(value, max(digits, most)) + 0:,f}"  # no minus before a 0
    whole, _, part = shown.partition(".")
    return text_cell(f"{whole}.{part[:digits]}{part[digits:].rstrip('0')}" if most else shown)
