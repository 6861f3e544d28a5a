"""Time a call as every benchmark does."""

from __future__ import annotations

import time
from collections.abc import Callable

REPEATS = 3


def seconds(what: Callable[[], object], repeats: int = REPEATS) -> float:
    """Shortest of a few runs [s]."""
    times = []
    for _ in range(repeats):
        begun = time.perf_counter()
        what()
        times.append(time.perf_counter() - begun)
    return min(times)
