"""Care: heat against insects, as a record shows it."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

HEAT_F = 132.8
"""56 deg C, which ISPM 15 asks of the core."""

HEAT_MINUTES = 30.0

WIDEST_GAP = 10.0
"""Minutes between readings of a hot core, over which a fall between them would not be seen: this
project's own caution, no source."""

ROUNDING = 1e-6
"""Clock times and degrees that were converted are not exact: this much below still counts."""


def longest_heat(
    minutes: ArrayLike, core_temps_f: ArrayLike, widest_gap: float = math.inf
) -> float:
    """Longest time that a core stayed hot without a break.

    Parameters
    ----------
    minutes : array_like of float, shape (n,) [min]
        Time of each reading, in rising order.
    core_temps_f : array_like of float, shape (n,) [deg F]
        Temperature of the core then.
    widest_gap : float [min], optional
        Readings further apart than this break the time, as nothing is known between them.

    Returns
    -------
    float [min]
        From the first to the last reading of a run at 132.8 deg F or more; no time is added
        before or after it.

    Examples
    --------
    >>> longest_heat([0, 10, 20, 30, 40], [120, 133, 134, 133, 120])
    20.0
    """
    steps, stays_hot = _steps(minutes, core_temps_f)
    unbroken = stays_hot & (steps <= widest_gap + ROUNDING)
    longest = stay = 0.0
    for step, holds in zip(steps.tolist(), unbroken.tolist(), strict=True):
        stay = stay + step if holds else 0.0
        longest = max(longest, stay)
    return longest


def heat_treated(minutes: ArrayLike, core_temps_f: ArrayLike) -> bool:
    """Whether the core stayed as hot and as long as ISPM 15 asks, by the readings.

    Parameters
    ----------
    minutes : array_like of float, shape (n,) [min]
        Time of each reading, in rising order.
    core_temps_f : array_like of float, shape (n,) [deg F]
        Temperature in the core of the thickest piece, where it warms last.

    Returns
    -------
    bool
        True for 30 minutes without a break at 132.8 deg F (56 deg C) or more. A record for the
        shop, never a certificate: wood that crosses a border needs a licensed treater's mark.

    References
    ----------
    ISPM 15, Regulation of wood packaging material in international trade, International Plant
    Protection Convention: heat treatment (HT).

    Examples
    --------
    >>> heat_treated([0, 10, 20, 30], [133, 134, 135, 134])
    True
    """
    return longest_heat(minutes, core_temps_f) >= HEAT_MINUTES - ROUNDING


def deciding_gap(minutes: ArrayLike, core_temps_f: ArrayLike) -> tuple[float, float] | None:
    """Give the time without readings on which it hangs that a core counts as heat treated.

    Parameters
    ----------
    minutes : array_like of float, shape (n,) [min]
        Time of each reading, in rising order.
    core_temps_f : array_like of float, shape (n,) [deg F]
        Temperature of the core then.

    Returns
    -------
    tuple of float, or None [min]
        Readings before and after the first gap of more than `WIDEST_GAP` in a time that was long
        enough; None where there is no such time, or one without any such gap.

    Examples
    --------
    >>> deciding_gap([0, 10, 40, 50], [133, 134, 135, 134])
    (10.0, 40.0)
    >>> deciding_gap([0, 10, 20, 30, 90], [133, 134, 135, 134, 133]) is None
    True
    """
    seen = longest_heat(minutes, core_temps_f, WIDEST_GAP)
    if seen >= HEAT_MINUTES - ROUNDING or not heat_treated(minutes, core_temps_f):
        return None
    steps, stays_hot = _steps(minutes, core_temps_f)
    run = np.cumsum(~stays_hot)  # the same number from one break to the next
    is_long = np.bincount(run, steps * stays_hot)[run] >= HEAT_MINUTES - ROUNDING
    place = int(np.flatnonzero(is_long & stays_hot & (steps > WIDEST_GAP + ROUNDING))[0])
    before, after = np.asarray(minutes, dtype=np.float64)[place : place + 2].tolist()
    return before, after


def _steps(
    minutes: ArrayLike, core_temps_f: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Give the time from each reading to the next, and whether the core was hot at both."""
    hot = np.asarray(core_temps_f, dtype=np.float64) >= HEAT_F - ROUNDING
    return np.diff(np.asarray(minutes, dtype=np.float64)), hot[1:] & hot[:-1]
