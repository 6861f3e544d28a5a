"""Whether the values a workbook stores are those of its inputs, as far as the file itself tells."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd

from lumbercalc.book.page.table import Table
from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.calculation_mark import is_calculated
from lumbercalc.book.xlsx.edit import BOOK

KEYS = {"board": "tag", "stack": "name", "sample": "board", "weighing": "board", "sales": "number"}
"""The input by which a row has a check, by the table's name."""


def plain_rows(frame: pd.DataFrame) -> list[dict[str, Any]]:
    """Give the rows of a table with None for whatever pandas put into blank cells.

    Parameters
    ----------
    frame : DataFrame
        From `read_table`.

    Returns
    -------
    list of dict
        By the keys of the columns.
    """
    return [
        {str(key): None if value != value else value for key, value in row.items()}
        for row in frame.to_dict("records")
    ]


def why_stale(frames: Sequence[tuple[Table, pd.DataFrame]], archive: Archive) -> str:
    """Say why the stored values are not those of the inputs.

    Parameters
    ----------
    frames : sequence of tuple
        Tables with a check, those of `KEYS`, and their rows.
    archive : Archive
        Of the workbook.

    Returns
    -------
    str
        "" where nothing tells so.
    """
    for table, frame in frames:
        for number, row in zip(frame.index, plain_rows(frame), strict=True):
            if row[KEYS[table.name]] in (None, ""):
                continue
            where = f"{table.sheet}!{table.letter('note')}{number}"
            if row["note"] in (None, ""):
                return f"nothing is stored in {where}"
            if row["note"] == "#NAME?":
                return f"{where} was saved without the functions"
    with readable(archive.path), archive.parts() as parts:
        if not is_calculated(parts.read(BOOK)):
            return "the file is marked to be computed anew"
    return ""
