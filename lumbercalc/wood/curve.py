"""The drying curve of one stack, and the air that it cannot get below."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.band import SIDES, columns, forecasts
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import LONGEST_DAYS


class DryingCurve(NamedTuple):
    """Forecast of one stack, a row per step; all columns have shape (steps,)."""

    date: NDArray[np.datetime64]
    likely: NDArray[np.float64]
    early: NDArray[np.float64]
    late: NDArray[np.float64]


def drying_curve(course: DryingCourse, target_mc: float, step_days: float = 7) -> DryingCurve:
    """Moisture content of one stack until even the late forecast is at the target.

    Parameters
    ----------
    course : DryingCourse
        The stack, and where it dries; single figures. The curve begins at its last weighing.
    target_mc : float [% MC]
        Moisture content when dry enough.
    step_days : float [days]
        Whole days from row to row.

    Returns
    -------
    DryingCurve
        date, likely, early and late moisture content [% MC]. Ends five years after it began at
        the latest; one row of NaN where the place is unknown.

    Examples
    --------
    >>> oak = DryingCourse("Oak, northern red", 1.125, 80, "2026-05-01", Climate.steady(70, 40))
    >>> curve = drying_curve(oak, 20, step_days=14)
    >>> print(curve.date[1], curve.likely[:3].round(1), len(curve.date))
    2026-05-15 [80.  37.5 24.1] 6
    """
    sides = [SIDES["likely"], SIDES["early"], SIDES["late"]]
    rows = forecasts(course, sides, target_mc)
    if not rows.known.all():
        unknown = np.full(1, np.nan)
        return DryingCurve(rows.begin[:1], unknown, unknown, unknown)
    step = int(step_days)
    stacks = rows.stacks(rows.known, course.climate, LONGEST_DAYS)
    steps = [stacks.mc]
    while stacks.mc[-1] > target_mc and stacks.day + step <= LONGEST_DAYS:
        for _ in range(step):
            stacks.dry_a_day()
        steps.append(stacks.mc)
    likely, early, late = np.array(steps).T
    return DryingCurve(rows.begin[0] + step * np.arange(len(steps)), likely, early, late)


def lowest_emc(
    climate: Climate, place: ArrayLike | None, start_date: ArrayLike
) -> NDArray[np.float64]:
    """Lowest EMC of the air of places in five years: no stack there dries below it.

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
    row = climate.place_index(place)
    shape, (start, row) = columns(np.asarray(start_date, dtype="datetime64[D]"), row)
    lowest = np.full(start.shape, np.nan)
    known = ~np.isnat(start) & (row >= 0)
    if known.any():
        # One record for all rows: each of them reads its own five years of it.
        first = start[known].min()
        lag = (start - first).astype(np.int64)
        emc_by_day, _ = climate.emc_and_clock(first, int(lag[known].max()) + LONGEST_DAYS)
        for each in np.flatnonzero(known):
            own_years = emc_by_day[row[each], lag[each] : lag[each] + LONGEST_DAYS]
            lowest[each] = np.fmin.reduce(own_years)
    return lowest.reshape(shape)[()]
