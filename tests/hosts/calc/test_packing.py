"""Rows of numbers as they go through the pipe."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from lumbercalc.hosts.calc.packing import packed, unpacked

MANY = [(1.5, -0.0), (math.inf, 1e308)] * 10


@pytest.mark.parametrize(
    ("rows", "short"),
    [
        (MANY, True),
        (tuple(MANY), True),
        ([list(row) for row in MANY], True),
        (MANY[:5], False),
        ([*MANY, ("8/4", 1.0)], False),
        ([*MANY, (None, 1.0)], False),
        ([*MANY, (True, 1.0)], False),
        ([*MANY, (1.0,)], False),
        ([*MANY, 1.0], False),
        ([()] * 20, False),
        ("a text of more than twenty letters", False),
        (7.0, False),
    ],
)
def test_rows_of_numbers_alone_are_packed_and_come_back(rows: Any, short: bool) -> None:
    sent = packed(rows)
    assert isinstance(sent, dict) is short
    back = unpacked(json.loads(json.dumps(sent)))
    assert back == (MANY if short else json.loads(json.dumps(rows)))


def test_a_refused_row_is_packed_too() -> None:
    back = unpacked(packed([(math.nan,), (1.0,)] * 10))
    assert math.isnan(back[0][0])
    assert back[1] == (1.0,)


@pytest.mark.parametrize(
    "bad",
    [
        {},
        {"doubles": "AAAAAAAAIEA="},
        {"doubles": "AAAAAAAAIEA=", "columns": 2},
        {"doubles": "AAAAAAAAIEA=", "columns": 0},
        {"doubles": "AAAAAAAAIEA=", "columns": "1"},
        {"doubles": "AAAA", "columns": 1},
        {"doubles": "!", "columns": 1},
        {"doubles": 7, "columns": 1},
    ],
)
def test_what_was_not_packed_is_refused(bad: dict[str, Any]) -> None:
    with pytest.raises((ValueError, TypeError, KeyError)):
        unpacked(bad)
