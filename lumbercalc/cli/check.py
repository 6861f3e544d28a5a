"""The command that checks a workbook, and refreshes its stored values in a copy."""

from __future__ import annotations

from collections import Counter
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lumbercalc.cli.console import counted, err, one_line_faults, out, plain, steps

if TYPE_CHECKING:
    from lumbercalc.book.checking.check import Checked
    from lumbercalc.book.checking.finding import Finding
    from lumbercalc.book.checking.fresh import Fresh

PER_SECOND = 1_500
"""Formulas computed, about: for the word before it starts."""


def check(
    file: Annotated[
        Path, typer.Argument(help="A saved workbook, .xlsx or .xlsm: the template or your own.")
    ],
    fix_values: Annotated[
        bool,
        typer.Option("--fix-values", help="Write a copy whose stored values are fresh."),
    ] = False,
    to: Annotated[
        Path | None,
        typer.Option("--to", help="Name of the copy; FILE-refreshed beside it where not given."),
    ] = None,
) -> None:
    """List what is wrong in a workbook, one line each; the file itself is only read.

    Every formula is computed anew, without a spreadsheet; one without our
    functions is taken as the spreadsheet stored it, unless something that it
    reads changed, or the file says that its values are old. What is told:

    stale: a formula with our functions whose stored value differs, or is missing
    refused: such a formula that comes to an error, and why
    hidden: one of your own whose refusal an IFERROR or the like hides, and why
    blank: a blank cell that one of your own takes for 0 in LibreOffice
    cut off: one of your own whose answer has more cells than are there
    not computed: such a formula that hangs on what cannot be computed here
    text: a text where a number or a date belongs
    reference: one that leads nowhere, or to another workbook: none is opened
    rule: what the template says of its rows, and its sheet Checks; a number or
        a word in one of its cells that may not stand there
    self-test: a cell named test_... that is not stored as TRUE

    Numbers differ by more than one part in 1e9. Exit status: 0 nothing found,
    1 something found, 2 the file cannot be used. With --fix-values the stale
    values do not count, nor self-tests that are TRUE in the copy; "refreshed" is
    told of what else changes there: formulas that depend on ours; and those that
    ours depend on, where the file says that its values are old.
    """
    from lumbercalc.book.checking.check import check as look_at
    from lumbercalc.book.checking.finding import Kind
    from lumbercalc.book.checking.fix_values import copy_beside, others_refreshed
    from lumbercalc.book.checking.fix_values import fix_values as refresh
    from lumbercalc.book.checking.self_tests import self_tests
    from lumbercalc.book.xlsx.archive import open_archive
    from lumbercalc.file_checks import WORKBOOKS, may_write

    with one_line_faults():
        if to is not None and not fix_values:
            raise ValueError("--to names the copy of --fix-values: give both")
        if file.suffix.lower() not in WORKBOOKS:
            open_archive(file)  # of another kind: said before any name of a copy is
        target = to or copy_beside(file)
        if fix_values:
            may_write(target, force=False, instead="name another with --to")
            if target.suffix.lower() != file.suffix.lower():
                raise ValueError(f"{target}: the copy of {file} must end in {file.suffix}")
        with steps() as progress:
            task = progress.add_task("reading the workbook", total=None)
            checked = look_at(file, _say_before)
            if fix_values:
                progress.update(task, description="writing the copy")
                count = refresh(checked.fresh, target, datetime.now())
    for finding in checked.findings:
        plain(out, str(finding))
    plain(out, _summary(checked))
    if checked.fresh.taken:
        plain(out, _taken(checked.fresh))
    left: list[Finding] = checked.findings
    if fix_values:
        for line in others_refreshed(checked.fresh):
            plain(out, line)
        values = counted(count, "stored value")
        plain(out, f"wrote {target}: {values} refreshed; {file} is as it was")
        left = [each for each in left if each.kind not in (Kind.STALE, Kind.SELF_TEST)]
        left += self_tests(open_archive(target))
    if left:
        raise typer.Exit(1)


def _say_before(formulas: int) -> None:
    seconds = max(1, round(formulas / PER_SECOND))
    plain(err, f"computing {counted(formulas, 'formula')}, about {seconds} s")


def _summary(checked: Checked) -> str:
    counts = Counter(finding.kind for finding in checked.findings)
    found = ", ".join(f"{counts[kind]:,} {kind}" for kind in counts)
    total = f"{len(checked.findings):,} found: {found}" if found else "nothing found"
    of_all = f"of the {checked.formulas:,} formulas" if checked.formulas != 1 else "of one formula"
    return f"compared {checked.compared:,} {of_all} (those with our functions); {total}"


def _taken(fresh: Fresh) -> str:
    """Tell of plain formulas that may be old, or that only lumbercalc computes otherwise."""
    from lumbercalc.book.xlsx.cell_value import in_words
    from lumbercalc.book.xlsx.places import address

    place, value = next(iter(fresh.taken.items()))
    count = len(fresh.taken)
    return (
        f"taken as stored: {counted(count, 'formula')} without our functions that ours depend on; "
        f"computed here otherwise, the first {place[0]}!{address(place)}: stored "
        f"{in_words(fresh.old.stored(place))}, here {in_words(value)}. If it was not computed "
        "since it changed, compute it (in Calc Ctrl+Shift+F9) and save it"
    )
