"""The shop's day, from the values a workbook stores: what to weigh, what is ready, what is wrong.

Nothing is computed but days between dates; what the rows say of themselves is taken as it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from openpyxl.workbook import Workbook

from lumbercalc.book.report.stacks import (
    Rows,
    damp,
    emptied,
    latest_weighings,
    ready,
    to_weigh,
    too_fast,
)
from lumbercalc.book.sheets.board_status import HELD
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_reckoning import INVOICE
from lumbercalc.book.sheets.sample_boards import SAMPLES
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.book.xlsx.archive import Archive
from lumbercalc.book.xlsx.cell_value import day_of, name_of, text_of
from lumbercalc.book.xlsx.reader import read_cell, read_table
from lumbercalc.book.xlsx.stale import Stale, why_stale
from lumbercalc.sheet.refusal import is_number

TABLES = (BOARDS, STACKS, SAMPLES, WEIGHINGS, SALES)
"""From which a day is read."""


@dataclass(frozen=True)
class Day:
    """What a shop has to know on its as-of day.

    Parameters
    ----------
    as_of : date or None
        From Start; None where none is typed there.
    stale : Stale or None
        Why the stored values are not those of the inputs; None where nothing tells so.
    weigh, ready, fast, held, unpaid, damp : list of tuple
        Rows of texts and numbers, in the order of the sheets.
    """

    as_of: date | None
    stale: Stale | None
    weigh: list[tuple[str, str, str]]
    ready: list[tuple[str, str, str]]
    fast: list[tuple[str, str]]
    held: list[tuple[str, str, str]]
    unpaid: list[tuple[str, str, str, float]]
    damp: list[tuple[str, str]]


def read_day(workbook: Workbook, archive: Archive) -> Day:
    """Read the shop's day.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    archive : Archive
        Of which it was opened.

    Returns
    -------
    Day
        By what is stored.

    Raises
    ------
    FileFault
        When it is no workbook of the template.
    """
    path = archive.path
    tables = [read_table(workbook, table, path) for table in TABLES]
    boards, stacks, samples, weighings, sales = (each.rows.to_dict("records") for each in tables)
    as_of = day_of(read_cell(workbook, "as_of", path))
    left = emptied(boards)
    stacks = [row for row in stacks if name_of(row["name"]) not in left]
    latest = latest_weighings(weighings, as_of)
    return Day(
        as_of,
        why_stale(tables, archive),
        list(to_weigh(stacks, samples, latest, as_of)),
        list(ready(stacks, as_of)),
        list(too_fast(stacks, latest)),
        [
            (text_of(row["tag"]), text_of(row["species"]), text_of(row["stack"]))
            for row in boards
            if row["status"] == HELD
        ],
        list(_unpaid(sales)),
        list(damp(stacks, latest)),
    )


def _unpaid(sales: Rows) -> Iterator[tuple[str, str, str, float]]:
    """Give invoices that are due, and any sale of which money is to be given back."""
    for row in sales:
        due = row["due"]
        if is_number(due) and ((row["kind"] == INVOICE and due > 0) or due < 0):
            on = day_of(row["date"])
            when = f"{on}" if due > 0 else "to give back"
            yield text_of(row["number"]), text_of(row["buyer"]), when, float(due)
