"""Which formulas hang on which, through cells and areas, on one sheet or another."""

from __future__ import annotations

import pytest

from lumbercalc.book.engine.dependence import Dependence
from lumbercalc.book.xlsx.places import Area, Place

A1, A2, A3, B1, B9 = (
    ("S", row, column) for row, column in ((1, 1), (2, 1), (3, 1), (1, 2), (9, 2))
)
OTHER = ("T", 1, 1)
CHAIN = Dependence(
    {
        A2: [Area("S", 1, 1, 1, 1)],  # reads A1
        A3: [Area("S", 1, 2, 1, 2)],  # reads A2
        B1: [Area("S", 1, 1, 1, 9)],  # reads A1:A9
        OTHER: [Area("S", 2, 1, 2, 1), Area("T", 5, 5, 6, 6)],  # reads B1
        B9: [],
    }
)
CIRCLE = Dependence({A1: [Area("S", 1, 2, 1, 2)], A2: [Area("S", 1, 1, 1, 1)]})


@pytest.mark.parametrize(
    ("place", "after"),
    [
        (A1, {A2, A3, B1, OTHER}),
        (A2, {A3, B1, OTHER}),
        (B1, {OTHER}),
        (OTHER, set()),
        (B9, set()),
        (("T", 6, 5), {OTHER}),
        (("S", 10, 1), set()),
    ],
)
def test_after(place: Place, after: set[Place]) -> None:
    found = CHAIN.after([place])
    assert set(found) == after
    assert set(found.values()) <= {place}


@pytest.mark.parametrize(
    ("place", "before"), [(OTHER, {B1, A2, A3}), (A3, {A2}), (A2, set()), (B9, set())]
)
def test_before(place: Place, before: set[Place]) -> None:
    assert CHAIN.before([place]) == before


def test_a_circle_is_before_and_after_itself() -> None:
    assert CIRCLE.before([A1]) == {A1, A2}
    assert set(CIRCLE.after([A1])) == {A1, A2}


def test_nothing_hangs_on_nothing() -> None:
    empty = Dependence({})
    assert (empty.after([A1]), empty.before([A1])) == ({}, set())
