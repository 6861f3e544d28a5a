"""Waiting at the pipe: it ends with what comes, with the pipe's end, and soon by itself."""

from __future__ import annotations

import os
import select
from collections.abc import Callable
from time import perf_counter

import pytest

from lumbercalc.hosts.calc import waiting

LONG = 5.0


@pytest.mark.skipif(not hasattr(select, "poll"), reason="Windows has no look into a pipe")
@pytest.mark.parametrize(
    "come", [lambda end: os.write(end, b"x\n"), os.close], ids=["a line", "the end"]
)
def test_it_ends_with_what_comes(
    monkeypatch: pytest.MonkeyPatch, come: Callable[[int], object]
) -> None:
    monkeypatch.setattr(waiting, "MOMENT", LONG)
    read, write = os.pipe()
    with os.fdopen(read, "rb") as pipe:
        come(write)
        begun = perf_counter()
        waiting.stay_awake(pipe)
        assert perf_counter() - begun < LONG / 2


def test_it_ends_by_itself_and_takes_nothing() -> None:
    read, write = os.pipe()
    with os.fdopen(read, "rb") as pipe:
        begun = perf_counter()
        waiting.stay_awake(pipe)
        assert perf_counter() - begun < LONG
        os.write(write, b"x\n")
        waiting.stay_awake(pipe)
        assert pipe.readline() == b"x\n"
    os.close(write)


def test_where_there_is_no_look_it_does_not_wait(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(select, "poll", raising=False)
    monkeypatch.setattr(waiting, "MOMENT", LONG)
    read, write = os.pipe()
    with os.fdopen(read, "rb") as pipe:
        begun = perf_counter()
        waiting.stay_awake(pipe)
        assert perf_counter() - begun < LONG / 2
    os.close(write)
