"""The drying curve of one stack, and the air that it cannot get below."""

from dataclasses import replace

import numpy as np
import pytest

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.curve import drying_curve, lowest_emc
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import mc_forecast

DAY = np.timedelta64(1, "D")

YARD = Climate.monthly(
    [28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32],
    [76, 74, 70, 66, 68, 70, 72, 74, 75, 72, 74, 78],
)
SITE = Climate.places({"yard": YARD, "shop": Climate.steady(70, 45)})
OAK = DryingCourse("Oak, northern red", 1.125, 80, "2025-04-15", YARD)
DAYS = np.timedelta64(1, "D")


def test_lowest_emc_is_of_the_driest_day_and_of_the_place():
    lowest = lowest_emc(SITE, ["yard", "shop", "attic"], "2025-04-15")
    every_day = emc(*YARD.daily("2025-01-01", 366))
    assert lowest[0] == pytest.approx(every_day.min(), abs=0.01)
    assert lowest[1] == emc(70, 45)
    assert np.isnan(lowest[2])


def test_curve_is_the_forecast_every_few_days():
    curve = drying_curve(OAK, 20, step_days=10.0)
    assert np.all(np.diff(curve.date) == 10 * DAYS)
    assert curve.date[0] == np.datetime64("2025-04-15")
    np.testing.assert_array_equal(curve.likely, mc_forecast(OAK, curve.date))
    assert np.all(curve.early <= curve.likely)
    assert np.all(curve.likely <= curve.late)
    assert curve.late[-1] <= 20 < curve.late[-2]


def test_curve_begins_at_the_weighing_with_its_uncertainty():
    curve = drying_curve(replace(OAK, from_date="2025-05-15", from_mc=45.0), 20)
    assert curve.date[0] == np.datetime64("2025-05-15")
    assert (curve.early[0], curve.likely[0], curve.late[0]) == (44.0, 45.0, 46.0)


def test_curve_of_a_target_out_of_reach_ends_after_five_years():
    curve = drying_curve(OAK, 5, step_days=100)
    assert curve.date[-1] == np.datetime64("2025-04-15") + 1800 * DAY
    weighed = replace(OAK, from_date="2031-04-15", from_mc=30.0)
    assert (
        drying_curve(weighed, 5, step_days=100).date[-1] == np.datetime64("2031-04-15") + 1800 * DAY
    )


def test_curve_of_an_unknown_place_is_unknown():
    curve = drying_curve(replace(OAK, climate=SITE, place="attic"), 20)
    assert len(curve.date) == 1
    assert np.isnan(curve.likely).all()
