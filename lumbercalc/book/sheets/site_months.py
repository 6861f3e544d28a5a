"""Beside the places on Site: in which months wood dries there, and what warming the air does."""

from __future__ import annotations

from calendar import month_abbr

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import GREEN, RED, alignment, mark, padded
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.site import MATRIX_COLUMN, PLACES, of_month

DRIES, STILL, GAINS = "dries", "still", "gains"
MARGIN = 1.5
"""Per cent of MC between wood and air under which nothing worth telling happens."""

COLD_F = 30
"""Air in which wood dries at less than a quarter of its speed at 70 deg F."""

FIRST_MONTH = MATRIX_COLUMN + 1
FORM_ROW = FIRST_ROW + PLACES + 1
MARKS_ROW = FORM_ROW + 2
WARMED_ROW = MARKS_ROW + PLACES + 3

WOOD = [
    Field("site_wood_mc", "Wood at (% MC)", "input", "0", 15, limits_of("WATER_LOSS", "mc_from"))
]
ROOM = [
    Field("warmed_place", "Air from", "input", "@", choices="=place_names"),
    Field("warmed_to", "Room (deg F)", "input", "0", 68, limits_of("HEATED_RH", "room_temp_f")),
]

_WARMED = (
    ("Outside (deg F)", "0", f"=IFERROR({of_month('temp', '{place}', '{month}')},\"\")"),
    ("Outside (% RH)", "0", f"=IFERROR({of_month('rh', '{place}', '{month}')},\"\")"),
    ("EMC outside (%)", "0.0", '=IF(OR({0}="",{1}=""),"",EMC({0},{1}))'),
    ("In the room (% RH)", "0", '=IF(OR({0}="",{1}="",{0}>warmed_to),"",'
     "HEATED_RH({0},{1},warmed_to))"),
    ("EMC there (%)", "0.0", '=IF({3}="","",EMC(warmed_to,{3}))'),
)  # fmt: skip
"""Rows of the warmed air: label, number format, formula on the rows above it."""

MARKS_SAY = (
    f"{DRIES}: EMC {MARGIN:g} % or more below the wood; {STILL}: nearer, or under {COLD_F} deg F; "
    f"{GAINS}: takes up moisture."
)
WARMED_SAYS = (
    "Cold air holds little water: warmed in a room it is dry, and wood dries.",
    "Outside the same air is damp, and the wood waits. Blank: warmer outside.",
)


def add_site_months(workbook: Workbook) -> None:
    """Add both blocks under the places of Site.

    Parameters
    ----------
    workbook : Workbook
        With the sheet Site.
    """
    sheet = workbook["Site"]
    write_form(workbook, sheet, WOOD, (FORM_ROW, MATRIX_COLUMN))
    _say(sheet, FORM_ROW, MATRIX_COLUMN + 2, MARKS_SAY)
    _headers(sheet, MARKS_ROW - 1, "Wood there")
    _marks(sheet)
    write_form(workbook, sheet, ROOM, (WARMED_ROW, MATRIX_COLUMN), value_columns=2)
    for row, text in enumerate(WARMED_SAYS, WARMED_ROW):
        _say(sheet, row, MATRIX_COLUMN + 3, text)
    _headers(sheet, WARMED_ROW + 2, "Warmed air")
    _warmed(sheet)


def _say(sheet: Worksheet, row: int, column: int, text: str) -> None:
    cell = sheet.cell(row, column)
    cell.value, cell.style = text, "lc lead"


def _headers(sheet: Worksheet, row: int, title: str) -> None:
    for offset, text in enumerate((title, *month_abbr[1:])):
        cell = sheet.cell(row, MATRIX_COLUMN + offset)
        cell.value, cell.style = text, "lc header"


def _marks(sheet: Worksheet) -> None:
    """Mark the months of every place."""
    name = get_column_letter(MATRIX_COLUMN)
    for row in range(MARKS_ROW, MARKS_ROW + PLACES):
        above = FIRST_ROW + row - MARKS_ROW
        place = sheet.cell(row, MATRIX_COLUMN)
        place.value, place.style = f'=IF(${name}{above}="","",${name}{above})', "lc result"
        place.number_format, place.alignment = "@", alignment("@")
        for month in range(1, 13):
            emc = f"{get_column_letter(MATRIX_COLUMN + month)}{above}"
            temp = of_month("temp", f"${name}{above}", str(month))
            cell = sheet.cell(row, MATRIX_COLUMN + month)
            cell.value = (
                f'=IF(COUNT({emc},site_wood_mc)<2,"",IF({emc}>=site_wood_mc+{MARGIN},"{GAINS}",'
                f'IF(OR({emc}>site_wood_mc-{MARGIN},{temp}<{COLD_F}),"{STILL}","{DRIES}")))'
            )
            cell.style, cell.number_format = "lc result", "@"
            cell.alignment = Alignment(horizontal="center", vertical="center")
    first, last = (get_column_letter(FIRST_MONTH + n) for n in (0, 11))
    area = f"{first}{MARKS_ROW}:{last}{MARKS_ROW + PLACES - 1}"
    mark(sheet, area, f'{first}{MARKS_ROW}="{DRIES}"', GREEN)
    mark(sheet, area, f'{first}{MARKS_ROW}="{GAINS}"', RED)


def _warmed(sheet: Worksheet) -> None:
    """Show the air of a place, and the same air in a heated room."""
    first = WARMED_ROW + 3
    for number, (label, number_format, formula) in enumerate(_WARMED):
        cell = sheet.cell(first + number, MATRIX_COLUMN)
        cell.value, cell.style = label, "lc label"
        for month in range(1, 13):
            column = get_column_letter(MATRIX_COLUMN + month)
            cells = [f"{column}{first + above}" for above in range(number)]
            cell = sheet.cell(first + number, MATRIX_COLUMN + month)
            cell.value = formula.format(*cells, place="warmed_place", month=month)
            cell.style, cell.number_format = "lc result", padded(number_format)
            cell.alignment = alignment(number_format)
