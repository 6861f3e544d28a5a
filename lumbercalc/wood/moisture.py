"""Moisture content: from weights, and what a lot's readings say together."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats

FEWEST_READINGS = 4
"""A small load needs at least four sample boards: Univ. of Kentucky FOR-128, p. 76."""


def mc_by_weight(weight: ArrayLike, ovendry_weight: ArrayLike) -> NDArray[np.float64]:
    """Moisture content of a piece from its weight and its ovendry weight.

    Parameters
    ----------
    weight : array_like of float [any unit]
        Weight now.
    ovendry_weight : array_like of float [unit of weight]
        Weight ovendry, weighed or by `ovendry_weight`.

    Returns
    -------
    ndarray of float [% MC]
        Water in percent of the ovendry wood; 0 for weights below ovendry.

    References
    ----------
    Dry Kiln Operator's Manual, AH-188 (1991), ch. 6, from memory; ASTM D4442 (definition).

    Examples
    --------
    >>> print(mc_by_weight([98.55, 30], [59.20, 20]).round(1))
    [66.5 50. ]
    """
    wet, dry = floats(weight, ovendry_weight)
    return 100 * np.maximum(wet / dry - 1, 0.0)


def ovendry_weight(weight: ArrayLike, mc_pct: ArrayLike) -> NDArray[np.float64]:
    """Weight that a piece would have ovendry.

    Parameters
    ----------
    weight : array_like of float [any unit]
        Weight now.
    mc_pct : array_like of float [% MC]
        Moisture content now, as from moisture sections cut beside the piece.

    Returns
    -------
    ndarray of float [unit of weight]
        Calculated ovendry weight.

    References
    ----------
    Dry Kiln Operator's Manual, AH-188 (1991), ch. 6, sample boards, from memory.

    Examples
    --------
    >>> print(ovendry_weight(13.2, 65).round(2))
    8.0
    """
    wet, mc = floats(weight, mc_pct)
    return 100 * wet / (100 + mc)


def weight_at_mc(ovendry_weight: ArrayLike, mc_pct: ArrayLike) -> NDArray[np.float64]:
    """Weight to wait for: that of a piece at a moisture content.

    Parameters
    ----------
    ovendry_weight : array_like of float [any unit]
        Weight ovendry.
    mc_pct : array_like of float [% MC]
        Moisture content to wait for.

    Returns
    -------
    ndarray of float [unit of ovendry_weight]
        Weight at that moisture content.

    References
    ----------
    Dry Kiln Operator's Manual, AH-188 (1991), ch. 6, from memory, turned round.

    Examples
    --------
    >>> print(weight_at_mc(8, [20, 8]))
    [9.6  8.64]
    """
    dry, mc = floats(ovendry_weight, mc_pct)
    return dry * (100 + mc) / 100


def mc_upper(readings: ArrayLike, confidence_pct: float = 95) -> np.float64:
    """Upper bound of a lot's mean moisture content.

    Parameters
    ----------
    readings : array_like of float, 1-D [% MC]
        Readings of boards taken at random from the lot.
    confidence_pct : float, optional [%]
        Chance that the lot's mean is no higher than the bound.

    Returns
    -------
    float [% MC]
        One-sided bound; NaN for fewer than two readings, which show no spread.

    References
    ----------
    Student's t: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.2 (from memory),
    one-sided.

    Examples
    --------
    >>> print(mc_upper([7.2, 7.9, 8.4, 8.1]).round(2))
    8.5
    """
    # Here rather than at the top: SciPy's statistics would slow every start-up.
    from scipy.special import stdtrit

    mc = np.asarray(readings, dtype=np.float64)
    if mc.size < 2:
        return np.float64(np.nan)
    t = stdtrit(mc.size - 1, confidence_pct / 100)
    return np.float64(mc.mean() + t * mc.std(ddof=1) / np.sqrt(mc.size))


def share_within(readings: ArrayLike, target_pct: float, tolerance: float = 1) -> np.float64:
    """Share of a lot's readings that are near the target.

    Parameters
    ----------
    readings : array_like of float, 1-D [% MC]
        Readings of the lot.
    target_pct : float [% MC]
        Moisture content wanted.
    tolerance : float, optional [% MC]
        How far off, above or below, still counts; the limit itself counts.

    Returns
    -------
    float [%]
        Percent of the readings inside; NaN where there are none.

    References
    ----------
    The default of 1 % MC either way is Wengert's allowed spread of the pieces around the average.

    Examples
    --------
    >>> print(share_within([7, 8, 9, 9.1], 8))
    75.0
    """
    mc = np.asarray(readings, dtype=np.float64)
    if mc.size == 0:
        return np.float64(np.nan)
    # Rounded: 8.3 - 7.3 is a hair above 1 in binary, and 1 is inside.
    return np.float64(100 * np.mean(np.round(np.abs(mc - target_pct), 9) <= tolerance))


def samples_needed(
    sd_pct: ArrayLike, margin_pct: ArrayLike, confidence_pct: ArrayLike = 95
) -> NDArray[np.float64]:
    """Boards to read, so that the lot's mean is known to within a margin.

    Parameters
    ----------
    sd_pct : array_like of float [% MC]
        Standard deviation from board to board, from an earlier lot.
    margin_pct : array_like of float [% MC]
        How far off, either way, the mean of the readings may be.
    confidence_pct : array_like of float, optional [%]
        Chance that it is no further off.

    Returns
    -------
    ndarray of float
        Smallest number n of boards with t sd / sqrt(n) <= margin, t two-sided with n - 1
        degrees of freedom; at least 2.

    References
    ----------
    Student's t: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.2 (from memory), solved
    for n.

    Examples
    --------
    >>> print(samples_needed([0.6, 1.5, 3], 1))
    [ 4. 12. 38.]
    """
    # Here rather than at the top: SciPy's statistics would slow every start-up.
    from scipy.special import ndtri, stdtrit

    sd, margin, confidence = floats(sd_pct, margin_pct, confidence_pct)
    ratio, below = np.broadcast_arrays(sd / margin, 0.5 + confidence / 200)
    # Never more than the answer: t is above the normal quantile, and nears it from there.
    n: NDArray[np.float64] = np.maximum(2, np.floor((ndtri(below) * ratio) ** 2))
    while np.any(short := stdtrit(n - 1, below) * ratio > np.sqrt(n) * (1 + 1e-12)):
        n = n + short
    return n


def readiness(
    readings: ArrayLike, target_pct: float, tolerance: float = 1, confidence_pct: float = 95
) -> str:
    """Tell in a word whether a lot is dry.

    Parameters
    ----------
    readings : array_like of float, 1-D [% MC]
        Readings of boards taken at random from the lot.
    target_pct : float [% MC]
        Moisture content wanted.
    tolerance : float, optional [% MC]
        How far above the target the lot's mean may be.
    confidence_pct : float, optional [%]
        Confidence of the bound on the mean.

    Returns
    -------
    str
        The first of these that holds:

        - "too few readings": fewer than 4;
        - "not yet": their mean is above target + tolerance;
        - "uneven": the mean is there, but `mc_upper` is above target + tolerance, or one reading
          is above target + 2 tolerance;
        - "ready".

    Notes
    -----
    Only the wet side is judged: a lot that is drier than the target is "ready". Even "ready"
    speaks for the boards that were read.

    References
    ----------
    At least 4 boards: Univ. of Kentucky FOR-128, p. 76. Pieces within 1 % MC of the average are
    allowed, and more than 2 % makes trouble: Wengert, wood drying columns.

    Examples
    --------
    >>> readiness([7.8, 8.1, 8.4, 7.9], 8), readiness([7, 7, 7, 11], 8)
    ('ready', 'uneven')
    """
    mc = np.asarray(readings, dtype=np.float64)
    limit = target_pct + tolerance
    if mc.size < FEWEST_READINGS:
        return "too few readings"
    # Rounded, so that a mean or a reading that is exactly on its limit passes.
    if np.round(mc.mean() - limit, 9) > 0:
        return "not yet"
    uncertain = np.round(mc_upper(mc, confidence_pct) - limit, 9) > 0
    too_wet = np.round(mc.max() - limit - tolerance, 9) > 0
    return "uneven" if uncertain or too_wet else "ready"
