"""The shop's stacks and sale as tables for the terminal, from the values a workbook stores."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from openpyxl.workbook import Workbook
from rich.table import Table as Printed

from lumbercalc.book.reader import open_workbook, read_cell, read_table
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.sheet.readers import SERIAL_ZERO

SHEETS = [BOARDS.sheet, STACKS.sheet, WEIGHINGS.sheet, "Sale", "Checks"]


def report(path: Path) -> Iterator[Printed]:
    """Make the tables of a workbook.

    Parameters
    ----------
    path : Path
        A workbook made from the template.

    Yields
    ------
    rich.table.Table
        Stacks, then the sale.

    Raises
    ------
    FileFault
        When the file is no such workbook.
    """
    workbook = open_workbook(path, SHEETS)
    yield _stacks(workbook, path)
    yield _sale(workbook)


def _stacks(workbook: Workbook, path: Path) -> Printed:
    stacks = read_table(workbook, STACKS, path)
    as_of = _day(read_cell(workbook, "as_of"))
    printed = Printed(title=f"Stacks as of {as_of}", title_justify="left")
    for header in ("Stack", "Place", "Species", "Thick"):
        printed.add_column(header)
    for header in ("bf", "MC now %", "Loss %/day", "Safe %/day", "k", "Weighings"):
        printed.add_column(header, justify="right")
    for header in ("Early", "Likely", "Late", "Check"):
        printed.add_column(header)
    for _, row in stacks.iterrows():
        over = "over the safe rate" if row["speed"] == "over the safe rate" else ""
        note = "" if row["note"] in ("ok", None) else str(row["note"])
        printed.add_row(
            str(row["name"]), str(row["place"]), str(row["species"]), str(row["quarters"]),
            _number(row["bf"], 0), _number(row["mc_now"], 1), _number(row["loss"], 2),
            _number(row["safe"], 1), _number(row["rate"], 2), _number(row["weighings"], 0),
            _day(row["early"]), _day(row["likely"]), _day(row["late"]),
            "; ".join(text for text in (over, note) if text) or "ok",
        )  # fmt: skip
    return printed


def _sale(workbook: Workbook) -> Printed:
    kind, number = read_cell(workbook, "sale_kind"), read_cell(workbook, "sale_number")
    printed = Printed(title=f"{kind} {number or ''}".strip(), title_justify="left")
    printed.add_column("")
    printed.add_column("", justify="right")
    for label, name in (
        ("Dry board feet", "sale_bf"),
        ("Lines $", "sale_subtotal"),
        ("Delivery $", "sale_delivery"),
        ("Tax $", "sale_tax"),
        ("Total $", "sale_sum"),
        ("Deposit $", "sale_deposit"),
        ("Due $", "sale_due"),
    ):
        printed.add_row(label, _number(read_cell(workbook, name), 2))
    return printed


def _number(value: Any, digits: int) -> str:
    return f"{value:,.{digits}f}" if isinstance(value, (int, float)) else str(value or "")


def _day(value: Any) -> str:
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, (int, float)):
        return (SERIAL_ZERO + timedelta(days=int(value))).isoformat()
    return str(value or "")
