"""When to move a stack to a second place: the plan."""

from dataclasses import replace

import numpy as np
import pytest

from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import mc_forecast, ready_date, ready_days
from lumbercalc.wood.moving import MOST_CANDIDATES, move_plan
from lumbercalc.wood.weight import WATER_LB_PER_PINT, water_loss

DAY = np.timedelta64(1, "D")

OAK = "Oak, northern red"
YARD = Climate.monthly(
    [28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32],
    [76, 74, 70, 66, 68, 70, 72, 74, 75, 72, 74, 78],
)
PORCH, ROOM = Climate.steady(60, 75), Climate.steady(78, 38)
START = np.datetime64("2025-03-01")
SITE = Climate.places({"yard": YARD, "porch": PORCH, "room": ROOM})
STACK = DryingCourse(OAK, 1.125, 80.0, START, SITE, place="yard")


def plan(target_mc=9, step_days=14, **other):
    course = replace(STACK, **{"move_place": "room"} | other)
    return move_plan(course, target_mc, 400, step_days)


def test_the_rows_of_a_plan_are_forecasts_of_their_own():
    made = plan(stack_factor=0.9, move_factor=0.6, rate=1.1)
    stays = replace(STACK, stack_factor=0.9, rate=1.1)
    assert np.isnat(made.move_date[0])
    assert not np.isnat(made.move_date[1:]).any()
    for when, ready in zip(made.move_date, made.ready_date, strict=True):
        moves = replace(stays, move_date=when, move_place="room", move_factor=0.6)
        alone = ready_date(moves, 9)
        assert ready == alone or (np.isnat(ready) and np.isnat(alone))
    np.testing.assert_array_equal(made.mc_then[1:], mc_forecast(stays, made.move_date[1:]))
    assert np.isnan(made.mc_then[0])


def test_the_days_of_a_plan_add_up_to_its_ready_date():
    made = plan(target_mc=16)
    total = (made.ready_date - START).astype(float)
    np.testing.assert_array_equal(made.days_first_place + made.days_second_place, total)
    first = (made.move_date[1:] - START).astype(float)
    np.testing.assert_array_equal(made.days_first_place[1:], first)
    assert made.days_second_place[0] == made.pints[0] == 0


def test_the_water_of_a_plan_is_what_the_lumber_loses_in_the_second_place():
    made = plan(target_mc=16)
    lost = water_loss(OAK, 400, made.mc_then[1:], 16) / WATER_LB_PER_PINT
    np.testing.assert_allclose(made.pints[1:], lost, rtol=1e-12)
    # By the definition of MC: basic specific gravity 0.56, a pint of 28.875 cubic inches.
    by_hand = 400 / 12 * 62.4 * 0.56 * (80 - 16) / 100 / (28.875 / 1728 * 62.4)
    assert made.pints[1] == pytest.approx(by_hand, rel=1e-12)
    assert np.all(np.diff(made.pints[1:]) < 0)


def test_the_dates_of_a_plan_go_on_until_the_stack_would_be_ready_anyway():
    made = plan(target_mc=16, step_days=7)
    assert made.move_date[1] == START
    assert np.all(np.diff(made.move_date[1:]) == np.timedelta64(7, "D"))
    stays = ready_days(STACK, 16)
    last = (made.move_date[-1] - START).astype(int)
    assert last < stays <= last + 7
    assert np.all(made.mc_then[1:] > 16)


def test_a_plan_has_a_bounded_number_of_dates():
    assert len(plan(target_mc=9).move_date) == 1 + MOST_CANDIDATES


def test_a_plan_goes_on_from_the_last_weighing():
    made = plan(from_date=START + 20 * DAY, from_mc=55.0)
    assert made.move_date[1] == START + 20 * DAY
    assert made.mc_then[1] == 55.0
    assert made.days_first_place[1] == 20
    done = plan(from_date=START + 20 * DAY, from_mc=8.5)
    assert len(done.move_date) == 1
    assert done.ready_date[0] == START + 20 * DAY


def test_a_target_that_only_the_second_place_reaches():
    made = plan(target_mc=9)
    assert np.isnat(made.ready_date[0])
    assert np.isnan(made.days_first_place[0])
    assert not np.isnat(made.ready_date[1:]).any()
    damp = plan(target_mc=9, move_place="porch")
    assert np.isnat(damp.ready_date).all()
    assert np.isnan(damp.pints[1:]).all()
    assert np.isnan(damp.days_second_place[1:]).all()


def test_a_plan_for_an_unknown_place_has_nothing_to_choose_from():
    made = plan(target_mc=16, place="attic")
    assert np.isnat(made.ready_date).tolist() == [True]
    made = plan(target_mc=16, move_place="attic")
    assert not np.isnat(made.ready_date[0])
    assert np.isnat(made.ready_date[1:]).all()
