"""The worker: answers the calls that Calc's add-in sends down the pipe, one JSON line each.

Started by the add-in as ``python -m lumbercalc.hosts.calc.worker``; ends when its input ends.
"""

from __future__ import annotations

import json
import os
import sys
from typing import Any, BinaryIO

import numpy as np

from lumbercalc.hosts.calc.packing import doubles, packed
from lumbercalc.hosts.calc.reply import reply
from lumbercalc.hosts.calc.waiting import stay_awake


def answer(line: bytes) -> dict[str, Any]:
    """Answer one request; never raises.

    Parameters
    ----------
    line : bytes
        JSON: the function's name and its arguments, plain cells or rows of cells.

    Returns
    -------
    dict
        Rows of plain cells under "rows", packed, or the reason in words under "error".

    Examples
    --------
    >>> answer(b'{"name": "THICKNESS_IN", "arguments": ["8/4"]}')
    {'rows': [[2.0]]}
    >>> answer(b'{"name": "eval", "arguments": []}')
    {'error': "this lumbercalc has no function 'eval'"}
    """
    try:
        request = json.loads(line)
        name, arguments = request["name"], request["arguments"]
    except (ValueError, TypeError, KeyError):
        return {"error": "the request is not readable"}
    if not isinstance(name, str):
        return {"error": f"this lumbercalc has no function {name!r}"}
    if not isinstance(arguments, list):
        return {"error": f"the arguments of {name} are not a list"}
    try:
        given = [_given(cells) for cells in arguments]
    except (ValueError, TypeError, KeyError):
        return {"error": f"the arguments of {name} are not readable"}
    answered = reply(name, given)
    return {key: packed(value) for key, value in answered.items()}


def _given(cells: Any) -> Any:
    """Take an argument as it was sent: packed rows of numbers stay an array."""
    if not isinstance(cells, dict):
        return cells
    numbers, width = doubles(cells)
    return np.asarray(numbers).reshape(-1, width)


def _next_line(requests: BinaryIO) -> bytes:
    stay_awake(requests)
    return requests.readline()


def serve(requests: BinaryIO, replies: BinaryIO) -> None:
    """Greet, then answer every line until there are no more.

    Parameters
    ----------
    requests : binary file
        One request a line.
    replies : binary file
        One reply a line.
    """
    replies.write(b'{"ready": true}\n')
    replies.flush()
    while line := _next_line(requests):
        replies.write(json.dumps(answer(line)).encode("ascii") + b"\n")
        replies.flush()


def main() -> None:
    """Keep the pipe for the protocol: whatever else prints goes to standard error."""
    requests = os.fdopen(os.dup(sys.stdin.fileno()), "rb")
    replies = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, sys.stdin.fileno())
    os.close(nothing)
    try:
        serve(requests, replies)
    except BrokenPipeError:  # Calc is gone, and nobody waits for the answer
        os._exit(0)


if __name__ == "__main__":
    main()
