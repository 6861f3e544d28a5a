"""What a saved workbook says of itself in its cells named test_..., as stored."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import NamedTuple

from openpyxl.workbook import Workbook

from lumbercalc.book.xlsx.archive import Archive
from lumbercalc.book.xlsx.reader import open_workbook, read_cell
from lumbercalc.faults import FileFault

PREFIX = "test_"
"""Of the defined name of a cell that must be TRUE."""


class Verdict(StrEnum):
    """What was found."""

    OK = "ok"
    NOT_TRUE = "not TRUE"
    ERROR = "error"


class SelfTest(NamedTuple):
    """One self-test that was looked at.

    Parameters
    ----------
    name : str
        Of its cell.
    verdict : Verdict
        By what is stored.
    detail : str
        Where it is, and what is stored there.
    """

    name: str
    verdict: Verdict
    detail: str


def self_tests(archive: Archive) -> list[SelfTest]:
    """Look at the self-tests of a workbook.

    Parameters
    ----------
    archive : Archive
        Of any workbook; nothing in it is computed or changed.

    Returns
    -------
    list of SelfTest
        One for each cell named test_..., by name.

    Raises
    ------
    FileFault
        When the file is no workbook.
    """
    workbook = open_workbook(archive, [])
    # names are the same in any case
    names = sorted(n for n in workbook.defined_names if n.casefold().startswith(PREFIX))
    return [_self_test(workbook, name, archive.path) for name in names]


def _self_test(workbook: Workbook, name: str, path: Path) -> SelfTest:
    where = (workbook.defined_names[name].attr_text or "").replace("$", "").replace("'", "")
    try:
        value = read_cell(workbook, name, path)
    except FileFault as fault:
        return SelfTest(name, Verdict.ERROR, str(fault).removeprefix(f"{path}: "))
    if value == 1:  # as Calc stores TRUE
        return SelfTest(name, Verdict.OK, where)
    if isinstance(value, str) and value.startswith("#"):
        return SelfTest(name, Verdict.ERROR, f"{where} is {value}")
    told = "blank" if value is None else "FALSE" if value == 0 else repr(value)[:40]
    return SelfTest(name, Verdict.NOT_TRUE, f"{where} is {told}")
