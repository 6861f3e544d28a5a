"""How fast a stack of boards dries: constants of the species, settings, warmth and safe rate."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.air import celsius
from lumbercalc.wood.floats import floats
from lumbercalc.wood.texts import of_each

ACTIVATION_K = 5280.0
"""Temperature term of diffusion [K]: Simpson and Hart 2000/2001, from memory."""

STACK_FACTORS = {"fan": 1.0, "open yard": 0.9, "wide or sheltered": 0.7, "still air": 0.6}
"""Share of the full drying speed in each setting, as fitted to published drying times."""

SAWN_4_4_IN = 1.125
SAWN_8_4_IN = 2.125
SAFE_RATE_8_4_SHARE = 0.4
"""8/4 dries safely at 0.4 of the 4/4 rate (Wengert; Univ. of Kentucky FOR-128 Table 6)."""

SECONDS_PER_DAY = 86400.0
CM_PER_IN = 2.54


def drying_constant(species: ArrayLike) -> NDArray[np.float64]:
    """Diffusion constant A of a species.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.

    Returns
    -------
    ndarray of float [cm2/s]
        NaN where there is none and none can be estimated.

    Examples
    --------
    >>> float(drying_constant("Oak, northern red"))
    19.2
    """
    return species_table.figure(species, "drying constant")


def stack_factor(setting: ArrayLike) -> NDArray[np.float64]:
    """Share of the full drying speed that a stack's setting leaves.

    Parameters
    ----------
    setting : array_like of str
        "fan", "open yard", "wide or sheltered" or "still air".

    Returns
    -------
    ndarray of float [-]
        NaN for any other text.

    Notes
    -----
    Derived for this project from published drying times; "wide or sheltered" rests on
    FPL Technical Note 233 (1960) and "still air" on NC-228 (1982). Weighings correct it.

    Examples
    --------
    >>> stack_factor(["fan", "open yard", "wide or sheltered", "still air"])
    array([1. , 0.9, 0.7, 0.6])
    """
    return of_each(setting, lambda each: STACK_FACTORS.get(each, math.nan), np.float64)[()]


def safe_rate(species: ArrayLike, thickness_in: ArrayLike) -> NDArray[np.float64]:
    """Moisture loss per day above which checking is likely.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn.

    Returns
    -------
    ndarray of float [% MC per day]
        NaN where no rate is published for the species.

    Notes
    -----
    Univ. of Kentucky FOR-128 Table 9 (Wengert's rates) gives 4/4 and 8/4, taken here as sawn 1/8 in
    over nominal (common practice): 1.125 and 2.125 in. Between them the rate is a power of the
    thickness; above 8/4 it falls by the rule 8/4 = 0.4 x 4/4, which also stands in where one of
    the two is not printed. Thinner boards take the 4/4 rate. The limit matters above about 40 % MC,
    where checks start (Wengert).

    Examples
    --------
    >>> safe_rate("Walnut, black", [1.0, 1.125, 2.125]).tolist()
    [8.2, 8.2, 3.3]
    """
    rate_4_4 = species_table.figure(species, "safe rate 4/4")
    rate_8_4 = species_table.figure(species, "safe rate 8/4")
    rate_4_4, rate_8_4 = (
        np.where(np.isnan(rate_4_4), rate_8_4 / SAFE_RATE_8_4_SHARE, rate_4_4),
        np.where(np.isnan(rate_8_4), rate_4_4 * SAFE_RATE_8_4_SHARE, rate_8_4),
    )
    thickness = np.asarray(thickness_in, dtype=np.float64)
    inside = np.clip(thickness, SAWN_4_4_IN, SAWN_8_4_IN)
    way = np.log(inside / SAWN_4_4_IN) / np.log(SAWN_8_4_IN / SAWN_4_4_IN)
    between: NDArray[np.float64] = rate_4_4 * (rate_8_4 / rate_4_4) ** way
    doublings: NDArray[np.float64] = np.log2(np.maximum(thickness / SAWN_8_4_IN, 1.0))
    return between * SAFE_RATE_8_4_SHARE**doublings


def temperature_factor(temp_f: ArrayLike) -> NDArray[np.float64]:
    """Share of the drying constant that is left at a temperature; it doubles about every 20 deg F.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Air temperature.

    Returns
    -------
    ndarray of float [-]
        exp(-5280 / T), T in kelvin.

    Examples
    --------
    >>> round(float(temperature_factor(80) / temperature_factor(60)), 1)
    2.0
    """
    kelvin = celsius(temp_f) + 273.15
    factor: NDArray[np.float64] = np.exp(-ACTIVATION_K / kelvin)
    return factor


def drying_speed(
    species: ArrayLike, thickness_in: ArrayLike, stack_factor: ArrayLike = 1, rate: ArrayLike = 1
) -> NDArray[np.float64]:
    """Diffusion time that passes in a day, before the terms of temperature and moisture.

    Parameters
    ----------
    species : array_like of str
        Canonical species names.
    thickness_in : array_like of float [in]
        Thickness as sawn; twice as thick is four times as slow.
    stack_factor : array_like of float [-]
        Share of the full speed that the setting leaves.
    rate : array_like of float [-]
        Rate fitted to the stack's own weighings.

    Returns
    -------
    ndarray of float [1/day]
        k F A 86400 / (2.54 L)^2.

    Examples
    --------
    >>> round(float(drying_speed("Oak, northern red", 1.125)))
    203162
    """
    thickness, factor, fitted = floats(thickness_in, stack_factor, rate)
    per_day = fitted * factor * drying_constant(species) * SECONDS_PER_DAY
    return per_day / (CM_PER_IN * thickness) ** 2
