"""Every function and every kind of cell: a value, a blank or a refusal, and nothing else.

200 examples of each function; LUMBERCALC_HOSTILE=20000 asks for as many. The number of calls
stands at the end of the run.
"""

from __future__ import annotations

import math
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import lumbercalc as lc
from lumbercalc.hosts.calc import reply
from lumbercalc.hosts.calc.packing import packed, unpacked
from lumbercalc.hosts.excel.functions import answered
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function
from lumbercalc.sheet.refusal import ERROR_TEXTS, MARKER

USUAL_EXAMPLES = 200
EXAMPLES = int(os.environ.get("LUMBERCALC_HOSTILE", USUAL_EXAMPLES))
SLOWEST = 2.0
"""Seconds of the processor that a call may take."""

BIG = 5_000
"""Rows of a big column."""

LONG = 100_000
"""Rows of a long column."""

ROW_BY_ROW = 6.0
"""Seconds for a long column in EXIT_RH: PsychroLib takes 20 us a row, one after the other."""


@dataclass(frozen=True)
class Refusal:
    """What an adapter gives where it refuses."""

    reason: str


def cells_of(answer: Any) -> Iterator[Any]:
    """Go through one cell, a column or rows of cells."""
    if isinstance(answer, (list, tuple, np.ndarray)):
        for part in answer:
            yield from cells_of(part)
    else:
        yield answer


def without_na(given: Any) -> Any:
    """pandas' missing value is a blank to the Python face, and no cell of any other host."""
    if isinstance(given, list):
        return [without_na(part) for part in given]
    return None if given is pd.NA else given


def by_python(function: Function, arguments: list[Any]) -> list[Any]:
    """A refusal is a ValueError; in columns of numbers, NaN is the blank and a refused is none."""
    face: Callable[..., Any] = getattr(lc, function.python_name)
    try:
        answer = face(*arguments)
    except ValueError as refused:
        return [Refusal(str(refused))]
    cells = list(cells_of(answer))
    if not cells:  # a column without rows
        return [None]
    if isinstance(answer, np.ndarray) and answer.dtype.kind == "f":
        blanks = call(function.name, without_na(arguments)).values.count(None)
        assert np.isnan(answer).sum() == blanks
        return [None if cell != cell else cell for cell in cells]
    return cells


@contextmanager
def telling_refusals() -> Iterator[None]:
    """Let Calc's refusals be told from a NaN that a computation has let through."""
    real, reply.refused = reply.refused, Refusal  # type: ignore[assignment]
    try:
        yield
    finally:
        reply.refused = real


def by_calc(function: Function, arguments: list[Any]) -> list[Any]:
    with telling_refusals():
        answer = reply.reply(function.name, [packed(cells) for cells in arguments])
    assert list(answer) == ["rows"], answer
    return list(cells_of(unpacked(answer["rows"])))


def by_excel(function: Function, arguments: list[Any]) -> list[Any]:
    blocks = [given if isinstance(given, list) else [given] for given in arguments]
    # A range has one cell at least.
    rows = [[row if isinstance(row, list) else [row] for row in block or [[]]] for block in blocks]
    rows = [[row or [None] for row in block] for block in rows]
    cells = list(cells_of(answered(function, tuple(rows))))
    assert not any("failed: " in cell for cell in cells if isinstance(cell, str)), cells
    marked = [isinstance(cell, str) and cell.startswith(MARKER) for cell in cells]
    return [Refusal(cell) if mark else cell for cell, mark in zip(cells, marked, strict=True)]


ADAPTERS = (by_python, by_calc, by_excel)
"""Each takes a function and its arguments and gives the cells; a refused one is a Refusal."""

ODD: tuple[Any, ...] = (
    *(None, "", " ", "\u00a0", True, False, np.True_, 0, -0.0, 1, 5e-324, 1e308, -1e308),
    *(math.nan, math.inf, -math.inf, 10**400, -(10**400), 2**63, np.int64(-(2**63))),
    *(np.float32(1e38), np.float64("nan"), np.float64("inf"), np.uint8(255)),
    *(Decimal("1E+5000"), Decimal("-1E-5000"), Decimal("NaN"), Decimal("sNaN")),
    *(Decimal("Infinity"), Decimal("7.5"), Fraction(1, 3), 3 + 4j, b"8/4", object),
    *(date.min, date.max, date(1899, 12, 31), datetime.min, datetime.max),
    *(datetime(2026, 3, 1, tzinfo=UTC), timedelta(1), timedelta.max),
    *(np.datetime64("NaT", "D"), np.datetime64("2026-03-01"), np.datetime64("9999999-01-01")),
    *(np.datetime64("2026-03-01T12:00:00.000000001", "ns"), np.timedelta64(3, "D")),
    *(np.datetime64("-200000-01-01"), pd.NaT, pd.NA, pd.Timestamp("2026-03-01")),
    *(*sorted(ERROR_TEXTS), MARKER, MARKER + "width_in is -1", "8/4", "1/0", "2026-02-30"),
    *("0x10", "1e999", "nan", "inf", "١٢", "½", "胡桃木", "noyer 🌳", "\ud800", "a\x00b", "\n"),
    *("=1+1", "{0}", "{species:%}", "%s", "x" * 40_000, "walnut", 61, 60, 2958466, 46082.5),
)
"""Cells that are known to be trouble somewhere."""

