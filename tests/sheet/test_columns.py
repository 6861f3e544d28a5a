"""Columns of checked values: blanks, refusals and types, from every kind of block."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet import columns
from lumbercalc.sheet.cells import block
from lumbercalc.sheet.columns import default_of, read
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.readers import read_cell

RH = Argument("rh_pct", "number", Limits("% RH", 0, 100), "relative humidity")
DAY = Argument("day", "date", Limits("date"), "day")
NAME = Argument("name", "text", Limits("text"), "name")


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


def test_text_columns_keep_every_row() -> None:
    column = read(NAME, block(["a ", 12, None]))
    assert np.asarray(column.values).ravel().tolist()[:2] == ["a", "12"]
    assert column.blank.ravel().tolist() == [False, False, True]


def test_each_text_of_a_column_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read_texts = []

    def reader(argument: Argument, cell: Any) -> Any:
        read_texts.append(cell)
        return read_cell(argument, cell)

    monkeypatch.setattr(columns, "read_cell", reader)
    column = read(NAME, block([["a", " b"], ["", "a"]]))
    assert sorted(read_texts) == ["", " b", "a"]
    assert np.asarray(column.values)[~column.blank].tolist() == ["a", "b", "a"]
