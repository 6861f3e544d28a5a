"""What may be wrong with a line of a quote or invoice: conditions and words."""

from __future__ import annotations

from lumbercalc.book.page.notes import UNDER_SHARE, first_note, looks_like_a_share, unless_a_number
from lumbercalc.book.sheets.board_notes import ALLOWANCE_PCT
from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.book.sheets.line_reckoning import (
    BACK_BEFORE,
    BASES,
    BY_AREA,
    BY_COUNT,
    BY_MBF,
    LINE,
    MEASURED,
    OF_LOG,
    OF_SALE,
    PIECES,
    PLACE,
    WIDTHS,
)
from lumbercalc.book.sheets.sale_statement import OTHER_STACK_NOTE
from lumbercalc.book.sheets.sales_reckoning import CANCELLED, INVOICE, QUOTE

_TYPED = "COUNTA({sale}:{returned})>0"
_WHY = unless_a_number("{sum}", f'PROBLEM("LINE_TOTAL",{LINE})')

_ANY_BOARD = "INDEX(board_%s,MAX(1,SUM({board_row})))"
"""Of a line without a board it is the first board's, so that a condition is never an error."""
_WANTS = f'{{board_row}}<>"",OR({{takes}}<>"",{{kind}}="{QUOTE}")'
_TAKEN = f"SUM({_ANY_BOARD % 'line'})"
_HOW_MANY = f'COUNTIFS({OF_LOG},board_line,">0")'
_MINE = f"COUNTIFS({OF_LOG},board_line,{PLACE})"
_NUMBERS = ("quantity", "width_1", "width_2", "width_3", "price", "discount")

LEAST_SOLD_PCT = 50
"""Of the green tally: a line of fewer board feet sells a part (common practice, no source)."""
LOG_OFF_BF = 0.5
"""Board feet by which the quantity typed for a log may differ from its boards: it may be rounded to
whole ones, and a board, 4/4 of 3 in by 4 ft or more, has 1 (common practice, no source)."""
LEAST_BY_MBF = 100
"""Board feet of words: what is less is not sold by the thousand (common practice, no source)."""
LEAST_MBF_PRICE = 50
"""Dollars: what is less is a price of one board foot (common practice, no source)."""


def _if_wood(condition: str) -> str:
    """Guard a condition that is for a board or a log only."""
    return f'IF({{green}}="",FALSE,{condition})'


HELD_NOTE = "held for insect signs: not for sale"
CUT_NOTE = "cut up: sell its pieces"
TAKEN_NOTE = "this board is in another sale"
LOG_TAKEN_NOTE = "not the whole log is free: type its tags instead"
BASIS_NOTE = f"priced by must be {', '.join(BASES[:-1])} or {BASES[-1]}"
TEXT_NOTE = "a number is typed as a text: type it again"
LOG_GREW_NOTE = "its log has more board feet than this: give a board not sold another log"
LOG_SHRANK_NOTE = "its log has fewer board feet than this: look at its boards on Boards"
MBF_NOTE = f"the quantity is in bf by {BY_MBF} too: type 1250 for 1.25 {BY_MBF}"
MBF_PRICE_NOTE = f"a price by {BY_MBF} is of 1,000 bf: this looks like one of a bf"


def _log_off(limit: str) -> str:
    """Compare the quantity typed for a log that is taken with the footage of its boards."""
    boards = f"NET_BOARD_FEET({{green}},{OF_SALE % 'loss'})"
    taken = f'AND({{log}}<>"",{{takes}}<>"",{MEASURED})'
    return f"IF({taken},IFERROR({{quantity}}{limit % boards},FALSE),FALSE)"


