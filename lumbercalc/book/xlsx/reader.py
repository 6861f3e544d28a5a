"""Read a shop's workbook safely: refuse what is no workbook, and what is not this one."""

from __future__ import annotations

from io import BytesIO
from itertools import zip_longest
from pathlib import Path
from typing import Any

import pandas as pd
from openpyxl import load_workbook
from openpyxl.utils.cell import coordinate_to_tuple
from openpyxl.workbook import Workbook

from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Table
from lumbercalc.book.template_mark import MARK, template_of
from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.cell_value import held
from lumbercalc.book.xlsx.defined import areas_of, is_macro
from lumbercalc.faults import FileFault
from lumbercalc.version import TEMPLATE


def open_workbook(archive: Archive, sheets: list[str], *, formulas: bool = False) -> Workbook:
    """Open a workbook for its stored values.

    It is unpacked only as far as it is asked for: a merged area or a link of a billion cells in
    it costs nothing. Links to other files are not even read, and names of macros are left out.

    Parameters
    ----------
    archive : Archive
        From `open_archive`; macros in it are never run.
    sheets : list of str
        That it must have.
    formulas : bool
        Formulas as texts in place of their values; they are never computed.

    Returns
    -------
    Workbook
        Nothing can be changed in it.

    Raises
    ------
    FileFault
        When it is no workbook, or lacks a sheet.
    """
    path, content = archive.path, BytesIO(archive.content)
    with readable(path):
        workbook = load_workbook(content, read_only=True, data_only=not formulas, keep_links=False)
        names = workbook.defined_names
        for name in [name for name, defined in names.items() if is_macro(defined)]:
            del names[name]
    missing = [sheet for sheet in sheets if sheet not in workbook.sheetnames]
    if missing:
        raise FileFault(
            f"{path}: the sheet {missing[0]} is missing; "
            + (_older(workbook, path) or "a workbook made by lumbercalc new has it")
        )
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
    keys = [column.key for column in table.columns]
    inputs = [number for number, column in enumerate(table.columns) if column.role == "input"]
    rows: list[list[Any]] = []
    numbers: list[int] = []
    with readable(path):
        lines = workbook[table.sheet].iter_rows(
            min_row=HEADER_ROW, max_row=table.last_row, max_col=len(keys), values_only=True
        )
        _check_header(workbook, table, next(lines, ()), path)
        for number, row in enumerate(lines, FIRST_ROW):
            if any(row[place] not in (None, "") for place in inputs):
                rows.append(list(map(held, row)))
                numbers.append(number)
    return pd.DataFrame(rows, index=pd.Index(numbers, name="row"), columns=keys, dtype=object)


def _older(workbook: Workbook, path: Path) -> str:
    """Say what to do with a workbook of an older template; "" of any other."""
    mark = read_cell(workbook, MARK, path) if MARK in workbook.defined_names else None
    template = template_of(workbook.defined_names, mark)
    if template is None or template >= TEMPLATE:
        return ""
    return f"its template is {template:g}, older than {TEMPLATE}; run: lumbercalc upgrade {path}"


def _check_header(workbook: Workbook, table: Table, header: tuple[Any, ...], path: Path) -> None:
    for column, there in zip_longest(table.columns, header):
        if there != column.header:
            what_to_do = _older(workbook, path) or (
                f"it must be {column.header!r}, or brought into this template anew: "
                f"lumbercalc upgrade {path}"
            )
            raise FileFault(
                f"{path}: {table.sheet}!{table.letter(column.key)}{HEADER_ROW} is "
                f"{str(there or '')[:40]!r}; {what_to_do}"
            )


def read_cell(workbook: Workbook, name: str, path: Path) -> Any:
    """Read a named cell.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    name : str
        Its defined name.
    path : Path
        For messages.

    Returns
    -------
    object
        Its stored value.

    Raises
    ------
    FileFault
        When the name is gone, or no longer the name of one cell.
    """
    with readable(path):
        areas = areas_of(workbook.defined_names.get(name))
        if len(areas) != 1 or areas[0][0] not in workbook.sheetnames:
            raise FileFault(f"{path}: the cell named {name} is missing from the workbook")
        sheet, address = areas[0]
        if ":" in address:
            raise FileFault(f"{path}: {name} names {sheet}!{address}; it must be one cell")
        row, column = coordinate_to_tuple(address.replace("$", ""))
        return held(workbook[sheet].cell(row, column).value)
