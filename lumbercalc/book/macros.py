"""What makes a workbook one for Excel on Windows: xlwings' VBA part and its settings sheet."""

from __future__ import annotations

from io import BytesIO
from zipfile import ZipFile

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import ROW_HEIGHT, print_setup
from lumbercalc.faults import FileFault
from lumbercalc.hosts.excel.machine import package_folder
from lumbercalc.hosts.excel.wrappers import SERVED_BY

SUFFIX = ".xlsm"
"""Of a workbook with macros."""

SETTINGS_SHEET = "xlwings.conf"
"""The name under which xlwings' VBA looks for its settings."""

SETTINGS = (
    ("UDF Modules", SERVED_BY),
    # A file beside the workbook must not become a module, and xlwings' server would not start for a
    # workbook in OneDrive or SharePoint whose folder on this machine it does not find.
    ("Add_Workbook_to_PYTHONPATH", "false"),
)
"""Names as xlwings' VBA knows them, without regard to case, and values.

The VBA takes a name that stands here with a blank value for the value "", and looks no further:
what is to come from the user's own settings, such as Interpreter_Win, must not stand here.
"""

NOTES = (
    "Settings for Excel on Windows. They begin in cell A1 and end at the first empty row.",
    "Which Python answers is set once for this computer by: lumbercalc addin excel",
    "To use another Python for this workbook alone, add a row right under the last one: "
    "Interpreter_Win in column A and the full path of its python.exe in column B.",
    "A name without a value here hides what is set for the computer: delete such a row.",
)


def add_macros(workbook: Workbook) -> None:
    """Turn a workbook into one with xlwings' VBA part, as the installed xlwings has it.

    Parameters
    ----------
    workbook : Workbook
        From the template's builder; gets a sheet more.

    Raises
    ------
    FileFault
        When xlwings is not installed.
    """
    workbook.vba_archive = _vba_archive()
    _add_settings(workbook)
    # The VBA part has a module for each of ThisWorkbook, Sheet1 and Sheet2, and looks them up by
    # code name ([MS-OVBA] 2.3.1.2 and ECMA-376 part 1, 18.3.1.82). Sheet2 is its settings sheet.
    workbook.code_name = "ThisWorkbook"
    settings = workbook[SETTINGS_SHEET]
    sheets = [sheet for sheet in workbook.worksheets if sheet is not settings]
    ordered = [sheets[0], settings, *sheets[1:]]
    for number, sheet in enumerate(ordered, 1):
        sheet.sheet_properties.codeName = f"Sheet{number}"


def _vba_archive() -> ZipFile:
    """Open the empty workbook in the xlwings package that carries the VBA part."""
    package = package_folder("xlwings")
    if package is None:
        raise FileFault(
            "a workbook with macros needs the package xlwings: pip install xlwings, "
            "or choose a name that ends in .xlsx"
        )
    return ZipFile(BytesIO((package / "quickstart_standalone.xlsm").read_bytes()))


def _add_settings(workbook: Workbook) -> None:
    sheet: Worksheet = workbook.create_sheet(SETTINGS_SHEET)
    for row, (name, value) in enumerate(SETTINGS, 1):
        for column, (text, style) in enumerate(((name, "lc label"), (value, "lc input")), 1):
            cell = sheet.cell(row, column)
            cell.value, cell.style, cell.number_format = text, style, "@"
        sheet.row_dimensions[row].height = ROW_HEIGHT
    first = len(SETTINGS) + 2  # the empty row above ends the settings
    for row, text in enumerate(NOTES, first):
        sheet.cell(row, 1).value, sheet.cell(row, 1).style = text, "lc lead"
        sheet.row_dimensions[row].height = ROW_HEIGHT
    for letter, width in zip("ABC", (34, 36, 62), strict=True):
        sheet.column_dimensions[letter].width = width
    sheet.sheet_view.showGridLines = False
    print_setup(sheet, f"A1:C{first + len(NOTES) - 1}")
