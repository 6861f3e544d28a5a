"""The Python face: what comes in decides what goes out; bad input is a ValueError."""

from __future__ import annotations

import inspect
from datetime import date
from typing import Any

import numpy as np
import pandas as pd
import pytest

import lumbercalc as lc
from lumbercalc.sheet.catalogue import CATALOGUE

YEAR = [[70, 50]] * 12
OAK = "northern red oak"
LABELS = ["a", "b", "c"]


def series(*cells: Any) -> Any:
    return pd.Series(list(cells), index=LABELS[: len(cells)])


# What comes in decides what goes out


def test_scalars_give_scalars() -> None:
    assert type(lc.board_feet("8/4", 7.5, 8)) is float
    assert type(lc.matches_dry_sample(9.2, 8.5)) is bool
    assert type(lc.readiness([8, 8, 8, 8], 8)) is str
    assert lc.ready_date(OAK, 1.125, 80, "2026-05-01", 20, YEAR) == date(2026, 6, 8)
    assert type(lc.board_feet(np.float64(1), np.int64(6), np.array(8.0))) is float


@pytest.mark.parametrize("kind", [list, tuple, np.array, pd.Index])
def test_columns_give_arrays(kind: Any) -> None:
    feet = lc.board_feet(1, kind([6, 12]), 8)
    assert isinstance(feet, np.ndarray)
    assert feet.dtype == float
    assert feet.tolist() == [4, 8]


class Foreign:
    """A column of another library: its cells are known by NumPy's protocol alone."""

    def __init__(self, cells: Any) -> None:
        self.cells = np.array(cells)
        self.cells.flags.writeable = False

    def __array__(self, dtype: Any = None, copy: bool | None = None) -> Any:
        return self.cells


def test_a_column_of_another_library_is_what_numpy_takes_it_for() -> None:
    feet = lc.board_feet(Foreign(["8/4", "5/4"]), Foreign([6, 12]), 8)
    assert (type(feet), feet.tolist()) == (np.ndarray, [8, 10])
    assert lc.emc(Foreign([70, np.nan]), 50) == pytest.approx([lc.emc(70, 50), np.nan], nan_ok=True)
    assert lc.board_feet(1, Foreign([6, 12, 18]), series(8, 8, 8)).index.tolist() == LABELS
    assert lc.ready_date(OAK, 1.125, 80, "2026-05-01", 20, Foreign(YEAR)) == date(2026, 6, 8)
    with pytest.raises(ValueError, match="board_feet in row 2: width_in is -1 in"):
        lc.board_feet(1, Foreign([6, -1]), 8)
    mine = Foreign([1.0, 2.0])
    lc.thickness_in(mine)[:] = 9
    assert mine.cells.tolist() == [1, 2]


def test_a_range_is_a_column() -> None:
    assert lc.board_feet(1, range(6, 9, 2), 12).tolist() == [6, 8]


def test_a_grid_gives_a_grid() -> None:
    feet = lc.board_feet(1, [6, 12], [[8, 16, 24]])
    assert feet.tolist() == [[4, 8, 12], [8, 16, 24]]


@pytest.mark.parametrize("kind", [list, np.array, pd.DataFrame])
def test_rows_of_one_cell_stay_rows(kind: Any) -> None:
    assert lc.board_feet(1, kind([[6], [12]]), 8).tolist() == [[4], [8]]
    assert lc.board_feet(1, 12, kind([[8]])).tolist() == [[8]]
    assert lc.problem("BOARD_FEET", 1, kind([[6, -3]]), 8).shape == (1, 2)


def test_a_class_derived_from_a_series_is_one() -> None:
    class Widths(pd.Series):  # type: ignore[type-arg]
        pass

    feet = lc.board_feet(1, Widths([6, 12], index=["a", "b"]), 8)
    assert feet.to_dict() == {"a": 4, "b": 8}


def test_a_list_may_hold_arrays_of_one_cell_and_what_is_masked() -> None:
    assert lc.board_feet(1, [np.array(6.0), 12], 8).tolist() == [4, 8]
    hidden = np.ma.array([6.0, 99.0], mask=[False, True])
    assert lc.board_feet(1, list(hidden), 8).tolist() == pytest.approx([4, np.nan], nan_ok=True)


