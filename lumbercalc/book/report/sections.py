"""The shop's day, stacks and sale for the terminal, from the values a workbook stores."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

import pandas as pd
from openpyxl.workbook import Workbook
from rich.table import Table as Printed
from rich.text import Text

from lumbercalc.book.printed import new_table, number_cell
from lumbercalc.book.quote.find import of_sale
from lumbercalc.book.quote.tables import totals
from lumbercalc.book.report.day import Day, read_day
from lumbercalc.book.report.stacks import DUE
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.cell_value import day_text, text_of
from lumbercalc.book.xlsx.reader import open_workbook, read_cell, read_table
from lumbercalc.terminal import text_cell


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
    workbook = open_workbook(archive)
    yield from day_sections(read_day(workbook, archive))
    stacks = read_table(workbook, STACKS, path).rows
    as_of = day_text(read_cell(workbook, "as_of", path))
    yield _stacks(stacks, as_of)
    yield _ready(stacks)
    yield _advice(stacks)
    yield _sale(workbook, path)


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
    yield section("Held, insect signs", ("Tag", "Species", "Stack"), day.held)
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
    printed = new_table(title, [header for header in headers if header not in right], right)
    for row in rows:
        printed.add_row(
            *(number_cell(cell, 2) if isinstance(cell, float) else text_cell(cell) for cell in row)
        )
    return printed


def _stacks(stacks: pd.DataFrame, as_of: str) -> Printed:
    headers = ("bf", "MC now %", "Loss %/day", "Safe %/day")
    title = f"Stacks as of {as_of}" if as_of else "Stacks"
    printed = new_table(title, ("Stack", "Species", "Thick"), headers)
    for row in stacks.to_dict("records"):
        printed.add_row(
            text_cell(row["name"]), text_cell(row["species"]), text_cell(row["quarters"]),
            number_cell(row["bf"], 0), number_cell(row["mc_now"], 1), number_cell(row["loss"], 2),
            number_cell(row["safe"], 1),
        )  # fmt: skip
    return printed


def _ready(stacks: pd.DataFrame) -> Printed:
    printed = new_table("Ready", ("Stack", "Place"), ("k", "Weighed", "Early", "Likely", "Late"))
    for row in stacks.to_dict("records"):
        printed.add_row(
            text_cell(row["name"]), text_cell(row["here"]),
            number_cell(row["rate"], 2), number_cell(row["weighings"], 0),
            *(text_cell(day_text(row[key])) for key in ("early", "likely", "late")),
        )  # fmt: skip
    return printed


def _advice(stacks: pd.DataFrame) -> Printed:
    printed = new_table("To look at", ("Stack",), ())
    printed.add_column("What")
    for row in stacks.to_dict("records"):
        told = [str(row[key] or "not computed") for key in ("note", "advice")]
        what = dict.fromkeys(text for text in told if text != "ok")
        printed.add_row(text_cell(row["name"]), text_cell("; ".join(what) or "ok"))
    return printed


def _sale(workbook: Workbook, path: Path) -> Printed | Text:
    number = read_cell(workbook, "sale_number", path)
    found = of_sale(read_table(workbook, SALES, path).rows, "number", number)
    if found.empty:
        return Text("Sale: none yet")
    sale = found.iloc[0]
    return totals(f"{sale['kind'] or 'Sale'} {text_of(number)}", sale)
