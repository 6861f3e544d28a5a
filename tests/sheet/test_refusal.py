"""What is said of a cell that cannot be used."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet.refusal import PassedOn, Refused, is_number, shown


def test_a_refusal_can_be_told_where_it_stands() -> None:
    assert str(Refused("rh_pct is 140").at("climate row 3")) == "climate row 3: rh_pct is 140"


def test_a_refusal_of_another_call_keeps_its_words() -> None:
    assert str(PassedOn("width_in is -3 in").at("row 7")) == "width_in is -3 in"


@pytest.mark.parametrize("cell", [True, np.bool_(False), np.timedelta64(3, "D"), "7", None])
def test_what_is_no_number(cell: Any) -> None:
    assert not is_number(cell)


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        (7.50, "7.5"),
        (np.float64(-3), "-3"),
        (True, "TRUE"),
        (np.bool_(False), "FALSE"),
        ("a\nb", 'the text "a b"'),
        (np.int64(4), "4"),
        (np.array([[7], [8]]), "[[7] [8]]"),
    ],
)
def test_shown(cell: Any, text: str) -> None:
    assert shown(cell) == text
