"""Find a sale of a workbook by its number, and read its rows."""

from __future__ import annotations

from typing import Any, NamedTuple

import pandas as pd

from lumbercalc.book.sheets.sale import SALE
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.xlsx.archive import Archive
from lumbercalc.book.xlsx.cell_value import name_of, text_of
from lumbercalc.book.xlsx.reader import open_workbook, read_table
from lumbercalc.faults import FileFault

SHOWN_NUMBERS = 5
"""Numbers that a fault names, the last ones on the sheet."""


class Sale(NamedTuple):
    """A sale as the sheet Sales has it.

    Parameters
    ----------
    number : object
        Its number as it is stored: a text, unless it came from elsewhere.
    kind : str
        As it is stored, such as "Quote"; "" where nothing is.
    """

    number: Any
    kind: str


def find_sale(archive: Archive, number: str) -> Sale:
    """Find a sale by its number and say what it is.

    Parameters
    ----------
    archive : Archive
        Of a shop's workbook.
    number : str
        Of the sale, as on the sheet Sales or in other case.

    Returns
    -------
    Sale
        The first of that number.

    Raises
    ------
    FileFault
        When it is no such workbook, or has no such sale.
    """
    path = archive.path
    sales = read_table(open_workbook(archive, [SALES.sheet, SALE]), SALES, path)
    found = of_sale(sales, "number", number)
    if found.empty:
        numbers = [text_of(one) for one in sales["number"] if name_of(one)]
        last = ", ".join(numbers[-SHOWN_NUMBERS:]) or "none yet"
        raise FileFault(f"{path}: there is no sale {number[:40]!r} on Sales; the last are: {last}")
    return Sale(found["number"].iloc[0], text_of(found["kind"].iloc[0]))


class SaleRows(NamedTuple):
    """A sale as two sheets have it.

    Parameters
    ----------
    sale : Series
        Its row of Sales.
    lines : DataFrame
        Its rows of Sales lines.
    """

    sale: pd.Series
    lines: pd.DataFrame


def read_sale(archive: Archive, number: Any) -> SaleRows:
    """Read the rows of one sale.

    Parameters
    ----------
    archive : Archive
        Of a workbook made from the template.
    number : object
        Of a sale on the sheet Sales, as it is stored there.

    Returns
    -------
    SaleRows
        The first of that number.

    Raises
    ------
    FileFault
        When the file is no such workbook.
    """
    workbook = open_workbook(archive, [SALES.sheet, LINES.sheet])
    sales, lines = (read_table(workbook, table, archive.path) for table in (SALES, LINES))
    return SaleRows(of_sale(sales, "number", number).iloc[0], of_sale(lines, "sale", number))


def of_sale(rows: pd.DataFrame, key: str, number: Any) -> pd.DataFrame:
    """Give the rows of one sale.

    Parameters
    ----------
    rows : DataFrame
        Of a table.
    key : str
        Of its column with the number of the sale.
    number : object
        Of the sale, in any case of letters.

    Returns
    -------
    DataFrame
        None of them, too.
    """
    return rows[rows[key].map(name_of) == name_of(number)]
