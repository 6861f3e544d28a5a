"""The shop's day, stacks and sale for the terminal, from the values a workbook stores."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

import pandas as pd
from openpyxl.workbook import Workbook
from rich.box import SIMPLE_HEAD
from rich.table import Table as Printed
from rich.text import Text

from lumbercalc.book.report.day import Day, read_day
from lumbercalc.book.report.stacks import DUE
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.line_reckoning import BY_MBF
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.sheets.sample_boards import SAMPLES
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.book.xlsx.archive import Archive, open_archive
from lumbercalc.book.xlsx.cell_value import day_text, half_up, name_of, text_of
from lumbercalc.book.xlsx.reader import open_workbook, read_cell, read_table

SALE_TOTALS = (
    ("Dry board feet", "bf"),
    ("Lines $", "gross"),
    ("Less returned $", "back"),
    ("Delivery $", "delivery"),
    ("Tax $", "tax_due"),
    ("Total $", "total"),
    ("Deposit $", "deposit"),
    ("Paid since $", "settled"),
    ("Due $", "due"),
)
"""Words and column of the sheet Sales."""

MOST_DIGITS = 5
"""Of a quantity or a price: as the sheets show them."""
BARE = "it has no formulas: copy those of the row above down"

SHEETS = [each.sheet for each in (BOARDS, STACKS, SAMPLES, WEIGHINGS, SALES)] + ["Sale", "Checks"]


def report(path: Path) -> Iterator[Printed | Text]:
    """Make the report of a workbook.

    Parameters
    ----------
    path : Path
        A workbook made from the template.

    Yields
    ------
    rich.table.Table or rich.text.Text
        The shop's day, what the stacks are and how fast they dry, when they are ready, what to
        look at, then the sale.

    Raises
    ------
    FileFault
        When the file is no such workbook.
    """
    archive = open_archive(path)
    workbook = open_workbook(archive, SHEETS)
    yield from day_sections(read_day(workbook, archive))
    stacks = read_table(workbook, STACKS, path)
    as_of = day_text(read_cell(workbook, "as_of", path))
    yield _stacks(stacks, as_of)
    yield _ready(stacks)
    yield _advice(stacks)
    yield _sale(workbook, path)


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
    return SaleRows(_of_sale(sales, "number", number).iloc[0], _of_sale(lines, "sale", number))


def sale_tables(rows: SaleRows) -> Iterator[Printed]:
    """Make the tables of one sale.

    Parameters
    ----------
    rows : SaleRows
        From `read_sale`.

    Yields
    ------
    rich.table.Table
        Its lines, then its totals.
    """
    sale = rows.sale
    day = day_text(sale["date"])
    title = f"{sale['kind'] or 'Sale'} {text_of(sale['number'])}, {sale['buyer'] or ''} {day}"
    printed = _table(title, ("Tag", "What"), ("Quantity", "Price $", "Total $"))
    for line in rows.lines.to_dict("records"):
        amount = _number(line["amount"], 5 if line["unit"] == BY_MBF else 2, MOST_DIGITS)
        price, total = _number(line["charged"], 2, MOST_DIGITS), _number(line["sum"], 2)
        amount.append(f" {line['unit'] or ''}")
        tag = _text(line["tag"] or line["log"])
        printed.add_row(tag, _text(line["what"]), amount, price, total)
    yield printed
    yield _totals("Totals", sale)


def faults_of_sale(rows: SaleRows) -> Iterator[str]:
    """Say what is to be looked at before the paper of a sale goes out.

    Parameters
    ----------
    rows : SaleRows
        From `read_sale`.

    Yields
    ------
    str
        The check of the sale, then those of its lines, where they are not "ok".
    """
    number = rows.sale["number"]
    bare = BARE if text_of(rows.sale["note"]) else ""  # else nothing of it was computed yet
    for sheet, each in ((SALES.sheet, rows.sale.to_frame().T), (LINES.sheet, rows.lines)):
        for row in each.to_dict("records"):
            told = text_of(row["note"]) or bare
            if told not in ("", "ok"):
                what = text_of(row.get("tag") or row.get("log") or row.get("words") or number)
                yield f"look at {what} on {sheet}: {told}"


def day_sections(day: Day) -> Iterator[Printed | Text]:
    """Make the sections of the shop's day.

    Parameters
    ----------
    day : Day
        From `read_day`.

    Yields
    ------
    rich.table.Table or rich.text.Text
        One for each question; one line where there is nothing to tell.
    """
    if day.stale:
        yield Text(
            f"These figures are not of today's inputs ({day.stale.why}):\n{day.stale.mend}",
            style="bold red",
        )
    yield Text(f"The day: {day.as_of or 'no as-of date on Start'}", style="bold")
    section = partial(_section, nothing="not known" if day.stale else "none")
    yield section("To weigh", ("Stack", "Boards", "Weighed"), day.weigh)
    yield Text(f"  due {DUE}", style="dim")
    yield section("Ready", ("Stack", "Place", "Why"), day.ready)
    yield section("Dries too fast", ("Stack", "Loses"), day.fast)
    yield section("Quarantined, insect signs", ("Tag", "Species", "Stack"), day.quarantined)
    yield section("Unpaid", ("Number", "Buyer", "Invoiced on", "Due $"), day.unpaid)
    if day.damp:
        yield section("Damp", ("Stack", "What"), day.damp)


def _section(
    title: str, headers: Sequence[str], rows: Sequence[tuple[str | float, ...]], nothing: str
) -> Printed | Text:
    """Make the table of one of the day's questions; one line where there is nothing to tell."""
    if not rows:
        return Text(f"{title}: {nothing}")
    right = [header for header in headers if header.endswith("$")]
    printed = _table(title, [header for header in headers if header not in right], right)
    for row in rows:
        printed.add_row(
            *(_number(cell, 2) if isinstance(cell, float) else _text(cell) for cell in row)
        )
    return printed