NOTES = (
    ('{sale}=""', "the number of the sale is missing"),
    ('{sale_row}=""', "no such number on Sales"),
    ('{tag}="",{log}="",{words}=""', "tag, log or words are missing"),
    ('{tag}<>"",{log}<>""', "a tag or a log, not both"),
    ('{tag}<>"",{board_row}=""', "no such board on Boards"),
    ('{log}<>"",SUM({set})=0', "no board of this log is fit to sell"),
    ("OR(" + ",".join(f"ISTEXT({{{key}}})" for key in _NUMBERS) + ")", TEXT_NOTE),
    ("ISERROR({green})", "its board feet are refused: see Boards"),
    ('{unit}=""', BASIS_NOTE),
    (f'COUNT({WIDTHS})>0,{{unit}}<>"{BY_AREA}"', f"slab widths count only by {BY_AREA}"),
    (
        f'{{log}}<>"",{{unit}}="{BY_AREA}"',
        f"a whole log is not priced by {BY_AREA}: type its tags instead",
    ),
    (
        f'{{unit}}="{BY_MBF}",{{quantity}}<>"",{{quantity}}<IF({{green}}="",{LEAST_BY_MBF},'
        f"{{green}}*{LEAST_SOLD_PCT / 100})",
        MBF_NOTE,
    ),
    (f'{{unit}}="{BY_MBF}",SUM({{price}})>0,SUM({{price}})<{LEAST_MBF_PRICE}', MBF_PRICE_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'held'}=1", HELD_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'cut_up'}=1", CUT_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'fit'}=0", "used: not for sale"),
    (f'{_WANTS},{_TAKEN}<>IF({{takes}}="",0,{PLACE})', TAKEN_NOTE),
    (
        f'IF({{log}}="",FALSE,AND(OR({{takes}}<>"",{{kind}}="{QUOTE}"),'
        f'{_HOW_MANY}>IF({{takes}}="",0,{_MINE})))',
        LOG_TAKEN_NOTE,
    ),
    (
        _if_wood(f"IF({BY_COUNT},{{quantity}}>{PIECES},FALSE)"),
        "more pieces than it has on Boards",
    ),
    (
        _if_wood(f"IF({BY_COUNT},{{quantity}}<{PIECES},FALSE)"),
        "all its pieces count as gone: on Boards, make a row of its own of those that stay",
    ),
    (
        _if_wood(f"AND({MEASURED},{{quantity}}>{{green}}*{1 + ALLOWANCE_PCT / 100})"),
        "more board feet than it has on Boards",
    ),
    (
        _if_wood(f"AND({MEASURED},{{quantity}}<{{green}}*{LEAST_SOLD_PCT / 100})"),
        "all of it counts as gone: on Boards, make a row of its own of what stays",
    ),
    (_log_off(f"<%s-{LOG_OFF_BF}"), LOG_GREW_NOTE),
    (_log_off(f">%s+{LOG_OFF_BF}"), LOG_SHRANK_NOTE),
    (looks_like_a_share("{discount}"), f"discount{UNDER_SHARE}5 for 5 %"),
    ("ISTEXT({returned})", "the day of the return is not a date"),
    (
        f"ISNUMBER({{returned}}),{BACK_BEFORE}",
        "its sale was cancelled before that return: the day does not count",
    ),
    (
        '{back}=1,{kind}<>"' + INVOICE + '",{kind}<>"' + CANCELLED + '"',
        "returned, but not invoiced",
    ),
    (
        '{back}=1,OR(AND(as_of<>"",SUM({returned})>as_of),'
        f"SUM({{returned}})<SUM({OF_SALE % 'date'}))",
        "the day of the return is before the sale, or after the as-of date on Start",
    ),
    ("ISERROR({amount})", "its sale is refused: see its check on Sales"),
    (f'{{unit}}="{BY_AREA}",{{amount}}=""', "slab widths or quantity are missing"),
    ('{amount}=""', "the quantity is missing"),
    (
        'IF(OR({log}="",{price}<>""),FALSE,COUNTIFS(' + OF_LOG + f',board_price,"{NO_PRICE}")>0)',
        "no price on Prices for a board of this log: type one",
    ),
    ('{charged}=""', "no price: type one, or put it on Prices"),
    (
        f'OR({{kind}}="{QUOTE}",{{kind}}="{INVOICE}"),{{other_stack}}=1',
        OTHER_STACK_NOTE,
    ),
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
