"""Cells as they come from any host, arranged as blocks and read as columns."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet import cells
from lumbercalc.sheet.cells import block, default_of, out, read, rows_of
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.readers import read_cell
from lumbercalc.sheet.refusal import Refused

RH = Argument("rh_pct", "number", Limits("% RH", 0, 100), "relative humidity")
DAY = Argument("day", "date", Limits("date"), "day")
NAME = Argument("name", "text", Limits("text"), "name")


@pytest.mark.parametrize(
    ("given", "shape"),
    [
        (5, (1, 1)),
        (None, (1, 1)),
        ("text", (1, 1)),
        ([1, 2, 3], (3, 1)),
        ((1, "x", None), (3, 1)),
        ([[1, 2, 3]], (1, 3)),
        ([(1, 2), (3, 4), (5, 6)], (3, 2)),
        ([], (0, 1)),
        ([[]], (1, 0)),
        (np.array(5.0), (1, 1)),
        (np.arange(4), (4, 1)),
        (np.ones((2, 3)), (2, 3)),
        ([np.arange(3), np.arange(3)], (2, 3)),
    ],
)
def test_shapes(given: Any, shape: tuple[int, int]) -> None:
    assert block(given).shape == shape


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([[1, 2], [3]], "not equally long"),
        ([1, [2]], "mixes cells and rows"),
        ([[[1]]], "rows of single cells"),
        ([[1, [2]]], "rows of single cells"),
        ([np.ones((2, 2)), np.ones((2, 2))], "rows of single cells"),
        ([np.array(1.0)], "rows of single cells"),
        (np.ones((2, 2, 2)), "more than two dimensions"),
    ],
)
def test_what_is_no_block(given: Any, said: str) -> None:
    with pytest.raises(Refused, match=said):
        block(given)


def test_numbers_stay_numbers_and_a_huge_one_stays_a_cell() -> None:
    assert block([1, 2.5]).dtype == float
    assert block([1, True]).dtype == object
    assert block([1, 10**400])[1, 0] == 10**400


@pytest.mark.parametrize(
    "given",
    [
        [45, None, 140, "wet"],
        np.array([45, None, 140, "wet"], object),
        np.array([[45.0], [np.nan], [140.0], [np.inf]]),
    ],
)
def test_a_column_knows_its_blanks_and_its_refusals(given: Any) -> None:
    column = read(RH, block(given))
    assert column.values[0, 0] == 45
    assert column.blank.ravel().tolist() == [False, True, False, False]
    assert sorted(column.problems) == [2, 3]
    assert str(column.problems[2]) == "rh_pct is 140 % RH; it must be from 0 to 100 % RH"


@pytest.mark.parametrize("unit", ["D", "s", "us", "ns"])
def test_arrays_of_dates_are_dates_in_every_resolution(unit: str) -> None:
    days = np.array(["2026-05-01", "NaT"], f"datetime64[{unit}]")
    column = read(DAY, block(days))
    assert column.values[0, 0] == np.datetime64("2026-05-01", "D")
    assert column.blank.ravel().tolist() == [False, True]


@pytest.mark.parametrize("kind", ["f2", "f8", "i1", "u8"])
def test_arrays_of_numbers_in_every_size(kind: str) -> None:
    assert read(RH, block(np.array([1, 99], kind))).values.ravel().tolist() == [1.0, 99.0]


def test_truth_values_and_time_spans_are_no_numbers() -> None:
    assert sorted(read(RH, block(np.array([True, False]))).problems) == [0, 1]
    assert sorted(read(RH, block(np.array([1, 2], "timedelta64[D]"))).problems) == [0, 1]


def test_defaults() -> None:
    assert default_of(Argument("pieces", "number", Limits("pieces", 1, 9), "pieces", 1)) == 1
    assert np.isnan(default_of(Argument("rate", "number", Limits("ratio", 0, 9), "rate", None)))
    assert np.isnat(default_of(Argument("day", "date", Limits("date"), "day", None)))


@pytest.mark.parametrize(
    ("value", "cell"),
    [
        (np.float64(2.5), 2.5),
        (np.bool_(True), True),
        (Decimal("2.5"), 2.5),
        ("text", "text"),
        (np.datetime64("2026-11-02"), "2026-11-02"),
        (datetime(2026, 11, 2, 9), "2026-11-02"),
        (date(2026, 11, 2), "2026-11-02"),
    ],
)
def test_out(value: Any, cell: Any) -> None:
    given = out(value, str)
    assert given == cell
    assert type(given) is type(cell)


def test_rows_of() -> None:
    assert list(rows_of(block([[1, "a"], [2, None]]))) == [[1, "a"], [2, None]]
    assert list(rows_of(block([[1, 2]]))) == [[1.0, 2.0]]


def test_text_columns_keep_every_row() -> None:
    column = read(NAME, block(["a ", 12, None]))
    assert np.asarray(column.values).ravel().tolist()[:2] == ["a", "12"]
    assert column.blank.ravel().tolist() == [False, False, True]


def test_each_text_of_a_column_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read_texts = []

    def reader(argument: Argument, cell: Any) -> Any:
        read_texts.append(cell)
        return read_cell(argument, cell)

    monkeypatch.setattr(cells, "read_cell", reader)
    column = read(NAME, block([["a", " b"], ["", "a"]]))
    assert sorted(read_texts) == ["", " b", "a"]
    assert np.asarray(column.values)[~column.blank].tolist() == ["a", "b", "a"]
