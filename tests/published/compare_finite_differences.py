"""The closed-form daily step against the diffusion equation on a grid, in steady and yearly air.

Run from the repository as `python -m tests.published.compare_finite_differences`; it writes
finite_differences.md beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.wood.air import emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import drying_constant
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import LONGEST_DAYS, drying_days, ready_days
from tests.published.finite_differences import days_to, diffusion_per_day, mean_mc_by_day
from tests.published.validate_drying import yards

Floats = NDArray[np.float64]

PAGE = Path(__file__).parent / "finite_differences.md"

ACTIVATION_K, MOISTURE_TERM = 5280.0, 1.15
"""Simpson and Hart's form, from memory; the figures under test are the daily step's own."""

GREEN_MC = {
    "Oak, northern red": 80.0, "Oak, white": 68.0, "Walnut, black": 85.0, "Cherry, black": 58.0,
    "Maple, sugar (hard)": 68.0, "Maple, red (soft)": 70.0, "Yellow-poplar": 95.0,
    "Ash, white": 45.0, "Beech, American": 63.0, "Birch, yellow": 73.0, "Elm, American": 93.0,
    "Basswood, American": 105.0, "Sycamore, American": 120.0, "Hackberry": 63.0,
    "Cottonwood, eastern": 150.0, "Butternut": 104.0, "Locust, black": 40.0,
}  # fmt: skip
"""Mean of heartwood and sapwood as the drying constants were derived with, from memory [% MC]."""

THICKNESSES_IN = (1.0, 1.125, 1.375, 1.625, 2.25)
STEADY_SPECIES = ("Oak, northern red", "Walnut, black", "Maple, sugar (hard)")
STEADY_AIR = ((50.0, 50.0), (70.0, 40.0), (90.0, 35.0))
STEADY_TARGETS = (20.0, 16.0, 12.0)
STEADY_GOAL, SEASONAL_GOAL = 1.0, 5.0
"""Aims set beforehand [% of the days; the second as a root mean square]."""
CASES = 500
SEED = 20250501


@dataclass(frozen=True)
class Comparison:
    """What was dried, and the days that both ways give; all of shape (n,)."""

    stack: dict[str, NDArray[Any]]
    step_days: Floats
    grid_days: Floats

    def errors(self) -> Floats:
        """Errors of the daily step where both reach the target [%]."""
        both = np.isfinite(self.step_days) & np.isfinite(self.grid_days)
        return 100.0 * (self.step_days[both] / self.grid_days[both] - 1.0)

    def one_sided(self) -> int:
        """Count the cases that only one of the two ways brings to the target in five years."""
        return int(np.sum(np.isfinite(self.step_days) != np.isfinite(self.grid_days)))


def steady() -> Comparison:
    """Dry three species, 4/4 and 8/4, in three steady airs to three targets."""
    rows = list(product(STEADY_SPECIES, (1.125, 2.25), STEADY_AIR, STEADY_TARGETS))
    species = np.array([row[0] for row in rows])
    thickness = np.array([row[1] for row in rows])
    temp, rh = np.array([row[2] for row in rows]).T
    target = np.array([row[3] for row in rows])
    green = np.array([GREEN_MC[row[0]] for row in rows])
    days = LONGEST_DAYS
    speed = diffusion_per_day(drying_constant(species), ACTIVATION_K, thickness, temp)
    grid = mean_mc_by_day(
        green,
        np.repeat(speed[:, None], days, axis=1),
        np.full(len(rows), MOISTURE_TERM),
        np.repeat(emc(temp, rh)[:, None], days, axis=1),
        target,
    )
    return Comparison(
        {"species": species, "thickness_in": thickness, "temp_f": temp, "rh_pct": rh,
         "target_mc": target},
        drying_days(species, thickness, green, target, temp, rh),
        days_to(grid, target),
    )  # fmt: skip


def seasonal(cases: int = CASES, target_mc: float = 20.0, seed: int = SEED) -> Comparison:
    """Dry random stacks through the year's normal air, begun on the first of a random month."""
    random = np.random.default_rng(seed)
    site = yards()
    names = np.array(list(GREEN_MC))
    species = random.choice(names, cases)
    thickness = random.choice(THICKNESSES_IN, cases)
    month = random.integers(0, 12, cases)
    place = random.choice(site.names, cases)
    green = np.array([GREEN_MC[str(name)] for name in species])
    start = (np.datetime64("2025-01") + month).astype("datetime64[D]")
    temp, surface = air_of(site, place, start, LONGEST_DAYS)
    speed = diffusion_per_day(
        drying_constant(species)[:, None], ACTIVATION_K, thickness[:, None], temp
    )
    grid = mean_mc_by_day(
        green, speed, np.full(cases, MOISTURE_TERM), surface, np.full(cases, target_mc)
    )
    return Comparison(
        {"species": species, "thickness_in": thickness, "start": start, "place": place},
        ready_days(DryingCourse(species, thickness, green, start, site, place=place), target_mc),
        days_to(grid, target_mc),
    )


