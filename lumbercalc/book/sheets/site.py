"""Sheet Site: the shop's places, their air month by month, and what wood comes to in it."""

from __future__ import annotations

from calendar import month_abbr

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.page.layout import GREEN, all_rows, mark, print_setup
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.sheet.dates import FIRST_SERIAL, LAST_SERIAL
from lumbercalc.sheet.limits import Limits

PLACES = 10
MATRIX_COLUMN = 10
"""The table of places begins in column J."""

MOLD_RH, MOLD_TEMP = 85, 45
"""% RH that is critical at deg F, by Hukka and Viitanen (1999); in warmer air less is enough."""

FLAT = 1.5
"""Per cent of MC: a target that is nearer to the EMC has no trustworthy date."""

NEAR_DRIEST = 0.3
"""Per cent of MC above the driest month of a place that is marked as driest too."""

NO_PLACE = "not a place in column J: name it there"

_TEMP = limits_of("DRYING_DAYS", "temp_f")
_NO_MONTH = (
    f"IF(ISNUMBER({{month}}),OR({{month}}<1,AND({{month}}>12,{{month}}<{FIRST_SERIAL}),"
    "AND({month}<12,{month}<>INT({month}))),TRUE)"
)

SITE = Table(
    "Site",
    "site",
    "Mean temperature and humidity of every place, month by month. Name the places in column J "
    "first; measure with a hygrometer of your own: a basement is not the weather report. Clear a "
    "row that is not needed, never delete it: other tables stand beside.",
    (
        Column("place", "Place", "input", 13, "@", choices="=place_names"),
        Column(
            "month",
            "Month (1 to 12), or first day",
            "input",
            12,
            "[<=12]0_);yyyy-mm-dd_)",
            limits=Limits("(to 12 a month, beyond a date)", 1, LAST_SERIAL, whole=True),
            about="1 to 12 for a month of every year; or a date: this air from that day on, beside "
            "twelve months for 31 days at most.",
        ),
        Column("temp", "Temperature (deg F)", "input", 13, "0.0", limits=_TEMP),
        Column(
            "rh",
            "Relative humidity (% RH)",
            "input",
            11,
            "0",
            limits=limits_of("EMC", "rh_pct"),
            about="Of day and night: at noon alone it is too low. Over wet table salt in a closed "
            "jar a hygrometer shows 75 (Greenspan 1977, from memory); 5 off is about 1 % MC.",
        ),
        Column(
            "emc",
            "EMC: wood comes to (% MC)",
            "result",
            11,
            "0.0",
            '=IF(OR({place}="",{month}="",{temp}="",{rh}=""),"",EMC({temp},{rh}))',
        ),
        Column(
            "mark",
            "This month",
            "result",
            24,
            "@",
            '=IF(NOT(ISNUMBER({emc})),"",IF({emc}<=IFERROR(INDEX(place_lowest,'
            f'MATCH({{place}},place_names,0)),0)+{NEAR_DRIEST},"driest; ","")&'
            f"IF({{emc}}+{FLAT}<=target_mc,"
            '"dries to target",IF({emc}<20,"dries, not to target","does not dry"))'
            f'&IF(AND({{rh}}>={MOLD_RH},{{temp}}>={MOLD_TEMP}),"; mold",""))',
        ),
        hidden(
            "calendar",
            "Calendar month",
            f'=IF({_NO_MONTH},"",IF({{month}}<=12,{{month}},IF(COUNTIFS(site_place,{{place}},'
            'site_month,MONTH({month}))>0,"",MONTH({month}))))',
        ),
        Column(
            "note",
            "Check",
            "check",
            34,
            "@",
            '=IF(AND({place}="",{month}="",{temp}="",{rh}=""),"",'
            'IF(OR({place}="",{month}="",{temp}="",{rh}=""),"a cell of this row is blank",'
            f'IF({_NO_MONTH},"the month must be 1 to 12, or a date",'
            'IF(COUNTIFS(site_place,{place},site_month,{month})>1,"this month stands twice",'
            'IF(PROBLEM("EMC",{temp},{rh})<>"",PROBLEM("EMC",{temp},{rh}),'
            f'IF(COUNTIF(place_names,{{place}})=0,"{NO_PLACE}",'
            f'IF({{temp}}>{_TEMP.highest:g},"over {_TEMP.highest:g} deg F: no air drying",'
            '"ok")))))))',
        ),
    ),
    rows=60,
    frozen=2,
    last_row=304,
)
"""The table of the air."""

