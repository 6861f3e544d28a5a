"""The Python face of the catalogue: each function under its name in lower case."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.air_frame import columns_in_order
from lumbercalc.sheet.answer import Answer
from lumbercalc.sheet.call import call
from lumbercalc.sheet.cells import ROWS
from lumbercalc.sheet.function import REQUIRED, Function
from lumbercalc.sheet.help import signature
from lumbercalc.sheet.python_help import docstring
from lumbercalc.wood.texts import Texts

_PLAIN = {str, float, int, bool, type(None)}
"""Types of the cells that are taken as they are."""
_OURS = (*ROWS, np.generic)
"""What is no column of another library."""


def face(function: Function) -> Callable[..., Any]:
    """Make the Python function of a worksheet function.

    Parameters
    ----------
    function : Function
        Its declaration.

    Returns
    -------
    callable
        With the declared signature; scalars give a scalar, a pandas Series gives a Series with
        its index, lists and arrays give an array. Bad input raises ValueError.

    Notes
    -----
    Columns of other libraries, such as polars and Arrow, come in as NumPy takes them, by their
    `__array__`; no labels of theirs are looked at.
    """
    declared = signature(function, lambda argument: argument.default)
    defaults = [argument.default for argument in function.arguments]
    required = defaults.count(REQUIRED)

    def answer(*args: Any, **kwargs: Any) -> Any:
        if not kwargs and not function.repeats and required <= len(args) <= len(defaults):
            # Most calls: to bind their arguments would take longer than to check them.
            given = [*args, *[None] * (len(defaults) - len(args))]
        else:
            given = _bound(function, declared, args, kwargs)
        given = [*map(_array, given)]
        if any(map(_is_labelled, given)):
            _one_index(function, given)
            given = _air_in_order(function, given)
        cells = [_given(value) for value in given]
        result = call(function.name, cells)
        if result.problems and not function.repeats:
            raise ValueError(_message(function, result, given))
        return _shaped(function, result, given, cells)

    answer.__name__ = answer.__qualname__ = function.python_name
    answer.__module__ = "lumbercalc"
    answer.__doc__ = docstring(function)
    answer.__signature__ = declared  # type: ignore[attr-defined]
    return answer


def _bound(
    function: Function, declared: inspect.Signature, args: Sequence[Any], kwargs: dict[str, Any]
) -> list[Any]:
    """Put the arguments of a call in the order of the declaration."""
    try:
        bound = declared.bind(*args, **kwargs)
    except TypeError as misfit:
        raise TypeError(f"{function.python_name}{declared}: {misfit}") from None
    bound.apply_defaults()
    given = [bound.arguments[argument.name] for argument in function.arguments]
    return [*given[:-1], *given[-1]] if function.repeats else given


def _array(value: Any) -> Any:
    """Give a column of another library as NumPy's own."""
    if type(value) in _PLAIN or isinstance(value, _OURS) or _is_pandas(value):
        return value
    return np.asarray(value) if hasattr(value, "__array__") else value


def _is_pandas(value: Any) -> bool:
    """Tell whether a value is of a class of pandas, or of one derived from it."""
    if type(value) in _PLAIN or "pandas" not in sys.modules:
        return False
    return any(kind.__module__.partition(".")[0] == "pandas" for kind in type(value).__mro__)


def _has_pandas_cells(value: Any) -> bool:
    """Tell columns and frames from pandas' other things, such as the groups of a frame."""
    return _is_pandas(value) and hasattr(value, "to_numpy") and hasattr(value, "ndim")


def _is_labelled(value: Any) -> bool:
    return _has_pandas_cells(value) and hasattr(value, "index")


def _is_series(value: Any) -> bool:
    return _is_labelled(value) and value.ndim == 1


def _given(value: Any) -> Any:
    """Give the cells of one argument; texts are the column that is quickly told."""
    texts = Texts.of(value) if isinstance(value, (list, tuple)) else None
    return _cells(value) if texts is None else texts


def _cells(value: Any) -> Any:
    """Turn pandas objects, arrays and sequences into cells; missing ones become None."""
    if _has_pandas_cells(value):
        if value.ndim == 1 and value.dtype.kind in "fiu":
            return value.to_numpy(float, na_value=np.nan)
        return _cells(value.to_numpy(object))
    if _is_pandas(value):
        return None if str(value) == "<NA>" else value
    if isinstance(value, np.ma.MaskedArray) and value.dtype.names is None:
        cells = value.data.astype(object)
        cells[np.ma.getmaskarray(value)] = None
        return _cells(cells)
    if isinstance(value, np.ndarray):
        if value.ndim == 0:  # np.ma.masked among them
            return _cells(value[()])
        if value.dtype.kind != "O" or _PLAIN.issuperset(map(type, value.ravel())):
            return value
        return np.frompyfunc(_cells, 1, 1)(value)
    if isinstance(value, (list, tuple, range)):
        plain = _PLAIN.issuperset(map(type, value))
        return list(value) if plain else [_cells(cell) for cell in value]
    return value


