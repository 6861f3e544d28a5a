"""SUM and its like over texts, truth values and blank cells, as live Calc (25.2.3) gave them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.book.engine.as_calc import answers_of, assert_as_calc

CELLS: dict[str, Any] = {
    "C1": 5,
    "C2": "9",
    "C4": '=""',
    "C5": True,
    "C6": 3,
    "C7": "x",
    "C8": 1.5,
    "C9": False,
    "C10": 4,
    "B1": 1,
    "B2": 2,
    "B3": 4,
    "B4": 8,
    "B5": 16,
    "B6": 32,
    "B7": 64,
    "B8": 128,
    "B9": 256,
    "B10": 512,
}
CASES: dict[str, Any] = {
    # 5 + TRUE + 3 + 1.5 + FALSE + 4: the text "9" is no number, a truth value is one
    "=SUM(C1:C10)": 14.5,
    "=AVERAGE(C1:C10)": 2.4166666666666665,
    "=MIN(C1:C10)": 0.0,
    "=MAX(C1:C10)": 5.0,
    "=COUNT(C1:C10)": 6.0,
    "=COUNTA(C1:C10)": 9.0,
    "=PRODUCT(C1:C10)": 0.0,
    "=MEDIAN(C1:C10)": 2.25,
    "=STDEV(C1:C10)": 1.9083151381956458,
    "=VARP(C1:C10)": 3.034722222222222,
    "=SUMSQ(C1:C10)": 53.25,
    "=LARGE(C1:C10,1)": 5.0,
    "=SMALL(C1:C10,1)": 0.0,
    "=QUARTILE(C1:C10,2)": 2.25,
    "=SUMPRODUCT(C1:C10)": 14.5,
    "=SUMPRODUCT(C1:C10,B1:B10)": 2357.0,
    "=SUMPRODUCT((B1:B10>4),B1:B10)": 1016.0,
    "=SUMPRODUCT((B1:B10>4)*B1:B10)": 1016.0,
    '=SUMPRODUCT((C1:C10="9")*1)': 1.0,
    # one cell
    "=SUM(C2)": 0.0,
    "=SUM(C2,1)": 1.0,
    "=MAX(C2)": 0.0,
    "=SUM(C5,TRUE)": 2.0,
    '=COUNT("9",1)': 2.0,
    "=COUNT(C2,1)": 1.0,
    "=SUM(C2*1,C6)": 12.0,
    "=AVERAGE(C2)": "#DIV/0!",
    "=ISNUMBER(C2)": False,
    "=ISNUMBER(C2*1)": True,
    "=ISNUMBER(C5)": True,
    '=ISNUMBER("9")': False,
    "=ISNUMBER(C3)": False,
    "=SUM(C1:C2,1/0)": "#DIV/0!",
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return answers_of(tmp_path_factory.mktemp("formulas"), CELLS, CASES)


@pytest.mark.parametrize("formula", CASES)
def test_it_answers_as_calc(answers: dict[str, Any], formula: str) -> None:
    assert_as_calc(answers[formula], CASES[formula])
