"""A small shop typed into the template and computed: rows in, the cells out that are asked for."""

from __future__ import annotations

import pickle
import re
from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from typing import Any

from openpyxl.workbook import Workbook

from lumbercalc.book.engine.compute import compute_workbook
from lumbercalc.book.page.block import Block
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.tables import TABLES
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.cell_value import Values
from tests.book.what_is_asked import Asked, bare_copy, clear_others, row_of_check

Row = Mapping[str, Any]


class Shop:
    """A workbook with some rows, and what those of its formulas come to that are asked for.

    Parameters
    ----------
    rows : mapping
        Rows by the name of their table: what is typed, by column.
    named : mapping
        What is typed in named cells.
    asked : sequence of str, Block or tuple
        All that the tests read: sheets, names of cells or columns, blocks, counts of Checks.
        A cell that is not asked for has no value.
    without_formulas : mapping, optional
        Rows of tables, from 0, that have lost their formulas.
    cut_to : mapping, optional
        Rows of tables, from 0, whose typed cells were cut and pasted to another row, and that one.
    """

    def __init__(
        self,
        rows: Mapping[str, Sequence[Row]],
        named: Mapping[str, Any],
        asked: Sequence[Asked],
        without_formulas: Mapping[str, Sequence[int]] | None = None,
        cut_to: Mapping[str, Mapping[int, int]] | None = None,
    ) -> None:
        self.tables = {table.name: table for table in TABLES}
        self.rows = {name: list(some) for name, some in rows.items()}
        self.workbook: Workbook = pickle.loads(_template())
        for name, value in named.items():
            self._cell(name).value = value
        for name, some in self.rows.items():
            put(self.workbook, self.tables[name], some)
        for name, places in (without_formulas or {}).items():
            self._clear(self.tables[name], places)
        for name, places_by_row in (cut_to or {}).items():
            for place, other in places_by_row.items():
                self._read_from(self.tables[name], FIRST_ROW + place, FIRST_ROW + other)
        self.values: Values = self._computed(asked)

    def _computed(self, asked: Sequence[Asked]) -> Values:
        part = bare_copy(self.workbook)
        clear_others(part, asked)
        computed = compute_workbook(part, TABLES)
        if computed.missing:
            raise RuntimeError(f"no value was computed: {computed.missing}")
        return computed.values

    def _clear(self, table: Table, places: Sequence[int]) -> None:
        """Leave rows, from 0, as one is that was put in between or pasted below the last."""
        for column in table.columns:
            for place in places if column.formula else ():
                self.workbook[table.sheet][f"{table.letter(column.key)}{FIRST_ROW + place}"] = None

    def _read_from(self, table: Table, row: int, other: int) -> None:
        """Let a row's formulas go after its typed cells, as spreadsheets do."""
        typed = "|".join(map(table.letter, table.input_keys))
        for column in table.columns:
            if column.formula:
                followed = re.sub(
                    rf"\$({typed}){row}\b", rf"$\g<1>{other}", table.formula(column, row)
                )
                self.workbook[table.sheet][f"{table.letter(column.key)}{row}"] = followed

    def _cell(self, name: str) -> Any:
        """Find a named cell, or the first one of a named column."""
        [(sheet, address)] = self.workbook.defined_names[name].destinations
        return self.workbook[sheet][address.replace("$", "").split(":")[0]]

    def named(self, name: str) -> Any:
        """Give what a named cell comes to."""
        [(sheet, address)] = self.workbook.defined_names[name].destinations
        return self.values[sheet, address.replace("$", "")]

    def at(self, name: str, key: str, row: int) -> Any:
        """Give a computed cell of a table by its row, from 0."""
        table = self.tables[name]
        return self.values[table.sheet, f"{table.letter(key)}{FIRST_ROW + row}"]

    def column(self, name: str, key: str) -> list[Any]:
        """Give a computed column of a table, over the rows that were typed."""
        return [self.at(name, key, row) for row in range(len(self.rows[name]))]

    def of(self, name: str, own: str, key: str) -> dict[Any, Any]:
        """Give a computed column by what was typed in another."""
        shown = self.column(name, key)
        return {row[own]: value for row, value in zip(self.rows[name], shown, strict=True)}

    def block(self, block: Block, key: str) -> list[Any]:
        """Give a column of a block of rows."""
        letter = block.letter(key)
        rows = range(block.first_row, block.last_row + 1)
        return [self.values[block.sheet, f"{letter}{row}"] for row in rows]

    def found(self, what: str, sheet: str) -> Any:
        """Give what the sheet Checks counts."""
        return self.values["Checks", f"C{row_of_check(self.workbook, what, sheet)}"]


@cache
def _template() -> bytes:
    """The template as built, in a seventh of the time; good for cells, not for row heights."""
    return pickle.dumps(build())


def put(workbook: Workbook, table: Table, rows: Sequence[Row]) -> None:
    """Type rows into a table."""
    for row, cells in enumerate(rows, FIRST_ROW):
        for key, value in cells.items():
            cell = workbook[table.sheet][f"{table.letter(key)}{row}"]
            cell.value = value
            if isinstance(value, str):
                cell.data_type = "s"


AS_OF = date(2026, 11, 20)

PRICES: list[Row] = [
    {"species": "Oak, white", "quarters": "4/4", "grade": "FAS", "price": 8.00},
    {"species": "Walnut, black", "quarters": "8/4", "grade": "FAS", "price": 14.50},
    {"species": "Cherry, black", "quarters": "8/4", "grade": "FAS", "price": 9.25},
    {"species": "Cherry, black", "quarters": "8/4", "grade": "1 Common", "price": 6.50},
]


def oak(tag: str, width: float, length: float, **cells: Any) -> dict[str, Any]:
    """A board of white oak, 4/4, FAS."""
    return board(tag, "Oak, white", cells.pop("quarters", "4/4"), width, length, **cells)


def cherry(tag: str, width: float, length: float, **cells: Any) -> dict[str, Any]:
    """A board of cherry, 8/4, FAS."""
    return board(tag, "Cherry, black", "8/4", width, length, **cells)


def board(
    tag: str, species: str, quarters: str, width: float, length: float, **cells: Any
) -> dict[str, Any]:
    """A board without insect signs."""
    typed = {"tag": tag, "species": species, "quarters": quarters, "width": width}
    return typed | {"length": length, "grade": "FAS", "insects": "none"} | cells
