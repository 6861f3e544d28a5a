"""Sheet Sales: one row for every quote and invoice, with its dates, totals and what is due."""

from __future__ import annotations

from lumbercalc.book.notes import first_note, late_among, looks_like_a_share, text_among
from lumbercalc.book.sheets.board_status import place
from lumbercalc.book.sheets.stacks import DATE
from lumbercalc.book.table import Column, Table
from lumbercalc.book.validation import limits_of
from lumbercalc.sheet.limits import Limits

QUOTE, INVOICE, CANCELLED, LAPSED = "Quote", "Invoice", "Cancelled", "Lapsed quote"

PAGE_LINES = 36
"""Lines that the printed page holds."""

_DATES = ("quoted", "until", "invoiced", "cancelled", "paid")
_NO_PLACE = 'AND({emc}="",OR({temp}="",{rh}=""))'


def _before(key: str, earlier: str) -> str:
    return f"AND(ISNUMBER({{{key}}}),ISNUMBER({{{earlier}}}),SUM({{{key}}})<SUM({{{earlier}}}))"


def _of_number(formula: str) -> str:
    return f'=IF({{number}}="","",{formula})'


def _sum(what: str, *conditions: str) -> str:
    listed = ",".join((what, "line_sale,{number}", *conditions))
    return f"ROUND(SUMIFS({listed}),2)"


def _total(base: str) -> str:
    return f"{base}+SALES_TAX({base},{_TAX_RATE})"


_TAX_RATE = 'IF({tax_rate}="",0,{tax_rate})'
_BASE = 'ROUND({gross}-{back}+IF({delivery}="",0,{delivery}),2)'
_RETURNED_LATER = _sum("line_sum", "line_returned", '">"&{paid}')
_BASE_WHEN_PAID = f"ROUND({_BASE}+{_RETURNED_LATER},2)"
_DEPOSIT = 'IF({deposit}="",0,{deposit})'
_WHY = (
    f'TRIM(PROBLEM("SALES_TAX",{_BASE},{_TAX_RATE})&" "&PROBLEM("LINE_TOTAL",1,1,'
    'IF({discount}="",0,{discount}))&" "&PROBLEM("NET_BOARD_FEET",1,{loss})&" "&'
    'IF(OR({temp}="",{rh}=""),"",PROBLEM("EMC",{temp},{rh})))'
)

NUMBER_TWICE = "this number stands twice"

NOTES = (
    ('{number}=""', "the number is missing"),
    (f"MATCH({{number}},sales_number,0)<>{place('number')}", NUMBER_TWICE),
    text_among(_DATES),
    ('{quoted}="",{invoiced}=""', "the date is missing: quoted on or invoiced on"),
    late_among(key for key in _DATES if key != "until"),
    (
        f"OR({_before('invoiced', 'quoted')},{_before('cancelled', 'quoted')},"
        f"{_before('cancelled', 'invoiced')},{_before('paid', 'quoted')})",
        "the dates are not in their order",
    ),
    ('{reserve}<>"",{reserve}<>"yes",{reserve}<>"no"', "reserve must be yes or no"),
    (looks_like_a_share("{tax_rate}"), "sales tax under 0.5 %: type 6.25 for 6.25 %"),
    (looks_like_a_share("{discount}"), "discount under 0.5 %: type 5 for 5 %"),
    (looks_like_a_share("{shrink}"), "loss of footage under 0.5 %: type 7 for 7 %"),
    ("{lines}=0", "no line on Sales lines"),
    ("{look}>0", "look at its lines on Sales lines"),
    (
        f'OR({{kind}}="{QUOTE}",{{kind}}="{INVOICE}"),IFERROR({_DEPOSIT}>{{total}},FALSE)',
        "the deposit is more than the total",
    ),
    (f"{{lines}}>{PAGE_LINES}", f"more than the {PAGE_LINES} lines of the page: make two sales"),
    ('IF({stack}="",FALSE,ISNA(MATCH({stack},stack_name,0)))', "no such stack on Stacks"),
    ('{emc}="",({temp}="")<>({rh}="")', "temperature or humidity of the buyer's place is missing"),
    (
        f'{{kind}}="{INVOICE}",{{shrink}}=""',
        "type the loss of footage, so that a change on Prices leaves this invoice as it is",
    ),
)
"""When a sale is to be looked at (conditions that hold together), and the words."""


def _note() -> str:
    unused = 'AND({number}="",{buyer}="",{quoted}="",{invoiced}="")'
    return f'=IF({unused},"",{first_note(NOTES, _WHY)})'


