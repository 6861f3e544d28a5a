"""Sheet Costs: what a dry, saleable board foot of each stack costs, all stacks side by side."""

from __future__ import annotations

from lumbercalc.book.page.form import row_of
from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import first_note
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.book.sheets.cost_reckoning import (
    BY_STACK,
    NO_DATE,
    NOTES,
    ON_HAND,
    READY,
    TYPED,
    WATER,
    reckoned,
)
from lumbercalc.book.sheets.named_stack import of_stack
from lumbercalc.sheet.limits import Limits

LOSS = limits_of("COST_PER_BF", "degrade_pct")

COSTS = Table(
    "Costs",
    "cost",
    "One row for every stack: what is typed here and what its loads, Prices and Stacks say, down "
    "to a dry board foot. Blank cells take the shop's rates on Prices.",
    (
        Column("stack", "Stack", "input", 13, "@", choices="=stack_name"),
        Column(
            "fan",
            "Fan (W)",
            "input",
            8,
            "0",
            limits=limits_of("FAN_KWH", "watts"),
            about="Power on the fan's label; blank for none.",
        ),
        Column(
            "fan_hours",
            "Fan runs (h a day)",
            "input",
            9,
            "0.0",
            limits=Limits("h a day", 0, 24),
            about="On average over all days from stacking to ready.",
        ),
        Column(
            "litres",
            "Dehumidifier (L per kWh)",
            "input",
            13,
            "0.00",
            limits=limits_of("DEHUMIDIFIER_KWH", "litres_per_kwh"),
            about="Rating on its label; new portable ones sold in the US have 1.3 to 2.8 at least, "
            "by size (10 CFR 430.32(v), from memory). Blank for none. Cool or dry air needs more.",
        ),
        Column(
            "wet",
            "Dehumidifier from (% MC)",
            "input",
            13,
            "0.0",
            limits=limits_of("READY_DATE", "green_mc"),
            about="MC at which it takes over, as after a move; blank from green.",
        ),
        Column(
            "area",
            "Floor (ft2)",
            "input",
            9,
            "0.0",
            limits=limits_of("SPACE_COST", "area_ft2"),
            about="With its share of the aisle; blank takes width x length on Stacks.",
        ),
        Column(
            "rent",
            "Rent ($/ft2 a month)",
            "input",
            10,
            "0.00",
            limits=limits_of("SPACE_COST", "rent_per_month"),
            about="Blank takes that on Prices.",
        ),
        Column(
            "degrade",
            "Degrade (%)",
            "input",
            10,
            "0.0",
            limits=LOSS,
            about="Share of the dry footage not fit to sell; blank takes that on Prices.",
        ),
        Column(
            "trim",
            "End trim (%)",
            "input",
            9,
            "0.0",
            limits=LOSS,
            about="Share cut off at the ends; blank takes that on Prices.",
        ),
        Column(
            "pile",
            "Its row on Stacks",
            "result",
            8,
            "0",
            row_of("{stack}", "stack_name"),
            hidden=True,
        ),
        hidden("ready", "Ready on", f'=IF({{pile}}="","",{READY})', DATE),
        Column(
            "bf",
            "Board feet, green (bf)",
            "result",
            10,
            "#,##0.0",
            f'=IF({{pile}}="","",SUMIFS(board_tally,{BY_STACK}))',
        ),
        Column(
            "bought",
            "Share of its loads ($)",
            "result",
            11,
            "#,##0.00",
            f'=IF({{pile}}="","",SUMIFS(board_cost,{BY_STACK}))',
        ),
        Column(
            "days",
            "Stacked to ready (days)",
            "result",
            12,
            "0",
            f'=IF({{pile}}="","",IF(AND(ISNUMBER({{ready}}),ISNUMBER({of_stack("start")})),'
            f'MAX(0,{{ready}}-{of_stack("start")}),"{NO_DATE}"))',
        ),
        Column(
            "fan_kwh",
            "Fan (kWh)",
            "result",
            9,
            "#,##0",
            reckoned("FAN_KWH({fan}+0,{fan_hours}*{days})"),
        ),
        Column(
            "water",
            "Water to the dehumidifier (lb)",
            "result",
            13,
            "#,##0",
            reckoned(f'IF({{litres}}="",0,MAX(0,{WATER}))'),
        ),
        Column(
            "damp_kwh",
            "Dehumidifier (kWh)",
            "result",
            13,
            "#,##0",
            reckoned('IF({litres}="",0,DEHUMIDIFIER_KWH({water},{litres}))'),
        ),
        Column(
            "power",
            "Power ($)",
            "result",
            10,
            "#,##0.00",
            reckoned("({fan_kwh}+{damp_kwh})*kwh_price"),
        ),
        Column(
            "floor",
            "Floor used (ft2)",
            "result",
            9,
            "0.0",
            f'=IF({{pile}}="","",IF({{area}}<>"",{{area}},'
            f"{of_stack('width')}*{of_stack('length')}))",
        ),
        Column(
            "month",
            "Rent used ($/ft2 a month)",
            "result",
            10,
            "0.00",
            '=IF({pile}="","",IF({rent}<>"",{rent},space_rent+0))',
        ),
        Column(
            "space",
            "Space ($)",
            "result",
            10,
            "#,##0.00",
            reckoned("SPACE_COST({floor},{month},{days})"),
        ),
        Column(
            "money",
            "Money tied up ($)",
            "result",
            10,
            "#,##0.00",
            reckoned("CARRYING_COST({bought},interest,{days})"),
        ),
        Column(
            "total",
            "Cost until dry ($)",
            "result",
            11,
            "#,##0.00",
            reckoned("{bought}+{power}+{space}+{money}"),
        ),
        Column(
            "spoiled",
            "Degrade used (%)",
            "result",
            9,
            "0.0",
            '=IF({pile}="","",IF({degrade}<>"",{degrade},degrade+0))',
        ),
        Column(
            "trimmed",
            "End trim used (%)",
            "result",
            9,
            "0.0",
            '=IF({pile}="","",IF({trim}<>"",{trim},end_trim+0))',
        ),
        Column(
            "lost",
            "Lost to both (%)",
            "result",
            9,
            "0.00",
            '=IF({pile}="","",100*(1-(1-{spoiled}/100)*(1-{trimmed}/100)))',
        ),
        Column(
            "saleable",
            "Dry and saleable (bf)",
            "result",
            10,
            "#,##0.0",
            '=IF({pile}="","",{bf}*(1-footage_shrink/100)*(1-{lost}/100))',
        ),
        Column(
            "each",
            "Cost, or break-even price ($/dry bf)",
            "result",
            12,
            "#,##0.00",
            reckoned('IF({bf}=0,"",COST_PER_BF({total},{bf},footage_shrink,{lost}))'),
        ),
        Column(
            "at_margin",
            "Price for your margin ($/bf)",
            "result",
            12,
            "#,##0.00",
            '=IF(ISNUMBER({each}),PRICE_FOR_MARGIN({each},margin),"")',
        ),
        Column(
            "listed",
            "Mean on Prices, of what is left ($/bf)",
            "result",
            11,
            "#,##0.00",
            f'=IF({{pile}}="","",IF(AND({{bf}}>0,{ON_HAND}=0),"",'
            f'IF(COUNTIFS({BY_STACK},board_value,">=0")=0,"{NO_PRICE}",'
            f'SUMIFS(board_value,{BY_STACK})/SUMIFS(board_dry_bf,{BY_STACK},board_value,">=0"))))',
        ),
        Column(
            "gain",
            "Margin at that price (%)",
            "result",
            11,
            "0.0",
            "=IF(AND(ISNUMBER({each}),ISNUMBER({listed})),"
            'IF({listed}>0,100*({listed}-{each})/{listed},""),"")',
        ),
        Column(
            "note",
            "Check",
            "check",
            48,
            "@",
            f'=IF({{stack}}="",IF(COUNTA({TYPED})=0,"","the stack is missing"),'
            + first_note(NOTES, '""')
            + ")",
        ),
    ),
    rows=40,
    last_row=204,
    pages_wide=2,
)
"""The table of the sheet."""
