"""The template's own formulas, and those that a shop typed beside them."""

from __future__ import annotations

from lumbercalc.book.checking.own_formulas import columns_of, foreign
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
