"""How far off forecasts are, and how often the band holds: stacks dried by another model.

Run from the repository as `python -m tests.published.simulate_coverage`; it writes coverage.md
beside it. The truth is the diffusion equation on a grid, with another moisture and temperature
term, a rate of its own per stack and weather that departs from the normals. The forecast knows the
normals, a green MC that is off and weighings that are off. Nothing in the truth was chosen by the
result; what each figure rests on stands beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.wood.air import emc
from lumbercalc.wood.calibration import drying_rate, rate_spread
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import STACK_FACTORS, drying_constant
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import LONGEST_DAYS, ready_days
from lumbercalc.wood.intervals import intervals
from tests.published.compare_finite_differences import (
    ACTIVATION_K,
    GREEN_MC,
    MOISTURE_TERM,
    THICKNESSES_IN,
)
from tests.published.finite_differences import days_to, diffusion_per_day, mean_mc_by_day
from tests.published.validate_drying import yards

Floats = NDArray[np.float64]

PAGE = Path(__file__).parent / "coverage.md"
STACKS = 400
SEED = 19600801

STAGES = (0.0, 0.25, 0.5, 0.75)
"""Share of the whole drying time that has passed when the forecast is made."""

COVERAGE_GOAL, MEDIAN_GOAL = 75.0, 10.0
"""Aims set beforehand: the band holds this share at every stage [%], and the median error after a
quarter of the drying is below this [% of the whole time]."""

WEIGHINGS_A_QUARTER = 4
SMALLEST_GAP_DAYS = 2

RATE_SPREAD = 0.35
"""Spread of the true ln rate: half a mile changed the rate by 30 % (Mathewson, FPL 1931)."""

MOISTURE_TERMS = (0.8, 1.6)
ACTIVATION_ERROR = 0.10
MATCHED_AT_F, MATCHED_AT_RH, MATCHED_TO_MC = 70.0, 50.0, 20.0
"""Air and moisture content at which the true boards dry as fast as the model's, rate 1."""

GREEN_ERROR = 0.03
WEIGHING_ERROR_MC = 0.3

# Departures of daily weather from its normals: common size, no source. One part keeps from day to
# day, the other for weeks; winters swing more than summers.
DAY_SPREAD_F, DAY_SPREAD_RH, DAY_MEMORY = (9.0, 5.0), 11.0, 0.7
WEEKS_SPREAD_F, WEEKS_SPREAD_RH, WEEKS_MEMORY = (4.0, 2.0), 4.0, 0.97
ROOM_SHARE = 0.3
"""Share of the departures that reaches a room."""

ROOM = "room"
ROOM_AIR = (66.0, 48.0)
ROOM_TARGETS, YARD_TARGETS = (10.0, 14.0), (16.0, 22.0)


@dataclass(frozen=True)
class Truth:
    """Stacks as they are, and their moisture content day by day; (stacks,) or (stacks, days)."""

    species: NDArray[Any]
    thickness_in: Floats
    green_mc: Floats
    target_mc: Floats
    start: NDArray[np.datetime64]
    place: NDArray[Any]
    stack_factor: Floats
    mean_mc: Floats
    days: Floats


@dataclass(frozen=True)
class Stage:
    """Errors [% of the whole time] and whether the band held, of one stage; (stacks,)."""

    share: float
    weighings: NDArray[np.int64]
    errors: Floats
    held: NDArray[np.bool_]
    too_early: NDArray[np.bool_]

    def figures(self) -> dict[str, float]:
        """Median and 90th percentile of the error [%], coverage of the band [%]."""
        return {
            "median": float(np.median(np.abs(self.errors))),
            "90th percentile": float(np.percentile(np.abs(self.errors), 90, method="lower")),
            "coverage": float(100.0 * self.held.mean()),
            "ready before early": float(100.0 * self.too_early.mean()),
            "bias": float(np.median(self.errors)),
        }

    def meets_goals(self) -> bool:
        """Tell whether the band holds often enough and, once weighed, the error is small enough."""
        figures = self.figures()
        near = self.share == 0 or figures["median"] < MEDIAN_GOAL
        return near and figures["coverage"] >= COVERAGE_GOAL


def site() -> Climate:
    """Normals that the forecast knows: the four yards and a room."""
    outdoors = yards()
    by_name = {
        name: Climate((air,)) for name, air in zip(outdoors.names, outdoors.airs, strict=True)
    }
    return Climate.places(by_name | {ROOM: Climate.steady(*ROOM_AIR)})


def wandering(random: np.random.Generator, shape: tuple[int, int], memory: float) -> Floats:
    """Standard normal figures that keep a share of yesterday's, (stacks, days)."""
    fresh = random.standard_normal(shape)
    course = np.empty(shape)
    course[:, 0] = fresh[:, 0]
    for day in range(1, shape[1]):
        course[:, day] = memory * course[:, day - 1] + np.sqrt(1 - memory**2) * fresh[:, day]
    return course


