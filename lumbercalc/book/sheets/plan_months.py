"""On sheet Plan: EMC and ready date of every place by the month of stacking, and their chart."""

from __future__ import annotations

from openpyxl.chart import ScatterChart
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.chart_looks import DAY, STACK_LOOKS
from lumbercalc.book.page.charts import cover, date_chart, draw, name_at_point
from lumbercalc.book.page.form import AFTER_THE_LAST
from lumbercalc.book.page.layout import DATE, GREEN, ROW_HEIGHT, alignment, mark, padded
from lumbercalc.book.sheets.plan_options import PLAN, SHEET
from lumbercalc.book.sheets.site import FLAT, PLACES

MONTHS = 12
FIRST = PLAN.last_row + 2
EMC_HEADER = FIRST
READY_HEADER = EMC_HEADER + PLACES + 2
CHART_ROW = READY_HEADER + PLACES + 2
CHART_ROWS = 17

LETTERS = [get_column_letter(2 + month) for month in range(MONTHS)]
OPTION = get_column_letter(2 + MONTHS + 1)
"""Column right of the page: the first complete choice that stands in the place."""

DRAWN_COLUMN = 2 + MONTHS + 3
DRAWN_AFTER = MONTHS + 2
"""Columns from the first drawn day to the first drawn date."""


def add_months(sheet: Worksheet) -> None:
    """Write both tables and what the chart draws.

    Parameters
    ----------
    sheet : Worksheet
        The sheet Plan.
    """
    _header(sheet, EMC_HEADER, "EMC by month (% MC)")
    _header(sheet, READY_HEADER, "Ready, if stacked on")
    for number in range(PLACES):
        emc_row, ready_row = EMC_HEADER + 1 + number, READY_HEADER + 1 + number
        for row in (emc_row, ready_row):
            place = f"INDEX(place_names,{number + 1})"
            _put(sheet, f"A{row}", f'=IF({place}="","",{place})', "@")
            sheet.row_dimensions[row].height = ROW_HEIGHT
        _put(
            sheet,
            f"{OPTION}{ready_row}",
            f'=IF($A{ready_row}="",0,IF(COUNTIFS(option_place,$A{ready_row},option_on,1)=0,0,'
            f"SUMPRODUCT(MIN(COLUMN(option_place)+{AFTER_THE_LAST}*(1-"
            f"(option_place=$A{ready_row})*(option_on=1))))-1))",
            "0",
        )
        for letter in LETTERS:
            _put(
                sheet,
                f"{letter}{emc_row}",
                f'=IF(OR($A{emc_row}="",planned_start=""),"",'
                f"INDEX(place_emc,{number + 1},MONTH({letter}${EMC_HEADER})))",
                "0.0",
            )
            _put(sheet, f"{letter}{ready_row}", _ready(letter, ready_row), DATE)
        _drawn(sheet, ready_row)
    area = f"{LETTERS[0]}{EMC_HEADER + 1}:{LETTERS[-1]}{EMC_HEADER + PLACES}"
    first = f"{LETTERS[0]}{EMC_HEADER + 1}"
    mark(sheet, area, f"AND(ISNUMBER({first}),{first}+{FLAT}<=planned_target)", GREEN)
    cover(sheet, _chart(), f"A{CHART_ROW}:{LETTERS[-1]}{CHART_ROW + CHART_ROWS - 2}")


def _ready(letter: str, row: int) -> str:
    return (
        f'=IF(${OPTION}{row}=0,"",READY_DATE(planned_species,planned_sawn,planned_wet,'
        f"{letter}${READY_HEADER},planned_target,climate,INDEX(option_factor,1,${OPTION}{row}),1,"
        f'"","","","likely",$A{row}))'
    )


