"""Two minus signs make a number of a truth value or a text, wherever they stand."""

from __future__ import annotations

from typing import Any

import pytest

from tests.book.engine.test_compute import computed

CASES: dict[str, Any] = {
    # Excel's and Calc's rules: a minus makes a number of its value, and binds before all but ":".
    '=SUMPRODUCT(--(A1:A3="oak"),B1:B3)': 12.0,
    "=SUMPRODUCT(--(B1:B3>5))": 2.0,
    "=--(B1>2)": 1.0,
    '=--"3"': 3.0,
    '=BOARD_FEET("4/4",12,--LEFT("8x",1))': 8.0,
    "=1--1": 2.0,
    "=B1*--B2": 32.0,
    "=2^--3": 8.0,
    "=--B1^2": 16.0,
    '=--B1&"x"': "4x",
    "=---(B1>2)": -1.0,
    "=- -(B1>2)": 1.0,
    "=-+-(B1>2)": 1.0,
    '=--"x"': "#VALUE!",
    "=IF(--(B1>2)=1,--B2,0)": 8.0,
    # A plus leaves its value as it is, one minus makes a number.
    '=+"x"': "x",
    "=+(B1>2)": True,
    "=-(B1>2)": -1.0,
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    cells = {"A1": "oak", "A2": "oak", "A3": "ash", "B1": 4, "B2": 8, "B3": 8}
    formulas = {f"D{row}": formula for row, formula in enumerate(CASES, 1)}
    values = computed(tmp_path_factory.mktemp("signs"), cells | formulas)
    return {formula: values[address] for address, formula in formulas.items()}


@pytest.mark.parametrize("formula", CASES)
def test_signs(answers: dict[str, Any], formula: str) -> None:
    assert answers[formula] == CASES[formula]
    assert isinstance(answers[formula], type(CASES[formula]))
