"""Parts of the formulas of sheet Costs, and what may be wrong with a row of it."""

from __future__ import annotations

from lumbercalc.book.page.notes import UNDER_SHARE, looks_like_a_share
from lumbercalc.book.sheets.board_status import CUT_UP, NO_PRICE
from lumbercalc.book.sheets.named_stack import of_stack
from lumbercalc.book.sheets.stack_reckoning import as_sawn
from lumbercalc.book.sheets.weighings import BEFORE_DAY

NO_DATE = "no ready date"
"""In place of the days of a stack that has none on Stacks."""

BY_STACK = "board_stack,{stack}"
SAWN_BF = f"{{bf}}*{as_sawn(of_stack('sawn'), of_stack('quarters'))}"
"""Board feet as if every inch as sawn were tallied: the wood that holds the water."""

_WET = f'IF({{wet}}="",{of_stack("green")},MIN({{wet}},{of_stack("green")}))'
WATER = f"WATER_LOSS({of_stack('species')},{SAWN_BF},{_WET},{of_stack('target')})"
_WITHOUT_LOAD = "SUMPRODUCT((board_stack={stack})*(1-ISNUMBER(board_cost)))"
TYPED = "{fan},{fan_hours},{litres},{wet},{area},{rent},{degrade},{trim}"


_BOARDS = f'{BY_STACK},board_status,"<>{CUT_UP}"'
_ALL_OFF = f'COUNTIFS({_BOARDS})=COUNTIFS({_BOARDS},board_ready,"<="&SUM(as_of))'
_LAST_OFF = f'SUMPRODUCT(MAX((board_stack={{stack}})*(board_status<>"{CUT_UP}")*board_ready))'
_FIRST_DRY = "SUMPRODUCT(MAX((weighing_stack={stack})*weighing_dry))"
READY = (
    f"IFERROR(IF(AND({{bf}}>0,{_ALL_OFF}),{_LAST_OFF},1/0),"
    f"IF({_FIRST_DRY}>0,{BEFORE_DAY}-{_FIRST_DRY},{of_stack('likely')}))"
)
"""Day until which a stack costs: the last of its boards was taken off dry; else all its sample
boards were first weighed at the target, however often they are weighed after that; else likely."""


def reckoned(formula: str) -> str:
    """Guard a formula that needs the days from stacking to ready.

    Parameters
    ----------
    formula : str
        Of a result.

    Returns
    -------
    str
        The formula of the cell: blank where the stack has no ready date.
    """
    return f'=IF(ISNUMBER({{days}}),{formula},"")'


ON_HAND = f'COUNTIFS({BY_STACK},board_stock,">0")'
"""How many of a stack's boards are left."""
_PRICED = f'COUNTIFS({BY_STACK},board_stock,">0",board_price,">=0")'

SOME_UNPRICED = f"{_PRICED}<{ON_HAND}"
"""Condition of a stack."""

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
    (looks_like_a_share("{degrade}"), f"degrade{UNDER_SHARE}6 for 6 %"),
    (looks_like_a_share("{trim}"), f"end trim{UNDER_SHARE}2 for 2 %"),
    (
        "OR(ISERROR({total}),ISERROR({saleable}),ISERROR({each}),ISERROR({at_margin}))",
        "a figure of it is wrong: see this row, Prices and Stacks",
    ),
    ("IFERROR({floor}=0,FALSE)", "no floor: type it here, or width and length on Stacks"),
    (
        'IFERROR(AND({fan_kwh}+{damp_kwh}>0,kwh_price=""),FALSE)',
        "the price of a kWh is missing on Prices",
    ),
    (f"{ON_HAND}=0", "ok"),  # all sold or used: what it cost stays, and nothing is to be done
    (f'IFERROR({{listed}}="{NO_PRICE}",FALSE)', "none of its boards has a price on Prices"),
    (SOME_UNPRICED, "some of its boards have no price on Prices"),
    (
        "IFERROR(AND(ISNUMBER({each}),ISNUMBER({listed}),{listed}<{each}),FALSE)",
        "costs more than its price",
    ),
)
"""When a stack's cost is to be looked at (conditions that hold together), and the words."""
