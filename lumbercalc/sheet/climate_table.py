"""A table of air as it stands in a worksheet, read as the climate of one or more places.

Three forms: 12 rows January to December of (temperature, humidity); rows of (month or date,
temperature, humidity); and the same for several places, with the place in a first column. A place
may have both: twelve months, and dated rows for the days that were measured. With dates alone each
row holds until the next; the first days of twelve months in a row are the months themselves.
"""

from __future__ import annotations

from calendar import month_abbr, month_name
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from lumbercalc.sheet.blanks import is_blank
from lumbercalc.sheet.cells import Block, rows_of
from lumbercalc.sheet.dates import read_date
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.readers import read_number, read_text
from lumbercalc.sheet.refusal import NUMBERS, Refused, shown
from lumbercalc.sheet.vocabulary import DATE_LIMITS, FORECAST_TEMP_LIMITS, NAME_LIMITS, RH_LIMITS
from lumbercalc.wood.climate import Climate

MONTHS = {name.casefold(): number for number, name in enumerate(month_name) if name}
MONTHS |= {name.casefold(): number for number, name in enumerate(month_abbr) if name}
MONTHS |= {"sept": 9, **{str(number): number for number in range(1, 13)}}

TEMP = Argument("temp_f", "number", FORECAST_TEMP_LIMITS, "temperature")
RH = Argument("rh_pct", "number", RH_LIMITS, "relative humidity")
PLACE = Argument("place", "text", NAME_LIMITS, "name of a place")
DAY = Argument("date", "date", DATE_LIMITS, "first day of this air")

PLACES = ("place", "move_place")
"""Arguments that name a place of the table."""

FORMS = (
    "12 rows January to December of (temp_f, rh_pct), rows of (month or date, temp_f, rh_pct), "
    "or rows of (place, month or date, temp_f, rh_pct)"
)


@dataclass(frozen=True)
class ClimateTable:
    """The usable air of a table, and what is wrong with the rest.

    Parameters
    ----------
    climate : Climate or None
        Air of the places that are complete.
    places : dict
        Name without regard to case to the name in the table; empty for a table without places.
    problems : dict
        The same for places that cannot be used, to the reason.
    """

    climate: Climate | None
    places: dict[str, str]
    problems: dict[str, str]

    def place_problem(self, place: str, argument: str = "place") -> str:
        """Say why a place of a row cannot be used.

        Parameters
        ----------
        place : str
            Name as typed, or "" where none was.
        argument : str
            The one of PLACES that it stands in; only "place" may have to be given.

        Returns
        -------
        str
            The reason, or "".
        """
        if not self.places:
            return f"{argument} is given, but climate has no column of places" if place else ""
        if not place and argument != "place":
            return ""
        if not place:
            if len(self.places) == 1:
                return next(iter(self.problems.values()), "")
            return "place is missing; climate holds " + ", ".join(self.places.values())
        if place.casefold() not in self.places:
            known = ", ".join(self.places.values())
            return f'{argument} is the text "{place}"; climate holds {known}'
        return self.problems.get(place.casefold(), "")

    def named(self, place: str, argument: str = "place") -> str:
        """Give the name of a place as it stands in the table.

        Parameters
        ----------
        place : str
            Name as typed, or "".
        argument : str
            The one of PLACES that it stands in; of "place", "" is the only one of the table.

        Returns
        -------
        str
            The name in the table.
        """
        only = next(iter(self.places.values()), "") if argument == "place" else ""
        return self.places.get(place.casefold(), only)


def read_climate(cells: Block) -> ClimateTable | None:
    """Read a table of air; blank rows are passed over.

    Parameters
    ----------
    cells : ndarray or Texts, shape (rows, 2), (rows, 3) or (rows, 4)
        In one of the forms of this module.

    Returns
    -------
    ClimateTable or None
        With one reason for each place that cannot be used; None where all is blank.

    Raises
    ------
    Refused
        When the table has another form, or its only record cannot be used.
    """
    lines = enumerate(rows_of(np.asarray(cells)), 1)
    rows = [(n, row) for n, row in lines if not all(map(is_blank, row))]
    if not rows:
        return None
    width = cells.shape[1]
    if width not in (2, 3, 4):
        raise Refused(
            f"climate has {width} {'column' if width == 1 else 'columns'}; it must be {FORMS}"
        )
    if width == 2:
        if len(rows) > len(month_name) - 1:
            raise Refused(f"climate has {len(rows)} rows; it must be {FORMS}")
        filled = [n for n, _ in rows]
        blank = set(range(filled[0], filled[-1])).difference(filled)
        if blank and len(rows) < len(month_name) - 1:  # its month is the one that lacks
            raise Refused(f"climate row {min(blank)} is blank; it must be {FORMS}")
        return ClimateTable(
            Climate.monthly(*_monthly([(n, [i, *row]) for i, (n, row) in enumerate(rows, 1)])),
            {},
            {},
        )
    if width == 3:
        return ClimateTable(_of_place(rows), {}, {})
    return _by_place(rows)


