"""The solver on a grid against series and SciPy, and the daily step against the solver."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from tests.published.compare_finite_differences import (
    PAGE,
    Comparison,
    page,
    seasonal,
    steady,
    summary,
)
from tests.published.finite_differences import days_to, diffusion_per_day, mean_mc_by_day
from tests.published.test_drying_model import days_by_diffusion

DAYS = 200


def crank_share(passed: np.ndarray) -> np.ndarray:
    """Share lost by a slab: Crank, The Mathematics of Diffusion, series of chapter 4, from memory.

    1 - sum of 8 / ((2n + 1)^2 pi^2) exp(-(2n + 1)^2 pi^2 D t / L^2), L the whole thickness.
    """
    odd = 2 * np.arange(2000)[:, None] + 1
    terms = 8 / (odd * np.pi) ** 2 * np.exp(-((odd * np.pi) ** 2) * passed)
    return np.asarray(1 - terms.sum(axis=0))


@pytest.mark.parametrize("a_day", [0.0005, 0.005, 0.02])
def test_solver_is_cranks_series_where_diffusion_is_constant(a_day: float) -> None:
    # Shares of 0.02 to 1 on every day from the first on, to 0.0005 of the whole way.
    course = mean_mc_by_day(
        np.array([80.0]), np.full((1, DAYS), a_day), np.zeros(1), np.full((1, DAYS), 8.0),
        np.zeros(1),
    )  # fmt: skip
    share = (80 - course[0, 1:]) / (80 - 8)
    assert share == pytest.approx(crank_share(a_day * np.arange(1, DAYS + 1)), abs=5e-4)


@pytest.mark.parametrize("wetter", [False, True])
def test_solver_regains_moisture_as_it_loses_it(wetter: bool) -> None:
    # With constant diffusion the equation is linear: up and down are mirror images.
    green, emc = (8.0, 20.0) if wetter else (20.0, 8.0)
    course = mean_mc_by_day(
        np.array([green]), np.full((1, DAYS), 0.005), np.zeros(1), np.full((1, DAYS), emc),
        np.full(1, -1.0),
    )  # fmt: skip
    share = (course[0, 1:] - green) / (emc - green)
    assert share == pytest.approx(crank_share(0.005 * np.arange(1, DAYS + 1)), abs=5e-4)


@pytest.mark.parametrize(
    ("thickness_in", "temp_f", "target_mc"), [(1.125, 70, 20), (1.125, 70, 12), (2.25, 95, 16)]
)
def test_solver_is_scipys_where_diffusion_rises_with_moisture(
    thickness_in: float, temp_f: float, target_mc: float
) -> None:
    # SciPy's BDF on 60 even cells, written apart from this solver; 0.3 % of the days.
    speed = diffusion_per_day(19.2, 5280, thickness_in, temp_f)
    course = mean_mc_by_day(
        np.array([80.0]), np.full((1, 400), speed), np.full(1, 1.15), np.full((1, 400), 7.7),
        np.full(1, target_mc),
    )  # fmt: skip
    by_scipy = days_by_diffusion(thickness_in, 80.0, target_mc, temp_f, 7.7)  # type: ignore[no-untyped-call]
    assert days_to(course, target_mc)[0] == pytest.approx(by_scipy, rel=0.003)


def test_solver_does_not_change_on_a_finer_grid() -> None:
    # Four boards from slow to very fast, three times the cells and four times the steps: 0.2 %.
    constant = np.array([19.2, 24.5, 50.0, 50.0])
    thickness = np.array([1.125, 2.25, 1.0, 1.125])
    temp = np.array([70.0, 50.0, 100.0, 30.0])
    speed = np.repeat(diffusion_per_day(constant, 5280, thickness, temp)[:, None], 900, axis=1)
    boards = (np.array([80.0, 68.0, 105.0, 95.0]), speed, np.full(4, 1.15), np.full((4, 900), 8.0))
    usual = days_to(mean_mc_by_day(*boards, np.full(4, 16.0)), 16.0)
    finer = days_to(mean_mc_by_day(*boards, np.full(4, 16.0), cells=120, refine=4), 16.0)
    assert usual == pytest.approx(finer, rel=0.002)


@cache
def in_steady_air() -> Comparison:
    return steady()


@cache
def to_20_percent() -> Comparison:
    return seasonal()


def test_daily_step_in_steady_air() -> None:
    # Goal: 1 % of the days to 20, 16 and 12 %. Seen: 0.6 %.
    found = in_steady_air()
    assert found.grid_days.size == 54
    assert found.step_days == pytest.approx(found.grid_days, rel=0.01)
    assert found.step_days == pytest.approx(found.grid_days, rel=0.007)  # regression guard


def test_daily_step_through_the_year_to_20_percent() -> None:
    # Goal: rms within 5 % over 500 random stacks. Seen: 1.7 %.
    figures = summary(to_20_percent().errors())
    assert to_20_percent().errors().size == 500
    assert to_20_percent().one_sided() == 0
    assert figures["rms"] < 5
    assert figures["rms"] < 2.5  # regression guard
    assert abs(figures["mean"]) < 1  # regression guard


def test_daily_step_through_the_year_to_16_percent_misses_the_goal() -> None:
    # A known miss of the 5 %: it is made in Upper Michigan, where summer air of 12 to 14 % EMC
    # leaves the curve flat; a stack that just misses the autumn waits for spring.
    found = seasonal(target_mc=16.0)
    cold = found.stack["place"] == "Upper Michigan"
    error = 100 * (found.step_days / found.grid_days - 1)
    assert 5 < summary(found.errors())["rms"] < 6.5
    assert summary(error[cold])["rms"] > 8
    assert summary(error[~cold])["rms"] < 4


def test_page_is_what_the_script_makes() -> None:
    assert PAGE.read_text(encoding="utf-8") == page()
