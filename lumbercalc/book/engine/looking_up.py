"""MATCH and its like, where a text is looked for that reads as a number."""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from functools import partial
from typing import Any

from formulas.functions import XlError

from lumbercalc.book.engine.values import (
    NotFollowed,
    each_value,
    engines_own,
    number_or_none,
    wrapped,
)

OWN = engines_own("HLOOKUP", "MATCH", "VLOOKUP", "XLOOKUP", "XMATCH")
"""The engine's own: as in Excel, the text "5" is not found where the number 5 stands; Calc finds
it."""


def register(table: MutableMapping[str, Any]) -> None:
    """Put our functions in the place of the engine's.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    for name, function in OWN.items():
        table[name] = wrapped(partial(_found, function))


def _found(function: Callable[..., Any], sought: Any, area: Any, *others: Any) -> Any:
    found = function(sought, area, *others)
    answers = each_value(found)
    if len(answers) == 1 and isinstance(answers[0], XlError):
        [text, *more] = each_value(sought)
        number = None if more or not isinstance(text, str) else number_or_none(text)
        if number is not None and any(value == number for value in each_value(area)):
            raise NotFollowed(f"whether the text {text[:20]!r} is found is not followed")
    return found
