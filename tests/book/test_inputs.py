"""What an input may hold, whoever asks: an upgrade or a check."""

from __future__ import annotations

import math
from datetime import datetime, time
from typing import Any

import pytest

from lumbercalc.book.inputs import NO_SUCH_NUMBER, Kind
from lumbercalc.sheet.limits import Limits


@pytest.mark.parametrize(
    ("value", "kind", "words"),
    [
        (7, Kind("", "0.00", Limits("in", 1, 60)), ""),
        (0, Kind("", "0.00", Limits("in", 1, 60)), "it must be from 1 to 60 in"),
        ("7", Kind("", "0.00", Limits("in", 1, 60)), "it must be a number from 1 to 60 in"),
        (True, Kind("", "0.00"), "it must be a number"),
        (datetime(2026, 1, 1), Kind("", "0.00"), "it is a date and must be a number"),
        (datetime(2026, 1, 1), Kind("", "yyyy-mm-dd", Limits("date")), ""),
        (46000, Kind("", "yyyy-mm-dd", Limits("date")), ""),
        ("soon", Kind("", "yyyy-mm-dd", Limits("date")), "it must be a date"),
        # a year: serial 2026 is 18 July 1905
        (2026, Kind("", "yyyy-mm-dd", Limits("date")), "it must be a date from 1950-01-01 on"),
        (datetime(1905, 7, 18), Kind("", "yyyy-mm-dd"), "it must be a date from 1950-01-01 on"),
        (time(8, 30), Kind("", "yyyy-mm-dd"), "it must be a date"),
        (7, Kind("", "yyyy-mm-dd", Limits("(month), or a date", 1, 2958465)), ""),
        (datetime(2026, 1, 1), Kind("", "yyyy-mm-dd", Limits("(month), or a date", 1, 9)), ""),
        ("Quote", Kind("", "@", Limits("choice", choices=("Quote", "Invoice"))), ""),
        ("Gift", Kind("", "@", Limits("choice", choices=("Quote",))), 'it must be one of "Quote"'),
        ("gift", Kind("", "@", Limits("choice", choices=("Gift",))), ""),
        (7, Kind("", "@"), ""),
        (
            2.5,
            Kind("", "0", Limits("pieces", 1, 9, whole=True)),
            "it must be a whole number from 1 to 9 pieces",
        ),
        (
            "2",
            Kind("", "0", Limits("pieces", 1, 9, whole=True)),
            "it must be a whole number from 1 to 9 pieces",
        ),
        (math.inf, Kind("", "0.00"), NO_SUCH_NUMBER),
        (10**400, Kind("", "0", Limits("pieces", 1, 9, whole=True)), NO_SUCH_NUMBER),
    ],
)
def test_what_is_refused(value: Any, kind: Kind, words: str) -> None:
    assert kind.refusal(value) == words
