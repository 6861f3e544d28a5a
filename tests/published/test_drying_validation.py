"""The model against published drying times: the page is current, its figures are guarded.

The bounds were set after the figures were seen. They hold no promise about a yard; they tell when
a change of the model moves the error, for better or worse.
"""

from __future__ import annotations

import numpy as np
import pytest

from lumbercalc.wood.air import emc
from tests.published.validate_drying import (
    PAGE,
    STARTS,
    Comparison,
    compared,
    groups,
    monthly,
    not_computed,
    page,
    rows,
    score,
    scored,
)


def comparison(case: str, what: str = "") -> Comparison:
    return next(each for each in compared() if (each.case, each.what) == (case, what))


def test_page_is_what_the_script_makes() -> None:
    assert PAGE.read_text(encoding="utf-8") == page()


@pytest.mark.parametrize("row", [row for row in rows() if row["emc_pct"]], ids=lambda r: r["case"])
def test_emc_of_the_rows_is_that_of_their_air(row: dict[str, str]) -> None:
    # The humidity is in whole percent, the EMC in tenths: within what that rounding leaves open.
    if row["rh_pct"]:
        temp, rh, given = (monthly(row[name]) for name in ("temp_F", "rh_pct", "emc_pct"))
        assert np.all(given >= emc(temp, rh - 0.5) - 0.05)
        assert np.all(given <= emc(temp, rh + 0.5) + 0.05)
    else:
        assert row["start_month"] == "any"


def test_every_row_is_computed_or_says_why_not() -> None:
    left_out = {row["case"] for row in rows() if not_computed(row)}
    assert left_out == {"TN233-EWPINE", "RULE-YEAR-PER-INCH", "RULE-9MO-PER-INCH"}
    assert {each.case for each in compared()} == {row["case"] for row in rows()} - left_out
    assert all(np.isfinite(each.days) for each in compared())
    assert set(STARTS) <= {row["start_month"] for row in rows()}


def test_what_is_scored() -> None:
    assert {each.basis for each in scored()} == {"seen", "memory"}
    assert {each.basis for each in compared() if each not in scored()} == {"second hand"}


@pytest.mark.parametrize(
    ("group", "number", "bias", "rms_log", "median"),
    [
        ("all scored", 24, -28, 0.51, 23),
        ("without the circular ones", 2, 0, 0.11, 11),
        ("air in the row", 6, 10, 0.17, 11),
        ("of these the shortest times", 9, -55, 0.81, 56),
        ("of these the longest times", 9, -12, 0.19, 10),
    ],
)
def test_regression_guard_of_the_summary(
    group: str, number: int, bias: float, rms_log: float, median: float
) -> None:
    # Seen figures, to 3 points of the percentages and 0.03 of the ln error.
    found = score(groups()[group])
    assert found.number == number
    assert found.bias == pytest.approx(bias, abs=3)
    assert found.rms_log == pytest.approx(rms_log, abs=0.03)
    assert found.median == pytest.approx(median, abs=3)


def test_score() -> None:
    # Half and double of the published figure: no bias, ln 2 of error, 50 and 100 % off.
    base = comparison("BC-INDOOR")
    off = [Comparison(**{**vars(base), "days": base.middle * ratio}) for ratio in (0.5, 2.0)]
    found = score(off)
    assert found.bias == pytest.approx(0)
    assert found.rms_log == pytest.approx(np.log(2))
    assert found.median == pytest.approx(75)


def test_known_miss_yellow_poplar_8_4() -> None:
    # Second hand: 45 and 112 days told, 137 and 176 forecast, although the constant was set with
    # these among others; they want one near 80, the printed ranges one below 40.
    assert comparison("YP8-RAL-WARM").percent > 150
    assert comparison("YP8-RAL-NOV").percent > 45


def test_known_miss_shortest_printed_times() -> None:
    # FPL Technical Note 233 from memory: every shortest time is forecast 40 % short or more.
    assert all(each.percent < -40 for each in groups()["of these the shortest times"])


def test_known_miss_sweetgum_in_winter() -> None:
    assert comparison("TN233-SWEETGUM-HEARTWOOD", "longest").percent < -30


def test_known_miss_mean_of_sugar_maple_loads() -> None:
    # Peck 1957: about 90 days; the mean over the year is longer, the loads were not spread so.
    assert comparison("SM-UPMI-MIN", "shortest").percent > 25
    assert comparison("SM-UPMI-MEAN", "mean").percent > 25
