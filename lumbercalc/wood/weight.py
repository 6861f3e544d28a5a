"""Weight of lumber, and the water that leaves it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.floats import floats

WATER_LB_PER_FT3 = 62.4

# A US liquid pint is 28.875 cubic inches exactly.
WATER_LB_PER_PINT = 28.875 / 12**3 * WATER_LB_PER_FT3


def lumber_weight(
    species: ArrayLike, board_feet: ArrayLike, mc_pct: ArrayLike, sawn_ratio: ArrayLike = 1
) -> NDArray[np.float64]:
    """Weight of lumber at a moisture content.

    Parameters
    ----------
    species : array_like of str
        Species.
    board_feet : array_like of float [bf]
        Board feet, tallied green.
    mc_pct : array_like of float [% MC]
        Moisture content, ovendry basis.
    sawn_ratio : array_like of float, optional
        Thickness as sawn over nominal thickness, such as 1.125 for 4/4 sawn 1-1/8 in.

    Returns
    -------
    ndarray of float [lb]
        Weight; NaN where the species has no specific gravity.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 4, from basic specific gravity (ovendry weight over
    green volume).

    Examples
    --------
    >>> print(lumber_weight("Oak, northern red", 1000, [80, 8]).round(0))
    [5242. 3145.]
    """
    mc, ratio = floats(mc_pct, sawn_ratio)
    return _ovendry_lb(species, board_feet) * (1 + mc / 100) * ratio


def water_loss(
    species: ArrayLike, board_feet: ArrayLike, mc_from: ArrayLike, mc_to: ArrayLike
) -> NDArray[np.float64]:
    """Weight of the water that leaves lumber as it dries.

    Parameters
    ----------
    species : array_like of str
        Species.
    board_feet : array_like of float [bf]
        Board feet, tallied green.
    mc_from : array_like of float [% MC]
        Moisture content before.
    mc_to : array_like of float [% MC]
        Moisture content after.

    Returns
    -------
    ndarray of float [lb]
        Water lost, negative where the lumber takes water up; NaN where the species has no
        specific gravity.

    Examples
    --------
    >>> print(water_loss("Walnut, black", 1000, 85, 8).round(0))
    2042.0
    """
    before, after = floats(mc_from, mc_to)
    return _ovendry_lb(species, board_feet) * (before - after) / 100


def dehumidifier_pints(
    species: ArrayLike, board_feet: ArrayLike, mc_loss_per_day: ArrayLike
) -> NDArray[np.float64]:
    """Water that a dehumidifier has to take out of the room each day.

    Parameters
    ----------
    species : array_like of str
        Species.
    board_feet : array_like of float [bf]
        Board feet, tallied green.
    mc_loss_per_day : array_like of float [% MC per day]
        Moisture content that the lumber loses in a day.

    Returns
    -------
    ndarray of float [US liquid pints per day]
        Water; NaN where the species has no specific gravity.

    Notes
    -----
    The lumber's water only: a room that leaks adds its own. Rated pints hold for warm, damp air;
    a machine takes out less in a cooler or drier room.

    Examples
    --------
    >>> print(dehumidifier_pints("Oak, northern red", 500, 1.5).round(1))
    20.9
    """
    pounds = water_loss(species, board_feet, mc_loss_per_day, 0)
    return pounds / WATER_LB_PER_PINT


def floor_load(
    weight_lb: ArrayLike, length_ft: ArrayLike, width_ft: ArrayLike
) -> NDArray[np.float64]:
    """Weight on each square foot of floor under a stack.

    Parameters
    ----------
    weight_lb : array_like of float [lb]
        Weight of the stack.
    length_ft : array_like of float [ft]
        Length of the stack.
    width_ft : array_like of float [ft]
        Width of the stack.

    Returns
    -------
    ndarray of float [lb/ft2]
        Load as if spread evenly. A figure to take to a licensed engineer, never an approval:
        bolsters press harder where they stand, and the local code rules.

    Examples
    --------
    >>> print(floor_load(3200, 8, 4))
    100.0
    """
    weight, length, width = floats(weight_lb, length_ft, width_ft)
    return weight / (length * width)


def _ovendry_lb(species: ArrayLike, board_feet: ArrayLike) -> NDArray[np.float64]:
    basic_gravity = species_table.figure(species, "specific gravity")
    cubic_feet = np.asarray(board_feet, dtype=np.float64) / 12
    return basic_gravity * WATER_LB_PER_FT3 * cubic_feet
