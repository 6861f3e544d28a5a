"""Declarations of the group Drying: the rate of a stack, fitted to its weighings."""

from __future__ import annotations

from typing import Any

import numpy as np

from lumbercalc.sheet.forecasting import (
    AIR_ON_START,
    CLIMATE,
    FACTOR,
    LONGEST_FORECAST,
    MOVE,
    MOVED,
    NO_CONSTANT,
    PLACE,
    STACK_BEGUN,
    of_course,
)
from lumbercalc.sheet.function import Argument, Example, Function, Rule
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.picking import STACK, STACK_WITHOUT_STACKS, STACKS, of_stack, without
from lumbercalc.sheet.vocabulary import DATE_LIMITS, NAME_LIMITS, number
from lumbercalc.wood import calibration
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.intervals import SLIP, intervals
from lumbercalc.wood.texts import of_each

WEIGHING_ARGUMENTS = (
    Argument("dates", "date", DATE_LIMITS, "dates of the weighings", shape="block"),
    number("mcs", "moisture contents by weight", Limits("% MC", 1, 250), shape="block"),
    *STACK_BEGUN,
    CLIMATE,
    FACTOR,
    Argument(
        "boards",
        "text",
        NAME_LIMITS,
        "sample board of each weighing",
        None,
        shape="block",
    ),
    PLACE,
    STACKS,
    STACK,
    *MOVE,
)
NOT_BEFORE_START = Rule(
    lambda v: np.any(v["dates"] < v["start_date"]),
    lambda v: (
        f"dates holds {np.min(v['dates'])}; it must not be before start_date, {v['start_date']}"
    ),
)
NOT_TOO_LATE = Rule(
    lambda v: np.any(v["dates"] > v["start_date"] + LONGEST_FORECAST),
    lambda v: (
        f"dates holds {np.max(v['dates'])}; it must not be more than 10 years after start_date, "
        f"{v['start_date']}"
    ),
)


def _twice(dates: Any) -> Any:
    """Give the dates that stand twice."""
    days, counts = np.unique(dates, return_counts=True)
    return days[counts > 1]


ONE_BOARD = Rule(
    lambda v: v["boards"] is None and _twice(v["dates"]).size > 0,
    lambda v: f"dates holds {_twice(v['dates'])[0]} twice; name the sample boards in boards",
)
WEIGHING_RULES = (
    STACK_WITHOUT_STACKS,
    NOT_BEFORE_START,
    NOT_TOO_LATE,
    ONE_BOARD,
    *MOVED,
    AIR_ON_START,
    NO_CONSTANT,
)
WEIGHINGS_EXAMPLE = (
    ["2026-05-08", "2026-05-15", "2026-05-22"],
    [55.0, 45.5, 38.5],
    "northern red oak",
    1.125,
    80,
    "2026-05-01",
    [[70, 50]] * 12,
)


def _by_board(compute: Any) -> Any:
    """Take names of sample boards that differ in case alone for one board, as a sheet does."""

    def computed(course: DryingCourse, dates: Any, mcs: Any, boards: Any) -> Any:
        named = None if boards is None else of_each(boards, str.casefold, object)
        return compute(intervals(course, dates, mcs, named), course.species)

    return without("stacks", "stack", compute=of_course(computed))


FUNCTIONS = (
    Function(
        "DRYING_RATE",
        "Drying",
        "Rate k of a stack against the forecast, fitted to the weighings of its sample boards.",
        "ratio: 1 as forecast, below 1 slower; also 1 where no weighing tells one; a weighing over "
        f"{SLIP:g} % MC off the one before and the one after is left out",
        WEIGHING_ARGUMENTS,
        _by_board(calibration.drying_rate),
        "this project's own estimator with a prior of 1; no published one was found",
        Example(WEIGHINGS_EXAMPLE, 0.6843448),
        rules=WEIGHING_RULES,
        selects=of_stack,
    ),
    Function(
        "RATE_SPREAD",
        "Drying",
        "How sure the rate k is: one standard deviation of ln k.",
        "ratio",
        WEIGHING_ARGUMENTS,
        _by_board(calibration.rate_spread),
        "this project's own estimator; no published one was found",
        Example(WEIGHINGS_EXAMPLE, 0.09842845),
        rules=WEIGHING_RULES,
        selects=of_stack,
    ),
)
"""The calibration's part of the group."""
