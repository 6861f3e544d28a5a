"""How the sheets look and print: title band, labels, marks, formats, page setup."""

from __future__ import annotations

from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

TITLE_ROW = 1
LEAD_ROW = 2
ROW_HEIGHT = 17
"""Points: room for a thumb on a tablet in the yard."""

RED = "F6D5CC"
GREEN = "DDE8D0"

DATE = "yyyy-mm-dd"
"""The number format of a day."""


def head(sheet: Worksheet, title: str, lead: str, width: int, *, lead_column: int = 1) -> None:
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
    """Mark cells for which a formula is true, by color and by weight of the letters.

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
        Bold letters too, so that color does not stand alone.
    """
    fill = PatternFill("solid", bgColor=color, fgColor=color)
    sheet.conditional_formatting.add(
        area,
        FormulaRule(formula=[formula], fill=fill, font=Font(bold=bold)),  # type: ignore[no-untyped-call]
    )


def mark_unless_ok(sheet: Worksheet, area: str, first: str) -> None:
    """Mark the checks that say anything else than "ok".

    Parameters
    ----------
    sheet : Worksheet
        Any sheet.
    area : str
        Such as "C5:C300".
    first : str
        Address of its first cell, with a dollar sign before what stays the same in all of it.
    """
    mark(sheet, area, f'AND({first}<>"",{first}<>"ok")', RED)


def label_from(sheet: Worksheet, row: int, first: int, last: int) -> None:
    """Let the label of a form's cell begin further left, and reach to where it was written.

    Parameters
    ----------
    sheet : Worksheet
        With the form.
    row : int
        Of the label.
    first, last : int
        Columns from where it is to begin to where it stands.
    """
    label, under = sheet.cell(row, first), sheet.cell(row, last)
    label.value, label.style, under.value = under.value, "lc label", None
    sheet.merge_cells(start_row=row, end_row=row, start_column=first, end_column=last)


def all_rows(last_column: str) -> str:
    """Name the columns of a table that grows, for its print area.

    Parameters
    ----------
    last_column : str
        Letter of the last one that is printed.

    Returns
    -------
    str
        Whole columns: spreadsheets print them as far as they are used, so rows that are filled
        down later are printed too (Calc 25.2: tried; Excel: from memory).

    Examples
    --------
    >>> all_rows("F")
    'A1:F1048576'
    """
    return f"A1:{last_column}1048576"  # openpyxl has no word for A:F


def print_setup(
    sheet: Worksheet,
    area: str,
    *,
    landscape: bool = True,
    pages_wide: int = 1,
    numbered: bool = True,
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
    numbered : bool
        With the sheet's name and page number at the foot; not on a paper for a buyer.
    """
    sheet.print_area = area
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_LETTER
    sheet.page_setup.fitToWidth = pages_wide
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins.left = sheet.page_margins.right = 0.4
    sheet.page_margins.top, sheet.page_margins.bottom = 0.5, 0.75
    sheet.page_margins.header = sheet.page_margins.footer = 0.35
    footer = sheet.HeaderFooter.oddFooter
    if numbered and footer is not None:  # openpyxl always makes one; its types allow for none
        footer.left.text, footer.right.text = "&A", "page &P of &N"


def alignment(number_format: str) -> Alignment:
    """Give the alignment of cells: texts left with room to the next column, numbers right.

    Parameters
    ----------
    number_format : str
        "@" is text.

    Returns
    -------
    Alignment
        In the middle of the row's height.
    """
    if number_format == "@":
        return Alignment(horizontal="left", vertical="center", indent=1)
    return Alignment(horizontal="right", vertical="center")


def padded(number_format: str) -> str:
    """Give a number format that keeps room to the next column, which an indent does not in Calc.

    Parameters
    ----------
    number_format : str
        Of one section.

    Returns
    -------
    str
        The same with the width of a parenthesis after the number.

    Examples
    --------
    >>> padded("0.0"), padded("@")
    ('0.0_)', '@')
    """
    plain = number_format in ("@", "General") or ";" in number_format
    return number_format if plain else f"{number_format}_)"
