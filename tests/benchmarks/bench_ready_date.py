"""Time READY_DATE over columns of stacks; run as `python -m tests.benchmarks.bench_ready_date`.

One call over a column of 1,000 stacks against 1,000 calls of one stack, and columns of 10 to
10,000 stacks, in a climate table of four places with three years of days.
"""

from __future__ import annotations

import math
import os
import platform
import sys
import time
from typing import Any

import numpy as np

from lumbercalc.sheet.answer import Answer
from lumbercalc.sheet.call import call
from tests.benchmarks.timing import seconds

PLACES = {"yard": (50.0, 22.0, 70.0), "lean-to": (51.0, 20.0, 68.0), "shed": (53.0, 18.0, 62.0),
          "basement": (66.0, 4.0, 50.0)}  # fmt: skip
"""Mean and yearly swing of the temperature [deg F], mean humidity [%]."""

SPECIES = ("northern red oak", "black walnut", "black cherry", "hard maple", "yellow-poplar")
FIRST_DAY = np.datetime64("2025-01-01")
DAYS = 3 * 365
SIZES = (10, 100, 1_000, 10_000)


def climate() -> list[list[Any]]:
    """Rows of place, date, temperature and humidity."""
    random = np.random.default_rng(7)
    rows = []
    for name, (mean_f, swing_f, rh_pct) in PLACES.items():
        for day in range(DAYS):
            season = -math.cos(2 * math.pi * (day - 15) / 365)
            temp = mean_f + swing_f * season + 5 * random.standard_normal()
            humidity = min(max(rh_pct + 8 * random.standard_normal(), 20.0), 95.0)
            rows.append([name, str(FIRST_DAY + day), round(temp, 1), round(humidity, 1)])
    return rows


def columns(stacks: int) -> list[list[Any]]:
    """Species, thickness, green MC, start, target and place of stacks."""
    random = np.random.default_rng(11)
    return [
        [str(name) for name in random.choice(SPECIES, stacks)],
        random.choice([1.125, 1.375, 1.625, 2.25], stacks).tolist(),
        random.uniform(60, 90, stacks).round(1).tolist(),
        [str(FIRST_DAY + int(day)) for day in random.integers(0, 365, stacks)],
        random.uniform(16, 20, stacks).round(1).tolist(),
        [str(name) for name in random.choice(list(PLACES), stacks)],
    ]


def ready_date(stack: list[Any], air: list[list[Any]]) -> Answer:
    """Call the worksheet function over a column of stacks or one stack."""
    *what, place = stack
    return call("READY_DATE", [*what, air, 0.9, 1, None, None, None, "likely", place])


def months() -> list[list[Any]]:
    """Rows of place, month, temperature and humidity: a short table, quickly read."""
    return [
        [name, month, mean_f - swing_f * math.cos(2 * math.pi * (month - 1) / 12), rh_pct]
        for name, (mean_f, swing_f, rh_pct) in PLACES.items()
        for month in range(1, 13)
    ]


def column_against_singles(air: list[list[Any]]) -> tuple[float, float]:
    """Seconds of one call over 1,000 stacks, and of 1,000 calls; both must answer the same."""
    stacks = columns(1_000)
    singles = [list(stack) for stack in zip(*stacks, strict=True)]
    answer = ready_date(stacks, air)
    begun = time.perf_counter()
    one_by_one = [ready_date(stack, air).values[0] for stack in singles]
    apart = time.perf_counter() - begun
    if answer.problems or one_by_one != answer.values:
        sys.exit("the column and the single calls differ")
    return seconds(lambda: ready_date(stacks, air)), apart


def main() -> None:
    """Print the tables."""
    air = climate()
    print(f"{os.cpu_count()} processors, {platform.machine()}, Python {platform.python_version()},")
    print(f"NumPy {np.__version__}; climate of {len(PLACES)} places, {len(air)} rows")
    for name, table in (("three years of days", air), ("twelve months", months())):
        together, apart = column_against_singles(table)
        print(f"\n{name}: 1,000 stacks in one call {together:.3f} s,")
        print(f"1,000 calls of one stack {apart:.3f} s, {apart / together:.0f} times as long")
    print("\n  stacks   seconds   ms a stack   times the row above")
    last = math.nan
    for size in SIZES:
        column = columns(size)
        took = seconds(lambda column=column: ready_date(column, air))  # type: ignore[misc]
        print(f"{size:8,} {took:9.3f} {1000 * took / size:12.3f} {took / last:12.1f}")
        last = took


if __name__ == "__main__":
    main()
