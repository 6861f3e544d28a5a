"""HEAT_TREATED: what a record with long gaps, or in no order of time, is told."""

from __future__ import annotations

from typing import Any

import pytest

import lumbercalc as lc

HOT = 135


@pytest.mark.parametrize(
    ("minutes", "core", "treated"),
    [
        ([0, 10, 20, 30], [HOT] * 4, True),
        ([0, 60, 70, 80, 90], [80, HOT, HOT, HOT, HOT], True),  # a gap while it was warming
        ([0, 10, 20, 30, 90], [HOT] * 5, True),  # a gap after it was long enough
        ([0, 20], [HOT, HOT], False),  # too short, with or without what the gap hides
    ],
)
def test_gaps_that_do_not_matter(minutes: list[float], core: list[float], treated: bool) -> None:
    assert lc.heat_treated(minutes, core) is treated


@pytest.mark.parametrize(
    ("minutes", "core", "said"),
    [
        ([0, 30], [HOT] * 2, "minutes goes from 0 to 30 while the core is hot"),
        ([0, 20, 25, 50], [90, HOT, HOT, HOT], "minutes goes from 25 to 50 while the core is hot"),
        # a blank reading leaves a gap
        ([0, 10, 20, 30, 40], [HOT, HOT, None, None, HOT], "minutes goes from 10 to 40"),
        ([0, 10, 10, 30], [HOT] * 4, "minutes goes from 10 to 10; it must rise"),
        ([0, 20, 10], [HOT] * 3, "minutes goes from 20 to 10; it must rise"),
        # 9:00 to 9:40 as a sheet keeps it
        ([0.375, 0.3889, 0.4028], [HOT] * 3, "minutes goes from 0.375 to 0.4028 in all; times of"),
    ],
)
def test_records_that_show_nothing(
    minutes: list[float], core: list[float | None], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        lc.heat_treated(minutes, core)
    assert lc.problem("HEAT_TREATED", minutes, core).startswith(said)


@pytest.mark.parametrize(
    ("minutes", "charges", "charge", "said"),
    [
        # neither charge is 30 minutes long, both together are
        ([0, 10, 20, 30], ["A", "A", "B", "B"], "", "charge is blank; it must be one of the 2"),
        # the cold reading is of no time, or of no charge
        ([0, 10, None, 30], None, "", "row 3: minutes is missing, but the row counts"),
        ([0, 10, 20, 30], ["A", "A", None, "A"], "A", "row 3: charges is missing, but"),
    ],
)
def test_no_reading_is_passed_over(minutes: Any, charges: Any, charge: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        lc.heat_treated(minutes, [HOT, HOT, 90, HOT], charges, charge)


def test_rows_that_are_not_filled_in_yet_do_not_matter() -> None:
    minutes, core = [0, 10, 20, 30, 40, None], [HOT, HOT, HOT, HOT, None, None]
    assert lc.heat_treated(minutes, core)
    assert lc.heat_treated(minutes, core, ["A"] * 4 + [None] * 2, "a")


def test_minutes_may_be_of_date_and_time() -> None:
    """Two hours before and after midnight, as a sheet keeps them: days since 1899-12-30."""
    times = [46171 + (23 + n / 6) / 24 for n in range(13)]
    assert lc.heat_treated([time * 1440 for time in times], [HOT] * 13)
