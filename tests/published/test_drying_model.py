"""The drying model against its own reference figures and against published drying times.

The model is the diffusion form of Simpson and Hart (2000, from memory) in a closed-form daily
step. Its reference figures (a table day by day, a worked fit, modelled days) were worked out apart
from this code when the model was chosen, and checked there against finite differences; they hold
to the digits given. The published times are from the sources beside them; they are approximate,
their climates are monthly means from memory, and the model's share of error is given for each.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from lumbercalc.wood.air import emc
from lumbercalc.wood.calibration import drying_rate, rate_spread
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import temperature_factor
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import drying_days, mc_forecast, ready_days
from lumbercalc.wood.intervals import intervals

DAY = np.timedelta64(1, "D")

RED_OAK, WHITE_OAK, POPLAR = "Oak, northern red", "Oak, white", "Yellow-poplar"
WALNUT, CHERRY, SUGAR_MAPLE = "Walnut, black", "Cherry, black", "Maple, sugar (hard)"
START = np.datetime64("2026-05-01")

# Monthly means, temperature [deg F] and relative humidity [%], January to December: from memory,
# Upper Michigan estimated.
CLIMATES = {
    "southern Wisconsin": (
        [16, 21, 33, 46, 57, 67, 72, 69, 60, 49, 36, 22],
        [74, 73, 72, 67, 66, 69, 71, 75, 76, 73, 76, 78],
    ),
    "central North Carolina": (
        [39, 42, 50, 59, 67, 74, 78, 77, 71, 60, 51, 43],
        [67, 64, 65, 63, 70, 72, 74, 76, 75, 72, 68, 67],
    ),
    "Upper Michigan": (
        [13, 14, 24, 38, 50, 58, 64, 63, 55, 44, 32, 19],
        [79, 77, 74, 67, 66, 70, 73, 77, 79, 78, 82, 82],
    ),
    "eastern Missouri": (
        [29, 34, 45, 57, 66, 75, 80, 78, 70, 58, 46, 34],
        [74, 72, 69, 66, 68, 68, 70, 72, 72, 69, 72, 75],
    ),
}
SITE = Climate.places({name: Climate.monthly(*air) for name, air in CLIMATES.items()})
EVERY_DAY = np.datetime64("2025-01-01") + np.arange(365)


def humidity_for(temp_f, emc_pct):
    return brentq(lambda rh_pct: float(emc(temp_f, rh_pct)) - emc_pct, 1, 99)


# 70 deg F and 7.7 % EMC: the air of the reference table and of the worked fit.
AIR = Climate.steady(70, humidity_for(70, 7.7))


@pytest.mark.parametrize(
    ("day", "mc"),
    [
        *[(1, 68.474), (2, 63.700), (3, 60.037), (5, 54.228), (10, 43.553), (15, 36.191)],
        *[(20, 30.611), (30, 22.875), (40, 17.959), (60, 12.550), (80, 10.045), (100, 8.846)],
    ],
)
def test_reference_table_day_by_day(day, mc):
    # Red oak 1.125 in, 80 % green, steady air; three decimals given.
    oak = DryingCourse(RED_OAK, 1.125, 80, START, AIR)
    assert mc_forecast(oak, START + day * DAY) == pytest.approx(mc, abs=5e-4)


def days_by_diffusion(thickness_in, green_mc, target_mc, temp_f, emc_pct, cells=60):
    """Days by the diffusion equation itself, solved by SciPy on half a board of finite volumes."""
    width = 2.54 * thickness_in / 2 / cells
    faces = np.full(cells + 1, width)
    faces[-1] = width / 2

    def change(_, mc):
        # Surface at EMC, nothing passes the middle; diffusion rises with the moisture at each face.
        inner = np.concatenate([mc[:1], mc])
        outer = np.concatenate([mc, [emc_pct]])
        cold = np.exp(-5280 / ((temp_f - 32) / 1.8 + 273.15))
        diffusion = 19.2 * 86400 * cold * np.exp(1.15 * (inner + outer) / 200)
        return np.diff(diffusion * (outer - inner) / faces) / width

    def is_ready(_, mc):
        return mc.mean() - target_mc

    is_ready.terminal = True
    end = solve_ivp(
        change, (0, 2000), np.full(cells, green_mc), "BDF", events=is_ready, rtol=1e-6, atol=1e-6
    )
    return end.t[-1]


@pytest.mark.parametrize(
    ("target_mc", "tolerance"),
    # About 1 % in steady air is stated for a whole drying. On the way, where the two solutions for
    # a slab are joined, the daily step runs ahead: by 0.8 to 2.3 % of the time in these cases.
    [(40, 0.025), (20, 0.01), (16, 0.01), (12, 0.01)],
)
@pytest.mark.parametrize(("thickness_in", "green_mc"), [(1.125, 80), (2.25, 80), (1.125, 60)])
@pytest.mark.parametrize(("temp_f", "emc_pct"), [(70, 7.7), (95, 7.7), (50, 10)])
def test_daily_step_is_the_diffusion_equation(
    thickness_in, green_mc, target_mc, tolerance, temp_f, emc_pct
):
    days = drying_days(
        RED_OAK, thickness_in, green_mc, target_mc, temp_f, humidity_for(temp_f, emc_pct)
    )
    diffusion = days_by_diffusion(thickness_in, float(green_mc), target_mc, temp_f, emc_pct)
    assert days == pytest.approx(diffusion, rel=tolerance)


WEIGHED = DryingCourse(RED_OAK, 1.125, 80.0, START, AIR)
FOUND = intervals(WEIGHED, START + np.array([7, 14, 21, 28]), [55.0, 45.5, 38.5, 33.0])


def test_worked_fit_interval_by_interval():
    assert FOUND.rate.round(3).tolist() == [0.672, 0.608, 0.624, 0.635]


def test_worked_fit_of_the_stack():
    assert round(float(drying_rate(FOUND, RED_OAK)), 3) == 0.658
    assert round(float(rate_spread(FOUND, RED_OAK)), 3) == 0.091


@pytest.mark.parametrize(("band", "days"), [("early", 95.6), ("likely", 123.5), ("late", 166.2)])
def test_worked_fit_forecast_to_10_percent(band, days):
    course = replace(
        WEIGHED,
        rate=drying_rate(FOUND, RED_OAK),
        rate_spread=rate_spread(FOUND, RED_OAK),
        from_date=START + 28 * DAY,
        from_mc=33.0,
    )
    assert round(float(ready_days(course, 10, band)), 1) == days


# Case: species, thickness as sawn [in], from and to [% MC], climate, start, stack factor;
# model [days]; published, low and high [days].
OUTDOORS = {
    # A Forest Service air-drying report as summed up in a forum post, second hand; place assumed.
    "red oak January": (
        (RED_OAK, 1.125, 80, 20, "southern Wisconsin", "2025-01-01", 0.9), 152, (140, 152)
    ),
    "red oak June": (
        (RED_OAK, 1.125, 80, 20, "southern Wisconsin", "2025-06-01", 0.9), 55, (55, 65)
    ),
    # A page that gives 2 to 3 months for 1-inch red oak, second hand; climate and date assumed.
    "red oak April": (
        (RED_OAK, 1.125, 80, 20, "eastern Missouri", "2025-04-01", 0.9), 65, (60, 90)
    ),
    # A page that gives about 180 days of good weather for 8/4 walnut, second hand; the same.
    "walnut 8/4": (
        (WALNUT, 2.25, 85, 20, "eastern Missouri", "2025-04-01", 0.9), 152, (170, 190)
    ),
    # A sawmill operator in North Carolina, 45 and 112 days, second hand. The model is far slower.
    "yellow-poplar 8/4 September": (
        (POPLAR, 2.25, 95, 20, "central North Carolina", "2025-09-01", 0.9), 137, (42, 48)
    ),
    "yellow-poplar 8/4 November": (
        (POPLAR, 2.25, 95, 20, "central North Carolina", "2025-11-01", 0.9), 176, (106, 118)
    ),
}  # fmt: skip


def outdoor_days(species, thickness_in, green_mc, target_mc, place, start, stack_factor):
    course = DryingCourse(species, thickness_in, green_mc, start, SITE, stack_factor, place=place)
    return ready_days(course, target_mc)


@pytest.mark.parametrize("case", OUTDOORS)
def test_model_days_outdoors(case):
    # Given to the whole day; monthly air may be laid out over the days in slightly other ways.
    inputs, model_days, _ = OUTDOORS[case]
    assert outdoor_days(*inputs) == pytest.approx(model_days, abs=1)


@pytest.mark.parametrize("case", ["red oak January", "red oak June", "red oak April", "walnut 8/4"])
def test_published_times_outdoors(case):
    # Within 15 % of the published times: the spread of a yard's rate is 35 %.
    inputs, _, (low, high) = OUTDOORS[case]
    assert 0.85 * low <= outdoor_days(*inputs) <= 1.15 * high


@pytest.mark.parametrize("case", ["yellow-poplar 8/4 September", "yellow-poplar 8/4 November"])
def test_yellow_poplar_8_4_is_forecast_later_than_published(case):
    # A known miss on the cautious side: those times want a constant near 80 (the table has 50).
    inputs, _, (_, high) = OUTDOORS[case]
    assert outdoor_days(*inputs) > 1.4 * high


def test_sugar_maple_in_upper_michigan():
    # Peck, FPL Report 2086 (1957), summary: 40 days at best, 205 at worst, about 90 in the mean.
    # The model gives 52, 200 and 119 over every start of the year; the loads were not spread so.
    days = outdoor_days(SUGAR_MAPLE, 1.125, 68, 20, "Upper Michigan", EVERY_DAY, 0.9)
    assert [days.min(), days.max(), days.mean()] == pytest.approx([52, 200, 119], abs=1)
    assert days.max() == pytest.approx(205, rel=0.05)


@pytest.mark.parametrize(
    ("inputs", "model_days", "published_days", "tolerance"),
    [
        # Miceli, Rosen and Spalt, NC-228 (1982), abstract: cherry indoors, below 10 % in 90 days.
        ((CHERRY, 1.125, 58, 10, 70, 40, 0.6), 94, 90, 0.1),
        # Bergman, FPL-RN-0310 (2008), abstract; 100 deg F and 5 % EMC assumed.
        ((RED_OAK, 1.125, 82.9, 6.1, 100, humidity_for(100, 5.0), 1), 40, 45, 0.15),
        # The same, mixed air-dried 4/4, taken as red oak.
        ((RED_OAK, 1.125, 18.4, 7.3, 100, humidity_for(100, 5.0), 1), 17, 15, 0.15),
        # A woodland-management page, second hand: 25 mm in a 40 C box, 5 to 7 days; species and
        # end not stated, taken as red oak to 9 %. A known miss on the cautious side (+74 %).
        ((RED_OAK, 1.0, 19, 9, 104, 35, 1), 10, 6, 0.75),
    ],
)
def test_indoors_and_in_chambers(inputs, model_days, published_days, tolerance):
    days = drying_days(*inputs)
    assert days == pytest.approx(model_days, abs=1)
    assert days == pytest.approx(published_days, rel=tolerance)


@pytest.mark.parametrize(
    ("species", "green_mc", "model_days", "printed_days"),
    [
        # Printed: FPL Technical Note 233 (1960) Table 1, 4/4 green to 20 %, from memory.
        (RED_OAK, 80, (49, 228), (70, 200)),
        (WHITE_OAK, 68, (55, 240), (80, 250)),
        (WALNUT, 85, (38, 205), (70, 200)),
        (CHERRY, 58, (31, 186), (70, 200)),
        (SUGAR_MAPLE, 68, (35, 197), (50, 200)),
        (POPLAR, 95, (20, 146), (40, 150)),
    ],
)
def test_printed_ranges(species, green_mc, model_days, printed_days):
    # Any start of the year, wide pile. Longest times agree within 15 %. The shortest run 30 to 56 %
    # below the print, which pairs each species with the climate where it is cut.
    places = ["southern Wisconsin", "central North Carolina", "eastern Missouri"]
    each_day = EVERY_DAY[:, None]
    course = DryingCourse(species, 1.125, green_mc, each_day, SITE, 0.7, place=np.array(places))
    days = ready_days(course, 20)
    assert (days.min(), days.max()) == pytest.approx(model_days, abs=1)
    assert days.max() == pytest.approx(printed_days[1], rel=0.15)


@pytest.mark.parametrize(
    ("change", "to_20", "to_16"),
    [
        ({"temp": 3.6}, -10, -10),
        ({"temp": -3.6}, 11, 13),
        ({"green_mc": 10}, 4, 3),
        ({"green_mc": -10}, -5, -4),
        ({"thickness": 1.05}, 8, 10),
    ],
)
def test_sensitivities(change, to_20, to_16):
    # 4/4 red oak begun on 1 May in southern Wisconsin, 60 days to 20 % and 83 to 16 %; changes in
    # whole percent, to 1 because the last days of the year are laid out in slightly other ways.
    temps, rhs = np.array(CLIMATES["southern Wisconsin"], dtype=float)
    oak = DryingCourse(RED_OAK, 1.125, 80, "2025-05-01", Climate.monthly(temps, rhs))
    base = ready_days(oak, [20, 16])
    assert base == pytest.approx([60, 83], abs=1)
    other = replace(
        oak,
        thickness_in=1.125 * change.get("thickness", 1),
        green_mc=80 + change.get("green_mc", 0),
        climate=Climate.monthly(temps + change.get("temp", 0), rhs),
    )
    changed = ready_days(other, [20, 16])
    assert 100 * (changed / base - 1) == pytest.approx([to_20, to_16], abs=1)


def test_effective_days_of_the_months():
    # Days at 70 deg F that 30 days of each month are worth in southern Wisconsin, to 0.5: the
    # reference means the daily factors, here it is that of the monthly mean.
    reference = [3.9, 4.7, 7.7, 12.7, 19.4, 27.1, 31.7, 28.7, 20.9, 14.3, 8.6, 5.0]
    temps, _ = CLIMATES["southern Wisconsin"]
    days = 30 * temperature_factor(temps) / temperature_factor(70)
    assert days == pytest.approx(reference, abs=0.5)


def test_first_days_of_red_oak_in_june():
    # 9.6, 4.0, 3.1, 2.6 % MC a day outdoors: over the safe rate of 3.8 on the first two days.
    days = np.datetime64("2025-06-01") + np.arange(5)
    oak = DryingCourse(RED_OAK, 1.125, 80, "2025-06-01", SITE, place="southern Wisconsin")
    mcs = mc_forecast(oak, days)
    assert (-np.diff(mcs)).round(1).tolist() == [9.6, 4.0, 3.1, 2.6]
