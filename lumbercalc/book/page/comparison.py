"""Choices side by side: a table on its side, a column for each choice and a row for each figure."""

from __future__ import annotations

import re
from dataclasses import dataclass

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import ROW_HEIGHT, padded
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import Column
from lumbercalc.book.page.validation import validate


@dataclass(frozen=True)
class Section:
    """Rows of one topic under a title.

    Parameters
    ----------
    title : str
        Over the rows.
    figures : tuple of Column
        One a row; header is the label and width the height of the row in lines.
    """

    title: str
    figures: tuple[Column, ...]


@dataclass(frozen=True)
class Comparison:
    """Choices side by side.

    Parameters
    ----------
    sheet : str
        Name of the sheet.
    name : str
        Prefix of the defined names of its rows: "option" gives option_place.
    sections : tuple of Section
        From top to bottom.
    choices : int
        Columns right of the labels, which are in column A.
    top : int
        Row of the first section's title.
    """

    sheet: str
    name: str
    sections: tuple[Section, ...]
    choices: int
    top: int

    @property
    def figures(self) -> tuple[Column, ...]:
        """All rows that hold figures."""
        return tuple(figure for section in self.sections for figure in section.figures)

    @property
    def columns(self) -> list[str]:
        """Letters of the columns of the choices, from B on."""
        return [get_column_letter(number) for number in range(2, self.choices + 2)]

    @property
    def last_row(self) -> int:
        """Row of the last figure."""
        return self.top + len(self.figures) + len(self.sections) - 1

    def figure(self, key: str) -> Column:
        """Give a figure by its key.

        Parameters
        ----------
        key : str
            Of the figure.

        Returns
        -------
        Column
            As declared.
        """
        return next(figure for figure in self.figures if figure.key == key)

    def row(self, key: str) -> int:
        """Give the row of a figure.

        Parameters
        ----------
        key : str
            Of the figure.

        Returns
        -------
        int
            Row number in the sheet.
        """
        row = self.top
        for section in self.sections:
            for number, figure in enumerate(section.figures, row + 1):
                if figure.key == key:
                    return number
            row += 1 + len(section.figures)
        raise KeyError(key)

    def span(self, key: str) -> str:
        """Give the cells of a figure, for all choices.

        Parameters
        ----------
        key : str
            Of the figure.

        Returns
        -------
        str
            Such as "$B$12:$M$12".
        """
        row = self.row(key)
        return f"${self.columns[0]}${row}:${self.columns[-1]}${row}"

    def formula(self, figure: Column, column: str) -> str:
        """Write a figure's formula for a choice.

        Parameters
        ----------
        figure : Column
            Its formula has {key} for a figure of the same choice.
        column : str
            Letter of the choice.

        Returns
        -------
        str
            As it stands in the cell.
        """
        return re.sub(r"\{(\w+)\}", lambda match: f"{column}${self.row(match[1])}", figure.formula)

    def write(self, workbook: Workbook, sheet: Worksheet) -> None:
        """Write titles, labels, formulas, validations and names.

        Parameters
        ----------
        workbook : Workbook
            Takes the defined names.
        sheet : Worksheet
            With this comparison's name.
        """
        row = self.top
        for section in self.sections:
            for number in range(1, self.choices + 2):
                sheet.cell(row, number).style = "lc section"
            sheet.cell(row, 1).value = section.title
            sheet.row_dimensions[row].height = ROW_HEIGHT
            for number, figure in enumerate(section.figures, row + 1):
                self._write_figure(sheet, figure, number)
                name = f"{self.name}_{figure.key}"
                define(workbook, name, f"'{self.sheet}'!{self.span(figure.key)}")
            row += 1 + len(section.figures)

    def _write_figure(self, sheet: Worksheet, figure: Column, row: int) -> None:
        label = sheet.cell(row, 1)
        label.value, label.style = figure.header, "lc label"
        sheet.row_dimensions[row].height = figure.width * ROW_HEIGHT
        sheet.row_dimensions[row].hidden = figure.hidden
        for column in self.columns:
            cell = sheet[f"{column}{row}"]
            cell.style, cell.number_format = f"lc {figure.role}", padded(figure.number_format)
            cell.alignment = figure.alignment
            if figure.formula:
                cell.value = self.formula(figure, column)
        if figure.role == "input":
            cells = self.span(figure.key).replace("$", "")
            validate(sheet, cells, figure.limits, figure.choices, figure.header, figure.about)
