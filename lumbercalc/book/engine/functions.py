"""Our functions as the `formulas` engine calls them, and what a refused call gives there."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from typing import Any

import formulas
import numpy as np
import schedula
from formulas import functions
from formulas.functions import Array, Error, XlError, wrap_ranges_func, wrap_ufunc
from formulas.functions.operators import OPERATORS
from formulas.tokens import operand

from lumbercalc.book.engine import (
    criteria,
    fitting,
    guarded,
    looking_up,
    numbers_in_areas,
    patterns,
    reading,
    rounding,
    signs,
    single_values,
    steps,
    writing,
)
from lumbercalc.book.engine.index import of_one_cell
from lumbercalc.book.engine.otherwise import WAY
from lumbercalc.book.engine.values import AS_GIVEN, LeftOut, NotFollowed, Refusal, engines_own
from lumbercalc.book.xlsx.cell_value import LONGEST_TEXT
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial

INDEX = formulas.get_functions()["INDEX"]
JOIN = OPERATORS["&"]
JOINING = engines_own("CONCAT", "CONCATENATE", "REPLACE", "REPLACEB", "TEXTJOIN")
"""The engine's own: cells that join themselves to themselves double without an end."""


AS_THEY_ARE = AS_GIVEN | {"args_parser": lambda *given: given}
"""Arguments that the engine makes nothing else of."""
WRITTEN_DATE = re.compile(r"\d{1,4}([-/.])\d{1,2}\1\d{1,4}")
"""A text that a spreadsheet takes for a date where it is compared with numbers."""
NUMBER_OF_TEXT = functions._text2num
"""The engine's own: it makes a date of "May", and an hour of a sample board named "1a"."""


def register(*, from_calc: bool = False, is_check: bool = False) -> None:
    """Give the engine our functions, and what it computes otherwise than Calc does.

    Parameters
    ----------
    from_calc : bool
        Whether cells arrive at our functions as Calc hands them over: a truth value is a number,
        and a blank cell that stands alone is 0.
    is_check : bool
        Whether what spreadsheets compute otherwise has no value; else it is #VALUE!.
    """
    NotFollowed.is_check = is_check
    table = formulas.get_functions()
    functions._text2num = _number_of_text
    patterns.register()
    signs.register()
    steps.register()
    single_values.register()
    numbers_in_areas.register(table)
    criteria.register(table)
    fitting.register(table)
    looking_up.register(table)
    writing.register(table)
    reading.register(table)
    rounding.register(table)
    operand.Empty.compile = staticmethod(LeftOut)
    table["INDEX"] = INDEX | {"function": of_one_cell(INDEX["function"])}
    OPERATORS["&"] = _no_longer(single_values.with_short_way(JOIN))
    for name, function in JOINING.items():
        table[name] = _no_longer(function)
    table["ERROR.TYPE"] = wrap_ufunc(_error_type, check_error=lambda _: None, **AS_THEY_ARE)
    guarded.register(table)
    for name in CATALOGUE:
        table[name] = _worksheet_function(name, from_calc)


def _error_type(value: Any) -> Any:
    """Give the number of an error; a refusal is #NUM!, as in Calc."""
    known = list(Error.errors)
    is_known = isinstance(value, XlError) and str(value) in known
    return known.index(str(value)) + 1 if is_known else Error.errors["#N/A"]


def _no_longer(join: Callable[..., Any]) -> Callable[..., Any]:
    """Join texts as a spreadsheet does: one that is too long for a cell is an error."""

    def joined(*parts: Any) -> Any:
        whole = join(*parts)
        if any(isinstance(text, str) and len(text) > LONGEST_TEXT for text in np.ravel(whole)):
            return Error.errors["#VALUE!"]
        return whole

    return joined


def _number_of_text(cell: Any) -> Any:
    """Read a text as a number, or as a date that is written in figures; else leave it."""
    if isinstance(cell, str) and not WRITTEN_DATE.fullmatch(cell.strip()):
        try:
            return float(cell)
        except ValueError:
            return cell
    return NUMBER_OF_TEXT(cell)


def _worksheet_function(name: str, from_calc: bool) -> Callable[..., Any]:
    function = CATALOGUE[name]
    most = len(function.arguments)
    one_cell, in_rows = (_alone_in_calc, _in_calc) if from_calc else (_alone, _cell)

    def answer(*cells: Any) -> Any:
        if len(cells) <= most or function.repeats:
            while cells and isinstance(cells[-1], LeftOut):
                cells = cells[:-1]
        arguments = [_cells(cell, in_rows) for cell in cells]
        for argument in arguments:  # an error cell never reaches a function
            found = next((c for row in argument for c in row if isinstance(c, XlError)), None)
            if found is not None:
                return found
        given = [one_cell(argument) for argument in arguments]
        rows = call(name, given).rows(problem=partial(Refusal.of, name), day=serial)
        if len(rows) == 1 and len(rows[0]) == 1:
            return rows[0][0]
        block = np.empty((len(rows), len(rows[0])), object)
        block[:] = rows
        return block.view(Array)

    wrapped: Callable[..., Any] = wrap_ranges_func(answer)
    return wrapped


def _alone(argument: list[list[Any]]) -> Any:
    """Give the one cell of an argument; the rows of another; None for one that is left out."""
    if len(argument) > 1 or len(argument[0]) > 1:
        return argument
    [[cell]] = argument
    return None if isinstance(cell, LeftOut) else cell


def _alone_in_calc(argument: list[list[Any]]) -> Any:
    """Give the same as Calc does: 0 for a blank cell."""
    cell = _alone(argument)
    is_0 = cell is None and argument[0][0] is None and not WAY.blanks_stay
    return 0.0 if is_0 else cell


def _cells(argument: Any, read: Callable[[Any], Any]) -> list[list[Any]]:
    block = np.asarray(argument, object)
    if block.ndim < 2:
        block = block.reshape(1, -1)
    return [[read(cell) for cell in row] for row in block]


def _cell(cell: Any) -> Any:
    if isinstance(cell, XlError):
        return cell
    if isinstance(cell, np.generic):
        return cell.item()
    return None if cell is schedula.EMPTY else cell


def _in_calc(cell: Any) -> Any:
    cell = _cell(cell)
    return float(cell) if isinstance(cell, bool) else cell
