"""What a line of a quote or invoice comes to, and what may be wrong with it: parts of formulas."""

from __future__ import annotations

from lumbercalc.book.page.notes import first_note, looks_like_a_share
from lumbercalc.book.sheets.board_status import ALLOWANCE_PCT, NO_PRICE, place
from lumbercalc.book.sheets.sale_reckoning import CANCELLED, INVOICE, QUOTE

BY_BF, BY_MBF, BY_PIECE, BY_AREA = BASES = ("bf", "MBF", "piece", "ft2")
"""What a price is for: a board foot, a thousand of them, a piece, or a square foot of slab."""

QUANTITY = "#,##0.00###"
"""Format of a quantity: of an MBF five digits, of anything else two."""

OF_SALE = "INDEX(sales_%s,{sale_row})"
OF_BOARD = "INDEX(board_%s,{board_row})"
OF_LOG = "board_log,{log},board_fit,1"
_WIDTHS = "{width_1}:{width_3}"
_TYPED = 'OR({sale}<>"",{tag}<>"",{log}<>"",{words}<>"")'


_PIECES = f'IF({{board_row}}<>"",IF({OF_BOARD % "pieces"}="",1,{OF_BOARD % "pieces"}),{{set}})'
_BY_COUNT = f'IF({{unit}}="{BY_PIECE}",{{quantity}}<>"",FALSE)'
_SHARE = f"IF({_BY_COUNT},MIN(1,{{quantity}}/MAX(1,{_PIECES})),1)"
_MEASURED = f'{{quantity}}<>"",OR({{unit}}="{BY_BF}",{{unit}}="{BY_MBF}")'
BF = (
    f"IF(AND({_MEASURED}),{{quantity}},"
    f'IF({{green}}="","",ROUND({_SHARE}*NET_BOARD_FEET({{green}},{OF_SALE % "loss"}),2)))'
)
"""Some pieces of a bundle are their share of it."""
_AREA = (
    f'IF(OR({{board_row}}="",COUNT({_WIDTHS})=0),"",'
    f"ROUND(SLAB_AREA({_WIDTHS},{OF_BOARD % 'length'}),2))"
)
AMOUNT = (
    f'IF({{stopped}}=1,"",IF({{unit}}="{BY_MBF}",IF({{bf}}="","",ROUND({{bf}}/1000,5)),'
    'IF({quantity}<>"",{quantity},'
    f'IF({{unit}}="{BY_PIECE}",{_PIECES},IF({{unit}}="{BY_AREA}",{_AREA},{{bf}})))))'
)
"""In what the line is priced by; a hundredth of a board foot is the fifth digit of an MBF."""
_LIST = (
    f'IF({{board_row}}<>"",{OF_BOARD % "price"},'
    f'IF(SUM({{green}})>0,ROUND(SUMIFS(board_list,{OF_LOG})/{{green}},2),""))'
)
"""For a whole log the mean of its boards' prices, to the cent: one price that can be reckoned."""
CHARGED = (
    'IF({price}<>"",{price},'
    f'IF({{unit}}="{BY_BF}",{_LIST},IF({{unit}}="{BY_MBF}",IF(ISNUMBER({_LIST}),1000*{_LIST},""),"")))'
)
LINE = f'{{amount}},{{charged}},IF({{discount}}="",SUM({OF_SALE % "discount"}),{{discount}})'
_RETURNED = (
    '{back}=1,"; returned "&YEAR({returned})&"-"&RIGHT("0"&MONTH({returned}),2)&"-"&'
    'RIGHT("0"&DAY({returned}),2)'
)
WHAT = (
    'IF({board_row}<>"",{species},IF({log}<>"",{species}&", whole log: "&{set}&" boards",""))'
    '&IF({words}="","",IF(AND({tag}="",{log}=""),"","; ")&{words})&'
    f'IF({{surface}}="","",", "&{{surface}})&IF({_RETURNED},"")'
)
_WHY = f'PROBLEM("LINE_TOTAL",{LINE})'

_ANY_BOARD = "INDEX(board_%s,MAX(1,SUM({board_row})))"
"""Of a line without a board it is the first board's, so that a condition is never an error."""
_WANTS = f'{{board_row}}<>"",OR({{takes}}<>"",{{kind}}="{QUOTE}")'
_TAKEN = f"SUM({_ANY_BOARD % 'line'})"
_HOW_MANY = 'COUNTIFS(board_log,{log},board_fit,1,board_line,">0")'
_MINE = f"COUNTIFS(board_log,{{log}},board_fit,1,board_line,{place('sale')})"

