"""Of an IF the branch that is taken is computed, and what both need or another step needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import formulas
import numpy as np
import pytest
import schedula
from formulas.functions import Error
from openpyxl.workbook import Workbook

from lumbercalc.book.engine import functions
from lumbercalc.book.engine.branches import DEEPEST, Step, in_branches, run
from lumbercalc.book.engine.compute import compute_workbook
from tests.book.engine.as_calc import answers_of, assert_as_calc

IF = "IF"
"""Stands for the engine's function, which is another after each `register`."""


class Formula:
    """Steps that take down which of them were computed."""

    def __init__(self, *steps: tuple[str, Any, tuple[str, ...]]) -> None:
        functions.register()
        self.steps = in_branches([self._step(*step) for step in steps])
        self.computed: list[str] = []

    def _step(self, gives: str, function: Any, takes: tuple[str, ...]) -> Step:
        if function is IF:
            return Step(gives, formulas.get_functions()["IF"]["function"], takes)
        return Step(gives, self._noted(gives, function), takes)

    def _noted(self, gives: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def noted(*given: Any) -> Any:
            self.computed.append(gives)
            return function(*given)

        return noted

    def __call__(self, **values: Any) -> tuple[Any, list[str]]:
        """Compute the last step, "answer": its value, and what was computed on the way."""
        known: dict[str, Any] = dict(values)
        self.computed.clear()
        run(self.steps, known)
        return np.ravel(known["answer"]).tolist(), list(self.computed)


def more(value: Any) -> Any:
    return value + 1


NO_VALUE = Error.errors["#VALUE!"]
CHOICE = (
    ("left", more, ("a",)),
    ("right", more, ("b",)),
    ("answer", IF, ("condition", "left", "right")),
)


@pytest.mark.parametrize(
    ("condition", "answer", "computed"),
    [
        pytest.param(True, [2], ["left"], id="true"),
        pytest.param(False, [3], ["right"], id="false"),
        pytest.param(np.array([[5.0]], object), [2], ["left"], id="a cell"),
        pytest.param(0.0, [3], ["right"], id="0"),
        pytest.param(schedula.EMPTY, [3], ["right"], id="blank"),
        pytest.param(
            np.array([[True], [False]], object), [2, 3], ["left", "right"], id="two cells"
        ),
        pytest.param("a text", [NO_VALUE], ["left", "right"], id="a text"),
        pytest.param(NO_VALUE, [NO_VALUE], ["left", "right"], id="an error"),
    ],
)
def test_the_branch_that_is_taken(condition: Any, answer: list[Any], computed: list[str]) -> None:
    assert Formula(*CHOICE)(condition=condition, a=1, b=2) == (answer, computed)


def test_what_is_needed_elsewhere_is_computed_always() -> None:
    formula = Formula(
        ("both", more, ("a",)),
        ("left", more, ("both",)),
        ("deeper", more, ("left",)),
        ("right", more, ("both",)),
        ("chosen", IF, ("condition", "deeper", "right")),
        ("answer", lambda chosen, left: chosen + left, ("chosen", "left")),
    )
    assert formula(condition=True, a=1) == ([4 + 3], ["both", "left", "deeper", "answer"])
    assert formula(condition=False, a=1) == ([3 + 3], ["both", "left", "right", "answer"])


def test_what_both_branches_need_is_computed_before_them() -> None:
    formula = Formula(
        ("both", more, ("a",)),
        ("left", more, ("both",)),
        ("right", more, ("both",)),
        ("answer", IF, ("condition", "left", "right")),
    )
    assert formula(condition=True, a=1) == ([3], ["both", "left"])
    assert formula(condition=False, a=1) == ([3], ["both", "right"])


def test_an_if_within_a_branch() -> None:
    formula = Formula(
        ("inner condition", lambda a: a > 1, ("a",)),
        ("one", more, ("a",)),
        ("two", more, ("b",)),
        ("inner", IF, ("inner condition", "one", "two")),
        ("other", more, ("b",)),
        ("answer", IF, ("condition", "inner", "other")),
    )
    within: Mapping[int, list[str]] = {5: ["inner condition", "one"], 0: ["inner condition", "two"]}
    for a, computed in within.items():
        assert formula(condition=True, a=a, b=7)[1] == computed
    assert formula(condition=True, a=5, b=7)[0] == [6]
    assert formula(condition=False, a=5, b=7) == ([8], ["other"])


def test_an_if_without_an_else_is_false() -> None:
    formula = Formula(("left", more, ("a",)), ("answer", IF, ("condition", "left")))
    assert formula(condition=False, a=1) == ([False], [])
    assert formula(condition=True, a=1) == ([2], ["left"])


def test_a_value_in_both_branches_and_the_condition_is_computed_once() -> None:
    formula = Formula(("same", more, ("a",)), ("answer", IF, ("same", "same", "same")))
    assert formula(a=1) == ([2], ["same"])


def test_what_fails_in_the_other_branch_does_no_harm() -> None:
    def failing(_: Any) -> Any:
        raise AssertionError("computed")

    formula = Formula(("right", failing, ("a",)), ("answer", IF, ("condition", "a", "right")))
    assert formula(condition=True, a=1)[0] == [1]
    with pytest.raises(AssertionError):
        formula(condition=False, a=1)


def test_a_formula_is_compiled_to_branches() -> None:
    functions.register()
    compiled = formulas.Parser().ast('=IF(A1="","",IF(B1>1,B1*2,B1/3)+1)')[1].compile()
    chosen = next(step for step in compiled.steps if step.branches)
    blank, other = chosen.branches
    assert not blank
    assert [bool(step.branches) for step in other] == [False, True, False]
    assert [len(branch) for branch in other[1].branches] == [1, 1]


IN_CALC: dict[str, Any] = {
    # What live Calc 25.2 gave. The branch that is not taken gives its height to nothing: the
    # engine made two cells of the other one, and counted it twice.
    "=SUM(IF(A3>0,IF(A1:A2>2,1,0),2),3)": 5.0,
    "=SUM(IF(A3<0,2,IF(A1:A2>2,1,0)),3)": 5.0,
    "=SUMPRODUCT(IF(A3<0,2,A1:A2))": 2.0,
    "=SUM(IF(A3<0,2,A1:A2),3)": 5.0,
    '=IF(A3<0,"more",1/0)': "more",
    "=IF(A3<0,A4,1)": 0.0,
    "=IF(A3>0,5)": False,
}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return answers_of(tmp_path_factory.mktemp("ifs"), {"A1": 2, "A2": 3.5, "A3": -0.5}, IN_CALC)


@pytest.mark.parametrize("formula", IN_CALC)
def test_it_answers_as_calc(answers: dict[str, Any], formula: str) -> None:
    assert_as_calc(answers[formula], IN_CALC[formula])


@pytest.mark.parametrize("nested", [DEEPEST - 1, DEEPEST, DEEPEST + 1, 900])
def test_deeper_than_any_spreadsheet_allows_both_are_computed(nested: int) -> None:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet["A1"] = 0
    sheet["B1"] = "=" + "IF(A1,1," * nested + "7" + ")" * nested
    sheet["B2"] = "=" + "IF(A1," * nested + "7" + ",1)" * nested
    computed = compute_workbook(workbook)
    assert computed.missing == {}
    assert computed.values == {("Sheet", "B1"): 7, ("Sheet", "B2"): 1}
