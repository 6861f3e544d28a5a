"""Stacks over the years: planned, moved, read as ready, emptied, and a name that is used again."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

import lumbercalc as lc
from lumbercalc.book.sheets.readings import BEFORE_STACKED
from lumbercalc.book.sheets.readings_by_stack import LOTS
from lumbercalc.book.sheets.sell_or_hold import DRY, NO_BOARD, NOT_YET, READ_DRY
from lumbercalc.book.sheets.stack_advice import EMPTY, NEAR, READ_READY
from lumbercalc.book.sheets.stack_reckoning import NAMED_BEFORE_NOTE
from lumbercalc.book.sheets.weighings import GAINED, UNLIKE
from lumbercalc.sheet.dates import serial
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, board

SPRING, AUTUMN, LAST = date(2026, 3, 2), date(2026, 11, 10), date(2026, 11, 18)
RED = "Oak, northern red"

AIR: list[Row] = [
    {"place": place, "month": month, "temp": temp, "rh": rh}
    for place, temp, rh, months in (("yard", 55, 70, 12), ("room", 70, 40, 12), ("loft", 70, 40, 2))
    for month in range(1, months + 1)
]
STACK = {"place": "yard", "setting": "open yard", "species": RED, "quarters": "4/4", "target": 8,
         "width": 4, "length": 8}  # fmt: skip
STACKS: list[Row] = [
    STACK | {"name": "Again", "start": AUTUMN, "species": "Ash, white", "target": 9},
    STACK | {"name": "Gone", "start": SPRING},
    STACK | {"name": "Read", "start": SPRING, "move_date": date(2026, 9, 1), "move_place": "room",
             "move_setting": "fan"},
    STACK | {"name": "Planned"},
    STACK | {"name": "Near", "start": date(2026, 9, 1), "measured_mc": 20, "place": "room"},
    STACK | {"name": "Moves", "start": date(2026, 10, 20), "target": 10, "move_date": AS_OF,
             "move_place": "room"},
    STACK | {"name": "Loft", "place": "loft", "start": AUTUMN},
]  # fmt: skip
BOARDS: list[Row] = [
    board("N-1", "Ash, white", "4/4", 6, 10, stack="Again"),
    board("N-0", RED, "4/4", 6, 10, stack="Again", ready=SPRING),
    board("G-1", RED, "4/4", 6, 10, stack="Gone", used=LAST),
    board("R-1", RED, "4/4", 6, 10, stack="Read"),
    board("P-1", RED, "4/4", 6, 10, stack="Planned"),
    board("M-1", RED, "4/4", 6, 10, stack="Near"),
    board("V-1", RED, "4/4", 6, 10, stack="Moves"),
    board("L-1", RED, "4/4", 6, 10, stack="Loft"),
]
READINGS: list[Row] = [
    {"date": day, "stack": stack, "board": f"{stack} {n}", "meter": "pinless", "shows": 8 + n / 10,
     "meter_sg": lc.species_value(RED, "specific gravity")}
    for stack, day in (("Again", SPRING), ("Read", LAST))
    for n in range(6)
]  # fmt: skip
SAMPLES: list[Row] = [
    {"board": f"L{n}", "stack": "Loft", "date": AUTUMN, "weight": 8.0, "ovendry": 5.0}
    for n in range(4)
]
WEIGHINGS: list[Row] = [
    # 7.5 lb are 50 % MC, of 60 when set up; 6.2 are 24 %
    {"date": AUTUMN + timedelta(10), "board": f"L{n}", "weight": 6.2 if n == 3 else 7.5}
    for n in range(4)
]
SALES: list[Row] = [
    {"number": "1", "invoiced": SPRING, "tax_rate": 0, "shrink": 7, "stack": "Again"},
]
LINES: list[Row] = [{"sale": "1", "tag": "N-0", "price": 8}]
HOLDS: list[Row] = [{"stack": stack["name"], "now_price": 3, "dry_price": 8} for stack in STACKS]


NOTES = ("reading_note", "sales_note", "checklist_note", "weighing_note")
FIGURES = ("cost_listed", "board_days", "label_state", LOTS)


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "site": AIR,
        "stack": STACKS,
        "board": BOARDS,
        "reading": READINGS,
        "sample": SAMPLES,
        "weighing": WEIGHINGS,
        "sales": SALES,
        "line": LINES,
        "hold": HOLDS,
        "cost": [{"stack": "Gone", "area": 1}, {"stack": "Read", "area": 1}],
        "checklist": [{"stack": "Gone"}, {"stack": "Read", "sealed": LAST}],
        "label": [{"tag": "Gone"}, {"tag": "Read"}],
        "price": PRICES,
    }
    named = {"as_of": AS_OF, "place_names": "yard"}
    return Shop(rows, named, ("Stacks", "Sell or hold", "Start", *NOTES, *FIGURES))


def of_lot(made: Shop, stack: str, key: str) -> object:
    return made.block(LOTS, key)[made.block(LOTS, "stack").index(stack)]


def on_start(made: Shop, label: str) -> object:
    [row] = [row for row, *_ in made.workbook["Start"].iter_rows() if row.value == label]
    return made.values["Start", f"B{row.row}"]


def test_readings_of_the_stack_that_had_the_name_before_say_nothing_of_this_one(
    made: Shop,
) -> None:
    """They made fresh wet ash "ready", and told the buyer of the old oak another MC."""
    assert made.column("reading", "note")[:6] == [BEFORE_STACKED] * 6
    assert of_lot(made, "Again", "ready") == "no readings"
    assert of_lot(made, "Again", "left_out") == 0
    assert made.at("sales", "note", 0).startswith("no moisture statement: its stack was not")
    note = made.of("stack", "name", "note")["Again"]
    assert note == NAMED_BEFORE_NOTE


def test_a_stack_that_its_readings_call_ready_is_ready_everywhere(made: Shop) -> None:
    assert of_lot(made, "Read", "ready") == "ready"
    assert made.of("stack", "name", "advice")["Read"] == READ_READY
    assert made.of("hold", "stack", "weeks")["Read"] == "dry"
    assert made.of("hold", "stack", "verdict")["Read"] == READ_DRY


def test_the_last_percent_is_not_waited_for_without_readings(made: Shop) -> None:
    """It takes months where the air is hardly drier: the date alone said to hold the stack."""
    assert 8 < made.of("stack", "name", "mc_now")["Near"] <= 9
    assert made.of("stack", "name", "likely")["Near"] > serial(AS_OF)
    assert made.of("stack", "name", "advice")["Near"] == NEAR
    assert made.of("hold", "stack", "verdict")["Near"] == DRY


def test_nothing_is_to_be_done_for_a_stack_that_every_board_has_left(made: Shop) -> None:
    stacks = made.of("stack", "name", "note")
    assert (stacks["Gone"], made.of("stack", "name", "advice")["Gone"]) == ("ok", EMPTY)
    assert made.of("stack", "name", "likely")["Gone"] == "not reached"
    assert made.of("checklist", "stack", "note")["Gone"] == "ok"
    assert "sealed after it was stacked" in made.of("checklist", "stack", "note")["Read"]
    assert made.of("hold", "stack", "verdict")["Gone"] == NO_BOARD
    assert made.of("hold", "stack", "even")["Gone"] == ""
    assert made.of("hold", "stack", "note")["Gone"] == "ok"
    assert made.of("cost", "stack", "listed")["Gone"] == ""
    assert on_start(made, "Stacks") == len(STACKS) - 1


def test_a_stack_that_is_not_stacked_yet_has_no_days_and_no_verdict(made: Shop) -> None:
    assert made.of("board", "tag", "days")["P-1"] == ""
    assert made.of("hold", "stack", "verdict")["Planned"] == ""
    assert made.of("hold", "stack", "note")["Planned"] == NOT_YET


def test_a_stack_stands_where_it_was_moved_to(made: Shop) -> None:
    assert made.of("stack", "name", "here") == {
        "Again": "yard", "Gone": "yard", "Read": "room", "Planned": "yard", "Near": "room",
        "Moves": "room", "Loft": "loft",
    }  # fmt: skip
    assert made.of("stack", "name", "advice")["Moves"] == "ok"  # the room gets it to its target
    assert made.of("label", "tag", "state")["Read"].endswith(", room")
    assert made.of("label", "tag", "state")["Gone"].endswith("yard")


def test_weight_and_water_are_of_the_wood_as_sawn(made: Shop) -> None:
    """5 bf tallied as 1 in are 1-1/8 in of wood, under 50 lb on each of 32 ft2."""
    mc, loss, pints, load = (
        made.of("stack", "name", key)["Near"] for key in ("mc_now", "loss", "pints", "load")
    )
    assert loss > 0
    assert pints == pytest.approx(lc.dehumidifier_pints(RED, 5 * 1.125, loss))
    assert load == pytest.approx(50 + lc.lumber_weight(RED, 5, mc, 1.125) / 32)


def test_a_reason_is_told_once(made: Shop) -> None:
    note = made.of("stack", "name", "note")["Loft"]
    assert note.count("climate lacks") == 1, note


def test_a_weight_unlike_those_of_the_other_boards_is_told_the_day_it_is_typed(made: Shop) -> None:
    assert made.column("weighing", "note") == ["ok", "ok", "ok", UNLIKE]


def test_a_slip_at_one_board_is_not_laid_at_the_others() -> None:
    """12.7 typed for 7.2: the mean of the day was a gain, and the three right boards stood out."""
    first, later = AUTUMN + timedelta(5), AUTUMN + timedelta(9)
    weighed = [(first, 7.5)] * 4 + [(later, 7.2)] * 3 + [(later, 12.7)]
    rows = {
        "site": AIR,
        "stack": [STACK | {"name": "Loft", "start": AUTUMN}],
        "sample": SAMPLES,
        "weighing": [
            {"date": day, "board": f"L{row % 4}", "weight": weight}
            for row, (day, weight) in enumerate(weighed)
        ],
    }
    shop = Shop(rows, {"as_of": AS_OF, "place_names": "yard"}, ("weighing_note",))
    assert shop.column("weighing", "note") == ["ok"] * 7 + [GAINED]


def test_a_stack_without_any_air_says_so() -> None:
    """All its dates were blank, without a word."""
    rows = {"stack": [STACK | {"name": "A", "start": SPRING}]}
    shop = Shop(rows, {"as_of": AS_OF}, ("stack_note", "stack_all_boards"))
    assert shop.at("stack", "note", 0).startswith("Site has no air yet")
    assert shop.at("stack", "all_boards", 0) == ""


def test_a_day_is_missed_where_there_are_only_sales() -> None:
    """Without it no quote lapses, and the year of the tax is not known."""
    missing = ("As-of date that is missing, or no date", "Start")
    asked = ("Start", missing, "tax_year_used")
    shop = Shop({"sales": SALES, "line": LINES}, {"tax_year": 2025}, asked)
    assert shop.found(*missing) == 1
    assert shop.named("tax_year_used") == 2025  # typed: the tax is of a year that is over
    assert on_start(shop, "Next stack likely ready") == "none"
