"""Where the air of a place belongs among the rows of the sheet Site."""

from __future__ import annotations

from calendar import month_abbr
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import pandas as pd
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.logger.means import Air, Key
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.site import MATRIX_COLUMN, PLACES, SITE
from lumbercalc.book.xlsx.archive import readable
from lumbercalc.book.xlsx.cell_value import name_of, text_of
from lumbercalc.book.xlsx.defined import areas_of
from lumbercalc.book.xlsx.sheet_xml import Content, Formula
from lumbercalc.faults import FileFault
from lumbercalc.sheet.climate_table import DAY, month_of
from lumbercalc.sheet.dates import read_date, serial
from lumbercalc.sheet.refusal import Refused

PLACE_LETTER = get_column_letter(MATRIX_COLUMN)
PLACE_AREA = f"${PLACE_LETTER}${FIRST_ROW}:${PLACE_LETTER}${FIRST_ROW + PLACES - 1}"
INPUTS = ("place", "month", "temp", "rh")


@dataclass(frozen=True)
class Placed:
    """A row of Site that is to be written.

    Parameters
    ----------
    row : int
        In the sheet.
    air : Air
        What is written.
    old : tuple or None
        Temperature and humidity that stood there for this month or day; None where none did.
    """

    row: int
    air: Air
    old: tuple[Any, Any] | None


@dataclass(frozen=True)
class Plan:
    """What is to be changed in the sheet Site.

    Parameters
    ----------
    dropped : list of date
        First days of dated rows that the log's own rows take the place of.
    beside_months : bool
        Whether the rows are dated and the place has months too.
    months_missing : list of int
        Months, 1 to 12, that the place will still lack, though a forecast by months needs all;
        none where all its rows are dated.
    placed : list of Placed
        Rows to write.
    cells : dict
        Address to content, of every cell that changes.
    """

    dropped: list[date]
    beside_months: bool
    months_missing: list[int]
    placed: list[Placed] = field(default_factory=list)
    cells: dict[str, Content] = field(default_factory=dict)


def find_place(workbook: Workbook, place: str, path: Path) -> tuple[str, dict[str, Content]]:
    """Find a place in the shop's list of places, or room for it.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    place : str
        As typed.
    path : Path
        For messages.

    Returns
    -------
    name : str
        As the list has it.
    cells : dict
        Address to content: the cell of the list that takes a new place.

    Raises
    ------
    FileFault
        When the list is not where it belongs, or full.
    """
    with readable(path):
        if areas_of(workbook.defined_names.get("place_names")) != [("Site", PLACE_AREA)]:
            raise FileFault(f"{path}: place_names is not the name of Site!{PLACE_AREA}")
        column = workbook["Site"].iter_rows(
            FIRST_ROW, FIRST_ROW + PLACES - 1, MATRIX_COLUMN, MATRIX_COLUMN, values_only=True
        )
        names = [text_of(cell).strip() for [cell] in column]
    for name in names:
        if name_of(name) == name_of(place):
            return name, {}
    if "" not in names:
        raise FileFault(
            f"{path}: Site!{PLACE_AREA} has no room for {place!r}; its places: {', '.join(names)}"
        )
    return place, {f"{PLACE_LETTER}{FIRST_ROW + names.index('')}": place}


