"""Sheet Loads: every load of logs or lumber bought or milled, and what a green board foot cost."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import first_note
from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.sheet.limits import Limits

MONEY = Limits("$", 0, 1_000_000)

NO_LOAD = "no such load on Loads"
"""In place of a board's share of a load that is not on Loads."""

BY_FOOT, BY_PRICE = "board feet", "list price"
"""How a load's cost is shared by its boards; a blank is by board feet."""
_BY_PRICE = f'{{by}}="{BY_PRICE}"'
_PRICED = 'COUNTIFS(board_load,{name},board_worth,">=0")={boards}'

SEVERAL_SPECIES = "several species at one cost: share it by list price"
"""Of a load in which a cheap and a dear wood would cost the same."""

COST_COLUMNS = ("purchase", "hauling", "milling", "sealer", "stickers", "labor", "other")
"""What a load's cost is made of, in the order in which it arises."""

_CHOSEN = "SUMIFS(board_%s,board_load,{name},board_stack,waterfall_name)"
_TYPED = "{date},{purchase},{hauling},{milling},{sealer},{stickers},{hours},{rate},{paid},{other}"


NOTES = (
    ("COUNTIF(load_name,{name})>1", "name is used twice"),
    ("ISERROR({total})", "a cost is not a number"),
    ("ISERROR({bf})", "a board of it has no board feet: see Boards"),
    (
        '{boards}=0,COUNTIFS(board_tag,"?*",board_load,"")>0',
        "no board is of this load, and some on Boards have none: is it theirs?",
    ),
    (
        'COUNTIFS(board_load,{name},board_tally,">=0")<{boards}',
        "a row of it on Boards has no board feet",
    ),
    (
        'COUNTIFS(board_load,{name},board_species,"?*",board_species,'
        '"<>"&INDEX(board_species,MATCH({name},board_load,0)))>0,NOT(' + _BY_PRICE + ")",
        SEVERAL_SPECIES,
    ),
    (
        f'{_BY_PRICE},{{per_dollar}}="{NO_PRICE}"',
        "a board of it has no price, to share the cost by",
    ),
    ("{total}=0", "no cost is typed"),
    ('{hours}<>"",{rate}=""', "hours without a rate"),
)
"""When a load is to be looked at (conditions that hold together), and the words."""


def _money(key: str, header: str, about: str = "") -> Column:
    return Column(key, header, "input", 11, "#,##0.00", limits=MONEY, about=about)


LOADS = Table(
    "Loads",
    "load",
    "One row for every load bought or milled, with all it cost until it was stacked. Each board of "
    "it on Boards bears a share.",
    (
        Column("name", "Load", "input", 14, "@", about="Your own name for it; never twice."),
        Column("date", "Date", "input", 12, DATE, limits=Limits("date")),
        Column("what", "What it is", "input", 32, "@"),
        _money("purchase", "Logs or lumber ($)", "Price of the logs or of the lumber."),
        _money("hauling", "Hauling ($)"),
        _money("milling", "Milling ($)"),
        _money("sealer", "End sealer ($)"),
        _money("stickers", "Stickers ($)"),
        Column("hours", "Own hours (h)", "input", 9, "0.0", limits=Limits("h", 0, 10_000)),
        Column("rate", "Rate ($/h)", "input", 9, "#,##0.00", limits=Limits("$/h", 0, 1_000)),
        _money("paid", "Labor paid ($)", "Paid to others; added to own hours x rate."),
        _money("other", "Other ($)"),
        Column(
            "by",
            "Shared by",
            "input",
            11,
            "@",
            limits=Limits("choice", choices=(BY_FOOT, BY_PRICE)),
            about="board feet, or blank: a foot of each board costs the same. list price: a dear "
            "wood bears more, as where several species were bought for one sum (common practice, "
            "no source).",
        ),
        Column(
            "labor",
            "Labor ($)",
            "result",
            11,
            "#,##0.00",
            '=IF({name}="","",{hours}*{rate}+{paid})',
        ),
        Column(
            "total",
            "Cost of the load ($)",
            "result",
            12,
            "#,##0.00",
            '=IF({name}="","",' + "+".join(f"{{{key}}}" for key in COST_COLUMNS) + ")",
        ),
        Column(
            "boards",
            "Rows on Boards",
            "result",
            9,
            "0",
            '=IF({name}="","",COUNTIFS(board_load,{name}))',
        ),
        Column(
            "bf",
            "Board feet, green (bf)",
            "result",
            11,
            "#,##0.0",
            '=IF({name}="","",SUMIFS(board_tally,board_load,{name}))',
        ),
        Column(
            "per_bf",
            "Cost ($/green bf)",
            "result",
            11,
            "#,##0.000",
            '=IF({name}="","",IF({bf}=0,"no boards",{total}/{bf}))',
        ),
        Column(
            "chosen",
            "Share in the stack of Cost card (1 = all)",
            "result",
            11,
            "0.000",
            '=IF({name}="",0,IF(waterfall_name="",0,IF({bf}=0,0,'
            f"IF({_BY_PRICE},IF(ISNUMBER({{per_dollar}}),{_CHOSEN % 'worth'}/{{worth}},0),"
            f"{_CHOSEN % 'tally'}/{{bf}}))))",
            hidden=True,
        ),
        Column(
            "worth",
            "Its boards at their prices ($)",
            "result",
            11,
            "#,##0.00",
            '=IF({name}="","",SUMIFS(board_worth,board_load,{name}))',
            hidden=True,
        ),
        Column(
            "per_dollar",
            "Cost for a dollar of them ($)",
            "result",
            11,
            "0.000",
            f'=IF({{name}}="","",IF(AND({{worth}}>0,{_PRICED}),{{total}}/{{worth}},"{NO_PRICE}"))',
            hidden=True,
        ),
        Column(
            "note",
            "Check",
            "check",
            46,
            "@",
            f'=IF({{name}}="",IF(COUNT({_TYPED})=0,"","the load has no name"),'
            + first_note(NOTES, '""')
            + ")",
        ),
    ),
    rows=60,
    last_row=504,
    pages_wide=2,
)
"""The table of the sheet."""
