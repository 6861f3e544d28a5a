"""Time the functions in live Calc; run as `python -m tests.benchmarks.bench_calc`.

20,000 rows, a formula a row and one array formula, in Calc's own process (where its Python can)
and by the worker, against Calc's own formulas for the same figures; then DRYING_RATE of 100
stacks, each formula with the whole columns of 5,000 weighings. Goals: 25 us a cell in Calc, 120 us
by the worker, an array at most 8 times Calc's own formulas. Every figure must be Calc's own too.
"""

from __future__ import annotations

import os
import platform
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from lumbercalc.hosts.calc.install import put_in
from lumbercalc.hosts.calc.way import find_way
from lumbercalc.sheet.dates import serial
from tests.hosts.calc.calc_session import Calc, office_in

ROWS = 20_000
REPEATS = 3
STACKS = 100
WEIGHINGS = 50
HEAD = f"{'seconds':20}{'own':>9}{'cells':>9}{'us/cell':>9}{'array':>9}{'times':>9}"
GOALS_US = {"in Calc itself": 25, "by the worker": 120}


@dataclass
class Case:
    """Columns from A on, our formula over ranges of them, Calc's own from column E on."""

    name: str
    columns: list[list[float | str]]
    ours: str
    native: list[str]

    def formula(self, rows: str) -> str:
        """Our formula over "1" or "1:20000" of each column."""
        first, _, last = rows.partition(":")
        ranges = {c: f"{c}{first}:{c}{last}" if last else f"{c}{first}" for c in "ABC"}
        return self.ours.format(**ranges)


def cases() -> list[Case]:
    """Boards by inches and by quarters, and air: invented figures inside the limits."""
    random = np.random.default_rng(5)
    inches = random.choice([1.0, 1.25, 1.5, 2.0], ROWS).tolist()
    quarters = [f"{round(4 * thickness)}/4" for thickness in inches]
    widths = random.uniform(4, 16, ROWS).round(2).tolist()
    lengths = random.uniform(4, 16, ROWS).round(1).tolist()
    temps = random.uniform(35, 95, ROWS).round(1).tolist()
    humid = random.uniform(30, 90, ROWS).round(1).tolist()
    emc = [  # Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, in deg C: t, K h, K1, K2 and the EMC
        "(A1-32)/1.8",
        "(0.805+0.000736*E1-0.00000273*E1^2)*B1/100",
        "6.27-0.00938*E1-0.000303*E1^2",
        "1.91+0.0407*E1-0.000293*E1^2",
        "1800/(349+1.29*E1+0.0135*E1^2)*(F1/(1-F1)+(G1*F1+2*G1*H1*F1^2)/(1+G1*F1+G1*H1*F1^2))",
    ]
    boards = "BOARD_FEET({A};{B};{C})"
    return [
        Case("BOARD_FEET, inches", [inches, widths, lengths], boards, ["A1*B1*C1/12"]),
        Case(
            'BOARD_FEET, "5/4"',
            [quarters, widths, lengths],
            boards,
            ['LEFT(A1;FIND("/";A1)-1)/4*B1*C1/12'],
        ),
        Case("EMC", [temps, humid], "EMC({A};{B})", emc),
    ]


@contextmanager
def running(folder: Path, by_worker: bool) -> Iterator[Calc]:
    """A Calc with a profile of its own."""
    office = office_in(folder)
    put_in(office, by_worker)
    calc = Calc(office)
    try:
        yield calc
    finally:
        calc.quit()


def timed(calc: Calc) -> float:
    """Shortest of a few recalculations [s]."""
    return min(calc.calculate() for _ in range(REPEATS))


def sheet_of(calc: Calc, case: Case) -> None:
    """A new sheet with the case's columns."""
    calc.new()
    calc.fill("A1", list(zip(*case.columns, strict=True)))


def seconds(calc: Calc, case: Case) -> tuple[float, float, float]:
    """Recalculate Calc's own formulas, ours in each row, and ours as one array formula [s]."""
    check, last = ROWS // 2, "EFGHI"[len(case.native) - 1]
    sheet_of(calc, case)
    calc.fill("E1", [[f"={part}" for part in case.native]])
    calc.fill_down(f"E1:{last}{ROWS}")
    own = timed(calc)
    expected = calc.read()[f"{last}{check}"].value
    sheet_of(calc, case)
    calc.fill("E1", [["=" + case.formula("1")]])
    calc.fill_down(f"E1:E{ROWS}")
    cells = timed(calc)
    found = [calc.read()[f"E{check}"].value]
    sheet_of(calc, case)
    calc.array(f"E1:E{ROWS}", "=" + case.formula(f"1:{ROWS}"))
    array = timed(calc)
    found.append(calc.read()[f"E{check}"].value)
    for value in found:
        if abs(float(value or 0) - float(expected or 0)) > 1e-9:
            sys.exit(f"{case.name}: {value} is not {expected}")
    return own, cells, array


def drying_rates(calc: Calc) -> float:
    """Recalculate DRYING_RATE of every stack [s]."""
    calc.new()
    start = date(2026, 3, 1)
    rows = [
        [serial(start + timedelta(7 * n)), 80.0 * 0.96**n, f"S{stack}"]
        for n in range(WEIGHINGS)
        for stack in range(STACKS)
    ]
    calc.fill("A1", rows)
    calc.fill("E1", [[float(30 + 5 * min(month, 13 - month)), 60.0] for month in range(1, 13)])
    last = len(rows)
    calc.fill("H1", [[f"S{stack}"] for stack in range(STACKS)])
    formulas = [
        f'=DRYING_RATE($A$1:$A${last};$B$1:$B${last};"white oak";1.125;80;{serial(start)};'
        f"$E$1:$F$12;1;;;$C$1:$C${last};H{row})"
        for row in range(1, STACKS + 1)
    ]
    calc.fill("I1", [[formula] for formula in formulas])
    took = timed(calc)
    if any(calc.read()[f"I{row}"].kind != "number" for row in range(1, STACKS + 1)):
        sys.exit("DRYING_RATE has no answer")
    return took


def main() -> None:
    """Print the tables."""
    with tempfile.TemporaryDirectory() as folder:
        office = office_in(Path(folder))
        way = find_way(office)
        version = ".".join(map(str, office.version()))
        print(f"{os.cpu_count()} processors, {platform.machine()}, Calc {version},")
        print(f"Python {platform.python_version()}, NumPy {np.__version__}; {way}")
        ways = {"in Calc itself": False} if way.inside else {}
        for name, by_worker in {**ways, "by the worker": True}.items():
            with running(Path(folder) / name, by_worker) as calc:
                print(f"\n{name}: {ROWS:,} rows; goal {GOALS_US[name]} us a cell, 8 times")
                print(HEAD)
                for case in cases():
                    own, cells, array = seconds(calc, case)
                    print(
                        f"{case.name:20}{own:9.3f}{cells:9.3f}{cells / ROWS * 1e6:9.1f}"
                        f"{array:9.3f}{array / own:9.1f}"
                    )
                rates = drying_rates(calc)
                print(f"DRYING_RATE of {STACKS} stacks, {STACKS * WEIGHINGS:,} weighings:", end=" ")
                print(f"{rates / STACKS * 1000:.1f} ms a stack")


if __name__ == "__main__":
    main()
