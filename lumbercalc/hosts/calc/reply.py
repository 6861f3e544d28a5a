"""What Calc gets for one call: the same for the worker and inside Calc's own process."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from lumbercalc.hosts.calc.link import MEND
from lumbercalc.hosts.calc.packing import FEW, may_pack, packed
from lumbercalc.sheet.answer import Answer
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial


def refused(reason: str) -> float:
    """Give what stands in a refused cell: Calc shows #NUM! for it, and a SUM shows it too.

    Parameters
    ----------
    reason : str
        Why it is refused; PROBLEM says it.

    Returns
    -------
    float
        Not a number.

    Examples
    --------
    >>> refused("width_in is 0")
    nan
    """
    return math.nan


def reply(name: str, arguments: Sequence[Any]) -> dict[str, Any]:
    """Answer one call; never raises.

    Parameters
    ----------
    name : str
        Name in the catalogue.
    arguments : sequence
        Plain cells, or rows of cells, perhaps packed; None for one that is left out.

    Returns
    -------
    dict
        Rows of plain cells under "rows", packed, or the reason in words under "error".

    Examples
    --------
    >>> reply("THICKNESS_IN", ["8/4"])
    {'rows': [[2.0]]}
    >>> reply("eval", [])
    {'error': "this lumbercalc has no function 'eval'"}
    """
    if name not in CATALOGUE:
        return {"error": f"this lumbercalc has no function {name!r}"}
    try:
        return {"rows": _rows(call(name, [_cells(given) for given in arguments]))}
    except ImportError as missing:  # the environment was deleted or changed under Calc
        return {"error": f"{name} failed: {missing}; {MEND}"}
    except Exception as error:  # one call that fails must not end the worker, or Calc
        return {"error": f"{name} failed: {type(error).__name__}: {error}"}


def _cells(given: Any) -> Any:
    """Make an array of packed rows; other cells are taken as they are."""
    if not isinstance(given, dict):
        return given
    return np.frombuffer(given["doubles"]).reshape(-1, given["columns"])


def _rows(answer: Answer) -> Any:
    """Pack the rows of an answer; in rows, 25.2 takes either value for TRUE, so it goes as 1."""
    cells, (rows, columns) = answer.cells, answer.shape
    many = rows >= FEW and may_pack(rows * columns)
    if many and isinstance(cells, np.ndarray) and cells.dtype.kind in "bf":
        return {"doubles": cells.astype(float, copy=False).tobytes(), "columns": columns}
    return packed(answer.rows(problem=refused, day=serial, flag=float))
