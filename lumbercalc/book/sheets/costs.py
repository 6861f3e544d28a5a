"""Sheet Costs: what a dry, saleable board foot of each stack costs, all stacks side by side."""

from __future__ import annotations

from lumbercalc.book.notes import first_note, looks_like_a_share
from lumbercalc.book.table import Column, Table
from lumbercalc.book.validation import limits_of
from lumbercalc.sheet.limits import Limits

NO_DATE = "no ready date"
"""In place of the days of a stack that has none on Stacks."""

LOSS = limits_of("COST_PER_BF", "degrade_pct")


def of_stack(key: str) -> str:
    """Write the formula part that looks a figure of the row's stack up on Stacks.

    Parameters
    ----------
    key : str
        Of a column of Stacks.

    Returns
    -------
    str
        For a table with a column `pile`, the row on Stacks.
    """
    return f"INDEX(stack_{key},{{pile}})"


_BY_STACK = "board_stack,{stack}"
_RATIO = f"{of_stack('sawn')}/MAX(1,THICKNESS_IN({of_stack('quarters')}))"
SAWN_BF = f"{{bf}}*{_RATIO}"
"""Board feet as if every inch as sawn were tallied: the wood that holds the water."""

_WET = f'IF({{wet}}="",{of_stack("green")},MIN({{wet}},{of_stack("green")}))'
_WATER = f"WATER_LOSS({of_stack('species')},{SAWN_BF},{_WET},{of_stack('target')})"
_WITHOUT_LOAD = "SUMPRODUCT((board_stack={stack})*(1-ISNUMBER(board_cost)))"
_TYPED = "{fan},{fan_hours},{litres},{wet},{area},{rent},{degrade},{trim}"


def _reckoned(formula: str) -> str:
    """Guard a formula that needs the days from stacking to ready."""
    return f'=IF(ISNUMBER({{days}}),{formula},"")'


_ON_HAND = f'COUNTIFS({_BY_STACK},board_stock,">0")'
_PRICED = f'COUNTIFS({_BY_STACK},board_stock,">0",board_price,">=0")'

NOTES = (
    ('{pile}=""', "no such stack on Stacks"),
    ("COUNTIF(cost_stack,{stack})>1", "this stack stands twice"),
    ("ISERROR({bf})", "a board of it has no board feet: see Boards"),
    ("IFERROR({bf}=0,FALSE)", "no board on Boards lies in it"),
    ("ISERROR({bought})", "a load of it has no cost: see Loads"),
    (f"{_WITHOUT_LOAD}>0", "boards of it are without a load on Boards"),
    ("ISTEXT({days})", "no ready date: see Stacks"),
    ('{fan}<>"",{fan_hours}=""', "the hours that the fan runs are missing"),
    ('{fan}="",{fan_hours}<>""', "the watts of the fan are missing"),
    (looks_like_a_share("{degrade}"), "degrade under 0.5 %: type 6 for 6 %"),
    (looks_like_a_share("{trim}"), "end trim under 0.5 %: type 2 for 2 %"),
    (
        "OR(ISERROR({total}),ISERROR({saleable}),ISERROR({each}),ISERROR({at_margin}))",
        "a figure of it is wrong: see this row, Prices and Stacks",
    ),
    ("IFERROR({floor}=0,FALSE)", "no floor: type it here, or width and length on Stacks"),
    (
        'IFERROR(AND({fan_kwh}+{damp_kwh}>0,kwh_price=""),FALSE)',
        "the price of a kWh is missing on Prices",
    ),
    (f"{_ON_HAND}=0", "none of its boards is left to sell"),
    ('IFERROR({listed}="no price",FALSE)', "none of its boards has a price on Prices"),
    (f"{_PRICED}<{_ON_HAND}", "some of its boards have no price on Prices"),
    (
        "IFERROR(AND(ISNUMBER({each}),ISNUMBER({listed}),{listed}<{each}),FALSE)",
        "costs more than its price",
    ),
)
"""When a stack's cost is to be looked at (conditions that hold together), and the words."""

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
            '=IF({stack}="","",IFERROR(MATCH({stack},stack_name,0),""))',
            hidden=True,
        ),
        Column(
            "bf",
            "Board feet, green (bf)",
            "result",
            10,
            "#,##0.0",
            f'=IF({{pile}}="","",SUMIFS(board_tally,{_BY_STACK}))',
        ),
        Column(
            "bought",
            "Share of its loads ($)",
            "result",
            11,
            "#,##0.00",
            f'=IF({{pile}}="","",SUMIFS(board_cost,{_BY_STACK}))',
        ),
        Column(
            "days",
            "Stacked to ready (days)",
            "result",
            12,
            "0",
            f'=IF({{pile}}="","",IF(AND(ISNUMBER({of_stack("likely")}),'
            f"ISNUMBER({of_stack('start')})),{of_stack('likely')}-{of_stack('start')},"
            f'"{NO_DATE}"))',
        ),
        Column(
            "fan_kwh",
            "Fan (kWh)",
            "result",
            9,
            "#,##0",
            _reckoned("FAN_KWH({fan}+0,{fan_hours}*{days})"),
        ),
        Column(
            "water",
            "Water to the dehumidifier (lb)",
            "result",
            13,
            "#,##0",
            _reckoned(f'IF({{litres}}="",0,MAX(0,{_WATER}))'),
        ),
        Column(
            "damp_kwh",
            "Dehumidifier (kWh)",
            "result",
            13,
            "#,##0",
            _reckoned('IF({litres}="",0,DEHUMIDIFIER_KWH({water},{litres}))'),
        ),
        Column(
            "power",
            "Power ($)",
            "result",
            10,
            "#,##0.00",
            _reckoned("({fan_kwh}+{damp_kwh})*kwh_price"),
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
            _reckoned("SPACE_COST({floor},{month},{days})"),
        ),
        Column(
            "money",
            "Money tied up ($)",
            "result",
            10,
            "#,##0.00",
            _reckoned("CARRYING_COST({bought},interest,{days})"),
        ),
        Column(
            "total",
            "Cost until dry ($)",
            "result",
            11,
            "#,##0.00",
            _reckoned("{bought}+{power}+{space}+{money}"),
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
            _reckoned('IF({bf}=0,"",COST_PER_BF({total},{bf},footage_shrink,{lost}))'),
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
            "Mean on Prices ($/bf)",
            "result",
            11,
            "#,##0.00",
            f'=IF({{pile}}="","",IF(COUNTIFS({_BY_STACK},board_value,">=0")=0,"no price",'
            f'SUMIFS(board_value,{_BY_STACK})/SUMIFS(board_dry_bf,{_BY_STACK},board_value,">=0")))',
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
            f'=IF({{stack}}="",IF(COUNTA({_TYPED})=0,"","the stack is missing"),'
            + first_note(NOTES, '""')
            + ")",
        ),
    ),
    rows=40,
    last_row=204,
    pages_wide=2,
)
"""The table of the sheet."""
