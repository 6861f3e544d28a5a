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
"""

# ruff: noqa: D401 - the summaries are those that a worksheet shows

from datetime import date
from decimal import Decimal
from typing import Any, TypeAlias

import numpy as np
import pandas as pd

_Rows: TypeAlias = list[Any] | tuple[Any, ...] | range | np.ndarray[Any, Any]
_Labelled: TypeAlias = pd.Series[Any] | pd.Index[Any] | pd.DataFrame
_Column: TypeAlias = _Rows | _Labelled | pd.api.extensions.ExtensionArray
_One: TypeAlias = float | np.integer[Any] | np.floating[Any] | Decimal
_Number: TypeAlias = _One | _Column | None
_Thickness: TypeAlias = _One | str | _Column | None
_Text: TypeAlias = str | float | _Column | None
_Date: TypeAlias = date | np.datetime64 | str | float | _Column | None
_Flag: TypeAlias = bool | np.bool_ | _Column | None
_Table: TypeAlias = list[Any] | tuple[Any, ...] | np.ndarray[Any, Any] | pd.DataFrame

__version__: str
'''

TYPES = {
    "number": "_Number",
    "thickness": "_Thickness",
    "date": "_Date",
    "flag": "_Flag",
    "climate": "_Table",
    "any": "Any",
}
"""Type of an argument by its kind; all others are texts."""


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
        One argument a line.

    Examples
    --------
    >>> print(declaration(CATALOGUE["LUMBERCALC_VERSION"]))
    def lumbercalc_version() -> str | None:
        \"\"\"The version of lumbercalc that answers.\"\"\"
    <BLANKLINE>
    """
    lines = [f"    {_parameter(function, argument)},\n" for argument in function.arguments]
    arguments = "(\n" + "".join(lines) + ")" if lines else "()"
    head = f"def {function.python_name}{arguments} -> {_returned(function)}:"
    return f'{head}\n    """{function.summary}"""\n'


def _parameter(function: Function, argument: Argument) -> str:
    kind = TYPES.get(argument.kind, "_Text")
    if function.repeats and argument is function.arguments[-1]:
        return f"*{argument.name}: {kind}"
    default = f" = {_literal(argument.default)}" if argument.optional else ""
    return f"{argument.name}: {kind}{default}"


def _literal(value: object) -> str:
    return f'"{value}"' if isinstance(value, str) else repr(value)


def _returned(function: Function) -> str:
    """Name the type of the answer: a row function's depends on what came in."""
    if function.spills:
        return "list[list[Any]]"
    if function.arguments and not function.takes_blocks:
        return "Any"
    kind = {"number": "float", "flag": "bool", "date": "date | str"}.get(function.gives, "str")
    return f"{kind} | None"


if __name__ == "__main__":
    STUB.write_text(stub(), encoding="utf-8")