def plan(site: pd.DataFrame, place: str, air: Sequence[Air], span: tuple[date, date]) -> Plan:
    """Decide which rows of Site take the air of a place.

    Months of the place that stand there are updated, others stay; dated rows of the place within
    the log's span are replaced. New rows go below the last filled one.

    Parameters
    ----------
    site : DataFrame
        Of `read_table`.
    place : str
        Name of the place.
    air : sequence of Air
        All by month, or all dated.
    span : tuple of date
        First and last day of the log.

    Returns
    -------
    Plan
        With every cell that changes.

    Raises
    ------
    FileFault
        When there is no room, or dated rows would stand beside less than twelve months.
    """
    there = _rows_of(site, place)
    dated = isinstance(air[0].key, date)
    keys = {each.key for each in air}
    months_missing = _missing({*there, *keys})
    if not dated:
        _refuse_part_of_a_year(there, place, months_missing)
    replaced = {
        key: row
        for key, row in there.items()
        if isinstance(key, date) and span[0] <= key <= span[1]
    }
    kept = {key: row for key, row in there.items() if key in keys and key not in replaced}
    free = iter([*sorted(replaced.values()), *_below(site)])
    new = Plan(
        dropped=sorted(key for key in replaced if key not in keys),
        beside_months=dated and any(isinstance(key, int) for key in there),
        months_missing=months_missing,
    )
    for each in air:
        row = kept.get(each.key) or next(free, 0)
        if not row:
            raise FileFault(
                f"Site has no room for {len(air)} rows of {place!r}: it ends in row {SITE.last_row}"
            )
        old = there.get(each.key)
        stood = None if old is None else (site.loc[old, "temp"], site.loc[old, "rh"])
        new.placed.append(Placed(row, each, stood))
        fresh = row not in site.index
        new.cells.update(_cells(row, place, each, same_key=old == row, fresh=fresh))
    for row in free:
        if row in replaced.values():
            new.cells.update({f"{SITE.letter(key)}{row}": None for key in INPUTS})
    return new


def _missing(keys: set[Key]) -> list[int]:
    """Name the months that are not among the keys; none where all keys are dates."""
    months = {key for key in keys if isinstance(key, int)}
    return [month for month in range(1, 13) if month not in months] if months else []


def _rows_of(site: pd.DataFrame, place: str) -> dict[Key, int]:
    """Give the row of each month or first day of a place."""
    rows: dict[Key, int] = {}
    for label, cell in site.loc[site["place"].map(name_of) == name_of(place), "month"].items():
        row = int(str(label))
        key = _key(cell, f"Site!{SITE.letter('month')}{row}")
        if key in rows:
            raise FileFault(f"Site rows {rows[key]} and {row} both hold {key} of {place!r}")
        rows[key] = row
    return rows


def _key(cell: Any, where: str) -> Key:
    """Read a month or a first day as the functions do."""
    month = month_of(cell)
    if month is not None:
        return month
    try:
        if cell in (None, ""):
            raise Refused("the cell is blank")
        day: date = read_date(DAY, cell).astype(object)
    except Refused as refusal:
        raise FileFault(f"{where}: {refusal}; it must be a month, 1 to 12, or a date") from None
    return day


def _refuse_part_of_a_year(there: dict[Key, int], place: str, missing: list[int]) -> None:
    """Refuse months that would stand beside dated rows as less than twelve."""
    dated = sorted(row for key, row in there.items() if isinstance(key, date))
    if not dated or not missing:
        return
    rows = ", ".join(map(str, dated[:12])) + (" ..." if len(dated) > 12 else "")
    raise FileFault(
        f"Site has dated rows of {place!r} already (row {rows}); months beside them must be all "
        f"twelve, and {', '.join(month_abbr[month] for month in missing)} would be missing: use "
        "--dated, or clear those rows"
    )


def _below(site: pd.DataFrame) -> range:
    """Give the rows below the last filled one."""
    last = int(site.index.max()) if len(site) else FIRST_ROW - 1
    return range(last + 1, SITE.last_row + 1)


def _cells(row: int, place: str, air: Air, *, same_key: bool, fresh: bool) -> dict[str, Content]:
    """Give the contents of a row: only what is not there yet."""
    cells: dict[str, Content] = {"temp": air.temp_f, "rh": air.rh_pct}
    if not same_key:
        cells["month"] = serial(air.key) if isinstance(air.key, date) else air.key
    if fresh:
        cells["place"] = place
        cells |= {c.key: Formula(SITE.formula(c, row)) for c in SITE.columns if c.formula}
    return {f"{SITE.letter(key)}{row}": content for key, content in cells.items()}
