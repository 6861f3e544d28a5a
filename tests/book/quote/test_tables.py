"""One sale in the terminal: what stands in each place of its lines and its totals."""

from __future__ import annotations

import pandas as pd

from lumbercalc.book.quote.find import Sale
from lumbercalc.book.quote.tables import faults_of_sale, sale_tables
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES

SALE = {
    "number": "S-1", "kind": "Invoice", "buyer": "A joiner", "bf": 12.0, "gross": 101.0,
    "back": 2.0, "delivery": 30.0, "tax_rate": 6.375, "tax_due": 4.0, "total": 133.0,
    "deposit": 50.0, "settled": 60.0, "due": 23.0, "note": "ok",
}  # fmt: skip
LOG_LINE = {"sale": "S-1", "log": "WA", "what": "Log WA, 6 boards", "unit": "bf", "note": "ok"}


def rows(*lines: dict[str, object]) -> Sale:
    sale = pd.Series({column.key: SALE.get(column.key) for column in SALES.columns}, dtype=object)
    keys = [column.key for column in LINES.columns]
    cells = [[line.get(key) for key in keys] for line in lines]
    return Sale(sale, pd.DataFrame(cells, columns=keys, dtype=object))


def shown(of: Sale) -> list[list[tuple[str, ...]]]:
    """The cells of each table, row by row."""
    return [
        list(zip(*([str(cell) for cell in column.cells] for column in table.columns), strict=True))
        for table in sale_tables(of)
    ]


def test_each_total_stands_behind_its_word() -> None:
    [_, totals] = shown(rows(LOG_LINE))
    assert totals == [
        ("Dry board feet", "12.00"), ("Lines $", "101.00"), ("Less returned $", "2.00"),
        ("Delivery $", "30.00"), ("Sales tax %", "6.375"), ("Tax $", "4.00"), ("Total $", "133.00"),
        ("Deposit $", "50.00"), ("Paid since $", "60.00"), ("Due $", "23.00"),
    ]  # fmt: skip


def test_a_whole_log_is_named_in_place_of_a_tag() -> None:
    line = LOG_LINE | {"tag": None, "amount": 12.0, "charged": 8.5, "price": 9.0, "sum": 101.0}
    [lines, _] = shown(rows(line))
    assert lines == [("WA", "Log WA, 6 boards", "12.00 bf", "8.50", "", "101.00")]


def test_a_line_shows_its_own_discount_or_that_of_its_sale() -> None:
    of = rows(LOG_LINE, LOG_LINE | {"discount": 12.25}, LOG_LINE | {"discount": 0.0})
    of.row["discount"] = 5.0
    [lines, _] = shown(of)
    assert [cells[4] for cells in lines] == ["5.0", "12.25", "0.0"]


def test_what_is_wrong_with_the_sale_and_with_a_line_is_told() -> None:
    of = rows(LOG_LINE | {"note": "its tag is sold"})
    of.row["note"] = "no date"
    assert list(faults_of_sale(of)) == [
        "look at S-1 on Sales: no date",
        "look at WA on Sales lines: its tag is sold",
    ]
