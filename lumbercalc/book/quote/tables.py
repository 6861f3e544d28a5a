"""A sale for the terminal: its lines and totals, and what is to be looked at."""

from __future__ import annotations

from collections.abc import Iterator

import pandas as pd
from rich.table import Table as Printed

from lumbercalc.book.printed import new_table, number_cell
from lumbercalc.book.quote.find import Sale
from lumbercalc.book.sheets.line_reckoning import BY_MBF
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.xlsx.cell_value import day_text, text_of
from lumbercalc.terminal import text_cell

TOTALS = (
    ("Dry board feet", "bf"),
    ("Lines $", "gross"),
    ("Less returned $", "back"),
    ("Delivery $", "delivery"),
    ("Sales tax %", "tax_rate"),
    ("Tax $", "tax_due"),
    ("Total $", "total"),
    ("Deposit $", "deposit"),
    ("Paid since $", "settled"),
    ("Due $", "due"),
)
"""Words and column of the sheet Sales."""

MOST_DIGITS = 5
"""Of a quantity, a price or a percentage: as the sheets show them."""
BARE = "it has no formulas: copy those of the row above down"


def sale_tables(sale: Sale) -> Iterator[Printed]:
    """Make the tables of one sale.

    Parameters
    ----------
    sale : Sale
        From `find_sale`.

    Yields
    ------
    rich.table.Table
        Its lines, then its totals.
    """
    row = sale.row
    day = day_text(row["date"])
    title = f"{row['kind'] or 'Sale'} {text_of(row['number'])}, {row['buyer'] or ''} {day}"
    figures = ("Quantity", "Price $", "Discount %", "Total $")
    printed = new_table(title, ("Tag", "What"), figures)
    for line in sale.lines.to_dict("records"):
        amount = number_cell(line["amount"], 5 if line["unit"] == BY_MBF else 2, MOST_DIGITS)
        price, total = number_cell(line["charged"], 2, MOST_DIGITS), number_cell(line["sum"], 2)
        amount.append(f" {line['unit'] or ''}")
        tag = text_cell(line["tag"] or line["log"])
        given = row["discount"] if text_of(line["discount"]) == "" else line["discount"]
        discount = number_cell(given, 1, MOST_DIGITS)
        printed.add_row(tag, text_cell(line["what"]), amount, price, discount, total)
    yield printed
    yield totals("Totals", row)


def faults_of_sale(sale: Sale) -> Iterator[str]:
    """Say what is to be looked at before the paper of a sale goes out.

    Parameters
    ----------
    sale : Sale
        From `find_sale`.

    Yields
    ------
    str
        The check of the sale, then those of its lines, where they are not "ok".
    """
    number = sale.row["number"]
    bare = BARE if text_of(sale.row["note"]) else ""  # else nothing of it was computed yet
    for sheet, each in ((SALES.sheet, sale.row.to_frame().T), (LINES.sheet, sale.lines)):
        for row in each.to_dict("records"):
            told = text_of(row["note"]) or bare
            if told not in ("", "ok"):
                what = text_of(row.get("tag") or row.get("log") or row.get("words") or number)
                yield f"look at {what} on {sheet}: {told}"


def totals(title: str, sale: pd.Series) -> Printed:
    """Make the table of a sale's totals.

    Parameters
    ----------
    title : str
        Over it.
    sale : Series
        Row of Sales.

    Returns
    -------
    rich.table.Table
        Words and sums, without headers.
    """
    printed = new_table(title, ("",), ("",))
    printed.show_header = False
    for label, key in TOTALS:
        printed.add_row(label, number_cell(sale[key], 2, MOST_DIGITS if key == "tax_rate" else 0))
    return printed
