"""Texts where numbers and dates belong, as live Calc (25.2.3) read them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from lumbercalc.book.checking.check import check
from tests.book.checking.test_check import book
from tests.book.engine.as_calc import answers_of, assert_as_calc

CELLS: dict[str, Any] = {}
CASES: dict[str, Any] = {
    '="7.5"*2': 15.0,
    '=" 7"+1': 8.0,
    '="2026-03-01"+1': 46083.0,
    '="TRUE"+1': 2.0,
    '="oak"+1': "#VALUE!",
    '=VALUE("7.5")': 7.5,
    '=VALUE("2026-03-01")': 46082.0,
    '=DATEVALUE("2026-03-01")': 46082.0,
    "=DATE(2026,14,1)": 46419.0,
    '=DATEDIF(46082,46152,"d")': 70.0,
    '=DATEDIF(46082,46152,"M")': 2.0,
    '=DATEDIF(46082,46152,"y")': 0.0,
    "=POWER(0,0)": 1.0,
    "=1/0": "#DIV/0!",
    '=SEARCH("B","abc")': 2.0,
    '=SEARCH("a","banana",2)': 2.0,
    '=SEARCH("a","banana",3)': 4.0,
    '=SEARCH("b","banana",2)': "#VALUE!",
    "=IFNA(NA(),5)": 5.0,
    "=IFNA(1/0,5)": "#DIV/0!",
    '=IF("x",1,2)': "#VALUE!",
    "=IF(TRUE,,5)": 0.0,
    "=ERROR.TYPE(BOARD_FEET(1,-1,8))": 6.0,
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return answers_of(tmp_path_factory.mktemp("formulas"), CELLS, CASES)


@pytest.mark.parametrize("formula", CASES)
def test_it_answers_as_calc(answers: dict[str, Any], formula: str) -> None:
    assert_as_calc(answers[formula], CASES[formula])


UNKNOWN = (
    'VALUE("7 1/2")', 'VALUE("$7.50")', '"3/4"+0', '"5%"+0', 'DATEVALUE("1 Mar 2026")',
    "DATE(26,1,1)", 'DATEDIF(46082,46152,"MD")', 'SEARCH("b*","abc")', 'IF("7",1,2)', "(-8)^(1/3)",
    'AND("x",TRUE)', 'SUM("9",1)', 'TEXT(1.5,"0 ?/?")', 'TEXT(0,"0;-0;zero")', 'UPPER("\u00df")',
    'SUMIF(D1:D9,"x",B1)', 'COUNTIF(D1:D9,"15%")', 'MATCH("5",D1:D9,0)',
    'IFERROR(SEARCH("b*","abc"),0)', 'ISERROR(SEARCH("b*","abc"))',
)  # fmt: skip
"""Spreadsheets differ, or the engine does."""


def test_what_spreadsheets_read_by_their_own_settings_has_no_value(tmp_path: Path) -> None:
    cells: dict[str, Any] = {"D1": 5, "D2": "oak"}
    cells |= {f"A{row}": f"={formula}" for row, formula in enumerate(UNKNOWN, 10)}
    checked = check(book(tmp_path / "mine.xlsx", cells))
    known = {formula: checked.fresh.value(("Mine", row, 1))
             for row, formula in enumerate(UNKNOWN, 10)}  # fmt: skip
    assert known == dict.fromkeys(UNKNOWN)
    assert all("not followed" in why for why in checked.fresh.computed.missing.values())


def test_a_branch_that_is_not_taken_does_not_matter(tmp_path: Path) -> None:
    cells = {"A1": '=IF(B1="",3,SUM("9",B1))', "A2": "=A1+1"}
    fresh = check(book(tmp_path / "mine.xlsx", cells)).fresh
    assert [fresh.value(("Mine", row, 1)) for row in (1, 2)] == [3.0, 4.0]
