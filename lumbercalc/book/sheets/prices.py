"""Sheet Prices: price per board foot by species, thickness and grade, rates, thicknesses."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import all_rows, print_setup
from lumbercalc.book.page.names import column_area, define
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Column, Table
from lumbercalc.book.page.validation import QUARTERS, THICKNESSES, limits_of
from lumbercalc.sheet.limits import Limits

RATES = 7
"""Column of the rates: G."""
TO_CHOOSE_FROM = "K"
"""Column of the thicknesses to choose from, to which a shop adds its own."""
USUAL_THICKNESSES = ("4/4", "5/4", "6/4", "8/4", "10/4", "12/4", "16/4")

PRICE_KEY = 'TRIM({species})&"|"&TRIM({quarters})&"|"&TRIM({grade})'
"""What a price goes by, in a row of Boards and of Prices: a blank that nobody sees is no other."""

PRICES = Table(
    "Prices",
    "price",
    "Your own prices for a dry board foot, and the rates that Costs reckons with. Clear a row that "
    "is not needed, never delete it: the rates stand beside.",
    (
        Column(
            "species",
            "Species",
            "input",
            22,
            "@",
            choices="=species_names",
            limits=limits_of("SPECIES_VALUE", "species"),
        ),
        Column("quarters", "Thickness (quarters)", "input", 11, "@", choices=THICKNESSES),
        Column("grade", "Grade", "input", 13, "@"),
        Column(
            "price",
            "Price ($/bf)",
            "input",
            10,
            "#,##0.00",
            limits=limits_of("LINE_TOTAL", "price_per_bf"),
        ),
        Column(
            "key",
            "Key",
            "result",
            34,
            "@",
            # a row without a price is none: its blank cell would be a price of 0
            f'=IF(OR({{species}}="",{{price}}=""),"",{PRICE_KEY})',
            hidden=True,
        ),
    ),
    rows=60,
    last_row=504,
    told_in="key",
)
"""The table of prices."""

FIELDS = [
    Field(
        "footage_shrink",
        "Loss of footage by shrinkage (%)",
        "input",
        "0.0",
        7,
        limits_of("NET_BOARD_FEET", "shrink_pct"),
        about="7 % is the trade's usual allowance (Atherholt 2001)",
    ),
    Field(
        "degrade",
        "Loss by degrade (%)",
        "input",
        "0.0",
        None,
        limits_of("COST_PER_BF", "degrade_pct"),
        about="6 to 15 % of the value in a study of air-dried No. 1 Common (Wengert 1998)",
    ),
    Field(
        "end_trim",
        "Loss by end trim (%)",
        "input",
        "0.0",
        None,
        limits_of("COST_PER_BF", "degrade_pct"),
        about="10 % of 10 ft walnut without end sealer (Univ. of Kentucky FOR-128 p. 65)",
    ),
    Field(
        "kwh_price",
        "Price of electricity ($/kWh)",
        "input",
        "0.000",
        None,
        Limits("$/kWh", 0, 10),
        about="as on your bill, taxes included",
    ),
    Field(
        "space_rent",
        "Rent of the floor ($/ft2 a month)",
        "input",
        "0.00",
        None,
        limits_of("SPACE_COST", "rent_per_month"),
        about="what a square foot costs you, or would bring",
    ),
    Field(
        "interest",
        "Interest on money tied up (% a year)",
        "input",
        "0.0",
        8,
        limits_of("CARRYING_COST", "annual_pct"),
        about="what a loan costs you, or the money would earn",
    ),
    Field(
        "margin",
        "Margin wanted (% of the price)",
        "input",
        "0",
        40,
        limits_of("PRICE_FOR_MARGIN", "margin_pct"),
    ),
]
"""The shop's rates, for every stack that has none of its own on Costs."""


def add_prices(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = PRICES.write(workbook)
    for column, width, text in ((7, 36, "Rates of the shop"), (8, 13, "Value"), (9, 68, "")):
        letter = get_column_letter(column)
        sheet.column_dimensions[letter].width = width
        if text:
            header = sheet.cell(HEADER_ROW, column)
            header.value, header.style = text, "lc header"
    sheet.column_dimensions["F"].width = 3
    write_form(workbook, sheet, FIELDS, (FIRST_ROW, RATES))
    for column in range(1, 10):
        sheet.cell(1, column).style = "lc title"
    print_setup(sheet, all_rows("I"))
    _add_thicknesses(workbook, sheet)


def _add_thicknesses(workbook: Workbook, sheet: Worksheet) -> None:
    """Put the thicknesses to choose from beside the prices."""
    header = sheet[f"{TO_CHOOSE_FROM}{HEADER_ROW}"]
    header.value, header.style = "Thicknesses", "lc header"
    sheet.column_dimensions["J"].width = 3
    sheet.column_dimensions[TO_CHOOSE_FROM].width = 13
    last = FIRST_ROW + len(USUAL_THICKNESSES) - 1
    for row, quarters in enumerate(USUAL_THICKNESSES, FIRST_ROW):
        cell = sheet[f"{TO_CHOOSE_FROM}{row}"]
        cell.value, cell.style, cell.number_format = quarters, "lc input", "@"
    area = column_area(sheet.title, TO_CHOOSE_FROM, FIRST_ROW, last)
    define(workbook, QUARTERS, area)
