"""One cell, read as each kind of argument."""

from __future__ import annotations

import math
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet.function import Argument, Kind
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.readers import READERS
from lumbercalc.sheet.refusal import ERROR_TEXTS, MARKER, PassedOn, Refused

ARGUMENTS: dict[str, Argument] = {
    kind: Argument(f"the_{kind}", kind, limits, f"a {kind}")
    for kind, limits in (
        ("number", Limits("% RH", 0, 100)),
        ("thickness", Limits("in", 0.25, 24)),
        ("choice", Limits("choice", choices=("Doyle", "early"))),
        ("species", Limits("species")),
        ("text", Limits("text", longest=60)),
        ("date", Limits("date")),
        ("flag", Limits("TRUE or FALSE")),
    )
}


def read(kind: str, cell: Any) -> Any:
    return READERS[kind](ARGUMENTS[kind], cell)


@pytest.mark.parametrize(
    ("kind", "cell", "value"),
    [
        ("number", 45, 45.0),
        ("text", "x" * 60, "x" * 60),
        ("number", np.int16(45), 45.0),
        ("number", np.float32(0.5), 0.5),
        ("number", Decimal("12.3456"), 12.3456),
        ("number", Fraction(15, 2), 7.5),
        ("thickness", "8/4", 2.0),
        ("thickness", " 5 / 4 ", 1.25),
        ("thickness", 1.125, 1.125),
        ("choice", "DOYLE", "Doyle"),
        ("species", "black WALNUT", "Walnut, black"),
        ("species", "walnut, black", "Walnut, black"),
        ("text", "  #1 Common ", "#1 Common"),
        ("text", "#12", "#12"),
        ("text", 12.0, "12"),
        ("text", 12345678901.0, "12345678901"),
        ("text", Decimal("12.50"), "12.5"),
        ("text", date(2026, 5, 1), "2026-05-01"),
        ("flag", True, True),
        ("flag", np.bool_(False), False),
        ("flag", 1.0, True),
        ("flag", 0, False),
    ],
)
def test_values(kind: Kind, cell: Any, value: Any) -> None:
    assert read(kind, cell) == value


@pytest.mark.parametrize(
    ("kind", "cell", "said"),
    [
        ("number", -1, "the_number is -1 % RH; it must be from 0 to 100 % RH"),
        ("number", math.inf, "inf % RH"),
        ("number", 10**400, "a number of more than 300 digits"),
        ("number", "6", 'the text "6"'),
        ("number", True, "the_number is TRUE; it must be a number from 0 to 100 % RH"),
        ("number", date(2026, 5, 1), "2026-05-01"),
        ("number", b"6", "b'6'"),
        ("number", 1j, "1j"),
        ("number", [6], "[6]"),
        ("number", timedelta(hours=3), "3:00:00; it must be a number from 0 to 100 % RH"),
        ("number", "x" * 100, "x" * 57 + '..."'),
        ("thickness", "9", '24 in (as a text only quarters, such as "4/4" for 1 in)'),
        ("thickness", "1/8", "inches, or quarters"),
        ("thickness", 0, "from 0.25 to 24 in"),
        ("thickness", date(2026, 8, 4), "looks like a date"),
        ("thickness", 46238, "looks like a date"),
        ("thickness", Decimal(46238), "looks like a date"),
        ("choice", "windy", 'one of "Doyle", "early"'),
        ("choice", 1, "the_choice is 1; it must be one of"),
        ("species", "blck walnut", "Walnut, black"),
        ("species", "zzzz", "in the species table"),
        ("species", 5, "a species name"),
        ("text", "x" * 61, "a text of at most 60 characters, not 61"),
        ("text", [1], "at most 60 characters"),
        ("flag", 2, "the_flag is 2; it must be TRUE or FALSE"),
        ("flag", "yes", 'the text "yes"'),
    ],
)
def test_refusals_name_the_argument_the_value_and_the_limit(
    kind: Kind, cell: Any, said: str
) -> None:
    with pytest.raises(Refused) as refused:
        read(kind, cell)
    text = str(refused.value)
    assert text.startswith(f"the_{kind} is ")
    assert said in text
    assert "it must be " in text


@pytest.mark.parametrize("kind", ARGUMENTS)
@pytest.mark.parametrize("error", [*sorted(ERROR_TEXTS)[:3], "#N/A", " #REF! ", "Err:504"])
def test_error_texts_are_refused_by_every_kind(kind: str, error: str) -> None:
    with pytest.raises(Refused) as refused:
        read(kind, error)
    assert f"the_{kind} is the error {error.strip()}; it must be" in str(refused.value)


@pytest.mark.parametrize("kind", ARGUMENTS)
def test_a_refusal_that_comes_in_goes_out_unchanged(kind: str) -> None:
    with pytest.raises(PassedOn) as refused:
        read(kind, f"{MARKER}width_in is -3 in")
    assert str(refused.value.at("row 7")) == "width_in is -3 in"


def test_a_zero_for_an_optional_argument_hints_at_calcs_blank_cells() -> None:
    pieces = Argument("pieces", "number", Limits("pieces", 1, 9), "pieces", 1)
    with pytest.raises(Refused, match='IF\\(x="","",x\\)'):
        READERS["number"](pieces, 0)
