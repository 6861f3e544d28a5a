"""Building a stack: stickers, layers, height, footage, air through it and weight on it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats
from lumbercalc.wood.tally import board_feet

PART_OF_A_GAP = 1e-9
"""Quotients of inches are not exact in binary; a whole number may come out this much beside it."""


def stickers(length_ft: ArrayLike, spacing_in: ArrayLike = 16) -> NDArray[np.float64]:
    """Stickers under one layer, one at each end.

    Parameters
    ----------
    length_ft : array_like of float [ft]
        Length of the stack.
    spacing_in : array_like of float [in], optional
        Greatest distance from the middle of one sticker to the next.

    Returns
    -------
    ndarray of float [stickers]
        Whole number, at least 2.

    References
    ----------
    Spacing: 16 to 18 in for expensive hardwoods, 24 in usual (Wengert, 2000); 12 in for wood that
    twists, 8/4 or best quality (Univ. of Kentucky FOR-128 p. 69).

    Examples
    --------
    >>> print(stickers([8, 10], 16))
    [7. 9.]
    """
    length, spacing = floats(length_ft, spacing_in)
    return np.maximum(np.ceil(12 * length / spacing - PART_OF_A_GAP), 1) + 1


def stack_layers(
    height_in: ArrayLike, thickness_in: ArrayLike, sticker_in: ArrayLike, base_in: ArrayLike = 0
) -> NDArray[np.float64]:
    """Whole layers that fit under a height.

    Parameters
    ----------
    height_in : array_like of float [in]
        Height from the ground or floor.
    thickness_in : array_like of float [in]
        Thickness of the boards as sawn.
    sticker_in : array_like of float [in]
        Thickness of the stickers, a row of them under every layer.
    base_in : array_like of float [in], optional
        Height of the base that the first stickers lie on.

    Returns
    -------
    ndarray of float [layers]
        Whole number; 0 where not even one fits.

    Notes
    -----
    Common practice, no source: stickers under every layer, the first row of them on the base.

    Examples
    --------
    >>> print(stack_layers(48, 1.125, 0.75, 12))
    19.0
    """
    height, base = floats(height_in, base_in)
    layers = (height - base) / _layer_in(thickness_in, sticker_in)
    return np.maximum(np.floor(layers + PART_OF_A_GAP), 0)


def stack_height(
    layers: ArrayLike, thickness_in: ArrayLike, sticker_in: ArrayLike, base_in: ArrayLike = 0
) -> NDArray[np.float64]:
    """Height of a stack, from the ground to the top boards.

    Parameters
    ----------
    layers : array_like of float
        Number of layers.
    thickness_in : array_like of float [in]
        Thickness of the boards as sawn.
    sticker_in : array_like of float [in]
        Thickness of the stickers, a row of them under every layer.
    base_in : array_like of float [in], optional
        Height of the base that the first stickers lie on.

    Returns
    -------
    ndarray of float [in]
        Height.

    Examples
    --------
    >>> print(stack_height(19, 1.125, 0.75, 12))
    47.625
    """
    count, base = floats(layers, base_in)
    return base + count * _layer_in(thickness_in, sticker_in)


def stack_board_feet(
    layers: ArrayLike,
    width_ft: ArrayLike,
    length_ft: ArrayLike,
    thickness_in: ArrayLike,
    fill_pct: ArrayLike = 90,
) -> NDArray[np.float64]:
    """Board feet in a stack by its size.

    Parameters
    ----------
    layers : array_like of float
        Number of layers.
    width_ft : array_like of float [ft]
        Width of the stack.
    length_ft : array_like of float [ft]
        Length of the stack.
    thickness_in : array_like of float [in]
        Thickness as tallied, such as 1 for 4/4; under 1 in counts as 1 in.
    fill_pct : array_like of float [%], optional
        Share of each layer that is board.

    Returns
    -------
    ndarray of float [bf]
        An estimate until the boards are tallied.

    Notes
    -----
    Fill of 90 %: common practice, no source.

    Examples
    --------
    >>> print(stack_board_feet(19, 4, 8, 1))
    547.2
    """
    width, fill = floats(width_ft, fill_pct)
    return board_feet(thickness_in, 12 * width, length_ft, layers) * fill / 100


def fan_cfm(
    layers: ArrayLike, sticker_in: ArrayLike, length_ft: ArrayLike, velocity_fpm: ArrayLike
) -> NDArray[np.float64]:
    """Air that passes through the gaps of a stack.

    Parameters
    ----------
    layers : array_like of float
        Number of layers, each with a gap under it.
    sticker_in : array_like of float [in]
        Thickness of the stickers, which is the height of the gaps.
    length_ft : array_like of float [ft]
        Length of the stack, along which the gaps are open.
    velocity_fpm : array_like of float [ft/min]
        Speed of the air in the gaps.

    Returns
    -------
    ndarray of float [ft3/min]
        What goes around the stack comes on top of it.

    Notes
    -----
    Open area x speed; the ends of the stickers are not taken off. 200 ft/min is in use in fan
    sheds (a practitioner, 2000), 300 to 600 in forced-air drying (FPL-GTR-118, from memory);
    above 600 to 700 little more is gained (Simpson, FPL-RN-0266, 1997, of single boards of eastern
    white pine), and nothing at any speed below 20 % MC (Lamb, 2002).

    Examples
    --------
    >>> print(fan_cfm(19, 0.75, 8, 200))
    1900.0
    """
    gaps, gap_in, length, velocity = floats(layers, sticker_in, length_ft, velocity_fpm)
    return gaps * gap_in / 12 * length * velocity


def top_weight(
    length_ft: ArrayLike, width_ft: ArrayLike, psf: ArrayLike = 50
) -> NDArray[np.float64]:
    """Weight to lay on a stack, so that the upper layers stay flat.

    Parameters
    ----------
    length_ft : array_like of float [ft]
        Length of the stack.
    width_ft : array_like of float [ft]
        Width of the stack.
    psf : array_like of float [lb/ft2], optional
        Weight on each square foot.

    Returns
    -------
    ndarray of float [lb]
        It adds to the load on the base and the floor.

    References
    ----------
    Univ. of Kentucky FOR-128 p. 68: 50 lb/ft2 at least, 150 for woods that warp; Wengert (2014):
    more than 150 does not help.

    Examples
    --------
    >>> print(top_weight(8, 4))
    1600.0
    """
    length, width, pounds = floats(length_ft, width_ft, psf)
    return length * width * pounds


def _layer_in(thickness_in: ArrayLike, sticker_in: ArrayLike) -> NDArray[np.float64]:
    thickness, sticker = floats(thickness_in, sticker_in)
    return thickness + sticker