def weather(
    random: np.random.Generator, place: NDArray[Any], start: NDArray[np.datetime64], days: int
) -> tuple[Floats, Floats]:
    """Temperature [deg F] and humidity [%] that each stack meets, (stacks, days)."""
    normals = site()
    first = start.min()
    lag = (start - first).astype(np.int64)[:, None] + np.arange(days)
    temp, rh = normals.daily(first, int(lag.max()) + 1)
    row = normals.place_index(place)[:, None]
    date = start[:, None] + np.arange(days)
    day_of_year = (date - date.astype("datetime64[Y]")).astype(np.float64)
    winter = 0.5 + 0.5 * np.cos(2 * np.pi * (day_of_year - 15) / 365.25)
    shape = (len(place), days)
    reach = np.where(place == ROOM, ROOM_SHARE, 1.0)[:, None]
    swing_f = sum(
        (summer + (cold - summer) * winter) * wandering(random, shape, memory)
        for (cold, summer), memory in (
            (DAY_SPREAD_F, DAY_MEMORY),
            (WEEKS_SPREAD_F, WEEKS_MEMORY),
        )
    )
    swing_rh = DAY_SPREAD_RH * wandering(random, shape, DAY_MEMORY)
    swing_rh += WEEKS_SPREAD_RH * wandering(random, shape, WEEKS_MEMORY)
    return temp[row, lag] + reach * swing_f, np.clip(rh[row, lag] + reach * swing_rh, 15.0, 98.0)


def true_stacks(stacks: int = STACKS, seed: int = SEED) -> Truth:
    """Dry random stacks; those not ready in five years are left out."""
    random = np.random.default_rng(seed)
    names = np.array(list(GREEN_MC))
    species = random.choice(names, stacks)
    thickness = random.choice(THICKNESSES_IN, stacks)
    place = random.choice(np.array(site().names), stacks)
    start = np.datetime64("2025-01-01") + random.integers(0, 365, stacks)
    factor = random.choice(np.array(list(STACK_FACTORS.values())), stacks)
    table_green = np.array([GREEN_MC[str(name)] for name in species])
    green = table_green * np.exp(0.08 * random.standard_normal(stacks))
    in_room = place == ROOM
    target = np.where(
        in_room, random.uniform(*ROOM_TARGETS, stacks), random.uniform(*YARD_TARGETS, stacks)
    )
    rate = np.exp(RATE_SPREAD * random.standard_normal(stacks))
    term = random.uniform(*MOISTURE_TERMS, stacks)
    activation = ACTIVATION_K * (1 + random.uniform(-ACTIVATION_ERROR, ACTIVATION_ERROR, stacks))
    temp, rh = weather(random, place, start, LONGEST_DAYS)
    constant = matched_constant(species, thickness, green, term, activation)
    speed = (rate * factor)[:, None] * diffusion_per_day(
        constant[:, None], activation[:, None], thickness[:, None], temp
    )
    mean_mc = mean_mc_by_day(green, speed, term, emc(temp, rh), target)
    days = days_to(mean_mc, target)
    ready = np.isfinite(days)
    return Truth(
        species[ready],
        thickness[ready],
        green[ready],
        target[ready],
        start[ready],
        place[ready],
        factor[ready],
        mean_mc[ready],
        days[ready],
    )


def matched_constant(
    species: NDArray[Any], thickness: Floats, green: Floats, term: Floats, activation: Floats
) -> Floats:
    """Diffusion constant with which other terms give the model's days in one steady air."""
    plain = drying_constant(species)
    kelvin = (MATCHED_AT_F - 32.0) / 1.8 + 273.15
    same_when_warm = plain * np.exp((activation - ACTIVATION_K) / kelvin)
    speed = diffusion_per_day(plain, ACTIVATION_K, thickness, MATCHED_AT_F)
    days = np.full((2, len(plain)), np.nan)
    for i, each in enumerate((np.full(len(plain), MOISTURE_TERM), term)):
        course = mean_mc_by_day(
            green,
            np.repeat(speed[:, None], LONGEST_DAYS, axis=1),
            each,
            np.full((len(plain), LONGEST_DAYS), emc(MATCHED_AT_F, MATCHED_AT_RH)),
            np.full(len(plain), MATCHED_TO_MC),
        )
        days[i] = days_to(course, MATCHED_TO_MC)
    matched: Floats = same_when_warm * days[1] / days[0]
    return matched


