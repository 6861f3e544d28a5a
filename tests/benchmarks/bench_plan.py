"""Time sheet Plan in live Calc; run as `python -m tests.benchmarks.bench_plan`.

The sample workbook with twelve choices: the species of the load changes, and everything on Plan
that hangs on it is calculated anew; beside it a sheet with as many of Calc's own formulas on one
cell. Goal: under a second for the twelve choices.
"""

from __future__ import annotations

import os
import platform
import tempfile
import time
from pathlib import Path

from openpyxl import load_workbook

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.sheets.plan_options import PLAN, SHEET
from tests.benchmarks.bench_calc import running
from tests.hosts.calc.calc_session import Calc

SAMPLE = sample_folder() / "lumber-shop-demo.xlsx"
SPECIES = ("Oak, northern red", "Walnut, black", "Maple, sugar (hard)", "Cherry, black")
GOAL_SECONDS = 1.0
NATIVE = '=IF($A$1="","",ROUND($A$1*ROW()/7+SQRT(ROW()),2)+MAX($A$1,ROW()))'


def named_cell(name: str) -> str:
    """Address of a named cell of the sample on Plan."""
    [(sheet, address)] = load_workbook(SAMPLE).defined_names[name].destinations
    assert sheet == SHEET
    return address.replace("$", "")


def twelve_choices(calc: Calc) -> None:
    """Give every choice a place and a stack."""
    columns = [
        ["basement" if n % 2 else "shed", "fan" if n % 3 else "still air", "", 0.5 + 0.25 * (n % 3),
         2 + n % 3, 8.5, 84, 8]
        for n in range(PLAN.choices)
    ]  # fmt: skip
    keys = ("place", "setting", "speed", "sticker", "width", "length", "ceiling", "base")
    for letter, column in zip(PLAN.columns, columns, strict=True):
        for key, value in zip(keys, column, strict=True):
            calc.fill(f"{letter}{PLAN.row(key)}", [[value]], SHEET)
    calc.calculate()


def changed(calc: Calc, cell: str, value: float | str, sheet: str = "") -> float:
    """Change a cell and calculate what hangs on it [s]."""
    started = time.perf_counter()
    calc.fill(cell, [[value]], sheet)
    calc.refresh()
    return time.perf_counter() - started


def plan_seconds(calc: Calc) -> tuple[float, int]:
    """Longest time after a change of species [s], and how many formulas Plan has."""
    calc.open(SAMPLE)
    twelve_choices(calc)
    cell = named_cell("planned_species")
    took = []
    for species in SPECIES:
        took.append(changed(calc, cell, species, SHEET))
    cells = calc.read(SHEET)
    verdicts = [cells[f"{letter}{PLAN.row('verdict')}"].value for letter in PLAN.columns]
    assert all(verdict not in ("", "error", "incomplete") for verdict in verdicts), verdicts
    return max(took), sum(cell.formula != "" for cell in cells.values())


def native_seconds(calc: Calc, count: int) -> float:
    """The same for a sheet of Calc's own formulas [s]."""
    calc.new()
    calc.fill("A1", [[1.0]])
    calc.fill("B1", [[NATIVE]] * count)
    calc.calculate()
    took = []
    for number in range(2, 2 + len(SPECIES)):
        took.append(changed(calc, "A1", float(number)))
    return max(took)


def main() -> None:
    """Print the table."""
    print(f"{os.cpu_count()} processors, {platform.machine()}, Python {platform.python_version()}")
    print(f"Plan with {PLAN.choices} choices after a change; goal under {GOAL_SECONDS:g} s")
    with tempfile.TemporaryDirectory() as folder:
        for way, by_worker in (("in Calc itself", False), ("by the worker", True)):
            with running(Path(folder) / way, by_worker) as calc:
                ours, count = plan_seconds(calc)
                own = native_seconds(calc, count)
                print(
                    f"{way:16} {count} formulas {ours:.3f} s; as many of Calc's own {own:.4f} s;"
                    f" {ours / own:.0f} times"
                )


if __name__ == "__main__":
    main()
