"""When to move a stack to a second place: the candidates side by side."""

from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from lumbercalc.wood.band import first_day
from lumbercalc.wood.day_by_day import NO_DATE, day_at
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import mc_forecast, ready_days
from lumbercalc.wood.weight import WATER_LB_PER_PINT, water_loss

MOST_CANDIDATES = 26
"""A year of fortnights: a move in every season is among them."""


class MovePlan(NamedTuple):
    """A stack that stays (first row), and that moves on each of the dates; all of shape (n,)."""

    move_date: NDArray[np.datetime64]
    mc_then: NDArray[np.float64]
    ready_date: NDArray[np.datetime64]
    days_first_place: NDArray[np.float64]
    days_second_place: NDArray[np.float64]
    pints: NDArray[np.float64]


def move_plan(
    course: DryingCourse, target_mc: float, board_feet: float, step_days: float = 14
) -> MovePlan:
    """Compare dates on which one stack could move to a second place, and with staying.

    Parameters
    ----------
    course : DryingCourse
        The stack, with `place` and `move_place`; single figures. The plan chooses the date of the
        move itself; the candidates begin at the last weighing.
    target_mc : float [% MC]
        Moisture content when dry enough.
    board_feet : float [bf]
        Board feet, tallied green.
    step_days : float [days]
        Whole days from candidate to candidate.

    Returns
    -------
    MovePlan
        move_date [NaT stays], mc_then [% MC on that day, NaN for staying], ready_date [NaT is not
        within five years of the start or the last weighing], days_first_place [days since the
        start], days_second_place [days], pints [US liquid pints of water that leave the lumber in
        the second place, down to the target]. Days and pints that rest on a target not reached are
        NaN. Candidates end before the stack would be ready without a move, and after 26 at the
        latest.

    Notes
    -----
    The likely forecast only. The water is the lumber's: a room that leaks adds its own.

    Examples
    --------
    >>> from lumbercalc.wood.climate import Climate
    >>> site = Climate.places({"yard": Climate.steady(60, 75), "shop": Climate.steady(75, 40)})
    >>> walnut = DryingCourse(
    ...     "Walnut, black", 1.125, 85, "2026-05-01", site, place="yard", move_place="shop"
    ... )
    >>> for row in list(zip(*move_plan(walnut, 8, 400), strict=True))[:3]:
    ...     print(row[0], row[2], *np.round([row[1], *row[3:]], 1))
    NaT NaT nan nan 0.0 0.0
    2026-05-01 2026-07-27 85.0 0.0 87.0 783.4
    2026-05-15 2026-08-03 43.8 14.0 80.0 364.4
    """
    start = np.asarray(course.start_date, dtype="datetime64[D]")
    begin = first_day(start, course.from_date, course.from_mc)
    moves = np.append(NO_DATE, begin + int(step_days) * np.arange(MOST_CANDIDATES))
    days = ready_days(replace(course, move_date=moves), target_mc)
    waited = (moves - start).astype(np.float64)
    useful = np.isnat(moves) | (waited < days[0])
    moves, days, waited = moves[useful], days[useful], waited[useful]
    stays = np.isnat(moves)
    mc_then = mc_forecast(replace(course, move_date=NO_DATE), moves)
    passed = np.where(np.isfinite(days), np.ceil(days), np.nan)
    pounds = water_loss(course.species, board_feet, mc_then, target_mc)
    pints = np.where(np.isnan(passed), np.nan, pounds / WATER_LB_PER_PINT)
    return MovePlan(
        move_date=moves,
        mc_then=mc_then,
        ready_date=day_at(start, days),
        days_first_place=np.where(stays, passed, waited),
        days_second_place=np.where(stays, 0.0, passed - waited),
        pints=np.where(stays, 0.0, pints),
    )
