"""A pandas frame as a table of air: which column is which, and what cannot be told."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

import lumbercalc as lc

YEAR = [[70, 50]] * 12
READY = date(2026, 6, 8)


def ready(air: pd.DataFrame | pd.Series, **place: str) -> date:
    return lc.ready_date("northern red oak", 1.125, 80, "2026-05-01", 20, air, **place)


def test_a_frames_columns_are_known_by_their_labels() -> None:
    frame = pd.DataFrame(YEAR, columns=["temp_f", "rh_pct"])
    assert ready(frame[["rh_pct", "temp_f"]]) == ready(frame) == READY
    other = frame.assign(month=range(1, 13), place="yard", note="measured")
    assert ready(other[["note", "rh_pct", "month", "temp_f"]]) == READY
    assert ready(other, place="yard") == READY
    assert ready(frame.set_axis(["temp", "rh"], axis=1)[["rh", "temp"]]) == READY
    others = other[["place", "month", "temp_f", "rh_pct"]].set_axis(list("abcd"), axis=1)
    assert ready(others) == READY
    with pytest.raises(ValueError, match="climate has the columns t, rh_pct; they must be temp_f"):
        ready(frame.rename(columns={"temp_f": "t"}))
    with pytest.raises(ValueError, match="with month or date"):
        ready(other.assign(date="2026-05-01"))


def test_a_frames_index_may_hold_its_months_and_places() -> None:
    """As groupby and resample leave them; rows without months are January to December."""
    frame = pd.DataFrame(YEAR, columns=["temp_f", "rh_pct"]).assign(month=range(1, 13))
    turned = frame.iloc[[6, 7, 8, 9, 10, 11, 0, 1, 2, 3, 4, 5]]
    assert ready(turned) == ready(turned.set_index("month")) == READY
    both = turned.assign(place="yard").set_index(["place", "month"])
    assert ready(both, place="yard") == READY
    days = pd.DatetimeIndex([f"{2025 + (m < 7)}-{m:02}-01" for m in turned["month"]])
    assert ready(turned[["rh_pct", "temp_f"]].set_index(days.rename("date"))) == READY
    for index in (days, days.rename("Time"), days.to_period("M")):
        with pytest.raises(ValueError, match="climate has dates in its index and no column month"):
            ready(turned[["temp_f", "rh_pct"]].set_index(index))
        assert ready(turned.set_index(index)) == READY


@pytest.mark.parametrize("labels", [("Humidity", "Temperature"), ("temp_c", "rel_hum")])
def test_a_frames_labels_that_name_air_otherwise_are_refused(labels: tuple[str, str]) -> None:
    """Taken in their order, humidity would be a temperature, and deg C deg F."""
    frame = pd.DataFrame([(rh, temp) for temp, rh in YEAR], columns=labels)
    with pytest.raises(ValueError, match=f"climate has the columns {', '.join(labels)}; they must"):
        ready(frame)


def test_a_series_is_no_climate() -> None:
    temps = pd.Series([temp for temp, _ in YEAR], index=pd.RangeIndex(1, 13, name="month"))
    with pytest.raises(ValueError, match="climate has 1 column; it must be 12 rows"):
        ready(temps)


def test_a_frames_labels_may_be_in_capitals() -> None:
    frame = pd.DataFrame(YEAR, columns=["TEMP_F", " Rh_pct"])[[" Rh_pct", "TEMP_F"]]
    assert ready(frame) == READY
