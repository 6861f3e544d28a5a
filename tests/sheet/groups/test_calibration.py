"""DRYING_RATE: weighings that cannot be of one board, or of this stack."""

from __future__ import annotations

from typing import Any

import pytest

import lumbercalc as lc

STACK = ("northern red oak", 1.125, 80, "2026-05-01", [[70, 50]] * 12)


@pytest.mark.parametrize(
    ("dates", "said"),
    [
        (["2026-05-08", "2026-05-08"], "dates holds 2026-05-08 twice; name the sample boards in"),
        (["2026-05-08", "2062-05-15"], "dates holds 2062-05-15; it must not be more than 10 years"),
        (["2026-04-08", "2026-05-15"], "dates holds 2026-04-08; it must not be before start_date"),
    ],
)
@pytest.mark.parametrize("function", [lc.drying_rate, lc.rate_spread])
def test_refused(function: Any, dates: list[str], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        function(dates, [70, 55], *STACK)


def test_two_boards_of_one_day() -> None:
    dates, mcs = ["2026-05-08", "2026-05-08"], [70, 55]
    assert lc.drying_rate(dates, mcs, *STACK, 1, ["A", "B"]) > 0