def _header(sheet: Worksheet, row: int, title: str) -> None:
    sheet[f"A{row}"].value, sheet[f"A{row}"].style = title, "lc header"
    for month, letter in enumerate(LETTERS):
        cell = sheet[f"{letter}{row}"]
        cell.value = (
            f'=IF(planned_start="","",DATE(YEAR(planned_start),MONTH(planned_start)+{month},1))'
        )
        cell.style, cell.number_format = "lc header", "mmm\\ yyyy"
    sheet.row_dimensions[row].height = ROW_HEIGHT + 3


def _put(sheet: Worksheet, address: str, formula: str, number_format: str) -> None:
    cell = sheet[address]
    cell.value, cell.style, cell.number_format = formula, "lc result", padded(number_format)
    cell.alignment = alignment(number_format)


def _drawn_letters() -> tuple[list[str], list[str]]:
    """Columns of the drawn days and dates, the first of each for the first month reached."""
    return tuple(
        [get_column_letter(DRAWN_COLUMN + start + n) for n in range(MONTHS + 1)]
        for start in (0, DRAWN_AFTER)
    )  # type: ignore[return-value]


def _drawn(sheet: Worksheet, row: int) -> None:
    """Write what is drawn: a month that is never ready repeats the one before it.

    A line begins with its first month that is; a place without any lies on the first month.
    """
    days, dates = _drawn_letters()
    span = f"${LETTERS[0]}{row}:${LETTERS[-1]}{row}"
    countdown = f"${LETTERS[0]}${READY_HEADER}:${LETTERS[-1]}${READY_HEADER}"
    everything = f"${LETTERS[0]}${READY_HEADER + 1}:${LETTERS[-1]}${READY_HEADER + PLACES}"
    some = f"COUNT({span})=0"
    first = f"SUMPRODUCT(MIN({countdown}+100000*NOT(ISNUMBER({span}))))"
    _put(
        sheet,
        f"{days[0]}{row}",
        f'=IF(planned_start="",0,IF({some},${LETTERS[0]}${READY_HEADER},{first}))',
        DAY,
    )
    _put(
        sheet,
        f"{dates[0]}{row}",
        f'=IF(planned_start="",0,IF({some},MAX(planned_start,MIN({everything})),'
        f"INDEX({span},1,MATCH({days[0]}{row},{countdown},0))))",
        DAY,
    )
    for month, letter in enumerate(LETTERS, 1):
        here = f"ISNUMBER({letter}{row})"
        _put(
            sheet,
            f"{days[month]}{row}",
            f"=IF({here},{letter}${READY_HEADER},{days[month - 1]}{row})",
            DAY,
        )
        _put(
            sheet, f"{dates[month]}{row}", f"=IF({here},{letter}{row},{dates[month - 1]}{row})", DAY
        )
    name = get_column_letter(DRAWN_COLUMN - 1)
    _put(sheet, f"{name}{row}", f'=IF({some}," ",$A{row})', "@")


def place_line(number: int) -> tuple[str, str, str]:
    """Give the areas of a place's line in the chart.

    Parameters
    ----------
    number : int
        Of the place, from 0.

    Returns
    -------
    tuple of str
        Its name, the days of stacking and the ready dates.
    """
    row = READY_HEADER + 1 + number
    days, dates = _drawn_letters()
    name = get_column_letter(DRAWN_COLUMN - 1)
    return (
        f"'{SHEET}'!${name}${row}",
        f"'{SHEET}'!${days[0]}${row}:${days[-1]}${row}",
        f"'{SHEET}'!${dates[0]}${row}:${dates[-1]}${row}",
    )


def _chart() -> ScatterChart:
    """Draw the ready dates against the months of stacking, a line for each place."""
    chart = date_chart("ready on", DAY, x_title="stacked on")
    looks = (STACK_LOOKS * 2)[:PLACES]
    for number, look in enumerate(looks):
        name, days, dates = place_line(number)
        series = draw(chart, days, dates, look, name)
        name_at_point(series, look.color, (1 + 4 * number) % MONTHS, above=True)
    chart.legend = None
    return chart
