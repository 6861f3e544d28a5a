"""The worker: what a request line gets for an answer, and what may stand on the pipe."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
import tempfile
from typing import Any

import pytest

from lumbercalc.hosts.calc import reply, worker
from lumbercalc.hosts.calc.packing import receive
from lumbercalc.hosts.calc.way import package_environment

GOOD = b'{"name": "THICKNESS_IN", "arguments": ["8/4"]}\n'


def ask(name: str, *arguments: object) -> object:
    return worker.answer({"name": name, "arguments": list(arguments)})


def served(requests: bytes) -> list[dict[str, Any]]:
    """Give the worker's messages for what is sent to it."""
    replies = io.BytesIO()
    with tempfile.TemporaryFile() as pipe:  # looked into as a pipe is
        pipe.write(requests)
        pipe.seek(0)
        worker.serve(pipe, replies)
    replies.seek(0)
    messages = []
    with contextlib.suppress(EOFError):
        while True:
            messages.append(receive(replies))
    return messages


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (b"garbage", "not readable"),
        (b"\xff\xfe", "not readable"),
        (b"[]", "not readable"),
        (b"7", "not readable"),
        (b"[" * 100_000, "not readable"),
        (b"{}", "not readable"),
        (b'{"name": "EMC"}', "not readable"),
        (b'{"name": 7, "arguments": []}', "no function 7"),
        (b'{"name": ["EMC"], "arguments": []}', "no function"),
        (b'{"name": "emc", "arguments": [70, 45]}', "no function 'emc'"),
        (b'{"name": "__import__", "arguments": ["os"]}', "no function '__import__'"),
        (b'{"name": "EMC", "arguments": 70}', "not a list"),
    ],
)
def test_a_bad_line_is_refused_in_words(line: bytes, words: str) -> None:
    ready, reply, good = served(line + b"\n" + GOOD)
    assert ready == {"ready": True}
    assert list(reply) == ["error"]
    assert words in reply["error"]
    assert good == {"rows": [[2.0]]}


def test_the_worker_ends_when_the_pipe_ends_within_a_message() -> None:
    cut_off = b'{"name": "EMC", "arguments": [{"doubles": 80, "columns": 1}]}\n12345678'
    assert served(GOOD + cut_off) == [{"ready": True}, {"rows": [[2.0]]}]


def test_the_worker_ends_when_it_cannot_know_where_the_next_message_begins() -> None:
    bad = b'{"name": "EMC", "arguments": [{"doubles": 16, "columns": 3}]}\n' + b"\n" * 16
    ended = run("from lumbercalc.hosts.calc import worker; worker.main()", GOOD + bad + GOOD)
    lines = [json.loads(line) for line in ended.stdout.splitlines()]
    assert lines == [{"ready": True}, {"rows": [[2.0]]}]
    assert ended.returncode == 1
    assert ended.stderr == b"a request was not readable: 16 bytes are no rows of 3 numbers\n"


def test_a_failure_inside_a_call_is_an_answer_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(name: str, arguments: object) -> object:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(reply, "call", broken)
    assert ask("EMC", 70, 45) == {"error": "EMC failed: ZeroDivisionError: division by zero"}


def test_a_truth_value_leaves_as_a_number() -> None:
    reply = ask("MATCHES_DRY_SAMPLE", [[8.0], [11.0]], 7.5)
    assert json.dumps(reply) == '{"rows": [[1.0], [0.0]]}'


def test_a_blank_leaves_as_empty_text() -> None:
    assert ask("BOARD_FEET", "8/4", [[6.0], [""]], 8.0) == {"rows": [[8.0], [""]]}


def run(script: str, requests: bytes) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", script],
        input=requests,
        capture_output=True,
        env={**os.environ, **package_environment()},
        timeout=60,
        check=False,
    )


def test_stray_prints_stay_off_the_pipe() -> None:
    noisy = """
import os, subprocess
from lumbercalc.hosts.calc import reply, worker
quiet = reply.call
def loud(name, arguments):
    print("printed")
    os.write(1, b"written")
    subprocess.run(["echo", "from a child"])
    try:
        input()
    except EOFError:
        pass
    return quiet(name, arguments)
reply.call = loud
worker.main()
"""
    ended = run(noisy, GOOD * 3)
    lines = [json.loads(line) for line in ended.stdout.splitlines()]
    assert lines == [{"ready": True}, *([{"rows": [[2.0]]}] * 3)]
    assert b"printed" in ended.stderr
    assert b"written" in ended.stderr
    assert b"from a child" in ended.stderr


def test_the_worker_ends_with_its_input() -> None:
    ended = run("from lumbercalc.hosts.calc import worker; worker.main()", b"")
    assert ended.returncode == 0
    assert ended.stdout == b'{"ready": true}\n'
    assert ended.stderr == b""
