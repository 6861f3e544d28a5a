"""How often the band holds stacks that another model dries: the script's full number of stacks."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from lumbercalc.wood.air import emc
from tests.published.compare_finite_differences import ACTIVATION_K
from tests.published.finite_differences import days_to, diffusion_per_day, mean_mc_by_day
from tests.published.simulate_coverage import (
    COVERAGE_GOAL,
    MEDIAN_GOAL,
    PAGE,
    ROOM,
    STACKS,
    STAGES,
    Stage,
    Truth,
    forecasts,
    matched_constant,
    page,
    site,
    true_stacks,
    weather,
    weighing_days,
)


@cache
def truth() -> Truth:
    return true_stacks()


@cache
def stages(wrong_ovendry: bool, daily: bool = False) -> dict[float, Stage]:
    found = forecasts(truth(), wrong_ovendry=wrong_ovendry, daily=daily)
    return {stage.share: stage for stage in found}


def test_every_stack_is_judged() -> None:
    assert len(truth().days) == STACKS >= 150


@pytest.mark.parametrize("share", STAGES)
@pytest.mark.parametrize("daily", [False, True])
def test_band_holds_three_quarters_at_every_stage(share: float, daily: bool) -> None:
    # Goal: at least 75 %; the band is meant to hold 80 %. Seen: 85, 82, 85 and 88 %; of boards
    # weighed every day 85, 80, 82 and 87 %.
    assert stages(False, daily)[share].figures()["coverage"] >= COVERAGE_GOAL == 75


@pytest.mark.parametrize("share", STAGES[1:])
@pytest.mark.parametrize("wrong_ovendry", [False, True])
def test_median_error_after_a_quarter(share: float, wrong_ovendry: bool) -> None:
    # Goal: under 10 % of the whole drying time, once a quarter of it has been weighed.
    assert stages(wrong_ovendry)[share].figures()["median"] < MEDIAN_GOAL == 10


@pytest.mark.parametrize(
    ("share", "median", "most"), [(0.0, 22.0, 58), (0.25, 8.5, 29), (0.5, 6.2, 21), (0.75, 4.4, 15)]
)
def test_regression_guard_of_the_errors(share: float, median: float, most: float) -> None:
    # Not goals: the figures that were seen, a fifth more.
    figures = stages(False)[share].figures()
    assert figures["median"] <= 1.2 * median
    assert figures["90th percentile"] <= 1.2 * most


@pytest.mark.parametrize(("share", "coverage"), [(0.25, 84), (0.5, 79), (0.75, 72)])
def test_coverage_with_a_wrong_ovendry_weight(share: float, coverage: float) -> None:
    # A known miss: late in the drying the error of the ovendry weight is more than the band
    # allows for, and at three quarters it holds 72 %, less than the 75 % aimed at.
    assert stages(True)[share].figures()["coverage"] == pytest.approx(coverage, abs=2)


@pytest.mark.parametrize("share", STAGES[1:])
@pytest.mark.parametrize("wrong_ovendry", [False, True])
def test_weighing_every_day_does_no_harm(share: float, wrong_ovendry: bool) -> None:
    # Seen: within 2.2 % of the whole time, and leaning to early by 2 % at the most.
    often, seldom = stages(wrong_ovendry, True)[share], stages(wrong_ovendry)[share]
    assert often.figures()["median"] < seldom.figures()["median"] + 2.5
    assert abs(often.figures()["bias"]) < 2.5


def test_weighing_makes_the_forecast_better() -> None:
    errors = [stages(False)[share].figures()["median"] for share in STAGES]
    assert errors == sorted(errors, reverse=True)
    assert errors[1] < errors[0] / 2


def test_four_weighings_a_quarter_at_the_most() -> None:
    assert weighing_days(20.0, 0.25, daily=True).tolist() == [1, 2, 3, 4, 5]
    assert weighing_days(100.0, 0.25).tolist() == [6, 12, 19, 25]
    assert weighing_days(14.0, 0.25).tolist() == [3]
    assert weighing_days(100.0, 0.0).size == 0
    assert max(stages(False)[0.75].weighings) == 12


def test_matched_boards_dry_as_fast_as_the_models_own() -> None:
    # At 70 deg F and 50 % RH, to 20 %: that is what matching means. Elsewhere they may not.
    names, term = np.array(["Oak, northern red"] * 2), np.array([0.8, 1.6])
    activation = ACTIVATION_K * np.array([0.9, 1.1])
    size = np.full(2, 1.125)
    constant = matched_constant(names, size, np.full(2, 80.0), term, activation)

    def days(constant: np.ndarray, activation: np.ndarray, term: np.ndarray) -> np.ndarray:
        speed = np.repeat(diffusion_per_day(constant, activation, size, 70.0)[:, None], 200, axis=1)
        air = np.full((2, 200), emc(70, 50))
        green, target = np.full(2, 80.0), np.full(2, 20.0)
        return days_to(mean_mc_by_day(green, speed, term, air, target), target)

    own = days(np.full(2, 19.2), np.full(2, ACTIVATION_K), np.full(2, 1.15))
    assert days(constant, activation, term) == pytest.approx(own, rel=0.005)


def test_weather_departs_from_the_normals_evenly() -> None:
    # 200 years in a yard: no lean in the mean, departures of the size that is stated.
    place = np.full(200, "southern Wisconsin")
    start = np.full(200, np.datetime64("2025-01-01"))
    temp, rh = weather(np.random.default_rng(1), place, start, 365)
    normal_temp, normal_rh = site().daily("2025-01-01", 365)
    row = int(site().place_index("southern Wisconsin"))
    departure = temp - normal_temp[row]
    assert abs(departure.mean()) < 0.3
    assert departure[:, :31].std() == pytest.approx(np.hypot(9, 4), rel=0.05)
    assert departure[:, 181:212].std() == pytest.approx(np.hypot(5, 2), rel=0.05)
    assert abs((rh - normal_rh[row]).mean()) < 1  # what is cut off above 98 % RH
    room, _ = weather(np.random.default_rng(1), np.full(200, ROOM), start, 365)
    assert room.std() < 0.5 * departure.std()


def test_page_is_what_the_script_makes() -> None:
    assert PAGE.read_text(encoding="utf-8") == page()
