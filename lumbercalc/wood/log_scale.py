"""Log scale: the board feet that a log rule gives for a log."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats
from lumbercalc.wood.tally import halves_up
from lumbercalc.wood.texts import holds


def log_scale(diameter_in: ArrayLike, length_ft: ArrayLike, rule: ArrayLike) -> NDArray[np.float64]:
    """Board feet that a log rule gives a log.

    Parameters
    ----------
    diameter_in : array_like of float [in]
        Diameter at the small end, inside the bark.
    length_ft : array_like of float [ft]
        Length, without the allowance for trim.
    rule : array_like of str
        "Doyle", in whole board feet, or "International 1/4", to the nearest 5.

    Returns
    -------
    ndarray of float [bf]
        Log scale; NaN where the rule gives a log that thin nothing (Doyle up to 4 in,
        International up to 3.2 in).

    References
    ----------
    Doyle as its printed tables have it. International 1/4 in: a forestry dictionary, which
    misprints 0.22 as 0.2; the tables that it gives with 0.22 agree.

    Examples
    --------
    >>> print(log_scale(16, 16, ["Doyle", "International 1/4"]))
    [144. 180.]
    """
    diameter, length = floats(diameter_in, length_ft)
    return np.select(
        [holds(rule, "Doyle"), holds(rule, "International 1/4")],
        [_doyle(diameter, length), _international(diameter, length)],
        np.nan,
    )


def _doyle(diameter: NDArray[np.float64], length: NDArray[np.float64]) -> NDArray[np.float64]:
    """Doyle rule, whole board feet with halves up as its printed tables have them."""
    scale = halves_up(((diameter - 4) / 4) ** 2 * length)
    return np.where(diameter > 4, scale, np.nan)  # the square would grow again below 4 in


def _international(
    diameter: NDArray[np.float64], length: NDArray[np.float64]
) -> NDArray[np.float64]:
    """International rule for a 1/4 in kerf: 4 ft sections, each half an inch thicker."""
    scale = np.zeros(np.broadcast_shapes(diameter.shape, length.shape))
    for section in range(int(np.ceil(length.max(initial=0) / 4))):
        d = diameter + 0.5 * section
        share = np.clip(length / 4 - section, 0, 1)
        scale = scale + share * (0.22 * d**2 - 0.71 * d)
    nearest_five = 5 * halves_up(0.905 * scale / 5)
    return np.where(0.22 * diameter > 0.71, nearest_five, np.nan)
