"""Rows of numbers as they go through the pipe."""

from __future__ import annotations

import json
import math
from io import BytesIO
from typing import Any

import pytest

from lumbercalc.hosts.calc import packing
from lumbercalc.hosts.calc.packing import OutOfStepError, packed, receive, send, unpacked
from lumbercalc.hosts.calc.reply import reply

MANY = [(1.5, -0.0), (math.inf, 1e308)] * 10


def through_a_pipe(message: dict[str, Any]) -> dict[str, Any]:
    stream = BytesIO()
    send(stream, message)
    stream.seek(0)
    back = receive(stream)
    assert not stream.read()
    return back


@pytest.mark.parametrize(
    ("rows", "short"),
    [
        (MANY, True),
        (tuple(MANY), True),
        ([list(row) for row in MANY], True),
        (MANY[:5], False),
        ([*MANY, ("8/4", 1.0)], False),
        ([*MANY, (None, 1.0)], False),
        ([*MANY, (True, 1.0)], False),
        ([*MANY, (1.0,)], False),
        ([*MANY, 1.0], False),
        ([()] * 20, False),
        ("a text of more than twenty letters", False),
        (7.0, False),
    ],
)
def test_rows_of_numbers_alone_are_packed_and_come_back(rows: Any, short: bool) -> None:
    sent = packed(rows)
    assert isinstance(sent, dict) is short
    assert unpacked(sent) == (MANY if short else rows)
    came = through_a_pipe({"rows": sent})["rows"]
    assert unpacked(came) == (MANY if short else json.loads(json.dumps(rows)))


def test_a_refused_row_is_packed_too() -> None:
    back = unpacked(packed([(math.nan,), (1.0,)] * 10))
    assert math.isnan(back[0][0])
    assert back[1] == (1.0,)


def test_every_column_gets_its_own_bytes() -> None:
    columns = [packed([(float(n + 100 * place),) for n in range(30)]) for place in range(3)]
    message = {"name": "BOARD_FEET", "arguments": [columns[0], "a", columns[1], columns[2]]}
    assert through_a_pipe(message) == message


def test_messages_follow_one_another() -> None:
    stream = BytesIO()
    messages = [{"rows": packed(MANY)}, {"error": "why"}, {"rows": packed(MANY[::-1])}]
    for message in messages:
        send(stream, message)
    stream.seek(0)
    assert [receive(stream) for _ in messages] == messages
    with pytest.raises(EOFError):
        receive(stream)


def test_rows_that_the_reader_would_refuse_are_not_packed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(packing, "MOST", 8 * 40)
    most = [(float(width),) for width in range(1, 41)]
    for widths in (most, [*most, (41.0,)]):
        sent = packed(widths)
        answer = reply("BOARD_FEET", [1.0, sent, 12.0])["rows"]  # 1 in x w in x 12 ft / 12 = w bf
        for rows in (sent, answer):
            came = through_a_pipe({"rows": rows})["rows"]
            assert isinstance(came, dict) is (widths is most)
            assert list(map(tuple, unpacked(came))) == widths


@pytest.mark.parametrize("line", [b"garbage", b"\xff\xfe", b"[]", b"7", b"[" * 100_000])
def test_what_is_no_message_is_refused_and_the_next_is_read(line: bytes) -> None:
    stream = BytesIO(line + b'\n{"error": "why"}\n')
    with pytest.raises(ValueError):  # noqa: PT011 - of json
        receive(stream)
    assert receive(stream) == {"error": "why"}


@pytest.mark.parametrize(
    "line",
    [
        b'{"rows": {}}',
        b'{"rows": {"doubles": 8}}',
        b'{"rows": {"doubles": 8, "columns": 2}}',
        b'{"rows": {"doubles": 8, "columns": 0}}',
        b'{"rows": {"doubles": 8, "columns": -1}}',
        b'{"rows": {"doubles": 8, "columns": "1"}}',
        b'{"rows": {"doubles": 8, "columns": 1.0}}',
        b'{"rows": {"doubles": 3, "columns": 1}}',
        b'{"rows": {"doubles": 12, "columns": 1}}',
        b'{"rows": {"doubles": 0, "columns": 1}}',
        b'{"rows": {"doubles": -8, "columns": 1}}',
        b'{"rows": {"doubles": 8e9, "columns": 1}}',
        b'{"rows": {"doubles": 8000000000, "columns": 1}}',
        b'{"rows": {"doubles": "8", "columns": 1}}',
        b'{"arguments": [{"doubles": null, "columns": 1}]}',
    ],
)
def test_a_line_that_hides_where_the_next_one_begins_is_no_message(line: bytes) -> None:
    with pytest.raises(OutOfStepError, match="bytes are no rows of"):
        receive(BytesIO(line + b"\n" + b"8 bytes.." * 100))


def test_a_pipe_that_ends_within_the_bytes_has_ended() -> None:
    with pytest.raises(EOFError):
        receive(BytesIO(b'{"rows": {"doubles": 80, "columns": 1}}\n1234'))
