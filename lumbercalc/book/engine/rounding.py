"""Numbers that are nearly equal, and what is rounded down, as spreadsheets compute them.

They take the last bits of a number for a fault of its computation: 0.1+0.2 equals 0.3, and
INT(4.35*100) is 435. The engine computes with all bits.
"""

from __future__ import annotations

import math
from collections.abc import Callable, MutableMapping
from functools import partial
from typing import Any

from formulas.functions import Error
from formulas.functions.operators import LOGIC_OPERATORS, OPERATORS, logic_input_parser

from lumbercalc.book.engine.reading import operands
from lumbercalc.book.engine.single_values import value_by_value
from lumbercalc.book.engine.writing import ALIKE
from lumbercalc.book.xlsx.cell_value import half_up

NUMBER, TRUTH = 0, 2
"""The engine's marks of what is compared."""


def register(table: MutableMapping[str, Any]) -> None:
    """Put our operators and functions in the place of the engine's.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    OPERATORS["+"] = value_by_value(_sum, input_parser=operands)
    OPERATORS["-"] = value_by_value(lambda one, other: _sum(one, -other), input_parser=operands)
    for sign, compare in LOGIC_OPERATORS.items():
        OPERATORS[sign] = value_by_value(compare, input_parser=_compared, args_parser=lambda *a: a)
    table["ROUND"] = value_by_value(_rounded)
    table["INT"] = value_by_value(_floor)
    table["MOD"] = value_by_value(_remainder)
    table["ROUNDUP"] = value_by_value(partial(_to_digits, math.ceil))
    for name in ("ROUNDDOWN", "TRUNC"):
        table[name] = value_by_value(partial(_to_digits, math.floor))


def _sum(number: float, other: float) -> float:
    """Add as Calc does: what is left of two numbers that are nearly equal is 0."""
    total = number + other
    if (
        total
        and abs(total) < ALIKE * abs(number)
        and not (number.is_integer() and other.is_integer())
    ):
        return 0.0
    return total


def _compared(one: Any, other: Any) -> tuple[Any, Any]:
    one, other = logic_input_parser(one, other)
    if one[0] != other[0]:  # a truth value beside anything else is a number in Calc
        one, other = _as_number(one), _as_number(other)
    if one[0] == other[0] == NUMBER and math.isclose(one[1], other[1], rel_tol=ALIKE):
        return one, one
    return one, other


def _as_number(compared: tuple[int, Any]) -> tuple[int, Any]:
    return (NUMBER, float(compared[1])) if compared[0] == TRUTH else compared


def _rounded(number: float, digits: float) -> float:
    """Round as Calc does: halves of the number's 15 digits away from zero."""
    return float(half_up(number, int(digits))) + 0.0  # no spreadsheet has a negative zero


def _shown(number: float) -> float:
    """Give a number of 15 digits."""
    return float(f"{number:.15g}")


def _floor(number: float) -> float:
    return float(math.floor(_shown(number)))


def _remainder(number: float, divisor: float) -> Any:
    if divisor == 0:
        return Error.errors["#DIV/0!"]
    return _sum(number, -_floor(number / divisor) * divisor)


def _to_digits(towards: Callable[[float], int], number: float, digits: float = 0.0) -> float:
    scale = 10.0 ** int(digits)
    whole = towards(_shown(abs(_shown(number)) * scale)) / scale
    return math.copysign(whole, number) + 0.0
