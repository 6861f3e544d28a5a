"""COUNTIF, SUMIFS and their like as Calc computes them (seen in 25.2): which cells fit a criterion.

The engine's own minds the case of "<>Oak", takes "<>oak*" and "<>" for plain texts, and counts the
text "9" among the numbers.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, MutableMapping, Sequence
from functools import lru_cache, partial
from operator import ge, gt, le, lt
from typing import Any

import numpy as np
import schedula
from formulas import functions
from formulas.functions import Array

from lumbercalc.book.engine.numbers_in_areas import OF_ALL, is_number, of_all
from lumbercalc.book.engine.patterns import compile_whole
from lumbercalc.book.engine.values import PREFIX, NotFollowed, each_value, wrapped
from lumbercalc.book.engine.writing import ALIKE, written

Test = Callable[[Any], bool]
"""Whether the value of a cell fits."""

SIGNS = ("<>", "<=", ">=", "=", "<", ">")
ORDER = {"<=": le, ">=": ge, "<": lt, ">": gt}
WILD = re.compile(r"~[*?~]|[*?]")
CURRENCIES = ("$", "\u20ac", "\u00a3")
EMPTY = schedula.EMPTY


def register(table: MutableMapping[str, Any]) -> None:
    """Put our functions in the place of the engine's.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    of_values: dict[str, Callable[[list[Any]], Any]] = {"COUNTIF": len}
    of_values |= {f"{name}IF": partial(_of_numbers, name) for name in OF_ALL}
    for name, function in of_values.items():
        if name in table:
            table[name] = wrapped(partial(_if, function))
        for several in (f"{name}S", f"{PREFIX}{name}S"):
            if several in table:
                table[several] = wrapped(partial(_ifs, function))
    table["COUNTIFS"] = wrapped(partial(_ifs, len, None))


def fits(criterion: Any) -> Test:
    """Give the test that a criterion asks for.

    Parameters
    ----------
    criterion : object
        A number, a text such as ">5" or "oak*", or a blank cell, which is 0.

    Returns
    -------
    callable
        Takes the value of a cell.

    Examples
    --------
    >>> [fits("<>oak")("Oak"), fits("<>o*")("ash"), fits(7)("7"), fits("7")("7")]
    [False, True, False, True]
    """
    if criterion is EMPTY:
        return _test(0.0)
    if is_number(criterion):
        return _test(float(criterion))
    return _test(str(criterion))


@lru_cache(maxsize=1000)
def _test(criterion: float | str) -> Test:
    if isinstance(criterion, float):
        return partial(_is_the_number, criterion)
    sign = next((sign for sign in SIGNS if criterion.startswith(sign)), "")
    asked = criterion[len(sign) :]
    if sign in ORDER:
        number = _number(asked)
        if number is None:
            return partial(_text_in_order, ORDER[sign], asked.casefold())
        return partial(_number_in_order, ORDER[sign], number)
    if asked == "":
        blank: Test = (lambda value: value is EMPTY or value == "") if not sign else _is_blank
        return (lambda value: value is not EMPTY) if sign == "<>" else blank
    equal = _equal(asked)
    return (lambda value: not equal(value)) if sign == "<>" else equal


def _equal(asked: str) -> Test:
    folded, number = asked.casefold(), _number(asked)
    if number is not None:
        return lambda value: (
            value.casefold() == folded if isinstance(value, str) else _is_the_number(number, value)
        )
    if WILD.search(asked):
        match = _pattern(asked).match
        return lambda value: value is not EMPTY and match(_shown(value)) is not None
    return lambda value: (
        isinstance(value, str) and value is not EMPTY and value.casefold() == folded
    )


def _pattern(asked: str) -> re.Pattern[str]:
    pieces = []
    at = 0
    for wild in WILD.finditer(asked):
        pieces.append(re.escape(asked[at : wild.start()]))
        mark = wild[0]
        pieces.append(re.escape(mark[1]) if len(mark) > 1 else f".{mark}")
        at = wild.end()
    return compile_whole("".join([*pieces, re.escape(asked[at:])]))


def _shown(value: Any) -> str:
    return str(bool(value)).upper() if isinstance(value, (bool, np.bool_)) else written(value)


def _number(asked: str) -> float | None:
    if asked.upper() in ("TRUE", "FALSE"):
        return float(asked.upper() == "TRUE")
    if asked[-1:] == "%" or asked[:1] in CURRENCIES:
        raise NotFollowed(f"which number the criterion {asked[:20]!r} is, is not followed")
    number = functions._text2num(asked)
    return None if isinstance(number, str) else float(number)


def _is_blank(value: Any) -> bool:
    return value is EMPTY


def _is_the_number(number: float, value: Any) -> bool:
    return not isinstance(value, str) and math.isclose(value, number, rel_tol=ALIKE)


def _number_in_order(compare: Callable[[Any, Any], bool], number: float, value: Any) -> bool:
    return not isinstance(value, str) and compare(value, number)


def _text_in_order(compare: Callable[[Any, Any], bool], folded: str, value: Any) -> bool:
    is_text = isinstance(value, str) and not isinstance(value, schedula.Token)
    return is_text and compare(value.casefold(), folded)


def _if(
    function: Callable[[list[Any]], Any], tested: Any, criterion: Any, taken: Any = None
) -> Any:
    return _ifs(function, taken, tested, criterion)


def _ifs(function: Callable[[list[Any]], Any], taken: Any, *pairs: Any) -> Any:
    tested = [each_value(area) for area in pairs[::2]]
    values = tested[0] if taken is None else each_value(taken)
    if any(len(cells) != len(values) for cells in tested):
        raise NotFollowed("areas of different sizes in COUNTIF, SUMIF or their like: not followed")
    criteria = [each_value(criterion) for criterion in pairs[1::2]]
    if all(len(criterion) == 1 for criterion in criteria):
        return _of_fitting(function, values, tested, [criterion[0] for criterion in criteria])
    given = [np.atleast_2d(getattr(each, "value", each)) for each in pairs[1::2]]
    blocks = np.broadcast_arrays(*given)
    found = np.empty(blocks[0].shape, object)
    for place in np.ndindex(found.shape):
        found[place] = _of_fitting(function, values, tested, [block[place] for block in blocks])
    return found.view(Array)


def _of_fitting(
    function: Callable[[list[Any]], Any],
    values: list[Any],
    tested: Sequence[list[Any]],
    criteria: Sequence[Any],
) -> Any:
    fit: Sequence[int] = range(len(tested[0]))
    for cells, criterion in zip(tested, criteria, strict=True):
        test = fits(criterion)
        fit = [n for n in fit if test(cells[n])]
    return function([values[n] for n in fit])


def _of_numbers(name: str, values: list[Any]) -> Any:
    return of_all(name, np.array([*values, EMPTY], object))  # a text alone is one among others
