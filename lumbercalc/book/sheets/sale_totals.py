"""The totals of the sheet Sale, beside and below them what the buyer is told in words."""

from __future__ import annotations

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import alignment, label_from, padded
from lumbercalc.book.sheets.sale_statement import MOVEMENT
from lumbercalc.book.sheets.sales_reckoning import CANCELLED, LAPSED, TAX, no_text


def _money(name: str, label: str, key: str = "", number_format: str = "#,##0.00") -> Field:
    """Declare a figure of the sale's row that is 0 where nothing is typed."""
    there = f"INDEX(sales_{key or name},sale_row)"
    value = f'=IF(sale_row="",0,{no_text(there)})'
    return Field(f"sale_{name}", label, "result", number_format, value)


UNSIGNED = "#,##0.00_);#,##0.00_)"
"""Of what is due or was paid, or is or was given back: the label says which, the value is that on
Sales."""
TOTALS = [
    _money("bf", "Dry board feet (bf)"),
    _money("subtotal", "Lines ($)", "gross"),
    _money("returned", "Less returned ($)", "back"),
    _money("delivery", "Delivery ($)"),
    _money("tax_rate", "Sales tax (%)", number_format=TAX),
    _money("tax", "Tax ($)", "tax_due"),
    _money(
        "sum",
        f'=IF(sale_kind="{CANCELLED}","Total, cancelled ($)",'
        f'IF(sale_kind="{LAPSED}","Total, lapsed ($)","Total ($)"))',
        "total",
    ),
    _money("deposit", "Deposit ($)"),
    _money(
        "settled",
        '=IF(IFERROR(sale_settled<0,FALSE),"Given back ($)","Paid since ($)")',
        number_format=UNSIGNED,
    ),
    _money(
        "due",
        '=IF(IFERROR(sale_due<0,FALSE),"To give back ($)","Due ($)")',
        number_format=UNSIGNED,
    ),
]
HEAVY = ("sale_sum", "sale_due")

MEASURE = (
    '=IF(sale_loss="","","Board feet are net"&IF(sale_loss=0,"",", a dry tally: the green tally '
    'less "&sale_loss&" % for shrinkage")&", each line to 0.01 bf. A slab is its mean width times '
    "its length. Money is to the cent, half a cent up, line by line; tax is on lines less returns, "
    'and delivery.")'
)
TERMS = (
    '=IF(sale_statement="","","The moisture content is that of the boards weighed or read. ")'
    '&"Wood takes up and gives off moisture, and moves, with the air of the place where it is '
    'used."&IF(sale_until="",""," These prices hold until the day above.")'
)
OF_THE_SHOP = '=shop_terms&""'
"""What every buyer is told: as it is typed on Start."""
PRINTED = 9
"""Columns of the page."""
BESIDE = 5
"""Those that are left beside the totals."""


def add_totals(workbook: Workbook, sheet: Worksheet, row: int) -> None:
    """Write the totals at the right, at the left and below them what the buyer is told in words.

    Parameters
    ----------
    workbook : Workbook
        Gets the names of the totals.
    sheet : Worksheet
        The page.
    row : int
        The first of them.
    """
    write_form(workbook, sheet, TOTALS, (row, 8))
    for place, field in enumerate(TOTALS, row):
        cell = sheet.cell(place, 9)
        label_from(sheet, place, 7, 8)
        if field.name in HEAVY:
            cell.style, cell.number_format = "lc total", padded(field.number_format)
        cell.alignment = alignment(field.number_format)
    for text, rows, columns in (
        ("=sale_statement", 2, BESIDE),
        (MOVEMENT, 2, BESIDE),
        (MEASURE, 3, BESIDE),
        (TERMS, 3, BESIDE),
        (OF_THE_SHOP, 1, PRINTED),
    ):
        sheet.merge_cells(start_row=row, end_row=row + rows - 1, start_column=1, end_column=columns)
        sheet.cell(row, 1).value, sheet.cell(row, 1).style = text, "lc note"
        row += rows
