"""The air of places, day by day."""

import numpy as np
import pytest

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import temperature_factor

DAY = np.timedelta64(1, "D")

TEMPS = np.array([28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32], dtype=float)
RHS = np.array([76, 74, 70, 66, 68, 70, 72, 74, 75, 72, 74, 78], dtype=float)
YARD = Climate.monthly(TEMPS, RHS)


@pytest.mark.parametrize("month", [1, 3, 5, 7, 8, 10, 12])
@pytest.mark.parametrize("year", [2023, 2024])
def test_noon_of_the_16th_is_the_middle_of_a_31_day_month(year, month):
    temp_f, rh_pct = YARD.daily(f"{year}-{month:02d}-16", 1)
    assert temp_f[0, 0] == pytest.approx(TEMPS[month - 1], abs=1e-9)
    assert rh_pct[0, 0] == pytest.approx(RHS[month - 1], abs=1e-9)


@pytest.mark.parametrize("month", [4, 6, 9, 11])
def test_the_middle_of_a_30_day_month_is_between_the_15th_and_the_16th(month):
    temp_f, _ = YARD.daily(f"2025-{month:02d}-15", 2)
    before, after = TEMPS[month - 2], TEMPS[month % 12]
    # Half a day from the middle, 30.5 days from one middle to the next on both sides.
    expected = TEMPS[month - 1] + 0.5 / 30.5 * (np.array([before, after]) - TEMPS[month - 1])
    np.testing.assert_allclose(temp_f[0], expected, atol=1e-9)


def test_the_year_is_a_circle():
    temp_f, _ = YARD.daily("2025-12-16", 32)
    np.testing.assert_allclose(temp_f[0], np.linspace(TEMPS[11], TEMPS[0], 32), atol=1e-9)


def test_a_leap_year_shifts_only_the_middle_of_february():
    leap, _ = YARD.daily("2024-01-01", 366)
    common, _ = YARD.daily("2023-01-01", 365)
    assert leap[0, 31 + 14] == pytest.approx(TEMPS[1], abs=1e-9)
    np.testing.assert_allclose(leap[0, :16], common[0, :16], atol=1e-9)
    np.testing.assert_allclose(leap[0, 75:], common[0, 74:], atol=1e-9)


def test_every_year_is_alike():
    first, _ = YARD.daily("2021-05-01", 200)
    later, _ = YARD.daily("2026-05-01", 200)
    np.testing.assert_allclose(first, later, atol=1e-9)


def test_days_do_not_depend_on_where_the_record_is_cut():
    whole, _ = YARD.daily("2025-01-01", 800)
    for first in (0, 17, 400, 799):
        part, _ = YARD.daily(np.datetime64("2025-01-01") + first * DAY, 1)
        assert part[0, 0] == whole[0, first]


def test_dated_rows_hold_until_the_next_and_the_last_holds_on():
    moved = Climate.dated(["2026-05-03", "2026-05-05"], [60, 70], [75, 45])
    temp_f, rh_pct = moved.daily("2026-05-01", 7)
    np.testing.assert_array_equal(temp_f, [[np.nan, np.nan, 60, 60, 70, 70, 70]])
    np.testing.assert_array_equal(rh_pct, [[np.nan, np.nan, 75, 75, 45, 45, 45]])


def test_dated_rows_may_come_in_any_order():
    rows = Climate.dated(["2026-05-05", "2026-05-03"], [70, 60], [45, 75])
    np.testing.assert_array_equal(rows.daily("2026-05-03", 3)[0], [[60, 60, 70]])


def test_a_record_goes_before_the_months_for_31_days_after_each_of_its_rows():
    record = (["2026-05-03", "2026-08-01"], [90.0, 95.0], [30.0, 35.0])
    temp_f, rh_pct = Climate.measured((TEMPS, RHS), record).daily("2026-05-01", 150)
    months = YARD.daily("2026-05-01", 150)
    held = np.zeros(150, dtype=bool)
    held[2:33] = held[92:123] = True  # May 3 and August 1, 31 days each; not the gap between them
    np.testing.assert_array_equal(temp_f[0, ~held], months[0][0, ~held])
    np.testing.assert_array_equal(rh_pct[0, ~held], months[1][0, ~held])
    np.testing.assert_array_equal(temp_f[0, held], [90.0] * 31 + [95.0] * 31)
    np.testing.assert_array_equal(rh_pct[0, held], [30.0] * 31 + [35.0] * 31)


