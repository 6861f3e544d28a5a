"""Read a shop's workbook safely: refuse what is no workbook, and what is not this one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

import pandas as pd
from openpyxl import load_workbook
from openpyxl.utils.cell import coordinate_to_tuple
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.workbook import Workbook

from lumbercalc.book.page.table import Table
from lumbercalc.book.template_mark import MARK, template_of
from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.cell_value import held
from lumbercalc.book.xlsx.defined import area_of, areas_of, is_macro
from lumbercalc.book.xlsx.places import Area, Place, address
from lumbercalc.faults import FileFault
from lumbercalc.version import TEMPLATE

WIDEST = 500
"""Columns between the first and the last one of a table, with those that a shop put in."""


@dataclass(frozen=True, eq=False)
class StoredTable:
    """The rows of a table as a workbook stores them.

    A shop may put columns of its own between those of the template, or rows above the table, and
    give sheets and headers other words: the names of the columns go with their cells.

    Parameters
    ----------
    table : Table
        As declared.
    columns : dict of str to Area
        Where each column stands, by its key.
    rows : DataFrame
        A column for each key; the rows in which an input is filled. Its index is the row number.
    """

    table: Table
    columns: dict[str, Area]
    rows: pd.DataFrame

    def where(self, key: str, row: int) -> str:
        """Write where a cell of the table is.

        Parameters
        ----------
        key : str
            Of the column.
        row : int
            Row number in the sheet.

        Returns
        -------
        str
            Sheet and address, such as "Boards!C7".
        """
        column = self.columns[key]
        return f"{column.sheet}!{address((column.sheet, row, column.first_column))}"

    def numbered(self) -> Iterator[tuple[int, dict[str, Any]]]:
        """Go through the rows with their numbers in the sheet.

        Yields
        ------
        tuple of int and dict
            Row number; the cells by the keys of their columns.
        """
        for number, cells in zip(self.rows.index, self.rows.to_dict("records"), strict=True):
            yield int(number), {str(key): cell for key, cell in cells.items()}


def open_workbook(archive: Archive, *, formulas: bool = False) -> Workbook:
    """Open a workbook for its stored values.

    It is unpacked only as far as it is asked for: a merged area or a link of a billion cells in
    it costs nothing. Links to other files are not even read, and names of macros are left out.

    Parameters
    ----------
    archive : Archive
        From `open_archive`; macros in it are never run.
    formulas : bool
        Formulas as texts in place of their values; they are never computed.

    Returns
    -------
    Workbook
        Nothing can be changed in it.

    Raises
    ------
    FileFault
        When it is no workbook.
    """
    path, content = archive.path, BytesIO(archive.content)
    with readable(path):
        workbook = load_workbook(content, read_only=True, data_only=not formulas, keep_links=False)
        names = workbook.defined_names
        for name in [name for name, defined in names.items() if is_macro(defined)]:
            del names[name]
    return workbook


def refuse_1904(workbook: Workbook, path: Path) -> None:
    """Refuse a workbook whose numbers of days are not those of the functions.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    path : Path
        For messages.

    Raises
    ------
    FileFault
        When it counts days from 1904, as Excel on a Mac once did.
    """
    if workbook.epoch == CALENDAR_MAC_1904:
        raise FileFault(
            f"{path}: it counts days from 1904; set it to count from 1900, as the functions do"
        )


def read_table(workbook: Workbook, table: Table, path: Path) -> StoredTable:
    """Read a table's rows as they are stored, where the names of its columns lead.

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
    StoredTable
        The rows in which an input is filled.

    Raises
    ------
    FileFault
        When the name of a column is gone, or leads elsewhere than those of the others.
    """
    columns = _columns(workbook, table, path)
    places = {key: area.first_column for key, area in columns.items()}
    left, right = min(places.values()), max(places.values())
    area = next(iter(columns.values()))
    if right - left >= WIDEST:
        raise FileFault(f"{path}: the columns of {area.sheet} are more than {WIDEST} apart")
    offsets = [place - left for place in places.values()]
    inputs = [places[key] - left for key in table.input_keys]
    rows: list[list[Any]] = []
    numbers: list[int] = []
    with readable(path):
        lines = workbook[area.sheet].iter_rows(
            area.first_row, area.last_row, left, right, values_only=True
        )
        for number, line in enumerate(lines, area.first_row):
            if any(line[offset] not in (None, "") for offset in inputs):
                rows.append([held(line[offset]) for offset in offsets])
                numbers.append(number)
    index = pd.Index(numbers, name="row")
    return StoredTable(
        table, columns, pd.DataFrame(rows, index=index, columns=list(columns), dtype=object)
    )


def _columns(workbook: Workbook, table: Table, path: Path) -> dict[str, Area]:
    """Find the columns of a table by their names: one beside the other, of the same rows."""
    columns: dict[str, Area] = {}
    first: Area | None = None
    for column in table.columns:
        name = f"{table.name}_{column.key}"
        area = area_of(workbook.defined_names.get(name), workbook.sheetnames)
        if area is None or area.width != 1:
            raise FileFault(
                f"{path}: {table.sheet} has no column named {name}, for {column.header!r}; "
                + _what_to_do(workbook, path)
            )
        first = first or area
        if (area.sheet, area.first_row) != (first.sheet, first.first_row):
            raise FileFault(
                f"{path}: {name} begins at {area.sheet}!{address(area.first)}, and not beside "
                f"{first.sheet}!{address(first.first)}, as a column of the same table must"
            )
        columns[column.key] = area
    return columns


def _what_to_do(workbook: Workbook, path: Path) -> str:
    """Say what to do with a workbook in which a column of the template is missing."""
    mark = read_cell(workbook, MARK, path) if MARK in workbook.defined_names else None
    template = template_of(workbook.defined_names, mark)
    if template is None:
        return "a workbook made by lumbercalc new has it"
    if template < TEMPLATE:
        return (
            f"its template is {template:g}, older than {TEMPLATE}; run: lumbercalc upgrade {path}"
        )
    return f"to bring it into this template anew, run: lumbercalc upgrade {path}"


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
    sheet, row, column = named_place(workbook, name, path)
    with readable(path):
        return held(workbook[sheet].cell(row, column).value)


def named_place(workbook: Workbook, name: str, path: Path) -> Place:
    """Find a named cell.

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
    tuple
        Its sheet, row and column.

    Raises
    ------
    FileFault
        When the name is gone, or no longer the name of one cell.
    """
    with readable(path):
        areas = areas_of(workbook.defined_names.get(name))
        if len(areas) != 1 or areas[0][0] not in workbook.sheetnames:
            raise FileFault(f"{path}: the cell named {name} is missing from the workbook")
        sheet, cells = areas[0]
        if ":" in cells:
            raise FileFault(f"{path}: {name} names {sheet}!{cells}; it must be one cell")
        return sheet, *coordinate_to_tuple(cells.replace("$", ""))
