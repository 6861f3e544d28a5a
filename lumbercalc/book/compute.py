"""Compute every formula of a workbook without a spreadsheet, our functions included."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import formulas
import numpy as np
import schedula
from formulas.functions import Array, Error, XlError, wrap_ranges_func, wrap_ufunc
from numpy.typing import NDArray
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from lumbercalc.book.filled_down import FilledDown
from lumbercalc.book.table import Table
from lumbercalc.book.trim import trim
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial

CellValue = float | str | bool
Values = dict[tuple[str, str], CellValue]
"""Value of each formula cell, by sheet name and address; an error is its text, such as #NUM!."""

NOT_A_NUMBER = Error.errors["#NUM!"]
"""What a refused call gives, as in Calc."""


def compute(path: Path, tables: Sequence[Table] = ()) -> Values:
    """Compute the formulas of a workbook file.

    Parameters
    ----------
    path : Path
        An .xlsx or .xlsm file. Links to other files are not followed, macros not run.
    tables : sequence of Table
        Tables whose blank rows share one computation.

    Returns
    -------
    dict
        (sheet, address) to number, text, truth value or error text, for every formula cell.
    """
    workbook = load_workbook(path)
    dropped = trim(workbook, tables)
    with TemporaryDirectory() as folder:
        trimmed = Path(folder) / "trimmed.xlsx"
        workbook.save(trimmed)
        values = _compute(trimmed, workbook.sheetnames)
    for part in dropped:
        for letter, row in part.addresses:
            values[part.sheet, f"{letter}{row}"] = values[part.sheet, f"{letter}{part.blank_row}"]
    return values


def _compute(path: Path, sheets: Sequence[str]) -> Values:
    _register()
    model = FilledDown().loads(str(path)).finish(complete=False)
    solution = model.calculate()
    names = {sheet.upper(): sheet for sheet in sheets}
    values: Values = {}
    for key, cell in model.cells.items():
        if cell.func is None or cell.range is None:  # a constant, or a defined name
            continue
        result = solution.get(cell.output)
        if result is None:
            raise RuntimeError(f"no value was computed for {key}")
        area = cell.range.ranges[0]
        _place(values, names[area["sheet"].upper()], area, np.asarray(result.value, object))
    return values


def _place(values: Values, sheet: str, area: dict[str, Any], result: NDArray[Any]) -> None:
    first_row, first_column = int(area["r1"]), int(area["n1"])
    for (i, j), value in np.ndenumerate(result):
        address = f"{get_column_letter(first_column + j)}{first_row + i}"
        values[sheet, address] = _cell_value(value)


def _cell_value(value: Any) -> CellValue:
    if isinstance(value, XlError):
        return str(value)
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (int, float, np.integer, np.floating)):
        number = float(value)
        return number if np.isfinite(number) else "#NUM!"
    return "" if value is schedula.EMPTY else str(value)


def _half_up(number: float, digits: float) -> float:
    """Round as Calc does: halves of the number's 15 digits away from zero."""
    step = Decimal(1).scaleb(-int(digits))
    rounded = Decimal(f"{float(number):.15g}").quantize(step, ROUND_HALF_UP)
    return float(rounded) + 0.0  # no spreadsheet has a negative zero


def _register() -> None:
    table = formulas.get_functions()
    table["ROUND"] = wrap_ufunc(_half_up)  # the engine's own rounds 7.905 to 7.9
    for name in CATALOGUE:
        table[name] = _worksheet_function(name)


def _worksheet_function(name: str) -> Callable[..., Any]:
    def answer(*cells: Any) -> Any:
        arguments = [_cells(cell) for cell in cells]
        for argument in arguments:  # an error cell never reaches a function
            found = next((c for row in argument for c in row if isinstance(c, XlError)), None)
            if found is not None:
                return found
        given = [
            argument[0][0] if len(argument) == len(argument[0]) == 1 else argument
            for argument in arguments
        ]
        rows = call(name, given).rows(problem=lambda _: NOT_A_NUMBER, day=serial)
        if len(rows) == 1 and len(rows[0]) == 1:
            return rows[0][0]
        block = np.empty((len(rows), len(rows[0])), object)
        block[:] = rows
        return block.view(Array)

    wrapped: Callable[..., Any] = wrap_ranges_func(answer)
    return wrapped


def _cells(argument: Any) -> list[list[Any]]:
    block = np.asarray(argument, object)
    if block.ndim < 2:
        block = block.reshape(1, -1)
    return [[_cell(cell) for cell in row] for row in block]


def _cell(cell: Any) -> Any:
    if isinstance(cell, XlError):
        return cell
    if isinstance(cell, np.generic):
        return cell.item()
    return None if cell is schedula.EMPTY else cell
