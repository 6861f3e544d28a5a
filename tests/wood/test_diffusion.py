"""One day of drying: the closed forms of a slab, and a step that never passes the EMC."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.diffusion import mc_after_a_day, mc_after_a_step, tau
from lumbercalc.wood.drying import drying_speed, temperature_factor

OAK = "Oak, northern red"
moistures = st.floats(3, 150)
emcs = st.floats(2, 25)
speeds = st.floats(0, 1)


def test_tau_is_one_curve_that_rises():
    share = np.linspace(0, 0.99, 200)
    assert np.all(np.diff(tau(share)) > 0)
    assert tau(np.nextafter(0.5, 1)) == pytest.approx(tau(0.5), abs=1e-12)


@pytest.mark.parametrize("share", [0.1, 0.25, 0.4, 0.5])
def test_tau_is_what_the_short_time_series_of_a_slab_needs(share):
    # Crank, Mathematics of Diffusion, from memory: the full series of uptake by a slab. Up to one
    # half the short-time term alone is within 0.3 % of it.
    terms = (2 * np.arange(2000) + 1) ** 2 * np.pi**2
    uptake = 1 - np.sum(8 / terms * np.exp(-terms * tau(share)))
    assert uptake == pytest.approx(share, abs=0.003)


@pytest.mark.parametrize("share", [0.6, 0.75, 0.9, 0.98])
def test_tau_is_near_what_the_long_time_series_of_a_slab_needs(share):
    # The join at one half leaves out a constant of the long-time term: below 0.011 of the way.
    terms = (2 * np.arange(2000) + 1) ** 2 * np.pi**2
    uptake = 1 - np.sum(8 / terms * np.exp(-terms * tau(share)))
    assert uptake == pytest.approx(share, abs=0.011)


@given(moistures, st.floats(0, 1), emcs, speeds)
def test_a_day_never_passes_the_emc(green_mc, share, emc, speed):
    mc = emc + share * (green_mc - emc)
    after = mc_after_a_day(np.float64(mc), np.float64(green_mc), np.float64(emc), speed)
    low, high = min(mc, emc), max(mc, emc)
    assert low - 1e-9 <= after <= high + 1e-9


@given(moistures, emcs, speeds)
def test_wood_at_emc_stays_there(green_mc, emc, speed):
    assert mc_after_a_day(
        np.float64(emc), np.float64(max(green_mc, emc)), np.float64(emc), speed
    ) == pytest.approx(emc)


def test_dried_wood_takes_up_moisture_again():
    speed = drying_speed(OAK, 1.125) * temperature_factor(70)
    mc = mc_after_a_day(np.float64(8), np.float64(80), np.float64(14), speed)
    assert 8 < mc < 14


def test_stock_that_was_never_wetter_than_the_air_nears_it_exponentially():
    green_mc, emc, speed = np.float64(8), np.float64(14), 0.003
    mc = mc_after_a_day(green_mc, green_mc, emc, speed)
    moisture = emc + 0.7 * (green_mc - emc)
    passed = speed * np.exp(1.15 * moisture / 100)
    assert mc == pytest.approx(emc + (green_mc - emc) * np.exp(-(np.pi**2) * passed))


def test_a_quick_day_is_as_many_shorter_days():
    # 1/300 of the diffusion time is a step: 0.01 makes three of it, and never more than 24.
    mc, green_mc, emc = np.float64(60), np.float64(80), np.float64(8)
    for speed, parts in [(0.003, 1), (0.0099, 3), (0.5, 24)]:
        by_steps = mc
        for _ in range(parts):
            by_steps = mc_after_a_step(by_steps, green_mc, emc, speed / parts)
        assert mc_after_a_day(mc, green_mc, emc, speed) == pytest.approx(by_steps, rel=1e-12)


def test_quick_and_slow_boards_in_one_column_are_as_they_are_alone():
    mc = np.array([60.0, 60.0, 60.0])
    green_mc, emc, speed = np.full(3, 80.0), np.full(3, 8.0), np.array([0.001, 0.01, np.nan])
    together = mc_after_a_day(mc, green_mc, emc, speed)
    alone = [float(mc_after_a_day(mc[:1], green_mc[:1], emc[:1], speed[i : i + 1])[0])
             for i in range(3)]  # fmt: skip
    assert together.tolist() == pytest.approx(alone, rel=0, abs=0, nan_ok=True)


def test_emc_equal_to_green_changes_nothing():
    assert mc_after_a_day(np.float64(12), np.float64(12), np.float64(12), 0.01) == 12


def test_unknown_air_gives_nan():
    assert np.isnan(mc_after_a_day(np.float64(60), np.float64(80), np.float64(np.nan), 0.01))