CLIMATE_AREA = f"'Site'!$A${FIRST_ROW}:$D${SITE.last_row}"
"""What the drying functions take as their climate."""


def of_month(key: str, place: str, month: str) -> str:
    """Write the mean air of a place in a calendar month.

    Parameters
    ----------
    key : str
        Column of the table: temp, rh or emc.
    place, month : str
        Formulas of the place's name and of the month, 1 to 12.

    Returns
    -------
    str
        Part of a formula: an error where the place has no row of that month.
    """
    return f"AVERAGEIFS(site_{key},site_place,{place},site_calendar,{month})"


def add_site(workbook: Workbook) -> None:
    """Add the sheet with both of its tables.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = SITE.write(workbook)
    last_row = FIRST_ROW + PLACES - 1
    first = get_column_letter(MATRIX_COLUMN)
    months = [get_column_letter(MATRIX_COLUMN + month) for month in range(1, 13)]
    lowest, driest = (get_column_letter(MATRIX_COLUMN + n) for n in (13, 14))
    headers = ["Places of the shop", *month_abbr[1:], "Lowest EMC (%)", "Driest month"]
    for offset, text in enumerate(headers):
        letter = get_column_letter(MATRIX_COLUMN + offset)
        sheet[f"{letter}{HEADER_ROW}"].value = text
        sheet[f"{letter}{HEADER_ROW}"].style = "lc header"
        sheet.column_dimensions[letter].width = 7
    sheet.column_dimensions[first].width = 20
    sheet.column_dimensions[lowest].width = sheet.column_dimensions[driest].width = 9
    sheet[f"{first}{HEADER_ROW - 1}"].value = "EMC by place and month (% MC); the driest in bold"
    sheet[f"{first}{HEADER_ROW - 1}"].style = "lc label"
    for row in range(FIRST_ROW, last_row + 1):
        sheet[f"{first}{row}"].style, sheet[f"{first}{row}"].number_format = "lc input", "@"
        sheet[f"{first}{row}"].alignment = SITE.column("place").alignment
        for month, letter in enumerate(months, 1):
            cell = sheet[f"{letter}{row}"]
            cell.value = (
                f'=IF(${first}{row}="","",'
                f'IFERROR({of_month("emc", f"${first}{row}", str(month))},""))'
            )
            cell.style, cell.number_format = "lc result", "0.0"
        span = f"{months[0]}{row}:{months[-1]}{row}"
        sheet[f"{lowest}{row}"].value = f'=IF(COUNT({span})=0,"",MIN({span}))'
        sheet[f"{driest}{row}"].value = (
            f'=IF({lowest}{row}="","",INDEX({months[0]}${HEADER_ROW}:{months[-1]}${HEADER_ROW},'
            f"MATCH({lowest}{row},{span},0)))"
        )
        for letter, form in ((lowest, "0.0"), (driest, "@")):
            sheet[f"{letter}{row}"].style = "lc result"
            sheet[f"{letter}{row}"].number_format = form
            sheet[f"{letter}{row}"].alignment = Alignment(horizontal="center", vertical="center")
    mark(
        sheet,
        f"{months[0]}{FIRST_ROW}:{months[-1]}{last_row}",
        f"AND(ISNUMBER({months[0]}{FIRST_ROW}),{months[0]}{FIRST_ROW}<=${lowest}{FIRST_ROW}"
        f"+{NEAR_DRIEST})",
        GREEN,
    )
    mark(
        sheet,
        f"F{FIRST_ROW}:F{FIRST_ROW + SITE.rows - 1}",
        f'LEFT($F{FIRST_ROW},6)="driest"',
        GREEN,
    )
    for name, area in {
        "place_names": f"${first}${FIRST_ROW}:${first}${last_row}",
        "place_emc": f"${months[0]}${FIRST_ROW}:${months[-1]}${last_row}",
        "place_lowest": f"${lowest}${FIRST_ROW}:${lowest}${last_row}",
    }.items():
        define(workbook, name, f"'Site'!{area}")
    define(workbook, "climate", CLIMATE_AREA)
    for column in range(1, MATRIX_COLUMN + 15):
        sheet.cell(1, column).style = "lc title"
    print_setup(sheet, all_rows(driest))
