"""Status of boards: quarantine, pieces, stock, and the only ways from one status to another."""

from __future__ import annotations

import random
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest

from lumbercalc.book.sheets.board_notes import ALLOWANCE_PCT
from lumbercalc.book.sheets.board_status import ON_HAND
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, cherry, oak

MAY, DRY, LATER = date(2026, 5, 9), date(2026, 11, 9), date(2026, 12, 24)

STACKS: list[Row] = [
    {"name": "S", "species": "Oak, white", "quarters": "4/4", "start": date(2026, 8, 12)}
]

BOARDS: list[tuple[dict[str, Any], str, str]] = [
    (oak("green", 6, 10), "green", "ok"),
    (oak("drying", 6, 10, stack="S"), "drying", "ok"),
    (oak("ready", 6, 10, stack="S", ready=DRY), "ready", "ok"),
    (oak("ready later", 6, 10, stack="S", ready=LATER), "drying", "a date is after the as-of"),
    (oak("ready today", 6, 10, stack="S", ready=AS_OF), "ready", "ok"),
    (oak("used", 6, 10, stack="S", used=MAY), "used", "ok"),
    (oak("signs", 6, 10, stack="S", insects="signs"), "held", "held: insect signs, keep it apart"),
    (
        oak("no word", 6, 10, stack="S", insects="signs", released=MAY),
        "held",
        "held: what was done",
    ),
    (oak("no date", 6, 10, stack="S", insects="signs", treatment="heat"), "held", "held: insect"),
    (oak("to come", 6, 10, insects="signs", released=LATER, treatment="heat"), "held", "a date is"),
    (oak("out", 6, 10, stack="S", insects="signs", released=MAY, treatment="heat"), "drying", "ok"),
    (oak("other word", 6, 10, insects="treated"), "held", "held: insect signs must be"),
    (oak("not looked", 6, 10, insects=None), "green", "ok"),
    (cherry("whole", 12, 8, stack="S"), "cut up", "ok"),  # 16 bf
    (cherry("half", 6, 8, parent="whole", stack="S"), "drying", "its stack is of another"),  # 8 bf
    (cherry("other half", 6.5, 8, parent="whole"), "green", "ok"),  # 8.67: 16.67 is 4 % more
    (cherry("small", 6, 8), "cut up", "cut up: its pieces tally over 5 % more than it did"),
    (cherry("large", 6.5, 8, parent="small"), "green", "ok"),  # 8.67 of 8
    (oak("orphan", 6, 10, parent="nowhere"), "green", "no such parent on Boards"),
    (oak("itself", 6, 10, parent="itself"), "cut up", "this board is its own parent"),
    (oak("egg", 6, 10, parent="hen"), "cut up", "this board is its own parent"),
    (oak("hen", 6, 10, parent="egg"), "cut up", "this board is its own parent"),
    (oak("double", 6, 10), "green", "ok"),
    (oak("double", 6, 10), "green", "tag is used twice"),
    (oak("no stack", 6, 10, stack="T"), "drying", "no such stack on Stacks"),
    (oak("text", 6, 10, ready="May"), "green", "a date is not a date"),
    ({"tag": "bare", "species": "Oak, white"}, "green", "thickness, width or length is missing"),
]

COUNTS = {
    "Boards held for insect signs": 5,
    "Boards cut from a board that is not there, or from themselves": 4,
    "Boards whose pieces tally more than they did": 1,
    "Tags used twice": 1,
}
"""What Checks counts of them."""


@pytest.fixture(scope="module")
def shop() -> Shop:
    rows = {"board": [row for row, *_ in BOARDS], "stack": STACKS, "price": PRICES}
    boards = ("board_status", "board_note", "board_value", "board_stock", "board_bf", "board_days")
    counts = [(what, "Boards") for what in COUNTS]
    return Shop(rows, {"as_of": AS_OF}, (*boards, "stack_boards", "stack_bf", *counts))


@pytest.mark.parametrize("row", range(len(BOARDS)))
def test_status_and_check_of_a_row(shop: Shop, row: int) -> None:
    _, status, says = BOARDS[row]
    assert shop.at("board", "status", row) == status
    said = str(shop.at("board", "note", row))
    assert said == "ok" if says == "ok" else said.startswith(says)


def test_the_stack_is_without_what_is_held_used_ready_or_cut_up(shop: Shop) -> None:
    # drying, ready later, out: 5 bf each; half of the cherry: 8 bf
    assert shop.at("stack", "boards", 0) == 4
    assert shop.at("stack", "bf", 0) == pytest.approx(3 * 5 + 8)


def test_value_and_stock_are_of_what_can_be_sold(shop: Shop) -> None:
    for row, (board, status, _) in enumerate(BOARDS):
        value, stock = (shop.at("board", key, row) for key in ("value", "stock"))
        sized = "width" in board
        assert (value != "") is (sized and status not in ("held", "cut up", "used"))
        assert (stock == shop.at("board", "bf", row)) is (not sized or status in ON_HAND)


