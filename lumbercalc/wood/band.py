"""The early, likely and late forecast of a stack: where each begins, and what is shifted."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.day_by_day import Stacks
from lumbercalc.wood.drying import drying_speed
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.stack_air import Air, ClimateAir, Moves, MovingAir
from lumbercalc.wood.texts import of_each

SIDES = {"early": 1.0, "likely": 0.0, "late": -1.0}
"""Which way a band is shifted; early and late hold 80 % of the outcomes between them."""

PRIOR_SPREAD = 0.35
"""Spread of ln rate among yards: half a mile changed the rate by 30 % (Mathewson, FPL 1931)."""

ESTIMATED_PRIOR_SPREAD = 0.5
"""The same where the species' drying constant is itself an estimate."""

SPREADS_OUT = 1.28
"""Standard deviations from the middle of a normal distribution to the edge of its 80 %."""

FORECAST_SPREAD = 0.15
"""Spread of ln rate that weather to come adds; chosen by this project, tested by simulation."""

MC_SHIFT = 1.0
"""Half width of the band in the last weighing [% MC]; chosen so, tested by simulation."""

EMC_SHIFT = 0.7
"""Half width of the band in the air's EMC [% MC]; chosen so, tested by simulation."""


def prior_spread(species: ArrayLike) -> NDArray[np.float64]:
    """Spread of ln rate before anything is weighed.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.

    Returns
    -------
    ndarray of float [-]
        0.35, or 0.5 where the drying constant is estimated.

    Examples
    --------
    >>> float(prior_spread("Oak, northern red"))
    0.35
    """
    estimated = species_table.drying_constant_is_estimated(species)
    return np.where(estimated, ESTIMATED_PRIOR_SPREAD, PRIOR_SPREAD)[()]


def columns(*figures: ArrayLike) -> tuple[tuple[int, ...], list[NDArray[Any]]]:
    """Broadcast figures of any types to columns of one length.

    Parameters
    ----------
    *figures : array_like
        Figures of one shape, or single ones.

    Returns
    -------
    shape : tuple of int
        Their common shape.
    columns : list of ndarray, each of shape (n,)
        The figures row by row.
    """
    same_shape = np.broadcast_arrays(*figures)
    return same_shape[0].shape, [figure.ravel() for figure in same_shape]


def band_side(band: ArrayLike) -> NDArray[np.float64]:
    """Tell which way a band is shifted.

    Parameters
    ----------
    band : array_like of str
        "early", "likely" or "late".

    Returns
    -------
    ndarray of float [-]
        1, 0 or -1; NaN for any other text.
    """
    return of_each(band, lambda each: SIDES.get(each, np.nan), np.float64)


def is_weighed(from_date: ArrayLike, from_mc: ArrayLike) -> NDArray[np.bool_]:
    """Tell whether there is a weighing to begin a forecast with.

    Parameters
    ----------
    from_date : array_like of datetime64[D]
        Date of the last weighing.
    from_mc : array_like of float [% MC]
        What it found.

    Returns
    -------
    ndarray of bool
        False where either is missing.
    """
    no_date = np.isnat(np.asarray(from_date, dtype="datetime64[D]"))
    no_mc = np.isnan(np.asarray(from_mc, dtype=np.float64))
    return np.asarray(~(no_date | no_mc))


def first_day(
    start_date: ArrayLike, from_date: ArrayLike, from_mc: ArrayLike
) -> NDArray[np.datetime64]:
    """Find the day on which a forecast begins.

    Parameters
    ----------
    start_date : array_like of datetime64[D]
        When drying began.
    from_date, from_mc : array_like
        Last weighing; where either is missing the forecast begins on the start date.

    Returns
    -------
    ndarray of datetime64[D]
        The day of the weighing, or the start date.

    Examples
    --------
    >>> print(first_day("2026-05-01", "2026-05-20", 40.0), first_day("2026-05-01", "NaT", 40.0))
    2026-05-20 2026-05-01
    """
    start = np.asarray(start_date, dtype="datetime64[D]")
    weighed_on = np.asarray(from_date, dtype="datetime64[D]")
    return np.where(is_weighed(weighed_on, from_mc), weighed_on, start)