def _stacks(stacks: pd.DataFrame, as_of: str) -> Printed:
    headers = ("bf", "MC now %", "Loss %/day", "Safe %/day")
    printed = _table(f"Stacks as of {as_of}", ("Stack", "Species", "Thick"), headers)
    for row in stacks.to_dict("records"):
        printed.add_row(
            _text(row["name"]), _text(row["species"]), _text(row["quarters"]),
            _number(row["bf"], 0), _number(row["mc_now"], 1), _number(row["loss"], 2),
            _number(row["safe"], 1),
        )  # fmt: skip
    return printed


def _ready(stacks: pd.DataFrame) -> Printed:
    printed = _table("Ready", ("Stack", "Place"), ("k", "Weighed", "Early", "Likely", "Late"))
    for row in stacks.to_dict("records"):
        printed.add_row(
            _text(row["name"]), _text(row["place"]),
            _number(row["rate"], 2), _number(row["weighings"], 0),
            *(_text(day_text(row[key])) for key in ("early", "likely", "late")),
        )  # fmt: skip
    return printed


def _advice(stacks: pd.DataFrame) -> Printed:
    printed = _table("To look at", ("Stack",), ())
    printed.add_column("What")
    for row in stacks.to_dict("records"):
        told = [str(row[key] or "not computed") for key in ("note", "advice")]
        what = dict.fromkeys(text for text in told if text != "ok")
        printed.add_row(_text(row["name"]), _text("; ".join(what) or "ok"))
    return printed


def _sale(workbook: Workbook, path: Path) -> Printed | Text:
    number = read_cell(workbook, "sale_number", path)
    found = _of_sale(read_table(workbook, SALES, path), "number", number)
    if found.empty:
        return Text("Sale: none yet")
    sale = found.iloc[0]
    return _totals(f"{sale['kind'] or 'Sale'} {text_of(number)}", sale)


def _of_sale(rows: pd.DataFrame, key: str, number: Any) -> pd.DataFrame:
    return rows[rows[key].map(name_of) == name_of(number)]


def _totals(title: str, sale: pd.Series) -> Printed:
    totals = _table(title, ("",), ("",))
    totals.show_header = False
    for label, key in SALE_TOTALS:
        totals.add_row(label, _number(sale[key], 2))
    return totals


def _table(title: str, left: Sequence[str], right: Sequence[str]) -> Printed:
    """Make a table that fits in 80 columns: texts left, numbers and dates right and never cut."""
    printed = Printed(
        title=Text(title), title_justify="left", box=SIMPLE_HEAD, padding=(0, 1, 0, 0)
    )
    for header in left:
        printed.add_column(header)
    for header in right:
        printed.add_column(header, justify="right", no_wrap=True)
    return printed


def _text(value: Any) -> Text:
    """Show a cell's text as it is: brackets in it are no markup."""
    return Text("" if value is None else str(value))


def _number(value: Any, digits: int, most: int = 0) -> Text:
    """Show a number with so many digits, or with more where more were typed."""
    if not isinstance(value, (int, float)):
        return _text(value)
    shown = f"{half_up(value, max(digits, most)):,f}"
    whole, _, part = shown.partition(".")
    return _text(f"{whole}.{part[:digits]}{part[digits:].rstrip('0')}" if most else shown)
