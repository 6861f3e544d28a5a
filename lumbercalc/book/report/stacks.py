"""What the stacks ask for on a day: to be weighed, to be sold, or to be looked after."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from lumbercalc.book.sheets.stack_advice import (
    MOLD,
    OVER_SAFE_RATE,
    READ_READY,
    STANDS_STILL,
    WET,
)
from lumbercalc.book.sheets.weighings import GAINED, TOO_FAST
from lumbercalc.book.xlsx.cell_value import day_of, name_of, text_of
from lumbercalc.sheet.refusal import is_number

DAYS_WHILE_WET = 3
DAYS_LATER = 7
DUE = (
    f"every {DAYS_WHILE_WET} days while over {WET} % MC, then every {DAYS_LATER} "
    "(common practice, no source)"
)
"""When a stack's sample boards are due: the sheet Weighings says every few days at first, then
weekly; over 40 % MC is where the safe rate holds."""

Row = Mapping[Hashable, Any]
"""Of a table, by the keys of its columns, which are texts."""
Rows = Sequence[Row]


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
    rows: list[Row]


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


def emptied(boards: Rows) -> set[str]:
    """Name the stacks whose boards on Boards have all left them.

    Parameters
    ----------
    boards : sequence of mapping
        Rows of Boards.

    Returns
    -------
    set of str
        Stacks of which nothing is to be told, as `name_of` gives them.
    """
    stacked, lying = ({name_of(row[key]) for row in boards} for key in ("stack", "lies"))
    return stacked - lying - {""}


def latest_weighings(weighings: Rows, as_of: date | None) -> dict[str, Weighed]:
    """Give each stack's weighings of its latest day, none after the as-of day.

    Parameters
    ----------
    weighings : sequence of mapping
        Rows of Weighings.
    as_of : date or None
        The day; None where none is typed.

    Returns
    -------
    dict of str to Weighed
        By stack, as `name_of` gives it.
    """
    latest: dict[str, Weighed] = {}
    for row in weighings:
        on, stack = day_of(row["date"]), name_of(row["stack"])
        if on is None or not is_number(row["mc"]) or (as_of is not None and on > as_of):
            continue
        known = latest.get(stack)
        if known is None or on > known.on:
            latest[stack] = Weighed(on, [row])
        elif on == known.on:
            known.rows.append(row)
    return latest


def to_weigh(
    stacks: Rows, samples: Rows, latest: Mapping[str, Weighed], as_of: date | None
) -> Iterator[tuple[str, str, str]]:
    """Name the stacks with sample boards that are due, all of a stack on one day.

    A board that was re-trimmed has a row of its own, which names the one that it replaces.

    Parameters
    ----------
    stacks : sequence of mapping
        Rows of Stacks.
    samples : sequence of mapping
        Rows of Sample boards.
    latest : mapping of str to Weighed
        By stack, from `latest_weighings`.
    as_of : date or None
        The day; None where none is typed.

    Yields
    ------
    tuple
        Stack, its boards, when it was weighed last.
    """
    for row in stacks:
        own = [each for each in samples if name_of(each["stack"]) == name_of(row["name"])]
        replaced = {name_of(each["replaces"]) for each in own}
        set_up = {
            text_of(each["board"]): day_of(each["date"])
            for each in own
            if name_of(each["board"]) not in replaced
        }
        if as_of is None or not set_up or not is_number(row["mc_now"]) or _at_target(row):
            continue
        weighed = latest.get(name_of(row["name"]))
        if weighed is None:
            since = max((on for on in set_up.values() if on is not None), default=None)
            told = "never"
        else:
            since = weighed.on
            told = f"{since}, {(as_of - since).days} days ago"
        if since is None or (as_of - since).days >= interval(row["mc_now"]):
            yield text_of(row["name"]), ", ".join(set_up), told


def _at_target(stack: Row) -> bool:
    mc, target = stack["mc_now"], stack["goal"]
    return is_number(mc) and is_number(target) and bool(mc <= target)


def ready(stacks: Rows, as_of: date | None) -> Iterator[tuple[str, str, str]]:
    """Name the stacks that are ready by their readings, at their target, or on their likely day.

    Parameters
    ----------
    stacks : sequence of mapping
        Rows of Stacks.
    as_of : date or None
        The day; None where none is typed.

    Yields
    ------
    tuple
        Stack, place, why.
    """
    for row in stacks:
        mc, target, likely = row["mc_now"], row["goal"], day_of(row["likely"])
        if _at_target(row):
            told = f"{mc:.1f} % MC now, target {target:g} %"
        elif row["advice"] == READ_READY:
            told = READ_READY
        elif is_number(mc) and likely is not None and as_of is not None and likely <= as_of:
            told = f"its likely day, {likely}, has come"
        else:
            continue
        yield text_of(row["name"]), text_of(row["here"]), told


def too_fast(stacks: Rows, latest: Mapping[str, Weighed]) -> Iterator[tuple[str, str]]:
    """Name the stacks over the safe rate, or with a board that was when it was weighed last.

    Parameters
    ----------
    stacks : sequence of mapping
        Rows of Stacks.
    latest : mapping of str to Weighed
        By stack, from `latest_weighings`.

    Yields
    ------
    tuple
        Stack, what it loses.
    """
    for row in stacks:
        told = []
        if row["advice"] == OVER_SAFE_RATE:
            losses = [row[key] for key in ("loss", "loss_weighed") if is_number(row[key])]
            if losses and is_number(row["safe"]):
                told.append(f"{max(losses):.1f} % MC a day, safe {row['safe']:.1f}")
            else:
                told.append(OVER_SAFE_RATE)
        for board in _boards(latest, row):
            if board["note"] == TOO_FAST:
                loss = board["loss"]
                told.append(
                    f"board {text_of(board['board'])} {loss:.1f}" if is_number(loss) else TOO_FAST
                )
        if told:
            yield text_of(row["name"]), "; ".join(told)


def damp(stacks: Rows, latest: Mapping[str, Weighed]) -> Iterator[tuple[str, str]]:
    """Name the stacks in air that grows mold or dries them no further, or with a board that gained.

    Parameters
    ----------
    stacks : sequence of mapping
        Rows of Stacks.
    latest : mapping of str to Weighed
        By stack, from `latest_weighings`.

    Yields
    ------
    tuple
        Stack, what is the matter.
    """
    for row in stacks:
        told = [row["advice"]] if row["advice"] in (MOLD, STANDS_STILL) else []
        for board in _boards(latest, row):
            if board["note"] == GAINED:
                told.append(f"board {text_of(board['board'])} {board['note']}")
        if told:
            yield text_of(row["name"]), "; ".join(told)


def _boards(latest: Mapping[str, Weighed], stack: Row) -> Rows:
    weighed = latest.get(name_of(stack["name"]))
    return weighed.rows if weighed else []
