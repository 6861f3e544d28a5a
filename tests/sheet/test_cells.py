"""Cells as they come from any host, arranged as blocks and read as columns."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet.cells import block, out, rows_of
from lumbercalc.sheet.refusal import Refused


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
