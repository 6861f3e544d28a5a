"""Read one CSV file of records: plain texts under a known header, and nothing that could run."""

from __future__ import annotations

import csv
from pathlib import Path

from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

from lumbercalc.book.xlsx.cell_value import LONGEST_TEXT
from lumbercalc.faults import FileFault
from lumbercalc.wood.own_species import FORMULA_STARTS

LARGEST_FILE = 20_000_000
"""Bytes of a CSV file; 5,000 boards take about half a million."""
Rows = dict[int, dict[str, str]]
"""Texts by key, by the row of the file in which they stand."""


def read_rows(path: Path, keys: list[str]) -> Rows:
    """Read a CSV file whose header holds the first of the given keys, and any of the others.

    Parameters
    ----------
    path : Path
        The file; a missing one has no rows.
    keys : list of str
        Of its columns, in any order; a column that is not there is blank.

    Returns
    -------
    dict of int to dict
        Text of each cell by key, by row of the file (the header is row 1); rows without any text
        are left out.

    Raises
    ------
    FileFault
        For another header, a ragged row, a formula, or a file that is no text.
    """
    if not path.exists():
        return {}
    if not path.is_file():  # a device or a pipe, behind a link perhaps, may have no end
        raise FileFault(f"{path}: this is no file, but a folder, a device or a pipe")
    if path.stat().st_size > LARGEST_FILE:
        raise FileFault(f"{path}: {path.stat().st_size} bytes; at most {LARGEST_FILE} are read")
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            lines = list(csv.reader(file, strict=True))
    except OSError as error:
        raise FileFault(f"{path}: the file cannot be read ({error.strerror or error})") from None
    except UnicodeDecodeError:
        raise _not_utf_8(path) from None
    except csv.Error as error:
        raise FileFault(f"{path}: this is not a CSV file in UTF-8 ({error})") from None
    if not lines:
        raise FileFault(f"{path}: the file is empty; its header must be {', '.join(keys)}")
    header = [name.strip() for name in lines[0]]
    _check_delimiter(header, keys, path)
    _check_header(header, keys, path)
    rows: Rows = {}
    for number, cells in enumerate(lines[1:], 2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(header):
            raise FileFault(
                f"{path} row {number}: {len(cells)} cells; it must be {len(header)}, as in the "
                "header; a text with a comma stands in quotation marks, a number has none"
            )
        for key, cell in zip(header, cells, strict=True):
            _check_cell(cell, f"{path} row {number}, column {key}")
        texts = zip(header, (cell.strip() for cell in cells), strict=True)
        rows[number] = dict.fromkeys(keys, "") | dict(texts)
    return rows


def _check_delimiter(header: list[str], keys: list[str], path: Path) -> None:
    """Refuse a header that is blank, or one cell with other delimiters in it."""
    if not any(header):
        raise FileFault(f"{path} row 1: it is blank; it must be the header: {', '.join(keys)}")
    for delimiter, name in ((";", "semicolons"), ("\t", "tabs")):
        if len(header) == 1 and delimiter in header[0]:
            raise FileFault(
                f"{path} row 1: {name} are between its cells; they must be commas: save it as CSV "
                "with commas"
            )


def _not_utf_8(path: Path) -> FileFault:
    return FileFault(
        f"{path}: this is not a CSV file in UTF-8; save it anew as CSV with commas, and choose "
        "UTF-8 where the spreadsheet asks for the characters"
    )


def _check_header(header: list[str], keys: list[str], path: Path) -> None:
    if any("\0" in name for name in header):  # plain letters of UTF-16, which UTF-8 can be read as
        raise _not_utf_8(path)
    for number, name in enumerate(header, 1):
        if not name:
            raise FileFault(f"{path} row 1: column {number} has no name; delete it, or name it")
        if header.count(name) > 1:
            raise FileFault(f"{path} row 1: column {name[:40]!r} is there twice")
        if name not in keys:
            missing = [key for key in keys if key not in header]
            instead = f"; missing: {', '.join(missing)}" if missing else ""
            raise FileFault(
                f"{path} row 1: column {number} is {name[:40]!r}, which is not known{instead}"
            )
    if keys[0] not in header:
        raise FileFault(f"{path} row 1: column {keys[0]} is missing")


def _check_cell(cell: str, where: str) -> None:
    if cell.startswith(FORMULA_STARTS) or cell.lstrip().startswith(FORMULA_STARTS):
        raise FileFault(
            f"{where}: {cell[:40]!r} begins like a formula; a record holds plain text and numbers"
        )
    if ILLEGAL_CHARACTERS_RE.search(cell):
        raise FileFault(f"{where}: {cell[:40]!r} has a character that no cell can hold")
    if len(cell) > LONGEST_TEXT:
        raise FileFault(f"{where}: {len(cell)} characters; a cell holds at most {LONGEST_TEXT}")
