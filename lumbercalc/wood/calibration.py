"""The drying rate of one stack, fitted to the weighings of its sample boards.

No estimator of a rate from a few weighings was found in print; this one is the project's own.
Each interval between two weighings of a board gives a rate, weighted by how much was lost in it.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.band import prior_spread
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import MOISTURE_TERM, diffusion_mc, drying_speed, in_first_half, tau

SMALLEST_LOSS = 0.5
INTERVAL_SPREAD = 0.15
WEIGHING_SPREAD = 0.7


@dataclass(frozen=True, eq=False)
class Intervals:
    """Rate and weight of each interval between two weighings of one board, shape (n,)."""

    rate: NDArray[np.float64]
    weight: NDArray[np.float64]


def intervals(
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
) -> Intervals:
    """Rates that the weighings of one stack show, interval by interval.

    Parameters
    ----------
    dates : array_like of datetime64[D], shape (n,)
        Dates of the weighings, in any order.
    mcs : array_like of float, shape (n,) [% MC]
        Moisture content by weight.
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

    Returns
    -------
    Intervals
        Without those that lose less than 0.5 % MC or end at or below their mean EMC. NaN where the
        air is unknown, and one NaN where a weighing is dated before the start.
    """
    start = np.asarray(start_date, dtype="datetime64[D]")
    day = (np.atleast_1d(np.asarray(dates, dtype="datetime64[D]")) - start).astype(np.int64)
    mc = np.atleast_1d(np.asarray(mcs, dtype=np.float64))
    label = np.zeros(day.size) if boards is None else np.atleast_1d(np.asarray(boards))
    where = int(climate.place_index(place))
    if where < 0 or np.any(day < 0):
        return Intervals(np.full(1, np.nan), np.full(1, np.nan))

    day, mc, green, is_interval = _in_order(day, mc, label, green_mc)
    day_0, day_1 = day[:-1][is_interval], day[1:][is_interval]
    mc_0, mc_1 = mc[:-1][is_interval], mc[1:][is_interval]
    green = green[:-1][is_interval]

    emc_by_day, clock_by_day = climate.emc_and_clock(start, int(day.max(initial=0)) + 1)
    bounds = np.stack([day_0, day_1], axis=1).ravel()
    emc = np.add.reduceat(emc_by_day[where], bounds)[::2] / (day_1 - day_0)
    clock = np.add.reduceat(clock_by_day[where], bounds)[::2]

    skipped = (mc_0 - mc_1 < SMALLEST_LOSS) | (mc_1 <= emc) | (green <= emc) | (mc_1 >= green)
    mc_0, mc_1, green, emc, clock = (each[~skipped] for each in (mc_0, mc_1, green, emc, clock))
    share_0 = np.maximum(green - mc_0, 0.0) / (green - emc)
    needed = tau((green - mc_1) / (green - emc)) - tau(share_0)
    middle = (mc_0 + mc_1) / 2.0
    moisture = diffusion_mc(middle, green, emc, in_first_half(middle, green, emc))
    speed = drying_speed(species, thickness_in, stack_factor)
    passed = speed * clock * np.exp(MOISTURE_TERM / 100.0 * moisture)
    weight = 1.0 / (INTERVAL_SPREAD**2 + 2.0 * (WEIGHING_SPREAD / (mc_0 - mc_1)) ** 2)
    return Intervals(needed / passed, weight)


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
        place,
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
        place,
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
        place,
    )  # fmt: skip
    return int(np.count_nonzero(np.isfinite(found.rate)))


def _evidence(found: Intervals, species: str) -> float:
    """Sum of the weights, the prior's included."""
    return float(prior_spread(species) ** -2.0 + np.sum(found.weight + 0.0 * found.rate))


def _in_order(
    day: NDArray[np.int64], mc: NDArray[np.float64], label: NDArray[Any], green_mc: float
) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.float64], NDArray[np.bool_]]:
    """Points board by board and day by day, each board's first MC, and where an interval begins."""
    names, board = np.unique(label, return_inverse=True)
    unweighed = np.setdiff1d(np.arange(names.size), board[day == 0])
    board = np.concatenate([unweighed, board])
    day = np.concatenate([np.zeros(unweighed.size, dtype=np.int64), day])
    mc = np.concatenate([np.full(unweighed.size, float(green_mc)), mc])
    order = np.lexsort((day, board))
    board, day, mc = board[order], day[order], mc[order]
    first_row = np.searchsorted(board, board)
    return day, mc, mc[first_row], (board[1:] == board[:-1]) & (day[1:] > day[:-1])
