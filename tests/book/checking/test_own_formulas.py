"""The template's own formulas, and those that a shop typed beside them."""

from __future__ import annotations

import pytest

from lumbercalc.book.checking import own_formulas
from lumbercalc.book.checking.own_formulas import columns_of, foreign, shops_own
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.tables import TABLES
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.old_workbook import as_old


def test_only_what_a_shop_typed_is_not_the_templates() -> None:
    workbook = build()
    width, computed = BOARDS.letter("width"), BOARDS.letter("bf")
    last = BOARDS.last_row
    typed = {"Boards": [f"{width}7", f"{computed}{last + 1}"], "Start": ["Z50"], "Mine": ["A1"]}
    workbook.create_sheet("Mine")
    for sheet, addresses in typed.items():
        for address in addresses:
            workbook[sheet][address].value = "=ROWS(board_tag)"
    workbook["Boards"][f"{computed}{last}"].value = "=1+1"  # a row of the table
    found = foreign(as_old(workbook), TABLES)
    assert found == {
        (sheet, workbook[sheet][address].row, workbook[sheet][address].column)
        for sheet, addresses in typed.items()
        for address in addresses
    }


def test_without_the_templates_tables_nothing_is_looked_for() -> None:
    old = as_old(build())
    assert foreign(old, []) == set()
    names = columns_of(old, TABLES)
    assert names["board_width"].last_row == BOARDS.last_row
    assert "as_of" not in names


def test_what_is_surely_a_shops_own(monkeypatch: pytest.MonkeyPatch) -> None:
    workbook = build()
    sheet = workbook.create_sheet("Mine")
    sheet["A1"].value = workbook["Boards"]["ZZ1"].value = "=EMC(70,A4)"
    old = as_old(workbook)
    assert shops_own(old, TABLES) == {("Mine", 1, 1), ("Boards", 1, 702)}
    assert shops_own(old, TABLES[1:]) == {("Mine", 1, 1)}  # a table was moved
    monkeypatch.setattr(own_formulas, "template_of", lambda *_: None)
    assert len(shops_own(old, [])) > 1000
