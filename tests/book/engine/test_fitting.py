"""Answers of several cells put into more or fewer, against what live Calc (25.2.3) stored."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.checking.check import check
from tests.book.checking.test_check import Cells, book

CELLS: Cells = {"A1": 1, "A2": 2, "A3": 3, "A4": 4, "B1": 5, "B2": 6, "B3": 7, "B4": 8}
GONE = "#N/A"


@pytest.mark.parametrize(
    ("where", "formula", "rows"),
    [
        ("D1:D3", "=BOARD_FEET(12,A1:A2,1)", [[1], [2], [GONE]]),
        ("D1:E3", "=BOARD_FEET(12,A1:A2,1)", [[1, 1], [2, 2], [GONE, GONE]]),
        ("D1:E2", "=BOARD_FEET(12,TRANSPOSE(A1:A4),1)", [[1, 2], [1, 2]]),
        ("D1:F2", "=BOARD_FEET(12,A1:B3,1)", [[1, 5, GONE], [2, 6, GONE]]),
        ("D1:G2", "=BOARD_FEET(12,A1:B4,1)", [[1, 5, GONE, GONE], [2, 6, GONE, GONE]]),
        ("D1:E2", "=BOARD_FEET(12,1,1)", [[1, 1], [1, 1]]),
    ],
)
def test_an_answer_is_put_into_the_cells_of_its_formula(
    tmp_path: Path, where: str, formula: str, rows: list[list[Any]]
) -> None:
    fresh = check(book(tmp_path / "mine.xlsx", {**CELLS, "D1": ArrayFormula(where, formula)})).fresh
    found = [[fresh.value(("Mine", 1 + row, 4 + column)) for column in range(len(rows[0]))]
             for row in range(len(rows))]  # fmt: skip
    assert found == rows


@pytest.mark.parametrize(
    ("formula", "value"),
    [
        ("=ROWS(BOARD_FEET(12,A1:B3,1))", 3),
        ("=COLUMNS(BOARD_FEET(12,A1:B3,1))", 2),
        ("=ROWS(A1:B3)", 3),
        ("=COLUMNS(A1)", 1),
        ("=ROWS(A1/0)", "#DIV/0!"),
    ],
)
def test_how_many_rows_and_columns_an_answer_has(tmp_path: Path, formula: str, value: Any) -> None:
    fresh = check(book(tmp_path / "mine.xlsx", {**CELLS, "D1": formula, "D2": "=D1"})).fresh
    assert fresh.value(("Mine", 1, 4)) == value
