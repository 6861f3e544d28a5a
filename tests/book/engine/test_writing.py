"""Numbers as texts, as live Calc (25.2.3) wrote them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.book.engine.as_calc import answers_of, assert_as_calc

CELLS: dict[str, Any] = {}
CASES: dict[str, Any] = {
    '=1/3&""': "0.333333333333333",
    '=TRUE&""': "1",
    '=E5&"x"': "x",
    '=10^15&""': "1000000000000000",
    '=10^20&""': "1E+020",
    '=-1/3&""': "-0.333333333333333",
    '=1/30000&""': "0.0000333333333333333",
    '=10^-5&""': "0.00001",
    '=123456789012345678&""': "1.23456789012346E+017",
    '=0.1*3&""': "0.3",
    '=100/3&""': "33.3333333333333",
    "=LEN(1/3)": 17.0,
    "=LEFT(2/3,6)": "0.6666",
    '=CONCATENATE(1/3,"x")': "0.333333333333333x",
    '=SUBSTITUTE(1/3,"3","4")': "0.444444444444444",
    '=SUBSTITUTE("aXbX","X",)': "ab",
    '=TRIM("  walnut   black ")': "walnut black",
    '=TEXT(2.675,"0.00")': "2.68",
    '=TEXT(7.125,"0.00")': "7.13",
    '=TEXT(10^27,"0.00")': f"1{'0' * 27}.00",
    '=TEXT(0.5,"0")': "1",
    '=TEXT(-0.001,"0.00")': "0.00",
    '=TEXT(1234.5,"$#,##0.00;[Red]-$#,##0.00")': "$1,234.50",
    '=TEXT(-1,"0.00;(0.00);-")': "(1.00)",
    '=TEXT(5,"0.##")': "5",
    '=TEXT(5,"General")': "5",
    '=TEXT(1,"@")': "1",
    '=TEXT(0.256,"0.0%")': "25.6%",
    '=TEXT(7,"000")': "007",
    '=TEXT(1234567.891,"#,##0.0")': "1,234,567.9",
    '=TEXT(46082,"yyyy-mm-dd")': "2026-03-01",
    '=TEXT("oak","0.00")': "oak",
    "=FIXED(2.675,2)": "2.68",
    "=FIXED(1234.567,1)": "1,234.6",
    "=FIXED(1234.567,1,TRUE)": "1234.6",
    '=FIND("3",1/3)': 3.0,
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return answers_of(tmp_path_factory.mktemp("formulas"), CELLS, CASES)


@pytest.mark.parametrize("formula", CASES)
def test_it_answers_as_calc(answers: dict[str, Any], formula: str) -> None:
    assert_as_calc(answers[formula], CASES[formula])
