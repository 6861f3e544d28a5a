"""Writes the type stub of the package, from which editors know the functions of the catalogue.

Run ``python -m lumbercalc.sheet.stub`` after a declaration has changed.
"""

from __future__ import annotations

from pathlib import Path

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Argument, Function

STUB = Path(__file__).parents[1] / "__init__.pyi"

HEAD = '''"""Functions for drying and selling hardwood, the same in a worksheet and in Python.

Made from the catalogue by ``python -m lumbercalc.sheet.stub``; do not edit.

``| Any`` in an answer: None for a blank cell, a text such as "not reached", or one number for an
array without dimensions.
"""

# ruff: noqa: D401 - the summaries are those that a worksheet shows

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any, TypeAlias, overload

import numpy as np
import pandas as pd
from numpy.typing import NDArray

_Number: TypeAlias = float | np.integer[Any] | np.floating[Any] | Decimal | Fraction | None
_Thickness: TypeAlias = _Number | str
_Name: TypeAlias = str | None
_Text: TypeAlias = str | float | None
_Date: TypeAlias = date | np.datetime64 | str | float | None
_Flag: TypeAlias = bool | np.bool_ | None
_Rows: TypeAlias = list[Any] | tuple[Any, ...] | range | np.ndarray[Any, Any]
_Cells: TypeAlias = _Rows | pd.Index[Any] | pd.DataFrame | pd.api.extensions.ExtensionArray
_Column: TypeAlias = _Cells | pd.Series[Any]
_Table: TypeAlias = list[Any] | tuple[Any, ...] | np.ndarray[Any, Any] | pd.DataFrame | None

__version__: str
'''

TYPES = {
    "number": "_Number",
    "thickness": "_Thickness",
    "choice": "_Name",
    "species": "_Name",
    "text": "_Text",
    "date": "_Date",
    "flag": "_Flag",
    "climate": "_Table",
    "any": "Any",
}
"""Type of one cell of an argument by its kind."""

ONE = {"number": "float", "text": "str", "date": "date", "flag": "bool"}
"""Type of one answer by what a function gives."""

ARRAY = {
    "number": "NDArray[np.float64]",
    "text": "NDArray[np.object_]",
    "date": "NDArray[np.datetime64]",
    "flag": "NDArray[np.bool_]",
}
"""Type of a column of answers."""

SERIES = {
    "number": "pd.Series[float]",
    "text": "pd.Series[str]",
    "date": "pd.Series[pd.Timestamp]",
    "flag": "pd.Series[bool]",
}
"""Type of a column of answers with the index of a Series that came in."""


def stub() -> str:
    """Write the type stub of the package.

    Returns
    -------
    str
        Text of `lumbercalc/__init__.pyi`.
    """
    return HEAD + "".join(f"\n{declaration(function)}" for function in CATALOGUE.values())


def declaration(function: Function) -> str:
    """Declare one function.

    Parameters
    ----------
    function : Function
        Its declaration in the catalogue.

    Returns
    -------
    str
        One argument a line. A function that answers row by row is declared for cells alone, for
        columns, and for columns of which one is a Series: the answer takes its index.

    Examples
    --------
    >>> print(declaration(CATALOGUE["LUMBERCALC_VERSION"]))
    def lumbercalc_version() -> str:
        \"\"\"The version of lumbercalc that answers.\"\"\"
    <BLANKLINE>
    """
    if function.spills:
        return _declared(function, "list[list[Any]]")
    if function.repeats:
        return _declared(function, f"{ONE[function.gives]} | Any")
    if not function.arguments:
        return _declared(function, ONE[function.gives])
    if function.takes_blocks:
        return _declared(function, f"{ONE[function.gives]} | None")
    return "\n".join(
        "@overload\n" + _declared(function, f"{answers[function.gives]} | Any", column)
        for answers, column in ((ONE, ""), (ARRAY, " | _Cells"), (SERIES, " | _Column"))
    )


def _declared(function: Function, returned: str, column: str = "") -> str:
    """Declare a function, or one overload of it: with the columns that its arguments may be."""
    lines = [f"    {_parameter(function, argument, column)},\n" for argument in function.arguments]
    arguments = "(\n" + "".join(lines) + ")" if lines else "()"
    return f'def {function.python_name}{arguments} -> {returned}:\n    """{function.summary}"""\n'


def _parameter(function: Function, argument: Argument, column: str) -> str:
    kind = TYPES[argument.kind]
    if function.repeats and argument is function.arguments[-1]:
        return f"*{argument.name}: {kind}"
    if argument.kind != "climate":
        kind += " | _Column" if argument.shape == "block" or function.repeats else column
    default = f" = {_literal(argument.default)}" if argument.optional else ""
    return f"{argument.name}: {kind}{default}"


def _literal(value: object) -> str:
    return f'"{value}"' if isinstance(value, str) else repr(value)


if __name__ == "__main__":
    STUB.write_text(stub(), encoding="utf-8")
