"""Declarations of the group Drying: when to move a stack to a second place."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from lumbercalc.sheet.forecasting import (
    AIR_ON_BEGIN,
    CLIMATE,
    FACTOR,
    FIVE_YEARS,
    FROM_DATE,
    FROM_MC,
    MODEL,
    MOVE_FACTOR,
    MOVE_PLACE,
    NO_CONSTANT,
    PLACE,
    RATE,
    STACK_BEGUN,
    TARGET,
    TARGET_MC,
    WEIGHED,
    begins,
    held,
    of_course,
)
from lumbercalc.sheet.function import REQUIRED, Example, Function, Rule, Values
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import ROW_COUNT, SAWN_FEET, number
from lumbercalc.wood import curve, moving
from lumbercalc.wood.drying_course import DryingCourse

STAYS = "stays"
"""What stands for the date of the move in the row of the stack that does not move."""

AIR_IN_SECOND_PLACE = Rule(
    lambda v: ~v["climate"].has_air(begins(v), v["move_place"]),
    lambda v: (
        f"climate has no air in {v['move_place']} on {begins(v)}, the first day to move on; "
        "its first dated row must not be later"
    ),
)


def plan_columns(course: DryingCourse, **other: float) -> list[Any]:
    """Lay a plan out as columns, with a word where there is no move.

    Parameters
    ----------
    course : DryingCourse
        The stack, with its second place.
    **other
        Further arguments of `moving.move_plan`.

    Returns
    -------
    list of sequence
        Those of `moving.MovePlan`.
    """
    plan = moving.move_plan(course, **other)
    dates = [STAYS if np.isnat(day) else day for day in plan.move_date]
    return [dates, *plan[1:]]


def _why_not_reached(values: Values) -> str:
    places = [values["place"], values["move_place"]]
    first, second = curve.lowest_emc(values["climate"], places, begins(values))
    target = values["target_mc"]
    return (
        f"target_mc is {target:g} % MC and {FIVE_YEARS}; the driest air of {places[0]} holds wood "
        f"at {held(first, target)}, that of {places[1]} at {held(second, target)}"
    )


FUNCTIONS = (
    Function(
        "MOVE_PLAN",
        "Drying",
        "When to move a stack, yard first and heated room later: dates to choose from.",
        'rows of move date or "stays", % MC then, ready date or "not reached" within 5 years, days '
        "in the first place, days in the second, US pints of water to take out there",
        (
            *STACK_BEGUN,
            TARGET_MC,
            CLIMATE,
            replace(PLACE, default=REQUIRED, about="first place, in the climate table"),
            replace(MOVE_PLACE, default=REQUIRED),
            SAWN_FEET,
            FACTOR,
            MOVE_FACTOR,
            RATE,
            FROM_DATE,
            FROM_MC,
            number("step_days", "days from move to move", Limits("days", 1, 365, whole=True), 14),
            ROW_COUNT,
        ),
        of_course(plan_columns),
        f"{MODEL}; water as in WATER_LOSS; {moving.MOST_CANDIDATES} dates at most",
        Example(
            (
                "black walnut",
                1.125,
                85,
                "2026-05-01",
                12,
                [["yard", "2026-05-01", 60, 50], ["shop", "2026-05-01", 90, 35]],
                "yard",
                "shop",
                400,
            ),
            STAYS,
        ),
        rules=(*WEIGHED, TARGET, *AIR_ON_BEGIN, AIR_IN_SECOND_PLACE, NO_CONSTANT),
        remark=_why_not_reached,
        spills=True,
    ),
)
"""The plan's part of the group."""
