"""Where a board stands: status derived from its row and from the sales, never typed."""

from __future__ import annotations

from lumbercalc.book.page.names import place
from lumbercalc.book.page.table import hidden
from lumbercalc.book.sheets.named_stack import of_named_stack

HELD = "held"
CUT_UP = "cut up"

ON_HAND = ("green", "drying", "ready", "reserved", HELD)
"""Those of boards that are still in the shop as they were sawn."""

NO_PRICE = "no price"


def since(key: str) -> str:
    """Write the condition that a date of the row has come.

    Parameters
    ----------
    key : str
        Of the column.

    Returns
    -------
    str
        True for a date that is not after the as-of date.
    """
    return f'AND(ISNUMBER({{{key}}}),OR(as_of="",{{{key}}}<=as_of))'


def one_of(key: str, words: tuple[str, ...]) -> str:
    """Write the condition that a cell of the row holds one of some words.

    Parameters
    ----------
    key : str
        Of the column.
    words : tuple of str
        The words.

    Returns
    -------
    str
        A formula's condition.
    """
    return "OR(" + ",".join(f'{{{key}}}="{word}"' for word in words) + ")"


MOST_LINES = 10_000
"""More than Sales lines can hold."""

OF_A_BOARD = 2 * MOST_LINES
"""Keys of lines that a board can have: each line sold, or reserved."""


def line_key(board: str, sold: str, line: str) -> str:
    """Write the number under which a line is found by the board that it takes.

    Parameters
    ----------
    board, line : str
        Formulas of their places.
    sold : str
        Condition: sold, not only reserved.

    Returns
    -------
    str
        Of one board the greatest is that of its first invoice, else of its first quote: sheets
        find a number among sorted ones in a few steps, and would read every line for a tag.
    """
    return f"{board}*{OF_A_BOARD}+IF({sold},{MOST_LINES},0)+{MOST_LINES - 1}-({line})"


_BEFORE_THE_NEXT = f"{{first}}*{OF_A_BOARD}+{OF_A_BOARD - 1}"
KEYS_LOST = "line_keys_lost"
"""Name of the cell that counts the keys that are not among the sorted ones: a row that was put in
between has no formula, and the key of its place is missing. They are then searched for one by one.
"""
_TAKES = 'IF({tag_line}>0,INDEX(line_takes,MAX(1,{tag_line})),"")'
_LOG_LINE = 'IF(OR({fit}=0,{log}="",SUM(INDEX(line_by_log,1))=0),NA(),MATCH({log},line_%s_log,0))'
_SOLD_LOG_LINE = (
    f"IF(IF({{fit_from}}>0,{{fit_from}}>INDEX(line_log_day,{_LOG_LINE % 'sold'}),FALSE),NA(),"
    f"{_LOG_LINE % 'sold'})"
)
"""A board that was released after the invoice of its log is not in it."""
_FIRST_LINE = (
    f'IF({_TAKES}="sold",{{tag_line}},IFERROR({_SOLD_LOG_LINE},'
    f"IF({{tag_line}}>0,{{tag_line}},IFERROR({_LOG_LINE % 'reserved'},0))))"
)
"""An invoice goes before a quote; a tag before the log that it belongs to."""

_PLACE = place("board", "tag")

