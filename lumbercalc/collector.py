"""Python's look for garbage, kept away from work that throws hardly anything away."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def without_collector() -> Iterator[None]:
    """Keep Python from looking for garbage meanwhile.

    What a workbook and the engine make by the million stays in use: to go through all of it again
    and again took a seventh of a check, and what it would have freed is a fifteenth of the memory.

    Yields
    ------
    None
        Nothing.

    Examples
    --------
    >>> with without_collector():
    ...     gc.isenabled()
    False
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
