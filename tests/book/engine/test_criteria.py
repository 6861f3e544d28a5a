"""Which cells fit a criterion, as live Calc (25.2.3) took them: row n counts as 2 to the n-1."""

from __future__ import annotations

from typing import Any

import pytest

from tests.book.engine.as_calc import answers_of, assert_as_calc

CELLS: dict[str, Any] = {
    "A1": "oak",
    "A2": "Oak",
    "A4": '=""',
    "A5": 7,
    "A6": "7",
    "A7": "walnut 1",
    "A8": "=1/0",
    "A9": True,
    "A10": "9",
    "E2": 7,
    "E3": "7",
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
    "C1": 5,
    "C2": "9",
    "C4": '=""',
    "C5": True,
    "C6": 3,
    "C7": "x",
    "C8": 1.5,
    "C9": False,
    "C10": 4,
}
CASES: dict[str, Any] = {
    '=SUMIF(A1:A10,"<>",B1:B10)': 1019.0,
    '=SUMIF(A1:A10,"=",B1:B10)': 4.0,
    '=SUMIF(A1:A10,"",B1:B10)': 12.0,
    '=SUMIF(A1:A10,"<>oak",B1:B10)': 1020.0,
    '=SUMIF(A1:A10,"oak",B1:B10)': 3.0,
    '=SUMIF(A1:A10,"=oak",B1:B10)': 3.0,
    '=SUMIF(A1:A10,"<>o*",B1:B10)': 1020.0,
    '=SUMIF(A1:A10,"o*",B1:B10)': 3.0,
    '=SUMIF(A1:A10,"*",B1:B10)': 1019.0,
    '=SUMIF(A1:A10,"<>*",B1:B10)': 4.0,
    "=SUMIF(A1:A10,7,B1:B10)": 16.0,
    '=SUMIF(A1:A10,"7",B1:B10)': 48.0,
    '=SUMIF(A1:A10,"<>7",B1:B10)': 975.0,
    '=SUMIF(A1:A10,">5",B1:B10)': 16.0,
    "=SUMIF(A1:A10,E1,B1:B10)": 0.0,
    "=SUMIF(A1:A10,E2,B1:B10)": 16.0,
    "=SUMIF(A1:A10,E3,B1:B10)": 48.0,
    "=SUMIF(A1:A10,TRUE,B1:B10)": 256.0,
    '=SUMIF(A1:A10,">a",B1:B10)': 67.0,
    '=SUMIF(A1:A10,"<=oak",B1:B10)': 555.0,
    '=SUMIF(A1:A10,"<>?ak",B1:B10)': 1020.0,
    '=SUMIF(A1:A10,"~*",B1:B10)': 0.0,
    '=SUMIF(A1:A10,"<>walnut 1",B1:B10)': 959.0,
    '=SUMIF(A1:A10,">",B1:B10)': 611.0,
    '=SUMIF(A1:A10,"*1",B1:B10)': 64.0,
    '=SUMIF(A1:A10,"<8",B1:B10)': 272.0,
    '=SUMIF(A1:A10,"#DIV/0!",B1:B10)': 128.0,
    '=SUMIF(A1:A10,"<>0",B1:B10)': 1023.0,
    # how many of them
    '=COUNTIF(A1:A10,"<>")': 9.0,
    '=COUNTIF(A1:A10,"<>o*")': 8.0,
    '=COUNTIFS(A1:A10,"<>oak",B1:B10,">0")': 8.0,
    '=COUNTIFS(A1:A10,"<>*",B1:B10,">0")': 1.0,
    # 5 + 1 + 3 + 1.5 + 0 + 4, without the text "9"
    '=SUMIFS(C1:C10,B1:B10,">0")': 14.5,
    '=SUMIF(C1:C10,">0")': 14.5,
    '=COUNTIF(C1:C10,">0")': 5.0,
    '=AVERAGEIF(B1:B10,">0",C1:C10)': 2.4166666666666665,
    "=SUMPRODUCT(COUNTIF(A1:A2,A1:A2))": 4.0,
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return answers_of(tmp_path_factory.mktemp("formulas"), CELLS, CASES)


@pytest.mark.parametrize("formula", CASES)
def test_it_answers_as_calc(answers: dict[str, Any], formula: str) -> None:
    assert_as_calc(answers[formula], CASES[formula])
