"""What is not known stays so: no IFERROR answers for it, and a formula that fails has no value."""

from __future__ import annotations

import logging
from collections import OrderedDict
from collections.abc import Callable, MutableMapping
from functools import partial
from typing import Any

from formulas.cell import CellWrapper
from formulas.functions import COMPILING, XlError, get_functions, wrap_impure_func, wrap_ufunc

from lumbercalc.book.engine.otherwise import WAY
from lumbercalc.book.engine.values import (
    AS_GIVEN,
    PREFIX,
    Refusal,
    Unknown,
    each_value,
    engines_own,
    shows_nothing,
    with_each,
    wrapped,
)

NO_VALUE = "no value can be computed"
COMPUTED = CellWrapper.__call__
"""The engine's own, which lets whatever is thrown end in a traceback."""
OF_ERRORS = ("COUNT", "ERROR.TYPE", "ISNUMBER")
"""What answers for an error, of ours; and `OWN` of the engine's."""
OWN = engines_own("ISERR", "ISERROR", "ISNA", "ISTEXT", "TYPE")
_IN_CIRCLE = get_functions()["IFERROR"]["solve_cycle"]
IN_CIRCLES = {"solve_cycle": lambda compiling, *cells: _IN_CIRCLE(*cells)}
"""The engine's own, of IFERROR as of IFNA: a circle through the value is one, through the other
answer none."""


def register(table: MutableMapping[str, Any]) -> None:
    """Have the engine go on where a formula fails, and keep what is not known.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    CellWrapper.__call__ = _computed
    for name in ("formulas", "schedula"):
        logger = logging.getLogger(name)
        if not logger.handlers:
            logger.addHandler(logging.NullHandler())
    for name, function in {**OWN, **{name: table[name] for name in OF_ERRORS}}.items():
        table[name] = _not_compiled(wrapped(partial(_of_known, function)))
    table["IFERROR"] = _not_compiled(_instead(lambda value: True)) | IN_CIRCLES
    for name in ("IFNA", f"{PREFIX}IFNA"):
        table[name] = _not_compiled(_instead(lambda value: str(value) == "#N/A")) | IN_CIRCLES


def _not_compiled(function: Callable[..., Any]) -> dict[str, Any]:
    """Have a function of constants alone computed with its cell: else it is not asked again."""
    return {
        "extra_inputs": OrderedDict([(COMPILING, False)]),
        "function": wrap_impure_func(function),
    }


def _computed(cell: Any, *cells: Any, **how: Any) -> Any:
    try:
        return COMPUTED(cell, *cells, **how)
    except Exception:  # of whatever kind
        return Unknown.of(NO_VALUE)


def _of_known(function: Callable[..., Any], *arguments: Any) -> Any:
    for argument in arguments:
        for value in each_value(argument):
            if isinstance(value, Unknown):
                return value
    if WAY.is_frank:
        arguments = tuple(with_each(_not_refused, argument) for argument in arguments)
    return function(*arguments)


def _not_refused(value: Any) -> Any:
    return 0.0 if isinstance(value, Refusal) else value


def _instead(is_caught: Callable[[XlError], bool]) -> Callable[..., Any]:
    def answer(value: Any, otherwise: Any) -> Any:
        error = isinstance(value, XlError) and not isinstance(value, Unknown)
        if WAY.is_frank and isinstance(value, Refusal) and shows_nothing(otherwise):
            return value
        return otherwise if error and is_caught(value) else value

    caught: Callable[..., Any] = wrap_ufunc(
        answer, check_error=lambda *_: False, check_nan=False, **AS_GIVEN
    )
    return caught
