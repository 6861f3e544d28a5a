"""Sheet Prices: price per board foot by species, thickness and grade, and what a load costs."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.form import Field, write_form
from lumbercalc.book.layout import print_setup
from lumbercalc.book.table import FIRST_ROW, HEADER_ROW, Column, Table
from lumbercalc.book.validation import limits_of
from lumbercalc.sheet.limits import Limits

COSTS = 7
"""Column of the costs: G."""

MONEY = Limits("$", 0, 10_000_000)

PRICES = Table(
    "Prices",
    "price",
    "Your own prices for a dry board foot, and what a load costs you until it is dry.",
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
        Column("quarters", "Thickness (quarters)", "input", 11, "@", choices="=quarters_list"),
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
            '=IF({species}="","",{species}&"|"&{quarters}&"|"&{grade})',
            hidden=True,
        ),
    ),
    rows=60,
    last_row=504,
)
"""The table of prices."""

FIELDS = [
    Field("cost_purchase", "Logs or lumber bought ($)", "input", "#,##0.00", None, MONEY),
    Field("cost_milling", "Milling ($)", "input", "#,##0.00", None, MONEY),
    Field("cost_hauling", "Hauling ($)", "input", "#,##0.00", None, MONEY),
    Field("cost_sealer", "End sealer and stickers ($)", "input", "#,##0.00", None, MONEY),
    Field("cost_power", "Fan and dehumidifier power ($)", "input", "#,##0.00", None, MONEY),
    Field("cost_labor", "Labour ($)", "input", "#,##0.00", None, MONEY),
    Field(
        "cost_total",
        "Cost of the load ($)",
        "result",
        "#,##0.00",
        "=SUM(cost_purchase,cost_milling,cost_hauling,cost_sealer,cost_power,cost_labor)",
    ),
    Field(
        "cost_bf",
        "Green tally of the load (bf)",
        "input",
        "#,##0",
        None,
        limits_of("COST_PER_BF", "green_bf"),
    ),
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
        "Loss by degrade and trim (%)",
        "input",
        "0.0",
        None,
        limits_of("COST_PER_BF", "degrade_pct"),
    ),
    Field(
        "dry_cost",
        "Cost of a dry board foot ($/bf)",
        "result",
        "#,##0.00",
        '=IF(OR(cost_total=0,cost_bf=""),"",'
        "COST_PER_BF(cost_total,cost_bf,footage_shrink,degrade))",
    ),
    Field(
        "margin",
        "Margin wanted (% of the price)",
        "input",
        "0",
        40,
        limits_of("PRICE_FOR_MARGIN", "margin_pct"),
    ),
    Field(
        "margin_price",
        "Price for that margin ($/bf)",
        "result",
        "#,##0.00",
        '=IF(dry_cost="","",PRICE_FOR_MARGIN(dry_cost,margin))',
    ),
    Field(
        "interest",
        "Interest on money tied up (% a year)",
        "input",
        "0.0",
        8,
        limits_of("CARRYING_COST", "annual_pct"),
    ),
    Field("waiting", "Days of waiting", "input", "0", 90, limits_of("CARRYING_COST", "days")),
    Field(
        "wait_cost",
        "Cost of that wait for the load ($)",
        "result",
        "#,##0.00",
        '=IF(cost_total=0,"",CARRYING_COST(cost_total,interest,waiting))',
    ),
]
"""What a load costs."""


def add_prices(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = PRICES.write(workbook)
    for column, width, text in ((7, 34, "Cost of a load"), (8, 13, "Value"), (9, 46, "")):
        letter = get_column_letter(column)
        sheet.column_dimensions[letter].width = width
        if text:
            header = sheet.cell(HEADER_ROW, column)
            header.value, header.style = text, "lc header"
    sheet.column_dimensions["F"].width = 3
    write_form(workbook, sheet, FIELDS, (FIRST_ROW, COSTS))
    for column in range(1, 10):
        sheet.cell(1, column).style = "lc title"
    print_setup(sheet, f"A1:I{FIRST_ROW + PRICES.rows - 1}")
