"""Sheet Loads: how the cost of a load of several species is shared by its boards."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.book.sheets.loads import BY_FOOT, BY_PRICE, SEVERAL_SPECIES
from tests.book.small_shop import Row, Shop, board

DAY = date(2026, 5, 1)
STACKED = {"place": "yard", "quarters": "4/4", "start": DAY, "target": 12}
LOADS = {"Blank": "", "Feet": BY_FOOT, "Price": BY_PRICE, "One unpriced": BY_PRICE}
COST = 224


def boards(load: str) -> list[Row]:
    """8 bf of walnut, 16 bf of oak in two boards, each wood in its own stack."""
    grade = "Shorts" if load == "One unpriced" else "FAS"
    return [
        board(f"{load}-1", "Walnut, black", "4/4", 12, 8, load=load, stack="W"),
        board(f"{load}-2", "Oak, white", "4/4", 12, 12, load=load, stack="O"),
        board(f"{load}-3", "Oak, white", "4/4", 6, 8, load=load, stack="O", grade=grade),
    ]


@pytest.fixture(scope="module")
def made() -> Shop:
    price = {"quarters": "4/4", "grade": "FAS"}
    rows: dict[str, list[Row]] = {
        "load": [{"name": n, "date": DAY, "purchase": COST, "by": by} for n, by in LOADS.items()],
        "price": [
            {"species": "Walnut, black", "price": 8} | price,
            {"species": "Oak, white", "price": 3} | price,
        ],
        "stack": [
            {"name": "W", "species": "Walnut, black"} | STACKED,
            {"name": "O", "species": "Oak, white"} | STACKED,
        ],
        "board": [each for load in LOADS for each in boards(load)],
        "cost": [{"stack": "W"}, {"stack": "O"}],
    }
    asked = ("board_cost", "load_note", "load_per_bf", "load_chosen")
    return Shop(rows, {"as_of": DAY, "waterfall_stack": "O"}, asked)


# A joint cost is shared by footage or by sales value: cost x (value of one / value of all), as
# textbooks of cost accounting have it (from memory). 8 bf at 8 $ and 16 bf at 3 $ are 112 $.
BY_FEET = [COST * 8 / 24, COST * 12 / 24, COST * 4 / 24]
BY_VALUE = [COST * 64 / 112, COST * 36 / 112, COST * 12 / 112]


@pytest.mark.parametrize(
    ("load", "shares", "words"),
    [
        ("Blank", BY_FEET, SEVERAL_SPECIES),
        ("Feet", BY_FEET, SEVERAL_SPECIES),
        ("Price", BY_VALUE, "ok"),
        ("One unpriced", [NO_PRICE] * 3, "a board of it has no price, to share the cost by"),
    ],
)
def test_a_load_is_shared_by_footage_or_by_price(
    made: Shop, load: str, shares: list[Any], words: str
) -> None:
    place = list(LOADS).index(load)
    assert made.column("board", "cost")[3 * place : 3 * place + 3] == pytest.approx(shares)
    assert made.column("load", "note")[place] == words
    assert made.column("load", "per_bf")[place] == pytest.approx(COST / 24)
    # what Cost card, on which the oak's stack is chosen, takes of the load
    taken = 0 if NO_PRICE in shares else (shares[1] + shares[2]) / COST
    assert made.column("load", "chosen")[place] == pytest.approx(taken)
