"""Time `lumbercalc check`; run as `python -m tests.benchmarks.bench_check`.

The sample workbook, and the template of a shop with 300 and 900 boards and a tenth as many sales:
every formula computed anew and compared. Beside each stands the same file read by openpyxl, and
computed by live Calc.
"""

from __future__ import annotations

import platform
import tempfile
from pathlib import Path

from openpyxl import load_workbook

from lumbercalc.book.checking.check import check
from lumbercalc.book.invented_shop import sample_folder
from tests.benchmarks.bench_calc import running
from tests.benchmarks.bench_sales import saved
from tests.benchmarks.timing import seconds
from tests.hosts.calc.calc_session import Calc

SIZES = (300, 900)


def line(calc: Calc, what: str, path: Path) -> None:
    """Print how long one workbook takes."""
    checked = []
    ours = seconds(lambda: checked.append(check(path)), 1)
    read = seconds(lambda: load_workbook(path), 1)
    calc.open(path)
    by_calc = seconds(calc.calculate)
    print(f"{what:12}{checked[0].formulas:10,}{ours:10.1f}{read:14.1f}{by_calc:12.2f}", flush=True)


def main() -> None:
    """Print the seconds of each workbook."""
    print(f"Python {platform.python_version()}, {platform.machine()}")
    print(f"{'':12}{'formulas':>10}{'check, s':>10}{'openpyxl, s':>14}{'Calc, s':>12}")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with running(folder / "calc", by_worker=False) as calc:
            line(calc, "sample", sample_folder() / "lumber-shop-demo.xlsx")
            for boards in SIZES:
                line(calc, f"{boards} boards", saved(folder / str(boards), boards))


if __name__ == "__main__":
    main()
