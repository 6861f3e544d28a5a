"""How wet a stack is on a date and when it will be dry, in the air of its place or places."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.band import band_side, columns, forecasts
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.day_by_day import NO_DATE, Stacks, day_at, days_until, mc_after
from lumbercalc.wood.drying import drying_speed
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
    species: ArrayLike,
    thickness_in: ArrayLike,
    green_mc: ArrayLike,
    start_date: ArrayLike,
    forecast_date: ArrayLike,
    climate: Climate,
    stack_factor: ArrayLike = 1,
    rate: ArrayLike = 1,
    from_date: ArrayLike = NO_DATE,
    from_mc: ArrayLike = np.nan,
    place: ArrayLike | None = None,
    rate_spread: ArrayLike = np.nan,
    band: ArrayLike = "likely",
    move_date: ArrayLike = NO_DATE,
    move_place: ArrayLike | None = None,
    move_factor: ArrayLike = np.nan,
) -> NDArray[np.float64]:
    """Mean moisture content of stacks on a date.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn.
    green_mc : array_like of float [% MC]
        Moisture content on the start date.
    start_date, forecast_date : array_like of datetime64[D]
        When drying began, and the date that is asked for.
    climate : Climate
        The air of the place, or places.
    stack_factor, rate : array_like of float [-]
        Share of the full speed in this setting, and the rate fitted to weighings.
    from_date : array_like of datetime64[D]
        Date of the last weighing, where the forecast then begins.
    from_mc : array_like of float [% MC]
        What that weighing found.
    place : array_like of str, optional
        Name of each stack's place in the climate.
    rate_spread : array_like of float [-]
        Spread of ln rate; NaN is not stated: 0.35, or 0.5 for an estimated drying constant.
    band : array_like of str
        "early" (the driest), "likely" or "late", as in `ready_days`.
    move_date : array_like of datetime64[D]
        First day in another place; NaT where a stack stays. The green moisture content is kept.
    move_place : array_like of str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : array_like of float [-]
        `stack_factor` there; NaN where it does not change.

    Returns
    -------
    ndarray of float [% MC]
        NaN before the date on which the forecast begins, and where the air is unknown.

    Examples
    --------
    >>> shop = Climate.steady(70, 45)
    >>> dates = ["2026-05-01", "2026-05-31"]
    >>> mc_forecast("Walnut, black", 1.125, 85, "2026-05-01", dates, shop).round(1).tolist()
    [85.0, 19.4]

    A month in the yard, then the shop:

    >>> site = Climate.places({"yard": Climate.steady(60, 75), "shop": shop})
    >>> dates = ["2026-05-31", "2026-06-30"]
    >>> mc_forecast(
    ...     "Walnut, black", 1.125, 85, "2026-05-01", dates, site, place="yard",
    ...     move_date="2026-05-31", move_place="shop",
    ... ).round(1).tolist()
    [29.5, 13.1]
    """
    asked_date = np.asarray(forecast_date, dtype="datetime64[D]")
    rows = forecasts(
        species, thickness_in, green_mc, start_date, climate, stack_factor, rate,
        rate_spread, from_date, from_mc, band_side(band), place,
        move_date, move_place, move_factor, asked_date,
    )  # fmt: skip
    days = (rows.goal - rows.begin).astype(np.int64)
    known = rows.known & ~np.isnat(rows.goal) & (days >= 0)
    mc = np.full(days.shape, np.nan)
    if known.any():
        longest = int(days[known].max())
        mc[known] = mc_after(rows.stacks(known, climate, longest), days[known])
    return mc.reshape(rows.shape)[()]


def ready_days(
    species: ArrayLike,
    thickness_in: ArrayLike,
    green_mc: ArrayLike,
    start_date: ArrayLike,
    target_mc: ArrayLike,
    climate: Climate,
    stack_factor: ArrayLike = 1,
    rate: ArrayLike = 1,
    rate_spread: ArrayLike = np.nan,
    from_date: ArrayLike = NO_DATE,
    from_mc: ArrayLike = np.nan,
    band: ArrayLike = "likely",
    place: ArrayLike | None = None,
    move_date: ArrayLike = NO_DATE,
    move_place: ArrayLike | None = None,
    move_factor: ArrayLike = np.nan,
) -> NDArray[np.float64]:
    """Days from the start of drying until stacks are at their target.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn.
    green_mc, target_mc : array_like of float [% MC]
        Moisture content on the start date, and when dry enough.
    start_date : array_like of datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places.
    stack_factor, rate : array_like of float [-]
        Share of the full speed in this setting, and the rate fitted to weighings.
    rate_spread : array_like of float [-]
        Spread of ln rate; NaN is not stated: 0.35, or 0.5 for an estimated drying constant.
    from_date : array_like of datetime64[D]
        Date of the last weighing, where the forecast then begins.
    from_mc : array_like of float [% MC]
        What that weighing found.
    band : array_like of str
        "early", "likely" or "late"; early and late hold 80 % of the outcomes between them.
    place : array_like of str, optional
        Name of each stack's place in the climate.
    move_date : array_like of datetime64[D]
        First day in another place; NaT where a stack stays. The green moisture content is kept.
    move_place : array_like of str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : array_like of float [-]
        `stack_factor` there; NaN where it does not change.

    Returns
    -------
    ndarray of float [days]
        Linear within the day; inf where the target is not reached within five years of the start,
        NaN where the air is unknown. A stack weighed at its target was ready on that day.

    Examples
    --------
    >>> shop = Climate.steady(70, 40)
    >>> float(ready_days("Oak, northern red", 1.125, 80, "2026-05-01", 20, shop).round(1))
    35.3
    """
    rows = forecasts(
        species, thickness_in, green_mc, start_date, climate, stack_factor, rate,
        rate_spread, from_date, from_mc, band_side(band), place,
        move_date, move_place, move_factor, target_mc,
    )  # fmt: skip
    known = rows.known
    days = np.full(known.shape, np.nan)
    if known.any():
        waited = rows.waited[known]
        longest = max(LONGEST_DAYS - int(waited.min()), 0)
        more = days_until(rows.stacks(known, climate, longest), rows.goal[known], longest)
        more[more > LONGEST_DAYS - waited] = np.inf
        days[known] = waited + more
        there = known & (rows.weighed_mc <= rows.goal)
        days[there] = rows.waited[there]
    return days.reshape(rows.shape)[()]


def ready_date(
    species: ArrayLike,
    thickness_in: ArrayLike,
    green_mc: ArrayLike,
    start_date: ArrayLike,
    target_mc: ArrayLike,
    climate: Climate,
    stack_factor: ArrayLike = 1,
    rate: ArrayLike = 1,
    rate_spread: ArrayLike = np.nan,
    from_date: ArrayLike = NO_DATE,
    from_mc: ArrayLike = np.nan,
    band: ArrayLike = "likely",
    place: ArrayLike | None = None,
    move_date: ArrayLike = NO_DATE,
    move_place: ArrayLike | None = None,
    move_factor: ArrayLike = np.nan,
) -> NDArray[np.datetime64]:
    """First day on which stacks are at their target.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn.
    green_mc, target_mc : array_like of float [% MC]
        Moisture content on the start date, and when dry enough.
    start_date : array_like of datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places.
    stack_factor, rate : array_like of float [-]
        Share of the full speed in this setting, and the rate fitted to weighings.
    rate_spread : array_like of float [-]
        Spread of ln rate; NaN is not stated: 0.35, or 0.5 for an estimated drying constant.
    from_date : array_like of datetime64[D]
        Date of the last weighing, where the forecast then begins.
    from_mc : array_like of float [% MC]
        What that weighing found.
    band : array_like of str
        "early", "likely" or "late"; early and late hold 80 % of the outcomes between them.
    place : array_like of str, optional
        Name of each stack's place in the climate.
    move_date : array_like of datetime64[D]
        First day in another place; NaT where a stack stays. The green moisture content is kept.
    move_place : array_like of str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : array_like of float [-]
        `stack_factor` there; NaN where it does not change.

    Returns
    -------
    ndarray of datetime64[D]
        NaT where the target is not reached within five years of the start, or the air is unknown.

    Examples
    --------
    >>> shop = Climate.steady(70, 40)
    >>> print(ready_date("Oak, northern red", 1.125, 80, "2026-05-01", 20, shop))
    2026-06-06
    """
    days = ready_days(
        species, thickness_in, green_mc, start_date, target_mc, climate, stack_factor, rate,
        rate_spread, from_date, from_mc, band, place, move_date, move_place, move_factor,
    )  # fmt: skip
    return day_at(start_date, days)
