"""A sheet's table as it is declared: columns with header, unit, formula, limits and width."""

from __future__ import annotations

import re
from copy import copy
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import (
    ROW_HEIGHT,
    alignment,
    all_rows,
    head,
    mark_unless_ok,
    padded,
    print_setup,
)
from lumbercalc.book.page.names import column_area, define
from lumbercalc.book.page.validation import validate
from lumbercalc.sheet.limits import Limits

Role = Literal["input", "result", "check"]

HEADER_ROW = 4
FIRST_ROW = 5
LAST_ROW = 5004
"""The names of columns reach to this row by default: 5,000 boards or weighings."""
ROW = "{row}"
"""Stands in a formula for the number of its row."""
NOTE = "note"
"""Key of the column in which a row says what is wrong with it."""
MOVED = "a cell was moved out of this row: copy the formulas of another row to it"
"""Formulas go after a cell that was cut and pasted, or dragged: the row that it went to would be
counted twice."""


@dataclass(frozen=True)
class Column:
    """One column of a table.

    Parameters
    ----------
    key : str
        Name in formulas and in defined names, such as "width".
    header : str
        What the shop reads, with the unit: "Width (in)".
    role : {"input", "result", "check"}
        Typed by the shop, computed, or a check in words.
    width : float
        Column width in characters.
    number_format : str
        Of the cells.
    formula : str
        For computed columns: {key} is this row's cell of a column of the table.
    limits : Limits, optional
        Of an input: makes the data validation.
    choices : str
        Formula of a list to choose from, such as "=species_names"; looser than limits.
    about : str
        Shown when an input cell is chosen.
    hidden : bool
        Of use to other formulas only.
    """

    key: str
    header: str
    role: Role
    width: float = 11
    number_format: str = "General"
    formula: str = ""
    limits: Limits | None = None
    choices: str = ""
    about: str = ""
    hidden: bool = False

    @property
    def alignment(self) -> Alignment:
        """Texts left, numbers right."""
        return alignment(self.number_format)


def hidden(key: str, header: str, formula: str, number_format: str = "0") -> Column:
    """Declare a column that other formulas read, and nobody else.

    Parameters
    ----------
    key, header, formula, number_format : str
        As of `Column`.

    Returns
    -------
    Column
        A result that is not shown.
    """
    return Column(key, header, "result", 9, number_format, formula, hidden=True)


