"""Limits: what they say in words is what they allow."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.sheet.limits import Limits

RH = Limits("% RH", 0, 100)
PIECES = Limits("pieces", 1, 1000, whole=True)
CUT = Limits("choice", choices=("tangential", "radial"), also={"Quarter sawn": "radial"})


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        (RH, "from 0 to 100 % RH"),
        (PIECES, "a whole number from 1 to 1000 pieces"),
        (Limits("in", 0.25, 1234567), "from 0.25 to 1234567 in"),
        (CUT, 'one of "tangential", "radial"'),
        (Limits("date"), "a date"),
        (Limits("species"), "a species"),
        (Limits("TRUE or FALSE"), "TRUE or FALSE"),
        (Limits("text", longest=60), "a text of at most 60 characters"),
    ],
)
def test_words(limits: Limits, words: str) -> None:
    assert limits.words() == words


@pytest.mark.parametrize(
    ("limits", "number", "inside"),
    [
        (RH, 0, True),
        (RH, 100, True),
        (RH, np.nextafter(100, 200), False),
        (RH, np.nextafter(0, -1), False),
        (RH, np.inf, False),
        (RH, -np.inf, False),
        (RH, np.nan, False),
        (Limits("ratio"), np.inf, False),
        (Limits("ratio"), np.nan, False),
        (PIECES, 3, True),
        (PIECES, 2.5, False),
        (PIECES, 0, False),
        (PIECES, np.nan, False),
    ],
)
def test_both_ends_are_allowed_and_nothing_beyond(
    limits: Limits, number: float, inside: bool
) -> None:
    assert bool(limits.inside(float(number))) is inside
    column = np.array([[1.0, number]])
    assert limits.inside(column).tolist() == [[True, inside]]


@given(
    st.lists(st.floats() | st.sampled_from([0.0, -0.0, 100.0, 5e-324, -5e-324]), min_size=1),
    st.sampled_from([RH, PIECES, Limits("in", 0.25, 120), Limits("ratio"), Limits("$", -5, 5)]),
)
def test_a_column_is_inside_when_each_of_its_numbers_is(
    column: list[float], limits: Limits
) -> None:
    numbers = np.array([column, column]).T
    assert limits.all_inside(numbers) is bool(np.all(limits.inside(numbers)))
    assert limits.all_inside(numbers[:, 0]) is bool(np.all(limits.inside(numbers[:, 0])))


@pytest.mark.parametrize(
    ("typed", "choice"),
    [
        ("radial", "radial"),
        (" RADIAL ", "radial"),
        ("quarter  SAWN", "radial"),
        ("volume", None),
        ("", None),
    ],
)
def test_choices_go_by_the_word_not_its_case_or_blanks(typed: str, choice: str | None) -> None:
    assert CUT.choice(typed) == choice


PERCENT = Limits("%", 0, 50, least=0.1)


@pytest.mark.parametrize(
    ("value", "kept"), [(0, True), (0.07, False), (0.1, True), (7, True), (50, True), (-0.2, False)]
)
def test_a_share_is_no_percent(value: float, kept: bool) -> None:
    assert bool(PERCENT.inside(value)) == kept
    assert PERCENT.all_inside(np.array([7.0, value])) == kept
    assert PERCENT.words() == "0 or from 0.1 to 50 %"