@dataclass(frozen=True, eq=False)
class Forecasts:
    """What each row of a column of forecasts begins with; all but `shape` have shape (n,)."""

    shape: tuple[int, ...]
    goal: NDArray[Any]
    known: NDArray[np.bool_]
    waited: NDArray[np.int64]
    begin: NDArray[np.datetime64]
    mc: NDArray[np.float64]
    green_mc: NDArray[np.float64]
    speed: NDArray[np.float64]
    emc_shift: NDArray[np.float64]
    place: NDArray[np.int64]
    moves: Moves
    weighed_mc: NDArray[np.float64]

    def stacks(self, which: NDArray[np.bool_], climate: Climate, longest: int) -> Stacks:
        """Set rows out to dry.

        Parameters
        ----------
        which : ndarray of bool, shape (n,)
            The rows; only known ones.
        climate : Climate
            The air of their places.
        longest : int [days]
            No row is followed for longer.

        Returns
        -------
        Stacks
            On day 0, in the order of the rows.
        """
        begin, shift, moves = self.begin[which], self.emc_shift[which], self.moves.of(which)
        air: Air = ClimateAir(climate, self.place[which], begin, shift, longest)
        if not np.isnat(moves.date).all():
            # A place that is not in the climate stands only where there is no move.
            second = ClimateAir(climate, np.maximum(moves.place, 0), begin, shift, longest)
            air = MovingAir(air, second, moves.day_number(begin), moves.speed_ratio)
        return Stacks(self.mc[which], self.green_mc[which], self.speed[which], air)


def forecasts(course: DryingCourse, side: ArrayLike, goal: ArrayLike) -> Forecasts:
    """Prepare a column of forecasts.

    Parameters
    ----------
    course : DryingCourse
        The stacks, and where they dry.
    side : array_like of float [-]
        As `band_side` gives it.
    goal : array_like
        Target moisture content, or the date that is asked for.

    Returns
    -------
    Forecasts
        Known where there are the places and a date to begin with.
    """
    row = course.climate.place_index(course.place)
    move = course.moves(row)
    shape, figures = columns(
        drying_speed(course.species, course.thickness_in, course.stack_factor, course.rate),
        course.green_mc,
        np.asarray(course.start_date, dtype="datetime64[D]"),
        course.rate_spread,
        prior_spread(course.species),
        np.asarray(course.from_date, dtype="datetime64[D]"),
        course.from_mc,
        side,
        row,
        goal,
        move.date,
        move.place,
        move.speed_ratio,
    )
    speed, green, start, spread, prior, weighed_on, weighed_mc, side, row, goal = figures[:10]
    move = Moves(*figures[10:])
    weighed = is_weighed(weighed_on, weighed_mc)
    begin = first_day(start, weighed_on, weighed_mc)
    # Green moisture is not shifted: until something is weighed, its error is part of the spread.
    mc = np.where(weighed, weighed_mc - side * MC_SHIFT, green)
    spread = np.hypot(np.where(np.isnan(spread), prior, spread), FORECAST_SPREAD)
    return Forecasts(
        shape=shape,
        goal=goal,
        known=~(np.isnat(begin) | np.isnat(start)) & (row >= 0) & move.known,
        waited=(begin - start).astype(np.int64),
        begin=begin,
        mc=mc,
        green_mc=np.maximum(green, mc),
        speed=speed * np.exp(side * SPREADS_OUT * spread),
        emc_shift=-side * EMC_SHIFT,
        place=row,
        moves=move,
        weighed_mc=np.where(weighed, weighed_mc, np.nan),
    )
