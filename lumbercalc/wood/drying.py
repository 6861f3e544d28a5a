"""How fast a stack of boards dries: constants, settings, safe rate and one day of drying.

The model is diffusion of moisture through the thickness of the board, its surface at the
equilibrium moisture content (EMC) of the air, in the form of Simpson and Hart. Instead of a grid
it uses the two closed-form solutions for a slab, joined where half of the moisture is gone.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.texts import of_each

ACTIVATION_K = 5280.0
"""Temperature term of diffusion [K]: Simpson and Hart 2000/2001, from memory."""

MOISTURE_TERM = 1.15
"""Rise of ln(diffusion) per unit of moisture content: red oak's figure, used for every species."""

STACK_FACTORS = {"fan": 1.0, "open yard": 0.9, "wide or sheltered": 0.7, "still air": 0.6}
"""Share of the full drying speed in each setting, as fitted to published drying times."""

SAWN_4_4_IN = 1.125
SAWN_8_4_IN = 2.125
SAFE_RATE_8_4_SHARE = 0.4
"""8/4 dries safely at 0.4 of the 4/4 rate (Wengert; Univ. of Kentucky FOR-128 Table 6)."""

LARGEST_PART = 1.0 / 300.0
"""Diffusion time of the longest step, before the moisture term; quicker days go in parts."""

MOST_PARTS = 24
"""Parts of a day at most: an hour."""

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
    kelvin = (np.asarray(temp_f, dtype=np.float64) - 32.0) / 1.8 + 273.15
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
    thickness_cm = CM_PER_IN * np.asarray(thickness_in, dtype=np.float64)
    share = np.asarray(rate, dtype=np.float64) * np.asarray(stack_factor, dtype=np.float64)
    return share * drying_constant(species) * SECONDS_PER_DAY / thickness_cm**2


def tau(f: ArrayLike) -> NDArray[np.float64]:
    """Diffusion time at which a slab has gone the share f of its way to EMC.

    Parameters
    ----------
    f : array_like of float [-]
        Share of the way from green to EMC, 0 to below 1.

    Returns
    -------
    ndarray of float [-]
        Diffusion time D t / L^2.

    Notes
    -----
    Short- and long-time solutions for a slab (Crank, from memory), joined at one half.

    Examples
    --------
    >>> tau([0, 0.5, 0.9]).round(4).tolist()
    [0.0, 0.0491, 0.2122]
    """
    share = np.asarray(f, dtype=np.float64)
    early = math.pi * share**2 / 16.0
    late = math.pi / 64.0 + np.log(0.5 / (1.0 - np.maximum(share, 0.5))) / math.pi**2
    return np.where(share <= 0.5, early, late)[()]


def in_first_half(
    mc: NDArray[np.float64], green_mc: NDArray[np.float64], emc: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Tell whether boards have lost less than half of what they can lose to this air.

    Parameters
    ----------
    mc, green_mc, emc : ndarray of float [% MC]
        Mean moisture content now, when green, and of wood in balance with the air.

    Returns
    -------
    ndarray of bool
        False for boards that are no wetter than the air would have them.
    """
    return np.less(np.maximum(green_mc - mc, 0.0), 0.5 * (green_mc - emc))


def diffusion_mc(
    mc: NDArray[np.float64],
    green_mc: NDArray[np.float64],
    emc: NDArray[np.float64],
    first_half: NDArray[np.bool_],
) -> NDArray[np.float64]:
    """Moisture content at which the diffusion coefficient of the whole board is taken.

    Parameters
    ----------
    mc, green_mc, emc : ndarray of float [% MC]
        Mean moisture content now, when green, and of wood in balance with the air.
    first_half : ndarray of bool
        As `in_first_half` gives it.

    Returns
    -------
    ndarray of float [% MC]
        The paper's Ms; its 0.40 and 0.70 are fitted to a finite-difference solution.
    """
    return emc + np.where(first_half, 0.4 * (green_mc - emc), 0.7 * (mc - emc))


def mc_after_a_day(
    mc: NDArray[np.float64],
    green_mc: NDArray[np.float64],
    emc: NDArray[np.float64],
    speed: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Mean moisture content of boards after one more day in the air.

    Parameters
    ----------
    mc : ndarray of float [% MC]
        Mean moisture content as the day begins.
    green_mc : ndarray of float [% MC]
        What the boards had when drying began, also after a move to other air.
    emc : ndarray of float [% MC]
        Equilibrium moisture content of the day's air.
    speed : ndarray of float [1/day]
        `drying_speed` times the day's `temperature_factor`.

    Returns
    -------
    ndarray of float [% MC]
        Below EMC, or green below EMC, the board takes up moisture.

    Notes
    -----
    A day of 4/4 red oak at 70 deg F is one step. Thin boards in warm air go in as many equal
    parts as keep each part that short: within 1 % of a finite-difference solution in steady air.

    Examples
    --------
    >>> speed = drying_speed("Oak, northern red", 1.125) * temperature_factor(70)
    >>> float(mc_after_a_day(80.0, 80.0, 7.7, speed).round(3))
    68.474
    """
    parts = np.clip(np.ceil(speed / LARGEST_PART), 1, MOST_PARTS)
    part_speed = speed / parts
    after = mc_after_a_step(mc, green_mc, emc, part_speed)
    for part in range(2, int(np.fmax.reduce(parts, axis=None, initial=1)) + 1):
        another = mc_after_a_step(after, green_mc, emc, part_speed)
        after = np.where(parts >= part, another, after)
    return after


def mc_after_a_step(
    mc: NDArray[np.float64],
    green_mc: NDArray[np.float64],
    emc: NDArray[np.float64],
    speed: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Mean moisture content of boards after one step, of a day or a part of it.

    Parameters
    ----------
    mc, green_mc, emc : ndarray of float [% MC]
        As `mc_after_a_day` takes them.
    speed : ndarray of float [1/step]
        Diffusion time that passes in the step, before the moisture term.

    Returns
    -------
    ndarray of float [% MC]
        Mean moisture content as the step ends.

    Notes
    -----
    In shares f of the way from green to EMC the first half is f^2 + 16/pi dtau under a root, and
    the rest 1 - (1 - f) exp(-pi^2 dtau); multiplied out by (green - EMC), nothing is divided. A
    first step so large that the root would pass EMC stops there.
    """
    first_half = in_first_half(mc, green_mc, emc)
    passed = speed * np.exp(MOISTURE_TERM / 100.0 * diffusion_mc(mc, green_mc, emc, first_half))
    lost = np.maximum(green_mc - mc, 0.0)
    to_lose = green_mc - emc
    early_loss = np.sqrt(lost * lost + to_lose * to_lose * (16.0 / math.pi * passed))
    return np.where(
        first_half,
        green_mc - np.minimum(early_loss, to_lose),
        emc + (mc - emc) * np.exp(-(math.pi**2) * passed),
    )
