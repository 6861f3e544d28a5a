"""What a sale and its lines tell before the paper goes out, and what a log's invoice is of."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from lumbercalc.book.sheets.line_notes import (
    BASIS_NOTE,
    LOG_GREW_NOTE,
    LOG_SHRANK_NOTE,
    MBF_NOTE,
    MBF_PRICE_NOTE,
    TEXT_NOTE,
)
from lumbercalc.book.sheets.sale import PAGE
from lumbercalc.book.sheets.sales_reckoning import NO_FORMULAS_NOTE
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, board, oak

BEFORE, DAY, AFTER = date(2026, 11, 8), date(2026, 11, 10), date(2026, 11, 15)
HEAT: Row = {"insects": "signs", "treatment": "heat"}

# each board of 6.5 in x 9 ft is 4.875 bf green; two less 7 % are 9.0675 dry, three 13.60
BOARDS = [
    *(oak(f"{log}{n}", 6.5, 9, log=log, cut=n) for log in ("H", "G") for n in (1, 2)),
    oak("H3", 6.5, 9, log="H", cut=3) | HEAT | {"released": AFTER},
    oak("H4", 6.5, 9, log="H", cut=4) | HEAT | {"released": DAY},
    oak("G3", 6.5, 9, log="G", cut=3),  # written down after the log was invoiced
    oak("K1", 6.5, 9, log="K"),
    oak("K2", 6.5, 9, log="K", used=AFTER),  # used after it was invoiced
    oak("M1", 6.5, 9, log="M"),
    oak("M2", 6.5, 9, log="M"),
    oak("M3", 3, 4, log="M", used=AFTER),  # 1 bf: the three came to 10.75, less 7 % 10.00
    oak("P1", 6.5, 9, log="P", pieces=6),
    oak("P2", 6.5, 9, log="P"),
    board("S", "Walnut, black", "8/4", 20, 8),
    *(oak(f"O{n}", 6.5, 9) for n in range(12)),
]

LINES: list[tuple[Row, str]] = [
    ({"sale": "I", "log": "H", "price": 8, "quantity": 13.6}, "ok"),
    ({"sale": "I", "log": "G", "price": 8, "quantity": 9.07}, LOG_GREW_NOTE),
    ({"sale": "I", "log": "K", "price": 8, "quantity": 9.07}, "more board feet than it has"),
    ({"sale": "I", "log": "M", "price": 8, "quantity": 10}, LOG_SHRANK_NOTE),
    ({"sale": "Q", "log": "P", "basis": "piece", "price": 30}, "ok"),
    ({"sale": "Q", "log": "P", "basis": "ft2", "quantity": 5, "price": 30}, "a whole log is not"),
    ({"sale": "Q", "tag": "S", "width_1": 18, "width_2": 22, "price": 45}, "slab widths count"),
    ({"sale": "Q", "tag": "O0", "basis": "sqft", "price": 8}, BASIS_NOTE),
    ({"sale": "Q", "words": "lumber", "basis": "MBF", "quantity": 1.25, "price": 900}, MBF_NOTE),
    ({"sale": "Q", "tag": "O1", "basis": "MBF", "quantity": 0.0045, "price": 900}, MBF_NOTE),
    ({"sale": "Q", "tag": "O1", "basis": "MBF", "price": 3}, MBF_PRICE_NOTE),
    ({"sale": "Q", "words": "lumber", "basis": "mbf", "quantity": 1250, "price": 900}, "ok"),
    ({"sale": "Q", "tag": "O2", "quantity": "4.5", "price": 8}, TEXT_NOTE),
    ({"sale": "Q", "tag": "O2", "price": "8"}, TEXT_NOTE),
    ({"sale": "loss", "tag": "O3", "price": 8}, "its sale is refused: see its check on Sales"),
    ({"price": 8}, "the number of the sale is missing"),
    ({"sale": "paid", "tag": "O4", "price": 8}, "ok"),
    ({"sale": "lapsed", "tag": "O5", "price": 8}, "ok"),
    ({"sale": "back", "tag": "O5", "price": 8}, "ok"),
    ({"sale": "cancelled", "tag": "O5", "price": 8}, "ok"),
    ({"sale": "S-1?", "words": "work", "quantity": 1, "price": 8}, "ok"),
    ({"sale": "S-10", "words": "work", "quantity": 1, "price": 8}, "ok"),
    ({"sale": ">S", "words": "work", "quantity": 1, "price": 8}, "ok"),
    ({"sale": "text", "words": "work", "quantity": 3, "price": 3.333, "discount": 2.25}, "ok"),
    ({"sale": "bare", "words": "work", "quantity": 1, "price": 8}, "ok"),
    ({"sale": "bare", "words": "work", "quantity": 1, "price": 8}, ""),
    ({"sale": "K", "log": "K", "price": 8, "quantity": 5.1}, "not the whole log is free"),
    ({"sale": "until", "tag": "O6", "price": 8}, "ok"),
    ({"sale": "whole", "words": "work", "quantity": 1, "price": 8}, "ok"),
    ({"sale": "whole", "words": "work", "quantity": 1, "price": 8, "discount": 0}, "ok"),
    ({"sale": "emc", "words": "work", "quantity": 1, "price": 8, "returned": AS_OF}, "ok"),
    ({"sale": "order", "words": "work", "quantity": 1, "price": 8}, "ok"),
    ({"sale": "fell", "words": "work", "quantity": 1, "price": 8, "returned": AS_OF},
     "its sale was cancelled before that return"),
]  # fmt: skip
BARE = 25
"""The line that was pasted below the prepared rows."""

QUOTE: Row = {"quoted": BEFORE, "shrink": 7}
UNPAID: Row = {"quoted": date(2026, 9, 10), "until": date(2026, 10, 10), "deposit": 50, "shrink": 7}
SALES: list[tuple[Row, str]] = [
    ({"number": "I", "invoiced": DAY, "shrink": 7}, "look at its lines"),
    ({"number": "Q"} | QUOTE, "look at its lines"),
    ({"number": "loss"} | QUOTE | {"shrink": 70}, "shrink_pct is 70 %"),
    ({"number": "paid", "paid": DAY} | QUOTE, "paid, but not invoiced"),
    ({"number": "lapsed", "paid": date(2026, 10, 1)} | UNPAID, "paid, but not invoiced"),
    ({"number": "back", "paid": date(2026, 10, 20)} | UNPAID, "ok"),
    ({"number": "cancelled", "paid": date(2026, 10, 20), "cancelled": date(2026, 10, 20)}
     | UNPAID, "ok"),
    ({"number": "S-1?"} | QUOTE, "a number with * ? ~"),
    ({"number": "S-10"} | QUOTE, "ok"),
    ({"number": ">S"} | QUOTE, "a number with * ? ~"),
    ({"number": "text", "delivery": "45", "deposit": "5"} | QUOTE, "a number is typed as a text"),
    ({"number": "bare"} | QUOTE, NO_FORMULAS_NOTE),
    ({"delivery": 45, "deposit": 20}, "the number is missing"),
    ({"number": "K", "invoiced": DAY, "shrink": 7}, "look at its lines"),
    ({"number": "until", "until": AS_OF, "reserve": "yes"} | QUOTE, "ok"),
    # 8.00 less 10 % and 8.00 whose own discount is none: 15.20, all of it paid before
    ({"number": "whole", "discount": 10, "deposit": 15.2} | QUOTE, "ok"),
    ({"number": "emc", "invoiced": DAY, "temp": 70, "emc": 8, "shrink": 7}, "ok"),
    ({"number": "order", "quoted": DAY, "invoiced": AFTER, "paid": BEFORE, "shrink": 7},
     "the dates are not in their order"),
    ({"number": "fell", "invoiced": BEFORE, "cancelled": DAY, "paid": DAY, "shrink": 7},
     "look at its lines"),
]  # fmt: skip

ON_PAGE = ("sale_subtotal", "sale_delivery", "sale_deposit", "sale_sum", "sale_due")
LINES_TO_LOOK_AT = ("Lines of sales with something to look at", "Sales lines")


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "board": BOARDS,
        "sales": [row for row, _ in SALES],
        "line": [row for row, _ in LINES],
        "price": PRICES,
    }
    lines = ("line_note", "line_what", "line_amount", "line_unit", "line_sum")
    sales = ("sales_note", "sales_due", "sales_settled", "sales_lines", "sales_gross", "sales_bare")
    asked = ("board_status", *lines, *sales, *ON_PAGE, "sale_note", LINES_TO_LOOK_AT)
    return Shop(rows, {"as_of": AS_OF, "sale_choice": "text"}, asked, {"line": [BARE]})


@pytest.mark.parametrize("row", range(len(LINES)))
def test_a_line_says_what_is_wrong(made: Shop, row: int) -> None:
    said, expected = "" if row == BARE else str(made.at("line", "note", row)), LINES[row][1]
    assert said == expected if expected in ("", "ok") else said.startswith(expected)


@pytest.mark.parametrize("row", range(len(SALES)))
def test_a_sale_says_what_is_wrong(made: Shop, row: int) -> None:
    said, expected = str(made.at("sales", "note", row)), SALES[row][1]
    assert said == expected if expected == "ok" else said.startswith(expected)


def test_a_board_released_after_the_invoice_of_its_log_is_not_in_it(made: Shop) -> None:
    """H1, H2 and H4, released on its day: 14.625 bf less 7 % are 13.60."""
    status = made.of("board", "tag", "status")
    assert [status[f"H{n}"] for n in (1, 2, 3, 4)] == ["sold", "sold", "green", "sold"]
    assert made.at("line", "what", 0) == "Oak, white, whole log: 3 boards"


def test_a_log_by_the_piece_counts_its_pieces(made: Shop) -> None:
    """A bundle of 6 and a board are 7, at 30."""
    assert [made.at("line", key, 4) for key in ("amount", "sum")] == [7, 210]
    assert made.at("line", "what", 4) == "Oak, white, whole log: 7 boards"


def test_a_word_that_is_no_basis_is_not_priced(made: Shop) -> None:
    assert [made.at("line", key, 7) for key in ("amount", "unit", "sum")] == ["", "", ""]


def test_words_by_the_thousand(made: Shop) -> None:
    """1,250 bf are 1.25 MBF at 900."""
    assert [made.at("line", key, 11) for key in ("amount", "sum")] == [1.25, 1125]


def test_a_quote_is_open_on_the_last_of_its_days(made: Shop) -> None:
    assert made.of("board", "tag", "status")["O6"] == "reserved"


def test_a_line_may_be_without_the_discount_of_its_sale(made: Shop) -> None:
    row = [number for number, (line, _) in enumerate(LINES) if line.get("sale") == "whole"]
    assert [made.at("line", "sum", each) for each in row] == [7.20, 8.00]


def of_sale(made: Shop, number: str, *keys: str) -> list[Any]:
    row = [sale.get("number") for sale, _ in SALES].index(number)
    return [made.at("sales", key, row) for key in keys]


@pytest.mark.parametrize("number", ["back", "cancelled"])
def test_a_deposit_given_back_is_no_payment(made: Shop, number: str) -> None:
    assert of_sale(made, number, "due", "settled") == [0, -50]


def test_what_comes_back_after_its_sale_was_cancelled_is_not_given_back_twice(made: Shop) -> None:
    assert of_sale(made, "fell", "due", "settled") == [0, 0]


def test_page_and_total_agree_where_money_is_a_text(made: Shop) -> None:
    """3 x 3.333 less 2.25 % are 9.77."""
    assert [made.named(name) for name in ON_PAGE] == [9.77, 0, 0, 9.77, 9.77]
    assert made.named("sale_note").startswith("a number is typed as a text, and does not count")


def shown(value: float, number_format: str) -> str:
    """As a spreadsheet shows it in such a format of digits."""
    digits = number_format.split(";")[0].split(".")[1]
    least, most = digits.count("0"), sum(map(digits.count, "0#"))
    whole, _, part = f"{value:.{most}f}".partition(".")
    return f"{whole}.{part[:least]}{part[least:].rstrip('0')}"


@pytest.mark.parametrize(
    ("key", "value", "expected"),
    [("charged", 3.333, "3.333"), ("charged", 8.0, "8.00"), ("discount", 2.25, "2.25"),
     ("discount", 10.0, "10.0"), ("amount", 1.25, "1.25")],
)  # fmt: skip
def test_the_page_shows_the_digits_that_were_typed(
    made: Shop, key: str, value: float, expected: str
) -> None:
    cell = made.workbook[PAGE.sheet][f"{PAGE.letter(key)}{PAGE.first_row}"]
    assert shown(value, cell.number_format.strip("_ )(")) == expected


def test_a_line_without_formulas_is_missed_in_the_sale(made: Shop) -> None:
    assert of_sale(made, "bare", "lines", "gross", "bare") == [2, 8, 1]
    assert made.found(*LINES_TO_LOOK_AT) == sum(expected not in ("", "ok") for _, expected in LINES)
