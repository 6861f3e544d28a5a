"""Parts of the formulas of sheet Sales: what a sale comes to, and what may be wrong with it."""

from __future__ import annotations

from lumbercalc.book.page.names import place
from lumbercalc.book.page.notes import (
    UNDER_SHARE,
    Notes,
    blank_around,
    first_note,
    late_among,
    looks_like_a_share,
    reasons,
    text_among,
)
from lumbercalc.book.sheets.sale_statement import UNSTATED_NOTES

QUOTE, INVOICE, CANCELLED, LAPSED = "Quote", "Invoice", "Cancelled", "Lapsed quote"

DISCOUNT, TAX = "0.0##", "0.000##"
"""Formats of percentages: the digits that were typed, so that the buyer can reckon the page again.
"""

PAGE_LINES = 36
"""Lines that the printed page holds."""

_DATES = ("quoted", "until", "invoiced", "cancelled", "paid")
PLACE = place("sales", "number")
NO_PLACE = 'AND({emc}="",OR({temp}="",{rh}=""))'


def _before(key: str, earlier: str) -> str:
    return f"AND(ISNUMBER({{{key}}}),ISNUMBER({{{earlier}}}),SUM({{{key}}})<SUM({{{earlier}}}))"


def of_number(formula: str) -> str:
    """Guard a formula of a row that counts only with its number.

    Parameters
    ----------
    formula : str
        Of a result.

    Returns
    -------
    str
        The formula of the cell: blank without a number.
    """
    return f'=IF({{number}}="","",{formula})'


def sum_of(what: str, *conditions: str) -> str:
    """Write the sum over the lines of the row's sale.

    Parameters
    ----------
    what : str
        Named column of Sales lines.
    *conditions : str
        More pairs of SUMIFS: named column, criterion.

    Returns
    -------
    str
        Part of a formula, to the cent.
    """
    listed = ",".join((what, "line_sale,{number}", *conditions))
    return f"ROUND(SUMIFS({listed}),2)"


def no_text(cell: str) -> str:
    """Write the money in a cell, 0 where a text was typed, on Sales and on the page alike.

    Parameters
    ----------
    cell : str
        Formula of the cell; the check of the sale tells of the text.

    Returns
    -------
    str
        Part of a formula.
    """
    return f"IF(ISTEXT({cell}),0,SUM({cell}))"


TAX_RATE = 'IF({tax_rate}="",0,{tax_rate})'
BASE = f"ROUND({{gross}}-{{back}}+{no_text('{delivery}')},2)"
BASE_SOLD = f"ROUND({{gross}}+{no_text('{delivery}')},2)"
"""As invoiced, before anything came back."""
_RETURNED_LATER = sum_of("line_sum", "line_returned", '">"&{paid}', "line_back", "1")
_BASE_WHEN_PAID = f"ROUND({BASE}+{_RETURNED_LATER},2)"
TOTAL_WHEN_PAID = f"{_BASE_WHEN_PAID}+SALES_TAX({_BASE_WHEN_PAID},{TAX_RATE})"
DEPOSIT = no_text("{deposit}")
GIVEN_BACK = 'AND({paid}<>"",{ended}<>"",SUM({ended})<=SUM({paid}))'
"""The day under Paid on is the one on which a sale that fell through was paid back."""
_WHY = reasons(
    f'PROBLEM("SALES_TAX",1,{TAX_RATE})',
    'PROBLEM("LINE_TOTAL",1,1,IF({discount}="",0,{discount}))',
    'PROBLEM("NET_BOARD_FEET",1,{loss})',
    'IF(OR({temp}="",{rh}=""),"",PROBLEM("EMC",{temp},{rh}))',
)

NUMBER_TWICE = "this number stands twice"
NO_FORMULAS_NOTE = "a line on Sales lines has no formulas: copy those of the row above down"
_NUMBERS = ("discount", "delivery", "tax_rate", "deposit", "shrink", "temp", "rh", "emc")
_OPEN = f'OR({{kind}}="{QUOTE}",{{kind}}="{INVOICE}")'

OWN_NOTES: Notes = (
    ('{number}=""', "the number is missing"),
    (
        'SUMPRODUCT(ISNUMBER(FIND({"*","?","~"},{number}))*1)'
        '+ISNUMBER(FIND(LEFT({number},1),"<>="))>0',
        "a number with * ? ~, or < > = first, stands for others too: choose another",
    ),
    blank_around("number"),
    (f"MATCH({{number}},sales_number,0)<>{PLACE}", NUMBER_TWICE),
    text_among(_DATES),
    (
        f"OR({','.join(f'ISTEXT({{{key}}})' for key in _NUMBERS)})",
        "a number is typed as a text, and does not count: type it again",
    ),
    ('{quoted}="",{invoiced}=""', "the date is missing: quoted on or invoiced on"),
    late_among(key for key in _DATES if key != "until"),
    (
        f"OR({_before('invoiced', 'quoted')},{_before('cancelled', 'quoted')},"
        f"{_before('cancelled', 'invoiced')},{_before('paid', 'quoted')})",
        "the dates are not in their order",
    ),
    ('{reserve}<>"",{reserve}<>"yes",{reserve}<>"no"', "reserve must be yes or no"),
    (looks_like_a_share("{tax_rate}"), f"sales tax{UNDER_SHARE}6.25 for 6.25 %"),
    (looks_like_a_share("{discount}"), f"discount{UNDER_SHARE}5 for 5 %"),
    (looks_like_a_share("{shrink}"), f"loss of footage{UNDER_SHARE}7 for 7 %"),
)
"""When a sale's own row is to be looked at (conditions that hold together), and the words."""

NOTES: Notes = (
    (
        f'OR({{kind}}="{QUOTE}",{{kind}}="{LAPSED}"),{{paid}}<>"",'
        f"OR(NOT({GIVEN_BACK}),{DEPOSIT}=0)",
        "paid, but not invoiced",
    ),
    ("{lines}=0", "no line on Sales lines"),
    ("{bare}>0", NO_FORMULAS_NOTE),
    ("{look}>0", "look at its lines on Sales lines"),
    (f"{_OPEN},IFERROR({DEPOSIT}>{{total}},FALSE)", "the deposit is more than the total"),
    (f"{{lines}}>{PAGE_LINES}", f"more than the {PAGE_LINES} lines of the page: make two sales"),
    *((f"{_OPEN},{condition}", words) for condition, words in UNSTATED_NOTES),
    ('{emc}="",({temp}="")<>({rh}="")', "temperature or humidity of the buyer's place is missing"),
    (
        f'{{kind}}="{INVOICE}",{{shrink}}=""',
        "type the loss of footage, so that a change on Prices leaves this invoice as it is",
    ),
)
"""The same of a sale with its lines, and its stack."""


def note() -> str:
    """Write the check of a sale.

    Returns
    -------
    str
        The first of the notes on its row that holds, else the reason that the row is refused, else
        the first note on its lines and its stack, else "ok".
    """
    told = first_note(OWN_NOTES, _WHY, NOTES)
    return f'=IF(COUNTA({{number}}:{{emc}})=0,"",{told})'
