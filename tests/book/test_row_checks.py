"""What rows say of themselves: days that cannot be, names that are missing, shares for percents."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

import lumbercalc as lc
from lumbercalc.book.notes import AFTER_AS_OF
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, oak

START, SET_UP = date(2026, 9, 1), date(2026, 9, 2)
AIR = [(month, 50.0, 60.0) for month in range(1, 13)]
BEFORE = "the date is before the board was set up, or its stack was stacked"

STACK: Row = {
    "name": "Oak 1", "place": "shed", "setting": "fan", "species": "Oak, white", "quarters": "4/4",
    "start": START, "target": 12,
}  # fmt: skip
SAMPLE: Row = {
    "board": "1a", "stack": "Oak 1", "date": SET_UP, "unit": "lb", "weight": 20, "section1": 80,
    "section2": 80,
}  # fmt: skip
GOOD: list[Row] = [
    {"date": date(2026, 9, 12), "board": "1a", "weight": 18.5},
    {"date": date(2026, 10, 2), "board": "1a", "weight": 17.0},
    {"date": date(2026, 10, 20), "board": "1a", "weight": 16.0},
]
BAD: list[tuple[Row, str]] = [
    ({"date": date(2027, 10, 20), "board": "1a", "weight": 15.5}, AFTER_AS_OF),
    ({"date": date(1926, 10, 20), "board": "1a", "weight": 15.5}, BEFORE),
    ({"date": date(2026, 8, 8), "board": "1a", "weight": 15.5}, BEFORE),  # before the stack
    ({"date": date(2026, 9, 1), "board": "1a", "weight": 15.5}, BEFORE),  # before the board
]
SAMPLES: list[tuple[Row, str]] = [
    (SAMPLE, "ok"),
    ({**SAMPLE, "board": "late", "date": date(2026, 12, 25)}, AFTER_AS_OF),
    ({**SAMPLE, "board": "text", "date": "May"}, "the date is not a date"),
    ({**SAMPLE, "board": None}, "the sample board's name is missing"),
]
SITE: list[tuple[Row, str]] = [
    *(({"place": "shed", "month": m, "temp": t, "rh": rh}, "ok") for m, t, rh in AIR),
    ({"place": "loft", "month": 13, "temp": 50, "rh": 60}, "the month must be 1 to 12, or a date"),
    ({"place": "loft", "month": 2.5, "temp": 50, "rh": 60}, "the month must be 1 to 12, or a date"),
    ({"place": "attic", "month": "May", "temp": 50, "rh": 60}, "the month must be 1 to 12"),
    ({"place": "loft", "month": date(2026, 5, 1), "temp": 50, "rh": 60}, "ok"),
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
    ({**oak("OA-03", 6, 10, stack="Oak 1"), "quarters": "8/4"}, "its stack is of another species"),
    ({**oak("OA-04", 6, 10), "species": "white oak"}, "no price for this name: choose the species"),
    (oak("OA-05", 6, 10, grade="yard"), "ok"),  # not priced, as it may be
    ({**oak("OA-06", 6, 10), "quarters": "4/4 ", "grade": " FAS"}, "ok"),
]


def rows_of(pairs: list[tuple[Row, str]]) -> list[Row]:
    return [row for row, _ in pairs]


def shop(path: Any, weighings: list[Row]) -> Shop:
    rows = {
        "site": rows_of(SITE),
        "stack": [STACK, {**STACK, "name": None}],
        "sample": rows_of(SAMPLES),
        "weighing": weighings,
        "board": rows_of(BOARDS),
        "sales": rows_of(SALES),
        "price": [*PRICES, {"quarters": "4/4", "price": 5}],
    }
    return Shop(path / "shop.xlsx", rows, {"as_of": AS_OF, "footage_shrink": 0.07, "interest": 8})


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return shop(tmp_path_factory.mktemp("rows"), [*GOOD, *rows_of(BAD)])


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("weighing", [*((row, "ok") for row in GOOD), *BAD]),
        ("sample", SAMPLES),
        ("site", SITE),
        ("sales", SALES),
        ("board", BOARDS),
        ("stack", [(STACK, "ok"), ({}, "the stack's name is missing")]),
    ],
)
def test_each_row_says_what_is_wrong_with_it(
    made: Shop, table: str, expected: list[tuple[Row, str]]
) -> None:
    for said, (_, words) in zip(made.column(table, "note"), expected, strict=True):
        assert str(said).startswith(words), said


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
    assert made.at("stack", "last_mc", 0) == pytest.approx(mc[-1], rel=1e-12)


def test_a_month_that_is_none_counts_in_no_month(made: Shop) -> None:
    assert [made.at("site", "calendar", row) for row in range(10, 16)] == [11, 12, "", "", "", 5]


def test_a_price_is_found_past_blanks_that_nobody_sees(made: Shop) -> None:
    assert made.column("board", "price")[-1] == 8.00
    assert made.column("board", "sort")[-1] == made.column("board", "sort")[0].replace(
        "drying", "green"
    )


@pytest.mark.parametrize(
    ("what", "sheet", "count"),
    [
        ("Boards on hand without a price", "Boards", 3),  # 8/4, the other name, the other grade
        ("Prices without a species", "Prices", 1),
        ("Percentages typed as shares, 0.07 for 7 %", "Prices", 1),
        ("Weighings with something to look at", "Weighings", len(BAD)),
    ],
)
def test_they_are_counted_on_checks(made: Shop, what: str, sheet: str, count: int) -> None:
    assert made.found(what, sheet) == count
