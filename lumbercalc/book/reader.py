"""Read a shop's workbook safely: refuse what is no workbook, and what is not this one."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import ParseError

import pandas as pd
from defusedxml.common import DefusedXmlException
from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.workbook import Workbook

from lumbercalc.book.faults import FileFault
from lumbercalc.book.table import FIRST_ROW, HEADER_ROW, Table

LARGEST_FILE = 50_000_000
"""Bytes of a workbook file; 5,000 boards take about one million."""
LARGEST_CONTENT = 80_000_000
"""Bytes of XML in it, unpacked: more is refused before it is read."""


def open_workbook(path: Path, sheets: list[str]) -> Workbook:
    """Open a workbook for its stored values.

    Parameters
    ----------
    path : Path
        An .xlsx file.
    sheets : list of str
        That it must have.

    Returns
    -------
    Workbook
        With values in place of formulas.

    Raises
    ------
    FileFault
        When it is no workbook, too large, unsafe, or lacks a sheet.
    """
    if not path.is_file():
        raise FileFault(f"{path}: there is no such file")
    if path.stat().st_size > LARGEST_FILE:
        raise FileFault(
            f"{path}: {path.stat().st_size} bytes; a workbook has at most {LARGEST_FILE}"
        )
    try:
        with zipfile.ZipFile(path) as archive:
            content = sum(item.file_size for item in archive.infolist())
        if content > LARGEST_CONTENT:
            raise FileFault(
                f"{path}: {content} bytes when unpacked; at most {LARGEST_CONTENT} are read"
            )
        workbook = load_workbook(path, data_only=True)
    except (
        zipfile.BadZipFile,
        InvalidFileException,
        DefusedXmlException,
        ParseError,
        KeyError,
        ValueError,
        TypeError,
        EOFError,
        OSError,
        NotImplementedError,
    ) as error:
        if isinstance(error, FileFault):
            raise
        raise FileFault(f"{path}: this is not a workbook that can be read") from None
    missing = [sheet for sheet in sheets if sheet not in workbook.sheetnames]
    if missing:
        raise FileFault(f"{path}: the sheet {missing[0]} is missing; it was made by lumbercalc new")
    return workbook


def read_table(workbook: Workbook, table: Table, path: Path) -> pd.DataFrame:
    """Read a table's rows as they are stored.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    table : Table
        Which one.
    path : Path
        For messages.

    Returns
    -------
    DataFrame
        A column for each key; the rows in which an input is filled. Its index is the row number.

    Raises
    ------
    FileFault
        When a header was renamed or moved.
    """
    sheet = workbook[table.sheet]
    for column in table.columns:
        address = f"{table.letter(column.key)}{HEADER_ROW}"
        if sheet[address].value != column.header:
            raise FileFault(
                f"{path}: {table.sheet}!{address} is {str(sheet[address].value)[:40]!r}; "
                f"it must be {column.header!r}"
            )
    keys = [column.key for column in table.columns]
    inputs = [number for number, column in enumerate(table.columns) if column.role == "input"]
    rows: list[list[Any]] = []
    numbers: list[int] = []
    for number, row in enumerate(
        sheet.iter_rows(min_row=FIRST_ROW, max_col=len(keys), values_only=True), FIRST_ROW
    ):
        if any(row[place] not in (None, "") for place in inputs):
            rows.append(list(row))
            numbers.append(number)
    return pd.DataFrame(rows, index=pd.Index(numbers, name="row"), columns=keys, dtype=object)


def read_cell(workbook: Workbook, name: str) -> Any:
    """Read a named cell.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    name : str
        Its defined name.

    Returns
    -------
    object
        Its stored value.

    Raises
    ------
    FileFault
        When the name is gone.
    """
    defined = workbook.defined_names.get(name)
    if defined is None:
        raise FileFault(f"the cell named {name} is missing from the workbook")
    sheet, address = next(iter(defined.destinations))
    return workbook[sheet][address.replace("$", "")].value
