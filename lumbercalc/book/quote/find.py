"""Find a sale of a workbook by its number, and read its rows."""

from __future__ import annotations

from typing import Any, NamedTuple

import pandas as pd

from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.xlsx.archive import Archive
from lumbercalc.book.xlsx.cell_value import last_names, name_of
from lumbercalc.book.xlsx.reader import open_workbook, read_table
from lumbercalc.faults import FileFault


class Sale(NamedTuple):
    """A sale as the sheets Sales and Sales lines have it.

    Parameters
    ----------
    row : Series
        Of Sales.
    lines : DataFrame
        Its rows of Sales lines.
    """

    row: pd.Series
    lines: pd.DataFrame


def find_sale(archive: Archive, number: str) -> Sale:
    """Find a sale by its number, and read its rows.

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
    workbook = open_workbook(archive)
    sales, lines = (read_table(workbook, table, path).rows for table in (SALES, LINES))
    found = of_sale(sales, "number", number)
    if found.empty:
        last = last_names(sales["number"])
        raise FileFault(f"{path}: there is no sale {number[:40]!r} on Sales; the last are: {last}")
    return Sale(found.iloc[0], of_sale(lines, "sale", number))


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
