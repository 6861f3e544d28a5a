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
]
LINES = [
    {"sale": "owed", "tag": "O-0", "price": 8},  # 4.65 bf: 37.20, less 10
    {"sale": "overpaid", "tag": "O-1", "price": 8},
    {"sale": "overpaid", "tag": "O-2", "price": 8, "returned": JULY},  # 40.00 were paid for it
    {"sale": "refused", "tag": "O-3", "price": 8},
]
DRY = "Board feet are net, a dry tally: the green tally less 7 % for shrinkage, each line to 0.01"
AS_TALLIED = "Board feet are net, each line to 0.01 bf."


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
    rows = {"board": BOARDS, "sales": SALES, "line": LINES}
    shop = Shop(rows, {"as_of": AS_OF, "sale_choice": number}, (SALE, "sales_due"))
    shown = {place: value for (sheet, place), value in shop.values.items() if sheet == SALE}
    place = shop.workbook.defined_names["sale_due"].attr_text.split("!")[1].replace("$", "")
    assert shown[f"G{place[1:]}"] == label
    if due is not None:
        assert shop.named("sale_due") == due == shop.of("sales", "number", "due")[number]
    assert [text for text in shown.values() if str(text).startswith(measure)]
    # the label says whose it is: the figure is shown without its sign
    positive, negative = shop.workbook[SALE][place].number_format.split(";")
    assert positive == negative