@dataclass(frozen=True)
class Table:
    """A sheet with one table.

    Parameters
    ----------
    sheet : str
        Name of the sheet.
    name : str
        Prefix of the defined names of its columns: "board" gives board_width.
    lead : str
        One line under the title: what the sheet is for.
    columns : tuple of Column
        Inputs left, results right.
    rows : int
        Rows with formulas in a new workbook.
    frozen : int
        Columns that stay when the sheet is scrolled, and are repeated on every printed page.
    pages_wide : int
        Printed pages side by side.
    last_row : int
        Last row of the named columns: how far the shop can fill down.
    told_in : str
        Key of the column that tells of a cell that was moved out of its row, where there is one.
    """

    sheet: str
    name: str
    lead: str
    columns: tuple[Column, ...]
    rows: int
    frozen: int = 1
    last_row: int = LAST_ROW
    pages_wide: int = 1
    told_in: str = NOTE

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
        return self._letters[key]

    def number(self, key: str) -> int:
        """Give the number of a column.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        int
            1 for A.
        """
        return 1 + [column.key for column in self.columns].index(key)

    def column(self, key: str) -> Column:
        """Give a column by its key.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        Column
            As declared.
        """
        return next(column for column in self.columns if column.key == key)

    def area(self, key: str) -> str:
        """Write the address of a column's cells, to which its name leads.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        str
            Absolute, with the sheet.
        """
        return column_area(self.sheet, self.letter(key), FIRST_ROW, self.last_row)

    def formula(self, column: Column, row: int) -> str:
        """Write a computed column's formula for a row.

        Parameters
        ----------
        column : Column
            With a formula.
        row : int
            Row number in the sheet.

        Returns
        -------
        str
            As it stands in the cell.
        """
        return self._written[column.key].replace(ROW, str(row))

    @cached_property
    def _written(self) -> dict[str, str]:
        """Formulas with the letters of columns, all but the row's number."""
        letters = self._letters

        def cell(match: re.Match[str]) -> str:
            return f"${letters[match[1]]}{ROW}"

        return {
            column.key: re.sub(r"\{(\w+)\}", cell, self._told(column)) for column in self.columns
        }

    def _told(self, column: Column) -> str:
        """Give a column's formula; that of `told_in` tells first of a cell that was moved."""
        if column.key != self.told_in:
            return column.formula
        results = (each.key for each in self.columns if each.role == "result")
        stays = next((key for key in results if key != self.told_in), None)
        own_row = "ROW()" if stays is None else f"ROW({{{stays}}})"
        rows = "+".join(f"ROW({{{key}}})" for key in self.input_keys)
        moved = f"{rows}<>{len(self.input_keys)}*{own_row}"
        return f'=IF({moved},"{MOVED}",{column.formula.removeprefix("=")})'

    @property
    def input_keys(self) -> list[str]:
        """Keys of the columns that a shop types, in their order."""
        return [column.key for column in self.columns if column.role == "input"]

    @cached_property
    def _letters(self) -> dict[str, str]:
        return {column.key: get_column_letter(n) for n, column in enumerate(self.columns, 1)}

    def write(self, workbook: Workbook) -> Worksheet:
        """Add the sheet with its headers, formulas, validations, names and print setup.

        Parameters
        ----------
        workbook : Workbook
            With the named styles.

        Returns
        -------
        Worksheet
            Ready to be filled.
        """
        sheet = (
            workbook[self.sheet] if self.sheet in workbook else workbook.create_sheet(self.sheet)
        )
        beside_repeated = self.frozen + 1 if self.pages_wide > 1 else 1
        head(sheet, self.sheet, self.lead, len(self.columns), lead_column=beside_repeated)
        for column in self.columns:
            letter = self.letter(column.key)
            header = sheet[f"{letter}{HEADER_ROW}"]
            header.value, header.style = column.header, "lc header"
            sheet.column_dimensions[letter].width = column.width
            sheet.column_dimensions[letter].hidden = column.hidden
            self._fill(sheet, column, letter)
            if column.role == "input":
                cells = f"{letter}{FIRST_ROW}:{letter}{self.last_row}"
                validate(sheet, cells, column.limits, column.choices, column.header, column.about)
            define(workbook, f"{self.name}_{column.key}", self.area(column.key))
        last = get_column_letter(len(self.columns))
        sheet.row_dimensions[HEADER_ROW].height = 54
        for row in range(FIRST_ROW, FIRST_ROW + self.rows):
            sheet.row_dimensions[row].height = ROW_HEIGHT
        sheet.auto_filter.ref = f"A{HEADER_ROW}:{last}{FIRST_ROW + self.rows - 1}"
        sheet.freeze_panes = f"{get_column_letter(1 + self.frozen)}{FIRST_ROW}"
        print_setup(sheet, all_rows(last), pages_wide=self.pages_wide)
        sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"
        if self.pages_wide > 1:
            sheet.print_title_cols = f"A:{get_column_letter(self.frozen)}"
        return sheet

    def _fill(self, sheet: Worksheet, column: Column, letter: str) -> None:
        first = sheet[f"{letter}{FIRST_ROW}"]
        first.style = f"lc {column.role}"
        first.number_format = padded(column.number_format)
        first.alignment = column.alignment
        area = f"{letter}{FIRST_ROW}:{letter}{FIRST_ROW + self.rows - 1}"
        for row, (cell,) in enumerate(sheet[area], FIRST_ROW):
            cell._style = copy(first._style)  # each style anew takes most of the time of a build
            if column.formula:
                cell.value = self.formula(column, row)
        if column.role == "check":
            mark_unless_ok(sheet, area, f"${letter}{FIRST_ROW}")
