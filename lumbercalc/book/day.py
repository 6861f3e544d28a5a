"""The shop's day, from the values a workbook stores: what to weigh, what is ready, what is wrong.

Nothing is computed but days between dates; what the rows say of themselves is taken as it is.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pandas as pd
from openpyxl.workbook import Workbook

from lumbercalc.book.archive import open_archive
from lumbercalc.book.edit import BOOK
from lumbercalc.book.reader import read_cell, read_table, readable
from lumbercalc.book.sheet_xml import is_calculated
from lumbercalc.book.sheets.board_status import HELD
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.sales import INVOICE, SALES
from lumbercalc.book.sheets.samples import SAMPLES
from lumbercalc.book.sheets.stacks import OVER_SAFE_RATE, STACKS, STANDS_STILL, WET
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.book.table import Table
from lumbercalc.sheet.dates import FIRST_SERIAL, LAST_SERIAL, SERIAL_ZERO

DAYS_WHILE_WET = 3
DAYS_LATER = 7
DUE = (
    f"every {DAYS_WHILE_WET} days while over {WET} % MC, then every {DAYS_LATER} "
    "(common practice, no source)"
)
"""When a stack's sample boards are due: the sheet Weighings says every few days at first, then
weekly; over 40 % MC is where the safe rate holds."""

KEYS = {"board": "tag", "stack": "name", "sample": "board", "weighing": "board", "sales": "number"}
"""The input by which a row has a check, by the table's name."""

GAINED = "gained weight"
"""Beginning of what Weighings says of a board that did."""


Rows = Sequence[Mapping[str, Any]]
"""Of a table, by the keys of its columns."""


@dataclass
class Weighed:
    """A stack's weighings of one day.

    Parameters
    ----------
    on : date
        The day.
    rows : list of dict
        Of Weighings.
    """

    on: date
    rows: list[Mapping[str, Any]]


@dataclass(frozen=True)
class Day:
    """What a shop has to know on its as-of day.

    Parameters
    ----------
    as_of : date or None
        From Start; None where none is typed there.
    stale : str
        Why the stored values are not those of the inputs; "" where nothing tells so.
    weigh, ready, fast, quarantined, unpaid, damp : list of tuple
        Rows of texts and numbers, in the order of the sheets.
    """

    as_of: date | None
    stale: str
    weigh: list[tuple[str, str, str]]
    ready: list[tuple[str, str, str]]
    fast: list[tuple[str, str]]
    quarantined: list[tuple[str, str, str]]
    unpaid: list[tuple[str, str, str, float]]
    damp: list[tuple[str, str]]


def read_day(workbook: Workbook, path: Path) -> Day:
    """Read the shop's day.

    Parameters
    ----------
    workbook : Workbook
        From `open_workbook`.
    path : Path
        For messages.

    Returns
    -------
    Day
        By what is stored.

    Raises
    ------
    FileFault
        When it is no workbook of the template.
    """
    frames = [
        (table, read_table(workbook, table, path))
        for table in (BOARDS, STACKS, SAMPLES, WEIGHINGS, SALES)
    ]
    boards, stacks, samples, weighings, sales = (
        [_plain(row) for row in frame.to_dict("records")] for _, frame in frames
    )
    as_of = day_of(read_cell(workbook, "as_of", path))
    emptied = _emptied(boards)
    stacks = [row for row in stacks if row["name"] not in emptied]
    latest = _latest(weighings, as_of)
    return Day(
        as_of,
        _stale(frames, path),
        list(_to_weigh(stacks, samples, latest, as_of)),
        list(_ready(stacks, as_of)),
        list(_too_fast(stacks, latest)),
        [
            (_text(row["tag"]), _text(row["species"]), _text(row["stack"]))
            for row in boards
            if row["status"] == HELD
        ],
        list(_unpaid(sales)),
        list(_damp(stacks, latest)),
    )


def _plain(row: Mapping[Any, Any]) -> dict[str, Any]:
    """Give a row with None for whatever pandas put into blank cells."""
    return {str(key): None if value != value else value for key, value in row.items()}


def day_of(value: Any) -> date | None:
    """Give the day of a cell.

    Parameters
    ----------
    value : object
        Date, day number, or anything else.

    Returns
    -------
    date or None
        None for what is no day.
    """
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, (int, float)) and FIRST_SERIAL <= value <= LAST_SERIAL:
        return SERIAL_ZERO + timedelta(days=int(value))
    return None


def _stale(frames: Sequence[tuple[Table, pd.DataFrame]], path: Path) -> str:
    """Say why the stored values are not those of the inputs, as far as the file itself tells."""
    for table, rows in frames:
        for number, row in rows.iterrows():
            if row[KEYS[table.name]] in (None, ""):
                continue
            where = f"{table.sheet}!{table.letter('note')}{number}"
            if row["note"] in (None, ""):
                return f"nothing is stored in {where}"
            if row["note"] == "#NAME?":
                return f"{where} was saved without the functions"
    with readable(path), zipfile.ZipFile(open_archive(path)) as archive:
        if not is_calculated(archive.read(BOOK)):
            return "the file is marked to be computed anew"
    return ""


