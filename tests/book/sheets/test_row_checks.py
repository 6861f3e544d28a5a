"""What rows say of themselves: days that cannot be, names that are missing, shares for percents."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

import lumbercalc as lc
from lumbercalc.book.page.notes import AFTER_AS_OF
from lumbercalc.book.sheets.site import NO_PLACE
from lumbercalc.book.sheets.stack_advice import MOLD
from lumbercalc.book.sheets.weighings import GAINED, LIGHTER, TOO_DRY
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, oak

START, SET_UP = date(2026, 9, 1), date(2026, 9, 2)
AIR = [(month, 50.0, 60.0) for month in range(1, 13)]
DAMP = [(month, 50.0, 86.0) for month in range(1, 13)]
BEFORE = "the date is before the board was set up, or its stack was stacked"

STACK: Row = {
    "name": "Oak 1", "place": "shed", "setting": "fan", "species": "Oak, white", "quarters": "4/4",
    "start": START, "target": 12,
}  # fmt: skip
SAMPLE: Row = {
    "board": "1a", "stack": "Oak 1", "date": SET_UP, "unit": "lb", "weight": 20, "section1": 80,
    "section2": 80,
}  # fmt: skip
WRONG: Row = SAMPLE | {"stack": "Oak 6"}
GOOD: list[Row] = [
    {"date": date(2026, 9, 12), "board": "1a", "weight": 18.5},
    {"date": date(2026, 10, 2), "board": "1a", "weight": 17.0},
    {"date": date(2026, 10, 20), "board": "1a", "weight": 16.0},
]
OTHERS = ("Oak 2", "Oak 3")
"""Stacks weighed a day apart, and weighed wrong; their sample boards are 2a, 2b and 3a, 3b."""
LATER: list[tuple[Row, str]] = [
    # 0.01 lb more the day after is 0.09 % MC, as little as the scale may be off
    ({"date": date(2026, 10, 18), "board": "2a", "weight": 15.99}, "ok"),
    ({"date": date(2026, 10, 19), "board": "2a", "weight": 16.0}, "ok"),
    ({"date": date(2026, 10, 20), "board": "2b", "weight": 15.0}, "ok"),
    ({"date": date(2026, 10, 19), "board": "3a", "weight": 16.0}, "ok"),
    ({"date": date(2026, 10, 20), "board": "3a", "weight": 18.0}, GAINED),
    ({"date": date(2026, 10, 20), "board": "3b", "weight": 12.0}, TOO_DRY),  # 8 %, in air of 11
    ({"date": date(2026, 10, 21), "board": "3b", "weight": 0.9}, LIGHTER),
    ({"date": date(2026, 10, 20), "board": "undated", "weight": 16.0}, "ok"),
    ({"date": date(2026, 8, 8), "board": "undated", "weight": 16.0}, BEFORE),
    ({"date": date(2026, 10, 20), "board": "tare", "weight": 16.0}, "its board has no ovendry"),
    ({"date": date(2026, 9, 5), "board": "1m", "weight": 2410}, "over the safe rate"),
]
BAD: list[tuple[Row, str]] = [
    ({"date": date(2027, 10, 20), "board": "1a", "weight": 15.5}, AFTER_AS_OF),
    ({"date": date(1926, 10, 20), "board": "1a", "weight": 15.5}, BEFORE),
    ({"date": date(2026, 8, 8), "board": "1a", "weight": 15.5}, BEFORE),  # before the stack
    ({"date": date(2026, 9, 1), "board": "1a", "weight": 15.5}, BEFORE),  # before the board
]
SAMPLES: list[tuple[Row, str]] = [
    (SAMPLE, "ok"),
    ({**WRONG, "board": "late", "date": date(2026, 12, 25)}, AFTER_AS_OF),
    ({**WRONG, "board": "text", "date": "May"}, "the date is not a date"),
    ({**WRONG, "board": None}, "the sample board's name is missing"),
    ({**WRONG, "board": "share", "section1": 0.8, "section2": 0.8}, "a section under 5 % MC"),
    ({**WRONG, "board": "far", "section1": 10, "section2": 35}, "the two sections are far apart"),
    ({**WRONG, "board": "blank "}, "a blank too many in its name"),
    ({"board": "1m", "stack": "Oak 4", "date": SET_UP, "unit": "g", "tare": 10,
      "weight": 3010, "ovendry": 1850}, "ok"),
    *(({**SAMPLE, "board": f"{stack[-1]}{end}", "stack": stack}, "ok")
      for stack in OTHERS for end in "ab"),
    ({**WRONG, "board": "heavy", "ovendry": 24}, "weight is 20"),
    ({**WRONG, "board": "undated", "date": None}, "the day it was set up is missing"),
    # 18.67 lb over 10 lb ovendry are 86.7 %
    ({**WRONG, "board": "both", "weight": 18.67, "ovendry": 10}, "the ovendry weight is used"),
    ({**WRONG, "board": "tare", "tare": 30}, "weight is -10"),
    ({**WRONG, "board": "trim", "replaces": "1a"}, "no other board of its stack has the name"),
    ({**SAMPLE, "board": "7a", "stack": "Oak 7"}, "ok"),
]  # fmt: skip
SITE: list[tuple[Row, str]] = [
    *(({"place": "shed", "month": m, "temp": t, "rh": rh}, "ok") for m, t, rh in AIR),
    ({"place": "loft", "month": 13, "temp": 50, "rh": 60}, "the month must be 1 to 12, or a date"),
    ({"place": "loft", "month": 2.5, "temp": 50, "rh": 60}, "the month must be 1 to 12, or a date"),
    ({"place": "attic", "month": "May", "temp": 50, "rh": 60}, "the month must be 1 to 12"),
    ({"place": "loft", "month": date(2026, 5, 1), "temp": 50, "rh": 60}, NO_PLACE),
    *(({"place": "bog", "month": m, "temp": t, "rh": rh}, NO_PLACE) for m, t, rh in DAMP),
    ({"place": "bog", "month": date(2026, 11, 16), "temp": 50, "rh": 60}, NO_PLACE),
]
SALES: list[tuple[Row, str]] = [
    ({"number": "1", "invoiced": SET_UP, "tax_rate": 0.0625}, "sales tax under 0.5 %: type 6.25"),
    ({"number": "2", "invoiced": SET_UP, "discount": 0.05}, "discount under 0.5 %: type 5"),
    ({"number": "3", "invoiced": SET_UP, "shrink": 0.07}, "loss of footage under 0.5 %: type 7"),
    ({"number": "4", "invoiced": SET_UP, "tax_rate": 0.5, "shrink": 7}, "no line on Sales lines"),
    ({"number": "5", "invoiced": SET_UP, "tax_rate": 0, "shrink": 7}, "no line on Sales lines"),
]
BOARDS: list[tuple[Row, str]] = [
    (oak("OA-01", 6, 10, stack="Oak 1"), "ok"),
    ({**oak("", 6, 10), "tag": None}, "the tag is missing"),
    (oak("OA-02", 6, 10, load="Lode 1"), "no such load on Loads"),
    (
        {**oak("OA-03", 6, 10, stack="Oak 1"), "quarters": "8/4"},
        "its stack is of another thickness",
    ),
    ({**oak("OA-04", 6, 10), "species": "white oak"}, "no price for this name: choose the species"),
    (oak("OA-05", 6, 10, grade="yard"), "ok"),  # not priced, as it may be
    ({**oak("OA-06", 6, 10), "quarters": "4/4 ", "grade": " FAS"}, "ok"),
    (oak("OA-07 ", 6, 10), "a blank too many in its name"),
    (oak("OA-08", 6, 10, stack="Oak 1", ready=date(2026, 1, 5)), "ready before its stack was"),
    (oak("OA-09", 6, 10, ready=SET_UP, used=START), "used before it was ready"),
    ({**oak("OA-10", 6, 10, stack="Oak 1"), "quarters": "4-Aug"}, "thickness is the text"),
    (
        {**oak("OA-11", 6, 10, stack="Oak 1"), "species": "white oak"},
        "its stack is of another spec",
    ),
    (
        {**oak("OA-12", 6, 10, stack="Oak 1"), "species": "Ash, white"},
        "its stack is of another spec",
    ),
]
STACKS: list[tuple[Row, str]] = [
    (STACK, "ok"),
    ({**STACK, "name": None}, "the stack's name is missing"),
    ({**STACK, "name": "Oak 2"}, "not all of its sample boards were weighed on the last day"),
    ({**STACK, "name": "Oak 3"}, "a weighing of its last day is in doubt"),
    ({**STACK, "name": "Oak 4"}, "no board on Boards lies in it"),
    ({**STACK, "name": "Oak 5", "place": "bog", "setting": "still air",
      "start": date(2026, 11, 1)}, "target_mc is 12 % MC and the air does not bring it there"),
    ({**STACK, "name": "Oak 6"}, "sample boards not weighed in the last round"),
    ({**STACK, "name": "Oak 7", "target": None}, "its target is missing, and the usual one"),
    ({**STACK, "name": "Oak 8", "species": None}, "its species is missing"),
    ({**STACK, "name": "Oak 9", "setting": "stil air", "target": 0.08}, "setting is the text"),
]  # fmt: skip


def rows_of(pairs: list[tuple[Row, str]]) -> list[Row]:
    return [row for row, _ in pairs]


CHECKS = [
    ("Boards on hand without a price", "Boards", 5),  # 8/4, other names, ash, the other grade
    ("Prices without a species", "Prices", 1),
    ("Percentages typed as shares, 0.07 for 7 %", "Prices", 1),
    ("Weighings with something to look at", "Weighings", len(BAD) + 6),
]


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "site": rows_of(SITE),
        "stack": rows_of(STACKS),
        "sample": rows_of(SAMPLES),
        "weighing": [*GOOD, *rows_of(BAD), *rows_of(LATER)],
        "board": rows_of(BOARDS),
        "sales": rows_of(SALES),
        "price": [*PRICES, {"quarters": "4/4", "price": 5}],
    }
    named = {"as_of": AS_OF, "target_mc": None, "place_names": "shed"}
    named |= {"footage_shrink": 0.07, "interest": 8}
    counts = [(what, sheet) for what, sheet, _ in CHECKS]
    columns = ("Sample boards", "Weighings", "site_note", "site_calendar", "sales_note",
               "board_note", "board_price", "board_sort")  # fmt: skip
    return Shop(rows, named, ("Stacks", *columns, *counts))


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("weighing", [*((row, "ok") for row in GOOD), *BAD, *LATER]),
        ("sample", SAMPLES),
        ("site", SITE),
        ("sales", SALES),
        ("board", BOARDS),
        ("stack", STACKS),
    ],
)
def test_each_row_says_what_is_wrong_with_it(
    made: Shop, table: str, expected: list[tuple[Row, str]]
) -> None:
    for said, (_, words) in zip(made.column(table, "note"), expected, strict=True):
        assert str(said).startswith(words), said


def test_two_reasons_of_a_stack_stand_apart(made: Shop) -> None:
    said = made.of("stack", "name", "note")["Oak 9"]
    assert said.startswith('setting is the text "stil air"; it must be one of "fan"')
    assert said.endswith('"still air"; target_mc is 0.08 % MC; it must be from 3 to 60 % MC')


def test_wet_wood_in_air_that_grows_mold_is_told(made: Shop) -> None:
    """Hukka and Viitanen (1999): 85 % RH is critical at 45 deg F, and less in warmer air."""
    advice = made.of("stack", "name", "advice")
    assert advice["Oak 5"] == MOLD
    assert MOLD not in (advice["Oak 2"], advice["Oak 3"], advice["Oak 4"])


def test_a_dated_row_beside_twelve_months_is_the_air_of_its_days_only(made: Shop) -> None:
    begun = date(2026, 11, 1)
    wet = lc.species_value("Oak, white", "green MC")
    rows: list[list[Any]] = [["bog", *air] for air in DAMP]
    rows.append(["bog", date(2026, 11, 16), 50, 60])
    factor = lc.stack_factor("still air")
    mc = lc.mc_forecast("Oak, white", 1.125, wet, begun, AS_OF, rows, factor)
    alone = lc.mc_forecast("Oak, white", 1.125, wet, begun, AS_OF, rows[:-1], factor)
    assert made.of("stack", "name", "mc_now")["Oak 5"] == pytest.approx(mc)
    assert mc < alone


def test_a_weighing_of_a_day_that_cannot_be_is_left_out_of_the_forecast(made: Shop) -> None:
    """The rate is that of the weighings that can be, as DRYING_RATE gives it for them alone."""
    mc = [made.at("weighing", "mc", row) for row in range(len(GOOD))]
    green = made.at("stack", "green", 0)
    rate = lc.drying_rate(
        [row["date"] for row in GOOD], mc, "Oak, white", 1.125, green, START,
        [[temp, rh] for _, temp, rh in AIR], lc.stack_factor("fan"), boards=["1a"] * len(GOOD),
    )  # fmt: skip
    assert made.at("stack", "rate", 0) == pytest.approx(rate, rel=1e-9)
    assert made.at("stack", "weighings", 0) == len(GOOD)
    assert made.at("sample", "count", 0) == len(GOOD)
    assert made.at("stack", "known_mc", 0) == pytest.approx(mc[-1], rel=1e-12)


def test_boards_weighed_a_day_before_the_last_still_count_for_the_stack(made: Shop) -> None:
    """The mean of 2a and 2b: 20 lb at 80 % MC hold 11.11 lb of wood."""
    dry = 20 / 1.8
    mean = 100 * ((16.0 + 15.0) / 2 / dry - 1)
    assert made.at("stack", "known_mc", 2) == pytest.approx(mean, rel=1e-12)


def test_a_stack_without_a_target_has_no_weight_to_wait_for(made: Shop) -> None:
    """The blank target was 0 % MC, and the ovendry weight the one to wait for."""
    assert made.at("sample", "used", len(SAMPLES) - 1) == pytest.approx(20 / 1.8)
    assert made.at("sample", "wait", len(SAMPLES) - 1) == ""


def test_a_board_with_a_measured_ovendry_weight_has_a_first_loss(made: Shop) -> None:
    """(3000 - 1850) / 1850 = 62.16 %, and 29.73 % three days later; with a hook of 10 g."""
    row = rows_of(SAMPLES).index(next(row for row in rows_of(SAMPLES) if row["board"] == "1m"))
    assert made.at("sample", "green", row) == pytest.approx(62.162, abs=1e-3)
    at_target = 1850 * (1 + STACK["target"] / 100) + 10
    assert made.at("sample", "wait", row) == pytest.approx(at_target)
    weighing = len(GOOD) + len(BAD) + len(LATER) - 1
    assert made.at("weighing", "loss", weighing) == pytest.approx((62.162 - 29.730) / 3, abs=1e-3)


def test_a_stack_without_boards_has_no_weight(made: Shop) -> None:
    assert [made.at("stack", key, 4) for key in ("weight", "load", "pints")] == [""] * 3


def test_a_month_that_is_none_counts_in_no_month(made: Shop) -> None:
    assert [made.at("site", "calendar", row) for row in range(10, 16)] == [11, 12, "", "", "", 5]


def test_a_price_is_found_past_blanks_that_nobody_sees(made: Shop) -> None:
    price, sort = (made.of("board", "tag", key) for key in ("price", "sort"))
    assert price["OA-06"] == 8.00
    assert sort["OA-06"] == sort["OA-01"].replace("drying", "green")


@pytest.mark.parametrize(("what", "sheet", "count"), CHECKS)
def test_they_are_counted_on_checks(made: Shop, what: str, sheet: str, count: int) -> None:
    assert made.found(what, sheet) == count
