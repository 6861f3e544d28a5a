"""The drying curve of one stack, and the air that it cannot get below."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.band import SIDES, forecasts
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.forecast import LONGEST_DAYS, NO_DATE


class DryingCurve(NamedTuple):
    """Forecast of one stack, a row per step; all columns have shape (steps,)."""

    date: NDArray[np.datetime64]
    likely: NDArray[np.float64]
    early: NDArray[np.float64]
    late: NDArray[np.float64]


def drying_curve(
    species: str,
    thickness_in: float,
    green_mc: float,
    start_date: ArrayLike,
    target_mc: float,
    climate: Climate,
    stack_factor: float = 1,
    rate: float = 1,
    rate_spread: float = np.nan,
    from_date: ArrayLike = NO_DATE,
    from_mc: float = np.nan,
    place: str | None = None,
    step_days: float = 7,
) -> DryingCurve:
    """Course of one stack's moisture content until even the late forecast is at the target.

    Parameters
    ----------
    species : str
        Canonical species name.
    thickness_in : float [in]
        Thickness as sawn.
    green_mc, target_mc : float [% MC]
        Moisture content on the start date, and when dry enough.
    start_date : datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places.
    stack_factor, rate : float [-]
        Share of the full speed in this setting, and the rate fitted to weighings.
    rate_spread : float [-]
        Spread of ln rate; NaN is not stated: 0.35, or 0.5 for an estimated drying constant.
    from_date : datetime64[D]
        Date of the last weighing, where the curve then begins.
    from_mc : float [% MC]
        What that weighing found.
    place : str, optional
        Name of the stack's place in the climate.
    step_days : float [days]
        Whole days from row to row.

    Returns
    -------
    DryingCurve
        date, likely, early and late moisture content [% MC]. Ends five years after the start at
        the latest; one row of NaN where the place is unknown.

    Examples
    --------
    >>> shop = Climate.steady(70, 40)
    >>> curve = drying_curve("Oak, northern red", 1.125, 80, "2026-05-01", 20, shop, step_days=14)
    >>> print(curve.date[1], curve.likely[:3].round(1), len(curve.date))
    2026-05-15 [80.  37.5 24.1] 6
    """
    sides = [SIDES["likely"], SIDES["early"], SIDES["late"]]
    rows = forecasts(
        species, thickness_in, green_mc, start_date, climate, stack_factor, rate,
        rate_spread, from_date, from_mc, sides, place, target_mc,
    )  # fmt: skip
    if not rows.known.all():
        unknown = np.full(1, np.nan)
        return DryingCurve(rows.begin[:1], unknown, unknown, unknown)
    longest = LONGEST_DAYS - int(rows.waited[0])
    step = int(step_days)
    stacks = rows.stacks(rows.known, climate, longest)
    course = [stacks.mc]
    while stacks.mc[-1] > target_mc and stacks.day + step <= longest:
        for _ in range(step):
            stacks.dry_a_day()
        course.append(stacks.mc)
    likely, early, late = np.array(course).T
    return DryingCurve(rows.begin[0] + step * np.arange(len(course)), likely, early, late)


def lowest_emc(
    climate: Climate, place: ArrayLike | None, start_date: ArrayLike
) -> NDArray[np.float64]:
    """Lowest EMC of the air in five years: no stack there dries below it.

    Parameters
    ----------
    climate : Climate
        The air of the place, or places.
    place : array_like of str, or None
        Names of places in the climate; None where it has one.
    start_date : array_like of datetime64[D]
        First day of the five years.

    Returns
    -------
    ndarray of float [% MC]
        Of single days; NaN where the air is unknown.

    Examples
    --------
    >>> float(lowest_emc(Climate.steady(70, 40), None, "2026-05-01").round(1))
    7.7
    """
    start, where = np.broadcast_arrays(
        np.asarray(start_date, dtype="datetime64[D]"), climate.place_index(place)
    )
    lowest = np.full(start.shape, np.nan)
    for row in np.ndindex(start.shape):
        if where[row] >= 0 and not np.isnat(start[row]):
            emc_by_day, _ = climate.emc_and_clock(start[row], LONGEST_DAYS)
            lowest[row] = np.fmin.reduce(emc_by_day[where[row]])
    return lowest[()]
