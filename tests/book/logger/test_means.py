"""Means of a record of air: the month's or week's EMC is that of the readings."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import lumbercalc as lc
from lumbercalc.book.logger.means import MONTH_DAYS, WEEK_DAYS, mean_air, monthly, weekly

ROUNDING = 0.006
"""% MC: half of 0.01 % RH where EMC rises fastest, 1.2 % MC per % RH towards saturation."""


def record(first: str, days: int, per_day: int = 24, swing_rh: float = 25.0) -> pd.DataFrame:
    """An invented record: warm dry afternoons, cool damp nights."""
    times = pd.date_range(first, periods=days * per_day, freq=pd.Timedelta(days=1) / per_day)
    wave = np.sin(2 * np.pi * (np.arange(len(times)) % per_day) / per_day)
    drift = np.linspace(-5, 5, len(times))
    temps, rhs = 62 + drift + 12 * wave, 68 + drift / 2 - swing_rh * wave
    return pd.DataFrame({"temp_f": temps, "rh_pct": rhs}, index=times)


@pytest.mark.parametrize("swing", [0.0, 10.0, 29.0])
def test_a_month_has_the_mean_emc_of_its_readings(swing: float) -> None:
    air = record("2025-04-01", 30, swing_rh=swing)
    [row], few = monthly(air)
    assert (row.key, row.days, few) == (4, 30, [])
    assert row.temp_f == pytest.approx(air["temp_f"].mean(), abs=0.005)
    expected = lc.mean_emc(air["temp_f"].tolist(), air["rh_pct"].tolist())
    assert lc.emc(row.temp_f, row.rh_pct) == pytest.approx(expected, abs=ROUNDING)


def test_the_mean_humidity_would_be_wrong() -> None:
    air = record("2025-04-01", 30, swing_rh=29.0)
    [row], _ = monthly(air)
    naive = lc.emc(air["temp_f"].mean(), air["rh_pct"].mean())
    assert lc.emc(row.temp_f, row.rh_pct) - naive > 1.0
    assert row.rh_pct > air["rh_pct"].mean() + 5


@pytest.mark.parametrize("hours", [-5, -8, 12])
def test_times_of_utc_hardly_change_the_mean_of_a_month(hours: int) -> None:
    """The steepest swing of this record moves EMC by 8 % MC within a day."""
    air = record("2025-03-01", 92, swing_rh=29.0)
    there = air.set_axis(air.index + pd.Timedelta(hours=hours))
    [own, off] = ([row for row in monthly(each)[0] if row.key == 4] for each in (air, there))
    assert off[0].temp_f == pytest.approx(own[0].temp_f, abs=0.2)
    emcs = [lc.emc(row.temp_f, row.rh_pct) for row in (*own, *off)]
    assert emcs[0] == pytest.approx(emcs[1], abs=0.1)


def test_a_day_counts_once_however_often_it_was_read() -> None:
    seldom, often = record("2025-04-01", 15, 4), record("2025-04-16", 15, 96)
    [row], _ = monthly(pd.concat([seldom, often]))
    halves = [monthly(half)[0][0] for half in (seldom, often)]
    assert row.temp_f == pytest.approx(np.mean([half.temp_f for half in halves]), abs=0.01)


def test_months_of_all_years_together_and_short_ones_apart() -> None:
    air = pd.concat([record("2024-12-01", 40), record("2025-12-20", 12)])
    enough, few = monthly(air)
    assert [(row.key, row.days) for row in enough] == [(1, 9), (12, 43)]
    assert few == []
    enough, few = monthly(record("2025-03-20", 12 + MONTH_DAYS - 1))
    assert [(row.key, row.days) for row in enough] == [(3, 12)]
    assert [(row.key, row.days) for row in few] == [(4, MONTH_DAYS - 1)]


def test_weeks_begin_on_mondays_the_first_with_the_log() -> None:
    enough, few = weekly(record("2025-06-20", 21))  # a Friday
    assert [(row.key, row.days) for row in enough] == [
        (date(2025, 6, 20), 3),
        (date(2025, 6, 23), 7),
        (date(2025, 6, 30), 7),
        (date(2025, 7, 7), 4),
    ]
    assert few == []
    assert all(row.key.weekday() == 0 for row in enough[1:] if isinstance(row.key, date))
    enough, few = weekly(record("2025-06-23", 7 + WEEK_DAYS - 1))
    assert [row.key for row in enough] == [date(2025, 6, 23)]
    assert [(row.key, row.days) for row in few] == [(date(2025, 6, 30), WEEK_DAYS - 1)]


def test_a_week_has_the_mean_emc_of_its_readings() -> None:
    air = record("2025-06-23", 14)
    for row in weekly(air)[0]:
        start = pd.Timestamp(row.key)
        week = air[(air.index >= start) & (air.index < start + pd.Timedelta(days=7))]
        expected = lc.mean_emc(week["temp_f"].tolist(), week["rh_pct"].tolist())
        assert lc.emc(row.temp_f, row.rh_pct) == pytest.approx(expected, abs=ROUNDING)


@given(st.floats(-40, 210), st.floats(1, 100))
@settings(max_examples=100, deadline=None)
def test_steady_air_comes_back(temp: float, rh: float) -> None:
    there = mean_air(temp, float(lc.emc(temp, rh)))
    assert there == (pytest.approx(temp, abs=0.0051), pytest.approx(rh, abs=0.02))
    assert 0.99 <= there[1] <= 100


@pytest.mark.parametrize("rh", [1.0, 100.0])
def test_the_ends_of_the_scale(rh: float) -> None:
    air = record("2025-04-01", 10).assign(rh_pct=rh)
    [row], _ = monthly(air)
    assert 0 <= row.rh_pct <= 100
    assert row.rh_pct == pytest.approx(rh, abs=2)
