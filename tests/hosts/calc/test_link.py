"""The add-in's end of the pipe, with the real worker and with workers that misbehave."""

from __future__ import annotations

import errno
import math
import os
import signal
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import IO, Any

import pytest

from lumbercalc.hosts.calc import link as link_module
from lumbercalc.hosts.calc.extension import worker_command
from lumbercalc.hosts.calc.link import CALC_ONLY, CallRefusedError, Link, WorkerMissingError
from lumbercalc.hosts.calc.packing import packed, receive, send
from lumbercalc.hosts.calc.way import package_environment
from tests.hosts.calc.calc_session import command_line, descendants

GREETING = "import sys; print('{\"ready\": true}', flush=True);"


@pytest.fixture
def link() -> Iterator[Link]:
    real = Link(worker_command(), package_environment())
    yield real
    real.close()


def misbehaving(script: str) -> Link:
    return Link([sys.executable, "-c", script], {})


def workers() -> set[int]:
    """Number the workers under these tests, a live Calc's among them."""
    return {pid for pid in descendants(os.getpid()) if "calc.worker" in command_line(pid)}


def test_a_call_goes_through_the_pipe_and_back(link: Link) -> None:
    # 8/4 x 6 in x 8 ft / 12 = 8 bf, by the definition of the board foot
    assert link.ask("BOARD_FEET", ["8/4", 6.0, 8.0]) == [[8.0]]


def test_a_column_has_its_bad_row_alone_refused(link: Link) -> None:
    rows = link.ask("BOARD_FEET", ["8/4", ((6.0,), (-1.0,), ("",), (12.0,)), 8.0])
    assert rows[0] == [8.0]
    assert math.isnan(rows[1][0])
    assert rows[2] == [""]
    assert rows[3] == [16.0]


def test_a_long_column_goes_through_the_pipe_and_back(link: Link) -> None:
    widths = [(float(width),) for width in range(1, 101)]  # 1 in x w in x 12 ft / 12 = w bf
    assert link.ask("BOARD_FEET", [1.0, widths, 12.0]) == packed(widths)
    assert link.ask("BOARD_FEET", [1.0, packed(widths), 12.0]) == packed(widths)


def test_text_comes_back_as_it_went(link: Link) -> None:
    assert "Küchen—Ahorn" in link.ask("PROBLEM", ["EMC", "Küchen—Ahorn", 45.0])[0][0]


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="finds the worker in /proc")
def test_a_killed_worker_is_started_again_and_gives_the_right_answer(link: Link) -> None:
    others = workers()
    for width in (6.0, 9.0):
        assert link.ask("BOARD_FEET", [1.0, width, 12.0]) == [[width]]
        (started,) = workers() - others
        os.kill(started, signal.SIGKILL)
    assert link.ask("BOARD_FEET", [1.0, 4.0, 12.0]) == [[4.0]]


def fails_once(monkeypatch: pytest.MonkeyPatch, name: str, fault: BaseException) -> None:
    """Let one use of the pipe fail: a message is not read, or half of it is sent."""
    faults = [fault]

    def read(stream: IO[bytes]) -> dict[str, Any]:
        if faults:
            raise faults.pop()
        return receive(stream)

    def sent(stream: IO[bytes], message: dict[str, Any]) -> None:
        if faults:
            stream.write(b'{"name": "BOARD_FEET", ')
            raise faults.pop()
        send(stream, message)

    monkeypatch.setattr(link_module, name, {"receive": read, "send": sent}[name])


@pytest.mark.parametrize("name", ["receive", "send"])
@pytest.mark.parametrize("fault", [MemoryError(), KeyboardInterrupt()], ids=repr)
def test_after_a_call_that_failed_the_next_gets_its_own_answer(
    link: Link, monkeypatch: pytest.MonkeyPatch, name: str, fault: BaseException
) -> None:
    assert link.ask("BOARD_FEET", [1.0, 6.0, 12.0]) == [[6.0]]
    fails_once(monkeypatch, name, fault)
    with pytest.raises(type(fault)):
        link.ask("BOARD_FEET", [1.0, 7.0, 12.0])
    assert link.ask("BOARD_FEET", [1.0, 9.0, 12.0]) == [[9.0]]


