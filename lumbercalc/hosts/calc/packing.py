"""How rows of numbers are handed over: as their bytes, where each would be written out by JSON.

Runs inside Calc, on Calc's Python: standard library only, Python 3.8 and later.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import chain
from struct import iter_unpack, pack
from typing import IO, Any

FEW = 20
"""Rows: fewer are as quick to hand over as they are."""

MOST = 2**30
"""Bytes of packed rows: a hundred columns as long as a sheet."""


class OutOfStepError(Exception):
    """A line does not say which bytes follow it, so nobody knows where the next line begins."""


def packed(cells: Any) -> Any:
    """Make rows of numbers quick to hand over.

    Parameters
    ----------
    cells : object
        One cell, or rows of cells.

    Returns
    -------
    object
        The bytes and the number of columns, for many rows of numbers only, and no more of them
        than `receive` takes; else the cells themselves.

    Examples
    --------
    >>> len(packed([[8.0]] * 3000)["doubles"])
    24000
    >>> packed([["8/4"]])
    [['8/4']]
    """
    if not isinstance(cells, (list, tuple)) or len(cells) < FEW:
        return cells
    try:
        numbers, columns = [cell for (cell,) in cells], 1  # refuses rows that are longer
    except (TypeError, ValueError):
        if not set(map(type, cells)) <= {list, tuple} or len(set(map(len, cells))) != 1:
            return cells
        numbers, columns = list(chain.from_iterable(cells)), len(cells[0])
    if set(map(type, numbers)) != {float} or not may_pack(len(numbers)):
        return cells
    return {"doubles": pack(f"{len(numbers)}d", *numbers), "columns": columns}


def may_pack(numbers: int) -> bool:
    """Whether so many numbers are few enough to go as their bytes.

    Parameters
    ----------
    numbers : int
        In all rows together.

    Returns
    -------
    bool
        Whether `receive` takes them.

    Examples
    --------
    >>> may_pack(100 * 1_048_576), may_pack(1_000 * 1_048_576)
    (True, False)
    """
    return 0 < 8 * numbers <= MOST


def unpacked(cells: Any) -> Any:
    """Give back what was packed.

    Parameters
    ----------
    cells : object
        From `packed`.

    Returns
    -------
    object
        One cell, or rows of cells.

    Examples
    --------
    >>> unpacked(packed([[8.0]] * 3000))[0]
    (8.0,)
    """
    if not isinstance(cells, dict):
        return cells
    return list(iter_unpack(f"{cells['columns']}d", cells["doubles"]))


def send(stream: IO[bytes], message: Mapping[str, Any]) -> None:
    """Write a message: a line of JSON, then the bytes of what is packed in it.

    Parameters
    ----------
    stream : binary file
        To write to.
    message : mapping
        Plain values; cells, perhaps packed, as "rows" or in the list of "arguments".
    """
    parts = _packed_parts(message)
    line = json.dumps(message, default=len) if parts else json.dumps(message)
    stream.write(b"".join([line.encode("ascii"), b"\n", *(part["doubles"] for part in parts)]))
    stream.flush()


def receive(stream: IO[bytes]) -> dict[str, Any]:
    """Read a message that `send` wrote.

    Parameters
    ----------
    stream : binary file
        To read from.

    Returns
    -------
    dict
        The message.

    Raises
    ------
    EOFError
        When the stream ends.
    ValueError
        When the line is no message; the next one can be read.
    OutOfStepError
        When the line is one, and what it says of the bytes behind it cannot be; nothing more can
        be read.

    Examples
    --------
    >>> from io import BytesIO
    >>> stream = BytesIO()
    >>> send(stream, {"rows": packed([[8.0]] * 3000)})
    >>> stream.getvalue()[:42]
    b'{"rows": {"doubles": 24000, "columns": 1}}'
    >>> _ = stream.seek(0)
    >>> receive(stream) == {"rows": packed([[8.0]] * 3000)}
    True
    """
    line = stream.readline()
    if not line:
        raise EOFError
    try:
        message = json.loads(line)
    except RecursionError:
        raise ValueError("the line is nested too deeply") from None
    if not isinstance(message, dict):
        raise ValueError("the line is no message")
    for part in _packed_parts(message):
        part["doubles"] = _read(stream, part.get("doubles"), part.get("columns"))
    return message


def _packed_parts(message: Mapping[str, Any]) -> list[dict[str, Any]]:
    arguments = message.get("arguments")
    cells = [message.get("rows"), *(arguments if isinstance(arguments, list) else ())]
    return [part for part in cells if isinstance(part, dict)]


def _read(stream: IO[bytes], length: Any, columns: Any) -> bytes:
    numbers, rest = divmod(length, 8) if type(length) is int else (0, 0)
    if (
        type(columns) is not int
        or columns < 1
        or rest
        or not may_pack(numbers)
        or numbers % columns
    ):
        raise OutOfStepError(f"{length!r} bytes are no rows of {columns!r} numbers")
    doubles = stream.read(length)
    if len(doubles) < length:
        raise EOFError
    return doubles
