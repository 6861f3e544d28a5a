"""The short way for single values answers what the engine's own way for blocks answers."""

from __future__ import annotations

from itertools import product
from typing import Any

import formulas
import numpy as np
import pytest
import schedula
from formulas.errors import RangeValueError
from formulas.functions import Error, get_error, wrap_ufunc
from formulas.functions.operators import LOGIC_OPERATORS, OPERATORS
from formulas.ranges import Ranges

from lumbercalc.book.engine import single_values
from lumbercalc.book.engine.functions import register
from lumbercalc.book.engine.single_values import PUT_TOGETHER, value_by_value, with_short_way


def area(*values: Any) -> Ranges:
    """Cells one below another, as the engine hands them over."""
    cells = np.array(values, object).reshape(-1, 1)
    return Ranges().push(f"A1:A{len(values)}", cells)


SINGLE = (
    2.0, 0.0, -1.5, 7, True, "oak", "7.5", "2026-05-01", "", schedula.EMPTY, np.float64(0.1),
    Error.errors["#N/A"], area(2.0), area("oak"), area(schedula.EMPTY), area(Error.errors["#REF!"]),
    np.array(3.0), np.array([[0.2 + 0.1]], object), np.array([3.0]),
)  # fmt: skip
MORE = (area(1.0, "oak", schedula.EMPTY), np.array([[1.0, 2.0]], object), [1.0, 2.0], Ranges())
OF_TWO = (*LOGIC_OPERATORS, "&", "*", "+", "-", "/", "^")


def ways(name: str, monkeypatch: pytest.MonkeyPatch) -> tuple[Any, Any]:
    """An operator or IF, as it is and without the short way."""
    found = []
    for short in (True, False):
        if not short:
            monkeypatch.setattr(single_values, "with_short_way", lambda function: function)
            monkeypatch.setattr(single_values, "first_error", get_error)
        register()
        table = formulas.get_functions()
        found.append(OPERATORS[name] if name in OPERATORS else table[name]["function"])
    monkeypatch.undo()
    register()
    return found[0], found[1]


def told(function: Any, *given: Any) -> Any:
    """What it answers: kind, shape, and each value with its kind; or what it throws."""
    try:
        answer = function(*given)
    except Exception as thrown:
        return type(thrown)
    if not isinstance(answer, np.ndarray):
        return repr(answer)
    return type(answer), answer.shape, [(type(each), each) for each in answer.ravel().tolist()]


@pytest.mark.parametrize("name", OF_TWO)
def test_operators_of_two(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    short, own = ways(name, monkeypatch)
    for one, other in [*product(SINGLE, repeat=2), *product(SINGLE, MORE), *product(MORE, SINGLE)]:
        assert told(short, one, other) == told(own, one, other), (one, other)


@pytest.mark.parametrize("name", ["U-", "%"])
def test_operators_of_one(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    short, own = ways(name, monkeypatch)
    for one in (*SINGLE, *MORE):
        assert told(short, one) == told(own, one), one


def test_if_takes_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    short, own = ways("IF", monkeypatch)
    for asked, one in product((*SINGLE, *MORE), (*SINGLE, *MORE)):
        assert told(short, asked, one) == told(own, asked, one), (asked, one)
        assert told(short, asked, one, "other") == told(own, asked, one, "other"), (asked, one)
        assert told(short, asked, "one", one) == told(own, asked, "one", one), (asked, one)


def test_single_values_go_the_short_way(monkeypatch: pytest.MonkeyPatch) -> None:
    twice = value_by_value(lambda number: 2 * number)
    blocks: list[Any] = []
    monkeypatch.setattr(np, "vectorize", lambda *_, **__: lambda *given: blocks.append(given))
    for one in SINGLE:
        twice(one)
    assert blocks == []
    twice(MORE[0])
    assert len(blocks) == 1


def test_what_is_done_with_the_answer_is_done() -> None:
    made = wrap_ufunc(lambda value: value + 1, return_func=lambda found, given: (found, given))
    [[[found]], given] = with_short_way(made)(area(4.0))
    assert (found, given) == (5.0, 4.0)


def test_an_area_that_was_given_whole_is_taken_as_it_is() -> None:
    register()
    cells = np.array([[1.0], ["oak"], [3.0]], object)
    whole = Ranges().push("A1:A3", cells)
    assert whole.value.tolist() == PUT_TOGETHER.fget(Ranges().push("A1:A3", cells)).tolist()
    part = Ranges(Ranges().push("A2:A3").ranges, whole.values)
    assert part.value.tolist() == [["oak"], [3.0]]
    both = whole | Ranges().push("C1", 7.0)
    assert set(both.value.tolist()) == {1.0, "oak", 3.0, 7.0}
    with pytest.raises(RangeValueError):
        Ranges().push("A1:A3").value  # noqa: B018 - it is asked for