def test_an_answer_that_cannot_be_read_is_asked_for_again(
    link: Link, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert link.ask("BOARD_FEET", [1.0, 6.0, 12.0]) == [[6.0]]
    fails_once(monkeypatch, "receive", OSError(errno.EIO, "Input/output error"))
    assert link.ask("BOARD_FEET", [1.0, 7.0, 12.0]) == [[7.0]]
    assert link.ask("BOARD_FEET", [1.0, 9.0, 12.0]) == [[9.0]]


def test_a_request_that_the_worker_cannot_read_is_told_and_the_next_is_answered(
    link: Link,
) -> None:
    newlines = {"doubles": b"\n" * 1000, "columns": 7}  # no rows of seven
    with pytest.raises(WorkerMissingError, match=r"1000 bytes are no rows of 7 numbers"):
        link.ask("BOARD_FEET", [1.0, newlines, 12.0])
    assert link.ask("BOARD_FEET", [1.0, 9.0, 12.0]) == [[9.0]]


def test_calls_from_several_threads_get_their_own_answers(link: Link) -> None:
    widths = [float(width) for width in range(1, 101)]
    with ThreadPoolExecutor(8) as threads:
        answers = threads.map(lambda width: link.ask("BOARD_FEET", [1.0, width, 12.0]), widths)
        assert [rows[0][0] for rows in answers] == widths


def test_a_name_outside_the_catalogue_is_refused(link: Link) -> None:
    with pytest.raises(CallRefusedError, match=r"no function 'os\.system'"):
        link.ask("os.system", ["true"])
    assert link.ask("THICKNESS_IN", ["4/4"]) == [[1.0]]


def test_variables_of_calcs_own_python_do_not_reach_the_worker(
    link: Link, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("PYTHONHOME", "PYTHONPATH", "LD_LIBRARY_PATH"):
        monkeypatch.setenv(name, "/nowhere")
    assert link.ask("THICKNESS_IN", ["4/4"]) == [[1.0]]


def test_a_worker_loads_its_own_libraries(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in CALC_ONLY:
        monkeypatch.setenv(name, "/nowhere")
    telling = misbehaving(
        GREETING + "import json, os; sys.stdin.readline();"
        f"print(json.dumps({{'rows': [[n for n in {CALC_ONLY!r} if n in os.environ]]}}),"
        "flush=True); sys.stdin.readline()"
    )
    assert telling.ask("EMC", [70.0, 45.0]) == [[]]
    telling.close()


def test_the_folder_that_calc_was_started_in_does_not_matter(
    link: Link, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "numpy.py").write_text("raise SystemExit('the wrong file')")
    monkeypatch.chdir(tmp_path)
    assert link.ask("THICKNESS_IN", ["4/4"]) == [[1.0]]


@pytest.mark.parametrize(
    "script",
    [
        GREETING + "sys.stdin.readline(); print('hello', flush=True)",
        GREETING + "sys.stdin.readline(); print('[1]', flush=True)",
        GREETING + "sys.stdin.readline(); print('{\"rows\": 7}', flush=True)",
        GREETING + 'sys.stdin.readline(); print(\'{"rows": {"doubles": "AAA"}}\', flush=True)',
        GREETING + "sys.stdin.readline(); print('[' * 100_000, flush=True)",
        GREETING + "sys.stdin.readline(); sys.exit('out of memory')",
    ],
    ids=["no JSON", "no object", "no rows", "bad bytes", "too deep", "ends"],
)
def test_two_bad_answers_to_one_call_are_an_error_in_words(script: str) -> None:
    link = misbehaving(script)
    with pytest.raises(WorkerMissingError, match="ended without an answer"):
        link.ask("EMC", [70.0, 45.0])
    link.close()


def test_a_worker_that_fails_once_is_asked_again(tmp_path: Path) -> None:
    tried = tmp_path / "tried"
    link = misbehaving(
        GREETING + f"import pathlib; tried = pathlib.Path({str(tried)!r});"
        "sys.stdin.readline();"
        "line = '{\"rows\": [[7.0]]}' if tried.exists() else 'garbage';"
        "tried.touch(); print(line, flush=True); sys.stdin.readline()"
    )
    assert link.ask("EMC", [70.0, 45.0]) == [[7.0]]
    link.close()


@pytest.mark.parametrize(
    ("command", "words"),
    [
        (["/nowhere/bin/python"], "/nowhere/bin/python .*lumbercalc addin calc"),
        ([sys.executable, "-m", "no_such_package"], "No module named.*lumbercalc addin calc"),
        ([sys.executable, "-c", "print('hello')"], "not readable.*lumbercalc addin calc"),
    ],
    ids=["no interpreter", "no package", "not a worker"],
)
def test_a_worker_that_cannot_start_says_what_mends_it(command: list[str], words: str) -> None:
    with pytest.raises(WorkerMissingError, match=words):
        Link(command, {}).ask("EMC", [70.0, 45.0])


def test_no_room_for_a_temporary_file_is_said_and_is_no_error_of_another_kind(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def full() -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(tempfile, "TemporaryFile", full)
    with pytest.raises(WorkerMissingError, match=r"No space left on device.*make some"):
        Link([sys.executable, "-c", "0"], {}).ask("EMC", [70.0, 45.0])


def test_a_sheet_full_of_cells_does_not_wait_for_each_failed_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    starts = tmp_path / "starts"
    link = misbehaving(f"open({str(starts)!r}, 'a').write('x')")
    for _ in range(20):
        with pytest.raises(WorkerMissingError):
            link.ask("EMC", [70.0, 45.0])
    assert starts.read_text() == "x"
    monkeypatch.setattr(link_module, "RETRY_AFTER", 0.0)
    with pytest.raises(WorkerMissingError):
        link.ask("EMC", [70.0, 45.0])
    assert starts.read_text() == "xx"
