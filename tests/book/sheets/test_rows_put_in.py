"""Rows that were put in between or pasted below, without formulas, and rows that mislead sums."""

from __future__ import annotations

import pytest

from lumbercalc.book.page.table import MOVED
from lumbercalc.book.sheets.checks import KEYS, WITHOUT_FORMULAS
from lumbercalc.book.sheets.labels import KEEP_APART
from lumbercalc.book.sheets.loads import SEVERAL_SPECIES
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, cherry, oak

BOARDS: list[Row] = [
    oak("OA-01", 6, 10, load="Oak"),
    oak("OA-02", 6, 10, load="Oak"),
    oak("OA-03", 6, 10, load="Mixed"),
    cherry("CA-01", 6, 10, load="Mixed"),
    oak("P*", 6, 10),
    {**oak("OA-04", 6, 10), "width": "6 in"},
    {**oak("OA-05", 6, 10), "insects": "signs"},
    oak("OA-06", 6, 10, load="Oak"),
]
PASTED = len(BOARDS) - 1
LINES: list[Row] = [
    {"sale": "S-1", "tag": "OA-01", "price": 8},
    {},
    {"sale": "S-1", "tag": "OA-02", "price": 8},
    {"sale": "S-1", "tag": "OA-03", "price": 8},
]
PUT_IN = LINES.index({})
BARE = {"Boards": 1, "Sales lines": 0, "Stacks": 0}
"""Rows without formulas that are counted, by sheet."""


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "board": BOARDS,
        "load": [{"name": name, "date": AS_OF, "purchase": 100} for name in ("Oak", "Mixed")],
        "sales": [{"number": "S-1", "quoted": AS_OF, "reserve": "yes", "shrink": 7}],
        "line": LINES,
        "label": [{"tag": "OA-05"}, {"tag": "OA-01"}],
        "price": PRICES,
    }
    boards = ("board_status", "board_note", "board_bf", "board_value")
    counts = [(KEYS, "Sales lines"), *((WITHOUT_FORMULAS, sheet) for sheet in BARE)]
    asked = (*boards, "line_note", "load_note", "label_state", *counts)
    return Shop(rows, {"as_of": AS_OF}, asked, {"board": [PASTED], "line": [PUT_IN]})


def test_a_row_put_in_between_lines_frees_no_board(made: Shop) -> None:
    assert [made.at("board", "status", row) for row in range(4)] == ["reserved"] * 3 + ["green"]
    assert [made.at("line", "note", row) for row in (0, 2, 3)] == ["ok"] * 3
    assert made.found(KEYS, "Sales lines") == 1


@pytest.mark.parametrize(("sheet", "count"), BARE.items())
def test_rows_without_formulas_are_counted(made: Shop, sheet: str, count: int) -> None:
    assert made.found(WITHOUT_FORMULAS, sheet) == count


def test_a_load_says_what_makes_its_cost_wrong(made: Shop) -> None:
    assert made.column("load", "note") == ["a row of it on Boards has no board feet",
                                           SEVERAL_SPECIES]  # fmt: skip


def test_a_tag_that_stands_for_others_is_refused(made: Shop) -> None:
    assert str(made.at("board", "note", 4)).startswith("a tag with * ? or ~")


def test_a_board_without_a_figure_is_in_no_total_silently(made: Shop) -> None:
    assert str(made.at("board", "bf", 5)).startswith("#")
    assert str(made.at("board", "value", 5)).startswith("#")


def test_the_label_of_a_held_board_says_so(made: Shop) -> None:
    assert made.column("label", "state") == [KEEP_APART, ""]


def test_a_row_whose_cells_were_cut_and_pasted_elsewhere_says_so() -> None:
    """Its formulas went after them, and tell that board a second time."""
    rows = {"board": [{}, oak("OA-01", 6, 10)], "line": [{}, {"sale": "S-1", "tag": "OA-01"}]}
    cut = {name: {0: 1} for name in rows}
    counts = [(WITHOUT_FORMULAS, sheet) for sheet in ("Boards", "Sales lines")]
    asked = ("board_bf", "board_note", "line_note", *counts)
    shop = Shop(rows, {"as_of": AS_OF}, asked, cut_to=cut)
    assert shop.column("board", "bf") == [5, 5]
    assert shop.column("board", "note") == [MOVED, "ok"]
    assert shop.at("line", "note", 0) == MOVED
    assert shop.at("line", "note", 1) != MOVED
    assert [shop.found(*count) for count in counts] == [1, 1]
