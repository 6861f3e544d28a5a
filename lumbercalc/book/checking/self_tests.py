"""What a saved workbook says of itself in its cells named test_..., as stored."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from openpyxl.workbook import Workbook

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.xlsx.archive import Archive
from lumbercalc.book.xlsx.reader import open_workbook, read_cell
from lumbercalc.faults import FileFault

PREFIX = "test_"
"""Of the defined name of a cell that must be TRUE."""


def self_tests(archive: Archive) -> Iterator[Finding]:
    """Find cells named test_... that are not stored as TRUE.

    Parameters
    ----------
    archive : Archive
        Of any workbook; nothing in it is computed or changed.

    Yields
    ------
    Finding
        With where the cell is, and what is stored there; by name.

    Raises
    ------
    FileFault
        When the file is no workbook.
    """
    workbook = open_workbook(archive)
    # names are the same in any case
    names = sorted(n for n in workbook.defined_names if n.casefold().startswith(PREFIX))
    for name in names:
        if wrong := _wrong(workbook, name, archive.path):
            yield Finding(Kind.SELF_TEST, name, wrong)


def _wrong(workbook: Workbook, name: str, path: Path) -> str:
    """Say why a cell does not pass; "" where it does."""
    where = (workbook.defined_names[name].attr_text or "").replace("$", "").replace("'", "")
    try:
        value = read_cell(workbook, name, path)
    except FileFault as fault:
        return str(fault).removeprefix(f"{path}: ")
    if value == 1:  # as Calc stores TRUE
        return ""
    if isinstance(value, str) and value.startswith("#"):
        return f"{where} is {value}"
    told = "blank" if value is None else "FALSE" if value == 0 else repr(value)[:40]
    return f"{where} is {told}"
