"""What stacks are and where they dry: all that a forecast begins with."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.climate import Climate
from lumbercalc.wood.day_by_day import NO_DATE
from lumbercalc.wood.floats import floats
from lumbercalc.wood.stack_air import Moves


@dataclass(frozen=True, eq=False)
class DryingCourse:
    """The drying of one stack, or of a column of stacks.

    Figures are single or of one shape, and broadcast with each other and with what is asked for.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn.
    green_mc : array_like of float [% MC]
        Moisture content on the start date.
    start_date : array_like of datetime64[D]
        When drying began.
    climate : Climate
        The air of the place, or places.
    stack_factor, rate : array_like of float [-]
        Share of the full speed in this setting, and the rate fitted to weighings.
    rate_spread : array_like of float [-]
        Spread of ln rate; NaN is not stated: 0.35, or 0.5 for an estimated drying constant.
    from_date : array_like of datetime64[D]
        Date of the last weighing, where a forecast then begins.
    from_mc : array_like of float [% MC]
        What that weighing found; where it or its date is missing a forecast begins green, on the
        start date.
    place : array_like of str, optional
        Name of each stack's place in the climate.
    move_date : array_like of datetime64[D]
        First day in another place; NaT where a stack stays. The green moisture content is kept.
    move_place : array_like of str, optional
        Name of that place in the climate; left out or "" for the same place.
    move_factor : array_like of float [-]
        `stack_factor` there; NaN where it does not change.

    Examples
    --------
    A stack of oak that was weighed after four weeks, and goes into the shop after ten:

    >>> air = {"yard": Climate.steady(60, 75), "shop": Climate.steady(70, 45)}
    >>> oak = DryingCourse(
    ...     "Oak, northern red", 1.125, 80, "2026-05-01", Climate.places(air), place="yard",
    ...     from_date="2026-05-29", from_mc=38, move_date="2026-07-10", move_place="shop",
    ... )
    >>> oak.rate
    1
    """

    species: ArrayLike
    thickness_in: ArrayLike
    green_mc: ArrayLike
    start_date: ArrayLike
    climate: Climate
    stack_factor: ArrayLike = 1
    rate: ArrayLike = 1
    rate_spread: ArrayLike = np.nan
    from_date: ArrayLike = NO_DATE
    from_mc: ArrayLike = np.nan
    place: ArrayLike | None = None
    move_date: ArrayLike = NO_DATE
    move_place: ArrayLike | None = None
    move_factor: ArrayLike = np.nan

    def moves(self, place: NDArray[np.int64]) -> Moves:
        """Prepare the moves of the stacks.

        Parameters
        ----------
        place : ndarray of int
            Rows of their places in the climate before the move.

        Returns
        -------
        Moves
            Each figure in the shape of what it is made from.
        """
        before, after = floats(self.stack_factor, self.move_factor)
        ratio = after / before
        return Moves(
            np.asarray(self.move_date, dtype="datetime64[D]"),
            self.climate.next_index(self.move_place, place),
            np.where(np.isnan(ratio), 1.0, ratio),
        )
