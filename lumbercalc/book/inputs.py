"""Every cell of today's template that a shop types in, by its defined name."""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.workbook import Workbook

from lumbercalc.book.old_workbook import Area, Place
from lumbercalc.book.records import FORM_FILES, TABLE_FILES
from lumbercalc.book.sheets.plan_options import PLAN
from lumbercalc.book.table import FIRST_ROW, Column, Table
from lumbercalc.sheet.limits import Limits

QUARTERS = "quarters_list"
PLACES = "place_names"
SPECIES = "species_names"
"""The species of the table, and under them those that a shop has typed."""


@dataclass(frozen=True)
class Kind:
    """What an input may hold.

    Parameters
    ----------
    label : str
        As the shop reads it.
    number_format : str
        "@" is text, one with "yy" a date.
    limits : Limits, optional
        Of a number, or words to choose from.
    """

    label: str
    number_format: str
    limits: Limits | None = None


@dataclass(frozen=True)
class Rows:
    """The input columns of a table.

    Parameters
    ----------
    table : Table
        As declared.
    first_row, last_row : int
        Where its rows may stand.
    names : dict of str to str
        Defined name by the key of each input column; "" for one without a name.
    """

    table: Table
    first_row: int
    last_row: int
    names: dict[str, str]

    @property
    def columns(self) -> list[Column]:
        """The input columns."""
        return [self.table.column(key) for key in self.names]

    def number(self, key: str) -> int:
        """Give the number of a column in its sheet.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        int
            1 for A.
        """
        return 1 + [column.key for column in self.table.columns].index(key)

    def kind(self, key: str) -> Kind:
        """Say what a column may hold.

        Parameters
        ----------
        key : str
            Of the column.

        Returns
        -------
        Kind
            As declared.
        """
        column = self.table.column(key)
        return Kind(column.header, column.number_format, None if column.choices else column.limits)


@dataclass(frozen=True)
class Cells:
    """Input cells that are no table: a field of a form, a list, a row of choices.

    Parameters
    ----------
    places : list of tuple
        Sheet, row and column of each.
    kind : Kind
        What they may hold.
    """

    places: list[Place]
    kind: Kind


def tables() -> list[Rows]:
    """Give the tables that a shop fills, row by row.

    Returns
    -------
    list of Rows
        In the order of the sheets.
    """
    return [
        Rows(
            table,
            FIRST_ROW,
            table.last_row,
            {column.key: f"{table.name}_{column.key}" for column in _typed(table)},
        )
        for table in TABLE_FILES.values()
    ]


def single_cells(workbook: Workbook) -> dict[str, Cells]:
    """Give the other input cells by their defined names.

    Parameters
    ----------
    workbook : Workbook
        From `template.build`.

    Returns
    -------
    dict of str to Cells
        Fields of forms, the choices of Plan, the lists of places and of thicknesses.
    """
    kinds = {
        field.name: Kind(field.label, field.number_format, None if field.choices else field.limits)
        for fields in FORM_FILES.values()
        for field in fields
        if field.role == "input"
    }
    kinds |= {
        f"{PLAN.name}_{figure.key}": Kind(
            figure.header, figure.number_format, None if figure.choices else figure.limits
        )
        for figure in PLAN.figures
        if figure.role == "input"
    }
    kinds |= {PLACES: Kind("Places", "@"), QUARTERS: Kind("Thicknesses", "@")}
    return {name: Cells(named_area(workbook, name).places, kind) for name, kind in kinds.items()}


def named_area(workbook: Workbook, name: str) -> Area:
    """Give the cells of a defined name of the template.

    Parameters
    ----------
    workbook : Workbook
        From `template.build`.
    name : str
        One of its names.

    Returns
    -------
    Area
        Its cells.
    """
    [(sheet, text)] = workbook.defined_names[name].destinations
    [first, *_] = corners = text.replace("$", "").split(":")
    top_left, bottom_right = workbook[sheet][first], workbook[sheet][corners[-1]]
    return Area(sheet, top_left.column, top_left.row, bottom_right.column, bottom_right.row)


def _typed(table: Table) -> list[Column]:
    return [column for column in table.columns if column.role == "input"]
