"""Commands that write and show workbooks."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from lumbercalc.cli.console import (
    Force,
    counted,
    err,
    one_line_faults,
    out,
    plain,
    steps,
    tell_of_backup,
)


def _write_workbook(file: Path, records: Path | None, *, force: bool) -> dict[str, int]:
    from lumbercalc.book.macros import SUFFIX
    from lumbercalc.book.records import fill
    from lumbercalc.book.template import build, save
    from lumbercalc.file_checks import may_write

    may_write(file, force=force)
    with steps() as progress:
        task = progress.add_task("putting the sheets together", total=None)
        workbook = build(macros=file.suffix.lower() == SUFFIX)
        counts = fill(workbook, records) if records is not None else {}
        progress.update(task, description="computing every formula")
        backup = save(workbook, file, force=force, now=datetime.now())
    tell_of_backup(backup)
    return counts


def new(
    file: Annotated[
        Path, typer.Argument(help="Where to write it: shop.xlsx, or shop.xlsm for Excel.")
    ],
    records: Annotated[
        Path | None, typer.Option("--from", help="Folder of CSV records to fill it with.")
    ] = None,
    force: Force = False,
) -> None:
    """Write a fresh workbook, empty or filled from a folder of records.

    A name that ends in .xlsm gives one with xlwings' macros, for Excel on Windows.
    """
    from lumbercalc.book.records import FILES, not_read

    with one_line_faults():
        counts = _write_workbook(file, records, force=force)
        unknown = not_read(records) if records is not None else []
    if unknown:
        plain(err, f"not read: {', '.join(unknown)}; the names that are read: {', '.join(FILES)}")
    rows = ", ".join(f"{sheet} {counted(count, 'row')}" for sheet, count in counts.items() if count)
    plain(out, f"wrote {file}" + (f": {rows}" if rows else ""))


def demo(
    file: Annotated[Path, typer.Argument(help="Where to write the filled workbook.")] = Path(
        "lumber-shop-demo.xlsx"
    ),
    force: Force = False,
) -> None:
    """Fill the workbook with an invented shop, compute it, and show its day, stacks and sale."""
    from lumbercalc.book.invented_shop import sample_folder
    from lumbercalc.book.report.sections import report as tables

    with one_line_faults():
        counts = _write_workbook(file, sample_folder(), force=force)
        printed = list(tables(file))
    for table in printed:
        out.print(table)
    rows = ", ".join(f"{sheet} {count}" for sheet, count in counts.items())
    plain(out, f"wrote {file} (rows: {rows}); an invented shop")


def report(
    file: Annotated[Path, typer.Argument(help="A saved workbook made by lumbercalc new.")],
) -> None:
    """Show a shop's day, then its stacks and sale, as the workbook's stored values have them.

    The day: what to weigh today, what is ready, dries too fast, is held for insect signs or unpaid.
    """
    from lumbercalc.book.report.sections import report as tables

    with one_line_faults():
        printed = list(tables(file))
    for table in printed:
        out.print(table)
