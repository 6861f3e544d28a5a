"""The command that brings a workbook of an older template into a new one."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lumbercalc.cli.console import counted, one_line_faults, out, plain, steps
from lumbercalc.terminal import text_cell
from lumbercalc.version import TEMPLATE

if TYPE_CHECKING:
    from lumbercalc.book.upgrading.kept import Kept

SHOWN = 5
"""Cells that are shown of those kept for one reason."""
NAMED_CELL = re.compile(r"(?<=\bin ).*?![A-Z]{1,3}[0-9]+")
"""Where a value stands today, as a reason names it: another cell for each of a column."""


def upgrade(
    file: Annotated[Path, typer.Argument(help="The shop's workbook; it is only read.")],
    new: Annotated[
        Path | None, typer.Argument(help="Where to write the new one; by default FILE-upgraded.")
    ] = None,
) -> None:
    """Bring a workbook of an older template into a new file of today's.

    Everything that was typed into cells is brought over, in any row, column or
    sheet; what has no place is kept on the sheet "Kept from before" and counted
    here. Text boxes, charts, pictures and pages of your own are named there and
    stay in the old file, which is never changed.
    """
    from lumbercalc.book.macros import SUFFIX
    from lumbercalc.book.template import save
    from lumbercalc.book.upgrading.upgrade import upgrade as bring_over
    from lumbercalc.file_checks import WORKBOOKS, may_write

    ending = file.suffix if file.suffix.lower() in WORKBOOKS else WORKBOOKS[0]
    target = file.parent / f"{file.stem}-upgraded{ending}" if new is None else new
    with one_line_faults(), steps() as progress:
        may_write(target, force=False, instead="name another: upgrade FILE NEW")
        task = progress.add_task("reading the workbook", total=None)
        brought = bring_over(file, macros=target.suffix.lower() == SUFFIX)
        progress.update(task, description="computing every formula")
        save(brought.workbook, target, now=datetime.now())
    out.print(_rows(brought.rows))
    if brought.kept:
        out.print(_kept(brought.kept))
    plain(out, f"{file}: template {brought.template}; this one is {TEMPLATE}. It is as it was")
    count = len(brought.kept)
    where = f"; {count} kept on Kept from before" if count else "; nothing was left over"
    plain(out, f"wrote {target}: {counted(sum(brought.rows.values()), 'row')}{where}")


def _rows(rows: dict[str, int]) -> Table:
    table = Table(title="Rows brought over", title_justify="left", box=SIMPLE_HEAD)
    table.add_column("Sheet")
    table.add_column("Rows", justify="right")
    for sheet, number in rows.items():
        if number:
            table.add_row(sheet, f"{number:,}")
    return table


def _kept(kept: list[Kept]) -> Table:
    table = Table(title="Kept from before", title_justify="left", box=SIMPLE_HEAD)
    table.add_column("Sheet")
    table.add_column("Count", justify="right")
    table.add_column("Why")
    table.add_column("Cells")
    alike: dict[tuple[str, str], list[str]] = {}
    for each in kept:
        why = NAMED_CELL.sub("its place", each.why)
        alike.setdefault((each.sheet, why), []).append(each.cell)
    for (sheet, why), cells in alike.items():
        shown = ", ".join(cells[:SHOWN]) + (", ..." if len(cells) > SHOWN else "")
        table.add_row(text_cell(sheet), f"{len(cells):,}", text_cell(why), text_cell(shown))
    return table
