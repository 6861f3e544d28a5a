"""Sheet Sales tax: a year's invoices, returns and cancellations month by month, and their tax.

Everything stands in the month in which it happened: an invoice by its day, a board that came back
by the day of its return, a sale that fell through by the day on which it was cancelled. So a month
that was reported stays as it was.
"""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import DATE, RED, head, mark, print_setup
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import FIRST_ROW, Column
from lumbercalc.book.sheets.sales_reckoning import INVOICE
from lumbercalc.sheet.limits import Limits

SHEET = "Sales tax"
FORM_ROW = 4
HEADER_ROW = FORM_ROW + 4
MONTHS = 12

LEAD = (
    "By the day of the invoice, of the return, of the cancelling: a month that is over stays as it "
    "is. Figures for your return, no advice: your tax office says what is taxed, and when."
)

CHOICE = [
    Field(
        "tax_year",
        "Year, if not that of the as-of date",
        "input",
        "0",
        limits=Limits("(a year)", 1990, 2200, whole=True),
    )
]
"""What is typed."""

_IN_YEAR = (
    'sales_invoiced,">="&DATE(tax_year_used,1,1),sales_invoiced,"<"&DATE(tax_year_used+1,1,1)'
)
_WITHOUT_FORMULAS = f"COUNTIFS({_IN_YEAR})-COUNTIFS({_IN_YEAR},sales_bare,0)"
_WITHOUT_TOTAL = f'COUNTIFS(line_kind,"{INVOICE}",line_sum,"")'
_WITHOUT_RATE = f'COUNTIFS({_IN_YEAR},sales_tax_rate,"")'
FIELDS = [
    *CHOICE,
    Field(
        "tax_year_used",
        "Year",
        "result",
        "0",
        '=IF(tax_year<>"",tax_year,IF(as_of="","",YEAR(as_of)))',
    ),
    Field(
        "tax_note",
        "Check",
        "check",
        "@",
        '=IF(tax_year_used="",'
        'IF(COUNT(sales_invoiced)=0,"ok","type the year, or the date on Start"),'
        'IF(ISERROR(tax_of_the_year),"a sale of this year is refused: see Sales",'
        f'IF({_WITHOUT_FORMULAS}>0,{_WITHOUT_FORMULAS}&" of its invoices, or lines of theirs, have '
        'no formulas: see Sales",'
        f'IF({_WITHOUT_TOTAL}>0,"lines of invoices without a total, see Sales lines: "'
        f"&{_WITHOUT_TOTAL},"
        f'IF({_WITHOUT_RATE}>0,{_WITHOUT_RATE}&" of its invoices have no tax rate: type 0 where '
        'none is due","ok")))))',
    ),
]

_TAXED_SALES = ("sales_tax_rate", '">0"')
_INVOICED = ("sales_invoiced", '">0"')
_ANY_RATE = ("line_back_rate", '">=0"')
"""Of a line that came back to an invoice; blank of any other."""
_TAXED_LINES = ("line_back_rate", '">0"')


def _sum(what: str, day: str, *conditions: str) -> str:
    """Write the sum of a named column over the rows whose day lies in the month."""
    listed = (what, day, '">="&{month}', day, '"<"&{next}', *conditions)
    return f"SUMIFS({','.join(listed)})"


def _money(key: str, header: str, formula: str) -> Column:
    shown = f'=IF({{month}}="","",ROUND({formula},2))'
    return Column(key, header, "result", 12, "#,##0.00", shown)


BY_MONTH = Block(
    SHEET,
    (
        Column(
            "month",
            "Month",
            "result",
            32,
            "yyyy\\-mm",
            '=IF(tax_year_used="","",DATE(tax_year_used,{n}+1,1))',
        ),
        Column(
            "invoices",
            "Invoices",
            "result",
            9,
            "0",
            '=IF({month}="","",COUNTIFS(sales_invoiced,">="&{month},sales_invoiced,"<"&{next}))',
        ),
        _money("lines", "Lines ($)", _sum("sales_gross", "sales_invoiced")),
        _money("delivery", "Delivery ($)", _sum("sales_delivery", "sales_invoiced")),
        _money("back", "Came back ($)", _sum("line_sum", "line_returned", *_ANY_RATE)),
        _money("cancelled", "Cancelled ($)", _sum("sales_net", "sales_cancelled", *_INVOICED)),
        _money("net", "Net ($)", "{lines}+{delivery}-{back}-{cancelled}"),
        _money(
            "taxed",
            "of it taxed ($)",
            f"{_sum('sales_gross', 'sales_invoiced', *_TAXED_SALES)}"
            f"+{_sum('sales_delivery', 'sales_invoiced', *_TAXED_SALES)}"
            f"-{_sum('line_sum', 'line_returned', *_TAXED_LINES)}"
            f"-{_sum('sales_net', 'sales_cancelled', *_INVOICED, *_TAXED_SALES)}",
        ),
        _money("untaxed", "not taxed ($)", "{net}-{taxed}"),
        _money(
            "tax",
            "Sales tax ($)",
            f"{_sum('sales_tax_sold', 'sales_invoiced')}"
            f"-{_sum('line_back_tax', 'line_returned', *_ANY_RATE)}"
            f"-{_sum('sales_tax_due', 'sales_cancelled', *_INVOICED)}",
        ),
        _money("total", "Net and tax ($)", "{net}+{tax}"),
        Column("n", "Month, from 0", "result", 7, "0"),
        Column(
            "next",
            "First of the next",
            "result",
            12,
            DATE,
            '=IF({month}="","",DATE(tax_year_used,{n}+2,1))',
        ),
    ),
    MONTHS,
    HEADER_ROW,
)
"""A row for each month of the year."""

LAST_PRINTED = "total"


def add_sales_tax(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(SHEET)
    printed = [column.key for column in BY_MONTH.columns].index(LAST_PRINTED) + 1
    head(sheet, "Sales tax by month", LEAD, printed)
    write_form(workbook, sheet, FIELDS, (FORM_ROW, 1))
    row = FORM_ROW + len(FIELDS) - 1
    mark(sheet, f"B{row}", f'$B${row}<>"ok"', RED)
    BY_MONTH.write(sheet)
    sheet.row_dimensions[HEADER_ROW].height = 32
    added_up = [column.key for column in BY_MONTH.columns[1:printed]]
    total = BY_MONTH.write_total(sheet, "The year", added_up)
    name = "tax_of_the_year"
    at = f"'{SHEET}'!${BY_MONTH.letter('tax')}${total}"
    define(workbook, name, at)
    print_setup(sheet, f"A1:{BY_MONTH.letter(LAST_PRINTED)}{total}")
    sheet.freeze_panes = f"A{FIRST_ROW}"
