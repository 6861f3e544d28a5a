"""Every cell of today's template that a shop types in, by its defined name."""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.workbook import Workbook

from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.records import FORM_FILES
from lumbercalc.book.sheets.plan_options import PLAN
from lumbercalc.book.xlsx.old_workbook import Area, Place
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


def kind_of(column: Column) -> Kind:
    """Say what an input column may hold.

    Parameters
    ----------
    column : Column
        As declared.

    Returns
    -------
    Kind
        Without limits where the shop's own list says what there is to choose from.
    """
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


def input_columns(table: Table) -> dict[str, Column]:
    """Give the columns of a table that a shop types in.

    Parameters
    ----------
    table : Table
        Any of the workbook.

    Returns
    -------
    dict of str to Column
        By the defined name of their cells.
    """
    return {
        f"{table.name}_{column.key}": column for column in table.columns if column.role == "input"
    }


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
        f"{PLAN.name}_{figure.key}": kind_of(figure)
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
