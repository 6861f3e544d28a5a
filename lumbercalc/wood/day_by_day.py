"""Stacks that dry side by side, one day at a time: the loop behind every forecast."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.diffusion import mc_after_a_day
from lumbercalc.wood.stack_air import Air

NO_DATE = np.datetime64("NaT", "D")


class Stacks:
    """Stacks in their air, and how far they have dried.

    Parameters
    ----------
    mc : ndarray of float, shape (n,) [% MC]
        Mean moisture content on day 0.
    green_mc : ndarray of float, shape (n,) [% MC]
        What they had when drying began.
    speed : ndarray of float, shape (n,) [1/day]
        As `drying_speed` gives it.
    air : Air
        What each of them meets.
    """

    def __init__(
        self,
        mc: NDArray[np.float64],
        green_mc: NDArray[np.float64],
        speed: NDArray[np.float64],
        air: Air,
    ) -> None:
        self.day = 0
        self.mc = mc
        self.row = np.arange(mc.size)
        self._green_mc = green_mc
        self._speed = speed
        self._air = air

    def dry_a_day(self) -> None:
        """Let one day pass for all stacks."""
        emc_today, pace = self._air.on(self.day)
        self.mc = mc_after_a_day(self.mc, self._green_mc, emc_today, self._speed * pace)
        self.day += 1

    def keep(self, stays: NDArray[np.bool_]) -> None:
        """Go on with these stacks only.

        Parameters
        ----------
        stays : ndarray of bool, shape (n,)
            False where a stack is done.
        """
        self.mc = self.mc[stays]
        self.row = self.row[stays]
        self._green_mc = self._green_mc[stays]
        self._speed = self._speed[stays]
        self._air.keep(stays)


def days_until(stacks: Stacks, target_mc: NDArray[np.float64], longest: int) -> NDArray[np.float64]:
    """Days until each stack is at its target.

    Parameters
    ----------
    stacks : Stacks
        Stacks on day 0, n of them; used up.
    target_mc : ndarray of float, shape (n,) [% MC]
        Where to stop.
    longest : int [days]
        When to give up.

    Returns
    -------
    ndarray of float, shape (n,) [days]
        Linear within the day; inf for a target that was not reached, NaN where the air is unknown.
    """
    days = np.where(stacks.mc > target_mc, np.inf, np.where(stacks.mc <= target_mc, 0.0, np.nan))
    above = days > 0
    stacks.keep(above)
    target = target_mc[above]
    while stacks.row.size and stacks.day < longest:
        before, elapsed = stacks.mc, stacks.day
        stacks.dry_a_day()
        above = stacks.mc > target
        if not above.all():
            done = ~above
            last = before[done]
            part = (last - target[done]) / (last - stacks.mc[done])
            days[stacks.row[done]] = elapsed + part
            stacks.keep(above)
            target = target[above]
    return days


def mc_after(stacks: Stacks, days: NDArray[np.int64]) -> NDArray[np.float64]:
    """Moisture content of each stack on its day number.

    Parameters
    ----------
    stacks : Stacks
        Stacks on day 0, n of them; used up.
    days : ndarray of int, shape (n,) [days]
        Day number that is asked for, 0 or more.

    Returns
    -------
    ndarray of float, shape (n,) [% MC]
        NaN where the air is unknown.
    """
    mc = np.empty(days.shape)
    wanted = days
    while True:
        later = wanted > stacks.day
        if not later.all():
            due = ~later
            mc[stacks.row[due]] = stacks.mc[due]
            stacks.keep(later)
            wanted = wanted[later]
        if not wanted.size:
            return mc
        stacks.dry_a_day()


def day_at(start_date: ArrayLike, days: ArrayLike) -> NDArray[np.datetime64]:
    """First whole day on which a number of days has passed.

    Parameters
    ----------
    start_date : array_like of datetime64[D]
        Day number 0.
    days : array_like of float [days]
        As `ready_days` gives them.

    Returns
    -------
    ndarray of datetime64[D]
        NaT where the days are not a finite number.

    Examples
    --------
    >>> print(day_at("2026-05-01", 35.3))
    2026-06-06
    """
    passed = np.asarray(days, dtype=np.float64)
    reached = np.isfinite(passed)
    whole_days = np.where(reached, np.ceil(passed), 0.0).astype("timedelta64[D]")
    start = np.asarray(start_date, dtype="datetime64[D]")
    return np.where(reached, start + whole_days, NO_DATE)[()]
