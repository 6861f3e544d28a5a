"""Waiting at the pipe without falling asleep at once.

A processor that has fallen asleep needs longer to wake up than most calls take to answer: a sheet
of cells calls in quick succession, so each end looks for a moment before it waits.

Runs inside Calc, on Calc's Python: standard library only, Python 3.8 and later.
"""

from __future__ import annotations

import select
from time import perf_counter
from typing import IO

MOMENT = 0.0003
"""Seconds; a call of one cell takes a tenth of it."""


def stay_awake(pipe: IO[bytes]) -> None:
    """Come back when there is something to read, or after a moment.

    Parameters
    ----------
    pipe : binary file
        From which is read next, with nothing of it read ahead.

    Notes
    -----
    Windows has no such look into a pipe; there it comes back at once.
    """
    if not hasattr(select, "poll"):
        return
    look = select.poll()
    look.register(pipe)
    end = perf_counter() + MOMENT
    while not look.poll(0) and perf_counter() < end:
        pass
