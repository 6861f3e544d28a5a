"""The worker: answers the calls that Calc's add-in sends down the pipe.

Started by the add-in as ``python -m lumbercalc.hosts.calc.worker``; ends when its input ends.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import IO, Any

from lumbercalc.hosts.calc.packing import OutOfStepError, receive, send
from lumbercalc.hosts.calc.reply import reply
from lumbercalc.hosts.calc.waiting import stay_awake

UNREADABLE = {"error": "the request is not readable"}


def answer(request: Mapping[str, Any]) -> dict[str, Any]:
    """Answer one request; never raises.

    Parameters
    ----------
    request : mapping
        The function's name and its arguments, plain cells or rows of cells.

    Returns
    -------
    dict
        Rows of plain cells under "rows", packed, or the reason in words under "error".

    Examples
    --------
    >>> answer({"name": "THICKNESS_IN", "arguments": ["8/4"]})
    {'rows': [[2.0]]}
    >>> answer({"name": "eval", "arguments": []})
    {'error': "this lumbercalc has no function 'eval'"}
    """
    if "name" not in request or "arguments" not in request:
        return UNREADABLE
    name, arguments = request["name"], request["arguments"]
    if not isinstance(name, str):
        return {"error": f"this lumbercalc has no function {name!r}"}
    if not isinstance(arguments, list):
        return {"error": f"the arguments of {name} are not a list"}
    return reply(name, arguments)


def serve(requests: IO[bytes], replies: IO[bytes]) -> None:
    """Greet, then answer every message until there are no more.

    Parameters
    ----------
    requests : binary file
        Of messages.
    replies : binary file
        A message for each.

    Raises
    ------
    OutOfStepError
        When a message does not say where the next one begins.
    """
    send(replies, {"ready": True})
    while True:
        stay_awake(requests)
        try:
            replied = answer(receive(requests))
        except EOFError:
            return
        except ValueError:
            replied = UNREADABLE
        send(replies, replied)


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
    except OutOfStepError as lost:
        # said while the pipe is open: the add-in ends a worker whose pipe is closed, reads the
        # reason, and starts another one
        print(f"a request was not readable: {lost}", file=sys.stderr, flush=True)
        sys.exit(1)


if __name__ == "__main__":
    main()
