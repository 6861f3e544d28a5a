"""Limits: what they say in words is what they allow."""

from __future__ import annotations

import numpy as np
import pytest

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
