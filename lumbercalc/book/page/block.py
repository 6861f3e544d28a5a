"""A block of rows that nobody types in: columns of one formula each, anywhere on a sheet."""

from __future__ import annotations

import re
from collections.abc import Collection
from copy import copy
from dataclasses import dataclass

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import ROW_HEIGHT, padded
from lumbercalc.book.page.names import column_area
from lumbercalc.book.page.table import Column


def row_number(header_row: int) -> str:
    """Write the formula of a column that counts the rows also once some were put in between.

    Parameters
    ----------
    header_row : int
        Of the block.

    Returns
    -------
    str
        Comes to 0 in the first row.

    Examples
    --------
    >>> row_number(10)
    '=ROW()-ROW($A$10)-1'
    """
    return f"=ROW()-ROW($A${header_row})-1"


MORE_ROWS = "put rows in above the last one, and copy a row's formulas to them"
"""What is told where a block of `row_number` is too short."""


@dataclass(frozen=True)
class Block:
    """Rows under a header.

    Parameters
    ----------
    sheet : str
        Where it stands.
    columns : tuple of Column
        From left to right; one without a formula counts the rows: 0, 1, 2.
    rows : int
        As many as are filled.
    header_row : int
        Of the headers.
    left : int
        Number of the first column.
    headed : bool
        False goes on under another block: its last row is in the place of the headers.
    """

    sheet: str
    columns: tuple[Column, ...]
    rows: int
    header_row: int
    left: int = 1
    headed: bool = True

    @property
    def first_row(self) -> int:
        """Row under the headers."""
        return self.header_row + 1

    @property
    def last_row(self) -> int:
        """Last filled row."""
        return self.header_row + self.rows

    def letter(self, key: str) -> str:
        """Give the letter of a column.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        str
            Such as "C".
        """
        keys = [column.key for column in self.columns]
        return get_column_letter(self.left + keys.index(key))

    def area(self, key: str) -> str:
        """Give the filled cells of a column, as another sheet or a chart names them.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        str
            Such as "'Curves'!$C$5:$C$64".
        """
        return column_area(self.sheet, self.letter(key), self.first_row, self.last_row)

    def formula(self, column: Column, row: int) -> str:
        """Write a column's formula for a row.

        Parameters
        ----------
        column : Column
            Its formula has {key} for this row's cell of a column, {key.above} for the one above.
        row : int
            Row number in the sheet.

        Returns
        -------
        str
            As it stands in the cell.
        """

        def address(match: re.Match[str]) -> str:
            return f"${self.letter(match[1])}{row - 1 if match[2] else row}"

        return re.sub(r"\{(\w+)(\.above)?\}", address, column.formula)

    def write(self, sheet: Worksheet) -> None:
        """Write headers and formulas, and set the widths of the columns.

        Parameters
        ----------
        sheet : Worksheet
            With this block's name.
        """
        for column in self.columns:
            letter = self.letter(column.key)
            sheet.column_dimensions[letter].width = column.width
            if self.headed:
                header = sheet[f"{letter}{self.header_row}"]
                header.value, header.style = column.header, "lc header"
            first = sheet[f"{letter}{self.first_row}"]
            first.style, first.alignment = f"lc {column.role}", column.alignment
            first.number_format = padded(column.number_format)
            for count, row in enumerate(range(self.first_row, self.last_row + 1)):
                cell = sheet[f"{letter}{row}"]
                cell._style = copy(first._style)
                cell.value = self.formula(column, row) if column.formula else count
                sheet.row_dimensions[row].height = ROW_HEIGHT

    def write_total(self, sheet: Worksheet, label: str, keys: Collection[str]) -> int:
        """Write the sums of columns under the block.

        Parameters
        ----------
        sheet : Worksheet
            With this block's name.
        label : str
            What stands in the first column.
        keys : collection of str
            Columns that are added up.

        Returns
        -------
        int
            Row of the sums.
        """
        row = self.last_row + 1
        name = self.columns[0]
        for column in self.columns:
            if column is not name and column.key not in keys:
                continue
            letter = self.letter(column.key)
            cell, above = sheet[f"{letter}{row}"], sheet[f"{letter}{self.last_row}"]
            cell.style, cell.number_format = "lc total", above.number_format
            cell.alignment = column.alignment
            total = f"=SUM({letter}{self.first_row}:{letter}{self.last_row})"
            cell.value = label if column is name else total
        return row
