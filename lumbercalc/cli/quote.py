"""Print a quote or an invoice of a shop's workbook."""

from __future__ import annotations

import re
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from lumbercalc.cli.console import Force, err, one_line_faults, out, plain, steps, tell_of_backup


def quote(
    workbook: Annotated[Path, typer.Argument(help="A saved workbook made by lumbercalc new.")],
    target: Annotated[
        Path | None, typer.Argument(help="The PDF, after --pdf; by default its kind and number.")
    ] = None,
    sale: Annotated[
        str, typer.Option("--sale", help="Number on the sheet Sales, which must be given.")
    ] = "",
    pdf: Annotated[
        bool, typer.Option("--pdf", help="Write it as a PDF; Calc must be installed.")
    ] = False,
    force: Force = False,
) -> None:
    """Show a quote or invoice, or print it with --pdf OUT.pdf; the workbook is only read.

    The workbook comes first: lumbercalc quote shop.xlsx --sale S-1010 --pdf out.pdf
    """
    from lumbercalc.book.quote.copy import copy_of_sale
    from lumbercalc.book.quote.find import find_sale
    from lumbercalc.book.quote.tables import faults_of_sale, sale_tables
    from lumbercalc.book.xlsx.archive import open_archive
    from lumbercalc.book.xlsx.cell_value import text_of
    from lumbercalc.book.xlsx.stale import why_stale
    from lumbercalc.faults import FileFault
    from lumbercalc.file_checks import may_write
    from lumbercalc.files import write_file

    with one_line_faults():
        if not sale.strip():
            raise FileFault(
                "--sale is missing: the number of a sale on the sheet Sales, such as --sale S-1010"
            )
        if workbook.suffix.lower() == ".pdf":
            raise FileFault(f"{workbook}: this is to be written; name the workbook before it")
        archive = open_archive(workbook)
        found = find_sale(archive, sale.strip())
        if not pdf:
            if target is not None:
                raise FileFault(f"{target}: a file is written with --pdf only")
            for table in sale_tables(found):
                out.print(table)
            for text in faults_of_sale(found):
                plain(err, text)
            if stale := why_stale([], archive):
                told = f"figures may be of before ({stale.why}): {stale.mend}"
                plain(err, told, style="bold red")
            return
        number, kind = found.row["number"], text_of(found.row["kind"])
        paper = target or Path(f"{_file_name(kind, text_of(number))}.pdf")
        may_write(paper, force=force, what="the PDF", endings=(".pdf",))
        with steps() as progress, tempfile.TemporaryDirectory() as folder:
            from lumbercalc.hosts.calc.pdf import pdf_of

            task = progress.add_task("choosing the sale in a copy", total=None)
            copy = Path(folder) / "sale.xlsx"
            copy.write_bytes(copy_of_sale(archive, number))
            progress.update(task, description="Calc recalculates and prints")
            content = pdf_of(copy)
            progress.update(task, description="writing the PDF")
            backup = write_file(paper, content, force=force, now=datetime.now())
    tell_of_backup(backup)
    plain(out, f"wrote {paper}")
    for text in faults_of_sale(found):
        plain(err, text)
    if not kind:
        plain(err, "the workbook has no stored values yet: look at the PDF before you send it")


def _file_name(kind: str, number: str) -> str:
    return re.sub(r"[^\w.-]+", "-", f"{kind or 'Sale'} {number}").strip("-")
