"""Mold on wood: the index of Hukka and Viitanen, from a record of the air."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.air import celsius

HOURS_PER_DAY = 24.0
DAYS_PER_WEEK = 7.0

LEAST_SPAN = 1e-9
"""Points of RH: just above freezing, saturated air alone lets mold grow, and hardly."""

K2_SLOPE = 2.3
"""How sharply growth slows under the greatest index that the air allows."""


@dataclass(frozen=True)
class WoodClass:
    """How readily mold grows on a surface.

    Parameters
    ----------
    lowest_rh : float [% RH]
        Below it nothing grows at any temperature.
    pace_before_1, pace_after_1 : float [-]
        Pace below index 1 and from there on, over that of pine sapwood below 1. Without the
        second it follows from the published weeks to index 3.
    most : tuple of float
        Greatest index by how far the air is above the critical humidity: constant, linear and
        quadratic term.
    """

    lowest_rh: float
    pace_before_1: float
    pace_after_1: float | None
    most: tuple[float, float, float]


WOOD_CLASSES = {
    "pine sapwood": WoodClass(80, 1, None, (1, 7, -2)),
    "very sensitive": WoodClass(80, 1, 2, (1, 7, -2)),
    "sensitive": WoodClass(80, 0.578, 0.386, (0.3, 6, -1)),
    "medium resistant": WoodClass(85, 0.072, 0.097, (0, 5, -1.5)),
    "resistant": WoodClass(85, 0.033, 0.014, (0, 3, -1)),
}
"""Pine sapwood: Hukka and Viitanen 1999. The others: the later classes of Ojanen and others 2010,
as published implementations have them, from a planed softwood to a surface that mold hardly takes.
"""


def critical_rh(temp_c: NDArray[np.float64], lowest_rh: float) -> NDArray[np.float64]:
    """Humidity from which mold can grow.

    Parameters
    ----------
    temp_c : ndarray of float [deg C]
        Temperature of the surface.
    lowest_rh : float [% RH]
        Limit of the wood class.

    Returns
    -------
    ndarray of float [% RH]
        Relative humidity.

    References
    ----------
    Hukka and Viitanen, Wood Science and Technology 33 (1999) 475-485.

    Examples
    --------
    >>> critical_rh(np.array([5.0, 20.0, 30.0]), 80).round(1).tolist()
    [88.0, 80.0, 80.0]
    """
    t = temp_c
    cold = -0.00267 * t**3 + 0.160 * t**2 - 3.13 * t + 100
    return np.maximum(np.where(t <= 20, cold, lowest_rh), lowest_rh)


def weeks_to_index_1(
    temp_c: NDArray[np.float64], rh_pct: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Weeks until the first growth can be seen under a microscope, on resawn pine sapwood.

    Parameters
    ----------
    temp_c : ndarray of float [deg C]
        Temperature of the surface, above 0.
    rh_pct : ndarray of float [% RH]
        Relative humidity, the same all the time.

    Returns
    -------
    ndarray of float [weeks]
        Time to mold index 1.

    References
    ----------
    Hukka and Viitanen (1999), with W = SQ = 0.

    Examples
    --------
    >>> weeks_to_index_1(np.array([20.0, 10.0]), np.array([90.0, 90.0])).round(1).tolist()
    [4.2, 6.7]
    """
    weeks: NDArray[np.float64] = np.exp(-0.68 * np.log(temp_c) - 13.9 * np.log(rh_pct) + 66.02)
    return weeks


