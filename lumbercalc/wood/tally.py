"""Tally: thickness in quarters, board feet, surface measure and slabs."""

import re

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats

# A twelfth is not exact in binary: an exact half may come out this much below itself.
HALF_TOLERANCE = 1e-9

# A foot is 0.3048 m exactly; a board foot is a twelfth of a cubic foot.
CUBIC_METERS_PER_BOARD_FOOT = 0.3048**3 / 12


def inches_from_quarters(text: str) -> float | None:
    """Read a thickness written in quarters of an inch.

    Parameters
    ----------
    text : str
        Whole quarters from 2 to 32 over 4, such as "8/4".

    Returns
    -------
    float [in] or None
        Thickness; None where the text is not written so.

    Examples
    --------
    >>> inches_from_quarters("8/4"), inches_from_quarters(" 5 / 4 "), inches_from_quarters("1/8")
    (2.0, 1.25, None)
    """
    written = re.fullmatch(r"\s*([0-9]{1,2})\s*/\s*4\s*", text)
    if written is None or not 2 <= int(written[1]) <= 32:
        return None
    return int(written[1]) / 4


def thickness_in(thickness: ArrayLike) -> NDArray[np.float64]:
    """Thickness in inches, once quarters have been read.

    Parameters
    ----------
    thickness : array_like of float [in]
        Thickness.

    Returns
    -------
    ndarray of float [in]
        The same thickness.

    Examples
    --------
    >>> print(thickness_in([1, 1.25]))
    [1.   1.25]
    """
    return np.asarray(thickness, dtype=np.float64)


def board_feet(
    thickness: ArrayLike, width_in: ArrayLike, length_ft: ArrayLike, pieces: ArrayLike = 1
) -> NDArray[np.float64]:
    """Board feet by the size of the boards, not rounded.

    Parameters
    ----------
    thickness : array_like of float [in]
        Thickness; under 1 in counts as 1 in.
    width_in : array_like of float [in]
        Width.
    length_ft : array_like of float [ft]
        Length.
    pieces : array_like of float, optional
        Number of boards of that size.

    Returns
    -------
    ndarray of float [bf]
        Board feet.

    References
    ----------
    Under 1 in as 1 in: a US Navy builders' manual and a supplier's glossary.

    Examples
    --------
    >>> print(board_feet([1, 2, 0.75], 6, 8, [1, 1, 10]))
    [ 4.  8. 40.]
    """
    width, length, count = floats(width_in, length_ft, pieces)
    return _counted_thickness(thickness) * width * length / 12 * count


def surface_measure(
    width_in: ArrayLike, length_ft: ArrayLike, by_turns: ArrayLike = False
) -> NDArray[np.float64]:
    """Surface of a board to the nearest whole square foot.

    Parameters
    ----------
    width_in : array_like of float [in]
        Width.
    length_ft : array_like of float [ft]
        Length.
    by_turns : array_like of bool, optional
        False rounds every exact half up. True rounds exact halves up and down by turns down the
        column, the first one up.

    Returns
    -------
    ndarray of float [ft2]
        Surface measure.

    References
    ----------
    NHLA rule for surface measure, as quoted by the American Hardwood Export Council; halves by
    turns, Wengert (2007).

    Examples
    --------
    >>> print(surface_measure([6.25, 9, 9, 9], [8, 10, 10, 10]))
    [4. 8. 8. 8.]
    >>> print(surface_measure([6.25, 9, 9, 9], [8, 10, 10, 10], True))
    [4. 8. 7. 8.]
    """
    width, length = floats(width_in, length_ft)
    square_feet, turns = np.broadcast_arrays(width * length / 12, np.asarray(by_turns, np.bool_))
    is_half = np.abs(square_feet % 1 - 0.5) < HALF_TOLERANCE
    takes_turn = is_half & turns
    turn_number = np.cumsum(takes_turn).reshape(takes_turn.shape)
    goes_down = takes_turn & (turn_number % 2 == 0)
    return np.where(goes_down, np.floor(square_feet), halves_up(square_feet))