@pytest.mark.parametrize("kind", ["int64", "float32", "Int64", "Float64", "object"])
def test_series_in_series_out_with_its_index(kind: Any) -> None:
    feet = lc.board_feet(1, series(6, 12, 18).astype(kind), 8)
    assert isinstance(feet, pd.Series)
    assert feet.index.tolist() == LABELS
    assert feet.tolist() == [4, 8, 12]


def test_a_column_of_a_frame_answers_in_that_frame() -> None:
    frame = pd.DataFrame({"t": ["4/4", "8/4"], "w": [6, 6], "l": [8, 8]}, index=[7, 3])
    frame["bf"] = lc.board_feet(frame.t, frame.w, frame.l)
    assert frame.bf.to_dict() == {7: 4.0, 3: 8.0}


def test_series_of_dates_texts_and_truth_values() -> None:
    day = lc.ready_date(OAK, 1.125, series(80, 40), "2026-05-01", 20, YEAR)
    assert day.dtype.kind == "M"
    assert day.iloc[0] == pd.Timestamp("2026-06-08")
    assert lc.matches_dry_sample(series(8, 12), 8).tolist() == [True, False]
    said = lc.species_source(series("black walnut", "white oak"), "specific gravity")
    assert said.index.tolist() == ["a", "b"]
    mixed = lc.ready_date(OAK, 1.125, 80, "2026-05-01", [20, 5], YEAR)
    assert mixed.tolist() == [date(2026, 6, 8), "not reached"]


def test_a_series_of_dates_comes_in() -> None:
    start = pd.to_datetime(series("2026-05-01", "2026-06-01"))
    mc = lc.mc_forecast(OAK, 1.125, 80, start, "2026-07-01", YEAR)
    assert mc["a"] == pytest.approx(
        lc.mc_forecast(OAK, 1.125, 80, "2026-05-01", "2026-07-01", YEAR)
    )


def test_a_frame_is_a_climate() -> None:
    frame = pd.DataFrame(YEAR, columns=["temp_f", "rh_pct"])
    start = ["2026-05-01"] * 12
    as_frame = lc.ready_date(OAK, 1.125, 80, start, 20, frame)
    assert isinstance(as_frame, np.ndarray)  # the frame's index is not the answer's
    assert as_frame.tolist() == [date(2026, 6, 8)] * 12


def test_spilled_rows() -> None:
    rows = lc.drying_curve(OAK, 1.125, 80, "2026-05-01", 20, YEAR, step_days=14, row_count=20)
    assert len(rows) == 20
    assert rows[0] == [date(2026, 5, 1), 80, 80, 80]
    assert rows[-1] == [None] * 4


@pytest.mark.parametrize("empty", [[], np.array([]), pd.Series([], dtype=float)])
def test_empty_in_empty_out(empty: Any) -> None:
    feet = lc.board_feet(1, empty, 8)
    assert len(feet) == 0
    assert isinstance(feet, pd.Series) is isinstance(empty, pd.Series)
    assert lc.mc_upper(empty) is None


# Blanks


@pytest.mark.parametrize("blank", [None, np.nan, "", pd.NA, pd.NaT])
def test_blank_in_blank_out(blank: Any) -> None:
    assert lc.board_feet(1, blank, 8) is None
    feet = lc.board_feet(1, [6, blank, 12], 8)
    assert feet[[0, 2]].tolist() == [4, 8]
    assert np.isnan(feet[1])
    held = np.array([6, blank], object)
    assert np.isnan(lc.board_feet(1, held, 8)[1])


def test_blanks_of_dates_and_series() -> None:
    day = lc.ready_date(OAK, 1.125, 80, [None, "2026-05-01"], 20, YEAR)
    assert np.isnat(day).tolist() == [True, False]
    weighed = pd.Series([pd.Timestamp("2026-06-01"), pd.NaT])
    mc = lc.mc_forecast(
        OAK, 1.125, 80, "2026-05-01", "2026-07-01", YEAR, from_date=weighed, from_mc=[30, None]
    )
    assert mc[1] == pytest.approx(lc.mc_forecast(OAK, 1.125, 80, "2026-05-01", "2026-07-01", YEAR))
    assert mc[0] != pytest.approx(mc[1])
    whole = pd.Series([6, pd.NA], dtype="Int64")
    assert lc.board_feet(1, whole, 8).isna().tolist() == [False, True]


