"""Stacks that dry side by side, one day at a time: the loop behind every forecast."""

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import mc_after_a_day, temperature_factor

FIRST_DAYS = 256
"""Days of air that are worked out at first; each later portion is as long as all before it."""


class Air(Protocol):
    """The air that each stack meets on its own days."""

    def on(self, day: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """EMC [% MC] and temperature factor [-] of each stack on its day number, from 0."""

    def keep(self, stays: NDArray[np.bool_]) -> None:
        """Go on with these stacks only."""


class SteadyAir:
    """Air that does not change, of its own for each stack.

    Parameters
    ----------
    temp_f : ndarray of float, shape (n,) [deg F]
        Temperature.
    rh_pct : ndarray of float, shape (n,) [%]
        Relative humidity.
    """

    def __init__(self, temp_f: NDArray[np.float64], rh_pct: NDArray[np.float64]) -> None:
        self._emc = emc(temp_f, rh_pct)
        self._clock = temperature_factor(temp_f)

    def on(self, day: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Give the same air on every day.

        Parameters
        ----------
        day : int
            Day number.

        Returns
        -------
        emc, clock : ndarray of float, shape (n,) [% MC, -]
            Of each stack.
        """
        return self._emc, self._clock

    def keep(self, stays: NDArray[np.bool_]) -> None:
        """Go on with these stacks only.

        Parameters
        ----------
        stays : ndarray of bool, shape (n,)
            False where a stack is done.
        """
        self._emc = self._emc[stays]
        self._clock = self._clock[stays]


class ClimateAir:
    """Air of each stack's place, from each stack's own first day on.

    Parameters
    ----------
    climate : Climate
        Where the stacks are.
    place : ndarray of int, shape (n,)
        Row of each stack's place in the climate.
    first_day : ndarray of datetime64[D], shape (n,)
        Day number 0 of each stack.
    emc_shift : ndarray of float, shape (n,) [% MC]
        Added to the EMC.
    longest : int
        No stack is followed for more days than this.
    """

    def __init__(
        self,
        climate: Climate,
        place: NDArray[np.int64],
        first_day: NDArray[np.datetime64],
        emc_shift: NDArray[np.float64],
        longest: int,
    ) -> None:
        self._climate = climate
        self._place = place
        self._emc_shift = emc_shift
        self._longest = longest
        self._from = first_day.min()
        self._lag = (first_day - self._from).astype(np.int64)
        self._ahead = 0
        self._at_day_0 = self._lag

    def on(self, day: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Look up the air of each stack on its own day.

        Parameters
        ----------
        day : int
            Day number, the same for all stacks; goes up by one from call to call.

        Returns
        -------
        emc, clock : ndarray of float, shape (n,) [% MC, -]
            Of each stack.
        """
        if day >= self._ahead:
            self._look_ahead(max(FIRST_DAYS, 2 * day))
        here = self._at_day_0 + day
        return self._emc.take(here) + self._emc_shift, self._clock.take(here)

    def keep(self, stays: NDArray[np.bool_]) -> None:
        """Go on with these stacks only.

        Parameters
        ----------
        stays : ndarray of bool, shape (n,)
            False where a stack is done.
        """
        self._place = self._place[stays]
        self._lag = self._lag[stays]
        self._emc_shift = self._emc_shift[stays]
        self._at_day_0 = self._at_day_0[stays]

    def _look_ahead(self, days: int) -> None:
        """Work out the air up to this day number of the stack that began last."""
        self._ahead = min(days, self._longest)
        length = int(self._lag.max()) + self._ahead
        emc_by_day, clock_by_day = self._climate.emc_and_clock(self._from, length)
        self._emc, self._clock = emc_by_day.ravel(), clock_by_day.ravel()
        self._at_day_0 = self._place * length + self._lag


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
        emc_today, clock = self._air.on(self.day)
        self.mc = mc_after_a_day(self.mc, self._green_mc, emc_today, self._speed * clock)
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
