"""The air of the places where lumber dries: by month, by dated record, by both, or steady."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.air import emc
from lumbercalc.wood.drying import temperature_factor
from lumbercalc.wood.floats import floats
from lumbercalc.wood.place_air import DatedAir, MeasuredAir, MonthlyAir, PlaceAir
from lumbercalc.wood.texts import of_each

UNKNOWN_PLACE = -1


@dataclass(frozen=True, eq=False)
class Climate:
    """The air of one place, or of several places with names.

    Parameters
    ----------
    airs : tuple of PlaceAir
        One for each place.
    names : tuple of str
        Their names in the same order; empty when the one place has none.

    Examples
    --------
    >>> yard = Climate.monthly([28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32], [72] * 12)
    >>> shop = Climate.steady(70, 45)
    >>> site = Climate.places({"yard": yard, "shop": shop})
    >>> temp_f, rh_pct = site.daily("2026-01-16", 2)
    >>> temp_f.round(2).tolist()
    [[28.0, 28.1], [70.0, 70.0]]
    """

    airs: tuple[PlaceAir, ...]
    names: tuple[str, ...] = ()

    @classmethod
    def monthly(cls, temp_f: ArrayLike, rh_pct: ArrayLike) -> "Climate":
        """Climate of one place from monthly means.

        Parameters
        ----------
        temp_f : array_like of float, shape (12,) [deg F]
            Mean temperature, January to December.
        rh_pct : array_like of float, shape (12,) [%]
            Mean relative humidity, January to December.

        Returns
        -------
        Climate
            Daily air runs in straight lines between the middles of the months, over the years.
        """
        return cls((_monthly(temp_f, rh_pct),))

    @classmethod
    def dated(cls, dates: ArrayLike, temp_f: ArrayLike, rh_pct: ArrayLike) -> "Climate":
        """Climate of one place, or along the way of one stack, from dated rows.

        Parameters
        ----------
        dates : array_like of datetime64[D], shape (n,)
            First day of each row, in any order.
        temp_f : array_like of float, shape (n,) [deg F]
            Mean temperature from that day on.
        rh_pct : array_like of float, shape (n,) [%]
            Mean relative humidity from that day on.

        Returns
        -------
        Climate
            Each row holds until the next one, the last holds on; before the first there is none.
        """
        return cls((_dated(dates, temp_f, rh_pct),))

    @classmethod
    def measured(
        cls, months: tuple[ArrayLike, ArrayLike], record: tuple[ArrayLike, ArrayLike, ArrayLike]
    ) -> "Climate":
        """Climate of one place from monthly means, and a dated record for the days that it covers.

        Parameters
        ----------
        months : tuple of array_like
            As `monthly` takes them.
        record : tuple of array_like
            As `dated` takes them.

        Returns
        -------
        Climate
            Each dated row holds until the next one, for `HOLDS_DAYS` days at most; the months hold
            on all other days.

        Examples
        --------
        >>> yard = Climate.measured(([60] * 12, [70] * 12), (["2026-05-03"], [75], [55]))
        >>> [float(yard.daily(day, 1)[0][0, 0]) for day in ("2026-05-03", "2026-06-03")]
        [75.0, 60.0]
        """
        return cls((MeasuredAir(_monthly(*months), _dated(*record)),))

    @classmethod
    def steady(cls, temp_f: float, rh_pct: float) -> "Climate":
        """Climate of one place whose air never changes.

        Parameters
        ----------
        temp_f : float [deg F]
            Temperature.
        rh_pct : float [%]
            Relative humidity.

        Returns
        -------
        Climate
            The same air on every day.
        """
        return cls.monthly([temp_f] * 12, [rh_pct] * 12)

    @classmethod
    def places(cls, climates: Mapping[str, "Climate"]) -> "Climate":
        """One climate of several named places.

        Parameters
        ----------
        climates : mapping of str to Climate
            A climate of one place under the name of each place.

        Returns
        -------
        Climate
            All of the places, in the order of the mapping.
        """
        return cls(tuple(each.airs[0] for each in climates.values()), tuple(climates))

    def place_index(self, place: ArrayLike | None = None) -> NDArray[np.int64]:
        """Position of places in the rows of `daily`.

        Parameters
        ----------
        place : array_like of str, optional
            Names, in any case. May be left out where there is one place.

        Returns
        -------
        ndarray of int
            -1 for a name that is not here; always 0 when the one place has no name.

        Examples
        --------
        >>> site = Climate.places({"yard": Climate.steady(60, 70), "shop": Climate.steady(70, 45)})
        >>> site.place_index(["Shop", "yard", "attic"]).tolist()
        [1, 0, -1]
        """
        if place is None:
            return np.array(0 if len(self.airs) == 1 else UNKNOWN_PLACE, dtype=np.int64)
        if not self.names:
            return np.zeros(np.shape(place), dtype=np.int64)
        position = {name.strip().casefold(): row for row, name in enumerate(self.names)}

        def row_of(name: str) -> int:
            return position.get(name.strip().casefold(), UNKNOWN_PLACE)

        return of_each(place, row_of, np.int64)

    def next_index(
        self, move_place: ArrayLike | None, first: NDArray[np.int64]
    ) -> NDArray[np.int64]:
        """Position of the places that stacks move to.

        Parameters
        ----------
        move_place : array_like of str, or None
            Names, in any case; None or "" for the place where the stack already is.
        first : ndarray of int
            Positions of the places where the stacks are before.

        Returns
        -------
        ndarray of int
            As from `place_index`.

        Examples
        --------
        >>> site = Climate.places({"yard": Climate.steady(60, 70), "shop": Climate.steady(70, 45)})
        >>> site.next_index(["shop", ""], site.place_index("yard")).tolist()
        [1, 0]
        """
        if move_place is None:
            return first
        names = np.asarray(move_place, dtype=object)
        named = names.astype(np.bool_)
        return np.where(named, self.place_index(np.where(named, names, "")), first)

    def has_air(self, days: ArrayLike, place: ArrayLike | None = None) -> NDArray[np.bool_]:
        """Whether there is air at a place on a day.

        Parameters
        ----------
        days : array_like of datetime64[D]
            Any days.
        place : array_like of str, optional
            Names, in any case. May be left out where there is one place.

        Returns
        -------
        ndarray of bool
            False before a dated record begins, and for a place that is not here.

        Examples
        --------
        >>> moved = Climate.dated(["2026-05-03", "2026-09-01"], [60, 70], [75, 45])
        >>> moved.has_air(["2026-05-02", "2026-05-03", "2030-01-01"]).tolist()
        [False, True, True]
        """
        each_day, where = np.broadcast_arrays(
            np.asarray(days, dtype="datetime64[D]"), self.place_index(place)
        )
        found = np.zeros(each_day.shape, dtype=np.bool_)
        for row, air in enumerate(self.airs):
            found |= (where == row) & air.reaches(each_day)
        return found

    def daily(
        self, first_day: ArrayLike, days: int
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Mean air of consecutive days.

        Parameters
        ----------
        first_day : datetime64[D]
            The first of the days.
        days : int
            How many, at least 1.

        Returns
        -------
        temp_f, rh_pct : ndarray of float, shape (places, days) [deg F, %]
            NaN where a record does not reach.
        """
        first = np.asarray(first_day, dtype="datetime64[D]")
        each_day = first + np.arange(days).astype("timedelta64[D]")
        by_place = [air.on(each_day) for air in self.airs]
        return (
            np.stack([temp_f for temp_f, _ in by_place]),
            np.stack([rh_pct for _, rh_pct in by_place]),
        )

    def emc_and_clock(
        self, first_day: ArrayLike, days: int
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Drying power of the air of consecutive days.

        Parameters
        ----------
        first_day : datetime64[D]
            The first of the days.
        days : int
            How many, at least 1.

        Returns
        -------
        emc : ndarray of float, shape (places, days) [% MC]
            Equilibrium moisture content.
        clock : ndarray of float, shape (places, days) [-]
            `temperature_factor` of the day.
        """
        temp_f, rh_pct = self.daily(first_day, days)
        return emc(temp_f, rh_pct), temperature_factor(temp_f)


def _monthly(temp_f: ArrayLike, rh_pct: ArrayLike) -> MonthlyAir:
    return MonthlyAir(*np.atleast_1d(*floats(temp_f, rh_pct)))


def _dated(dates: ArrayLike, temp_f: ArrayLike, rh_pct: ArrayLike) -> DatedAir:
    temp, rh = np.atleast_1d(*floats(temp_f, rh_pct))
    days = np.atleast_1d(np.asarray(dates, dtype="datetime64[D]"))
    order = np.argsort(days, kind="stable")
    return DatedAir(days[order], temp[order], rh[order])
