"""SUM and its like as spreadsheets compute them: a text in an area is no number, "9" neither.

The engine counts a text that reads as a number for one. A truth value in an area is one in Calc
(seen in 25.2), and none in Excel: what Calc does is done here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, MutableMapping
from functools import partial
from typing import Any

import numpy as np
import schedula
from formulas.errors import FoundError
from formulas.functions import Error, XlError
from formulas.ranges import Ranges

from lumbercalc.book.engine.values import (
    PREFIX,
    NotFollowed,
    each_value,
    engines_own,
    number_or_none,
    with_each,
    wrapped,
)

OF_ALL: dict[str, Callable[[list[float]], Any]] = {
    "SUM": np.sum, "AVERAGE": np.mean, "MAX": max, "MIN": min,
}  # fmt: skip
"""What is done with all numbers that a function is given."""
OF_NUMBERS = (
    "AVEDEV", "DEVSQ", "GEOMEAN", "HARMEAN", "KURT", "MEDIAN", "PRODUCT", "SKEW", "STDEV",
    "STDEV.P", "STDEV.S", "STDEVP", "SUMSQ", "VAR", "VAR.P", "VAR.S", "VARP",
)  # fmt: skip
"""The engine's own, given the numbers only."""
FIRST_OF_NUMBERS = ("LARGE", "PERCENTILE", "PERCENTILE.INC", "QUARTILE", "QUARTILE.INC", "SMALL")
"""The same of their first argument."""
OWN = engines_own(*OF_NUMBERS, *FIRST_OF_NUMBERS)


def register(table: MutableMapping[str, Any]) -> None:
    """Put our functions in the place of the engine's.

    Parameters
    ----------
    table : mapping
        The engine's functions by name.
    """
    for name in OF_ALL:
        table[name] = wrapped(partial(of_all, name))
    table["COUNT"] = wrapped(_count)
    table["COUNTA"] = wrapped(_count_filled)
    table["SUMPRODUCT"] = wrapped(_sum_of_products)
    table["ISNUMBER"] = wrapped(partial(with_each, is_number))
    for name, function in OWN.items():
        first = name.removeprefix(PREFIX) in FIRST_OF_NUMBERS
        given = _given_numbers_first if first else _given_numbers
        table[name] = wrapped(partial(given, function))


def numbers_of(argument: Any) -> list[float]:
    """Give the numbers of an argument.

    Parameters
    ----------
    argument : object
        An area, an array or a single value.

    Returns
    -------
    list of float
        Texts and blank cells are passed over.

    Raises
    ------
    FoundError
        With the first error in it.
    NotFollowed
        For a text alone: of a cell it is passed over, of a formula it is none or an error.
    """
    values = each_value(argument)
    numbers = [value for value in values if type(value) is float]
    if len(numbers) == len(values):
        return numbers
    numbers = []
    for value in values:
        if isinstance(value, str):
            if isinstance(value, XlError):
                raise FoundError(err=value)
            alone = len(values) == 1 and value is not schedula.EMPTY
            if alone and not isinstance(argument, Ranges):
                raise NotFollowed(f"whether the text {value[:20]!r} counts is not followed")
        else:
            numbers.append(float(value))
    return numbers


def of_all(name: str, *arguments: Any) -> Any:
    """Give what a function of `OF_ALL` comes to.

    Parameters
    ----------
    name : str
        Of the function.
    *arguments : object
        Areas, arrays or single values.

    Returns
    -------
    float or XlError
        0 of no numbers; of their mean #DIV/0!.

    Raises
    ------
    FoundError, NotFollowed
        As `numbers_of` does.
    ValueError
        Without any argument, but for SUM.
    """
    numbers = [number for argument in arguments for number in numbers_of(argument)]
    if numbers:
        return float(OF_ALL[name](numbers))
    if not arguments and name != "SUM":
        raise ValueError
    return Error.errors["#DIV/0!"] if name == "AVERAGE" else 0.0


def _count(*arguments: Any) -> int:
    count = 0
    for argument in arguments:
        alone = not isinstance(argument, (Ranges, np.ndarray))
        count += sum(
            number_or_none(value) is not None
            if isinstance(value, str) and alone
            else is_number(value)
            for value in each_value(argument)
        )
    return count


def _count_filled(*arguments: Any) -> int:
    return sum(
        value is not schedula.EMPTY for argument in arguments for value in each_value(argument)
    )


def is_number(value: Any) -> bool:
    """Tell whether a value is a number, as Calc does: a truth value is one.

    Parameters
    ----------
    value : object
        Of the engine.

    Returns
    -------
    bool
        False for every text.
    """
    return isinstance(value, (int, float, np.number, np.bool_))


def _sum_of_products(*arguments: Any) -> Any:
    arrays = [
        argument.value if isinstance(argument, Ranges) else argument for argument in arguments
    ]
    if len({np.shape(array) for array in arrays}) > 1:
        raise ValueError
    factors = [[_factor(value) for value in each_value(array)] for array in arrays]
    return float(np.sum(np.prod(np.array(factors, float), axis=0)))


def _factor(value: Any) -> float:
    if type(value) is float:
        return value
    if isinstance(value, str):
        if isinstance(value, XlError):
            raise FoundError(err=value)
        return 0.0
    return float(value)


def _given_numbers(function: Callable[..., Any], *arguments: Any) -> Any:
    return function(_array(number for argument in arguments for number in numbers_of(argument)))


def _given_numbers_first(function: Callable[..., Any], argument: Any, *others: Any) -> Any:
    return function(_array(numbers_of(argument)), *others)


def _array(numbers: Iterable[float]) -> Any:
    return np.array([list(numbers)], object)
