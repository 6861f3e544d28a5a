"""Numbers that are nearly equal, as live Calc (25.2.3) took them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.book.engine.as_calc import answers_of, assert_as_calc

CELLS: dict[str, Any] = {}
CASES: dict[str, Any] = {
    "=INT(4.35*100)": 435.0,
    "=INT(0.3/0.1)": 3.0,
    "=INT(-2.5)": -3.0,
    "=ROUNDUP(0.1+0.2,1)": 0.3,
    "=ROUNDUP(1.1-1,2)": 0.1,
    "=ROUNDUP(-2.1,0)": -3.0,
    "=ROUNDDOWN(4.35*100,0)": 435.0,
    "=ROUNDDOWN(-2.9,0)": -2.0,
    "=ROUNDDOWN(0.3/0.1,0)": 3.0,
    "=TRUNC(-2.57,1)": -2.5,
    "=MOD(5.5,0.1)": 0.0,
    "=MOD(-7,3)": 2.0,
    "=MOD(7,-3)": -2.0,
    "=MOD(1,0)": "#DIV/0!",
    "=ROUND(1.005,2)": 1.01,
    "=ROUND(10^27,2)": 1e27,
    "=ROUND(1.25,400)": 1.25,
    "=ROUND(2.5,-400)": 0.0,
    "=0.1+0.2=0.3": True,
    "=1-0.9=0.1": True,
    "=(0.1+0.2-0.3)=0": True,
    "=0.1*3>0.3": False,
    "=0.1*3<=0.3": True,
    "=1.1*1.1>1.21": False,
    "=0.1+0.2<>0.3": False,
    "=1+1E-9=1": False,
    "=TRUE=1": True,
    '=TRUE>"z"': False,
    "=C3=FALSE": True,
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return answers_of(tmp_path_factory.mktemp("formulas"), CELLS, CASES)


@pytest.mark.parametrize("formula", CASES)
def test_it_answers_as_calc(answers: dict[str, Any], formula: str) -> None:
    assert_as_calc(answers[formula], CASES[formula])
