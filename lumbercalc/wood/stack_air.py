"""The air that stacks meet, day by day, where they stand and where they move."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import temperature_factor

FIRST_DAYS = 256
"""Days of air that are worked out at first; each later portion is as long as all before it."""

NEVER = np.iinfo(np.int64).max
"""Day number of the move of a stack that stays."""


@dataclass(frozen=True, eq=False)
class Moves:
    """When stacks move, to which row of the climate, and their speed there over that before."""

    date: NDArray[np.datetime64]
    place: NDArray[np.int64]
    speed_ratio: NDArray[np.float64]

    @property
    def known(self) -> NDArray[np.bool_]:
        """False where a stack moves to a place that is not in the climate."""
        return np.isnat(self.date) | (self.place >= 0)

    def of(self, which: NDArray[np.bool_]) -> "Moves":
        """Pick the moves of some of the stacks.

        Parameters
        ----------
        which : ndarray of bool, shape (n,)
            The stacks.

        Returns
        -------
        Moves
            In the same order.
        """
        return Moves(self.date[which], self.place[which], self.speed_ratio[which])

    def day_number(self, first_day: NDArray[np.datetime64]) -> NDArray[np.int64]:
        """Count the days from each stack's first day to its move.

        Parameters
        ----------
        first_day : ndarray of datetime64[D]
            Day number 0 of each stack.

        Returns
        -------
        ndarray of int
            From that day on the stack is in its second place; NEVER where it stays.
        """
        days = (self.date - first_day).astype(np.int64)
        return np.where(np.isnat(self.date), NEVER, days)


class Air(Protocol):
    """The air that each stack meets on its own days."""

    def on(self, day: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """EMC [% MC] and pace of drying [-] of each stack on its day number, from 0."""

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
        emc, pace : ndarray of float, shape (n,) [% MC, -]
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
        emc, pace : ndarray of float, shape (n,) [% MC, -]
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


class MovingAir:
    """Air of each stack's first place until its move, and of its second place from then on.

    Parameters
    ----------
    first, second : Air
        As if the stacks always stood in the one place, or in the other.
    move_day : ndarray of int, shape (n,)
        Day number from which a stack is in its second place.
    speed_ratio : ndarray of float, shape (n,) [-]
        Its speed there over that before, in the same air.
    """

    def __init__(
        self,
        first: Air,
        second: Air,
        move_day: NDArray[np.int64],
        speed_ratio: NDArray[np.float64],
    ) -> None:
        self._first = first
        self._second = second
        self._move_day = move_day
        self._speed_ratio = speed_ratio

    def on(self, day: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Give the air of the place where each stack is on the day.

        Parameters
        ----------
        day : int
            Day number, the same for all stacks; goes up by one from call to call.

        Returns
        -------
        emc, pace : ndarray of float, shape (n,) [% MC, -]
            Of each stack; after a move the pace holds the change of the stack factor too.
        """
        moved = day >= self._move_day
        emc_before, pace_before = self._first.on(day)
        emc_after, pace_after = self._second.on(day)
        return (
            np.where(moved, emc_after, emc_before),
            np.where(moved, pace_after * self._speed_ratio, pace_before),
        )

    def keep(self, stays: NDArray[np.bool_]) -> None:
        """Go on with these stacks only.

        Parameters
        ----------
        stays : ndarray of bool, shape (n,)
            False where a stack is done.
        """
        self._first.keep(stays)
        self._second.keep(stays)
        self._move_day = self._move_day[stays]
        self._speed_ratio = self._speed_ratio[stays]
