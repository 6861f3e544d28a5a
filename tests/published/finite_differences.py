"""The diffusion equation of a drying board, solved on a grid for many boards at once.

Half a board between its surface, at the EMC of the air, and its middle, which nothing passes:
finite volumes that widen from the surface inwards, a tridiagonal system per step, and linearly
implicit Euler steps extrapolated to second order. None of it is shared with the closed-form step.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.linalg import solve_banded

Floats = NDArray[np.float64]

CELLS = 40
STEPS_OF_FIRST_DAYS = (12, 4, 4, 4)
STEPS_OF_A_DAY = 2


def diffusion_per_day(
    constant: ArrayLike, activation: ArrayLike, thickness_in: ArrayLike, temp_f: ArrayLike
) -> Floats:
    """Diffusion over thickness squared [1/day] of dry wood: A exp(-activation / T) / L^2."""
    kelvin = (np.asarray(temp_f, dtype=np.float64) - 32.0) / 1.8 + 273.15
    centimetres = 2.54 * np.asarray(thickness_in, dtype=np.float64)
    per_second = np.asarray(constant, dtype=np.float64) * np.exp(-np.asarray(activation) / kelvin)
    return np.asarray(86400.0 * per_second / centimetres**2, dtype=np.float64)


def mean_mc_by_day(
    green_mc: Floats,
    per_day: Floats,
    moisture_term: Floats,
    emc: Floats,
    stop_mc: Floats,
    cells: int = CELLS,
    refine: int = 1,
) -> Floats:
    """Mean moisture content [% MC] of boards on each day, NaN after a board is at `stop_mc`.

    `green_mc`, `moisture_term` (B, per unit of moisture) and `stop_mc` have shape (boards,);
    `per_day` (before the moisture term) and `emc` have shape (boards, days) and hold for one day.
    """
    boards, days = emc.shape
    depth = 0.5 * (np.arange(cells + 1) / cells) ** 2
    width = np.diff(depth)
    share = width / 0.5
    middle = (depth[:-1] + depth[1:]) / 2.0
    gap = np.diff(np.concatenate([depth[:1], middle]))

    def step(mc: Floats, surface: Floats, passed: Floats, term: Floats) -> Floats:
        outer = np.concatenate([surface[:, None], mc[:, :-1]], axis=1)
        # Diffusion between two cells: its mean over the moisture contents that lie between them.
        half = term[:, None] * (mc - outer) / 2.0
        mean = np.where(np.abs(half) < 1e-6, 1.0, np.sinh(half) / np.where(half == 0, 1.0, half))
        flow = passed[:, None] * np.exp(term[:, None] * (mc + outer) / 2.0) * mean / gap
        upward = flow / width
        downward = np.zeros_like(upward)
        downward[:, :-1] = flow[:, 1:] / width[:-1]
        right = mc.copy()
        right[:, 0] += upward[:, 0] * surface
        bands = np.zeros((3, mc.size))
        bands[1] = (1.0 + upward + downward).ravel()
        upward[:, 0] = 0.0
        bands[0, 1:] = -downward.ravel()[:-1]
        bands[2, :-1] = -upward.ravel()[1:]
        solved = solve_banded((1, 1), bands, right.ravel(), check_finite=False)
        return np.asarray(solved.reshape(mc.shape), dtype=np.float64)

    mean_mc = np.full((boards, days + 1), np.nan)
    mean_mc[:, 0] = green_mc
    row = np.arange(boards)
    mc = np.repeat(green_mc[:, None], cells, axis=1)
    term = moisture_term / 100.0
    for day in range(days):
        steps = refine * (
            STEPS_OF_FIRST_DAYS[day] if day < len(STEPS_OF_FIRST_DAYS) else STEPS_OF_A_DAY
        )
        times = np.linspace(0.0, 1.0, steps + 1)
        if day == 0:
            times = times**2
        surface, speed = emc[row, day], per_day[row, day]
        for length in np.diff(times):
            whole = step(mc, surface, length * speed, term)
            half = step(mc, surface, length / 2.0 * speed, term)
            mc = 2.0 * step(half, surface, length / 2.0 * speed, term) - whole
        mean = mc @ share
        mean_mc[row, day + 1] = mean
        wet = mean > stop_mc[row]
        if not wet.all():
            row, mc, term = row[wet], mc[wet], term[wet]
            if not row.size:
                break
    return mean_mc


def days_to(mean_mc: Floats, target_mc: ArrayLike) -> Floats:
    """Days to the target [days], linear within the day; NaN where it was not reached."""
    target = np.broadcast_to(np.asarray(target_mc, dtype=np.float64), mean_mc.shape[:1])
    there = mean_mc <= target[:, None]
    reached = there.any(axis=1)
    last = np.maximum(there.argmax(axis=1), 1)
    row = np.arange(len(mean_mc))
    before, after = mean_mc[row, last - 1], mean_mc[row, last]
    with np.errstate(invalid="ignore"):
        days = last - 1 + (before - target) / (before - after)
    return np.where(reached, days, np.nan)
