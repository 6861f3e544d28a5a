"""Sheet Sales: one row for every quote and invoice, with its dates, totals and what is due."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.sale_statement import READ, UNSTATED, WEIGHED
from lumbercalc.book.sheets.sales_reckoning import (
    BASE,
    BASE_SOLD,
    CANCELLED,
    DEPOSIT,
    DISCOUNT,
    GIVEN_BACK,
    INVOICE,
    LAPSED,
    NO_PLACE,
    PLACE,
    QUOTE,
    TAX,
    TAX_RATE,
    TOTAL_WHEN_PAID,
    note,
    of_number,
    sum_of,
)
from lumbercalc.sheet.limits import Limits

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
        Column(
            "buyer",
            "Buyer",
            "input",
            27,
            "@",
            about="As it stands on the paper: a name, and the address where your law asks for it.",
        ),
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
            about="Its boards are back; the row stays. To keep a deposit, invoice it instead: a "
            "line of words for it, and on the other lines a day under Returned; type 0 as its tax "
            "where your law has none on it.",
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
            DISCOUNT,
            limits=limits_of("LINE_TOTAL", "discount_pct"),
            about="On every line that has none of its own.",
        ),
        Column("delivery", "Delivery ($)", "input", 10, "#,##0.00", limits=Limits("$", 0, 100_000)),
        Column(
            "tax_rate",
            "Sales tax (%)",
            "input",
            9,
            TAX,
            limits=limits_of("SALES_TAX", "tax_pct"),
            about="On all of the sale, its delivery too; 0 where none is due. What your law taxes "
            "at another rate, or not at all, is a sale of its own. For an exempt buyer's "
            "certificate type a line of words at a price of 0.",
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
            14,
            "@",
            of_number(
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
            of_number('IF(ISNUMBER({invoiced}),{invoiced},IF(ISNUMBER({quoted}),{quoted},""))'),
        ),
        Column("lines", "Lines", "result", 8, "0", of_number("COUNTIFS(line_sale,{number})")),
        Column(
            "bf",
            "Board feet, dry (bf)",
            "result",
            10,
            "#,##0.00",
            of_number(sum_of("line_kept_bf")),
        ),
        Column("gross", "Lines ($)", "result", 11, "#,##0.00", of_number(sum_of("line_sum"))),
        Column(
            "back",
            "Returned ($)",
            "result",
            11,
            "#,##0.00",
            of_number(sum_of("line_sum_back")),
        ),
        Column(
            "tax_due",
            "Tax ($)",
            "result",
            10,
            "#,##0.00",
            of_number(f"SALES_TAX({BASE},{TAX_RATE})"),
        ),
        Column(
            "total",
            "Total ($)",
            "result",
            11,
            "#,##0.00",
            of_number(f"ROUND({BASE}+{{tax_due}},2)"),
        ),
        Column(
            "due",
            "Due ($)",
            "result",
            11,
            "#,##0.00",
            of_number(
                f'IF({{paid}}<>"",ROUND(IF(AND({{ended}}<>"",NOT({GIVEN_BACK})),0,{{total}})'
                f"-({TOTAL_WHEN_PAID}),2),"
                f'ROUND(IF({{ended}}<>"",0,{{total}})-{DEPOSIT},2))'
            ),
        ),
        Column("note", "Check", "check", 58, "@", note()),
        Column(
            "settled",
            "Paid since the deposit ($)",
            "result",
            11,
            "#,##0.00",
            of_number(f'IF({{paid}}="",0,ROUND(IF({GIVEN_BACK},0,{TOTAL_WHEN_PAID})-{DEPOSIT},2))'),
            hidden=True,
        ),
        hidden(
            "reserves",
            "Reserves (1) or not (0)",
            of_number(f'IF(AND({{kind}}="{QUOTE}",{{reserve}}="yes"),1,0)'),
        ),
        hidden(
            "loss",
            "Loss of footage, used (%)",
            of_number('IF({shrink}="",footage_shrink,{shrink})'),
            "0.0",
        ),
        hidden(
            "look",
            "Lines to look at",
            of_number(f"{{lines}}-COUNTIFS(line_fine_of,{PLACE})"),
        ),
        hidden(
            "bare",
            "Lines without formulas",
            of_number('IF({look}=0,0,{lines}-COUNTIFS(line_sale,{number},line_look,">=0"))'),
        ),
        hidden(
            "ended",
            "Day from which it is no sale",
            of_number(
                f'IF({{kind}}="{CANCELLED}",{{cancelled}},IF({{kind}}="{LAPSED}",{{until}}+1,""))'
            ),
            DATE,
        ),
        hidden("weighed", "Its stack weighed, by the invoice", WEIGHED, DATE),
        hidden("read", "Its stack read, by the invoice", READ, DATE),
        hidden("unstated", "Why there is no statement (0: there is one)", UNSTATED, "0;;"),
        hidden(
            "place",
            "EMC of the buyer's place, used (%)",
            of_number(f'IF({{emc}}<>"",{{emc}},IF({NO_PLACE},"",EMC({{temp}},{{rh}})))'),
            "0.0",
        ),
        hidden(
            "net",
            "Invoiced, less what came back ($)",
            of_number(f'IF({{invoiced}}="","",{BASE})'),
            "0.00",
        ),
        hidden(
            "tax_sold",
            "Tax when invoiced ($)",
            of_number(f'IF({{invoiced}}="","",SALES_TAX({BASE_SOLD},{TAX_RATE}))'),
            "0.00",
        ),
    ),
    rows=100,
    last_row=2004,
    frozen=2,
    pages_wide=2,
)
"""The table of the sheet."""
