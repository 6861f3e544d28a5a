"""Sheet Prices: rows that are no price, and what boards and lines of sales make of them."""

from __future__ import annotations

import pytest

from lumbercalc.book.page.table import MOVED
from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.book.sheets.checks import WITHOUT_FORMULAS
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, cherry, oak

OAK, WALNUT, CHERRY, COMMON = PRICES
QUOTE: list[Row] = [{"number": "S-1", "quoted": AS_OF, "shrink": 7}]
UNPRICED = ("Boards on hand without a price", "Boards")
BARE = (WITHOUT_FORMULAS, "Prices")


@pytest.fixture(scope="module")
def made() -> Shop:
    """Oak has a row and no price yet; that of cherry was pasted below the rows with formulas."""
    rows = {
        "board": [oak("OA-01", 6, 10), cherry("CA-01", 6, 10)],
        "sales": QUOTE,
        "line": [{"sale": "S-1", "tag": "OA-01"}],
        "price": [{**OAK, "price": None}, WALNUT, COMMON, CHERRY],
    }
    asked = ("board_price", "board_value", "line_sum", "line_note", UNPRICED, BARE)
    return Shop(rows, {"as_of": AS_OF}, asked, {"price": [3]})


def test_a_row_without_a_price_gives_no_board_away(made: Shop) -> None:
    """Its blank cell was a price of 0: boards of no value, and lines of 0.00 that were "ok"."""
    assert made.at("board", "price", 0) == NO_PRICE
    assert made.at("board", "value", 0) == ""
    assert made.at("line", "sum", 0) == ""
    assert str(made.at("line", "note", 0)).startswith("no price")


def test_a_price_below_the_rows_with_formulas_is_told(made: Shop) -> None:
    assert made.at("board", "price", 1) == NO_PRICE
    assert made.found(*UNPRICED) == 2
    assert made.found(*BARE) == 1


def test_a_price_that_was_cut_and_pasted_is_found_where_it_stands() -> None:
    rows = {"board": [oak("OA-01", 6, 10)], "price": [{}, OAK]}
    asked = ("board_price", "price_key", BARE)
    shop = Shop(rows, {"as_of": AS_OF}, asked, cut_to={"price": {0: 1}})
    assert shop.column("board", "price") == [OAK["price"]]
    assert shop.at("price", "key", 0) == MOVED
    assert shop.found(*BARE) == 1
