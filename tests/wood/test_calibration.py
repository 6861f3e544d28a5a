"""The rate of a stack, fitted to its weighings."""

from dataclasses import replace

import numpy as np
import pytest

from lumbercalc.wood.calibration import drying_rate, rate_spread
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import mc_forecast
from lumbercalc.wood.intervals import intervals

DAY = np.timedelta64(1, "D")

OAK = "Oak, northern red"
SHOP = Climate.steady(70, 40)
YARD = Climate.monthly([28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32], [72] * 12)
START = np.datetime64("2026-05-01")


def the_intervals(found, species):
    return found


def intervals_used(found, species):
    """How many intervals tell a rate."""
    return np.count_nonzero(np.isfinite(found.rate))


STACK = DryingCourse(OAK, 1.125, 80.0, START, SHOP)


def fit(days, mcs, function=drying_rate, boards=None, **other):
    course = replace(STACK, **other)
    found = intervals(course, START + np.asarray(days, dtype=int), mcs, boards)
    return function(found, course.species)


def forecast(days, rate, climate=SHOP):
    course = replace(STACK, climate=climate, rate=rate)
    return mc_forecast(course, START + np.asarray(days))


@pytest.mark.parametrize("rate", [0.5, 1.0, 1.8])
@pytest.mark.parametrize("climate", [SHOP, YARD])
def test_each_interval_finds_the_rate_that_made_the_weighings(rate, climate):
    days = np.arange(5, 41, 5)
    found = fit(days, forecast(days, rate, climate), the_intervals, climate=climate)
    # Daily steps against one closed form over the interval: section means instead of days.
    np.testing.assert_allclose(found.rate, rate, rtol=0.1)


def test_the_prior_holds_one_interval_back_and_many_less():
    # With no weighings the rate is 1; the more is weighed, the nearer it comes to what was weighed.
    days = np.arange(4, 41, 4)
    mcs = forecast(days, 0.5)
    few, many = fit(days[:1], mcs[:1]), fit(days, mcs)
    assert 0.5 < many < few < 1


def test_without_weighings_the_rate_is_one_and_the_spread_the_prior():
    assert fit([], []) == 1
    assert fit([], [], rate_spread) == pytest.approx(0.35)
    assert fit([], [], intervals_used) == 0


def test_prior_of_an_estimated_constant_is_wider():
    assert fit([], [], rate_spread, species="Alder, red") == pytest.approx(0.5)


def test_faster_drying_gives_a_higher_rate():
    assert fit([7, 14], [50.0, 40.0]) > fit([7, 14], [55.0, 45.5])


def test_more_weighings_give_a_smaller_spread():
    assert fit([7, 14], [55, 45.5], rate_spread) < fit([7], [55], rate_spread)


@pytest.mark.parametrize(
    ("days", "mcs", "used"),
    [
        ([7], [79.6], 0),
        ([7], [79.5], 1),
        ([7, 14], [55.0, 54.8], 1),
        ([7, 14], [55.0, 58.0], 1),
        # EMC at 70 deg F, 40 % RH is 7.7 % MC: from there on nothing tells a rate.
        ([7, 60, 90], [55.0, 9.0, 7.5], 2),
        # No time passes between two weighings of a day.
        ([7, 7, 14], [55.0, 50.0, 45.0], 2),
        # Wetter than green, and still so a week later.
        ([7, 14, 21], [85.0, 82.0, 60.0], 1),
    ],
)
def test_intervals_that_tell_nothing_are_left_out(days, mcs, used):
    assert fit(days, mcs, intervals_used) == used
    assert np.isfinite(fit(days, mcs))


@pytest.mark.parametrize(
    ("days", "mcs", "used"),
    [
        # A loss of 6 % MC ends an interval (chosen here); the last weighing does in any case.
        ([1, 2, 3, 4], [78.0, 76.0, 74.0, 72.0], 2),
        ([1, 2, 3, 4], [78.0, 76.0, 74.0, 73.6], 1),
        # A board that took up rain goes on from where it began.
        ([2, 3, 5], [77.0, 79.0, 71.0], 1),
    ],
)
def test_small_losses_are_taken_together(days, mcs, used):
    assert fit(days, mcs, intervals_used) == used


@pytest.mark.parametrize("often", [1, 2, 7])
def test_a_board_may_be_weighed_as_often_as_one_likes(often):
    # Mean of 40 boards that dry at half the forecast's rate, each weighing off by 0.3 % MC: as
    # near to the half as the prior lets it, and not at 0.75 as where each day was an interval.
    days = np.arange(often, 113, often)
    noise = 0.3 * np.random.default_rng(0).standard_normal((40, days.size))
    mcs = forecast(days, 0.5, Climate.steady(55, 65))
    rates = [fit(days, mcs + off, climate=Climate.steady(55, 65)) for off in noise]
    assert np.mean(rates) == pytest.approx(0.5, rel=0.1)


@pytest.mark.parametrize("slip", [27.0, 72.0])
def test_one_mistyped_weighing_does_not_matter(slip):
    days, mcs = np.arange(7, 71, 7), [68.0, 62.0, 57.0, 52.0, 48.0, 44.0, 41.0, 38.0, 35.0, 33.0]
    mistyped = [*mcs[:2], slip, *mcs[3:]]
    without = fit(np.delete(days, 2), np.delete(mcs, 2))
    assert fit(days, mistyped) == without == pytest.approx(fit(days, mcs), rel=0.01)


