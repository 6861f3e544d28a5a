"""A sheet's table as it is declared: columns with header, unit, formula, limits and width."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.limits import Limits

Role = Literal["input", "result", "check"]

TITLE_ROW = 1
LEAD_ROW = 2
HEADER_ROW = 4
FIRST_ROW = 5
LAST_ROW = 5004
"""The names of columns reach to this row by default: 5,000 boards or weighings."""

ROW_HEIGHT = 17
"""Points: room for a thumb on a tablet in the yard."""

RED = "F6D5CC"
GREEN = "DDE8D0"
AMBER = "FBE7B6"


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
        For computed columns: {key} is this row's cell of a column of the table, {row} the row.
    limits : Limits, optional
        Of an input: makes the data validation.
    choices : str
        Formula of a list to choose from, such as "=species_names"; looser than limits.
    about : str
        Shown when an input cell is chosen.
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

    @property
    def alignment(self) -> Alignment:
        """Texts left, numbers right, both with room to the next column."""
        side: Literal["left", "right"] = "left" if self.number_format == "@" else "right"
        return Alignment(horizontal=side, vertical="center", indent=1)


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
    """

    sheet: str
    name: str
    lead: str
    columns: tuple[Column, ...]
    rows: int
    frozen: int = 1
    last_row: int = LAST_ROW
    pages_wide: int = 1

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
        return get_column_letter(1 + keys.index(key))

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
        cells = {other.key: f"${self.letter(other.key)}{row}" for other in self.columns}
        cells["row"] = str(row)
        return re.sub(r"\{(\w+)\}", lambda match: cells[match[1]], column.formula)

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
        sheet = workbook[self.sheet] if self.sheet in workbook else workbook.create_sheet(self.sheet)
        head(sheet, self.sheet, self.lead, len(self.columns), lead_column=self.frozen + 1 if self.pages_wide > 1 else 1)
        for column in self.columns:
            letter = self.letter(column.key)
            header = sheet[f"{letter}{HEADER_ROW}"]
            header.value, header.style = column.header, "lc header"
            sheet.column_dimensions[letter].width = column.width
            self._fill(sheet, column, letter)
            _validate(sheet, column, f"{letter}{FIRST_ROW}:{letter}{self.last_row}")
            area = f"${letter}${FIRST_ROW}:${letter}${self.last_row}"
            self.name_cells(workbook, f"{self.name}_{column.key}", area)
        last = get_column_letter(len(self.columns))
        sheet.row_dimensions[HEADER_ROW].height = 44
        sheet.auto_filter.ref = f"A{HEADER_ROW}:{last}{FIRST_ROW + self.rows - 1}"
        sheet.freeze_panes = f"{get_column_letter(1 + self.frozen)}{FIRST_ROW}"
        print_setup(sheet, f"A1:{last}{FIRST_ROW + self.rows - 1}", pages_wide=self.pages_wide)
        sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"
        if self.pages_wide > 1:
            sheet.print_title_cols = f"A:{get_column_letter(self.frozen)}"
        return sheet

    def name_cells(self, workbook: Workbook, name: str, area: str) -> None:
        """Give cells of the sheet a defined name.

        Parameters
        ----------
        workbook : Workbook
            That takes the name.
        name : str
            The name.
        area : str
            Absolute address, such as "$C$5:$C$5004".
        """
        workbook.defined_names[name] = DefinedName(name, attr_text=f"'{self.sheet}'!{area}")

    def _fill(self, sheet: Worksheet, column: Column, letter: str) -> None:
        for row in range(FIRST_ROW, FIRST_ROW + self.rows):
            sheet.row_dimensions[row].height = ROW_HEIGHT
            cell = sheet[f"{letter}{row}"]
            cell.style = f"lc {column.role}"
            cell.number_format = column.number_format
            cell.alignment = column.alignment
            if column.formula:
                cell.value = self.formula(column, row)
        if column.role == "check":
            area = f"{letter}{FIRST_ROW}:{letter}{FIRST_ROW + self.rows - 1}"
            mark(sheet, area, f'AND(${letter}{FIRST_ROW}<>"",${letter}{FIRST_ROW}<>"ok")', RED)


