"""Shrinkage: how much a board loses between two moisture contents, and what to saw for it."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.floats import floats
from lumbercalc.wood.texts import different, holds, of_each

FIBER_SATURATION_PCT = 30.0
"""Above it wood neither shrinks nor swells: Wood Handbook, FPL-GTR-190, eq. 13-3."""

EARLY_SATURATION_PCT = 22.0
EARLY_SATURATED = frozenset(
    {
        "Cedar, northern white",
        "Redcedar, western",
        "Redwood, old growth",
        "Redwood, young growth",
    }
)
"""Species that begin to shrink at 22 % MC only: a note to Table 13-5, from memory; their eight
coefficients follow from Table 4-3 with 22 and with no other figure. The lines for lumber of these
species in ASTM D 1990, from memory, begin at 3.454/0.157 and 2.816/0.128, 22 % too."""

COEFFICIENT_RANGE_PCT = (6.0, 14.0)
"""Moisture contents that the coefficients of Table 13-5 are meant for."""

SHRINKAGE = {
    "tangential": "tangential shrinkage",
    "radial": "radial shrinkage",
    "volume": "volumetric shrinkage",
}
COEFFICIENT = {"tangential": "tangential coefficient", "radial": "radial coefficient"}


def shrinkage(
    species: ArrayLike, direction: ArrayLike, mc_from: ArrayLike, mc_to: ArrayLike
) -> NDArray[np.float64]:
    """Shrinkage from one moisture content to another.

    Parameters
    ----------
    species : array_like of str
        Canonical names.
    direction : array_like of str
        "tangential" (flatsawn width), "radial" (quartersawn width) or "volume".
    mc_from, mc_to : array_like of float [% MC]
        Moisture contents before and after.

    Returns
    -------
    ndarray of float [%]
        Loss in percent of the size at `mc_from`, swelling negative; NaN where no shrinkage is
        published for the species.

    Notes
    -----
    Above 30 % MC nothing shrinks, of redwood, western redcedar and northern white-cedar above
    22 %. The equation is written for a width or a thickness; with the
    volumetric shrinkage of the same table it serves for volume.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3, with S from Table 4-3.

    Examples
    --------
    >>> print(shrinkage("Walnut, black", ["tangential", "radial"], 30, 8).round(2))
    [5.72 4.03]
    >>> print(shrinkage("Walnut, black", "tangential", 8, 12).round(2))
    -1.1
    """
    whole = of_direction(species, direction, SHRINKAGE)
    return shrinkage_of_whole(whole, mc_from, mc_to, fiber_saturation(species))


def fiber_saturation(species: ArrayLike) -> NDArray[np.float64]:
    """Moisture content at which a species begins to shrink.

    Parameters
    ----------
    species : array_like of str
        Canonical names.

    Returns
    -------
    ndarray of float [% MC]
        22 or 30.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3, and a note to Table 13-5, from memory.

    Examples
    --------
    >>> print(fiber_saturation(["Walnut, black", "Redcedar, western"]))
    [30. 22.]
    """
    return of_each(
        species,
        lambda name: EARLY_SATURATION_PCT if name in EARLY_SATURATED else FIBER_SATURATION_PCT,
        np.float64,
    )


def shrinkage_of_whole(
    whole_pct: ArrayLike,
    mc_from: ArrayLike,
    mc_to: ArrayLike,
    saturation_pct: ArrayLike = FIBER_SATURATION_PCT,
) -> NDArray[np.float64]:
    """Shrinkage between two moisture contents of wood whose whole shrinkage is known.

    Parameters
    ----------
    whole_pct : array_like of float [%]
        Shrinkage from green to ovendry, of the green size: S of the equation.
    mc_from, mc_to : array_like of float [% MC]
        Moisture contents before and after.
    saturation_pct : array_like of float [% MC], optional
        Where shrinkage begins.

    Returns
    -------
    ndarray of float [%]
        Loss in percent of the size at `mc_from`, swelling negative.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3, the fraction from memory.

    Examples
    --------
    >>> print(shrinkage_of_whole(7.8, 30, [8, 0]).round(2))
    [5.72 7.8 ]
    """
    whole, saturation = floats(whole_pct, saturation_pct)
    mi, mf = np.minimum(mc_from, saturation), np.minimum(mc_to, saturation)
    size = saturation * 100 / whole - saturation + mi
    percent: NDArray[np.float64] = 100 * (mi - mf) / size
    return percent


def whole_of_coefficient(
    coefficient: ArrayLike, saturation_pct: ArrayLike = FIBER_SATURATION_PCT
) -> NDArray[np.float64]:
    """Whole shrinkage that a coefficient of Table 13-5 stands for.

    Parameters
    ----------
    coefficient : array_like of float [share of the width for 1 % MC]
        Of eq. 13-2.
    saturation_pct : array_like of float [% MC], optional
        Where shrinkage begins.

    Returns
    -------
    ndarray of float [%]
        Shrinkage from green to ovendry with which eq. 13-3 moves as much from 10 % MC.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eqs. 13-2 and 13-3 set equal at 10 % MC: it gives most of
    Table 13-5 from Table 4-3, a rule inferred from the figures and not printed.

    Examples
    --------
    >>> print(whole_of_coefficient([0.00274, 0.00190]).round(1))
    [7.8 5.5]
    """
    c, saturation = floats(coefficient, saturation_pct)
    return 100 * saturation * c / (1 + (saturation - 10) * c)


def size_at_mc(
    size: ArrayLike, species: ArrayLike, direction: ArrayLike, mc_from: ArrayLike, mc_to: ArrayLike
) -> NDArray[np.float64]:
    """Size of a piece at another moisture content.

    Parameters
    ----------
    size : array_like of float [any unit]
        Width, thickness or volume at `mc_from`.
    species : array_like of str
        Canonical names.
    direction : array_like of str
        "tangential" (flatsawn width), "radial" (quartersawn width) or "volume".
    mc_from, mc_to : array_like of float [% MC]
        Moisture contents before and after.

    Returns
    -------
    ndarray of float [unit of size]
        Size at `mc_to`; NaN where no shrinkage is published for the species.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3, with S from Table 4-3.

    Examples
    --------
    >>> print(size_at_mc(10, "Walnut, black", "tangential", 80, 8).round(3))
    9.428
    """
    left = 1 - shrinkage(species, direction, mc_from, mc_to) / 100
    return np.asarray(size, dtype=np.float64) * left


def sawn_size(
    finished_size: ArrayLike,
    species: ArrayLike,
    direction: ArrayLike,
    mc_green: ArrayLike,
    mc_final: ArrayLike,
    allowance: ArrayLike = 0,
) -> NDArray[np.float64]:
    """Size to saw green, so that enough is left when dry.

    Parameters
    ----------
    finished_size : array_like of float [any unit]
        Size wanted at `mc_final`, after planing.
    species : array_like of str
        Canonical names.
    direction : array_like of str
        "tangential", "radial" or "volume": the way that the size runs.
    mc_green, mc_final : array_like of float [% MC]
        Moisture contents when sawn and when finished.
    allowance : array_like of float [unit of finished_size], optional
        What planing takes off the dry piece.

    Returns
    -------
    ndarray of float [unit of finished_size]
        Size to saw; NaN where no shrinkage is published for the species.

    Notes
    -----
    Shrinkage only: the saw's own variation and warp are part of the allowance.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3, with S from Table 4-3, turned round.

    Examples
    --------
    >>> print(sawn_size(1.75, "Oak, white", "tangential", 68, 8, 0.25).round(3))
    2.167
    """
    finished, planing = floats(finished_size, allowance)
    return (finished + planing) / (1 - shrinkage(species, direction, mc_green, mc_final) / 100)


def of_direction(
    species: ArrayLike, direction: ArrayLike, figures: Mapping[str, str]
) -> NDArray[np.float64]:
    """Figure of each species in its own direction.

    Parameters
    ----------
    species : array_like of str
        Canonical names.
    direction : array_like of str
        Of each.
    figures : mapping of str to str
        The figure's name by direction.

    Returns
    -------
    ndarray of float [unit of the figure]
        NaN where there is none.
    """
    found: Any = np.nan
    for way in different(direction) & set(figures):
        found = np.where(holds(direction, way), species_table.figure(species, figures[way]), found)
    return np.broadcast_to(found, np.broadcast_shapes(np.shape(species), np.shape(direction)))
