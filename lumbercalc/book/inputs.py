"""Every cell of today's template that a shop types in, by its defined name."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from openpyxl.utils.cell import range_boundaries
from openpyxl.workbook import Workbook

from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.page.validation import QUARTERS
from lumbercalc.book.records import FORM_FILES
from lumbercalc.book.sheets.plan_options import PLAN
from lumbercalc.book.tables import TABLE_FILES
from lumbercalc.book.xlsx.cell_value import day_of
from lumbercalc.book.xlsx.places import Area, Place
from lumbercalc.sheet.dates import FIRST_DAY
from lumbercalc.sheet.limits import Limits

PLACES = "place_names"
SPECIES = "species_names"
"""The species of the table, and under them those that a shop has typed."""
NO_SUCH_NUMBER = "no spreadsheet holds such a number"


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

    def refusal(self, value: Any) -> str:
        """Say what is wrong with a value, as a spreadsheet would that is asked to take it.

        Parameters
        ----------
        value : object
            Typed, not computed.

        Returns
        -------
        str
            "" for a value that is as it should be, else the limit that it does not keep.

        Examples
        --------
        >>> Kind("Pieces", "0", Limits("pieces", 1, 1000, whole=True)).refusal(2.5)
        'it must be a whole number from 1 to 1000 pieces'
        """
        limits = self.limits
        if isinstance(value, (int, float)) and not _is_finite(value):
            return NO_SUCH_NUMBER
        if self.number_format == "@":
            if limits is not None and limits.choices and limits.choice(str(value)) is None:
                return f"it must be {limits.words()}"
            return ""
        if isinstance(value, (date, datetime, time)) and not self.is_date:
            return f"it is a date and must be {self._must_be()}"
        if isinstance(value, (str, bool, time, timedelta)):
            return f"it must be {self._must_be()}"
        if self.is_date and (limits is None or limits.unit == "date"):
            day = day_of(value)
            return "" if day and day >= FIRST_DAY else f"it must be a date from {FIRST_DAY} on"
        if limits is not None and isinstance(value, (int, float)) and not limits.inside(value):
            return f"it must be {limits.words()}"
        return ""

    @property
    def is_date(self) -> bool:
        """Whether it takes a date; with limits of a number too, either."""
        return "yy" in self.number_format

    def _must_be(self) -> str:
        """Say what belongs there in place of what is no number at all."""
        words = self.limits.words() if self.limits is not None else ""
        if words.startswith("from "):
            return f"a number {words}"
        return words or ("a date" if self.is_date else "a number")


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
    return {
        name: Cells(named_area(workbook, name).places, kind)
        for name, kind in _single_kinds().items()
    }


def declared_inputs() -> dict[str, Kind]:
    """Give what every input may hold: columns of tables and the other cells.

    Returns
    -------
    dict of str to Kind
        By the defined name of the cells.
    """
    columns = {
        name: kind_of(column)
        for table in TABLE_FILES.values()
        for name, column in input_columns(table).items()
    }
    return columns | _single_kinds()


def _single_kinds() -> dict[str, Kind]:
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
    return kinds | {PLACES: Kind("Places", "@"), QUARTERS: Kind("Thicknesses", "@")}


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
    return Area(sheet, *range_boundaries(text))


def _is_finite(value: float) -> bool:
    try:
        return math.isfinite(float(value))
    except OverflowError:  # a whole number of hundreds of digits
        return False
