"""What common practice has on stickers and on the width of a stack, in words."""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats

THIN_STICKER_IN = 0.75
THICK_BOARD_STICKER_IN = 1.0
THICK_STICKER_IN = 1.5
NARROW_STACK_FT = 2.0
USUAL_STACK_FT = 5.0

THIN_STILL = (
    "stickers under 3/4 in save height but need forced air: without a fan take 3/4 in, and 1 in "
    "under hardwood of 1-1/4 in and thicker"
)
THIN_FAN = "stickers under 3/4 in save height; they need the fan to run"
FOR_THIN_BOARDS = "stickers as usual for 1-in boards; 1 in under hardwood of 1-1/4 in and thicker"
FOR_ALL_BOARDS = "stickers as usual, also for boards of 1-1/4 in and thicker"
THICK = "stickers over 1-1/2 in are thicker than usual and cost layers"
NARROW = "narrow: with 3/4 in stickers the safe start without a fan"
USUAL_FAN = "width as usual"
USUAL_STILL = "width as usual; without a fan 2 ft is the safe start"
WIDE_STILL = "wide without a fan: the middle dries last; about 4 ft is usual, or use a fan"
WIDE_FAN = (
    "wide for a fan: check the air that leaves with EXIT_RH, or turn the air from time to time"
)
OF_STICKERS = (THIN_FAN, THIN_STILL, FOR_THIN_BOARDS, FOR_ALL_BOARDS, THICK)
OF_WIDTH = (NARROW, USUAL_FAN, USUAL_STILL, WIDE_FAN, WIDE_STILL)
_ADVICE = np.array([[f"{one}; {other}" for other in OF_WIDTH] for one in OF_STICKERS], object)


def sticker_advice(
    stack_width_ft: ArrayLike, sticker_in: ArrayLike, fan: ArrayLike
) -> NDArray[Any]:
    """Say what common practice has on stickers and on the width of a stack.

    Parameters
    ----------
    stack_width_ft : array_like of float [ft]
        Width of the stack, the way that the air goes.
    sticker_in : array_like of float [in]
        Thickness of the stickers.
    fan : array_like of bool
        Whether a fan drives air through the stack.

    Returns
    -------
    ndarray of str
        One text a row: the stickers, then the width.

    References
    ----------
    Stickers of 3/4 in for 1-in boards: Wengert (2000), TM 38-400 ch. 5; 1 in or thicker for
    hardwood of 1-1/4 in and more: TM 38-400 ch. 5; up to 1-1/2 in: a state extension sheet. Width:
    packages of about 4 ft, and slower drying in piles of 6 to 16 ft: FPL Technical Note 233 (1960).
    Turning the air, thin stickers with a fan, 2 ft without one: common practice, no source.

    Examples
    --------
    >>> print(sticker_advice(4, 1, True))
    stickers as usual, also for boards of 1-1/4 in and thicker; width as usual
    """
    width, sticker = floats(stack_width_ft, sticker_in)
    driven = np.asarray(fan, dtype=np.bool_)
    of_stickers = np.select(  # places in OF_STICKERS
        [
            (sticker < THIN_STICKER_IN) & driven,
            sticker < THIN_STICKER_IN,
            sticker < THICK_BOARD_STICKER_IN,
            sticker <= THICK_STICKER_IN,
        ],
        range(4),
        4,
    )
    of_width = np.select(  # places in OF_WIDTH
        [
            width <= NARROW_STACK_FT,
            (width <= USUAL_STACK_FT) & driven,
            width <= USUAL_STACK_FT,
            driven,
        ],
        range(4),
        4,
    )
    advice: NDArray[Any] = _ADVICE[of_stickers, of_width]
    return advice
