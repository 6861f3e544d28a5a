"""A data logger's file as text, and its rows of cells by the delimiter it has."""

from __future__ import annotations

import codecs
import csv
from collections.abc import Iterator, Sequence
from io import StringIO
from itertools import islice
from pathlib import Path

from lumbercalc.book.logger.marks import READING
from lumbercalc.book.logger.times import match_time
from lumbercalc.faults import FileFault

LARGEST_LOG = 50_000_000
"""Bytes; a reading a minute for a year takes about 20 million."""
DELIMITERS = (";", "\t", ",")
"""In this order: decimal commas and commas in texts make the last one the least sure."""
SHOWN = 60
"""Characters of a row that a fault shows."""
LOOKED_AT = 400
"""Rows from which the layout is told."""
PLAIN = str.maketrans(
    {**dict.fromkeys("\u00a0\u2007\u2008\u2009\u200a\u202f", " "), "\u2212": "-", "\ufeff": None}
)
"""Blanks that some loggers write in times, before PM and before units; a minus of typesetters."""


def read_rows(path: Path) -> list[list[str]]:
    """Read a file and split it by the delimiter that makes readings of most of its rows.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    list of list of str
        Every row of the file, blank ones too; strange blanks and minus signs as plain ones.

    Raises
    ------
    FileFault
        When it is no text, or no delimiter makes readings of it.
    """
    text = _text(path).translate(PLAIN)

    def rows(delimiter: str) -> Iterator[list[str]]:
        # a blank may stand between a delimiter and a quotation mark
        return csv.reader(StringIO(text, newline=None), delimiter=delimiter, skipinitialspace=True)

    def readings(delimiter: str) -> int:
        return sum(is_reading(row) for row in islice(rows(delimiter), LOOKED_AT))

    try:
        found = {delimiter: readings(delimiter) for delimiter in DELIMITERS}
        best = max(found, key=found.__getitem__)
        if found[best]:
            return list(rows(best))
    except csv.Error as fault:
        raise FileFault(f"{path}: this is not a CSV file ({fault})") from None
    if not text.strip():
        raise FileFault(f"{path}: the file is empty")
    last = text.rstrip().splitlines()[-1]
    raise FileFault(
        f"{path}: no row has a time (such as 2025-06-01 14:30), a "
        "temperature and a humidity, with commas, semicolons or tabs between them; the last is "
        f"{last[:SHOWN]!r}"
    )


def is_reading(row: Sequence[str]) -> bool:
    """Tell whether a row has a time and a number.

    Parameters
    ----------
    row : sequence of str
        Its cells.

    Returns
    -------
    bool
        Whether it may be a reading.
    """
    return time_place(row) >= 0 and any(READING.fullmatch(cell) for cell in row)


def time_place(row: Sequence[str]) -> int:
    """Give the place of the first time in a row, or -1.

    Parameters
    ----------
    row : sequence of str
        Its cells.

    Returns
    -------
    int
        Counted from 0.
    """
    return next((n for n, cell in enumerate(row) if match_time(cell)), -1)


def _text(path: Path) -> str:
    if path.is_dir():
        raise FileFault(f"{path}: this is a folder, not a data logger's CSV file")
    if not path.is_file():
        raise FileFault(f"{path}: there is no such file")
    if path.stat().st_size > LARGEST_LOG:
        raise FileFault(f"{path}: {path.stat().st_size} bytes; at most {LARGEST_LOG} are read")
    content = path.read_bytes()
    wide = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    try:
        text = content.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")  # an older logger's degree sign; the rest is ASCII
    if "\0" in text:
        raise FileFault(
            f"{path}: this is not a text file; name the logger's file first and then the workbook; "
            "if it is the logger's, save it as CSV"
        )
    return text
