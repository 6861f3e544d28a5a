"""Time every row function on a column; run as `python -m tests.benchmarks.bench_functions`.

One call on a column of 100,000 rows, against the same arithmetic written by hand in NumPy (goal:
at most twice the time) and against one call per row. Where the arithmetic is no line of NumPy (the
drying model, solved equations, words), the function of `lumbercalc.wood` stands in its place, on
arrays of numbers and of texts. Both must give the same figures.
"""

from __future__ import annotations

import os
import platform
import sys
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

import lumbercalc as lc
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function
from lumbercalc.wood.species import figure
from lumbercalc.wood.texts import Texts
from tests.benchmarks.timing import seconds

ROWS = 100_000
SLOW_ROWS = 2_000
"""For what takes a day-by-day forecast a row."""
SINGLE = 200
"""Calls of one row that are timed for the third column."""
REPEATS = 5
GOAL = 2.0
SLOW = ("READY_DATE", "MC_FORECAST")
SPECIES = ("Oak, northern red", "Oak, white", "Birch, yellow", "Walnut, black")
SG = {name: float(figure(name, "specific gravity")) for name in SPECIES}
SHRINKS = {name: float(figure(name, "tangential shrinkage")) for name in SPECIES}

Column = Any


def of_species(table: dict[str, float], species: Column) -> NDArray[np.float64]:
    """Look a figure up for a column of names."""
    return np.array([table[name] for name in species])


def emc(temp_f: Column, rh_pct: Column) -> Column:
    """Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, in deg C."""
    t = (temp_f - 32) / 1.8
    h = rh_pct / 100
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * h
    a, b = k1 * kh, k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + (a + 2 * b) / (1 + a + b))


BY_HAND: dict[str, Callable[..., Column]] = {
    "THICKNESS_IN": lambda t: t * 1.0,
    "BOARD_FEET": lambda t, w, length: np.maximum(t, 1) * w * length / 12,
    "NET_BOARD_FEET": lambda bf, pct: bf * (1 - pct / 100),
    "CUBIC_METERS": lambda bf: bf * 0.3048**3 / 12,
    "FLOOR_LOAD": lambda lb, length, w: lb / (length * w),
    "EMC": emc,
    "MC_BY_WEIGHT": lambda wet, dry: (wet - dry) / dry * 100,
    "OVENDRY_WEIGHT": lambda wet, mc: wet / (1 + mc / 100),
    "WEIGHT_AT_MC": lambda dry, mc: dry * (1 + mc / 100),
    "MC_PINLESS": lambda mc, sg, species: mc * sg / of_species(SG, species),
    "MATCHES_DRY_SAMPLE": lambda mc, dry: np.round(np.abs(mc - dry), 9) <= 1,
    "SHRINKAGE": lambda species, _, wet, dry: (
        of_species(SHRINKS, species) * (np.minimum(wet, 30) - np.minimum(dry, 30)) / 30
    ),
    "STACK_HEIGHT": lambda n, t, sticker, base: base + n * (t + sticker),
    "STACK_BOARD_FEET": lambda n, w, length, t: n * w * length * np.maximum(t, 1) * 0.9,
    "FAN_CFM": lambda n, sticker, length, fpm: n * sticker / 12 * length * fpm,
    "COST_PER_BF": lambda cost, bf, shrink, degrade: (
        cost / (bf * (1 - shrink / 100) * (1 - degrade / 100))
    ),
    "PRICE_FOR_MARGIN": lambda cost, margin: cost / (1 - margin / 100),
    "CARRYING_COST": lambda value, pct, days: value * pct / 100 * days / 365,
    "FAN_KWH": lambda watts, hours: watts * hours / 1000,
}
"""Arithmetic of the definition or the handbook's equation, without a check of any cell."""


