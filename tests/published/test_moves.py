"""A stack that moves, against the diffusion equation on a grid in the same air.

The stated error of keeping the original green MC at a move is 0.1 to 3.3 % of the days (drying
model of this project, derived with finite differences).
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import drying_constant
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import ready_days
from tests.published.finite_differences import days_to, diffusion_per_day, mean_mc_by_day

ACTIVATION_K, MOISTURE_TERM = 5280.0, 1.15
"""Simpson and Hart's form, from memory."""

STATED_ERROR = 0.033

SITE = Climate.places(
    {
        "yard": Climate.monthly(
            [18, 23, 33, 46, 58, 67, 72, 70, 61, 49, 36, 23],  # an upper-Midwest year, from memory
            [76, 75, 73, 68, 67, 69, 72, 75, 76, 73, 77, 79],
        ),
        "room": Climate.steady(78, 38),
    }
)
DAYS = 400


@pytest.mark.parametrize("species", ["Oak, northern red", "Walnut, black", "Maple, sugar (hard)"])
@pytest.mark.parametrize("thickness_in", [1.125, 2.25])
def test_days_of_a_stack_that_moves(species: str, thickness_in: float) -> None:
    cases = list(product(["2025-04-01", "2025-09-01"], [30, 90, 150]))
    start = np.array([case[0] for case in cases], dtype="datetime64[D]")
    move_day = np.array([case[1] for case in cases])
    air = [SITE.daily(day, DAYS) for day in start]
    moved = np.arange(DAYS) >= move_day[:, None]
    temp_f = np.where(moved, [temp[1] for temp, _ in air], [temp[0] for temp, _ in air])
    rh_pct = np.where(moved, [rh[1] for _, rh in air], [rh[0] for _, rh in air])
    per_day = diffusion_per_day(drying_constant(species), ACTIVATION_K, thickness_in, temp_f)
    green = np.full(len(cases), 80.0)
    grid = mean_mc_by_day(
        green, per_day, np.full(len(cases), MOISTURE_TERM), emc(temp_f, rh_pct), green * 0 + 8
    )
    course = DryingCourse(
        species, thickness_in, 80, start, SITE, place="yard",
        move_date=start + move_day, move_place="room",
    )  # fmt: skip
    forecast = ready_days(course, 10)
    after = forecast > move_day
    assert after.sum() >= 4
    np.testing.assert_allclose(forecast[after], days_to(grid, 10)[after], rtol=STATED_ERROR)
