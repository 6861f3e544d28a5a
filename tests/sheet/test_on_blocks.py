"""Rows of a record that follow each other in time: where a blank one may stand."""

from __future__ import annotations

import pytest

import lumbercalc as lc
from lumbercalc.sheet.call import call

WET = [95.0, 96.0, 97.0]


def test_a_blank_row_before_or_after_a_record_is_passed_over() -> None:
    alone = lc.mold_index([70, 68, 66], WET)
    assert lc.mold_index([None, 70, 68, 66, None], [99, *WET, None]) == alone
    assert lc.mold_index([None, None], [None, None]) is None


def test_a_gap_in_a_record_of_air_is_refused_at_its_row() -> None:
    # a logger that stood still took no mould away: without those days the index would be too low
    with pytest.raises(ValueError, match="row 2: temps_f is missing; the record must have no gap"):
        lc.mold_index([70, None, 66], WET)
    with pytest.raises(ValueError, match="row 3: rhs_pct is missing"):
        lc.mold_index([70, 68, 66, 66], [95, 95, None, 95])
    with pytest.raises(
        ValueError, match="row 4: temps_f is missing"
    ):  # blank rows before count too
        lc.mold_index([None, None, 70, None, 66], [None, None, *WET])


@pytest.mark.parametrize("count", [5, 6, 9])
def test_a_table_has_as_many_rows_as_are_asked_for(count: int) -> None:
    cells = [["cherry", "white oak"], [1, 2], [5, 6], None, count]
    answer = call("TALLY_SUMMARY", cells)
    assert answer.shape == (count, 4)  # a line for each species and its total, and one for all
    assert len(answer.values) == count * 4
    assert answer.values[20:] == [None] * (count - 5) * 4
    assert answer.values[:20] == call("TALLY_SUMMARY", cells[:3]).values