def weeks_to_index_3(
    temp_c: NDArray[np.float64], rh_pct: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Weeks until growth can be seen with the naked eye, on resawn pine sapwood.

    Parameters
    ----------
    temp_c : ndarray of float [deg C]
        Temperature of the surface, above 0.
    rh_pct : ndarray of float [% RH]
        Relative humidity, the same all the time.

    Returns
    -------
    ndarray of float [weeks]
        Time to mold index 3.

    References
    ----------
    Hukka and Viitanen (1999), with W = 0.

    Examples
    --------
    >>> weeks_to_index_3(np.array([20.0, 10.0]), np.array([90.0, 90.0])).round(1).tolist()
    [7.7, 12.9]
    """
    weeks: NDArray[np.float64] = np.exp(-0.74 * np.log(temp_c) - 12.72 * np.log(rh_pct) + 61.50)
    return weeks


def mold_index(
    temps_f: ArrayLike,
    rhs_pct: ArrayLike,
    hours_per_row: float = 24,
    wood_class: str = "sensitive",
) -> float:
    """Mold index at the end of a record of the air on the wood.

    Parameters
    ----------
    temps_f : array_like of float, shape (n,) [deg F]
        Temperatures, in the order of time.
    rhs_pct : array_like of float, shape (n,) [% RH]
        Relative humidities inside the stack, as the surface of the wood meets them.
    hours_per_row : float [h], optional
        How long each row lasts; within it the air stays the same.
    wood_class : str, optional
        One of `WOOD_CLASSES`.

    Returns
    -------
    float [-]
        0 none; 1 first growth, under a microscope; 3 seen with the naked eye; 6 all over. A clean
        surface starts the record.

    Notes
    -----
    Measured on pine and spruce sapwood from 0 to 50 deg C; for hardwood a risk index only, never a
    word on health. Rows are solved exactly, so the length of a row matters only by the swings of
    the air that it hides. By the published decline a damp hour every few hours of a dry time begins
    that time anew, and the index can fall a little lower than without it.

    References
    ----------
    Hukka and Viitanen, Wood Science and Technology 33 (1999) 475-485.

    Examples
    --------
    >>> round(mold_index([68] * 60, [90] * 60, 24, "pine sapwood"), 1)
    3.4
    >>> round(mold_index([68] * 60, [75] * 60), 1)
    0.0
    """
    wood = WOOD_CLASSES[wood_class]
    temp = celsius(temps_f)
    rh = np.asarray(rhs_pct, dtype=np.float64)
    critical = critical_rh(temp, wood.lowest_rh)
    grows = (temp > 0) & (temp < 50) & (rh >= critical)
    warm = np.where(grows, temp, 20.0)  # where nothing grows the logarithms have no meaning
    early, late = _paces(warm, rh, wood)
    above = (rh - critical) / np.maximum(100 - critical, LEAST_SPAN)
    constant, linear, quadratic = wood.most
    most = constant + linear * above + quadratic * above**2
    days = hours_per_row / HOURS_PER_DAY
    index = dry_days = 0.0
    for row_grows, row_most, row_early, row_late in zip(
        grows.tolist(), most.tolist(), (early * days).tolist(), (late * days).tolist(), strict=True
    ):
        if row_grows:
            index, dry_days = _grown(index, row_most, row_early, row_late), 0.0
        else:
            index -= min(_decline(dry_days + days) - _decline(dry_days), index)
            dry_days += days
    return index


def _paces(
    temp_c: NDArray[np.float64], rh_pct: NDArray[np.float64], wood: WoodClass
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Growth a day, before index 1 and after it, far below the greatest index."""
    tm = weeks_to_index_1(temp_c, rh_pct)
    pine = 1 / (DAYS_PER_WEEK * tm)
    if wood.pace_after_1 is not None:
        return pine * wood.pace_before_1, pine * wood.pace_after_1
    tv = weeks_to_index_3(temp_c, rh_pct)
    return pine * wood.pace_before_1, pine * 2 / (tv / tm - 1)


def _grown(index: float, most: float, early: float, late: float) -> float:
    """Index after a row, whose growth changes its pace where the index passes 1."""
    if index >= most:
        return index
    if index >= 1:
        return _toward(index, most, late)
    if most <= 1:
        return _toward(index, most, early)
    to_1 = math.log(_gap(index, most) / _gap(1, most)) / K2_SLOPE
    if early <= to_1:
        return _toward(index, most, early)
    return _toward(1, most, late * (1 - to_1 / early))


def _toward(index: float, most: float, growth: float) -> float:
    """Index after a growth that slows by k2 = 1 - exp(2.3 (M - most)): its exact solution."""
    return most - math.log1p(_gap(index, most) * math.exp(-K2_SLOPE * growth)) / K2_SLOPE


def _gap(index: float, most: float) -> float:
    return math.expm1(K2_SLOPE * (most - index))


def _decline(dry_days: float) -> float:
    """Loss of index since the air became unfavourable: at once, a pause, then slowly."""
    return 0.032 * min(dry_days, 0.25) + 0.016 * max(dry_days - 1, 0)
