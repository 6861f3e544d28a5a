"""Columns of texts: no publication, the rule is that they are the texts that went in."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from lumbercalc.wood.texts import Texts, different, holds, of_each

CELLS = ["fan", "open yard", "fan", "still air"]
EVERY_FORM = [CELLS, np.array(CELLS), np.array(CELLS, object), Texts.of(CELLS)]


def test_numpy_takes_them_for_an_array() -> None:
    texts = Texts.of(CELLS)
    assert texts is not None
    assert np.asarray(texts).tolist() == CELLS
    assert np.asarray(texts).dtype == object
    assert np.asarray(texts, np.str_).dtype.kind == "U"
    assert (texts.shape, texts.ndim, texts.size) == ((4,), 1, 4)
    assert np.shape(texts) == (4,)


@pytest.mark.parametrize("cells", [["fan"], ["fan"] * 3, ["fan", "still air"], ["b", "a", "b"]])
def test_few_different_texts(cells: list[str]) -> None:
    texts = Texts.of(cells)
    assert texts is not None
    assert np.asarray(texts).tolist() == cells
    assert set(texts.different) == set(cells)


def test_parts_and_shapes() -> None:
    texts = Texts.of(CELLS)
    assert texts is not None
    assert np.asarray(texts[np.array([True, False, False, True])]).tolist() == ["fan", "still air"]
    assert texts[3] == "still air"
    square = texts.reshape(2, 2)
    assert square[1, 0] == "fan"
    assert np.asarray(square.ravel()).tolist() == CELLS


@pytest.mark.parametrize("cells", [[], [1.0], ["a", 1.0], ["a", None], ["a", ["b"]], ["a", ("b",)]])
def test_what_is_no_column_of_texts(cells: list[Any]) -> None:
    assert Texts.of(cells) is None


@pytest.mark.parametrize("form", EVERY_FORM)
def test_every_form_of_a_column_gives_the_same(form: Any) -> None:
    assert of_each(form, len, float).tolist() == [3, 9, 3, 9]
    assert holds(form, "fan").tolist() == [True, False, True, False]
    assert different(form) == {"fan", "open yard", "still air"}


def test_one_text() -> None:
    assert of_each("fan", len, float).shape == ()
    assert holds("fan", "fan").item() is True
    assert different("fan") == {"fan"}


def test_each_different_text_is_worked_out_once() -> None:
    asked: list[str] = []

    def found(text: str) -> int:
        asked.append(text)
        return len(text)

    of_each(Texts.of(CELLS * 100), found, float)
    assert asked == ["fan", "open yard", "still air"]