def _one_index(function: Function, given: Sequence[Any]) -> None:
    """Refuse columns that are not labelled alike: they go together row by row, not by label."""
    first: dict[int, tuple[str, Any]] = {}
    for place, (name, value) in enumerate(_named(function, given)):
        if _is_table(function, place) or not _is_labelled(value):
            continue
        other, labels = first.setdefault(len(value), (name, value.index))
        if not value.index.equals(labels):
            raise ValueError(
                f"{function.python_name}: the index of {name} is not that of {other}; "
                "give Series with one index, or arrays"
            )


def _air_in_order(function: Function, given: Sequence[Any]) -> list[Any]:
    """Put the columns of a labelled table of air in their order, whichever they came in."""
    return [
        columns_in_order(value, f"{function.python_name}: {name}")
        if _is_table(function, place) and _is_labelled(value)
        else value
        for place, (name, value) in enumerate(_named(function, given))
    ]


def _named(function: Function, given: Sequence[Any]) -> list[tuple[str, Any]]:
    """Pair the given values with the names of their arguments; the last may be repeated."""
    names = [argument.name for argument in function.arguments]
    names += [f"argument {i + 1}" for i in range(len(names), len(given))]
    return list(zip(names, given, strict=False))


def _message(function: Function, result: Answer, given: Sequence[Any]) -> str:
    place, reason = min(result.problems.items())
    rows, width = result.shape
    where = ""
    if rows * width > 1:
        row = place // width
        series = _series(_columns(function, given), rows)
        # as a list, the index has numbers of Python: np.int64(7) is no word for a row
        label = "" if series is None else series.index[row : row + 1].tolist()[0]
        where = f" in row {row + 1}" if series is None else f" at index {label!r}"
    more = f" (and {len(result.problems) - 1} more)" if len(result.problems) > 1 else ""
    return f"{function.python_name}{where}: {reason}{more}"


def _shaped(function: Function, result: Answer, given: Sequence[Any], cells: Sequence[Any]) -> Any:
    """Give a scalar, a Series or an array, as the columns came in; rows where the answer spills."""
    if function.spills:
        return _rows(result)
    columns = _columns(function, given)
    one_cell = function.takes_blocks or (function.repeats and result.shape == (1, 1))
    if one_cell or not columns:
        return _rows(result)[0][0]
    flat = _flat(result, cells) if all(map(_has_cells, columns)) else []
    series = _series(columns, len(flat))
    array = flat if isinstance(flat, np.ndarray) else _column(function, flat)
    if series is not None:
        import pandas as pd  # the caller has it: a Series came in

        return pd.Series(array, index=series.index)
    is_grid = result.shape[1] > 1 or (not function.repeats and any(map(_is_grid, columns)))
    return array.reshape(result.shape) if is_grid and len(flat) else array


def _is_grid(column: Any) -> bool:
    """Tell rows of cells, be it one cell in each, from a column."""
    if isinstance(column, (list, tuple, range)):
        return any(isinstance(row, ROWS) and np.ndim(row) for row in column[:1])
    return bool(column.ndim > 1)


def _has_cells(column: Any) -> bool:
    if not isinstance(column, (list, tuple, range)):
        return bool(column.size)
    return any(not isinstance(cell, (list, tuple, np.ndarray)) or np.size(cell) for cell in column)


def _rows(result: Answer) -> list[list[Any]]:
    return result.rows(problem=str, day=lambda day: day, blank=None)


def _flat(result: Answer, cells: Sequence[Any]) -> NDArray[Any] | list[Any]:
    """Give the answers in one row; never in memory that is the caller's."""
    if not isinstance(result.cells, np.ndarray):
        return [cell for row in _rows(result) for cell in row]
    arrays = [column for column in cells if isinstance(column, np.ndarray)]
    given_back = any(np.may_share_memory(result.cells, array) for array in arrays)
    return result.cells.copy() if given_back or not result.cells.flags.writeable else result.cells


def _is_table(function: Function, place: int) -> bool:
    """Tell whether an argument is a climate table; the last one may be repeated."""
    return place < len(function.arguments) and function.arguments[place].kind == "climate"


def _columns(function: Function, given: Sequence[Any]) -> list[Any]:
    """Pick the arguments that came in as columns; a climate table is none."""
    return [
        value
        for place, value in enumerate(given)
        if (isinstance(value, (list, tuple, range)) or getattr(value, "ndim", 0) > 0)
        and not _is_table(function, place)
    ]


def _series(columns: list[Any], rows: int) -> Any:
    """Find the Series whose index the answer takes; None where there is none of its length."""
    return next((one for one in columns if _is_series(one) and len(one) == rows), None)


def _column(function: Function, cells: list[Any]) -> NDArray[Any]:
    texts = any(isinstance(cell, str) for cell in cells)
    if function.gives == "number" and not texts:
        return np.array([np.nan if cell is None else cell for cell in cells], float)
    if function.gives == "flag" and None not in cells:
        return np.array(cells, bool)
    if function.gives == "date" and not texts:
        return np.array(cells, "datetime64[D]")
    column = np.empty(len(cells), object)
    column[:] = cells
    return column
