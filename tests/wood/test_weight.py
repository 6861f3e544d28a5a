import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.weight import dehumidifier_pints, floor_load, lumber_weight, water_loss

OAK = "Oak, northern red"  # basic specific gravity 0.56, Wood Handbook FPL-GTR-190 (2010)


def test_a_cubic_foot_weighs_its_gravity_in_water():
    # Definition of specific gravity, with water at 62.4 lb/ft3.
    assert lumber_weight(OAK, 12, 0) == pytest.approx(0.56 * 62.4)


@pytest.mark.parametrize(
    ("mc_pct", "sawn_ratio", "times_ovendry"),
    [(0, 1, 1), (80, 1, 1.8), (8, 1, 1.08), (80, 1.125, 2.025), (8, 0.9, 0.972)],
)
def test_lumber_weight(mc_pct, sawn_ratio, times_ovendry):
    assert lumber_weight(OAK, 1000, mc_pct, sawn_ratio) == pytest.approx(2912 * times_ovendry)


def test_denser_species_weigh_more():
    weights = lumber_weight(["Yellow-poplar", "Cherry, black", OAK, "Oak, white"], 100, 12)
    assert (np.diff(weights) > 0).all()


@given(st.floats(0, 150), st.floats(0, 150))
def test_water_loss_is_the_difference_of_weights(mc_from, mc_to):
    before, after = (lumber_weight(OAK, 500, mc) for mc in (mc_from, mc_to))
    assert water_loss(OAK, 500, mc_from, mc_to) == pytest.approx(before - after, abs=1e-9)


def test_lumber_that_takes_up_water_loses_less_than_none():
    assert water_loss(OAK, 500, 8, 12) < 0 < water_loss(OAK, 500, 12, 8)


def test_dehumidifier_pints_are_the_water_lost_by_volume():
    # A US gallon is 231 cubic inches and 8 pints, NIST Handbook 44, App. C.
    pounds_per_gallon = 62.4 * 231 / 1728
    gallons = water_loss(OAK, 1000, 30, 28) / pounds_per_gallon
    assert dehumidifier_pints(OAK, 1000, 2) == pytest.approx(8 * gallons)


@pytest.mark.parametrize(
    ("weight_lb", "length_ft", "width_ft", "load"),
    [(3200, 8, 4, 100), (0, 8, 4, 0), (1000, 10, 2.5, 40)],
)
def test_floor_load(weight_lb, length_ft, width_ft, load):
    assert floor_load(weight_lb, length_ft, width_ft) == pytest.approx(load)


def test_a_larger_footprint_loads_the_floor_less():
    assert (np.diff(floor_load(3000, [8, 10, 12], 4)) < 0).all()
