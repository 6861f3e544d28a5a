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
"""Bytes: a hundred columns as long as a sheet."""


def packed(cells: Any) -> Any:
    """Make rows of numbers quick to hand over.

    Parameters
    ----------
    cells : object
        One cell, or rows of cells.

    Returns
    -------
    object
        The bytes and the number of columns, for many rows of numbers only; else the cells
        themselves.

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
    if set(map(type, numbers)) != {float}:
        return cells
    return {"doubles": pack(f"{len(numbers)}d", *numbers), "columns": columns}


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
    ValueError, TypeError, KeyError
        When what is there is no message.

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
    message = json.loads(line)
    if not isinstance(message, dict):
        raise ValueError("the line is no message")
    for part in _packed_parts(message):
        part["doubles"] = _read(stream, part["doubles"], part["columns"])
    return message


def _packed_parts(message: Mapping[str, Any]) -> list[dict[str, Any]]:
    arguments = message.get("arguments")
    cells = [message.get("rows"), *(arguments if isinstance(arguments, list) else ())]
    return [part for part in cells if isinstance(part, dict)]


def _read(stream: IO[bytes], length: int, columns: int) -> bytes:
    if not 0 < length <= MOST or columns < 1 or length % (8 * columns):
        raise ValueError("the rows are not equally long")
    doubles = stream.read(length)
    if len(doubles) < length:
        raise EOFError
    return doubles
