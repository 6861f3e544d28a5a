"""Print a quote or an invoice of a shop's workbook."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path
from typing import Annotated

import typer

from lumbercalc.cli.console import err, one_line_faults, out, plain, steps


def quote(
    workbook: Annotated[Path, typer.Argument(help="A workbook made by lumbercalc new.")],
    target: Annotated[
        Path | None, typer.Argument(help="The PDF, after --pdf; by default its kind and number.")
    ] = None,
    sale: Annotated[str, typer.Option("--sale", help="Number on the sheet Sales.")] = "",
    pdf: Annotated[
        bool, typer.Option("--pdf", help="Write it as a PDF; Calc must be installed.")
    ] = False,
    force: Annotated[bool, typer.Option("--force", help="Replace the PDF.")] = False,
) -> None:
    """Show a quote or invoice, or print it with --pdf OUT.pdf; the workbook is only read."""
    from lumbercalc.book.faults import FileFault
    from lumbercalc.book.one_sale import copy_of_sale, find_sale
    from lumbercalc.book.report import sale_tables

    with one_line_faults():
        if not sale.strip():
            raise FileFault("--sale is missing: the number of a sale on the sheet Sales")
        number = sale.strip()
        kind = find_sale(workbook, number)
        if not pdf:
            if target is not None:
                raise FileFault(f"{target}: a file is written with --pdf only")
            for table in sale_tables(workbook, number):
                out.print(table)
            return
        paper = target or Path(f"{_file_name(kind, number)}.pdf")
        _may_write(paper, force=force)
        with steps() as progress, tempfile.TemporaryDirectory() as folder:
            from lumbercalc.hosts.calc.pdf import write_pdf

            task = progress.add_task("choosing the sale in a copy", total=None)
            copy = Path(folder) / "sale.xlsx"
            copy_of_sale(workbook, number, copy)
            progress.update(task, description="Calc recalculates and prints")
            write_pdf(copy, paper)
    plain(out, f"wrote {paper}")
    if not kind:
        plain(err, "the workbook has no stored values yet: look at the PDF before you send it")


def _file_name(kind: str, number: str) -> str:
    return re.sub(r"[^\w.-]+", "-", f"{kind or 'Sale'} {number}").strip("-")


def _may_write(paper: Path, *, force: bool) -> None:
    from lumbercalc.book.faults import FileFault

    if paper.suffix.lower() != ".pdf":
        raise FileFault(f"{paper}: the paper's name must end in .pdf")
    if paper.exists() and not force:
        raise FileFault(f"{paper}: there is a file already; choose another name or use --force")
    if not paper.parent.is_dir():
        raise FileFault(f"{paper}: there is no folder {paper.parent}")