CELLS = st.one_of(
    st.sampled_from(ODD),
    st.sampled_from(ODD),
    st.floats(),
    st.integers(),
    st.text(max_size=12),
    st.dates(),
    st.decimals(),
)


def spoiled(good: Any, place: int, cell: Any) -> Any:
    """Put a cell into a column or a table; in place of what is a cell itself."""
    if not isinstance(good, list) or not good:
        return cell
    at = place % len(good)
    return [*good[:at], spoiled(good[at], place // len(good), cell), *good[at + 1 :]]


def hostile(good: Any) -> st.SearchStrategy[Any]:
    """Any cell, the example's own spoiled by one, any column, any rows of any lengths."""
    own = st.just(good)
    cells = CELLS if isinstance(good, list) else st.one_of(own, CELLS)
    return st.one_of(
        cells,
        st.builds(spoiled, own, st.integers(0, 99), CELLS),
        st.builds(spoiled, own, st.integers(0, 99), st.sampled_from((None, "", " "))),
        st.lists(cells, max_size=4),
        st.lists(st.lists(cells, max_size=3), max_size=3),
    )


def listed(value: Any) -> Any:
    return [listed(part) for part in value] if isinstance(value, (list, tuple)) else value


def stretched(given: Any) -> Any:
    """Repeat a column or a table to a big one."""
    if not isinstance(given, list) or not given:
        return given
    return (given * (BIG // len(given) + 1))[:BIG]


def arguments_of(function: Function) -> st.SearchStrategy[list[Any]]:
    """The example's arguments, some of them hostile, and now and then one of them big."""
    example = [listed(value) for value in function.example.arguments]
    goods = example + [argument.default for argument in function.arguments[len(example) :]]
    if not goods:
        return st.just([])
    strategies = [hostile(good) for good in goods]
    place = st.integers(0, len(goods) - 1)
    # Half of the calls have one hostile argument at most: others are soon refused.
    places = st.one_of(st.lists(place, max_size=1), st.lists(place, max_size=4))

    @st.composite
    def arguments(draw: st.DrawFn) -> list[Any]:
        given = list(goods)
        for hurt in draw(places):
            given[hurt] = draw(strategies[hurt])
        if draw(st.integers(0, 29)) == 29:
            stretch = draw(place)
            given[stretch] = stretched(given[stretch])
        return given

    return arguments()


def fits_a_cell(cell: Any) -> bool:
    """A text, a truth value, a date, a blank, or a number that is one."""
    if isinstance(cell, Refusal):
        return bool(cell.reason.strip())
    if isinstance(cell, (int, float)):  # a truth value is one too
        return math.isfinite(cell)
    return cell is None or isinstance(cell, (str, date, np.datetime64, np.bool_))


@pytest.mark.parametrize("function", CATALOGUE.values(), ids=list(CATALOGUE))
def test_the_answer_is_a_value_a_blank_or_a_refusal(
    function: Function, record_property: Callable[[str, object], None]
) -> None:
    calls = answered = 0

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(arguments_of(function))
    def hold(arguments: list[Any]) -> None:
        nonlocal calls, answered
        for adapter in ADAPTERS:
            begun = time.thread_time()
            cells = adapter(function, arguments)
            took = time.thread_time() - begun
            calls += 1
            answered += not all(isinstance(cell, Refusal) for cell in cells)
            assert cells, adapter.__name__
            assert all(map(fits_a_cell, cells)), (adapter.__name__, cells)
            assert took < SLOWEST, (adapter.__name__, took)

    hold()
    # Refusals alone would say nothing of the computations. No example comes twice, and there are
    # only so many that are answered: of 20,000 as many are asked for as of the usual ones.
    assert answered > min(calls, USUAL_EXAMPLES * len(ADAPTERS)) / 10
    record_property("calls with hostile cells", calls)


LONG_FUNCTIONS = [
    function
    for function in CATALOGUE.values()
    if function.arguments and not function.takes_blocks and not function.repeats
]


@pytest.mark.parametrize("function", LONG_FUNCTIONS, ids=lambda function: function.name)
@pytest.mark.parametrize("adapter", ADAPTERS[1:], ids=lambda adapter: adapter.__name__)
def test_one_odd_cell_in_a_long_column_is_told_at_its_row_alone(
    function: Function, adapter: Callable[[Function, list[Any]], list[Any]]
) -> None:
    arguments = [listed(value) for value in function.example.arguments]
    (usual,) = adapter(function, arguments)
    place = next(n for n, one in enumerate(function.arguments) if one.kind != "climate")
    column = [[arguments[place]] for _ in range(LONG)]
    column[LONG // 3] = ["#DIV/0!"]
    begun = time.thread_time()
    cells = adapter(function, [*arguments[:place], column, *arguments[place + 1 :]])
    took = time.thread_time() - begun
    assert isinstance(cells.pop(LONG // 3), Refusal)
    assert set(cells) == {usual}
    assert len(cells) == LONG - 1
    assert took < (ROW_BY_ROW if function.name == "EXIT_RH" else SLOWEST)
