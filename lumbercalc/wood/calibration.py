"""The drying rate of one stack, fitted to the weighings of its sample boards.

No estimator of a rate from a few weighings was found in print; this one is the project's own.
Each interval between two weighings of a board gives a rate, weighted by how much was lost in it.
"""

import numpy as np
from numpy.typing import ArrayLike

from lumbercalc.wood.band import prior_spread
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.day_by_day import NO_DATE
from lumbercalc.wood.intervals import Intervals, intervals


def drying_rate(
    dates: ArrayLike,
    mcs: ArrayLike,
    species: str,
    thickness_in: float,
    green_mc: float,
    start_date: ArrayLike,
    climate: Climate,
    stack_factor: float = 1,
    boards: ArrayLike | None = None,
    place: str | None = None,
    move_date: ArrayLike = NO_DATE,
    move_place: str | None = None,
    move_factor: float = np.nan,
) -> np.float64:
    """Rate of one stack against the model's, fitted to its weighings.

    Parameters
    ----------
    dates, mcs : array_like, shape (n,) [% MC]
        Weighings of sample boards, in any order.
    species : str
        Canonical species name.
    thickness_in : float [in]
        Thickness as sawn.
    green_mc : float [% MC]
        First point of each board that was not itself weighed on the start date.
    start_date : datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places, as it was.
    stack_factor : float [-]
        Share of the full speed in this setting.
    boards : array_like, shape (n,), optional
        Which board was weighed; one board if left out.
    place : str, optional
        Name of the stack's place in the climate.
    move_date : datetime64[D]
        First day in another place; NaT where it stays.
    move_place : str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : float [-]
        `stack_factor` there; NaN if it does not change.

    Returns
    -------
    float [-]
        1 without a usable weighing; NaN where the air is unknown or a weighing precedes the start.

    Examples
    --------
    >>> shop = Climate.steady(70, 40)
    >>> days = ["2026-05-08", "2026-05-15", "2026-05-22", "2026-05-29"]
    >>> mcs = [55.0, 45.5, 38.5, 33.0]
    >>> float(drying_rate(days, mcs, "Oak, northern red", 1.125, 80, "2026-05-01", shop).round(2))
    0.66
    """
    found = intervals(
        dates, mcs, species, thickness_in, green_mc, start_date, climate, stack_factor, boards,
        place, move_date, move_place, move_factor,
    )  # fmt: skip
    evidence = _evidence(found, species)
    rate: np.float64 = np.exp(np.sum(found.weight * np.log(found.rate)) / evidence)
    return rate


def rate_spread(
    dates: ArrayLike,
    mcs: ArrayLike,
    species: str,
    thickness_in: float,
    green_mc: float,
    start_date: ArrayLike,
    climate: Climate,
    stack_factor: float = 1,
    boards: ArrayLike | None = None,
    place: str | None = None,
    move_date: ArrayLike = NO_DATE,
    move_place: str | None = None,
    move_factor: float = np.nan,
) -> np.float64:
    """Spread of ln rate that is left after the weighings of one stack.

    Parameters
    ----------
    dates, mcs : array_like, shape (n,) [% MC]
        Weighings of sample boards, in any order.
    species : str
        Canonical species name.
    thickness_in : float [in]
        Thickness as sawn.
    green_mc : float [% MC]
        First point of each board that was not itself weighed on the start date.
    start_date : datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places, as it was.
    stack_factor : float [-]
        Share of the full speed in this setting.
    boards : array_like, shape (n,), optional
        Which board was weighed; one board if left out.
    place : str, optional
        Name of the stack's place in the climate.
    move_date : datetime64[D]
        First day in another place; NaT where it stays.
    move_place : str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : float [-]
        `stack_factor` there; NaN if it does not change.

    Returns
    -------
    float [-]
        The prior spread without a usable weighing; NaN as in `drying_rate`.

    Examples
    --------
    >>> shop = Climate.steady(70, 40)
    >>> days = ["2026-05-08", "2026-05-15", "2026-05-22", "2026-05-29"]
    >>> mcs = [55.0, 45.5, 38.5, 33.0]
    >>> float(rate_spread(days, mcs, "Oak, northern red", 1.125, 80, "2026-05-01", shop).round(3))
    0.091
    """
    found = intervals(
        dates, mcs, species, thickness_in, green_mc, start_date, climate, stack_factor, boards,
        place, move_date, move_place, move_factor,
    )  # fmt: skip
    return np.float64(_evidence(found, species) ** -0.5)


def weighings_used(
    dates: ArrayLike,
    mcs: ArrayLike,
    species: str,
    thickness_in: float,
    green_mc: float,
    start_date: ArrayLike,
    climate: Climate,
    stack_factor: float = 1,
    boards: ArrayLike | None = None,
    place: str | None = None,
    move_date: ArrayLike = NO_DATE,
    move_place: str | None = None,
    move_factor: float = np.nan,
) -> int:
    """Intervals between weighings that the rate of one stack rests on.

    Parameters
    ----------
    dates, mcs : array_like, shape (n,) [% MC]
        Weighings of sample boards, in any order.
    species : str
        Canonical species name.
    thickness_in : float [in]
        Thickness as sawn.
    green_mc : float [% MC]
        First point of each board that was not itself weighed on the start date.
    start_date : datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places, as it was.
    stack_factor : float [-]
        Share of the full speed in this setting.
    boards : array_like, shape (n,), optional
        Which board was weighed; one board if left out.
    place : str, optional
        Name of the stack's place in the climate.
    move_date : datetime64[D]
        First day in another place; NaT where it stays.
    move_place : str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : float [-]
        `stack_factor` there; NaN if it does not change.

    Returns
    -------
    int
        Those that lost enough to tell a rate.

    Examples
    --------
    >>> shop = Climate.steady(70, 40)
    >>> days = ["2026-05-08", "2026-05-15", "2026-05-22", "2026-05-29"]
    >>> mcs = [55.0, 45.5, 38.5, 33.0]
    >>> weighings_used(days, mcs, "Oak, northern red", 1.125, 80, "2026-05-01", shop)
    4
    """
    found = intervals(
        dates, mcs, species, thickness_in, green_mc, start_date, climate, stack_factor, boards,
        place, move_date, move_place, move_factor,
    )  # fmt: skip
    return int(np.count_nonzero(np.isfinite(found.rate)))


def _evidence(found: Intervals, species: str) -> float:
    """Sum of the weights, the prior's included."""
    return float(prior_spread(species) ** -2.0 + np.sum(found.weight + 0.0 * found.rate))
