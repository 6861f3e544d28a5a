"""A call of a block function: whole columns go in, one answer or one table comes out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.answer import (
    BEYOND,
    NOT_REACHED,
    Answer,
    beyond_cells,
    no_answer,
    remarks_at,
)
from lumbercalc.sheet.blanks import is_blank
from lumbercalc.sheet.cells import Block
from lumbercalc.sheet.climate_table import PLACES, ClimateTable, read_climate
from lumbercalc.sheet.columns import Column, default_of, read
from lumbercalc.sheet.function import Argument, Function
from lumbercalc.sheet.refusal import Refused


def call_on_blocks(function: Function, blocks: dict[str, Block | None]) -> Answer:
    """Call a block function: whole columns in, one answer or one table out.

    Parameters
    ----------
    function : Function
        Its declaration.
    blocks : dict
        Block of cells of each argument; None where an optional one was left out.

    Returns
    -------
    Answer
        Rows with a blank in a required column are passed over; without any row it is blank.

    Raises
    ------
    Refused
        For the first bad cell, named by its row.
    """
    values = _checked(function, blocks)
    if values is None:
        return Answer([None], (1, 1))
    for rule in function.rules:
        if np.any(rule.broken(values)):
            raise Refused(rule.reason(values))
    return _answer(function, values)


def _checked(function: Function, blocks: dict[str, Block | None]) -> dict[str, Any] | None:
    """Read the arguments by name; None where one that is required is blank."""
    values: dict[str, Any] = {}
    paired: dict[str, tuple[Argument, Column]] = {}
    air: ClimateTable | None = None
    for argument in function.arguments:
        cells = blocks[argument.name]
        if cells is None or _left_out(argument, cells):
            values[argument.name] = None if argument.shape == "block" else default_of(argument)
        elif argument.kind == "climate":
            air = read_climate(cells)
            if air is None:
                return None
            values[argument.name] = air.climate
        elif argument.shape == "block":
            paired[argument.name] = (argument, read(argument, cells))
        else:
            column = _one_cell(argument, cells)
            if column.blank is not None and not argument.optional:
                return None
            values[argument.name] = column.values.ravel()[0]
    if paired and _paired_rows(paired, values, function) == 0:
        return None
    if air is not None:
        _name_places(air, values)
    return values


def _one_cell(argument: Argument, cells: Block) -> Column:
    """Read the cell of an argument that has no column."""
    if cells.size != 1:
        raise Refused(f"{argument.name} takes one cell, not {cells.size}")
    column = read(argument, cells)
    if column.problems:
        raise column.problems[0]
    return column


def _name_places(air: ClimateTable, values: dict[str, Any]) -> None:
    """Put the names of the places as they stand in the table into the values."""
    for name in PLACES:
        if name in values:
            if reason := air.place_problem(values[name], name):
                raise Refused(reason)
            values[name] = air.named(values[name], name)


def _answer(function: Function, values: dict[str, Any]) -> Answer:
    """Compute the answer of checked values: a table, or one cell."""
    row_count = values.pop("row_count", math.nan)
    with np.errstate(all="ignore"):
        result = function.compute(**values)
    if function.spills:
        table = _table(_rows(result, row_count))
        never = [place for place, cell in enumerate(table.values) if cell is NOT_REACHED]
        if function.remark is not None and never:
            table.remarks = remarks_at(never, function.remark(values))
        return table
    single = np.asarray(result).reshape(1)
    if no_answer(single)[0]:
        raise Refused(function.missing.format(**values))
    if beyond_cells(single)[0]:
        raise Refused(BEYOND[single.dtype.kind])
    return Answer([result], (1, 1))


def _left_out(argument: Argument, cells: Block) -> bool:
    """Tell whether one blank cell stands where an optional column could."""
    return argument.optional and cells.size == 1 and is_blank(cells[0, 0])


def _paired_rows(
    paired: dict[str, tuple[Argument, Column]], values: dict[str, Any], function: Function
) -> int:
    """Put the complete rows of the paired columns into the values; give their number."""
    sizes = {name: column.values.size for name, (_, column) in paired.items()}
    if len(set(sizes.values())) > 1:
        listed = ", ".join(f"{name} {size}" for name, size in sizes.items())
        raise Refused(f"the columns are not equally long: {listed} cells")
    required = {
        name: _blank(column) for name, (argument, column) in paired.items() if not argument.optional
    }
    kept = np.ones(next(iter(sizes.values())), bool)
    for blank in required.values():
        kept &= ~blank
    if function.unbroken and kept.any():
        first, last = np.flatnonzero(kept)[[0, -1]]
        for row in first + np.flatnonzero(~kept[first:last]):
            name = next(name for name, blank in required.items() if blank[row])
            raise Refused(f"row {row + 1}: {name} is missing; the record must have no gap")
    columns = {name: column.values for name, (_, column) in paired.items()}
    chosen = np.ones(kept.size, bool)
    if function.selects is not None:
        chosen &= function.selects(values, columns)
    kept &= chosen
    for _, column in paired.values():
        for place, refusal in sorted(column.problems.items()):
            if kept[place]:
                raise refusal.at(f"row {place + 1}")
    if function.counts is not None:
        _none_passed_over(function, function.counts(columns).ravel(), paired, chosen)
    for name, (_, column) in paired.items():
        values[name] = np.asarray(column.values).ravel()[kept]
    return int(kept.sum())


def _none_passed_over(
    function: Function,
    counts: NDArray[np.bool_],
    paired: dict[str, tuple[Argument, Column]],
    chosen: NDArray[np.bool_],
) -> None:
    """Refuse a blank in a row that counts, of the chosen rows or of none that is told."""
    for name, (argument, column) in paired.items():
        if argument.optional and function.selects is None:
            continue
        missing = counts & _blank(column) & (chosen | argument.optional)
        if missing.any():
            row = int(np.flatnonzero(missing)[0])
            raise Refused(f"row {row + 1}: {name} is missing, but the row counts")


def _blank(column: Column) -> NDArray[np.bool_]:
    none = np.zeros(column.values.size, bool)
    return none if column.blank is None else column.blank.ravel()


def _rows(columns: Sequence[Sequence[Any]], row_count: float) -> list[tuple[Any, ...]]:
    """Lay columns out as rows, cut or padded with blanks to a number of rows where one is given."""
    rows = list(zip(*columns, strict=True))
    if math.isnan(row_count):
        return rows
    count = int(row_count)
    return [*rows[:count], *[(None,) * len(columns)] * (count - len(rows))]


def _table(rows: list[tuple[Any, ...]]) -> Answer:
    """Make a table of rows; a date that is missing is a target that is not reached."""
    cells = [value for row in rows for value in row]
    for kind in (float, np.datetime64):
        alike = np.array([value for value in cells if isinstance(value, kind)])
        if beyond_cells(alike).any():
            raise Refused(BEYOND[alike.dtype.kind])
    return Answer([_shown(value) for value in cells], (len(rows), len(rows[0])))


def _shown(value: Any) -> Any:
    if isinstance(value, np.datetime64) and np.isnat(value):
        return NOT_REACHED
    return None if isinstance(value, float) and math.isnan(value) else value