# Bad input


SAID = "width_in is -3 in; it must be from 0.25 to 120 in"


@pytest.mark.parametrize(
    ("width", "said"),
    [
        (-3, f"board_feet: {SAID}"),
        ([6, -3], f"board_feet in row 2: {SAID}"),
        ([-3, 6, -4], f"board_feet in row 1: {SAID} (and 1 more)"),
        (series(6, 6, -3), f"board_feet at index 'c': {SAID}"),
        (pd.Series([6, -3], index=[7, 9]), f"board_feet at index 9: {SAID}"),
        (pd.Series([-3, 6], index=[("a", 1), ("a", 2)]), f"board_feet at index ('a', 1): {SAID}"),
        ([[6, 6], [6, -3]], f"board_feet in row 2: {SAID}"),
    ],
)
def test_the_error_names_row_or_index_argument_value_and_limit(width: Any, said: str) -> None:
    with pytest.raises(ValueError, match="width_in") as refused:
        lc.board_feet(1, width, 8)
    assert str(refused.value) == said


@pytest.mark.parametrize(
    "what",
    [
        pd.DataFrame({"load": [1, 1], "width": [6, 7]}).groupby("load").width,
        pd.Series([6, 7]).rolling(2),
        pd.Series(["6"]).str,
        np.ma.array([(6, 7)], dtype=[("a", int), ("b", int)]),
        (width for width in (6, 7)),
    ],
    ids=lambda what: type(what).__name__,
)
def test_what_is_no_column_is_refused_in_words(what: Any) -> None:
    with pytest.raises(ValueError, match=r"board_feet: width_in is .*; it must be a number from"):
        lc.board_feet(1, what, 8)


def test_a_climates_index_is_not_the_rows() -> None:
    frame = pd.DataFrame(YEAR, index=list("abcdefghijkl"))
    with pytest.raises(ValueError, match="ready_date in row 2: species is the text"):
        lc.ready_date([OAK, "plastic"], 1.125, 80, "2026-05-01", 20, frame)


def test_a_series_of_one_goes_against_a_longer_column() -> None:
    assert lc.board_feet(pd.Series([2]), [6, 12], 8).tolist() == [8, 16]
    with pytest.raises(ValueError, match="board_feet in row 2: width_in is -1 in"):
        lc.board_feet(pd.Series([2]), [6, -1], 8)


def test_series_that_are_not_labelled_alike_are_refused() -> None:
    other = pd.Series([8, 8, 8], index=["c", "b", "a"])
    with pytest.raises(ValueError, match="the index of length_ft is not that of width_in"):
        lc.board_feet(1, series(6, 7, 8), other)
    assert len(lc.board_feet(1, series(6, 7, 8), other.to_numpy())) == 3
    with pytest.raises(ValueError, match="the index of length_ft is not that of width_in"):
        lc.board_feet(pd.Series([1]), series(6, 7, 8), other)
    with pytest.raises(ValueError, match="the index of rh_pct is not that of temp_f"):
        lc.emc(pd.DataFrame({"temp": [70, 60, 50]}), other)


def test_what_is_masked_is_blank() -> None:
    hidden = np.ma.array([70.0, 9999.0], mask=[False, True])
    assert lc.emc(hidden, 50) == pytest.approx([lc.emc(70, 50), np.nan], nan_ok=True)
    assert lc.emc(np.ma.masked, 50) is None
    weights = np.ma.array([8, 8.1, 7.9, 99], mask=[0, 0, 0, 1])
    assert lc.mc_upper(weights) == lc.mc_upper([8, 8.1, 7.9])
    assert lc.emc(np.ma.array([70.0, 60.0]), 50).tolist() == lc.emc([70, 60], 50).tolist()
    assert hidden.mask.tolist() == [False, True]


def test_an_answer_is_never_in_the_callers_memory() -> None:
    for column in (np.array([1.0, 2.0]), pd.Series([1.0, 2.0]), pd.array([1.0, 2.0], "Float64")):
        answer = lc.thickness_in(column)
        answer[:] = 9
        assert list(column) == [1, 2]


