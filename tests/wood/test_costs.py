import numpy as np
import pytest

from lumbercalc.wood.costs import (
    carrying_cost,
    cost_per_bf,
    dehumidifier_kwh,
    fan_kwh,
    shrink_so_far,
    space_cost,
)

# Expected amounts are worked by hand; nothing here is a figure of the trade.


@pytest.mark.parametrize(
    ("water_lb", "litres_per_kwh", "expected"),
    [
        # 1 lb = 0.45359237 kg exactly (NIST SP 811, appendix B.8); a litre of water is 1 kg.
        (1000, 1, 453.59237),
        (1000, 2, 226.796185),
        (0, 1.6, 0),
    ],
)
def test_dehumidifier_kwh(water_lb, litres_per_kwh, expected):
    assert dehumidifier_kwh(water_lb, litres_per_kwh) == pytest.approx(expected, rel=1e-12)


def test_a_pint_per_kwh_is_a_kwh_for_each_pint():
    # A US liquid pint is 0.473176473 L; of water at 62.4 lb/ft3 it weighs 1.04271 lb, which is
    # 0.04 % less than 0.473176473 kg: the density of water taken as 1 kg per litre.
    from lumbercalc.wood.weight import WATER_LB_PER_PINT

    kwh = dehumidifier_kwh(10 * WATER_LB_PER_PINT, 0.473176473)
    assert kwh == pytest.approx(10, rel=5e-4)


@pytest.mark.parametrize(
    ("watts", "hours", "expected"), [(1000, 1, 1), (60, 24 * 30, 43.2), (0, 10, 0)]
)
def test_fan_kwh(watts, hours, expected):
    assert fan_kwh(watts, hours) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("area", "rent", "days", "expected"),
    [(32, 0.5, 365, 192), (32, 0.5, 73, 38.4), (0, 0.5, 365, 0), (32, 0.5, 0, 0)],
)
def test_space_cost(area, rent, days, expected):
    assert space_cost(area, rent, days) == pytest.approx(expected)


@pytest.mark.parametrize(("mc", "expected"), [(85, 0), (30, 0), (19, 3.5), (8, 7), (6, 7)])
def test_shrink_so_far(mc, expected):
    assert shrink_so_far(7, mc, 8) == pytest.approx(expected)


def test_shrinkage_only_grows_as_the_wood_dries():
    lost = shrink_so_far(7, np.arange(80, 4, -1), 8)
    assert (np.diff(lost) >= 0).all()
    assert (lost[0], lost[-1]) == (0, 7)


def test_shrinkage_so_far_is_in_proportion_to_the_published_shrinkage():
    from lumbercalc.wood.shrinkage import shrinkage

    # Wood Handbook eq. 13-3 with S of any species: its share of the way does not depend on S.
    # From 30 % MC its divisor is a constant, so that the two are equal.
    whole = float(shrinkage("Walnut, black", "tangential", 30, 8))
    part = float(shrinkage("Walnut, black", "tangential", 30, 16))
    assert shrink_so_far(whole, 16, 8) == pytest.approx(part, rel=1e-12)


def test_a_better_rating_and_shorter_times_cost_less():
    assert (np.diff(dehumidifier_kwh(1000, [1, 1.3, 1.6, 2.8])) < 0).all()
    assert (np.diff(fan_kwh(120, [100, 50, 10])) < 0).all()
    assert (np.diff(space_cost(32, 0.5, [300, 200, 100])) < 0).all()


@pytest.mark.parametrize(
    ("lot", "expected"),
    [
        ((1800, 1000, 0, 0), 1.80),
        ((1800, 1000, 10, 0), 2.00),
        ((1800, 1000, 0, 10), 2.00),
        ((1620, 1000, 10, 10), 2.00),
        ((0, 1000, 10, 10), 0),
    ],
)
def test_cost_per_bf(lot, expected):
    assert cost_per_bf(*lot) == pytest.approx(expected)


def test_losses_raise_the_cost():
    assert (np.diff(cost_per_bf(1800, 1000, [0, 5, 10, 15], 5)) > 0).all()
    assert (np.diff(cost_per_bf(1800, 1000, 7, [0, 5, 10, 15])) > 0).all()


@pytest.mark.parametrize("lot", [(1800, 1000, 100, 0), (1800, 1000, 0, 100), (1800, 0, 7, 5)])
def test_cost_of_nothing_saleable(lot):
    assert np.isnan(cost_per_bf(*lot))


@pytest.mark.parametrize(
    ("value", "annual_pct", "days", "expected"),
    [(5000, 8, 365, 400), (5000, 8, 73, 80), (5000, 0, 365, 0), (5000, 8, 730, 800)],
)
def test_carrying_cost(value, annual_pct, days, expected):
    assert carrying_cost(value, annual_pct, days) == pytest.approx(expected)
