"""What the paper for the buyer says in words: who owes whom, and how the wood was tallied."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from lumbercalc.book.sheets.sale import SALE
from tests.book.small_shop import AS_OF, Shop, oak

MAY, JUNE, JULY = date(2026, 5, 9), date(2026, 6, 20), date(2026, 7, 4)

BOARDS = [oak(f"O-{n}", 6, 10) for n in range(4)]  # 5 bf each
SALES = [
    {"number": "owed", "invoiced": MAY, "deposit": 10, "shrink": 7},
    {"number": "overpaid", "invoiced": MAY, "paid": JUNE, "shrink": 0},
    {"number": "refused", "invoiced": MAY, "shrink": 70},
    {"number": "cancelled", "quoted": MAY, "deposit": 30, "cancelled": JUNE, "paid": JULY},
    {"number": "lapsed", "quoted": MAY, "until": JUNE, "deposit": 30},
]
LINES = [
    {"sale": "owed", "tag": "O-0", "price": 8},  # 4.65 bf: 37.20, less 10
    {"sale": "overpaid", "tag": "O-1", "price": 8},
    {"sale": "overpaid", "tag": "O-2", "price": 8, "returned": JULY},  # 40.00 were paid for it
    {"sale": "refused", "tag": "O-3", "price": 8},
    {"sale": "cancelled", "words": "crate", "quantity": 1, "price": 40},
    {"sale": "lapsed", "words": "crate", "quantity": 1, "price": 40},
]
DRY = "Board feet are net, a dry tally: the green tally less 7 % for shrinkage, each line to 0.01"
AS_TALLIED = "Board feet are net, each line to 0.01 bf."


def page_of(number: str) -> tuple[Shop, dict[str, Any]]:
    """The shop with a sale on its page, and what the page shows by its place."""
    rows = {"board": BOARDS, "sales": SALES, "line": LINES}
    shop = Shop(rows, {"as_of": AS_OF, "sale_choice": number}, (SALE, "sales_due"))
    return shop, {place: value for (sheet, place), value in shop.values.items() if sheet == SALE}


def place_of(shop: Shop, name: str) -> str:
    return str(shop.workbook.defined_names[name].attr_text).split("!")[1].replace("$", "")


@pytest.mark.parametrize(
    ("number", "label", "due", "measure"),
    [
        ("owed", "Due ($)", 27.20, DRY),
        ("overpaid", "To give back ($)", -40.00, AS_TALLIED),
        ("refused", "Due ($)", None, "Board feet are net, a dry tally"),
    ],
)
def test_the_paper_says_who_owes_whom_and_how_it_was_tallied(
    number: str, label: str, due: Any, measure: str
) -> None:
    shop, shown = page_of(number)
    place = place_of(shop, "sale_due")
    assert shown[f"G{place[1:]}"] == label
    if due is not None:
        assert shop.named("sale_due") == due == shop.of("sales", "number", "due")[number]
    assert [text for text in shown.values() if str(text).startswith(measure)]
    # the label says whose it is: the figure is shown without its sign
    positive, negative = shop.workbook[SALE][place].number_format.split(";")
    assert positive == negative


@pytest.mark.parametrize(
    ("number", "date_label", "expected"),
    [
        # 40.00 is no claim, and the 30.00 were given back
        ("cancelled", "Given back on",
         {"sum": ("Total, cancelled ($)", 40), "settled": ("Given back ($)", -30),
          "due": ("Due ($)", 0)}),
        ("lapsed", "Paid on",
         {"sum": ("Total, lapsed ($)", 40), "settled": ("Paid since ($)", 0),
          "due": ("To give back ($)", -30)}),
    ],
)  # fmt: skip
def test_the_paper_of_a_sale_that_fell_through_says_that_its_total_is_no_claim(
    number: str, date_label: str, expected: dict[str, tuple[str, float]]
) -> None:
    shop, shown = page_of(number)
    for key, (label, value) in expected.items():
        place = place_of(shop, f"sale_{key}")
        assert (shown.get(f"G{place[1:]}"), shown[place]) == (label, value)
    assert shown[f"D{place_of(shop, 'sale_paid')[1:]}"] == date_label
