"""The help that a host's function wizard shows, made from the declarations."""

from __future__ import annotations

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
