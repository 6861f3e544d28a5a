"""How wet a stack is on a date and when it will be dry, in the air of its place or places."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.band import band_side, columns, forecasts
from lumbercalc.wood.day_by_day import Stacks, day_at, days_until, mc_after
from lumbercalc.wood.drying import drying_speed
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.stack_air import SteadyAir

LONGEST_DAYS = 1826
"""Five years: a target that takes longer counts as not reached."""


def drying_days(
    species: ArrayLike,
    thickness_in: ArrayLike,
    green_mc: ArrayLike,
    target_mc: ArrayLike,
    temp_f: ArrayLike,
    rh_pct: ArrayLike,
    stack_factor: ArrayLike = 1,
    rate: ArrayLike = 1,
) -> NDArray[np.float64]:
    """Days that boards need in steady air.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn.
    green_mc, target_mc : array_like of float [% MC]
        Moisture content now, and when dry enough.
    temp_f : array_like of float [deg F]
        Temperature.
    rh_pct : array_like of float [% RH]
        Relative humidity.
    stack_factor, rate : array_like of float [-]
        Share of the full speed in this setting, and the rate fitted to weighings.

    Returns
    -------
    ndarray of float [days]
        inf where the target is not reached in five years.

    Examples
    --------
    >>> drying_days("Oak, northern red", 1.125, 80, [20, 5], 70, 40).round(1).tolist()
    [35.3, inf]
    """
    speed = drying_speed(species, thickness_in, stack_factor, rate)
    shape, (speed, green, target, temp, rh) = columns(speed, green_mc, target_mc, temp_f, rh_pct)
    stacks = Stacks(green, green, speed, SteadyAir(temp, rh))
    return days_until(stacks, target, LONGEST_DAYS).reshape(shape)[()]


def mc_forecast(
    course: DryingCourse, forecast_date: ArrayLike, band: ArrayLike = "likely"
) -> NDArray[np.float64]:
    """Mean moisture content of stacks on a date.

    Parameters
    ----------
    course : DryingCourse
        The stacks, and where they dry.
    forecast_date : array_like of datetime64[D]
        The date that is asked for.
    band : array_like of str
        "early" (the driest), "likely" or "late", as in `ready_days`.

    Returns
    -------
    ndarray of float [% MC]
        NaN before the date on which the forecast begins, and where the air is unknown.

    Examples
    --------
    >>> from lumbercalc.wood.climate import Climate
    >>> shop = Climate.steady(70, 45)
    >>> walnut = DryingCourse("Walnut, black", 1.125, 85, "2026-05-01", shop)
    >>> mc_forecast(walnut, ["2026-05-01", "2026-05-31"]).round(1).tolist()
    [85.0, 19.4]

    A month in the yard, then the shop:

    >>> site = Climate.places({"yard": Climate.steady(60, 75), "shop": shop})
    >>> walnut = DryingCourse(
    ...     "Walnut, black", 1.125, 85, "2026-05-01", site, place="yard",
    ...     move_date="2026-05-31", move_place="shop",
    ... )
    >>> mc_forecast(walnut, ["2026-05-31", "2026-06-30"]).round(1).tolist()
    [29.5, 13.1]
    """
    asked_date = np.asarray(forecast_date, dtype="datetime64[D]")
    rows = forecasts(course, band_side(band), asked_date)
    days = (rows.goal - rows.begin).astype(np.int64)
    known = rows.known & ~np.isnat(rows.goal) & (days >= 0)
    mc = np.full(days.shape, np.nan)
    if known.any():
        longest = int(days[known].max())
        mc[known] = mc_after(rows.stacks(known, course.climate, longest), days[known])
    return mc.reshape(rows.shape)[()]


def ready_days(
    course: DryingCourse, target_mc: ArrayLike, band: ArrayLike = "likely"
) -> NDArray[np.float64]:
    """Days from the start of drying until stacks are at their target.

    Parameters
    ----------
    course : DryingCourse
        The stacks, and where they dry.
    target_mc : array_like of float [% MC]
        Moisture content when dry enough.
    band : array_like of str
        "early", "likely" or "late"; early and late hold 80 % of the outcomes between them.

    Returns
    -------
    ndarray of float [days]
        Linear within the day; inf where the target is not reached within five years of the start,
        or of the last weighing; NaN where the air is unknown. A stack weighed at its target was
        ready on that day.

    Examples
    --------
    >>> from lumbercalc.wood.climate import Climate
    >>> oak = DryingCourse("Oak, northern red", 1.125, 80, "2026-05-01", Climate.steady(70, 40))
    >>> ready_days(oak, 20, ["early", "likely", "late"]).round(1).tolist()
    [21.1, 35.3, 59.3]
    """
    rows = forecasts(course, band_side(band), target_mc)
    known = rows.known
    days = np.full(known.shape, np.nan)
    if known.any():
        waited = rows.waited[known]
        stacks = rows.stacks(known, course.climate, LONGEST_DAYS)
        days[known] = waited + days_until(stacks, rows.goal[known], LONGEST_DAYS)
        there = known & (rows.weighed_mc <= rows.goal)
        days[there] = rows.waited[there]
    return days.reshape(rows.shape)[()]


def ready_date(
    course: DryingCourse, target_mc: ArrayLike, band: ArrayLike = "likely"
) -> NDArray[np.datetime64]:
    """First day on which stacks are at their target.

    Parameters
    ----------
    course : DryingCourse
        The stacks, and where they dry.
    target_mc : array_like of float [% MC]
        Moisture content when dry enough.
    band : array_like of str
        As in `ready_days`.

    Returns
    -------
    ndarray of datetime64[D]
        NaT where the target is not reached within five years of the start, or of the last
        weighing, or the air is unknown.

    Examples
    --------
    >>> from lumbercalc.wood.climate import Climate
    >>> oak = DryingCourse("Oak, northern red", 1.125, 80, "2026-05-01", Climate.steady(70, 40))
    >>> print(ready_date(oak, 20))
    2026-06-06
    """
    return day_at(course.start_date, ready_days(course, target_mc, band))
