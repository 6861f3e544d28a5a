"""A stack that moves: yard first, heated room later."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.curve import drying_curve, lowest_emc
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import mc_forecast, ready_date, ready_days

DAY = np.timedelta64(1, "D")

OAK, WALNUT, POPLAR = "Oak, northern red", "Walnut, black", "Yellow-poplar"
YARD = Climate.monthly(
    [28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32],
    [76, 74, 70, 66, 68, 70, 72, 74, 75, 72, 74, 78],
)
BASEMENT = Climate.monthly(
    [58, 58, 60, 62, 65, 68, 70, 70, 68, 65, 61, 59],
    [40, 40, 44, 50, 55, 60, 62, 62, 58, 52, 46, 42],
)
PORCH, ROOM = Climate.steady(60, 75), Climate.steady(78, 38)
SITE = Climate.places({"yard": YARD, "basement": BASEMENT, "porch": PORCH, "room": ROOM})
START = np.datetime64("2025-03-01")
BANDS = ["early", "likely", "late"]
STACK = DryingCourse(OAK, 1.125, 80.0, START, SITE, place="yard")
TO_ROOM = {"place": "yard", "move_date": START + 90 * DAY, "move_place": "room"}


def days_ready(target_mc=9, band="likely", **other):
    return ready_days(replace(STACK, **other), target_mc, band)


def mc_on(days, **other):
    return mc_forecast(replace(STACK, **other), START + np.asarray(days))


def as_dated_rows(place, move_place, move_day, days):
    """The air of two places, one after the other, as daily rows of one place."""
    temp_f, rh_pct = SITE.daily(START, days)
    row, next_row = SITE.place_index([place, move_place])
    moved = np.arange(days) >= move_day
    return Climate.dated(
        START + np.arange(days),
        np.where(moved, temp_f[next_row], temp_f[row]),
        np.where(moved, rh_pct[next_row], rh_pct[row]),
    )


@pytest.mark.parametrize(
    ("place", "move_place"), [("porch", "room"), ("yard", "basement"), ("yard", "room")]
)
@pytest.mark.parametrize("move_day", [0, 1, 90, 300])
def test_a_move_is_the_same_air_as_dated_rows_of_one_place(place, move_place, move_day):
    move = {"place": place, "move_date": START + move_day * DAY, "move_place": move_place}
    one_place = {"place": None, "climate": as_dated_rows(place, move_place, move_day, 1830)}
    days = np.arange(0, 500, 7)
    np.testing.assert_allclose(mc_on(days, **move), mc_on(days, **one_place), atol=1e-9)
    moved = days_ready(band=BANDS, target_mc=10, **move)
    np.testing.assert_allclose(moved, days_ready(band=BANDS, target_mc=10, **one_place), atol=1e-9)
    curve = drying_curve(replace(STACK, **move), 10)
    np.testing.assert_allclose(
        np.array(curve[1:]), drying_curve(replace(STACK, **one_place), 10)[1:], atol=1e-9
    )


def test_two_dated_rows_of_steady_air_are_a_move():
    rows = Climate.dated([START, START + 40 * DAY], [60, 78], [75, 38])
    move = {"place": "porch", "move_date": START + 40 * DAY, "move_place": "room"}
    days = np.arange(120)
    np.testing.assert_allclose(
        mc_on(days, **move), mc_on(days, climate=rows, place=None), atol=1e-9
    )


def test_the_day_of_the_move_is_the_first_in_the_second_place():
    moved, stayed = mc_on([89, 90, 91], **TO_ROOM), mc_on([89, 90, 91])
    np.testing.assert_array_equal(moved[:2], stayed[:2])
    assert moved[2] < stayed[2]


def test_only_the_air_and_the_stack_factor_change_at_a_move():
    # A weighing that says what was forecast, in the second place with the green MC kept.
    weighing = {"from_date": START + 90 * DAY, "from_mc": mc_on(90, stack_factor=0.9)}
    there = mc_on([90, 120, 180], place="room", stack_factor=0.6, **weighing)
    moved = mc_on([90, 120, 180], stack_factor=0.9, move_factor=0.6, **TO_ROOM)
    np.testing.assert_allclose(moved, there, atol=1e-9)


def test_a_factor_left_out_stays_as_it_was():
    assert days_ready(stack_factor=0.7, **TO_ROOM) == days_ready(
        stack_factor=0.7, move_factor=0.7, **TO_ROOM
    )
    assert days_ready(move_factor=0.6, **TO_ROOM) > days_ready(**TO_ROOM)


@pytest.mark.parametrize("move_place", [None, "", "yard"])
def test_a_move_to_the_same_place_changes_the_stack_factor_only(move_place):
    still = {"move_date": START + 90 * DAY, "move_place": move_place}
    assert days_ready(target_mc=15, **still) == days_ready(target_mc=15)
    assert days_ready(target_mc=15, move_factor=0.6, **still) > days_ready(target_mc=15)


def test_a_move_before_the_last_weighing_leaves_only_the_second_place():
    weighing = {"from_date": START + 120 * DAY, "from_mc": 30.0}
    there = days_ready(place="room", stack_factor=0.6, **weighing)
    assert days_ready(move_factor=0.6, **TO_ROOM, **weighing) == pytest.approx(there, abs=1e-9)


def test_a_move_after_the_stack_is_ready_changes_nothing():
    ready = days_ready(target_mc=15, band=BANDS)
    for band, days in zip(BANDS, ready, strict=True):
        late = TO_ROOM | {"move_date": START + int(np.ceil(days)) * DAY, "move_factor": 0.1}
        assert days_ready(target_mc=15, band=band, **late) == days


def test_no_date_is_no_move():
    never = {"move_date": "NaT", "move_place": "room", "move_factor": 0.5}
    assert days_ready(target_mc=15, **never) == days_ready(target_mc=15)


def test_an_unknown_second_place_gives_nothing_where_there_is_a_move():
    attic = {"move_date": [START + 30 * DAY, np.datetime64("NaT", "D")], "move_place": "attic"}
    moved, stays = days_ready(target_mc=15, **attic)
    assert np.isnan(moved)
    assert stays == days_ready(target_mc=15)


DRYINGS = st.fixed_dictionaries(
    {
        "species": st.sampled_from([OAK, WALNUT, POPLAR]),
        "thickness_in": st.sampled_from([1.125, 1.375, 2.25]),
        "green_mc": st.floats(40, 110),
        "target_mc": st.floats(8, 25),
        "rate": st.floats(0.5, 1.5),
        "band": st.sampled_from(BANDS),
    }
)


@settings(deadline=None, max_examples=60)
@given(DRYINGS, st.integers(0, 500), st.integers(1, 100))
def test_warmer_drier_air_is_never_later_and_the_sooner_the_better(stack, day, wait):
    # The room is warmer and drier than the yard on every day of the year.
    dates = np.array([START + day * DAY, START + (day + wait) * DAY, np.datetime64("NaT", "D")])
    sooner, later, never = days_ready(**stack | TO_ROOM | {"move_date": dates})
    assert sooner <= later <= never


def test_the_room_is_warmer_and_drier_than_the_yard_on_every_day():
    temp_f, rh_pct = SITE.daily(START, 366)
    assert np.all(temp_f[3] > temp_f[0])
    assert np.all(emc(temp_f[3], rh_pct[3]) < emc(temp_f[0], rh_pct[0]))


def random_column(rows):
    chance = np.random.default_rng(31)
    start = START + chance.integers(0, 700, rows)
    weighed, moves = chance.random(rows) < 0.4, chance.random(rows) < 0.6
    no_date = np.datetime64("NaT", "D")
    return {
        "species": chance.choice([OAK, WALNUT, POPLAR], rows),
        "thickness_in": chance.uniform(0.8, 3, rows),
        "green_mc": chance.uniform(10, 110, rows),
        "start_date": start,
        "stack_factor": chance.choice([0.6, 0.9, 1.0], rows),
        "rate": chance.uniform(0.3, 2, rows),
        "rate_spread": chance.choice([np.nan, 0.1], rows),
        "from_date": np.where(weighed, start + 25 * DAY, no_date),
        "from_mc": np.where(weighed, chance.uniform(15, 60, rows), np.nan),
        "place": chance.choice(["yard", "room", "attic"], rows, p=[0.5, 0.4, 0.1]),
        "move_date": np.where(moves, start + chance.integers(0, 200, rows), no_date),
        "move_place": chance.choice(
            ["room", "basement", "", "attic"], rows, p=[0.4, 0.4, 0.1, 0.1]
        ),
        "move_factor": chance.choice([np.nan, 0.6, 1.0], rows),
    }, chance


@pytest.mark.parametrize("function", [ready_days, mc_forecast])
def test_a_column_of_moves_is_exactly_its_rows(function):
    column, chance = random_column(80)
    band = chance.choice(BANDS, 80)
    if function is ready_days:
        asked = chance.uniform(8, 22, 80)
    else:
        asked = column["start_date"] + chance.integers(25, 500, 80)
    together = function(replace(STACK, **column), asked, band)
    rows = [
        function(
            replace(STACK, **{name: values[row] for name, values in column.items()}),
            asked[row],
            band[row],
        )
        for row in range(80)
    ]
    assert 8 < np.isnan(together).sum() < 30
    np.testing.assert_array_equal(together, rows)


@pytest.mark.parametrize("weighing", [{}, {"from_date": START + 30 * DAY, "from_mc": 50.0}])
def test_single_forecasts_with_a_band_are_the_rows_of_a_curve(weighing):
    other = {"rate": 0.8, "rate_spread": 0.12, "move_factor": 0.6}
    stack = replace(STACK, **TO_ROOM | weighing | other)
    curve = drying_curve(stack, 9)
    for band, column in zip(BANDS, (curve.early, curve.likely, curve.late), strict=True):
        single = [mc_forecast(stack, day, band) for day in curve.date]
        np.testing.assert_array_equal(single, column)


@pytest.mark.parametrize("band", BANDS)
def test_on_the_ready_date_of_a_band_its_forecast_is_at_the_target(band):
    stack = replace(STACK, rate_spread=0.2, **TO_ROOM)
    ready = ready_date(stack, 9, band)
    before, there = mc_forecast(stack, [ready - DAY, ready], band)
    assert there <= 9 < before


def test_the_lowest_emc_of_a_column_takes_one_record_of_air(monkeypatch):
    asked = []
    work_out = Climate.emc_and_clock

    def count(climate, first_day, days):
        asked.append(days)
        return work_out(climate, first_day, days)

    starts = START + np.arange(500)
    rows = [lowest_emc(SITE, "yard", start) for start in starts[::50]]
    monkeypatch.setattr(Climate, "emc_and_clock", count)
    np.testing.assert_array_equal(lowest_emc(SITE, "yard", starts)[::50], rows)
    assert asked == [1826 + 499]
