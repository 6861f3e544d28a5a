"""Sheet Sales tax: a year by month, worked by hand, with returns and a sale that fell through."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import openpyxl
import pytest

from lumbercalc.book.sheets.sales_tax import BY_MONTH
from tests.book.small_shop import AS_OF, Row, Shop

SALES: list[Row] = [
    # 100.00 + 50.05 + 25 delivery = 175.05; 6 % = 10.503; the 50.05 came back in July: 7.50 stay
    {"number": "A", "invoiced": date(2026, 5, 9), "tax_rate": 6, "delivery": 25},
    {"number": "B", "invoiced": date(2026, 5, 31), "tax_rate": 0},
    # 60.06, 6.25 % = 3.75375; two lines came back in August: 30.03 stay, 1.876875; the last one in
    # September
    {"number": "C", "invoiced": date(2026, 6, 1), "tax_rate": 6.25},
    # 50.00, 3.00, taken back in July
    {"number": "D", "invoiced": date(2026, 6, 25), "tax_rate": 6, "delivery": 10,
     "cancelled": date(2026, 7, 2)},
    {"number": "E", "quoted": date(2026, 6, 1), "tax_rate": 6},
    # of the year before; 70.00 and 4.20 came back in January
    {"number": "F", "invoiced": date(2025, 12, 31), "tax_rate": 6},
    {"number": "G", "quoted": date(2026, 7, 1), "cancelled": date(2026, 7, 5), "tax_rate": 6},
    {"number": "H", "invoiced": date(2026, 10, 1)},
    # 15 + 5 + 4 delivery, nothing of it taxed; the 5 came back, then the sale fell through
    {"number": "U", "invoiced": date(2026, 11, 2), "tax_rate": 0, "delivery": 4,
     "cancelled": date(2026, 11, 18)},
    # fell through in September, 42.00 were given back; its board was brought in October
    {"number": "W", "invoiced": date(2026, 9, 5), "tax_rate": 5, "cancelled": date(2026, 9, 8)},
    {"number": "V", "invoiced": date(2027, 1, 1)},  # of the year after, without a rate
]  # fmt: skip
LINES: list[Row] = [
    {"sale": sale, "words": "work", "quantity": 1, "price": price}
    | ({} if returned is None else {"returned": returned})
    for sale, price, returned in (
        ("A", 100.00, None), ("A", 50.05, date(2026, 7, 18)), ("B", 80.00, None),
        ("C", 10.01, date(2026, 8, 3)), ("C", 20.02, date(2026, 8, 3)),
        ("C", 30.03, date(2026, 9, 1)), ("D", 40.00, None), ("E", 999.00, None),
        ("F", 70.00, date(2026, 1, 15)), ("G", 55.00, None), ("H", 12.00, None),
        ("U", 15.00, None), ("U", 5.00, date(2026, 11, 3)), ("V", 9.00, None),
        ("W", 40.00, date(2026, 10, 2)),
    )
]  # fmt: skip
KEYS = ("invoices", "lines", "delivery", "back", "cancelled", "net", "taxed", "untaxed", "tax")
YEAR = {
    1: (0, 0, 0, 70, 0, -70, -70, 0, -4.20),
    5: (2, 230.05, 25, 0, 0, 255.05, 175.05, 80, 10.50),
    6: (2, 100.06, 10, 0, 0, 110.06, 110.06, 0, 6.75),
    7: (0, 0, 0, 50.05, 50, -100.05, -100.05, 0, -6.00),
    8: (0, 0, 0, 30.03, 0, -30.03, -30.03, 0, -1.87),
    9: (1, 40, 0, 30.03, 40, -30.03, -30.03, 0, -1.88),
    10: (1, 12, 0, 0, 0, 12, 0, 12, 0),
    11: (1, 20, 4, 5, 19, 0, 0, 0, 0),
}
NOTHING = (0,) * len(KEYS)
TO_LOOK_AT = ("Sales tax of the year with something to look at", "Sales tax")


@pytest.fixture(scope="module")
def made() -> Shop:
    asked = ("Sales tax", TO_LOOK_AT)
    return Shop({"sales": SALES, "line": LINES}, {"as_of": AS_OF}, asked)


@pytest.mark.parametrize("month", range(1, 13))
def test_a_month_holds_what_happened_in_it(made: Shop, month: int) -> None:
    shown = [made.block(BY_MONTH, key)[month - 1] for key in KEYS]
    assert shown == pytest.approx(YEAR.get(month, NOTHING), abs=1e-9)


def test_the_year_adds_up_to_the_cent(made: Shop) -> None:
    # 7.50 of A stay and nothing of B, C, D, H and W; F gives 4.20 back: 3.30
    assert made.named("tax_of_the_year") == pytest.approx(3.30, abs=1e-9)
    total = [BY_MONTH.letter(key) for key in ("net", "total")]
    row = BY_MONTH.last_row + 1
    net, both = (made.values[BY_MONTH.sheet, f"{letter}{row}"] for letter in total)
    assert net == pytest.approx(sum(cells[5] for cells in YEAR.values()), abs=1e-9)
    assert both == pytest.approx(net + 3.30, abs=1e-9)


def test_an_invoice_without_a_tax_rate_is_told(made: Shop) -> None:
    assert made.named("tax_note") == (
        "1 of its invoices have no tax rate: type 0 where none is due"
    )
    assert made.found(*TO_LOOK_AT) == 1


WORK: Row = {"sale": "A", "words": "work", "quantity": 1, "price": 5}
BARE = "1 of its invoices, or lines of theirs, have no formulas: see Sales"
UNPRICED = "lines of invoices without a total, see Sales lines: 1"


@pytest.mark.parametrize(
    ("line", "without", "told"),
    [
        ({**WORK, "price": None}, {}, UNPRICED),
        ({"sale": "A", "tag": "gone", "price": 5}, {}, UNPRICED),  # its board was deleted
        (WORK, {"line": [0]}, BARE),
        (WORK, {"sales": [0]}, BARE),
        (WORK, {}, "ok"),
    ],
)
def test_an_invoice_that_is_not_counted_whole_is_told(
    line: Row, without: dict[str, list[int]], told: str
) -> None:
    """A row that lost its formulas, or a line without a total, is in no month, which was "ok"."""
    sale = {"number": "A", "invoiced": date(2026, 5, 9), "tax_rate": 6}
    made = Shop({"sales": [sale], "line": [line]}, {"as_of": AS_OF}, ("tax_note",), without)
    assert made.named("tax_note") == told


def test_a_blank_workbook_has_nothing_to_look_at() -> None:
    """The template as it is handed out: no date on Start, no sale."""
    path = Path(__file__).parents[3] / "workbook" / "lumber-shop.xlsx"
    sheet = openpyxl.load_workbook(path, data_only=True)[BY_MONTH.sheet]
    assert [row[1].value for row in sheet.iter_rows(4, 6) if row[0].value == "Check"] == ["ok"]