def column(function: Function, place: int, rows: int) -> Any:
    """A column like an argument of the function's example: numbers within 2 %, in their limits."""
    argument = function.arguments[place]
    given = function.example.arguments[place]
    random = np.random.default_rng(place)
    if argument.kind == "species":
        return [str(name) for name in random.choice(SPECIES, rows)]
    if argument.kind == "climate":
        return given
    if argument.kind == "date":
        return np.datetime64(given) + random.integers(0, 20, rows)
    if isinstance(given, str) and argument.kind == "thickness":
        given = 2.0
    if isinstance(given, str):
        return [given] * rows
    if isinstance(given, bool):
        return np.full(rows, given)
    if argument.limits.whole:
        return np.full(rows, float(given))
    low, high = argument.limits.lowest, argument.limits.highest
    return np.clip(given * random.uniform(0.98, 1.02, rows), low, high)


def one_row(columns: list[Any], function: Function, row: int) -> list[Any]:
    """The cells of one row."""
    return [
        cells if function.arguments[place].kind == "climate" else cells[row]
        for place, cells in enumerate(columns)
    ]


def same(function: Function, ours: Any, other: Any) -> bool:
    """Tell whether both give the same column."""
    if function.gives == "number":
        wanted = np.broadcast_to(np.asarray(other, float), np.shape(ours))
        return bool(np.allclose(np.asarray(ours, float), wanted, rtol=1e-9, atol=1e-9))
    return bool(np.all(np.asarray(ours) == np.asarray(other)))


def by_wood(function: Function, columns: list[Any]) -> Callable[[], Any]:
    """The function of `lumbercalc.wood` on the columns, checked and filled up beforehand."""
    taken: dict[str, Any] = {}
    real = function.compute

    def take(**values: Any) -> Any:
        taken.update(values)
        return real(**values)

    object.__setattr__(function, "compute", take)
    try:
        getattr(lc, function.python_name)(*columns)
    finally:
        object.__setattr__(function, "compute", real)
    plain = {
        name: np.asarray(value) if isinstance(value, Texts) else value
        for name, value in taken.items()
    }
    return lambda: real(**plain)


def timed(function: Function) -> tuple[float, float, float]:
    """Seconds of one call on a column, of the arithmetic, and of a call for each row."""
    rows = SLOW_ROWS if function.name in SLOW else ROWS
    columns = [column(function, place, rows) for place in range(len(function.example.arguments))]
    face = getattr(lc, function.python_name)
    by_hand = BY_HAND.get(function.name)
    other = (lambda: by_hand(*columns)) if by_hand else by_wood(function, columns)
    ours = face(*columns)
    if not same(function, ours, other()):
        sys.exit(f"{function.name}: the column is not that of the arithmetic")
    repeats = 1 if function.name in SLOW else REPEATS
    single = seconds(lambda: [face(*one_row(columns, function, row)) for row in range(SINGLE)], 1)
    return (
        seconds(lambda: face(*columns), repeats),
        seconds(other, repeats),
        single / SINGLE * rows,
    )


def main() -> None:
    """Print the table."""
    print(f"{os.cpu_count()} processors, {platform.machine()}, Python {platform.python_version()},")
    print(
        f"NumPy {np.__version__}; one call on {ROWS:,} rows ({SLOW_ROWS:,} for {', '.join(SLOW)})"
    )
    print(f"{'':20}{'column, ms':>12}{'NumPy, ms':>12}{'times':>8}{'by rows, s':>12}{'ratio':>9}")
    over = []
    for function in CATALOGUE.values():
        if function.takes_blocks or function.repeats or not function.arguments:
            continue
        ours, other, single = timed(function)
        mark = " " if function.name in BY_HAND else "w"
        if ours > GOAL * other:
            over.append(function.name)
        print(
            f"{function.name:20}{ours * 1e3:12.2f}{other * 1e3:11.2f}{mark}{ours / other:8.1f}"
            f"{single:12.2f}{single / ours:9.0f}"
        )
    print(f"w: the function of lumbercalc.wood. Over {GOAL:g} times: {', '.join(over) or 'none'}")


if __name__ == "__main__":
    main()
