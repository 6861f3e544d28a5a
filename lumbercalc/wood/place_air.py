"""The air of one place, day by day: by month, by dated record, or by both."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

HOLDS_DAYS = 31
"""Beside means of months a dated row holds for no longer: a month's record, and not the season
after it (common practice, no source)."""


class PlaceAir(Protocol):
    """The air of one place, day by day."""

    def on(self, days: NDArray[np.datetime64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Temperature [deg F] and relative humidity [%] on each of the days."""

    def reaches(self, days: NDArray[np.datetime64]) -> NDArray[np.bool_]:
        """Whether there is air on each of the days."""


@dataclass(frozen=True, eq=False)
class MonthlyAir:
    """Means of the twelve months, the same in every year."""

    temp_f: NDArray[np.float64]
    rh_pct: NDArray[np.float64]

    def on(self, days: NDArray[np.datetime64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Air of each day, linear in time from mid-month to mid-month.

        Parameters
        ----------
        days : ndarray of datetime64[D], shape (n,)
            Consecutive days.

        Returns
        -------
        temp_f, rh_pct : ndarray of float, shape (n,) [deg F, %]
            A day stands for its noon.
        """
        month = np.timedelta64(1, "M")
        months = np.arange(
            days[0].astype("datetime64[M]") - month, days[-1].astype("datetime64[M]") + 2 * month
        )
        starts = months.astype("datetime64[D]").astype(np.float64)
        ends = (months + month).astype("datetime64[D]").astype(np.float64)
        middles = (starts + ends) / 2.0
        noons = days.astype(np.float64) + 0.5
        month_of_year = months.astype(np.int64) % 12
        return (
            np.interp(noons, middles, self.temp_f[month_of_year]),
            np.interp(noons, middles, self.rh_pct[month_of_year]),
        )

    def reaches(self, days: NDArray[np.datetime64]) -> NDArray[np.bool_]:
        """Whether there is air on each of the days: on every day of the calendar.

        Parameters
        ----------
        days : ndarray of datetime64[D]
            Any days.

        Returns
        -------
        ndarray of bool
            False only where there is no day.
        """
        return ~np.isnat(days)


@dataclass(frozen=True, eq=False)
class DatedAir:
    """A record of dated rows, each of which holds until the next, the last one holding on."""

    dates: NDArray[np.datetime64]
    temp_f: NDArray[np.float64]
    rh_pct: NDArray[np.float64]

    def on(self, days: NDArray[np.datetime64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Air of each day, NaN before the first row.

        Parameters
        ----------
        days : ndarray of datetime64[D], shape (n,)
            Any days.

        Returns
        -------
        temp_f, rh_pct : ndarray of float, shape (n,) [deg F, %]
            The figures of the last row dated on or before the day.
        """
        row = self.row_on(days)
        known = row >= 0
        return np.where(known, self.temp_f[row], np.nan), np.where(known, self.rh_pct[row], np.nan)

    def row_on(self, days: NDArray[np.datetime64]) -> NDArray[np.int64]:
        """Place of the row that holds on each of the days.

        Parameters
        ----------
        days : ndarray of datetime64[D], shape (n,)
            Any days.

        Returns
        -------
        ndarray of int, shape (n,)
            Of the last row dated on or before the day; -1 before the first.
        """
        return np.asarray(np.searchsorted(self.dates, days, side="right") - 1, dtype=np.int64)

    def reaches(self, days: NDArray[np.datetime64]) -> NDArray[np.bool_]:
        """Whether there is air on each of the days: from the first row on.

        Parameters
        ----------
        days : ndarray of datetime64[D]
            Any days.

        Returns
        -------
        ndarray of bool
            False before the first row, and where there is no day.
        """
        return np.asarray(days >= self.dates[0], dtype=np.bool_)


@dataclass(frozen=True, eq=False)
class MeasuredAir:
    """A dated record where there is one, and the means of the months on all other days."""

    months: MonthlyAir
    record: DatedAir

    def on(self, days: NDArray[np.datetime64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Air of each day.

        Parameters
        ----------
        days : ndarray of datetime64[D], shape (n,)
            Consecutive days.

        Returns
        -------
        temp_f, rh_pct : ndarray of float, shape (n,) [deg F, %]
            The figures of the last row dated on or before the day, where it is fewer than
            `HOLDS_DAYS` old; else those of the months.
        """
        row = self.record.row_on(days)
        age = (days - self.record.dates[row]).astype(np.int64)
        measured = (row >= 0) & (age < HOLDS_DAYS)
        temp_f, rh_pct = self.months.on(days)
        return (
            np.where(measured, self.record.temp_f[row], temp_f),
            np.where(measured, self.record.rh_pct[row], rh_pct),
        )

    def reaches(self, days: NDArray[np.datetime64]) -> NDArray[np.bool_]:
        """Whether there is air on each of the days: on every day of the calendar.

        Parameters
        ----------
        days : ndarray of datetime64[D]
            Any days.

        Returns
        -------
        ndarray of bool
            False only where there is no day.
        """
        return self.months.reaches(days)
