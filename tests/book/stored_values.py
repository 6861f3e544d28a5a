"""Read what a built workbook stores: named cells, and blocks of rows."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
from openpyxl.workbook import Workbook

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Table
from lumbercalc.book.template import build


@lru_cache(3)
def stored_in(path: Path) -> Workbook:
    """Open a built file with the values that it stores, once for many tests; do not change it."""
    return openpyxl.load_workbook(path, data_only=True)


def named(workbook: Workbook, name: str) -> Any:
    """Give the value of a named cell; a blank text is None."""
    [(sheet, address)] = workbook.defined_names[name].destinations
    value = workbook[sheet][address.replace("$", "")].value
    return None if value == "" else value


def rows(workbook: Workbook, *blocks: Block) -> pd.DataFrame:
    """Give the rows of blocks that stand under each other, with the columns of the first."""
    keys = [column.key for column in blocks[0].columns]
    found = [
        [workbook[block.sheet][f"{block.letter(key)}{row}"].value for key in keys]
        for block in blocks
        for row in range(block.first_row, block.last_row + 1)
    ]
    return pd.DataFrame(found, columns=keys, dtype=object)


def cells(workbook: Workbook, area: str) -> list[Any]:
    """Give the values of an area such as "'Curves'!$C$5:$C$64"."""
    sheet, address = area.replace("'", "").replace("$", "").split("!")
    return [cell.value for line in workbook[sheet][address] for cell in line]


def column(workbook: Workbook, table: Table, key: str) -> list[Any]:
    """Give the values of a table's column, row by row; a blank text is None."""
    sheet, letter = workbook[table.sheet], table.letter(key)
    found = [sheet[f"{letter}{FIRST_ROW + row}"].value for row in range(table.rows)]
    return [None if value == "" else value for value in found]


@cache
def part_of(sheet: str) -> str:
    """Give the part of a built workbook's archive that holds a sheet."""
    return f"xl/worksheets/sheet{build().sheetnames.index(sheet) + 1}.xml"


def parts(path: Path | BytesIO) -> dict[str, bytes]:
    """Give the parts of a workbook's archive by their names."""
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def put_rows(workbook: Workbook, table: Table, stored: Sequence[Mapping[str, Any]]) -> None:
    """Add a table's sheet: headers, names and some rows of stored values, by the columns' keys."""
    sheet = workbook.create_sheet(table.sheet)
    for column in table.columns:
        sheet[f"{table.letter(column.key)}{HEADER_ROW}"].value = column.header
        define(workbook, f"{table.name}_{column.key}", table.area(column.key))
    for row, cells in enumerate(stored, FIRST_ROW):
        for key, value in cells.items():
            sheet[f"{table.letter(key)}{row}"].value = value
