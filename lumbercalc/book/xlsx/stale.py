"""Whether the values a workbook stores are those of its inputs, as far as the file itself tells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from pathlib import Path

from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.calculation_mark import is_calculated
from lumbercalc.book.xlsx.parts import BOOK
from lumbercalc.book.xlsx.reader import StoredTable, open_workbook

PLAIN_NAME = re.compile(r"[\w./\\:-]+")
"""The name of a file that a terminal takes for one word."""
KEYS = {"board": "tag", "stack": "name", "sample": "board", "weighing": "board", "sales": "number"}
"""The input of each table, by the table's name, that gives a row a check when it is filled."""


@dataclass(frozen=True)
class Stale:
    """Why stored values are not those of the inputs, and the remedy.

    Parameters
    ----------
    why : str
        What in the file says so.
    mend : str
        What the person is to do.
    """

    why: str
    mend: str


def why_stale(tables: Sequence[StoredTable], archive: Archive) -> Stale | None:
    """Say why the stored values are not those of the inputs.

    Parameters
    ----------
    tables : sequence of StoredTable
        With a check: those of `KEYS`; without any only the file's own mark is looked at.
    archive : Archive
        Of the workbook.

    Returns
    -------
    Stale or None
        None where nothing tells so.
    """
    compute = how_to_compute(archive.path)
    blank: list[tuple[StoredTable, int]] = []
    for stored in tables:
        key = KEYS[stored.table.name]
        for number, row in stored.numbered():
            if row[key] in (None, ""):
                continue
            if row["note"] in (None, ""):
                blank.append((stored, number))
            if row["note"] == "#NAME?":
                where = stored.where("note", number)
                return Stale(f"{where} was saved without the functions", compute)
    bare = _without_formulas(blank, archive)
    for stored, number in blank:
        if (stored, number) not in bare:
            return Stale(f"nothing is stored in {stored.where('note', number)}", compute)
    if bare:
        stored, number = bare[0]
        more = f", as {len(bare) - 1} more" if len(bare) > 1 else ""
        return Stale(
            f"{stored.columns['note'].sheet} row {number} has no formulas{more}",
            "copy those of the row above down, recalculate and save",
        )
    if says_it_is_old(archive):
        return Stale("the file is marked to be computed anew", compute)
    return None


def how_to_compute(path: Path) -> str:
    """Say how the values of a workbook are made those of its inputs.

    Parameters
    ----------
    path : Path
        Of the workbook.

    Returns
    -------
    str
        What to do; the command may be copied as it stands.

    Examples
    --------
    >>> print(how_to_compute(Path("my shop.xlsx")))
    recalculate everything in the spreadsheet and save, or use the copy that this makes:
    lumbercalc check "my shop.xlsx" --fix-values
    """
    name = str(path)
    typed = name if PLAIN_NAME.fullmatch(name) else f'"{name}"'
    return (
        "recalculate everything in the spreadsheet and save, or use the copy that this makes:\n"
        f"lumbercalc check {typed} --fix-values"
    )


def says_it_is_old(archive: Archive) -> bool:
    """Tell whether a file is marked to be computed anew when it is loaded.

    Parameters
    ----------
    archive : Archive
        Of the workbook.

    Returns
    -------
    bool
        True where its stored values may be those of before.
    """
    with readable(archive.path), archive.parts() as parts:
        return not is_calculated(parts.read(BOOK))


def _without_formulas(
    blank: list[tuple[StoredTable, int]], archive: Archive
) -> list[tuple[StoredTable, int]]:
    """Give those rows whose check has no formula: there is nothing in them to compute anew."""
    if not blank:
        return []
    workbook = open_workbook(archive, formulas=True)
    found = []
    with readable(archive.path):
        for stored, rows in groupby(blank, key=itemgetter(0)):
            of_table = list(rows)
            (_, last), note = of_table[-1], stored.columns["note"]
            place = note.first_column
            cells = workbook[note.sheet].iter_rows(1, last, place, place, values_only=True)
            there = {number for number, [cell] in enumerate(cells, 1) if cell is not None}
            found += [each for each in of_table if each[1] not in there]
    return found