def test_a_record_beside_months_leaves_no_day_without_air():
    measured = Climate.measured((TEMPS, RHS), (["2026-05-03"], [90.0], [30.0]))
    assert measured.has_air(["2020-01-01", "2026-05-03", "2040-01-01"]).all()


def test_steady_air_is_the_same_every_day():
    temp_f, rh_pct = Climate.steady(70, 45).daily("2023-11-30", 1000)
    assert set(temp_f.ravel()) == {70.0}
    assert set(rh_pct.ravel()) == {45.0}


def test_places_keep_their_order_and_their_kinds():
    site = Climate.places(
        {
            "yard": YARD,
            "shop": Climate.steady(70, 45),
            "shed": Climate.dated(["2026-01-01"], [50], [60]),
        }
    )
    temp_f, _ = site.daily("2026-01-16", 3)
    assert temp_f.shape == (3, 3)
    np.testing.assert_array_equal(temp_f[0], YARD.daily("2026-01-16", 3)[0][0])
    np.testing.assert_array_equal(temp_f[1:], [[70] * 3, [50] * 3])


@pytest.mark.parametrize(
    ("place", "index"),
    [("yard", 0), ("SHOP", 1), (" shop ", 1), ("attic", -1), ("", -1), (None, -1)],
)
def test_place_index(place, index):
    site = Climate.places({"yard": YARD, "shop": Climate.steady(70, 45)})
    assert site.place_index(place) == index


def test_place_index_has_the_shape_of_the_names():
    site = Climate.places({"yard": YARD, "shop": Climate.steady(70, 45)})
    np.testing.assert_array_equal(site.place_index([["shop"], ["yard"]]), [[1], [0]])


@pytest.mark.parametrize("place", ["yard", "", None])
def test_one_place_without_a_name_serves_everything(place):
    assert YARD.place_index(place) == 0


def test_one_place_with_a_name_needs_no_asking_but_answers_to_no_other():
    site = Climate.places({"yard": YARD})
    assert site.place_index() == 0
    assert site.place_index("shop") == -1


def test_emc_and_clock_are_those_of_the_day():
    temp_f, rh_pct = YARD.daily("2026-02-20", 30)
    emc_by_day, clock = YARD.emc_and_clock("2026-02-20", 30)
    np.testing.assert_array_equal(emc_by_day, emc(temp_f, rh_pct))
    np.testing.assert_array_equal(clock, temperature_factor(temp_f))


@pytest.mark.parametrize(
    ("day", "has_air"),
    [("2026-05-02", False), ("2026-05-03", True), ("2099-01-01", True), ("NaT", False)],
)
def test_a_dated_record_has_air_from_its_first_row_on(day, has_air):
    moved = Climate.dated(["2026-05-05", "2026-05-03"], [70, 60], [45, 75])
    assert moved.has_air(day) == has_air
    if day != "NaT":
        assert np.isfinite(moved.daily(day, 1)[0][0, 0]) == has_air


def test_months_have_air_on_every_day():
    days = np.array(["1900-03-01", "2026-05-02", "9999-12-31", "NaT"], "datetime64[D]")
    np.testing.assert_array_equal(YARD.has_air(days), [True, True, True, False])


def test_has_air_goes_by_place_row_by_row():
    site = Climate.places({"yard": YARD, "shed": Climate.dated(["2026-05-03"], [50], [60])})
    found = site.has_air("2026-05-02", ["yard", "Shed", "attic"])
    np.testing.assert_array_equal(found, [True, False, False])
    days = np.array(["2026-05-02", "2026-05-03"], "datetime64[D]")
    np.testing.assert_array_equal(site.has_air(days, "shed"), [False, True])
