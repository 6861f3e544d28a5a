"""What is measured of a stack reaches its forecast: set up, weighed, left out, re-trimmed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Any

import pytest

import lumbercalc as lc
from lumbercalc.book.sheets.sell_or_hold import UNPRICED
from lumbercalc.book.sheets.stack_advice import FEW_BOARDS, OUTSIDE
from tests.book.small_shop import PRICES, Row, Shop, oak

AS_OF, START = date(2026, 10, 20), date(2026, 9, 1)
ROOM: list[Any] = [[68, 40]] * 12
YARD: list[Any] = [[60, 70]] * 12
DRY = 1000.0
"""g of wood in each sample board."""

STACK: Row = {
    "place": "room", "setting": "fan", "species": "Oak, white", "quarters": "4/4", "start": START,
    "target": 10,
}  # fmt: skip
SET_UP_LATE = date(2026, 10, 10)
STACKS: list[tuple[Row, str]] = [
    ({**STACK, "name": "late", "place": "yard", "setting": "open yard",
      "start": date(2026, 6, 1), "target": 14}, "rate k is without boards set up in drying"),
    ({**STACK, "name": "green"}, "ok"),
    ({**STACK, "name": "typed", "measured_mc": 70}, "ok"),
    ({**STACK, "name": "alone"}, "sample boards not weighed in the last round"),
    ({**STACK, "name": "trim"}, "ok"),
    ({**STACK, "name": "early"}, "ok"),
    ({**STACK, "name": "three"}, "ok"),
    ({**STACK, "name": "once"}, "ok"),
    ({**STACK, "name": "again"}, "ok"),
    ({**STACK, "name": "off"}, "ok"),
    ({**STACK, "name": "today"}, "ok"),
    ({**STACK, "name": "never", "target": 6}, "ok"),  # its board was taken off
    ({**STACK, "name": "thick", "quarters": "12/4"}, "ok"),
    # walnut 8/4 is sawn to 2-1/8 in; 1.1 in is 4/4
    ({**STACK, "name": "thin", "quarters": "8/4", "measured_in": 1.1}, "as sawn is over 0.25 in"),
    ({**STACK, "name": "full", "quarters": "8/4", "measured_in": 2.375}, "ok"),
    # the usual target is 8 %, and air of 68 deg F and 40 % holds wood at 7.7 %: no late date
    ({**STACK, "name": "near", "target": None}, "ready, late: the air does not bring it there"),
    ({**STACK, "name": "blank", "setting": None}, "its air is taken for a fan's"),
    ({**STACK, "name": "fans", "setting": "fans"}, 'setting is the text "fans"'),
    ({**STACK, "name": "nowhere", "place": "garage"}, 'place is the text "garage"'),
    ({**STACK, "name": "undated", "move_place": "yard"}, 'move_place is the text "yard"; it'),
]  # fmt: skip
ROUNDS = [(date(2026, 9, day), mc) for day, mc in ((8, 50.0), (15, 40.0), (22, 33.0))]


def sample(stack: str, board: str, on: date, *sections: float, **cells: Any) -> Row:
    """A sample board of 1,000 g of wood."""
    mc = sum(sections) / len(sections)
    named = dict(zip(("section1", "section2"), sections, strict=False))
    row = {"board": board, "stack": stack, "date": on, "unit": "g", "weight": DRY * (1 + mc / 100)}
    return row | named | cells


def weighed(board: str, rounds: Sequence[tuple[date, float]]) -> list[Row]:
    """Weighings of such a board that show these moisture contents."""
    return [{"date": on, "board": board, "weight": DRY * (1 + mc / 100)} for on, mc in rounds]


def as_forecast(days: int) -> float:
    """What white oak at 85 % dries to in the room in so many days, at the rate 1."""
    on = START + timedelta(days=days)
    factor = lc.stack_factor("fan")
    return float(lc.mc_forecast("Oak, white", 1.125, 85, START, on, ROOM, factor, 1))


SAMPLES = [
    *(sample("late", f"l{n}", SET_UP_LATE, 22, 22) for n in range(4)),
    *(
        sample(stack, f"{stack}{n}", START, 84, 86)
        for n in range(4)
        for stack in ("green", "typed")
    ),
    *(sample("alone", f"a{n}", START, 68, 68) for n in range(4)),
    *(sample("trim", f"t{n}", START, 68, 68) for n in range(4)),
    sample("trim", "t3b", date(2026, 9, 22), 33, 33, replaces="t3"),
    *(sample("three", f"s{n}", START, 68, 68) for n in range(3)),
    sample("three", "s2b", date(2026, 9, 22), 33, 33, replaces="s2"),
    *(sample(stack, f"{stack}{n}", START, 68, 68) for n in range(4) for stack in ("once", "again")),
    *(sample("early", f"e{n}", START - timedelta(days=20), 80, 80) for n in range(4)),
]
WEIGHINGS = [
    row
    for stack in ("green", "typed")
    for n in range(4)
    for row in weighed(
        f"{stack}{n}", [(START + timedelta(days=d), as_forecast(d)) for d in (7, 14, 28, 42)]
    )
]
WEIGHINGS += [row for n in range(4) for row in weighed(f"a{n}", ROUNDS)]
WEIGHINGS += weighed("a3", [(date(2026, 10, 6), 11.0)])
WEIGHINGS += [row for n in range(4) for row in weighed(f"t{n}", ROUNDS)]
WEIGHINGS += [
    row for board in ("t0", "t1", "t2", "t3b") for row in weighed(board, [(date(2026, 9, 29), 28)])
]
WEIGHINGS += [
    row for board in ("s0", "s1", "s2b") for row in weighed(board, [(date(2026, 9, 29), 28)])
]
DRIED = [(date(2026, 9, day), mc) for day, mc in ((8, 38.0), (15, 26.0), (29, 9.9))]
WEIGHINGS += [
    row
    for n in range(4)
    for stack, more in (("once", []), ("again", [(date(2026, 10, 15), 8.5)]))
    for row in weighed(f"{stack}{n}", [*DRIED, *more])
]
TAKEN_OFF = {
    "off": [date(2026, 9, 20), date(2026, 9, 18)],
    "today": [AS_OF],
    "never": [date(2026, 9, 25)],
}
"""Days on which the boards of these stacks were ready."""
BOARDS = [
    oak(f"B-{row['name']}", 6, 10, quarters=row["quarters"], stack=row["name"])
    for row, _ in STACKS[:-3]
    if row["name"] not in TAKEN_OFF
]
BOARDS += [
    oak(f"B-{stack}{n}", 6, 10, stack=stack, ready=on)
    for stack, days in TAKEN_OFF.items()
    for n, on in enumerate(days)
]
BOARDS += [
    # its pieces were taken off; that it was too is of no matter
    oak("B-whole", 6, 10, stack="off", ready=date(2026, 9, 30)),
    oak("B-piece", 6, 10, stack="off", ready=date(2026, 9, 20), parent="B-whole"),
]
BOARDS += [oak(f"B-{name}2", 6, 10, stack=name, grade="2 Common") for name in ("green", "typed")]


@pytest.fixture(scope="module")
def made() -> Shop:
    air = (("room", ROOM), ("yard", YARD))
    rows = {
        "site": [
            {"place": place, "month": month, "temp": temp, "rh": rh}
            for place, months in air
            for month, (temp, rh) in enumerate(months, 1)
        ],
        "stack": [row for row, _ in STACKS],
        "sample": SAMPLES,
        "weighing": WEIGHINGS,
        "board": BOARDS,
        "cost": [{"stack": name} for name in ("once", "again", *TAKEN_OFF, "green", "typed")],
        "hold": [
            {"stack": "green", "now_price": 3},
            {"stack": "typed", "now_price": 3, "dry_price": 7},
        ],
        "price": PRICES,
    }
    named = {"as_of": AS_OF, "place_names": "room"}
    return Shop(rows, named, ("Stacks", "sample_note", "cost_days", "hold_note"))


def of_stack(made: Shop, key: str) -> dict[Any, Any]:
    return made.of("stack", "name", key)


def day(serial: float) -> date:
    return (datetime(1899, 12, 30) + timedelta(days=serial)).date()


@pytest.mark.parametrize(("name", "words"), [(row["name"], words) for row, words in STACKS])
def test_the_stack_tells_what_its_mc_rests_on(made: Shop, name: str, words: str) -> None:
    assert str(of_stack(made, "note")[name]).startswith(words)


def test_boards_set_up_at_the_start_give_the_green_mc(made: Shop) -> None:
    """84 and 86 % are 85 %; weights that the forecast from 85 % gives are the rate 1."""
    assert of_stack(made, "green")["green"] == pytest.approx(85)
    assert of_stack(made, "rate")["green"] == pytest.approx(1, abs=0.005)
    assert of_stack(made, "green")["typed"] == 70  # typed on Stacks, it goes before


def test_boards_set_up_in_drying_are_a_measurement_until_they_are_weighed(made: Shop) -> None:
    assert day(of_stack(made, "known_on")["late"]) == SET_UP_LATE
    assert of_stack(made, "known_mc")["late"] == pytest.approx(22)
    assert of_stack(made, "last")["late"] == ""  # the sale's statement is of weighings alone
    begun = ("Oak, white", 1.125, lc.species_value("Oak, white", "green MC"), date(2026, 6, 1))
    factor, known = lc.stack_factor("open yard"), {"from_date": SET_UP_LATE, "from_mc": 22}
    now = lc.mc_forecast(*begun, AS_OF, YARD, factor, 1, **known)
    assert of_stack(made, "mc_now")["late"] == pytest.approx(now)
    ready = lc.ready_date(*begun, 14, YARD, factor, 1, **known)
    assert day(of_stack(made, "likely")["late"]) == ready
    slowest = lc.ready_date(*begun, 14, YARD, factor, 0.7, **known)
    assert day(of_stack(made, "all_boards")["late"]) == slowest


def test_boards_set_up_long_before_the_stack_are_told(made: Shop) -> None:
    assert str(made.of("sample", "board", "note")["e0"]).startswith("set up long before its stack")
    green = lc.species_value("Oak, white", "green MC")
    assert of_stack(made, "green")["early"] == green


def test_a_retrimmed_board_goes_in_the_place_of_the_old_row(made: Shop) -> None:
    """t0, t1, t2 and t3b at 28 %, without t3 at 33 %; on 22 Sep the mean is of four boards too."""
    assert of_stack(made, "known_mc")["trim"] == pytest.approx(28)
    assert of_stack(made, "advice")["trim"] == "ok"


def test_a_stack_too_thick_for_the_forecast_is_told(made: Shop) -> None:
    """3-1/8 in as sawn; the published times are of 3/4 to 2-1/2 in."""
    assert of_stack(made, "advice")["thick"] == OUTSIDE


def test_a_retrimmed_board_is_one_board(made: Shop) -> None:
    """Four rows, three boards."""
    assert of_stack(made, "advice")["three"] == FEW_BOARDS


def test_a_stack_costs_until_it_is_first_dry_or_taken_off(made: Shop) -> None:
    """28 days from 1 to 29 Sep however often it is weighed; 19 until the last board is ready."""
    days = made.of("cost", "stack", "days")
    assert (days["once"], days["again"]) == (28, 28)
    assert (days["off"], days["never"]) == (19, 24)
    assert days["today"] == (AS_OF - START).days
    assert days["green"] == (day(of_stack(made, "likely")["green"]) - START).days


def test_boards_without_a_price_are_told_where_the_mean_is_taken(made: Shop) -> None:
    """One of two has a price; a price that is typed is for both."""
    assert made.column("hold", "note") == [UNPRICED, "ok"]
