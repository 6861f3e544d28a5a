"""Time what a shop waits for; run as `python -m tests.benchmarks.bench_workbook`.

The add-in's first answer, the sample workbook opened and recalculated in live Calc, the template
built and filled with values, and a plain sheet of 500, 5,000 and 50,000 boards. Beside each stands
the same without lumbercalc: Python with NumPy started, the sample's values opened, as many cells
written by openpyxl, Calc's own formulas in as many cells.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
from datetime import datetime
from pathlib import Path

import numpy as np
from openpyxl import Workbook, load_workbook

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.template import build, save
from lumbercalc.hosts.calc.extension import worker_command
from lumbercalc.hosts.calc.link import Link
from lumbercalc.hosts.calc.way import package_environment
from tests.benchmarks.bench_calc import running
from tests.benchmarks.timing import seconds
from tests.hosts.calc.calc_session import Calc

SAMPLE = sample_folder() / "lumber-shop-demo.xlsx"
BOARDS = (500, 5_000, 50_000)
OURS = (
    "=BOARD_FEET(B{row};C{row};D{row})",
    "=LUMBER_WEIGHT(A{row};F{row};80)",
    '=SHRINKAGE(A{row};"tangential";80;8)',
    "=LINE_TOTAL(F{row};E{row};5)",
)
OWN = (
    "=B{row}*C{row}*D{row}/12",
    "=F{row}/12*0.56*62.4*1.8",
    "=9*(30-8)/30",
    "=ROUND(F{row}*E{row}*0.95;2)",
)
"""Calc's own arithmetic for the same columns; the species' figures are typed in."""


def line(what: str, ours: float, other: str, own: float) -> None:
    """Print one comparison."""
    print(f"{what:52}{ours:9.3f} s   {other}: {own:.3f} s   {ours / own:.1f} times", flush=True)


def first_answer() -> None:
    """Ask a new worker for one board."""
    link = Link(worker_command(), package_environment())
    if link.ask("BOARD_FEET", [1.0, 6.0, 8.0]) != [[4.0]]:
        sys.exit("the worker's answer is wrong")
    link.close()


def numpy_started() -> None:
    """Start this Python and import NumPy."""
    subprocess.run([sys.executable, "-c", "import numpy"], check=True)


def start(calc: Calc) -> None:
    """Print how long the first answer takes."""
    line("first answer of a new worker", seconds(first_answer), "NumPy", seconds(numpy_started))
    calc.new()
    first = seconds(lambda: calc.formula("A1", "=BOARD_FEET(1;6;8)"), 1)
    second = seconds(lambda: calc.formula("A2", "=BOARD_FEET(1;6;9)"))
    line("first answer in Calc itself", first, "the next", second)


def sample(calc: Calc, folder: Path) -> None:
    """Print how long the sample takes to open and to recalculate."""
    values = folder / "values.xlsx"
    load_workbook(SAMPLE, data_only=True).save(values)
    line(
        "sample opened in Calc",
        seconds(lambda: calc.open(SAMPLE)),
        "its values alone",
        seconds(lambda: calc.open(values)),
    )
    calc.open(SAMPLE)
    whole = seconds(calc.calculate)
    formulas = sum(
        cell.formula != "" for sheet in calc.sheets() for cell in calc.read(sheet).values()
    )
    calc.new()
    calc.fill("A1", [[f"=ROUND(SQRT({row})*7;2)+{row}"] for row in range(formulas)])
    own = f"{formulas:,} formulas of Calc's own"
    line("sample recalculated whole", whole, own, seconds(calc.calculate))


def template(folder: Path) -> None:
    """Print how long a new workbook takes."""
    workbook = build()
    cells = sum(len(sheet._cells) for sheet in workbook)
    target = folder / "written.xlsx"

    def written() -> None:
        plain = Workbook()
        sheet = plain.active
        for row in range(cells // 20):
            sheet.append([row] * 20)
        plain.save(target)

    other = f"{cells:,} cells by openpyxl"
    own = seconds(written, 1)
    line("template built, without values", seconds(build), other, own)
    line("the same, computed and saved",
         seconds(lambda: save(build(), target, now=datetime.now(), force=True), 1),
         other, own)  # fmt: skip


def growth(calc: Calc) -> None:
    """Print the recalculation of plain sheets of boards."""
    random = np.random.default_rng(3)
    for boards in BOARDS:
        columns = [
            ["white oak"] * boards,
            random.choice([1.0, 1.25, 2.0], boards).tolist(),
            random.uniform(4, 16, boards).round(2).tolist(),
            random.uniform(4, 16, boards).round(1).tolist(),
            random.uniform(4, 12, boards).round(2).tolist(),
        ]
        took = []
        for formulas in (OURS, OWN):
            calc.new()
            calc.fill("A1", list(zip(*columns, strict=True)))
            calc.fill("F1", [[formula.format(row=1) for formula in formulas]])
            calc.fill_down(f"F1:I{boards}")
            took.append(seconds(calc.calculate))
        line(f"{boards:,} boards, {4 * boards:,} formulas", took[0], "own", took[1])


def main() -> None:
    """Print the table."""
    print(f"{os.cpu_count()} processors, {platform.machine()}, Python {platform.python_version()}")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with running(folder / "calc", by_worker=False) as calc:
            start(calc)
            sample(calc, folder)
            growth(calc)
        template(folder)


if __name__ == "__main__":
    main()