def test_a_blank_climate_gives_a_blank_for_each_row() -> None:
    starts = pd.Series(pd.to_datetime(["2026-05-01", "2026-06-01"]), index=["a", "b"])
    ready = lc.ready_date(OAK, 1.125, 80, starts, 20, None)
    assert list(ready.index) == ["a", "b"]
    assert ready.isna().all()


def test_the_help_of_a_block_function_offers_no_column_for_a_single_cell() -> None:
    for function in CATALOGUE.values():
        text = str(getattr(lc, function.python_name).__doc__)
        assert (", or a column of them" in text) <= (not function.takes_blocks)
    assert "length_ft : float\n" in str(lc.slab_area.__doc__)


def test_arguments_that_do_not_fit_the_signature_are_a_type_error() -> None:
    with pytest.raises(TypeError, match="length_ft"):
        lc.board_feet(1, 6)  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="piece"):
        lc.board_feet(1, 6, 8, piece=2)  # type: ignore[call-arg]


def test_columns_of_different_lengths() -> None:
    with pytest.raises(ValueError, match="not equally long: width_in 2 x 1, length_ft 3 x 1"):
        lc.board_feet(1, [6, 7], [8, 9, 10])


# PROBLEM


def test_problem_in_python() -> None:
    assert lc.problem("BOARD_FEET", 1, 6, 8) == ""
    assert lc.problem("BOARD_FEET", 1, 6).startswith("length_ft is missing")
    assert lc.problem("BOARD_FEET", 1, [6, -3], 8).tolist() == [
        "",
        "width_in is -3 in; it must be from 0.25 to 120 in",
    ]
    said = lc.problem("BOARD_FEET", 1, series(6, -3), 8)
    assert said["b"].startswith("width_in is -3 in")
    assert lc.problem("nothing") == 'there is no function "nothing"; see the list of functions'


@pytest.mark.parametrize("kind", [list, np.array, pd.DataFrame])
def test_problem_with_a_climate_is_plain_text(kind: Any) -> None:
    ready = ("READY_DATE", OAK, 1.125, 80, "2026-05-01", 20)
    assert lc.problem(*ready, kind(YEAR)) == ""
    said = lc.problem(*ready, kind(YEAR[:11]))
    assert type(said) is str
    assert said == "climate lacks December; it must have all 12 months"
    assert type(lc.problem("MC_UPPER", [8, 8.5])) is str


# Signatures


@pytest.mark.parametrize("function", CATALOGUE.values(), ids=lambda function: function.name)
def test_the_signature_is_the_declaration(function: Any) -> None:
    parameters = list(inspect.signature(getattr(lc, function.python_name)).parameters.values())
    assert [parameter.name for parameter in parameters] == [a.name for a in function.arguments]
    for parameter, argument in zip(parameters, function.arguments, strict=True):
        if parameter.kind is inspect.Parameter.VAR_POSITIONAL:
            assert function.repeats
        elif argument.optional:
            assert parameter.default == argument.default
        else:
            assert parameter.default is inspect.Parameter.empty


def test_arguments_go_by_name_and_not_given_is_the_default() -> None:
    assert lc.board_feet(length_ft=8, width_in=6, thickness=1) == lc.board_feet(1, 6, 8)
    spelled = lc.ready_date(
        OAK, 1.125, 80, "2026-05-01", 20, YEAR, rate_spread=0.35, band="late", place=None
    )
    assert spelled == lc.ready_date(OAK, 1.125, 80, "2026-05-01", 20, YEAR, band="LATE")


def test_everything_public_is_the_catalogue() -> None:
    assert set(lc.__all__) == {"__version__", *(f.python_name for f in CATALOGUE.values())}
    assert lc.__version__ == lc.lumbercalc_version()


def test_an_answer_is_an_array_of_its_own() -> None:
    inches = np.array([1.0, 1.25, 2.0])
    for column in (inches, inches[:1], pd.Series(inches)):
        answer = lc.thickness_in(column)  # which are the inches themselves
        answer[:] = 0
        assert inches.tolist() == [1.0, 1.25, 2.0]
    widths = np.broadcast_to(6.0, 3)
    lc.board_feet(1.0, widths, 8.0)[:] = 0
    assert widths.tolist() == [6.0] * 3