def air_of(
    site: Climate, place: NDArray[Any], start: NDArray[np.datetime64], days: int
) -> tuple[Floats, Floats]:
    """Temperature [deg F] and EMC [% MC] that stacks meet from their start on, (stacks, days)."""
    first = start.min()
    lag = (start - first).astype(np.int64)[:, None] + np.arange(days)
    temp, rh = site.daily(first, int(lag.max()) + 1)
    row = site.place_index(place)[:, None]
    return temp[row, lag], emc(temp, rh)[row, lag]


def summary(errors: Floats) -> dict[str, float]:
    """Root mean square, mean, first and last percentile, and the worst [%]."""
    low, high = np.percentile(errors, [1, 99])
    return {
        "rms": float(np.sqrt(np.mean(errors**2))),
        "mean": float(errors.mean()),
        "1st percentile": float(low),
        "99th percentile": float(high),
        "worst": float(errors[np.abs(errors).argmax()]),
    }


def page() -> str:
    """Write both comparisons as a page."""
    lines = [
        "# The daily step against finite differences",
        "",
        "Made by `python -m tests.published.compare_finite_differences`. The diffusion equation"
        " with red oak's moisture term, on a grid of 40 cells over half a board, which itself is"
        " within 0.2 % of a finer one and of Crank's series; stack factor and rate 1. Errors are of"
        " the days to the target.",
        "",
        "## Steady air",
        "",
        "| species | in | deg F | % RH | to % MC | grid, days | daily step, days | error |",
        "|---|---|---|---|---|---|---|---|",
    ]
    still = steady()
    for i in range(len(still.grid_days)):
        row = {name: column[i] for name, column in still.stack.items()}
        lines.append(
            f"| {row['species']} | {row['thickness_in']:g} | {row['temp_f']:g} |"
            f" {row['rh_pct']:g} | {row['target_mc']:g} | {still.grid_days[i]:.1f} |"
            f" {still.step_days[i]:.1f} | {still.errors()[i]:+.2f} % |"
        )
    over = np.abs(still.errors()) > STEADY_GOAL
    lines += [
        "",
        f"Worst {np.abs(still.errors()).max():.2f} %; over the goal of {STEADY_GOAL:g} %:"
        f" {over.sum()} of {over.size}.",
        "",
        "## Through the year",
        "",
        f"{CASES} stacks, seed {SEED}: {len(GREEN_MC)} species, thickness 1 to 2-1/4 in, begun on"
        " the first of any month in the normal air of four yards (monthly means from memory).",
        "",
        "| to % MC | compared | reached in five years one way only | rms | goal of"
        f" {SEASONAL_GOAL:g} % | mean | 1st percentile | 99th percentile | worst |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for target in (20.0, 16.0):
        yearly = seasonal(target_mc=target)
        figures = summary(yearly.errors())
        cells = " | ".join(f"{figures[name]:+.1f} %" for name in list(figures)[1:])
        lines.append(
            f"| {target:g} | {yearly.errors().size} | {yearly.one_sided()} |"
            f" {figures['rms']:.1f} % | {'met' if figures['rms'] <= SEASONAL_GOAL else 'missed'} |"
            f" {cells} |"
        )
        if target == 20.0:
            main = yearly
    error = np.abs(main.step_days / main.grid_days - 1.0)
    worst = np.argsort(np.where(np.isfinite(error), error, -1.0))[::-1][:5]
    lines += ["", "The five worst to 20 %:", "",
              "| species | in | begun | yard | grid, days | daily step, days |",
              "|---|---|---|---|---|---|"]  # fmt: skip
    for i in worst:
        row = {name: column[i] for name, column in main.stack.items()}
        lines.append(
            f"| {row['species']} | {row['thickness_in']:g} | {row['start']} | {row['place']} |"
            f" {main.grid_days[i]:.0f} | {main.step_days[i]:.0f} |"
        )
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(page())