def _by_place(rows: list[tuple[int, list[Any]]]) -> ClimateTable:
    records: dict[str, list[tuple[int, list[Any]]]] = {}
    names: dict[str, str] = {}
    for n, row in rows:
        try:
            if is_blank(row[0]):
                raise Refused("place is missing")
            name = read_text(PLACE, row[0])
        except Refused as refusal:
            raise refusal.at(f"climate row {n}") from None
        names.setdefault(name.casefold(), name)
        records.setdefault(name.casefold(), []).append((n, row[1:]))
    good: dict[str, Climate] = {}
    problems: dict[str, str] = {}
    for key, record in records.items():
        try:
            good[names[key]] = _of_place(record)
        except Refused as refusal:
            problems[key] = str(refusal.at(names[key]))
    return ClimateTable(Climate.places(good) if good else None, names, problems)


def _of_place(record: list[tuple[int, list[Any]]]) -> Climate:
    """Read the rows of one place; a row that is neither month nor date counts as a month's."""
    record = _named_by_month(record)
    if not any(month_of(row[0]) for _, row in record):
        return Climate.dated(*_dated(record))
    dated = [(n, row) for n, row in record if _is_date(row[0])]
    months = _monthly([(n, row) for n, row in record if not _is_date(row[0])])
    return Climate.measured(months, _dated(dated)) if dated else Climate.monthly(*months)


def _named_by_month(record: list[tuple[int, list[Any]]]) -> list[tuple[int, list[Any]]]:
    """Take the first days of twelve months for the months: a cell that shows Jan may hold one."""
    if len(record) != len(month_name) - 1 or not all(_is_date(row[0]) for _, row in record):
        return record
    days = np.array([read_date(DAY, row[0]) for _, row in record])
    months = days.astype("datetime64[M]")
    in_a_row = np.array_equal(np.sort(months), months.min() + np.arange(len(months)))
    if not in_a_row or (days != months).any():
        return record
    numbers = (months.astype(int) % 12 + 1).tolist()
    return [(n, [month, *row[1:]]) for month, (n, row) in zip(numbers, record, strict=True)]


def _is_date(cell: Any) -> bool:
    if month_of(cell) is not None or is_blank(cell):
        return False
    try:
        read_date(DAY, cell)
    except Refused:
        return False
    return True


def month_of(cell: Any) -> int | None:
    """Read a month: its number, or its name whole or short.

    Parameters
    ----------
    cell : object
        Of the first column of a row of air.

    Returns
    -------
    int or None
        1 to 12; None for anything else, such as a date.

    Examples
    --------
    >>> month_of(5.0), month_of(" may "), month_of(13), month_of(True)
    (5, 5, None, None)
    """
    if isinstance(cell, str):
        return MONTHS.get(cell.strip().rstrip(".").casefold())
    if is_blank(cell):  # among them Decimal's signaling NaN, which nothing may be compared with
        return None
    if isinstance(cell, NUMBERS) and not isinstance(cell, bool) and cell in range(1, 13):
        return int(cell)
    return None


def _air(n: int, row: list[Any]) -> tuple[float, float]:
    try:
        for argument, cell in ((TEMP, row[1]), (RH, row[2])):
            if is_blank(cell):
                raise Refused(f"{argument.name} is missing")
        return read_number(TEMP, row[1]), read_number(RH, row[2])
    except Refused as refusal:
        raise refusal.at(f"climate row {n}") from None


def _monthly(record: list[tuple[int, list[Any]]]) -> tuple[ArrayLike, ArrayLike]:
    air: dict[int, tuple[float, float]] = {}
    for n, row in record:
        if is_blank(row[0]):
            raise Refused(f"climate row {n}: month is missing")
        month = month_of(row[0])
        if month is None:
            raise Refused(
                f"climate row {n}: month is {shown(row[0])}; it must be 1 to 12, or a date"
            )
        if month in air:
            raise Refused(f"climate row {n}: {month_name[month]} stands twice")
        air[month] = _air(n, row)
    missing = [month_name[month] for month in range(1, 13) if month not in air]
    if missing:
        raise Refused(f"climate lacks {', '.join(missing)}; it must have all 12 months")
    temps, rhs = zip(*(air[month] for month in range(1, 13)), strict=True)
    return np.array(temps), np.array(rhs)


def _dated(record: list[tuple[int, list[Any]]]) -> tuple[ArrayLike, ArrayLike, ArrayLike]:
    air: dict[np.datetime64, tuple[float, float]] = {}
    for n, row in record:
        try:
            if is_blank(row[0]):
                raise Refused("date is missing")
            day = read_date(DAY, row[0])
        except Refused as refusal:
            raise refusal.at(f"climate row {n}") from None
        if day in air:
            raise Refused(f"climate row {n}: {day} stands twice")
        air[day] = _air(n, row)
    days = sorted(air)
    temps, rhs = zip(*(air[day] for day in days), strict=True)
    return np.array(days), np.array(temps), np.array(rhs)
