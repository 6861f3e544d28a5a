"""What each interval between two weighings of a sample board tells of its stack's drying rate."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.diffusion import MOISTURE_TERM, diffusion_mc, in_first_half, tau
from lumbercalc.wood.drying import drying_speed
from lumbercalc.wood.drying_course import DryingCourse

SMALLEST_LOSS = 0.5
"""An interval with less tells only of the scale and the weather (chosen here) [% MC]."""
TOLD_LOSS = 6.0
"""Weighings follow one another in one interval until the board lost this much: twice what the
green MC, an interval's first point, may be off by (chosen here) [% MC]."""
SLIP = 5.0
"""A weighing that lies so far outside of the one before and the one after was misread or mistyped:
drying wood does not lose and regain as much (chosen here) [% MC]."""
INTERVAL_SPREAD = 0.15
"""Of the rates of one board's intervals, by whatever the model leaves out: a share of the rate
(chosen here; the band that comes of it is checked in tests/published/coverage.md)."""
WEIGHING_SPREAD = 0.7
"""Of one weighing, by the scale and by the board's place in the stack (chosen here) [% MC]."""


@dataclass(frozen=True, eq=False)
class Intervals:
    """Rate and weight of each interval between two weighings of one board, shape (n,)."""

    rate: NDArray[np.float64]
    weight: NDArray[np.float64]


def intervals(
    course: DryingCourse, dates: ArrayLike, mcs: ArrayLike, boards: ArrayLike | None = None
) -> Intervals:
    """Rates that the weighings of one stack show, interval by interval.

    Parameters
    ----------
    course : DryingCourse
        The stack, and the air as it was; single figures. Its `green_mc` is the first point of each
        board that was not itself weighed on the start date, or wetter later on. Rate and last
        weighing do not matter.
    dates : array_like of datetime64[D], shape (n,)
        Dates of the weighings, in any order.
    mcs : array_like of float, shape (n,) [% MC]
        Moisture content by weight.
    boards : array_like, shape (n,), optional
        Which board was weighed; one board if left out.

    Returns
    -------
    Intervals
        Each of 6 % MC or more, a board's last of 0.5 % or more; without those that end at or below
        their mean EMC, and without a weighing over 5 % MC off both its neighbours. NaN where the
        air is unknown, and one NaN where a weighing is dated before the start.
    """
    climate = course.climate
    start = np.asarray(course.start_date, dtype="datetime64[D]")
    day = (np.atleast_1d(np.asarray(dates, dtype="datetime64[D]")) - start).astype(np.int64)
    mc = np.atleast_1d(np.asarray(mcs, dtype=np.float64))
    label = np.zeros(day.size) if boards is None else np.atleast_1d(np.asarray(boards))
    where = climate.place_index(course.place)
    move = course.moves(where)
    if where < 0 or not move.known or np.any(day < 0):
        return Intervals(np.full(1, np.nan), np.full(1, np.nan))

    board, day, mc, is_green = _in_order(day, mc, label, course.green_mc)
    begin, end = _spans(board, day, mc, is_green)
    day_0, day_1, mc_0, mc_1 = day[begin], day[end], mc[begin], mc[end]
    green = np.maximum.reduceat(mc, np.unique(board, return_index=True)[1])[board[begin]]

    emcs, clocks = climate.emc_and_clock(start, int(day.max(initial=0)) + 1)
    moved = np.arange(emcs.shape[1]) >= move.day_number(start)
    emc_by_day = np.where(moved, emcs[move.place], emcs[where])
    clock_by_day = np.where(moved, clocks[move.place] * move.speed_ratio, clocks[where])
    bounds = np.stack([day_0, day_1], axis=1).ravel()
    emc = np.add.reduceat(emc_by_day, bounds)[::2] / (day_1 - day_0)
    clock = np.add.reduceat(clock_by_day, bounds)[::2]

    skipped = (mc_0 - mc_1 < SMALLEST_LOSS) | (mc_1 <= emc) | (green <= emc) | (mc_1 >= green)
    mc_0, mc_1, green, emc, clock = (each[~skipped] for each in (mc_0, mc_1, green, emc, clock))
    share_0 = np.maximum(green - mc_0, 0.0) / (green - emc)
    needed = tau((green - mc_1) / (green - emc)) - tau(share_0)
    middle = (mc_0 + mc_1) / 2.0
    moisture = diffusion_mc(middle, green, emc, in_first_half(middle, green, emc))
    speed = drying_speed(course.species, course.thickness_in, course.stack_factor)
    passed = speed * clock * np.exp(MOISTURE_TERM / 100.0 * moisture)
    weight = 1.0 / (INTERVAL_SPREAD**2 + 2.0 * (WEIGHING_SPREAD / (mc_0 - mc_1)) ** 2)
    return Intervals(needed / passed, weight)


def _in_order(
    day: NDArray[np.int64], mc: NDArray[np.float64], label: NDArray[Any], green_mc: ArrayLike
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.float64], NDArray[np.bool_]]:
    """Give board number, day and MC of each point in order, and whether it is the green MC."""
    names, board = np.unique(label, return_inverse=True)
    unweighed = np.setdiff1d(np.arange(names.size), board[day == 0])
    board = np.concatenate([unweighed, board])
    day = np.concatenate([np.zeros(unweighed.size, dtype=np.int64), day])
    mc = np.concatenate([np.full(unweighed.size, green_mc, dtype=np.float64), mc])
    order = np.lexsort((day, board))
    order = order[_without_slips(board[order], mc[order], order < unweighed.size)]
    return board[order], day[order], mc[order], order < unweighed.size


def _without_slips(
    board: NDArray[np.int64], mc: NDArray[np.float64], is_green: NDArray[np.bool_]
) -> NDArray[np.int64]:
    """Give the places of the points that those before and after bear out, the worst out first.

    The green MC was not weighed and bears nothing out.
    """
    kept = np.arange(mc.size)
    while kept.size > 2:
        before, point, after = (mc[kept[part]] for part in (np.s_[:-2], np.s_[1:-1], np.s_[2:]))
        low, high = np.minimum(before, after), np.maximum(before, after)
        off = np.maximum(low - point, point - high)
        off[(board[kept[2:]] != board[kept[:-2]]) | is_green[kept[:-2]]] = 0.0
        worst = int(off.argmax())
        if off[worst] <= SLIP:
            break
        kept = np.delete(kept, worst + 1)
    return kept


def _spans(
    board: NDArray[np.int64],
    day: NDArray[np.int64],
    mc: NDArray[np.float64],
    is_green: NDArray[np.bool_],
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First and last point of each interval.

    A board that is weighed daily loses less from one day to the next than a weighing is off: of
    such gaps those that an error made wide would be kept, the others skipped, and the rate come
    out twice too high. So an interval goes on until the loss tells, or to the last weighing. Where
    a weighing is wetter than the green MC that was assumed, it begins there.
    """
    spans = []
    begin = 0
    for end in range(1, board.size):
        begins_anew = board[end] != board[begin] or day[end] == day[begin]
        if begins_anew or (is_green[begin] and mc[end] >= mc[begin]):
            begin = end
            continue
        is_last = end + 1 == board.size or board[end + 1] != board[end]
        if is_last or mc[begin] - mc[end] >= TOLD_LOSS:
            spans.append((begin, end))
            begin = end
    begins, ends = np.array(spans, dtype=np.int64).reshape(-1, 2).T
    return begins, ends
