"""The Python face of the catalogue: each function under its name in lower case."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.answer import Answer
from lumbercalc.sheet.call import call
from lumbercalc.sheet.function import Argument, Function


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
    """
    signature = _signature(function)

    def answer(*args: Any, **kwargs: Any) -> Any:
        bound = signature.bind(*args, **kwargs)
        bound.apply_defaults()
        given = [bound.arguments[argument.name] for argument in function.arguments]
        if function.repeats:
            given = [*given[:-1], *given[-1]]
        result = call(function.name, [_cells(value) for value in given])
        if result.problems and not function.repeats:
            raise ValueError(_message(function, result, given))
        return _shaped(function, result, given)

    answer.__name__ = answer.__qualname__ = function.python_name
    answer.__module__ = "lumbercalc"
    answer.__doc__ = docstring(function)
    answer.__signature__ = signature  # type: ignore[attr-defined]
    return answer


def _signature(function: Function) -> inspect.Signature:
    parameters = []
    for argument in function.arguments:
        default = inspect.Parameter.empty
        kind = inspect.Parameter.POSITIONAL_OR_KEYWORD
        if function.repeats and argument is function.arguments[-1]:
            kind = inspect.Parameter.VAR_POSITIONAL
        elif argument.optional:
            default = argument.default
        parameters.append(inspect.Parameter(argument.name, kind, default=default))
    return inspect.Signature(parameters)


def docstring(function: Function) -> str:
    """Write the numpydoc text of a function from its declaration.

    Parameters
    ----------
    function : Function
        Its declaration.

    Returns
    -------
    str
        Summary, parameters, returns, errors, source and a worked example.
    """
    lines = [function.summary, ""]
    if function.arguments:
        lines += ["Parameters", "----------"]
        for argument in function.arguments:
            lines += [f"{argument.name} : {_type(argument)}", f"    {argument.description}"]
        lines.append("")
    lines += ["Returns", "-------", f"{_returned(function)}", f"    {function.result}", ""]
    lines += ["Raises", "------", "ValueError", "    Names the argument, the value and the limit."]
    lines += ["", "Notes", "-----", f"Source: {function.source}", "", "Examples", "--------"]
    lines += [">>> import lumbercalc as lc", f">>> {example(function)}", f"{_shown(function)}", ""]
    return "\n".join(lines)


def example(function: Function) -> str:
    """Write a function's example as a line of Python.

    Parameters
    ----------
    function : Function
        Its declaration.

    Returns
    -------
    str
        An expression that uses the package as `lc`.
    """
    text = f"lc.{function.python_name}({', '.join(map(repr, function.example.arguments))})"
    if function.spills:
        return f"print({text}[0][0])"
    return f"print(format({text}, '.7g'))" if function.gives == "number" else f"print({text})"


def _shown(function: Function) -> str:
    answer = function.example.answer
    return f"{answer:.7g}" if isinstance(answer, float) else str(answer)


def _type(argument: Argument) -> str:
    kind = {
        "number": "float",
        "thickness": "float or str",
        "flag": "bool",
        "date": "date",
        "climate": "table",
        "any": "object",
    }.get(argument.kind, "str")
    shape = "" if argument.kind in ("climate", "any") else ", or a column of them"
    if argument.shape == "block" and argument.kind != "climate":
        kind, shape = f"column of {kind}", ""
    return f"{kind}{shape}{', optional' if argument.optional else ''}"


def _returned(function: Function) -> str:
    if function.spills:
        return "list of list"
    kind = {"number": "float", "flag": "bool", "date": "date"}.get(function.gives, "str")
    return kind if function.takes_blocks else f"{kind}, or a column of them"


def _is_pandas(value: Any) -> bool:
    return "pandas" in sys.modules and type(value).__module__.startswith("pandas")


def _cells(value: Any) -> Any:
    """Turn pandas objects and arrays into cells; missing ones become None."""
    if _is_pandas(value):
        if not hasattr(value, "to_numpy"):
            return None if value != value or str(value) == "<NA>" else value
        if getattr(value, "dtype", None) is not None and value.dtype.kind in "fiu":
            return value.to_numpy(float, na_value=np.nan)
        return value.astype(object).where(value.notna(), None).to_numpy(object)
    if isinstance(value, np.ndarray) and value.dtype.kind not in "fiu":
        return value.astype(object) if value.dtype.kind != "M" else _dates(value)
    if isinstance(value, (list, tuple, range)):
        return [_cells(cell) for cell in value]
    return value


def _dates(days: NDArray[Any]) -> NDArray[Any]:
    cells = np.empty(days.shape, object)
    cells[...] = days.astype("datetime64[D]").astype(object)
    return cells


def _message(function: Function, result: Answer, given: Sequence[Any]) -> str:
    place, reason = min(result.problems.items())
    count = result.shape[0] * result.shape[1]
    where = ""
    if count > 1:
        series = next(
            (value for value in given if _is_pandas(value) and hasattr(value, "index")), None
        )
        row = place // result.shape[1]
        where = f" at index {series.index[row]!r}" if series is not None else f" in row {row + 1}"
    more = f" (and {len(result.problems) - 1} more)" if len(result.problems) > 1 else ""
    return f"{function.python_name}{where}: {reason}{more}"


def _shaped(function: Function, result: Answer, given: Sequence[Any]) -> Any:
    rows = result.rows(problem=str, day=lambda day: day, blank=None)
    if function.spills:
        return rows
    columns = _columns(function, given)
    if function.takes_blocks or not columns:
        return rows[0][0]
    flat = [cell for row in rows for cell in row]
    series = next(
        (value for value in columns if hasattr(value, "index") and _is_pandas(value)), None
    )
    if series is not None and len(series) == len(flat):
        import pandas as pd  # the caller has it: a Series came in

        return pd.Series(_column(function, flat), index=series.index)
    array = _column(function, flat)
    return array.reshape(result.shape) if result.shape[1] > 1 else array


def _columns(function: Function, given: Sequence[Any]) -> list[Any]:
    """Pick the arguments that came in as columns; a climate table is none."""
    names = [argument.kind for argument in function.arguments]
    kinds = names + ["any"] * (len(given) - len(names))
    return [
        value
        for kind, value in zip(kinds, given, strict=False)
        if kind != "climate"
        and (
            isinstance(value, (list, tuple, range, np.ndarray))
            or (_is_pandas(value) and hasattr(value, "to_numpy"))
        )
    ]


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
