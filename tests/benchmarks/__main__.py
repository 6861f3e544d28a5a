"""Print every benchmark's table: `python -m tests.benchmarks`, or those that are named."""

from __future__ import annotations

import sys
from datetime import date
from importlib import import_module

BENCHMARKS = (
    "functions",
    "calc",
    "workbook",
    "plan",
    "sales",
    "check",
    "ready_date",
    "climate_log",
)


def main() -> int:
    """Run them one after the other: two at once would slow each other."""
    unknown = [name for name in sys.argv[1:] if name not in BENCHMARKS]
    if unknown:
        print(f"{unknown[0]} is no benchmark; there are {', '.join(BENCHMARKS)}")
        return 2
    print(date.today())
    for name in sys.argv[1:] or BENCHMARKS:
        print(f"\n== {name}", flush=True)
        import_module(f"tests.benchmarks.bench_{name}").main()
    return 0


if __name__ == "__main__":
    sys.exit(main())
