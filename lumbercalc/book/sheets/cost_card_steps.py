"""The rows of Cost card: step by step from the logs to a dry, saleable board foot."""

from __future__ import annotations

from dataclasses import replace

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import Field
from lumbercalc.book.page.table import Column

CARD_SHEET = "Cost card"


def _of_costs(key: str, label: str, number_format: str) -> Field:
    """Declare a cell that shows a figure of the stack's row on Costs."""
    value = f'=IF(waterfall_row="","",INDEX(cost_{key},waterfall_row))'
    return Field(f"waterfall_{key}", label, "result", number_format, value)


def _of_loads(key: str, label: str) -> Field:
    """Declare a cell with the stack's share of a cost of the loads that lie in it."""
    value = f'=IF(waterfall_row="",0,SUMPRODUCT(load_{key},load_chosen))'
    return Field(f"waterfall_{key}", label, "result", "#,##0.00", value)


FIGURES = [
    _of_costs("bf", "Board feet, green (bf)", "#,##0.0"),
    _of_costs("saleable", "Dry and saleable (bf)", "#,##0.0"),
    _of_costs("days", "Stacked to ready (days)", "0"),
]
PRICES = [
    _of_costs("each", "Cost, or break-even price ($/bf)", "#,##0.00"),
    _of_costs("at_margin", "Price for your margin ($/bf)", "#,##0.00"),
    _of_costs("listed", "Mean price on Prices ($/bf)", "#,##0.00"),
    _of_costs("gain", "Margin at that price (%)", "0.0"),
]


def _money(name: str, label: str, formula: str) -> Field:
    value = f"=IF(waterfall_on=0,0,{formula})"
    return Field(f"waterfall_{name}", label, "result", "#,##0.00", value)


STEPS = [
    _of_loads("purchase", "Logs or lumber"),
    _of_loads("hauling", "Hauling"),
    _of_loads("milling", "Milling"),
    _of_loads("sealer", "End sealer"),
    _of_loads("stickers", "Stickers"),
    _of_loads("labor", "Labor"),
    _of_loads("other", "Other"),
    _money("fan", "Fan power", "INDEX(cost_fan_kwh,waterfall_row)*kwh_price"),
    _money("damp", "Dehumidifier", "INDEX(cost_damp_kwh,waterfall_row)*kwh_price"),
    _money("space", "Space", "INDEX(cost_space,waterfall_row)"),
    _money("money", "Money tied up", "INDEX(cost_money,waterfall_row)"),
    _money("shrink", "Shrinkage", "footage_shrink"),
    _money("spoiled", "Degrade", "INDEX(cost_spoiled,waterfall_row)"),
    _money("trimmed", "End trim", "INDEX(cost_trimmed,waterfall_row)"),
]
"""What the steps take: money for the stack, and at the end shares of the footage [%]."""

LOADS_STEPS, DRYING_STEPS = 7, 4
MONEY_STEPS = LOADS_STEPS + DRYING_STEPS

TABLE_ROW = 14
STEPS_COLUMN = 16
STEPS_ROW = TABLE_ROW + 1
_LABELS = f"$P${STEPS_ROW}:$P${STEPS_ROW + len(STEPS) - 1}"
_TAKES = f"$Q${STEPS_ROW}:$Q${STEPS_ROW + len(STEPS) - 1}"


def _bar(key: str, header: str, when: str) -> Column:
    return Column(key, header, "result", 9, "0.00;;", f"=IF({when},{{drawn}},0)")


WATERFALL = Block(
    CARD_SHEET,
    (
        Column("step", "Step", "result", 24, "@", f"=INDEX({_LABELS},{{n}}+1)"),
        Column(
            "takes",
            "Of the stack ($)",
            "result",
            14,
            "#,##0.00",
            f'=IF(OR(waterfall_on=0,{{n}}>={MONEY_STEPS}),"",INDEX({_TAKES},{{n}}+1))',
        ),
        Column(
            "lost",
            "Lost (%)",
            "result",
            14,
            "0.0",
            f'=IF(OR(waterfall_on=0,{{n}}<{MONEY_STEPS}),"",INDEX({_TAKES},{{n}}+1))',
        ),
        Column(
            "adds",
            "Adds ($/bf)",
            "result",
            14,
            "0.000",
            f'=IF(waterfall_on=0,"",IF({{n}}<{MONEY_STEPS},{{takes}}/waterfall_bf,'
            "{sum.above}/(1-{lost}/100)-{sum.above}))",
        ),
        Column(
            "sum",
            "So far ($/bf)",
            "result",
            14,
            "0.000",
            '=IF(waterfall_on=0,"",IF({n}=0,{adds},{sum.above}+{adds}))',
        ),
        Column(
            "share",
            "Of the cost (%)",
            "result",
            14,
            "0.0",
            '=IF(waterfall_on=0,"",IF(waterfall_each>0,100*{adds}/waterfall_each,0))',
        ),
        Column("gap", "", "result", 3, "@", '=""'),
        Column("n", "Row", "result", 6, "0"),
        Column("drawn", "Drawn", "result", 9, "0.00", "=IF(waterfall_on=0,0,{adds})"),
        Column("under", "Under it", "result", 9, "0.00", "=IF(waterfall_on=0,0,{sum}-{adds})"),
        _bar("bought", "To the stack", f"{{n}}<{LOADS_STEPS}"),
        _bar("drying", "Drying", f"AND({{n}}>={LOADS_STEPS},{{n}}<{MONEY_STEPS})"),
        _bar("losing", "Losses", f"{{n}}>={MONEY_STEPS}"),
        Column("ends", "Cost and prices", "result", 9, "0.00;;", "=0"),
    ),
    len(STEPS),
    TABLE_ROW,
)
"""The steps; right of the page what the chart draws of them."""

_ENDS = '"A dry, saleable board foot","Price for your margin","Mean price on Prices"'
_BLANK = ("takes", "lost", "adds", "gap")
_NONE = ("under", "bought", "drying", "losing")
_END_FORMULAS = {
    "step": f"=CHOOSE({{n}}+1,{_ENDS})",
    **dict.fromkeys(_BLANK, '=""'),
    "sum": '=IF(waterfall_on=0,"",CHOOSE({n}+1,waterfall_each,waterfall_at_margin,'
    "waterfall_listed))",
    "share": "=IF(AND(ISNUMBER({sum}),waterfall_on=1),IF(waterfall_each>0,"
    '100*{sum}/waterfall_each,""),"")',
    "n": "",
    "drawn": "=IF(ISNUMBER({sum}),{sum},0)",
    **dict.fromkeys(_NONE, "=0"),
    "ends": "={drawn}",
}

ENDS = Block(
    CARD_SHEET,
    tuple(replace(column, formula=_END_FORMULAS[column.key]) for column in WATERFALL.columns),
    3,
    WATERFALL.last_row,
    headed=False,
)
"""Under the steps: the cost, and the prices to hold against it."""


def both(key: str) -> str:
    """Give a column's cells over the steps and what stands under them, for the chart.

    Parameters
    ----------
    key : str
        Of the column.

    Returns
    -------
    str
        Such as "'Cost card'!$A$15:$A$31".
    """
    return f"{WATERFALL.area(key).split(':')[0]}:{ENDS.area(key).split(':')[1]}"
