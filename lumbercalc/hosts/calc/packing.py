"""How rows of numbers go through the pipe: as their bytes, where JSON would write out each.

Runs inside Calc, on Calc's Python: standard library only, Python 3.8 and later.
"""

from __future__ import annotations

from array import array
from base64 import b64decode, b64encode
from collections.abc import Mapping
from itertools import chain
from typing import Any

FEW = 20
"""Rows: fewer are as quick to send as they are."""


def packed(cells: Any) -> Any:
    """Make rows of numbers quick to send.

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
    32000
    >>> packed([["8/4"]])
    [['8/4']]
    """
    if not isinstance(cells, (list, tuple)) or len(cells) < FEW:
        return cells
    if not set(map(type, cells)) <= {list, tuple}:
        return cells
    widths = set(map(len, cells))
    numbers = list(chain.from_iterable(cells))
    if len(widths) != 1 or set(map(type, numbers)) != {float}:
        return cells
    text = b64encode(array("d", numbers).tobytes()).decode("ascii")
    return {"doubles": text, "columns": widths.pop()}


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

    Raises
    ------
    ValueError, TypeError, KeyError
        When it is not from there.

    Examples
    --------
    >>> unpacked({"doubles": "AAAAAAAAIEA=", "columns": 1})
    [(8.0,)]
    """
    if not isinstance(cells, dict):
        return cells
    numbers, width = doubles(cells)
    return list(zip(*[iter(numbers)] * width))  # noqa: B905 - for old Pythons


def doubles(sent: Mapping[str, Any]) -> tuple[array[float], int]:
    """Give the numbers that were packed, in reading order, and how many columns they fill.

    Parameters
    ----------
    sent : mapping
        From `packed`.

    Returns
    -------
    tuple of array of float and int

    Raises
    ------
    ValueError, TypeError, KeyError
        When it is not from there.

    Examples
    --------
    >>> doubles({"doubles": "AAAAAAAAIEA=", "columns": 1})
    (array('d', [8.0]), 1)
    """
    numbers = array("d", b64decode(sent["doubles"], validate=True))
    width = sent["columns"]
    if not isinstance(width, int) or width < 1 or len(numbers) % width:
        raise ValueError("the rows are not equally long")
    return numbers, width
