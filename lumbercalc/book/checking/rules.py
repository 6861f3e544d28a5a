"""What the template's own checks say: the lines of sheet Checks, and the rows' check columns."""

from __future__ import annotations

from collections.abc import Container, Iterator

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.page.notes import UNDER_SHARE
from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.sheets.checks import HEADERS
from lumbercalc.book.sheets.stack_advice import OVER_SAFE_RATE
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.places import Area

TO_LOOK_AT = "checks_to_look_at"
"""Name of the cell under the lines of sheet Checks."""
WHAT, SHEET, FOUND, VERDICT = 1, 2, 3, 4
"""Columns of that sheet."""


def rules(fresh: Fresh, typed: Container[tuple[str, int]]) -> Iterator[Finding]:
    """Find what a template workbook says of itself, by values that are computed anew.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed; of any workbook.
    typed : container of tuple
        Sheet and row of the inputs that are told already: a percentage below its least is one.

    Yields
    ------
    Finding
        A line of sheet Checks that is not "ok"; a row of a table whose check is not "ok".
    """
    yield from _lines(fresh)
    for table in TABLES:
        for column in table.columns:
            area = fresh.old.names.get(f"{table.name}_{column.key}")
            if column.role == "check" and area is not None:
                yield from _rows(fresh, table, column, area, typed)


def _lines(fresh: Fresh) -> Iterator[Finding]:
    last = fresh.old.names.get(TO_LOOK_AT)
    if last is None:
        return
    first = last.first_row
    while fresh.value((last.sheet, first - 1, WHAT)) not in (None, HEADERS[0][0]):
        first -= 1  # each template has another number of them
    for row in range(first, last.first_row):
        what, sheet, found, verdict = (
            fresh.value((last.sheet, row, column)) for column in (WHAT, SHEET, FOUND, VERDICT)
        )
        if verdict not in ("ok", None):
            count = f"{found:g}" if isinstance(found, float) else found
            yield Finding(Kind.RULE, (last.sheet, row, FOUND), f"{sheet}: {what}: {count}")


def _rows(
    fresh: Fresh, table: Table, column: Column, area: Area, typed: Container[tuple[str, int]]
) -> Iterator[Finding]:
    for place in area.places:
        found = fresh.value(place)
        if found in ("", "ok", None) or (column.key == "advice" and found != OVER_SAFE_RATE):
            continue
        if UNDER_SHARE in str(found) and place[:2] in typed:
            continue
        yield Finding(Kind.RULE, place, f"{_label(fresh, table, place[1])}{found}")


def _label(fresh: Fresh, table: Table, row: int) -> str:
    """Name a row by the first text that was typed in it, and by its tag."""
    texts = [c for c in table.columns if c.role == "input" and c.number_format == "@"]
    told = []
    for column in texts:
        area = fresh.old.names.get(f"{table.name}_{column.key}")
        if area is not None and column.key in (texts[0].key, "tag"):
            value = fresh.value((area.sheet, row, area.first_column))
            told += [f"{column.header} {value}"] if value not in (None, "") else []
    return ", ".join(told) + ": " if told else ""
