"""Time a data logger's file of 100,000 rows; run as `python tests/benchmarks/bench_climate_log.py`.

A reading every five minutes for most of a year, in files of several kinds: read, averaged by month
and by week.
"""

from __future__ import annotations

import platform
import tempfile
import time
from pathlib import Path

import numpy as np
import pandas as pd

from lumbercalc.book.logger.log import read_log
from lumbercalc.book.logger.means import monthly, weekly

ROWS = 100_000
KINDS = {
    "ISO, comma": ("%Y-%m-%d %H:%M:%S", ",", "."),
    "month/day, AM, comma": ("%m/%d/%Y %I:%M:%S %p", ",", "."),
    "day.month.year, semicolon, decimal comma": ("%d.%m.%Y %H:%M", ";", ","),
}
"""Form of the times, delimiter, decimal mark."""


def write(path: Path, form: str, delimiter: str, mark: str) -> None:
    """Write an invented log."""
    random = np.random.default_rng(3)
    times = pd.date_range("2025-01-01", periods=ROWS, freq="5min")
    hour = times.hour.to_numpy()
    season = np.sin(2 * np.pi * (times.day_of_year.to_numpy() - 105) / 365)
    temps = 52 + 22 * season + 8 * np.sin(2 * np.pi * (hour - 9) / 24) + random.normal(0, 2, ROWS)
    rhs = 70 - 15 * np.sin(2 * np.pi * (hour - 9) / 24) + random.normal(0, 3, ROWS)
    pd.DataFrame(
        {"Time": times.strftime(form), "Temp (F)": temps.round(1), "RH (%)": rhs.round(1)}
    ).to_csv(path, index=False, sep=delimiter, decimal=mark)


def main() -> None:
    print(f"Python {platform.python_version()}, pandas {pd.__version__}, {ROWS:,} rows")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        for kind, (form, delimiter, mark) in KINDS.items():
            write(path, form, delimiter, mark)
            started = time.perf_counter()
            log = read_log(path)
            read = time.perf_counter()
            monthly(log.air)
            weekly(log.air)
            done = time.perf_counter()
            print(f"{kind:42} read {read - started:.2f} s, averaged {done - read:.2f} s")


if __name__ == "__main__":
    main()
