"""Time zones behind times and in headers."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from lumbercalc.book.logger.zones import ZONE, in_universal_time, zone_words


@pytest.mark.parametrize(
    "place",
    ["America/New_York", "America/Chicago", "America/Denver", "America/Los_Angeles",
     "America/Anchorage", "Pacific/Honolulu", "America/Halifax", "America/St_Johns",
     "Europe/London", "Europe/Berlin", "Europe/Athens", "Australia/Sydney", "Pacific/Auckland",
     "America/Bogota"],
)  # fmt: skip
@pytest.mark.parametrize("month", [1, 7])
def test_zones_of_the_time_zone_database(place: str, month: int) -> None:
    """Names and offsets by IANA's database, in winter and in summer."""
    time = datetime(2026, month, 12, 14, 5, tzinfo=ZoneInfo(place))
    for form in ("%Z", "%z", "%:z", "GMT%z", "UTC%:z"):
        said = time.strftime(form.replace("%:z", time.isoformat()[-6:]))
        assert re.fullmatch(ZONE, said), said


@pytest.mark.parametrize("text", ["EAST", "WEST", "TEST", "AM", "-5", "", "+", "UTC-", "Shed"])
def test_what_is_no_zone(text: str) -> None:
    assert not re.fullmatch(ZONE, text)


@pytest.mark.parametrize(
    ("header", "there"),
    [
        ("Time, UTC", True),
        ("timestamp_utc", True),
        ("Date Time (GMT+00:00)", True),
        ("Date/Time (GMT-05:00)", False),
        ("Time (UTC offset -05:00)", False),
        ("Outcome", False),
        ("Time", False),
    ],
)
def test_headers_of_universal_time(header: str, there: bool) -> None:
    assert in_universal_time(header) is there


def test_a_winter_by_the_clock_of_utc_is_the_place_s_own_beside_a_summer() -> None:
    winter, summer = (
        datetime(2026, month, 12, tzinfo=ZoneInfo("Europe/London")).isoformat()[-6:]
        for month in (1, 7)
    )
    assert zone_words([winter, summer], "Time") == "; by the clock of +00:00, +01:00, as written"
    utc = datetime(2026, 1, 12, tzinfo=UTC).isoformat()[-6:]
    assert zone_words([utc], "Time").startswith("; in UTC, as written")


def test_the_zone_behind_the_times_goes_before_that_of_the_header() -> None:
    assert zone_words(["EST"], "Time, UTC") == "; by the clock of EST, as written"
    assert zone_words([], "Time") == ""
    many = [f"+0{n}:00" for n in range(1, 6)]
    assert zone_words(many, "") == "; by the clock of +01:00, +02:00, +03:00, ..., as written"
