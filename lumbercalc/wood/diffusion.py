"""One day of drying: diffusion of moisture through the thickness of a board.

Its surface is at the equilibrium moisture content (EMC) of the air, in the form of Simpson and
Hart. Instead of a grid it uses the two closed-form solutions for a slab, joined where half of the
moisture is gone.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

MOISTURE_TERM = 1.15
"""Rise of ln(diffusion) per unit of moisture content: red oak's figure, used for every species."""

LARGEST_PART = 1.0 / 300.0
"""Diffusion time of the longest step, before the moisture term; quicker days go in parts."""

MOST_PARTS = 24
"""Parts of a day at most: an hour."""


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
    Where one part more is taken, a board a hair thicker is dry up to an hour and a half sooner.

    Examples
    --------
    >>> from lumbercalc.wood.drying import drying_speed, temperature_factor
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
