"""Time the boards and sales of a large shop in live Calc; `python -m tests.benchmarks.bench_sales`.

A shop of 500, 1,000, 2,000 and 5,000 boards with a sale for every ten boards, four lines each: all
of it recalculated at once, and after one more line was typed. What is timed are the sheets Boards,
Sales, Sales lines, Sale, Matched set, Summary and Sold in the template, with the rest of it empty.
"""

from __future__ import annotations

import csv
import platform
import random
import tempfile
import time
from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.records import fill
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.template import build
from tests.benchmarks.bench_calc import running
from tests.hosts.calc.calc_session import Calc

SIZES = (500, 1_000, 2_000, 5_000)
LINES_OF_A_SALE = 4
REPEATS = 3
SORTS = [
    (species, quarters, grade)
    for species in ("Oak, white", "Cherry, black", "Walnut, black", "Ash, white")
    for quarters in ("4/4", "8/4")
    for grade in ("FAS", "1 Common", "2 Common")
]
FIRST_DAY = date(2024, 1, 6)
AS_OF = date(2026, 11, 20)


def write(path: Path, table: Table, rows: Iterable[dict[str, Any]]) -> None:
    with path.open("w", newline="", encoding="utf-8") as file:
        out = csv.DictWriter(file, table.input_keys, restval="")
        out.writeheader()
        out.writerows(rows)


def records(folder: Path, boards: int) -> None:
    """Write the records of a shop of so many boards."""
    chance = random.Random(boards)
    rows: list[dict[str, Any]] = []
    for n in range(boards):
        species, quarters, grade = chance.choice(SORTS)
        sizes = {"width": chance.randint(20, 50) / 4, "length": chance.randint(12, 24) / 2}
        log = {"log": f"L{n // 25}", "cut": n % 25 + 1, "insects": "none", "stack": f"S{n % 20}"}
        sort = {"species": species, "quarters": quarters, "grade": grade}
        rows.append({"tag": f"B-{n}"} | sizes | log | sort)
    write(folder / "boards.csv", BOARDS, rows)
    sales, lines = [], []
    free = chance.sample(range(boards), boards // 10 * LINES_OF_A_SALE)
    for n in range(boards // 10):
        day = FIRST_DAY + timedelta(days=2 * n)
        sales.append(
            {"number": f"N-{n}", "buyer": "a", "invoiced": day, "tax_rate": 6, "shrink": 7}
        )
        lines += [
            {"sale": f"N-{n}", "tag": f"B-{free.pop()}", "price": chance.randint(300, 1500) / 100}
            for _ in range(LINES_OF_A_SALE)
        ]
    write(folder / "sales.csv", SALES, sales)
    write(folder / "sales_lines.csv", LINES, lines)
    (folder / "shop.csv").write_text(f"name,value\nas_of,{AS_OF}\n", encoding="utf-8")
    prices = [
        f'"{species}",{quarters},{grade},{5 + n / 2}'
        for n, (species, quarters, grade) in enumerate(SORTS)
    ]
    table = "\n".join(["species,quarters,grade,price", *prices])
    (folder / "prices.csv").write_text(table, encoding="utf-8")


def saved(folder: Path, boards: int) -> Path:
    """Save the template of a shop of so many boards, without values, in a folder that is made."""
    folder.mkdir()
    records(folder, boards)
    workbook = build()
    fill(workbook, folder)
    path = folder / "shop.xlsx"
    workbook.save(path)
    return path


def timed(calc: Calc, boards: int, folder: Path) -> tuple[float, float]:
    """Give the seconds of everything at once, and of one more line."""
    calc.open(saved(folder, boards))
    calc.calculate()
    whole = min(calc.calculate() for _ in range(REPEATS))
    row = FIRST_ROW + boards // 10 * LINES_OF_A_SALE
    tag, price = LINES.letter("tag"), LINES.letter("price")
    calc.fill(f"{LINES.letter('sale')}{row}", [["N-0"]], LINES.sheet)
    calc.fill(f"{price}{row}", [[5.0]], LINES.sheet)
    once = []
    for n in range(REPEATS):
        started = time.perf_counter()
        calc.fill(f"{tag}{row}", [[f"B-{n}"]], LINES.sheet)
        calc.shown(f"{BOARDS.letter('status')}{FIRST_ROW + n}", BOARDS.sheet)
        once.append(time.perf_counter() - started)
    return whole, min(once)


def main() -> None:
    """Print the seconds for each size."""
    print(f"Python {platform.python_version()}, {platform.machine()}, boards with a tenth as sales")
    print(f"{'boards':>8}{'sales':>8}{'lines':>8}{'all at once, s':>16}{'one line more, s':>18}")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for boards in SIZES:
            # a Calc of its own, as a shop has: in one that held other workbooks the last took a
            # quarter longer
            with running(folder / f"calc {boards}", by_worker=False) as calc:
                whole, once = timed(calc, boards, folder / str(boards))
            sales = boards // 10
            counts = f"{boards:8,}{sales:8,}{sales * LINES_OF_A_SALE:8,}"
            print(f"{counts}{whole:16.2f}{once:18.2f}", flush=True)


if __name__ == "__main__":
    main()
