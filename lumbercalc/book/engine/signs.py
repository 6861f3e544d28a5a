"""Two minus signs before a value, as a spreadsheet computes them: a number in place of what it is.

The engine takes them for one plus sign, which leaves a truth value or a text as it is, so that
SUMPRODUCT(--(A1:A9="oak"),B1:B9) came to 0.
"""

from __future__ import annotations

from typing import Any

from formulas.functions import wrap_ufunc
from formulas.functions.operators import OPERATORS
from formulas.tokens.operator import Operator, OperatorToken

TWICE = "u--"
"""Beside the engine's "u-" and "u+"."""
NAMED = OperatorToken.update_name
EXPRESSED = OperatorToken.set_expr


def register() -> None:
    """Give the engine the two signs as an operator of their own."""
    Operator._precedences[TWICE] = Operator._precedences["u-"]
    Operator._n_args[TWICE] = Operator._n_args["u-"]
    OPERATORS[TWICE.upper()] = wrap_ufunc(lambda number: number)
    OperatorToken.update_name = _name
    OperatorToken.set_expr = _express


def _name(sign: OperatorToken, tokens: list[Any], stack: list[Any]) -> None:
    NAMED(sign, tokens, stack)
    if sign.name == "u+" and "-" in sign.attr["sum_minus"]:
        sign.attr["name"] = TWICE


def _express(sign: OperatorToken, *values: Any) -> None:
    EXPRESSED(sign, *values)
    if sign.name == TWICE:
        sign.attr["expr"] = f"--{values[0].get_expr}"
