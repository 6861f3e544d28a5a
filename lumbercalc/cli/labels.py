"""Make labels for label paper from a workbook's boards and stacks."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lumbercalc.book.labels.paper import PAPERS, paper_of
from lumbercalc.cli.console import (
    Force,
    counted,
    err,
    one_line_faults,
    one_of,
    out,
    plain,
    tell_of_backup,
)

if TYPE_CHECKING:  # pandas would slow the start of every other command
    from lumbercalc.book.labels.labels import Shop

USUAL = "1x2-5/8"
PRINT = (
    "print at actual size (100 %), not fitted to the page; hold a first print on plain paper "
    "against the label sheet"
)


def labels(
    workbook: Annotated[Path, typer.Argument(help="A saved workbook made by lumbercalc new.")],
    tags: Annotated[
        list[str] | None,
        typer.Option(
            "--tags",
            help='Tags or stacks, parted by commas (one with a comma in "..."); may be repeated.',
        ),
    ] = None,
    stack: Annotated[
        str | None, typer.Option("--stack", help="Every board that lies in this stack.")
    ] = None,
    stacks: Annotated[bool, typer.Option("--stacks", help="Every stack.")] = False,
    paper: Annotated[
        str, typer.Option("--paper", help=f"Height x width in inches: {', '.join(PAPERS)}.")
    ] = USUAL,
    skip: Annotated[
        int, typer.Option("--skip", min=0, help="Labels of the first page used already.")
    ] = 0,
    cut_lines: Annotated[
        bool, typer.Option("--cut-lines", help="Lines around the labels, for plain paper.")
    ] = False,
    file: Annotated[Path, typer.Option("--out", help="The PDF to write.")] = Path("labels.pdf"),
    force: Force = False,
) -> None:
    """Write labels with QR codes as a PDF for label paper, 30, 14, 10 or 6 to a Letter page.

    Without --tags, --stack or --stacks: those that are chosen on the sheet
    Labels. The QR code holds the bare tag.
    """
    from lumbercalc.book.labels.labels import Shop
    from lumbercalc.book.labels.pdf import label_pdf
    from lumbercalc.file_checks import may_write
    from lumbercalc.files import write_file

    with one_line_faults():
        one_of({"--tags": bool(tags), "--stack": stack is not None, "--stacks": stacks})
        size = paper_of(paper)
        if skip >= size.count:
            raise ValueError(f"--skip is {skip}; a page has {counted(size.count, 'label')}")
        instead = "name another with --out or use --force"
        may_write(file, force=force, what="a file of labels", endings=(".pdf",), instead=instead)
        shop = Shop(workbook)
        names = _names(shop, tags or [], stack, every_stack=stacks)
        made = shop.labels(names)
        content = label_pdf(made, size, skip=skip, cut_lines=cut_lines)
        pages = size.place(skip + len(made) - 1)[0] + 1
        backup = write_file(file, content, force=force, now=datetime.now())
    tell_of_backup(backup)
    if shop.stale:
        why, mend = shop.stale.why, shop.stale.mend
        told = f"moisture may be missing or of before ({why}); before labels are made anew {mend}"
        plain(err, told, style="bold red")
    if held := shop.not_for_sale(names):
        plain(err, f"look at: {', '.join(held)}", style="bold red")
    made_of = f"{counted(len(made), 'label')}, {size.count} to a page, {counted(pages, 'page')}"
    plain(out, f"wrote {file}: {made_of}")
    plain(out, PRINT)


def _names(shop: Shop, tags: list[str], stack: str | None, *, every_stack: bool) -> list[str]:
    if every_stack:
        names = list(shop.stacks)
    elif stack is not None:  # a blank one is no stack, and not what the sheet chose
        names = shop.boards_of(stack)
    elif tags:
        names = [name for text in tags for name in shop.parted(text)]
    else:
        names = shop.chosen
    if not names:
        none = "no label is asked for; choose tags on the sheet Labels, or give --tags"
        raise ValueError(f"{shop.path}: {'no stack is on Stacks yet' if every_stack else none}")
    return names