def weighing_days(days: float, share: float, daily: bool = False) -> NDArray[np.int64]:
    """Day numbers of the weighings up to a share of the drying, four a quarter or every day."""
    last = int(days * share)
    if daily:
        return np.arange(1, last + 1)
    wanted = round(4 * share * WEIGHINGS_A_QUARTER)
    number = min(wanted, last // SMALLEST_GAP_DAYS)
    return np.unique(np.linspace(0, last, number + 1).round().astype(np.int64))[1:]


def forecasts(
    truth: Truth, seed: int = SEED + 1, wrong_ovendry: bool = False, daily: bool = False
) -> list[Stage]:
    """Forecast every stack at every stage, and tell the errors.

    With `wrong_ovendry` the error of the green MC is also in the ovendry weight that every
    weighing is divided by, as it is on a real sample board. With `daily` a board is weighed every
    day.
    """
    random = np.random.default_rng(seed)
    stacks = len(truth.days)
    green = truth.green_mc * (1 + GREEN_ERROR * random.standard_normal(stacks))
    most = int(truth.days.max()) if daily else 4 * WEIGHINGS_A_QUARTER
    noise = WEIGHING_ERROR_MC * random.standard_normal((stacks, most))
    ovendry = (1 + green / 100) / (1 + truth.green_mc / 100) if wrong_ovendry else np.ones(stacks)
    normals = site()
    stages = []
    for share in STAGES:
        rate, spread = np.ones(stacks), np.full(stacks, np.nan)
        from_date, from_mc = np.full(stacks, "NaT", "M8[D]"), np.full(stacks, np.nan)
        weighed = np.zeros(stacks, dtype=np.int64)
        for i in range(stacks):
            day = weighing_days(truth.days[i], share, daily)
            weighed[i] = day.size
            if not day.size:
                continue
            mcs = 100 * ((1 + truth.mean_mc[i, day] / 100) * ovendry[i] - 1) + noise[i, : day.size]
            dates = truth.start[i] + day
            species = str(truth.species[i])
            board = DryingCourse(
                species, float(truth.thickness_in[i]), float(green[i]), truth.start[i], normals,
                float(truth.stack_factor[i]), place=str(truth.place[i]),
            )  # fmt: skip
            found = intervals(board, dates, mcs)
            rate[i], spread[i] = drying_rate(found, species), rate_spread(found, species)
            from_date[i], from_mc[i] = dates[-1], mcs[-1]
        course = DryingCourse(
            truth.species,
            truth.thickness_in,
            green,
            truth.start,
            normals,
            stack_factor=truth.stack_factor,
            rate=rate,
            rate_spread=spread,
            from_date=from_date,
            from_mc=from_mc,
            place=truth.place,
        )
        early, likely, late = (
            ready_days(course, truth.target_mc, band) for band in ("early", "likely", "late")
        )
        stages.append(
            Stage(
                share,
                weighed,
                100 * (likely - truth.days) / truth.days,
                (early <= truth.days) & (truth.days <= late),
                truth.days < early,
            )
        )
    return stages


def page() -> str:
    """Write the simulation as a page."""
    truth = true_stacks()
    outdoors = int(np.sum(truth.place != ROOM))
    lines = [
        "# Coverage of the early-to-late band, by simulation",
        "",
        "Made by `python -m tests.published.simulate_coverage`."
        f" {STACKS} random stacks, seed {SEED}; {STACKS - len(truth.days)} were not ready in five"
        f" years and are left out, {outdoors} of the others stood in a yard, the rest in a room."
        f" Drying took {truth.days.min():.0f} to {truth.days.max():.0f} days, in the median"
        f" {np.median(truth.days):.0f}.",
        "",
        "Truth: the diffusion equation on a grid of 40 cells over half a board; moisture term"
        f" {MOISTURE_TERMS[0]:g} to {MOISTURE_TERMS[1]:g} (the forecast has {MOISTURE_TERM:g}) and"
        f" temperature term within {100 * ACTIVATION_ERROR:.0f} %, matched to the forecast's days"
        f" at {MATCHED_AT_F:g} deg F; ln rate spread {RATE_SPREAD:g}; daily weather that departs"
        " from the normals, the forecast has only the normals, also for the days gone by; green MC"
        f" off by {100 * GREEN_ERROR:.0f} %, weighings by {WEIGHING_ERROR_MC:g} % MC (one standard"
        f" deviation); up to {WEIGHINGS_A_QUARTER} weighings in each quarter of the drying, or one"
        " every day. The truth is of the forecast's own family: real errors are larger. The"
        " standard error of a coverage is"
        f" {100 * np.sqrt(0.8 * 0.2 / len(truth.days)):.0f} points.",
        "",
        f"Goals: the band holds {COVERAGE_GOAL:g} % at every stage, the median error is under"
        f" {MEDIAN_GOAL:g} % of the whole time from a quarter on.",
    ]
    for title, wrong_ovendry, daily in (
        ("Weighings against the right ovendry weight", False, False),
        ("The error of the green MC is in the ovendry weight too", True, False),
        ("Weighed every day, against the right ovendry weight", False, True),
        ("Weighed every day, the error of the green MC in the ovendry weight too", True, True),
    ):
        lines += ["", f"## {title}", "",
                  "| weighed through | weighings | median error, % of the whole time |"
                  " 90th percentile | band holds | ready before early | median of the error |"
                  " goals |",
                  "|---|---|---|---|---|---|---|---|"]  # fmt: skip
        for stage in forecasts(truth, wrong_ovendry=wrong_ovendry, daily=daily):
            figures = stage.figures()
            through = f"{100 * stage.share:.0f} % of the drying" if stage.share else "nothing"
            lines.append(
                f"| {through} | {stage.weighings.min()}-{stage.weighings.max()} |"
                f" {figures['median']:.1f} % | {figures['90th percentile']:.0f} % |"
                f" {figures['coverage']:.0f} % | {figures['ready before early']:.0f} % |"
                f" {figures['bias']:+.1f} % | {'met' if stage.meets_goals() else 'missed'} |"
            )
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(page())