SALES = Table(
    "Sales",
    "sales",
    "One row for every sale. It is a quote until you type the day of the invoice. Nothing is ever "
    "deleted: a sale that falls through gets a day on which it was cancelled.",
    (
        Column(
            "number",
            "Number",
            "input",
            10,
            "@",
            about="Of the quote and of its invoice; never twice.",
        ),
        Column("buyer", "Buyer", "input", 24, "@"),
        Column("quoted", "Quoted on", "input", 12, DATE, limits=Limits("date")),
        Column(
            "until",
            "Quote good until",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="After that day the quote has lapsed, and reserves nothing.",
        ),
        Column(
            "reserve",
            "Reserve the boards",
            "input",
            10,
            "@",
            limits=Limits("choice", choices=("yes", "no")),
            about="yes: while the quote is open, its boards are in no other sale.",
        ),
        Column(
            "invoiced",
            "Invoiced on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="Makes it an invoice: its boards are sold.",
        ),
        Column(
            "cancelled",
            "Cancelled on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="Its boards are back; the row stays.",
        ),
        Column(
            "paid",
            "Paid on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="The day of the last payment or refund: all was settled on it.",
        ),
        Column(
            "discount",
            "Discount (%)",
            "input",
            9,
            "0.0",
            limits=limits_of("LINE_TOTAL", "discount_pct"),
            about="On every line that has none of its own.",
        ),
        Column("delivery", "Delivery ($)", "input", 10, "#,##0.00", limits=Limits("$", 0, 100_000)),
        Column(
            "tax_rate",
            "Sales tax (%)",
            "input",
            9,
            "0.000",
            limits=limits_of("SALES_TAX", "tax_pct"),
        ),
        Column(
            "deposit",
            "Deposit ($)",
            "input",
            10,
            "#,##0.00",
            limits=Limits("$", 0, 1_000_000),
            about="All that came in before the last payment: a deposit, and part payments.",
        ),
        Column(
            "shrink",
            "Loss of footage (%)",
            "input",
            9,
            "0.0",
            limits=limits_of("NET_BOARD_FEET", "shrink_pct"),
            about="From the green to the dry tally; blank takes the one on Prices.",
        ),
        Column(
            "stack",
            "Stack for the moisture statement",
            "input",
            13,
            "@",
            choices="=stack_name",
        ),
        Column(
            "temp",
            "Buyer's place (deg F)",
            "input",
            9,
            "0",
            limits=limits_of("EMC", "temp_f"),
            about="Where the wood will be used; blank where you do not know.",
        ),
        Column("rh", "Buyer's place (% RH)", "input", 9, "0", limits=limits_of("EMC", "rh_pct")),
        Column(
            "emc",
            "or its EMC (% MC)",
            "input",
            9,
            "0.0",
            limits=limits_of("MOVEMENT_LINE", "mc_to"),
            about="In place of temperature and humidity, where you know it.",
        ),
        Column(
            "kind",
            "What it is",
            "result",
            13,
            "@",
            _of_number(
                f'IF(ISNUMBER({{cancelled}}),"{CANCELLED}",IF(ISNUMBER({{invoiced}}),"{INVOICE}",'
                'IF(AND(ISNUMBER({until}),as_of<>"",{until}<as_of),'
                f'"{LAPSED}","{QUOTE}")))'
            ),
        ),
        Column(
            "date",
            "Its date",
            "result",
            12,
            DATE,
            _of_number('IF(ISNUMBER({invoiced}),{invoiced},IF(ISNUMBER({quoted}),{quoted},""))'),
        ),
        Column("lines", "Lines", "result", 8, "0", _of_number("COUNTIFS(line_sale,{number})")),
        Column(
            "bf",
            "Board feet, dry (bf)",
            "result",
            10,
            "#,##0.00",
            _of_number(_sum("line_bf", "line_back", "0")),
        ),
        Column("gross", "Lines ($)", "result", 11, "#,##0.00", _of_number(_sum("line_sum"))),
        Column(
            "back",
            "Returned ($)",
            "result",
            11,
            "#,##0.00",
            _of_number(_sum("line_sum", "line_back", "1")),
        ),
        Column(
            "tax_due",
            "Tax ($)",
            "result",
            10,
            "#,##0.00",
            _of_number(f"SALES_TAX({_BASE},{_TAX_RATE})"),
        ),
        Column(
            "total",
            "Total ($)",
            "result",
            11,
            "#,##0.00",
            _of_number(f"ROUND({_BASE}+{{tax_due}},2)"),
        ),
        Column(
            "due",
            "Due ($)",
            "result",
            11,
            "#,##0.00",
            _of_number(
                f'IF({{paid}}<>"",ROUND(IF(AND({{kind}}="{CANCELLED}",{{cancelled}}>{{paid}}),0,'
                f"{{total}})-({_total(_BASE_WHEN_PAID)}),2),"
                f'ROUND(IF(OR({{kind}}="{CANCELLED}",{{kind}}="{LAPSED}"),0,{{total}})-{_DEPOSIT},2))'
            ),
        ),
        Column("note", "Check", "check", 58, "@", _note()),
        Column(
            "settled",
            "Paid since the deposit ($)",
            "result",
            11,
            "#,##0.00",
            _of_number(
                f'IF({{paid}}="",0,ROUND(IF(AND({{kind}}="{CANCELLED}",{{cancelled}}<={{paid}}),0,'
                f"{_total(_BASE_WHEN_PAID)})-{_DEPOSIT},2))"
            ),
            hidden=True,
        ),
        Column(
            "reserves",
            "Reserves (1) or not (0)",
            "result",
            9,
            "0",
            _of_number(f'IF(AND({{kind}}="{QUOTE}",{{reserve}}="yes"),1,0)'),
            hidden=True,
        ),
        Column(
            "loss",
            "Loss of footage, used (%)",
            "result",
            9,
            "0.0",
            _of_number('IF({shrink}="",footage_shrink,{shrink})'),
            hidden=True,
        ),
        Column(
            "look",
            "Lines to look at",
            "result",
            9,
            "0",
            _of_number("COUNTIFS(line_sale,{number},line_look,1)"),
            hidden=True,
        ),
        Column(
            "place",
            "EMC of the buyer's place, used (%)",
            "result",
            9,
            "0.0",
            _of_number(f'IF({{emc}}<>"",{{emc}},IF({_NO_PLACE},"",EMC({{temp}},{{rh}})))'),
            hidden=True,
        ),
    ),
    rows=100,
    last_row=2004,
    frozen=2,
    pages_wide=2,
)
"""The table of the sheet."""