def test_days_since_stacked(shop: Shop) -> None:
    assert shop.of("board", "tag", "days")["drying"] == 100
    assert shop.of("board", "tag", "days")["green"] == ""
    assert shop.of("board", "tag", "days")["used"] == ""
    assert shop.of("board", "tag", "days")["no stack"] == ""


def test_checks_count_what_is_held_and_what_cannot_be(shop: Shop) -> None:
    held = [status for _, status, _ in BOARDS].count("held")
    assert held == COUNTS["Boards held for insect signs"]
    assert {what: shop.found(what, "Boards") for what in COUNTS} == COUNTS
    assert ALLOWANCE_PCT == 5


# What may follow upon what. Nothing leads back from what was used or cut up.
PATHS = {
    "green": {"drying", "ready", "reserved", "sold", "used", "held", "cut up"},
    "drying": {"ready", "reserved", "sold", "used", "held", "cut up"},
    "ready": {"reserved", "sold", "used", "held", "cut up"},
    "reserved": {"green", "drying", "ready", "sold", "used", "held", "cut up"},
    "sold": {"green", "drying", "ready"},
    # a quote that reserved it before the signs were found may still be open
    "held": {"green", "drying", "ready", "reserved", "used", "cut up"},
    "used": set(),
    "cut up": set(),
}
LONGEST, HISTORIES = 7, 18


def histories() -> tuple[list[Row], list[Row], list[Row], list[list[str]]]:
    """Boards that things happen to, one row for each moment; sales, lines, and their tags."""
    chance = random.Random(20261120)
    boards: list[Row] = []
    sales: list[Row] = []
    lines: list[Row] = []
    tags: list[list[str]] = []
    for history in range(HISTORIES):
        typed: dict[str, Any] = {}
        own: list[dict[str, Any]] = []  # its sales so far
        cut, moments = False, []
        for moment in range(chance.randint(3, LONGEST)):
            day = MAY + timedelta(days=10 * moment)
            tag = f"{history}-{moment}"
            if moment:
                cut = happen(chance, typed, own, cut, day)
            boards.append(oak(tag, 6, 10) | typed)
            if cut:
                boards.append(oak(f"{tag} piece", 3, 10, parent=tag))
            for number, sale in enumerate(own):
                name = f"{tag} {number}"
                sales.append({"number": name, "buyer": "a", "shrink": 7} | sale["sale"])
                lines.append({"sale": name, "tag": tag, "price": 8} | sale["line"])
            moments.append(tag)
        tags.append(moments)
    return boards, sales, lines, tags


def happen(
    chance: random.Random, typed: dict[str, Any], own: list[dict[str, Any]], cut: bool, day: date
) -> bool:
    """Let one of the things happen that can happen now; tell whether it is cut up."""
    running = own[-1] if own and not own[-1]["over"] else None
    held = typed.get("insects") == "signs" and "released" not in typed
    gone = cut or "used" in typed
    sold = running is not None and "invoiced" in running["sale"]
    can = []
    if not gone and not sold:
        can += ["signs"] * ("insects" not in typed) + ["release"] * held * 3
        can += ["stack"] * ("stack" not in typed and "ready" not in typed) * 2
        can += ["ready"] * ("ready" not in typed) * 2 + ["use", "cut"] * (running is None)
    if not gone and not held:
        can += ["quote", "invoice"] * 2 if running is None else []
    if running is not None:
        can += ["return"] * 2 if sold else ["cancel", "invoice it"] * (not held)
    match chance.choice(can or ["nothing"]):
        case "signs":
            typed["insects"] = "signs"
        case "release":
            typed |= {"released": day, "treatment": "heat"}
        case "stack":
            typed["stack"] = "S"
        case "ready":
            typed["ready"] = day
        case "use":
            typed["used"] = day
        case "cut":
            return True
        case "quote":
            own.append({"sale": {"quoted": day, "reserve": "yes"}, "line": {}, "over": False})
        case "invoice":
            own.append({"sale": {"invoiced": day}, "line": {}, "over": False})
        case "invoice it" if running is not None:
            running["sale"]["invoiced"] = day
        case "cancel" if running is not None:
            running["sale"]["cancelled"], running["over"] = day, True
        case "return" if running is not None:
            running["line"]["returned"], running["over"] = day, True
    return cut


def test_statuses_move_only_along_the_allowed_paths() -> None:
    boards, sales, lines, tags = histories()
    rows = {"board": boards, "sales": sales, "line": lines, "stack": STACKS, "price": PRICES}
    made = Shop(rows, {"as_of": AS_OF}, ("board_status", "line_note"))
    status = made.of("board", "tag", "status")
    steps = {
        (status[before], status[after])
        for moments in tags
        for before, after in pairwise(moments)
        if status[before] != status[after]
    }
    assert {(before, after) for before, after in steps if after not in PATHS[before]} == set()
    assert len(steps) > 12
    assert set(status.values()) == set(PATHS)
    assert set(made.column("line", "note")) <= {"ok", "held for insect signs: not for sale"}
    assert TOO_MANY_ROWS > max(len(boards), len(lines)) > 60


TOO_MANY_ROWS = 300
"""Rows with formulas in a new workbook."""
