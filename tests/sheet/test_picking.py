"""One stack, or one day, picked out of a whole sheet's columns."""

from __future__ import annotations

from typing import Any

import pytest

import lumbercalc as lc
from lumbercalc.sheet.call import call

YEAR = [[70, 50]] * 12
DATES = ["2026-05-08", "2026-05-08", "2026-05-15", None, "2026-05-22"]
MCS = [55.0, 70.0, 45.5, None, 38.5]
STACKS = ["A", "B", "a", None, "A"]
STACK = ("northern red oak", 1.125, 80, "2026-05-01", YEAR)


def rate(dates: Any, mcs: Any, stacks: Any = None, stack: Any = None) -> Any:
    answer = call("DRYING_RATE", [dates, mcs, *STACK, 1, None, None, stacks, stack])
    assert answer.problems == {}
    return answer.values[0]


def test_one_stack_of_a_sheet_is_its_own_rows() -> None:
    alone = rate([DATES[0], DATES[2], DATES[4]], [MCS[0], MCS[2], MCS[4]])
    assert rate(DATES, MCS, STACKS, "A") == alone
    assert rate(DATES, MCS, STACKS, "B") == rate(DATES[1:2], MCS[1:2])
    assert rate(DATES, MCS, STACKS, "B") != alone


def test_a_stack_without_rows_is_blank_and_no_stack_is_all_rows_of_the_only_one() -> None:
    assert rate(DATES, MCS, STACKS, "C") is None
    one = [DATES[0], *DATES[2:]], [MCS[0], *MCS[2:]]
    assert rate(*one, ["A", "a", None, "A"]) == rate(*one, "") == rate(*one)


@pytest.mark.parametrize("stack", [None, "", " ", 0])  # Calc hands over 0 for a blank cell
def test_several_stacks_are_not_one_record(stack: Any) -> None:
    answer = call("DRYING_RATE", [DATES, MCS, *STACK, 1, None, None, STACKS, stack])
    assert answer.problems == {0: "stack is blank; it must be one of the 2 in stacks: A, B"}
    answer = call("MC_STATEMENT", [[7, 15] * 2, "2026-11-02", "", None, list("abcd"), stack])
    assert answer.problems[0].endswith("one of the 4 in stacks: a, b, c, ...")


def test_a_bad_row_of_another_stack_does_not_matter() -> None:
    mcs = [MCS[0], "wet", *MCS[2:]]
    assert rate(DATES, mcs, STACKS, "A") == rate(DATES, MCS, STACKS, "A")
    answer = call("DRYING_RATE", [DATES, mcs, *STACK, 1, None, None, STACKS, "B"])
    assert answer.problems[0].startswith('row 2: mcs is the text "wet"')


@pytest.mark.parametrize(
    ("day", "said"),
    [("2026-11-02", "7.8 % on average"), ("2026-11-09", "content 9.0 %, 1 reading, 2026-11-09")],
)
def test_the_statement_is_of_the_day_and_the_stack(day: str, said: str) -> None:
    readings = [7.6, 8.0, 12.0, 9.0]
    dates = ["2026-11-02", "2026-11-02", "2026-11-02", "2026-11-09"]
    stacks = ["A", "A", "B", "A"]
    answer = call("MC_STATEMENT", [readings, day, "", dates, stacks, "A"])
    assert said in answer.values[0]


def test_a_stack_without_the_column_to_find_it_in_is_refused() -> None:
    answer = call("MC_STATEMENT", [[7.6, 8.0], "2026-11-02", "", None, None, "A"])
    assert answer.problems == {0: "stack is A, but stacks, the column to find it in, is left out"}


READINGS = [7.5, 8.0, 11.0, 8.2, "wet", 7.9, None]
READ_STACKS = ["A", "a", "B", "A", "B", "A", "A"]


@pytest.mark.parametrize(
    ("name", "rest"),
    [("MC_UPPER", [95]), ("SHARE_WITHIN", [8, 0.3]), ("READINESS", [8, 1, 95])],
)
def test_readings_of_one_stack_are_judged_alone(name: str, rest: list[float]) -> None:
    alone = call(name, [[7.5, 8.0, 8.2, 7.9], *rest]).values
    assert call(name, [READINGS, *rest, READ_STACKS, "A"]).values == alone
    assert call(name, [READINGS, *rest, READ_STACKS, "C"]).values == [None]
    assert call(name, [READINGS, *rest, READ_STACKS, "B"]).problems[0].startswith("row 5: readings")
    assert call(name, [READINGS[:4], *rest]).values != alone
    refused = call(name, [[7.5, 8.0, 8.2, 7.9], *rest, None, "A"])
    assert "stacks, the column to find it in, is left out" in refused.problems[0]


@pytest.mark.parametrize("name", ["drying_rate", "rate_spread"])
def test_sample_boards_that_differ_in_case_are_one(name: str) -> None:
    """As in the sheet, where COUNTIFS and MATCH take A1 and a1 for the same."""
    dates = ["2026-05-08", "2026-05-15", "2026-05-22", "2026-05-29"]
    weighed = (dates, [55.0, 45.5, 38.5, 33.0])
    stack = ("northern red oak", 1.125, 80, "2026-05-01", [[70, 50]] * 12)
    function = getattr(lc, name)
    one = function(*weighed, *stack, boards=["A1"] * 4)
    assert function(*weighed, *stack, boards=["A1", "a1", "A1", "a1"]) == one
    assert function(*weighed, *stack, boards=["A1", "B1", "A1", "B1"]) != one
