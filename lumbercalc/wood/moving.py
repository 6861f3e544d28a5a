"""When to move a stack to a second place: the candidates side by side."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.band import first_day
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.day_by_day import NO_DATE, day_at
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
    species: str,
    thickness_in: float,
    green_mc: float,
    start_date: ArrayLike,
    target_mc: float,
    climate: Climate,
    place: str,
    move_place: str,
    board_feet: float,
    stack_factor: float = 1,
    move_factor: float = np.nan,
    rate: float = 1,
    from_date: ArrayLike = NO_DATE,
    from_mc: float = np.nan,
    step_days: float = 14,
) -> MovePlan:
    """Compare dates on which one stack could move to a second place, and with staying.

    Parameters
    ----------
    species : str
        Canonical species name.
    thickness_in : float [in]
        Thickness as sawn.
    green_mc, target_mc : float [% MC]
        Moisture content on the start date, and when dry enough.
    start_date : datetime64[D]
        When drying began.
    climate : Climate
        The air of the places.
    place, move_place : str
        Names of the first and of the second place in the climate.
    board_feet : float [bf]
        Board feet, tallied green.
    stack_factor, move_factor : float [-]
        Share of the full speed in the setting of the first place and of the second; a NaN of the
        second is that of the first.
    rate : float [-]
        Rate fitted to the stack's own weighings.
    from_date : datetime64[D]
        Date of the last weighing, where the forecast and the candidates then begin.
    from_mc : float [% MC]
        What that weighing found.
    step_days : float [days]
        Whole days from candidate to candidate.

    Returns
    -------
    MovePlan
        move_date [NaT stays], mc_then [% MC on that day, NaN for staying], ready_date [NaT is not
        within five years of the start], days_first_place [days since the start], days_second_place
        [days], pints [US liquid pints of water that leave the lumber in the second place, down to
        the target]. Days and pints that rest on a target not reached are NaN. Candidates end
        before the stack would be ready without a move, and after 26 at the latest.

    Notes
    -----
    The likely forecast only. The water is the lumber's: a room that leaks adds its own.

    Examples
    --------
    >>> site = Climate.places({"yard": Climate.steady(60, 75), "shop": Climate.steady(75, 40)})
    >>> plan = move_plan("Walnut, black", 1.125, 85, "2026-05-01", 8, site, "yard", "shop", 400)
    >>> for row in list(zip(*plan, strict=True))[:3]:
    ...     print(row[0], row[2], *np.round([row[1], *row[3:]], 1))
    NaT NaT nan nan 0.0 0.0
    2026-05-01 2026-07-27 85.0 0.0 87.0 783.4
    2026-05-15 2026-08-03 43.8 14.0 80.0 364.4
    """
    start = np.asarray(start_date, dtype="datetime64[D]")
    begin = first_day(start, from_date, from_mc)
    moves = np.append(NO_DATE, begin + int(step_days) * np.arange(MOST_CANDIDATES))
    days = ready_days(
        species, thickness_in, green_mc, start, target_mc, climate, stack_factor, rate,
        from_date=from_date, from_mc=from_mc, place=place,
        move_date=moves, move_place=move_place, move_factor=move_factor,
    )  # fmt: skip
    waited = (moves - start).astype(np.float64)
    useful = np.isnat(moves) | (waited < days[0])
    moves, days, waited = moves[useful], days[useful], waited[useful]
    stays = np.isnat(moves)
    mc_then = mc_forecast(
        species, thickness_in, green_mc, start, moves, climate, stack_factor, rate,
        from_date, from_mc, place,
    )  # fmt: skip
    passed = np.where(np.isfinite(days), np.ceil(days), np.nan)
    pounds = water_loss(species, board_feet, mc_then, target_mc)
    pints = np.where(np.isnan(passed), np.nan, pounds / WATER_LB_PER_PINT)
    return MovePlan(
        move_date=moves,
        mc_then=mc_then,
        ready_date=day_at(start, days),
        days_first_place=np.where(stays, passed, waited),
        days_second_place=np.where(stays, 0.0, passed - waited),
        pints=np.where(stays, 0.0, pints),
    )