def test_weighings_wetter_than_the_assumed_green_mc_do_not_make_it_slow():
    # Weighed at 82 after a week, a stack said to be of 60 % has not stood still since the start.
    days, mcs = [7, 14, 21, 28], [82.0, 70.0, 58.0, 50.0]
    assert fit(days, mcs, green_mc=60.0) > 0.8 * fit(days, mcs, green_mc=95.0)


def test_wood_that_was_never_wetter_than_the_air_tells_nothing():
    assert fit([7, 14], [6.5, 5.5], green_mc=7.0, function=intervals_used) == 0


def test_weighings_may_come_in_any_order():
    assert fit([21, 7, 14], [38.5, 55.0, 45.5]) == fit([7, 14, 21], [55.0, 45.5, 38.5])


def test_each_board_begins_green_and_gives_its_own_intervals():
    days, mcs, boards = [7, 14, 7, 14], [55.0, 45.5, 57.0, 48.0], ["A1", "A1", "A2", "A2"]
    both = fit(days, mcs, the_intervals, boards=boards)
    one = fit(days[:2], mcs[:2], the_intervals)
    two = fit(days[2:], mcs[2:], the_intervals)
    np.testing.assert_array_equal(both.rate, [*one.rate, *two.rate])
    np.testing.assert_array_equal(both.weight, [*one.weight, *two.weight])


def test_boards_may_be_mixed_up_and_numbered():
    named = fit([7, 7, 14, 14], [55, 57, 45.5, 48], boards=["a", "b", "a", "b"])
    assert fit([14, 7, 7, 14], [48, 55, 57, 45.5], boards=[2, 1, 2, 1]) == named


def test_a_board_weighed_on_the_start_date_begins_with_its_own_weighing():
    own = fit([0, 7], [84.0, 57.0], the_intervals)
    np.testing.assert_array_equal(own.rate, fit([7], [57.0], the_intervals, green_mc=84.0).rate)


def test_the_setting_is_part_of_the_rate():
    days, mcs = [7, 14], [55.0, 45.5]
    np.testing.assert_allclose(
        fit(days, mcs, the_intervals, stack_factor=0.5).rate, 2 * fit(days, mcs, the_intervals).rate
    )


def test_each_weighing_is_judged_in_the_air_of_its_place():
    site = Climate.places({"yard": YARD, "shop": SHOP})
    days, mcs = [7, 14], [55.0, 45.5]
    assert fit(days, mcs, climate=site, place="shop") == fit(days, mcs)
    assert fit(days, mcs, climate=site, place="yard") == fit(days, mcs, climate=YARD)


@pytest.mark.parametrize(
    "other",
    [
        {"climate": Climate.places({"yard": YARD}), "place": "attic"},
        {"climate": Climate.dated([START + 3 * DAY], [70], [40])},
        {"start_date": START + 10 * DAY},
    ],
)
def test_unknown_air_or_a_weighing_before_the_start_gives_nan(other):
    assert np.isnan(fit([7], [55.0], **other))
    assert np.isnan(fit([7], [55.0], rate_spread, **other))
    assert fit([7], [55.0], intervals_used, **other) == 0


SITE = Climate.places({"yard": YARD, "shop": SHOP})
MOVE = {"place": "yard", "move_date": START + 18 * DAY, "move_place": "shop", "move_factor": 0.6}


def weighings(days, rate, **move):
    course = replace(STACK, climate=SITE, stack_factor=0.9, rate=rate, **move)
    return mc_forecast(course, START + np.asarray(days))


@pytest.mark.parametrize("rate", [0.5, 1.0, 1.8])
def test_weighings_before_and_after_a_move_find_the_rate_that_made_them(rate):
    days = np.arange(5, 41, 5)  # the move is inside an interval
    mcs = weighings(days, rate, **MOVE)
    found = fit(days, mcs, the_intervals, climate=SITE, stack_factor=0.9, **MOVE)
    # Daily steps against one closed form over the interval: section means instead of days.
    np.testing.assert_allclose(found.rate, rate, rtol=0.1)


def test_a_move_that_is_kept_quiet_makes_the_stack_look_fast():
    move = MOVE | {"move_factor": np.nan}
    days = np.arange(21, 41, 5)
    mcs = weighings(days, 1.0, **move)
    moved = fit(days, mcs, climate=SITE, stack_factor=0.9, **move)
    assert fit(days, mcs, climate=SITE, stack_factor=0.9, place="yard") > moved


def test_a_move_is_the_same_to_a_rate_as_dated_rows_of_one_place():
    steady = Climate.places({"yard": Climate.steady(60, 75), "shop": SHOP})
    dated = Climate.dated([START, START + 18 * DAY], [60, 70], [75, 40])
    move = {"place": "yard", "move_date": START + 18 * DAY, "move_place": "shop"}
    days, mcs = [7, 14, 21, 28], [58.0, 50.0, 41.0, 34.0]
    for function in (drying_rate, rate_spread, intervals_used):
        moved = fit(days, mcs, function, climate=steady, **move)
        assert moved == pytest.approx(fit(days, mcs, function, climate=dated), abs=1e-9)


def test_a_move_after_the_last_weighing_does_not_matter_to_the_rate():
    days, mcs = [7, 14], [58.0, 50.0]
    later = MOVE | {"move_date": START + 14 * DAY}
    assert fit(days, mcs, climate=SITE, **later) == fit(days, mcs, climate=SITE, place="yard")


def test_a_rate_with_a_move_to_an_unknown_place_is_unknown():
    attic = MOVE | {"move_place": "attic"}
    assert np.isnan(fit([7], [55.0], climate=SITE, **attic))
    assert fit([7], [55.0], intervals_used, climate=SITE, **attic) == 0