HIDDEN = (
    hidden(
        "cut_up",
        "Cut up (1) or not (0)",
        '=IF({tag}="","",IF(ISNUMBER(MATCH({tag},board_parent,0)),1,0))',
    ),
    hidden(
        "held",
        "Held (1) or not (0)",
        '=IF({tag}="","",IF(OR({insects}="",{insects}="none"),0,'
        f'IF(AND({since("released")},{{treatment}}<>""),0,1)))',
    ),
    hidden(
        "fit",
        "Fit to sell (1) or not (0)",
        f'=IF({{tag}}="","",IF(OR({{cut_up}}=1,{{held}}=1,{since("used")}),0,1))',
    ),
    hidden(
        "fit_from",
        "Fit to sell from that day on (0: always)",
        '=IF({tag}="","",IF({fit}=1,SUM({released}),""))',
        "0;;",
    ),
    hidden("first", "First board of that tag", '=IF({tag}="","",MATCH({tag},board_tag,0))'),
    hidden(
        "tag_key",
        "Key of its line, or of one before",
        f'=IF({{tag}}="","",IFERROR(IF({KEYS_LOST}=0,LOOKUP({_BEFORE_THE_NEXT},line_nth_key),'
        f'SMALL(line_key,COUNTIF(line_key,"<="&({_BEFORE_THE_NEXT})))),0))',
    ),
    hidden(
        "tag_line",
        "Line that has its tag",
        f'=IF({{tag}}="","",IF(INT({{tag_key}}/{OF_A_BOARD})={{first}},'
        f"{MOST_LINES - 1}-MOD({{tag_key}},{MOST_LINES}),0))",
    ),
    hidden("line", "Line that has it", f'=IF({{tag}}="","",{_FIRST_LINE})'),
    hidden(
        "stock",
        "On hand, green (bf)",
        f'=IF({{bf}}="","",IF({one_of("status", ON_HAND)},{{bf}},0))',
        "0.00",
    ),
    hidden(
        "lies",
        "Counts in the stack",
        '=IF({tag}="","",IF(OR({status}="drying",AND({status}="reserved",'
        f'NOT({since("ready")}))),{{stack}}&"",""))',
        "@",
    ),
    hidden(
        "list",
        "At the list price ($)",
        '=IF(ISNUMBER({price}),{bf}*{price},"")',
        "0.00",
    ),
    hidden("order", "Cut order, a number", '=IF({tag}="",0,IF(ISNUMBER({cut}),{cut},0))', "0;;"),
    hidden(
        "cut_key",
        "Log and cut order",
        '=IF({tag}="","",IF(OR({log}="",{order}=0),"",{log}&"|"&{order}))',
        "@",
    ),
    hidden(
        "tally",
        "Board feet that count, green (bf)",
        f'=IF({{bf}}="","",IF({{status}}="{CUT_UP}",0,{{bf}}))',
        "0.00",
    ),
    hidden(
        "worth",
        "What counts, at its price ($)",
        "=IF({tally}=0,0,{list})",
        "0.00",
    ),
    hidden(
        "dry_tally",
        "Board feet that count, dry (bf)",
        f'=IF({{dry_bf}}="","",IF({{status}}="{CUT_UP}",0,{{dry_bf}}))',
        "0.00",
    ),
    hidden(
        "sort",
        "Species, thickness, grade and status",
        '=IF({tag}="","",TRIM({species})&"|"&TRIM({quarters})&"|"&TRIM({grade})&"|"&{status})',
        "@",
    ),
    hidden(
        "sort_first",
        "First board of that sort",
        f'=IF({{tag}}="","",IF(MATCH({{sort}},board_sort,0)={_PLACE},{_PLACE},""))',
    ),
    hidden(
        "species_first",
        "First board of that species",
        '=IF(OR({tag}="",{species}=""),"",'
        f'IF(MATCH({{species}},board_species,0)={_PLACE},{_PLACE},""))',
    ),
)
"""Columns that other formulas read."""

STATUS = (
    '=IF({tag}="","",IF(IF({line}>0,INDEX(line_takes,MAX(1,{line})),"")="sold","sold",'
    f'IF({since("used")},"used",IF({{cut_up}}=1,"{CUT_UP}",IF({{held}}=1,"{HELD}",'
    f'IF({{line}}>0,"reserved",IF({since("ready")},"ready",'
    'IF({stack}<>"","drying","green"))))))))'
)

_STACKED = of_named_stack("start")

DAYS = (
    f'=IF(OR({{tag}}="",as_of="",{{stack}}=""),"",IF({one_of("status", ON_HAND)},'
    f'IFERROR(IF({_STACKED}="","",MAX(0,as_of-{_STACKED})),""),""))'
)
