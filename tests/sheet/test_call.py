"""One call: columns against cells, blanks, bad rows, and no exception for any cells."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, datetime
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import lumbercalc as lc
from lumbercalc.sheet import call as call_module
from lumbercalc.sheet.answer import NOT_REACHED
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function

YEAR = [[70, 50]] * 12
OAK = "northern red oak"
READY = (OAK, 1.125, 80, "2026-05-01", 20)


def problem(name: str, *arguments: Any) -> str:
    """Give the reason of a call that is one cell."""
    answer = call(name, arguments)
    assert answer.values == [None]
    assert list(answer.problems) == [0]
    return answer.problems[0]


# Columns, rows and cells


@pytest.mark.parametrize(
    ("arguments", "shape", "values"),
    [
        ((1, 6, 8), (1, 1), [4]),
        ((1, [6, 12, 18], 8), (3, 1), [4, 8, 12]),
        ((1, [6, 12], [8, 16]), (2, 1), [4, 16]),
        ((1, [[6, 12, 18]], 8), (1, 3), [4, 8, 12]),
        ((1, [6, 12], [[8, 16, 24]]), (2, 3), [4, 8, 12, 8, 16, 24]),
        ((1, np.array([6, 12]), 8, [1, 2]), (2, 1), [4, 16]),
        ((["4/4", "8/4", 1.5], 6, 8), (3, 1), [4, 8, 6]),
    ],
)
def test_columns_go_against_rows_and_cells(
    arguments: tuple[Any, ...], shape: tuple[int, int], values: list[float]
) -> None:
    # t x w x l / 12: the definition of the board foot
    answer = call("BOARD_FEET", arguments)
    assert (answer.shape, answer.values, answer.problems) == (shape, values, {})


def test_blank_in_blank_out_row_by_row() -> None:
    answer = call("BOARD_FEET", [1, [6, None, "", math.nan, 12], 8])
    assert answer.values == [4, None, None, None, 8]
    assert not answer.problems


def test_a_blank_wins_over_a_bad_cell_of_its_row() -> None:
    answer = call("BOARD_FEET", [[None, 1], [-3, -3], 8])
    assert answer.values == [None, None]
    assert list(answer.problems) == [1]
    assert call("BOARD_FEET", [None, -3, 8]).problems == {}


def test_a_blank_optional_cell_takes_its_default() -> None:
    assert call("BOARD_FEET", [1, 6, 8, [None, 2, ""]]).values == [4, 8, 4]
    assert call("BOARD_FEET", [1, 6, 8, None]).values == [4]
    with_blanks = call("READY_DATE", [*READY, YEAR, None, [None, 1], "", [None], None, "", [""]])
    assert with_blanks.values == [np.datetime64("2026-06-08")] * 2


def test_only_the_bad_rows_are_problems() -> None:
    answer = call("BOARD_FEET", [1, [6, -3, "wide", 12], [8, 8, 8, 0]])
    assert answer.values == [4, None, None, None]
    assert answer.problems == {
        1: "width_in is -3 in; it must be from 0.25 to 120 in",
        2: 'width_in is the text "wide"; it must be a number from 0.25 to 120 in',
        3: "length_ft is 0 ft; it must be from 0.1 to 40 ft",
    }


def test_a_rule_across_arguments_is_broken_row_by_row() -> None:
    answer = call("EMC_WET_BULB", [[80, 70, 80], [70, 80, 70]])
    assert answer.values[0] == answer.values[2]
    assert list(answer.problems) == [1]
    assert answer.problems[1].startswith("wet_bulb_f is 80 deg F; it must not be above dry_bulb_f")


def test_columns_of_different_lengths_are_refused_as_a_whole() -> None:
    said = problem("BOARD_FEET", 1, [6, 7, 8], [8, 9])
    assert said == "the columns are not equally long: width_in 3 x 1, length_ft 2 x 1 cells"
    said = problem("MEAN_EMC", [70, 60], [50, 60, 70])
    assert said == "the columns are not equally long: temps_f 2, rhs_pct 3 cells"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((1, 6), "length_ft is missing: length: from 0.1 to 40 ft"),
        ((1,), "width_in is missing"),
        ((), "thickness is missing"),
        ((1, 6, 8, 1, 1), "BOARD_FEET takes 4 arguments, not 5"),
        ((1, [[6, 7], [8]], 8), "width_in has rows that are not equally long"),
        ((1, [6, [8]], 8), "width_in mixes cells and rows of cells"),
        ((1, [[[6]]], 8), "width_in has rows that are not rows of single cells"),
    ],
)
def test_calls_that_are_refused_as_a_whole(arguments: tuple[Any, ...], said: str) -> None:
    assert problem("BOARD_FEET", *arguments).startswith(said)


def test_an_argument_left_out_in_the_middle_is_blank() -> None:
    assert call("BOARD_FEET", [1, None, 8]) == call("BOARD_FEET", [1, "", 8])
    assert call("BOARD_FEET", [1, None, 8]).problems == {}


def test_an_unknown_function() -> None:
    assert (
        problem("BORED_FEET", 1) == 'there is no function "BORED_FEET"; see the list of functions'
    )
    assert call(" board_feet ", [1, 6, 8]).values == [4]


@pytest.mark.parametrize("empty", [[], [[]], np.array([]), (), [None, None], "", None])
def test_empty_blocks_are_blank(empty: Any) -> None:
    for answer in (call("BOARD_FEET", [1, empty, 8]), call("MC_UPPER", [empty])):
        assert set(answer.values) == {None}
        assert answer.problems == {}
    assert call("READY_DATE", [*READY, empty]).values == [None]


def test_ten_thousand_rows() -> None:
    width = np.linspace(0.25, 120, 10_000)
    answer = call("BOARD_FEET", [1, width.tolist(), 8])
    np.testing.assert_allclose(np.array(answer.values, float), width * 8 / 12)


# Refusals of other calls, errors, and what Excel writes for them


@pytest.mark.parametrize(
    "name", [n for n, f in CATALOGUE.items() if f.arguments and n != "PROBLEM"]
)
def test_a_refusal_of_another_call_goes_through_unchanged(name: str) -> None:
    function = CATALOGUE[name]
    said = "width_in is -3 in; it must be from 0.25 to 120 in"
    for place in range(len(function.example.arguments)):
        cells: list[Any] = list(function.example.arguments)
        marked = f"#INPUT: {said}"
        if function.arguments[place].kind == "climate":
            cells[place] = [*YEAR[:11], [70, marked]]
        elif isinstance(cells[place], list):
            cells[place] = [*cells[place][:-1], marked]
        else:
            cells[place] = marked
        assert problem(name, *cells) == said
        assert call("PROBLEM", [name, *cells]).values == [said]


def test_an_error_cell_in_a_column_is_named_by_its_row() -> None:
    assert problem("MC_UPPER", [8, 7.5, "#N/A"]) == (
        "row 3: readings is the error #N/A; it must be 0 or from 1 to 100 % MC"
    )


def test_text_that_begins_with_a_number_sign_is_ordinary_text() -> None:
    said = call("MC_STATEMENT", [[7.5, 8], "2026-11-02", "#12"]).values[0]
    assert "#12" in said


# No answer, and why


def test_not_reached_is_a_text_with_a_remark() -> None:
    answer = call("READY_DATE", [*READY[:4], [20, 5], YEAR])
    assert answer.values[1] == NOT_REACHED
    assert answer.problems == {}
    # EMC at 70 deg F, 50 % RH is 9.2 % MC: Wood Handbook FPL-GTR-190 (2010) Table 4-2
    assert "holds wood at 9.2 % MC" in answer.remarks[1]
    assert call("PROBLEM", ["READY_DATE", *READY[:4], [20, 5], YEAR]).values == [
        "",
        answer.remarks[1],
    ]
    steady = call("DRYING_DAYS", [OAK, 1.125, 80, 5, 70, 50])
    assert steady.values == [NOT_REACHED]
    assert "holds wood at 9.2 % MC" in steady.remarks[0]


def test_air_just_above_the_target_is_told_apart_from_it() -> None:
    """A target of 8 % and air that holds wood at 8.0 % said nothing.

    EMC at 70 deg F, 40 % RH is 7.7 % MC: Wood Handbook FPL-GTR-190 (2010) Table 4-2.
    """
    steady = call("DRYING_DAYS", [OAK, 1.125, 80, 7.65, 70, 40])
    assert "target_mc is 7.65 % MC" in steady.remarks[0]
    assert steady.remarks[0].endswith("; it holds wood at 7.70 % MC")


@pytest.mark.parametrize("place", ["yard", "YARD", None])
def test_not_reached_says_the_lowest_emc_of_the_place(place: str | None) -> None:
    rows = [["Yard", month, 70, 50] for month in range(1, 13)]
    answer = call("READY_DATE", [*READY[:4], 5, rows, 1, 1, None, None, None, None, place])
    assert "holds wood at 9.2 % MC" in answer.remarks[0]


LATER = [["2026-06-01", 70, 50]]


@pytest.mark.parametrize(
    ("name", "arguments", "said"),
    [
        ("READY_DATE", (*READY, LATER), "climate has no air on start_date, 2026-05-01"),
        ("DRYING_CURVE", (*READY, LATER), "climate has no air on start_date, 2026-05-01"),
        (
            "MC_FORECAST",
            (*READY[:4], "2026-07-01", LATER),
            "climate has no air on start_date, 2026-05-01",
        ),
        (
            "DRYING_RATE",
            (["2026-06-08"], [55], *READY[:4], LATER),
            "climate has no air on start_date, 2026-05-01",
        ),
        (
            "READY_DATE",
            (*READY, LATER, 1, 1, None, "2026-05-31", 50),
            "climate has no air on from_date, 2026-05-31",
        ),
        (
            "MC_FORECAST",
            (*READY[:4], "2026-05-20", YEAR, 1, 1, "2026-06-01", 50),
            "forecast_date is 2026-05-20; it must not be before from_date, 2026-06-01",
        ),
        (
            "MC_FORECAST",
            (*READY[:4], "2026-04-20", YEAR),
            "forecast_date is 2026-04-20; it must not be before start_date, 2026-05-01",
        ),
        (
            "DRYING_RATE",
            (["2026-05-08"], [55], *READY[:4], YEAR, 1, None, None, None, "A"),
            "stack is A, but stacks, the column to find it in, is left out",
        ),
        ("READY_DATE", (*READY[:3], "9999-12-01", 20, YEAR), "the result is a date after 9999"),
        ("DRYING_CURVE", (*READY[:3], "9999-12-01", 20, YEAR), "the result is a date after 9999"),
    ],
)
def test_what_the_forecasts_refuse(name: str, arguments: tuple[Any, ...], said: str) -> None:
    assert problem(name, *arguments).startswith(said)


@pytest.mark.parametrize(
    ("name", "arguments", "value"),
    [
        # as wet as wanted, so ready at once; the other on the last day of both hosts
        ("READY_DATE", (OAK, 1.125, 60, "2026-05-01", 60, YEAR), date(2026, 5, 1)),
        ("READY_DATE", (OAK, 1.125, 60, "9999-12-31", 60, YEAR), date(9999, 12, 31)),
        (
            "MC_FORECAST",
            (*READY[:4], "2026-05-01", YEAR, 1, 1, "2026-05-01", 50),  # weighed when stacked
            50,
        ),
        ("MC_FORECAST", (*READY[:4], "2036-05-01", YEAR), lc.emc(70, 50)),  # ten years later
    ],
)
def test_what_the_forecasts_take_at_the_ends_of_their_limits(
    name: str, arguments: tuple[Any, ...], value: Any
) -> None:
    [found] = call(name, arguments).values
    assert found == (value if isinstance(value, date) else pytest.approx(value, abs=1e-6))


def test_a_forecast_may_begin_where_the_air_begins() -> None:
    weighed = [*READY, LATER, 1, 1, None, "2026-06-01", 50]
    assert call("READY_DATE", weighed).values[0] > np.datetime64("2026-06-01")


@pytest.mark.parametrize("result", [math.inf, -math.inf, 1e308 * 10])
@pytest.mark.parametrize("columns", [False, True])
def test_a_result_beyond_any_number_is_a_problem(
    monkeypatch: pytest.MonkeyPatch, result: float, columns: bool
) -> None:
    for name, cells in (("EMC", [70, 50]), ("MEAN_EMC", [[70], [50]])):
        endless = replace(CATALOGUE[name], compute=lambda **_: result)
        monkeypatch.setattr(call_module, "CATALOGUE", {name: endless})
        said = problem(name, *([cell] if columns and name == "EMC" else cell for cell in cells))
        assert said == "the result is too large to be a number"


# PROBLEM


def test_problem_has_the_shape_of_the_call() -> None:
    answer = call("PROBLEM", ["BOARD_FEET", 1, [6, -3, None], 8])
    assert answer.shape == (3, 1)
    assert answer.values == ["", "width_in is -3 in; it must be from 0.25 to 120 in", ""]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("BOARD_FEET", 1, 6, 8), ""),
        (("board_feet", 1, 6), "length_ft is missing"),
        (("NOTHING", 1), 'there is no function "NOTHING"'),
        (("READY_DATE", *READY, YEAR), ""),
        (("READY_DATE", *READY, YEAR[:11]), "climate lacks December"),
    ],
)
def test_problem_in_one_cell(arguments: tuple[Any, ...], said: str) -> None:
    (value,) = call("PROBLEM", arguments).values
    assert value.startswith(said)
    assert bool(value) == bool(said)


def test_problem_without_a_name_or_of_itself() -> None:
    assert call("PROBLEM", []).values == [None]
    assert call("PROBLEM", [""]).values == [None]
    assert problem("PROBLEM", ["EMC", "DEW_POINT"], 1).startswith("name is not the name of one")
    assert problem("PROBLEM", 5).startswith("name is not the name of one")
    assert problem("PROBLEM", "problem", "EMC").startswith("PROBLEM explains the other functions")


# Any cells at all

CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.sampled_from([0, 61, 46143, 2958466, 10**16, 10**400, -(10**400)]),
    st.floats(),
    st.floats(0, 150),
    st.decimals(),
    st.dates(),
    st.datetimes(),
    st.datetimes().map(np.datetime64),
    st.text(max_size=8),
    st.sampled_from(
        ["#N/A", "#INPUT: odd", "8/4", "white oak", "radial", "Doyle", "2026-05-01", "late", "{x}"]
    ),
    st.floats(width=32).map(np.float32),
    st.just(np.datetime64("NaT", "D")),
    st.just(np.datetime64("12026-05-01")),
)
BLOCKS = st.one_of(
    CELLS,
    st.lists(CELLS, max_size=4),
    st.lists(st.lists(CELLS, max_size=4), max_size=4),
    st.lists(CELLS | st.lists(CELLS, max_size=2), max_size=3),
    st.lists(st.floats(), max_size=4).map(np.array),
    st.lists(st.tuples(st.dates(), CELLS, CELLS), max_size=4),
)


def mixed(function: Function) -> st.SearchStrategy[list[Any]]:
    """Draw calls: each argument as in the example, another good-looking one, or any cells."""
    drawn = [
        st.one_of(st.just(given), st.just([given, given]), BLOCKS)
        for given in (
            *function.example.arguments,
            *[None] * (len(function.arguments) - len(function.example.arguments)),
        )
    ]
    return st.tuples(*drawn).map(list)


@pytest.mark.parametrize("function", CATALOGUE.values(), ids=lambda function: function.name)
def test_no_cells_raise_and_no_answer_is_a_nan(function: Function) -> None:
    @settings(max_examples=30, deadline=None, database=None, derandomize=True)
    @given(mixed(function) | st.lists(BLOCKS, max_size=14))
    def answers(arguments: list[Any]) -> None:
        answer = call(function.name, arguments)
        assert len(answer.values) == answer.shape[0] * answer.shape[1]
        cells = answer.rows(problem=str, day=lambda day: day)
        for cell in (cell for row in cells for cell in row):
            assert isinstance(cell, (float, int, str, bool, date))
            assert not isinstance(cell, datetime)
            assert not (isinstance(cell, float) and not math.isfinite(cell))
        for place, reason in answer.problems.items():
            assert answer.values[place] is None
            assert reason
        assert "nan" not in " ".join(answer.remarks.values())

    answers()


@pytest.mark.parametrize(
    "function",
    [f for f in CATALOGUE.values() if f.takes_cells and f.arguments and not f.repeats],
    ids=lambda function: function.name,
)
def test_one_cell_answers_like_a_column_of_one_cell(function: Function) -> None:
    drawn = [st.one_of(st.just(cell), CELLS) for cell in function.example.arguments]

    @settings(max_examples=30, deadline=None, database=None, derandomize=True)
    @given(st.tuples(*drawn))
    def alike(arguments: tuple[Any, ...]) -> None:
        cell = call(function.name, arguments)
        column = call(function.name, [[argument] for argument in arguments])
        assert cell == column

    alike()


def test_a_piece_at_its_ovendry_weight_is_dry_whatever_the_last_digit() -> None:
    """By the definitions of the three functions: one turns the others round."""
    weights = np.random.default_rng(0).uniform(1, 100, 2000)
    ovendry = lc.ovendry_weight(weights, 65)
    assert (lc.mc_by_weight(lc.weight_at_mc(ovendry, 0), ovendry) == 0).mean() > 0.5
    assert lc.mc_by_weight(lc.weight_at_mc(ovendry, 0), ovendry).min() == 0
    with pytest.raises(ValueError, match="must not be below ovendry_weight"):
        lc.mc_by_weight(99.9999, 100)