def head(
    sheet: Worksheet, title: str, lead: str, width: int, *, lead_column: int = 1
) -> None:
    """Write a sheet's title as a band and the line under it.

    Parameters
    ----------
    sheet : Worksheet
        Any sheet.
    title, lead : str
        Texts.
    width : int
        Columns that the band covers.
    lead_column : int
        Where the line begins: right of columns that are repeated on every printed page.
    """
    for column in range(1, width + 1):
        sheet.cell(TITLE_ROW, column).style = "lc title"
    sheet["A1"].value = title
    under = sheet.cell(LEAD_ROW, lead_column)
    under.value, under.style = lead, "lc lead"
    sheet.row_dimensions[TITLE_ROW].height = 34
    sheet.row_dimensions[LEAD_ROW].height = 20
    sheet.sheet_view.showGridLines = False


def mark(sheet: Worksheet, area: str, formula: str, color: str, *, bold: bool = True) -> None:
    """Mark cells for which a formula is true, by colour and by weight of the letters.

    Parameters
    ----------
    sheet : Worksheet
        Any sheet.
    area : str
        Such as "C5:C300".
    formula : str
        For the first cell of the area, without "=".
    color : str
        Background.
    bold : bool
        Bold letters too, so that colour does not stand alone.
    """
    fill = PatternFill("solid", bgColor=color, fgColor=color)
    sheet.conditional_formatting.add(
        area, FormulaRule(formula=[formula], fill=fill, font=Font(bold=bold))
    )


def print_setup(
    sheet: Worksheet, area: str, *, landscape: bool = True, pages_wide: int = 1
) -> None:
    """Make a sheet print to the width of the page, with its name and page numbers.

    Parameters
    ----------
    sheet : Worksheet
        Any sheet.
    area : str
        What is printed.
    landscape : bool
        Across, or upright.
    pages_wide : int
        Pages side by side.
    """
    sheet.print_area = area
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_LETTER
    sheet.page_setup.fitToWidth = pages_wide
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_margins.left = sheet.page_margins.right = 0.4
    sheet.page_margins.top, sheet.page_margins.bottom = 0.5, 0.75
    sheet.page_margins.header = sheet.page_margins.footer = 0.35
    sheet.oddFooter.left.text = "&A"
    sheet.oddFooter.right.text = "page &P of &N"


def _validate(sheet: Worksheet, column: Column, area: str) -> None:
    if column.role != "input":
        return
    rule = validation(column.limits, column.choices, column.header, column.about)
    if rule is not None:
        rule.add(area)
        sheet.add_data_validation(rule)


def validation(
    limits: Limits | None, choices: str, title: str, about: str
) -> DataValidation | None:
    """Make the data validation of an input from its declared limits.

    Parameters
    ----------
    limits : Limits or None
        As the functions check them.
    choices : str
        Formula of a list, or "" for none.
    title, about : str
        Shown when the cell is chosen.

    Returns
    -------
    DataValidation or None
        None where nothing is limited.
    """
    words = "choose from the list" if limits is None else f"It must be {limits.words()}."
    if choices:
        rule = DataValidation(type="list", formula1=choices, allow_blank=True)
        rule.errorStyle = "warning"
    elif limits is None:
        return None
    elif limits.choices:
        rule = DataValidation(
            type="list", formula1='"' + ",".join(limits.choices) + '"', allow_blank=True
        )
    elif limits.unit == "date":
        rule = DataValidation(
            type="date", operator="between", formula1="61", formula2="2958465", allow_blank=True
        )
    elif limits.lowest is not None and limits.highest is not None:
        kind: Literal["whole", "decimal"] = "whole" if limits.whole else "decimal"
        rule = DataValidation(
            type=kind,
            operator="between",
            formula1=f"{limits.lowest:.10g}",
            formula2=f"{limits.highest:.10g}",
            allow_blank=True,
        )
    else:
        return None
    rule.errorTitle, rule.error = title[:32], words[:225]
    rule.promptTitle, rule.prompt = title[:32], (about or words)[:255]
    rule.showErrorMessage = True
    rule.showInputMessage = bool(about)
    return rule


def limits_of(function: str, argument: str) -> Limits:
    """Give the declared limits of a function's argument.

    Parameters
    ----------
    function, argument : str
        Names in the catalogue.

    Returns
    -------
    Limits
        The one declaration.

    Examples
    --------
    >>> limits_of("EMC", "rh_pct").words()
    'from 0 to 100 % RH'
    """
    return next(a.limits for a in CATALOGUE[function].arguments if a.name == argument)

