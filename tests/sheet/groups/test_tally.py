"""TALLY_SUMMARY: a tally as it is typed, and the table that a sheet shows."""

from __future__ import annotations

import pytest

import lumbercalc as lc

TALLY = (["cherry", "black walnut", "black cherry", "walnut, black"], ["4/4", "8/4", 1, 2])
FEET = [10, 20, 30.5, 5]
GRADES = ["FAS", "1C", "fas", ""]

SUMMARY = [
    ["Cherry, black", 1, "FAS", 40.5],
    ["Cherry, black", None, "total", 40.5],
    ["Walnut, black", 2, "", 5],
    ["Walnut, black", 2, "1C", 20],
    ["Walnut, black", None, "total", 25],
    ["all species", None, "total", 65.5],
]


def test_names_and_quarters_are_read_before_they_are_compared() -> None:
    assert lc.tally_summary(*TALLY, FEET, GRADES) == SUMMARY


def test_rows_without_feet_are_passed_over_and_a_blank_grade_is_none() -> None:
    names, inches = TALLY
    with_blanks = ([*names, None, "cherry"], [*inches, 1, 1], [*FEET, 0, None], [*GRADES, "", ""])
    assert lc.tally_summary(*with_blanks) == SUMMARY
    assert lc.tally_summary(*TALLY, FEET, [None] * 4)[0] == ["Cherry, black", 1, "", 40.5]


@pytest.mark.parametrize(
    ("names", "inches", "said"),
    [(["cherry", None], [1, 1], "species"), (["cherry"] * 2, [1, ""], "thickness")],
)
def test_feet_without_their_species_or_thickness_are_not_lost(
    names: list[str | None], inches: list[object], said: str
) -> None:
    with pytest.raises(ValueError, match=f"row 2: {said} is missing, but the row counts"):
        lc.tally_summary(names, inches, [10, 500])


def test_a_fixed_array_is_padded_with_blanks() -> None:
    padded = lc.tally_summary(*TALLY, FEET, GRADES, 8)
    assert padded == [*SUMMARY, *[[None] * 4] * 2]


def test_a_fixed_array_that_is_too_short_is_refused_rather_than_cut() -> None:
    # cut, it would show board feet without the totals they belong to
    with pytest.raises(ValueError, match="row_count is 5 rows; it must be at least 6"):
        lc.tally_summary(*TALLY, FEET, GRADES, 5)
