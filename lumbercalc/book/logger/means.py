"""Means of a logger's record by month or by week, such that the wood's moisture comes out right."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
import pandas as pd

from lumbercalc.wood.air import emc, rh_for_emc

MONTH_DAYS = 7
"""Days with readings that a month's row needs at least (common practice, no source)."""
WEEK_DAYS = 3
"""Days with readings that a week's row needs at least (common practice, no source)."""

Key = int | date
"""Of a row of air: a month of every year, or the first day of dated air."""


@dataclass(frozen=True)
class Air:
    """The mean air of a month or a week, as it goes into a row.

    Parameters
    ----------
    key : int or date
        Month 1 to 12, or the first day.
    days : int
        With readings.
    temp_f, rh_pct : float
        Mean temperature [deg F], and the humidity that gives the mean EMC at it [% RH].
    """

    key: Key
    days: int
    temp_f: float
    rh_pct: float


def monthly(air: pd.DataFrame) -> tuple[list[Air], list[Air]]:
    """Average a record by calendar month, all years together.

    A month's temperature is the mean of its days' means. Its humidity is not the mean humidity
    but the one that gives, at that temperature, the mean of the days' mean EMC: wood follows the
    EMC, and the EMC of the mean humidity is not the mean EMC where the air swings.

    Parameters
    ----------
    air : DataFrame
        Of a `ClimateLog`: temp_f and rh_pct by time.

    Returns
    -------
    enough, too_few : list of Air
        Months with at least `MONTH_DAYS` days of readings, and the others.
    """
    daily = _daily(air)
    return _means(daily, pd.DatetimeIndex(daily.index).month.tolist(), MONTH_DAYS)


def weekly(air: pd.DataFrame) -> tuple[list[Air], list[Air]]:
    """Average a record by week from Monday on, as `monthly` does by month.

    The first week is dated by the first day of the log: the air before it is not known.

    Parameters
    ----------
    air : DataFrame
        Of a `ClimateLog`: temp_f and rh_pct by time.

    Returns
    -------
    enough, too_few : list of Air
        Weeks with at least `WEEK_DAYS` days of readings, and the others.
    """
    daily = _daily(air)
    days = pd.DatetimeIndex(daily.index)
    mondays = days - pd.to_timedelta(days.day_of_week, unit="D")
    return _means(daily, [max(monday, days[0]).date() for monday in mondays], WEEK_DAYS)


def mean_air(temp_f: float, emc_pct: float) -> tuple[float, float]:
    """Give the steady air of a mean temperature in which wood comes to a mean EMC.

    Parameters
    ----------
    temp_f : float [deg F]
        Mean temperature.
    emc_pct : float [% MC]
        Mean equilibrium moisture content.

    Returns
    -------
    float, float [deg F, % RH]
        With two decimals, as they go into the sheet.

    Examples
    --------
    >>> mean_air(70.004, 9.2344)
    (70.0, 49.95)
    """
    temp = round(temp_f, 2)
    rh = float(rh_for_emc(temp, emc_pct))
    # a mean over saturated air may come out a hair above what that temperature can give
    return temp, 100.0 if np.isnan(rh) else round(rh, 2)


def _daily(air: pd.DataFrame) -> pd.DataFrame:
    readings = pd.DataFrame(
        {"temp": air["temp_f"], "emc": emc(air["temp_f"], air["rh_pct"])}, index=air.index
    )
    return readings.groupby(pd.DatetimeIndex(air.index).normalize()).mean()


def _means(daily: pd.DataFrame, keys: list[Any], least: int) -> tuple[list[Air], list[Air]]:
    rows = [
        Air(key, len(days), *mean_air(float(days["temp"].mean()), float(days["emc"].mean())))
        for key, days in daily.groupby(pd.Index(keys, dtype=object))
    ]
    return [row for row in rows if row.days >= least], [row for row in rows if row.days < least]