def tally_board_feet(
    thickness: ArrayLike, width_in: ArrayLike, length_ft: ArrayLike, pieces: ArrayLike = 1
) -> NDArray[np.float64]:
    """Board feet as a tally counts them: surface measure times thickness.

    Parameters
    ----------
    thickness : array_like of float [in]
        Thickness; under 1 in counts as 1 in.
    width_in : array_like of float [in]
        Width.
    length_ft : array_like of float [ft]
        Length.
    pieces : array_like of float, optional
        Number of boards of that size.

    Returns
    -------
    ndarray of float [bf]
        Board feet.

    Notes
    -----
    Exact halves of a foot go up. In many boards of one such size that is too much: a book that
    takes them by turns multiplies `surface_measure(..., by_turns=True)`.

    References
    ----------
    NHLA rule for surface measure, as quoted by the American Hardwood Export Council.

    Examples
    --------
    >>> print(tally_board_feet(2, 6.25, 8))
    8.0
    """
    count = np.asarray(pieces, dtype=np.float64)
    return surface_measure(width_in, length_ft) * _counted_thickness(thickness) * count


def net_board_feet(gross_bf: ArrayLike, shrink_pct: ArrayLike) -> NDArray[np.float64]:
    """Board feet left when a green tally has dried.

    Parameters
    ----------
    gross_bf : array_like of float [bf]
        Green tally.
    shrink_pct : array_like of float [%]
        Share of the tally lost to shrinkage.

    Returns
    -------
    ndarray of float [bf]
        Dry tally.

    Examples
    --------
    >>> print(net_board_feet(1000, 7).round(1))
    930.0
    """
    gross, shrink = floats(gross_bf, shrink_pct)
    return gross * (1 - shrink / 100)


def cubic_meters(board_feet: ArrayLike) -> NDArray[np.float64]:
    """Volume in cubic meters.

    Parameters
    ----------
    board_feet : array_like of float [bf]
        Board feet.

    Returns
    -------
    ndarray of float [m3]
        Volume.

    References
    ----------
    1 ft = 0.3048 m exactly, NIST SP 811 (2008), App. B.

    Examples
    --------
    >>> print(cubic_meters(1000).round(4))
    2.3597
    """
    return np.asarray(board_feet, dtype=np.float64) * CUBIC_METERS_PER_BOARD_FOOT


def slab_area(widths_in: ArrayLike, length_ft: ArrayLike) -> NDArray[np.float64]:
    """Area of a live-edge slab: its mean width times its length.

    Parameters
    ----------
    widths_in : array_like of float [in], shape (n,)
        Widths of one slab, measured at equal steps along it.
    length_ft : array_like of float [ft]
        Length.

    Returns
    -------
    ndarray of float [ft2]
        Area, not rounded; NaN without a width.

    Examples
    --------
    >>> print(slab_area([22, 18.5, 25.5], 8))
    14.666666666666666
    """
    widths, length = floats(widths_in, length_ft)
    mean = widths.mean() if widths.size else np.nan
    return mean / 12 * length


def halves_up(number: ArrayLike) -> NDArray[np.float64]:
    """Round to whole numbers, halves up, also those that binary misses by a hair.

    Parameters
    ----------
    number : array_like of float
        Not below 0.

    Returns
    -------
    ndarray of float
        Whole numbers.

    Examples
    --------
    >>> print(halves_up([2.5, 7.4999999999]))
    [3. 8.]
    """
    rounded: NDArray[np.float64] = np.floor(np.asarray(number) + (0.5 + HALF_TOLERANCE))
    return rounded


def _counted_thickness(thickness: ArrayLike) -> NDArray[np.float64]:
    inches = thickness_in(thickness)
    # Nearly every board is an inch thick or more, and to see that takes a quarter of the time.
    return inches if inches.min(initial=1.0) >= 1.0 else np.maximum(inches, 1.0)
