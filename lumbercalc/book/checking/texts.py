"""Texts where numbers belong, and numbers of the template that are out of their limits."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, time, timedelta
from typing import Any

from openpyxl.utils import get_column_letter

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.inputs import input_columns
from lumbercalc.book.records import FORM_FILES, TABLE_FILES
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook, Place
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.refusal import shown
from lumbercalc.wood.tally import inches_from_quarters

LIKE_A_NUMBER = re.compile(
    r"[ ']*[-+]?[$\u20ac\u00a3]? ?(\d[\d.,' ]*|\.\d+)( ?\d+ ?/ ?\d+|/\d+)?"
    r" ?(%|\"|''|in|ft|lb|g|bf)?\.? ?",
    re.IGNORECASE,
)
"""As people type one that a spreadsheet takes for a text: 7,5 or 7 1/2 or 12 % or $ 4.50; each run
of blanks is one."""
LONGEST_NUMBER = 40
"""Characters, for the time that a text made for it would take: it grows with their cube."""


def texts(old: OldWorkbook) -> Iterator[Finding]:
    """Find texts where numbers belong.

    Parameters
    ----------
    old : OldWorkbook
        As the file has it.

    Yields
    ------
    Finding
        Of the template's inputs by what is declared of them; on other sheets, of a column whose
        typed cells are mostly numbers.
    """
    template = {area.sheet for name, area in old.names.items() if name in _named_inputs()}
    yield from _in_template(old)
    columns: dict[tuple[str, int], list[tuple[Place, Any]]] = defaultdict(list)
    for place, cell in old.cells.items():
        if not cell.formula and place[0] not in template:
            columns[place[0], place[2]].append((place, cell.value))
    for (_, column), cells in columns.items():
        numbers = sum(_is_number(value) for _, value in cells)
        if numbers < 2 or numbers <= len(cells) / 2:
            continue
        for place, value in cells:
            if isinstance(value, str) and _like_a_number(value):
                letter = get_column_letter(column)
                told = f"{shown(value)} among the {numbers} numbers of column {letter}"
                yield Finding(Kind.TEXT, place, told)


def _is_beyond(value: Any, limits: Limits) -> bool:
    if not isinstance(value, (int, float)) or limits.lowest is None or limits.highest is None:
        return False
    return not limits.lowest <= value <= limits.highest


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float, date, time, timedelta)) and not isinstance(value, bool)


def _like_a_number(text: str) -> bool:
    if (
        inches_from_quarters(text) is not None
    ):  # quarters are texts: a number in their place is a date
        return False
    spaced = " ".join(text.split())
    return len(spaced) <= LONGEST_NUMBER and LIKE_A_NUMBER.fullmatch(spaced) is not None


def _named_inputs() -> dict[str, tuple[str, Limits | None]]:
    """Give header and limits of the template's inputs of numbers and dates, by defined name."""
    named: dict[str, tuple[str, Limits | None]] = {}
    for table in TABLE_FILES.values():
        for name, column in input_columns(table).items():
            if column.number_format != "@":
                named[name] = (column.header, column.limits)
    for fields in FORM_FILES.values():
        for field in fields:
            if field.role == "input" and field.name and field.number_format != "@":
                named[field.name] = (field.label, field.limits)
    return named


def _in_template(old: OldWorkbook) -> Iterator[Finding]:
    for name, (header, limits) in _named_inputs().items():
        area = old.names.get(name)
        if area is None:
            continue
        for place in area.places:
            cell = old.cells.get(place, OldCell(None))
            if cell.formula:
                continue
            if isinstance(cell.value, str):
                must = f"; it must be {limits.words()}" if limits else ", not a number"
                yield Finding(Kind.TEXT, place, f"{header} is {shown(cell.value)}{must}")
            elif limits and _is_beyond(cell.value, limits):
                told = f"{header} is {shown(cell.value)}; it must be {limits.words()}"
                yield Finding(Kind.RULE, place, told)
