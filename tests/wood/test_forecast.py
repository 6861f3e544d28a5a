"""Forecasts of moisture content and of the day on which a stack is ready."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.curve import lowest_emc
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import drying_days, mc_forecast, ready_date, ready_days

DAY = np.timedelta64(1, "D")

OAK, WALNUT, POPLAR = "Oak, northern red", "Walnut, black", "Yellow-poplar"
TEMPS = np.array([28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32], dtype=float)
RHS = np.array([76, 74, 70, 66, 68, 70, 72, 74, 75, 72, 74, 78], dtype=float)
YARD = Climate.monthly(TEMPS, RHS)
SHOP = Climate.steady(70, 45)
SITE = Climate.places({"yard": YARD, "shop": SHOP})
STACK = DryingCourse(OAK, 1.125, 80, "2025-04-15", YARD)


def days_ready(target_mc=20, band="likely", **other):
    return ready_days(replace(STACK, **other), target_mc, band)


def day_ready(target_mc=20, band="likely", **other):
    return ready_date(replace(STACK, **other), target_mc, band)


def mc_on(forecast_date, **other):
    return mc_forecast(replace(STACK, **other), forecast_date)


@pytest.mark.parametrize(
    ("sooner", "later"),
    [
        ({"climate": Climate.monthly(TEMPS, RHS - 5)}, {}),
        ({}, {"thickness_in": 1.25}),
        ({}, {"climate": Climate.monthly(TEMPS - 5, RHS)}),
        ({"rate": 1.2}, {}),
        ({}, {"stack_factor": 0.9}),
        ({"target_mc": 25}, {}),
        ({"green_mc": 70}, {}),
        ({"species": POPLAR}, {"species": POPLAR, "thickness_in": 2.25}),
        ({"start_date": "2025-05-01"}, {"start_date": "2025-10-01"}),
        ({}, {"from_date": "2025-05-15", "from_mc": 60}),
    ],
)
def test_direction_of_ready_days(sooner, later):
    assert days_ready(**sooner) < days_ready(**later)


@pytest.mark.parametrize(
    ("drier", "wetter"),
    [
        ({"climate": Climate.monthly(TEMPS, RHS - 5)}, {}),
        ({}, {"thickness_in": 1.25}),
        ({}, {"climate": Climate.monthly(TEMPS - 5, RHS)}),
        ({"rate": 1.2}, {}),
        ({}, {"stack_factor": 0.9}),
        ({"from_date": "2025-05-15", "from_mc": 30}, {"from_date": "2025-05-15", "from_mc": 40}),
    ],
)
def test_direction_of_mc_forecast(drier, wetter):
    assert mc_on("2025-06-15", **drier) < mc_on("2025-06-15", **wetter)


@pytest.mark.parametrize(
    ("sooner", "later"),
    [((70, 40), (70, 50)), ((80, 45), (70, 45)), ((100, 40), (40, 40))],
)
def test_direction_of_drying_days(sooner, later):
    assert drying_days(OAK, 1.125, 80, 20, *sooner) < drying_days(OAK, 1.125, 80, 20, *later)


def test_drying_days_are_the_ready_days_of_a_steady_climate():
    assert drying_days(WALNUT, 2.25, 85, 12, 70, 45, 0.9, 0.8) == ready_days(
        DryingCourse(WALNUT, 2.25, 85, "2025-01-01", SHOP, 0.9, 0.8), 12
    )


def test_before_the_start_there_is_no_forecast_and_on_it_the_wood_is_green():
    dates = np.array(["2025-04-14", "2025-04-15", "2025-04-16"], dtype="datetime64[D]")
    before, start, after = mc_on(dates)
    assert np.isnan(before)
    assert start == 80
    assert after < 80


def test_a_weighing_is_where_the_forecast_begins():
    weighing = {"from_date": "2025-05-15", "from_mc": 47.0}
    assert mc_on("2025-05-15", **weighing) == 47.0
    assert mc_on("2025-05-16", **weighing) < 47.0
    assert np.isnan(mc_on("2025-05-14", **weighing))


def test_a_weighing_that_says_what_was_forecast_changes_nothing():
    forecast = mc_on("2025-05-15")
    weighing = {"from_date": "2025-05-15", "from_mc": forecast}
    assert mc_on("2025-06-15", **weighing) == pytest.approx(mc_on("2025-06-15"), abs=1e-12)
    assert days_ready(**weighing) == pytest.approx(days_ready(), abs=1e-9)


def test_half_a_weighing_is_none():
    assert days_ready(from_mc=40) == days_ready() == days_ready(from_date="2025-05-15")


@pytest.mark.parametrize("band", ["early", "likely", "late"])
@pytest.mark.parametrize("from_mc", [18.0, 20.0])
def test_a_stack_weighed_at_its_target_was_ready_that_day(band, from_mc):
    assert days_ready(from_date="2025-06-15", from_mc=from_mc, band=band) == 61


def test_green_stock_below_its_target_is_ready_at_the_start():
    assert days_ready(green_mc=18) == 0
    assert str(day_ready(green_mc=18)) == "2025-04-15"


def test_ready_date_is_the_first_day_at_the_target():
    date = day_ready()
    assert mc_on(date) <= 20 < mc_on(date - DAY)


def test_ready_days_lie_on_the_line_between_the_two_days():
    days = days_ready()
    last = np.datetime64("2025-04-15") + int(days) * DAY
    above, below = mc_on(last), mc_on(last + DAY)
    assert above + (days % 1) * (below - above) == pytest.approx(20)


@pytest.mark.parametrize("start", ["2023-12-20", "2024-12-20"])
def test_a_stack_begun_in_december_waits_for_spring(start):
    year = int(start[:4]) + 1
    ready = day_ready(start_date=start, stack_factor=0.9)
    assert np.datetime64(f"{year}-04-01") < ready < np.datetime64(f"{year}-07-01")


def test_the_29th_of_february_is_a_day_of_drying():
    on_28, on_29, on_1 = mc_on(
        np.array(["2024-02-28", "2024-02-29", "2024-03-01"], dtype="datetime64[D]"),
        start_date="2024-02-01",
    )
    assert on_28 > on_29 > on_1
    starts = np.array(["2024-02-20", "2023-02-20"], dtype="datetime64[D]")
    leap, common = day_ready(start_date=starts, climate=SHOP) - starts
    assert leap == common


@pytest.mark.parametrize("band", ["early", "likely", "late"])
def test_a_target_below_the_driest_air_is_not_reached(band):
    target = lowest_emc(YARD, None, "2025-04-15") - 1.0
    assert days_ready(target_mc=target, band=band) == np.inf
    assert np.isnat(day_ready(target, band))


def test_a_target_that_takes_longer_than_five_years_is_not_reached():
    slow = {"thickness_in": 4.0, "stack_factor": 0.6}
    assert days_ready(rate=0.2, **slow) == np.inf
    assert days_ready(rate=1.0, **slow) < 1826


def test_five_years_count_from_the_weighing_and_without_one_from_the_start():
    # Stock that stood in a yard for years and is brought indoors dries there as any other does.
    weighing = {"from_date": "2031-04-01", "from_mc": 60.0}
    young = days_ready(start_date="2031-03-31", **weighing)
    assert days_ready(**weighing) == pytest.approx(2176 + young)
    assert days_ready(from_date="2031-04-01", from_mc=19.0) == 2177
    assert days_ready(target_mc=5, **weighing) == np.inf


def test_drying_days_not_reached():
    assert drying_days(OAK, 1.125, 80, emc(70, 45) - 0.1, 70, 45) == np.inf


def test_a_move_into_the_shop_keeps_the_green_moisture_content():
    moved = Climate.dated(["2025-04-15", "2025-06-15"], [60, 70], [75, 45])
    stayed = Climate.dated(["2025-04-15"], [60], [75])
    at_move = mc_on("2025-06-15", climate=stayed)
    assert mc_on("2025-06-15", climate=moved) == at_move
    assert mc_on("2025-07-15", climate=moved) < mc_on("2025-07-15", climate=stayed)
    # Known from a weighing at the move, the same stack in the shop's air alone dries the same.
    weighed = mc_on("2025-07-15", climate=SHOP, from_date="2025-06-15", from_mc=at_move)
    assert weighed == mc_on("2025-07-15", climate=moved)
    # Taken for stock of that moisture throughout, it would lose its wet core too fast.
    uniform = mc_on("2025-07-15", start_date="2025-06-15", climate=SHOP, green_mc=at_move)
    assert uniform < weighed


def test_dry_stock_takes_up_moisture_in_damp_air():
    months = np.array(["2025-12-01", "2026-01-01", "2026-02-01"], dtype="datetime64[D]")
    mcs = mc_on(months, start_date="2025-11-01", green_mc=7)
    assert np.all(np.diff([7, *mcs]) > 0)
    assert mcs[-1] < emc(30, 75)


def test_before_the_first_dated_row_nothing_is_known():
    record = Climate.dated(["2025-05-01"], [70], [45])
    assert np.isnan(mc_on("2025-06-15", climate=record))
    assert np.isnan(days_ready(climate=record))
    assert np.isnat(day_ready(climate=record))
    assert days_ready(climate=record, start_date="2025-05-01") < 60


def test_an_unknown_place_or_band_gives_nothing():
    assert np.isnan(days_ready(climate=SITE, place="attic"))
    assert np.isnan(mc_on("2025-06-15", climate=SITE))
    assert np.isnan(days_ready(band="sure"))


def test_each_row_dries_in_its_own_place():
    yard, shop = days_ready(climate=SITE, place=["yard", "shop"])
    assert yard == days_ready(climate=YARD)
    assert shop == days_ready(climate=SHOP)


def test_spread_not_stated_is_wider_for_an_estimated_constant():
    assert days_ready(band="late") == days_ready(band="late", rate_spread=0.35)
    alder = {"species": "Alder, red", "band": "late"}
    assert days_ready(**alder) == days_ready(rate_spread=0.5, **alder)


def test_a_wider_spread_gives_a_wider_band():
    narrow = days_ready(rate_spread=0.1, band=["early", "late"])
    wide = days_ready(rate_spread=0.4, band=["early", "late"])
    assert wide[0] < narrow[0] < narrow[1] < wide[1]


stacks = st.fixed_dictionaries(
    {
        "species": st.sampled_from([OAK, WALNUT, POPLAR]),
        "thickness_in": st.sampled_from([1.125, 1.375, 2.25]),
        "green_mc": st.floats(50, 110),
        "start_date": st.dates(
            np.datetime64("2023-01-01").item(), np.datetime64("2026-12-31").item()
        ).map(np.datetime64),
        "target_mc": st.floats(14, 25),
        "stack_factor": st.sampled_from([0.6, 0.9, 1.0]),
        "rate": st.floats(0.5, 1.5),
        "rate_spread": st.sampled_from([0.09, 0.35, np.nan]),
    }
)


@settings(deadline=None, max_examples=40)
@given(stacks, st.booleans())
def test_early_is_not_after_likely_nor_likely_after_late(stack, weighed):
    if weighed:
        stack["from_date"] = stack["start_date"] + 20 * DAY
        stack["from_mc"] = 0.7 * stack["green_mc"]
    early, likely, late = days_ready(band=["early", "likely", "late"], **stack)
    assert early <= likely <= late


def random_column(rows):
    chance = np.random.default_rng(20)
    start = np.datetime64("2022-01-01") + chance.integers(0, 1500, rows)
    weighed = chance.random(rows) < 0.4
    return {
        "species": chance.choice([OAK, WALNUT, POPLAR], rows),
        "thickness_in": chance.uniform(0.8, 3, rows),
        "green_mc": chance.uniform(10, 110, rows),
        "start_date": start,
        "climate": SITE,
        "stack_factor": chance.choice([0.6, 0.9, 1.0], rows),
        "rate": chance.uniform(0.3, 2, rows),
        "from_date": np.where(weighed, start + 25 * DAY, np.datetime64("NaT", "D")),
        "from_mc": np.where(weighed, chance.uniform(15, 60, rows), np.nan),
        "place": chance.choice(["yard", "shop", "attic"], rows, p=[0.5, 0.4, 0.1]),
    }, chance


def row_of(column, row):
    figures = {name: values[row] for name, values in column.items() if name != "climate"}
    return DryingCourse(climate=SITE, **figures)


def test_a_column_of_ready_days_is_exactly_its_rows():
    column, chance = random_column(60)
    target = chance.uniform(8, 22, 60)
    band = chance.choice(["early", "likely", "late"], 60)
    rows = [ready_days(row_of(column, row), target[row], band[row]) for row in range(60)]
    together = ready_days(DryingCourse(**column), target, band)
    assert np.isinf(together).any()
    assert np.isnan(together).any()
    np.testing.assert_array_equal(together, rows)


def test_a_column_of_mc_forecasts_is_exactly_its_rows():
    column, chance = random_column(60)
    date = column["start_date"] + chance.integers(-5, 900, 60)
    rows = [mc_forecast(row_of(column, row), date[row]) for row in range(60)]
    together = mc_forecast(DryingCourse(**column), date)
    assert np.isfinite(together).sum() > 40
    np.testing.assert_array_equal(together, rows)


def test_results_have_the_shape_of_the_arguments():
    assert np.ndim(days_ready()) == 0
    assert days_ready(thickness_in=[[1.0, 1.125], [1.25, 1.5]]).shape == (2, 2)
    assert mc_on(np.array([["2025-05-01"]], dtype="datetime64[D]")).shape == (1, 1)
    assert day_ready(thickness_in=[1.0, 2.0]).dtype == "datetime64[D]"