LEAST_SOLD_PCT = 50
"""Of the green tally: a line of fewer board feet sells a part (common practice, no source)."""


def _if_wood(condition: str) -> str:
    """Guard a condition that is for a board or a log only."""
    return f'IF({{green}}="",FALSE,{condition})'


HELD_NOTE = "held for insect signs: not for sale"
CUT_NOTE = "cut up: sell its pieces"
TAKEN_NOTE = "this board is in another sale"
LOG_TAKEN_NOTE = "not the whole log is free: type its tags instead"

NOTES = (
    ('{sale}=""', "the number of the sale is missing"),
    ('{sale_row}=""', "no such number on Sales"),
    ('{tag}="",{log}="",{words}=""', "tag, log or words are missing"),
    ('{tag}<>"",{log}<>""', "a tag or a log, not both"),
    ('{tag}<>"",{board_row}=""', "no such board on Boards"),
    ('{log}<>"",SUM({set})=0', "no board of this log is fit to sell"),
    (f"{_WANTS},{_ANY_BOARD % 'held'}=1", HELD_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'cut_up'}=1", CUT_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'fit'}=0", "used: not for sale"),
    (f'{_WANTS},{_TAKEN}<>IF({{takes}}="",0,{place("sale")})', TAKEN_NOTE),
    (
        f'IF({{log}}="",FALSE,AND(OR({{takes}}<>"",{{kind}}="{QUOTE}"),'
        f'{_HOW_MANY}>IF({{takes}}="",0,{_MINE})))',
        LOG_TAKEN_NOTE,
    ),
    (
        _if_wood(f"IF({_BY_COUNT},{{quantity}}>{_PIECES},FALSE)"),
        "more pieces than it has on Boards",
    ),
    (
        _if_wood(f"IF({_BY_COUNT},{{quantity}}<{_PIECES},FALSE)"),
        "all its pieces count as gone: on Boards, make a row of its own of those that stay",
    ),
    (
        _if_wood(f"AND({_MEASURED},{{quantity}}>{{green}}*{1 + ALLOWANCE_PCT / 100})"),
        "more board feet than it has on Boards",
    ),
    (
        _if_wood(f"AND({_MEASURED},{{quantity}}<{{green}}*{LEAST_SOLD_PCT / 100})"),
        "all of it counts as gone: on Boards, make a row of its own of what stays",
    ),
    (looks_like_a_share("{discount}"), "discount under 0.5 %: type 5 for 5 %"),
    ("ISTEXT({returned})", "the day of the return is not a date"),
    (
        '{back}=1,{kind}<>"' + INVOICE + '",{kind}<>"' + CANCELLED + '"',
        "returned, but not invoiced",
    ),
    (
        '{back}=1,OR(AND(as_of<>"",SUM({returned})>as_of),'
        f"SUM({{returned}})<SUM({OF_SALE % 'date'}))",
        "the day of the return is before the sale, or after the as-of date on Start",
    ),
    (f'{{unit}}="{BY_AREA}",{{quantity}}="",{{amount}}=""', "slab widths or quantity are missing"),
    ('{amount}=""', "the quantity is missing"),
    (
        'IF(OR({log}="",{price}<>""),FALSE,COUNTIFS(' + OF_LOG + f',board_price,"{NO_PRICE}")>0)',
        "no price on Prices for a board of this log: type one",
    ),
    ('{charged}=""', "no price: type one, or put it on Prices"),
    (
        f'{{kind}}="{INVOICE}",{{price}}=""',
        "type the price, so that a change on Prices leaves this invoice as it is",
    ),
    (
        f'{{kind}}="{INVOICE}",{{log}}<>"",{{quantity}}=""',
        "type the quantity of the log, so that later boards leave this invoice as it is",
    ),
)
"""When a line is to be looked at (conditions that hold together), and the words."""


def note() -> str:
    """Write the check of a line.

    Returns
    -------
    str
        The first of the notes that holds, else the reason that it is refused, else "ok".
    """
    return f'=IF(NOT({_TYPED}),"",{first_note(NOTES, _WHY)})'