def interval(mc: float) -> int:
    """Give the days after which a stack's sample boards are due again.

    Parameters
    ----------
    mc : float [%]
        Moisture content of the stack now.

    Returns
    -------
    int
        Days: common practice, no source.

    Examples
    --------
    >>> interval(55.0), interval(40.0), interval(18.0)
    (3, 7, 7)
    """
    return DAYS_WHILE_WET if mc > WET else DAYS_LATER


def _emptied(boards: Rows) -> set[str]:
    """Name the stacks whose boards on Boards have all left them."""
    stacked = {row["stack"] for row in boards if row["stack"]}
    return stacked - {row["lies"] for row in boards if row["lies"]}


def _latest(weighings: Rows, as_of: date | None) -> dict[str, Weighed]:
    """Give each stack's weighings of its latest day, none after the as-of day."""
    latest: dict[str, Weighed] = {}
    for row in weighings:
        on, stack = day_of(row["date"]), _text(row["stack"])
        if on is None or not _is_number(row["mc"]) or (as_of is not None and on > as_of):
            continue
        known = latest.get(stack)
        if known is None or on > known.on:
            latest[stack] = Weighed(on, [row])
        elif on == known.on:
            known.rows.append(row)
    return latest


def _to_weigh(
    stacks: Rows, samples: Rows, latest: Mapping[str, Weighed], as_of: date | None
) -> Iterator[tuple[str, str, str]]:
    """Name the stacks with sample boards that are due, all of a stack on one day.

    A board that was trimmed anew has a row of its own: those weighed on the stack's latest day
    count, and those set up since.
    """
    for row in stacks:
        set_up = {
            _text(sample["board"]): day_of(sample["date"])
            for sample in samples
            if sample["stack"] == row["name"]
        }
        if as_of is None or not set_up or not _is_number(row["mc_now"]) or _at_target(row):
            continue
        weighed = latest.get(row["name"])
        if weighed is None:
            boards = list(set_up)
            since = max((on for on in set_up.values() if on is not None), default=None)
            told = "never"
        else:
            of_that_day = {_text(each["board"]) for each in weighed.rows}
            since = weighed.on
            boards = [
                board
                for board, on in set_up.items()
                if board in of_that_day or (on is not None and on > since)
            ]
            told = f"{since}, {(as_of - since).days} days ago"
        if since is None or (as_of - since).days >= interval(row["mc_now"]):
            yield _text(row["name"]), ", ".join(boards), told


def _at_target(stack: Mapping[str, Any]) -> bool:
    mc, target = stack["mc_now"], stack["target"]
    return _is_number(mc) and _is_number(target) and bool(mc <= target)


def _ready(stacks: Rows, as_of: date | None) -> Iterator[tuple[str, str, str]]:
    for row in stacks:
        mc, target, likely = row["mc_now"], row["target"], day_of(row["likely"])
        if _at_target(row):
            told = f"{mc:.1f} % MC now, target {target:g} %"
        elif _is_number(mc) and likely is not None and as_of is not None and likely <= as_of:
            told = f"its likely day, {likely}, has come"
        else:
            continue
        yield _text(row["name"]), _text(row["place"]), told


def _too_fast(stacks: Rows, latest: Mapping[str, Weighed]) -> Iterator[tuple[str, str]]:
    for row in stacks:
        told = []
        if row["advice"] == OVER_SAFE_RATE:
            most = max(loss for loss in (row["loss"], row["loss_weighed"]) if _is_number(loss))
            told.append(f"{most:.1f} % MC a day, safe {row['safe']:.1f}")
        for board in _boards(latest, row):
            if board["note"] == "over the safe rate":
                told.append(f"board {_text(board['board'])} {board['loss']:.1f}")
        if told:
            yield _text(row["name"]), "; ".join(told)


def _damp(stacks: Rows, latest: Mapping[str, Weighed]) -> Iterator[tuple[str, str]]:
    for row in stacks:
        told = [STANDS_STILL] if row["advice"] == STANDS_STILL else []
        for board in _boards(latest, row):
            if str(board["note"]).startswith(GAINED):
                told.append(f"board {_text(board['board'])} {board['note']}")
        if told:
            yield _text(row["name"]), "; ".join(told)


def _boards(latest: Mapping[str, Weighed], stack: Mapping[str, Any]) -> Rows:
    weighed = latest.get(stack["name"])
    return weighed.rows if weighed else []


def _unpaid(sales: Rows) -> Iterator[tuple[str, str, str, float]]:
    """Give invoices that are due, and any sale of which money is to be given back."""
    for row in sales:
        due = row["due"]
        if _is_number(due) and ((row["kind"] == INVOICE and due > 0) or due < 0):
            on = day_of(row["date"])
            when = f"{on}" if due > 0 else "to give back"
            yield _text(row["number"]), _text(row["buyer"]), when, float(due)


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _text(value: Any) -> str:
    return "" if value is None else str(value)
