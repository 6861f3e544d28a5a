"""Sheet Loads: how the cost of a load of several species is shared by its boards."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.book.sheets.loads import BY_PRICE, SEVERAL_SPECIES
from tests.book.small_shop import Row, Shop, board

DAY = date(2026, 5, 1)
ASKED = ("board_cost", "load_note", "load_per_bf", "load_chosen")
STACKED = {"place": "yard", "quarters": "4/4", "start": DAY, "target": 12}


def price(species: str, each: float) -> Row:
    return {"species": species, "quarters": "4/4", "grade": "FAS", "price": each}


def shop(by: str, *prices: Row) -> Shop:
    """A load for 224 $: 8 bf of walnut, 16 bf of oak in two boards, each wood in its own stack."""
    rows: dict[str, list[Row]] = {
        "load": [{"name": "Mixed", "date": DAY, "purchase": 224, "by": by}],
        "price": list(prices),
        "stack": [
            {"name": "W", "species": "Walnut, black"} | STACKED,
            {"name": "O", "species": "Oak, white"} | STACKED,
        ],
        "board": [
            board("W1", "Walnut, black", "4/4", 12, 8, load="Mixed", stack="W"),
            board("O1", "Oak, white", "4/4", 12, 12, load="Mixed", stack="O"),
            board("O2", "Oak, white", "4/4", 6, 8, load="Mixed", stack="O"),
        ],
        "cost": [{"stack": "W"}, {"stack": "O"}],
    }
    return Shop(rows, {"as_of": DAY, "waterfall_stack": "O"}, ASKED)


PRICES = (price("Walnut, black", 8), price("Oak, white", 3))


# A joint cost is shared by footage or by sales value: cost x (value of one / value of all), as
# textbooks of cost accounting have it (from memory). 8 bf at 8 $ and 16 bf at 3 $ are 112 $.
@pytest.mark.parametrize(
    ("by", "shares", "words"),
    [
        ("", [224 * 8 / 24, 224 * 12 / 24, 224 * 4 / 24], SEVERAL_SPECIES),
        ("board feet", [224 * 8 / 24, 224 * 12 / 24, 224 * 4 / 24], SEVERAL_SPECIES),
        (BY_PRICE, [224 * 64 / 112, 224 * 36 / 112, 224 * 12 / 112], "ok"),
    ],
    ids=["blank", "feet", "price"],
)
def test_a_load_is_shared_by_footage_or_by_price(by: str, shares: list[Any], words: str) -> None:
    made = shop(by, *PRICES)
    assert made.column("board", "cost") == pytest.approx(shares)
    assert made.column("load", "note") == [words]
    assert made.column("load", "per_bf") == pytest.approx([224 / 24])
    # what Cost card, on which the oak's stack is chosen, takes of the load
    assert made.column("load", "chosen") == pytest.approx([(shares[1] + shares[2]) / 224])


def test_a_board_without_a_price_leaves_a_load_unshared_and_is_told() -> None:
    made = shop(BY_PRICE, PRICES[0])
    assert made.column("board", "cost") == [NO_PRICE] * 3
    assert made.column("load", "chosen") == [0]
    assert made.column("load", "note") == ["a board of it has no price, to share the cost by"]
