"""What a host shows of a function, made from its declaration: help and signature."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

from lumbercalc.sheet.function import Argument, Function


def function_help(function: Function) -> str:
    """Say what a function does and gives.

    Parameters
    ----------
    function : Function
        A function of the catalogue.

    Returns
    -------
    str
        Its summary and its result.
    """
    return f"{function.summary} Gives {function.result}."


def argument_help(argument: Argument) -> str:
    """Say what an argument is.

    Parameters
    ----------
    argument : Argument
        An argument of a function of the catalogue.

    Returns
    -------
    str
        Its description, marked when it may be left out.
    """
    return f"[optional] {argument.description}" if argument.optional else argument.description


def signature(function: Function, left_out: Callable[[Argument], Any]) -> inspect.Signature:
    """Give the signature of a function.

    Parameters
    ----------
    function : Function
        A function of the catalogue.
    left_out : callable
        Gives what stands for an optional argument that was left out.

    Returns
    -------
    Signature
        With the declared names.
    """
    repeated = function.arguments[-1] if function.repeats else None
    return inspect.Signature(
        [
            inspect.Parameter(argument.name, inspect.Parameter.VAR_POSITIONAL)
            if argument is repeated
            else inspect.Parameter(
                argument.name,
                inspect.Parameter.POSITIONAL_OR_KEYWORD,
                default=left_out(argument) if argument.optional else inspect.Parameter.empty,
            )
            for argument in function.arguments
        ]
    )
