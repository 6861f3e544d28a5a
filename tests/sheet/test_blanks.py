"""What counts as a blank cell."""

from __future__ import annotations

import math
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet.blanks import is_blank


@pytest.mark.parametrize(
    "cell",
    [None, "", "  ", "\t", math.nan, np.float32("nan"), np.datetime64("NaT", "D"), Decimal("NaN")],
)
def test_blanks(cell: Any) -> None:
    assert is_blank(cell)


def test_the_missing_date_and_number_of_pandas_are_blank() -> None:
    pandas = pytest.importorskip("pandas")
    assert is_blank(pandas.NaT)


@pytest.mark.parametrize("cell", [0, 0.0, False, "0", "#N/A", date(2026, 5, 1), [], math.inf])
def test_what_is_no_blank(cell: Any) -> None:
    assert not is_blank(cell)
