"""Movement: what a dry board's width does with the seasons, and one plain line on it."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats
from lumbercalc.wood.shrinkage import (
    COEFFICIENT,
    COEFFICIENT_RANGE_PCT,
    SHRINKAGE,
    fiber_saturation,
    of_direction,
    shrinkage_of_whole,
    whole_of_coefficient,
)
from lumbercalc.wood.species import figure

DIRECTIONS = {"tangential": "a flatsawn board", "radial": "a quartersawn one"}
LEAST_IN = 0.005
"""A smaller change is none to a rule that shows hundredths of an inch."""


def width_movement(
    width_in: ArrayLike,
    species: ArrayLike,
    direction: ArrayLike,
    mc_from: ArrayLike,
    mc_to: ArrayLike,
) -> NDArray[np.float64]:
    """Change of a dry board's width with the seasons.

    Parameters
    ----------
    width_in : array_like of float [in]
        Width at `mc_from`.
    species : array_like of str
        Canonical names.
    direction : array_like of str
        "tangential" (flatsawn width) or "radial" (quartersawn width).
    mc_from, mc_to : array_like of float [% MC]
        Moisture contents before and after, both 6 to 14 %.

    Returns
    -------
    ndarray of float [in]
        Change of width, above 0 where the board swells; NaN outside 6 to 14 % MC, for "volume"
        and where no coefficient is published for the species.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-2, with the coefficients of Table 13-5.

    Examples
    --------
    >>> print(width_movement(10, "Walnut, black", ["tangential", "radial"], 7, 12).round(3))
    [0.137 0.095]
    """
    c = of_direction(species, direction, COEFFICIENT)
    width, mi, mf = floats(width_in, mc_from, mc_to)
    lowest, highest = COEFFICIENT_RANGE_PCT
    inside = (np.minimum(mi, mf) >= lowest) & (np.maximum(mi, mf) <= highest)
    return np.where(inside, width * c * (mf - mi), np.nan)


def movement_line(
    width_in: ArrayLike, species: ArrayLike, mc_from: ArrayLike, mc_to: ArrayLike
) -> NDArray[np.object_]:
    """Write what the width of a dry board does between two moisture contents.

    Parameters
    ----------
    width_in : array_like of float [in]
        Width at `mc_from`.
    species : array_like of str
        Canonical names.
    mc_from, mc_to : array_like of float [% MC]
        Moisture content when sold, and where the board is used.

    Returns
    -------
    ndarray of object
        Texts, of flatsawn and quartersawn boards; None where nothing is published for the species.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010): eq. 13-2 with the coefficients of Table 13-5 from 6 to
    14 % MC; for what lies beyond, and where there is no coefficient, eq. 13-3 with Table 4-3.

    Examples
    --------
    >>> print(movement_line(8, "Walnut, black", 9.6, 9.5))
    From 9.6 to 9.5 % MC a flatsawn board 8.0 in wide keeps its width to 0.01 in.
    """
    figures = floats(width_in, mc_from, mc_to)
    changes = [_change(species, way, *figures) for way in DIRECTIONS]
    columns = np.broadcast_arrays(*figures, *changes)
    rows = list(zip(*(column.ravel().tolist() for column in columns), strict=True))
    written = {row: _line(*row) for row in set(rows)}  # boards of one width come again and again
    lines = np.empty(columns[0].shape, object)
    lines.ravel()[:] = [written[row] for row in rows]
    return lines if lines.ndim else lines[()]  # one text for scalars


def _change(
    species: ArrayLike,
    way: str,
    width: NDArray[np.float64],
    before: NDArray[np.float64],
    after: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Change of width: by the coefficient where it holds, beyond by the whole shrinkage [in]."""
    coefficient = figure(species, COEFFICIENT[way])
    has_none = np.isnan(coefficient)
    saturation = fiber_saturation(species)
    whole = figure(species, SHRINKAGE[way])
    whole = np.where(np.isnan(whole), whole_of_coefficient(coefficient, saturation), whole)
    enters = np.where(has_none, before, np.clip(before, *COEFFICIENT_RANGE_PCT))
    leaves = np.where(has_none, enters, np.clip(after, *COEFFICIENT_RANGE_PCT))
    entering = width * (1 - shrinkage_of_whole(whole, before, enters, saturation) / 100)
    inside = np.where(has_none, 0.0, width_movement(entering, species, way, enters, leaves))
    leaving = entering + inside
    end = leaving * (1 - shrinkage_of_whole(whole, leaves, after, saturation) / 100)
    return np.asarray(end - width, dtype=np.float64)


def _line(width: float, before: float, after: float, *changes: float) -> str | None:
    """Write the line of one board, of the directions that have a figure."""
    found = [
        (board, change)
        for board, change in zip(DIRECTIONS.values(), changes, strict=True)
        if not math.isnan(change)
    ]
    if not found:
        return None
    (board, change), *others = found
    size = f"{width:.2f}".removesuffix("0")  # 8.0, and 7.25 as it was measured
    line = f"From {before:.1f} to {after:.1f} % MC {board} {size} in wide "
    if max(abs(change) for _, change in found) < LEAST_IN:
        return line + "keeps its width to 0.01 in."
    line += f"gets {abs(change):.2f} in {'wider' if change > 0 else 'narrower'}"
    return line + "".join(f", {board} {abs(change):.2f} in" for board, change in others) + "."
