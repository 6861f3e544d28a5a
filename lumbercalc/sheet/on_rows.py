"""A call of a row function: every row of the cells is checked and answered for itself."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.answer import (
    BEYOND,
    NOT_REACHED,
    Answer,
    all_answered,
    beyond_cells,
    no_answer,
    remarks_at,
)
from lumbercalc.sheet.cells import Block
from lumbercalc.sheet.climate_table import PLACES, ClimateTable, read_climate
from lumbercalc.sheet.columns import Column, default_of, read
from lumbercalc.sheet.function import Function, Rule
from lumbercalc.sheet.refusal import Refused
from lumbercalc.wood.texts import Texts


def call_on_rows(function: Function, blocks: dict[str, Block | None]) -> Answer:
    """Call a row function: columns against single cells, the answer in the columns' shape.

    Parameters
    ----------
    function : Function
        Its declaration.
    blocks : dict
        Block of cells of each argument; None where an optional one was left out.

    Returns
    -------
    Answer
        A row with a blank required cell is blank; a row with a bad cell is a problem.

    Raises
    ------
    Refused
        When no row can have an answer: columns of different lengths, an unusable climate.
    """
    values, columns, table = _read(function, blocks)
    shape = _shape(columns)
    size = math.prod(shape)
    if size == 0:
        return Answer([None], (1, 1))
    if table is None and "climate" in values:
        return Answer([None] * size, shape)
    blank, problems = _set_apart(function, columns, shape)
    values |= {name: column.spread(shape) for name, column in columns.items()}
    if table is not None:
        for name in PLACES:
            if name in values:
                _check_places(table, name, values, size, problems)
    if blank is None and not problems:
        part = answer_of_checked(function, values, size)
        return Answer(part.cells, shape, part.problems, part.remarks)
    good = np.ones(size, bool) if blank is None else ~blank
    problems = {place: reason for place, reason in problems.items() if good[place]}
    good[list(problems)] = False
    if not good.any():
        return Answer([None] * size, shape, problems)
    used = {name: _taken(value, good) for name, value in values.items()}
    part = answer_of_checked(function, used, int(np.count_nonzero(good)))
    return _spread(part, good, problems, shape)


def _read(
    function: Function, blocks: dict[str, Block | None]
) -> tuple[dict[str, Any], dict[str, Column], ClimateTable | None]:
    """Read the arguments: what is one value for all rows, the columns, and the air."""
    values: dict[str, Any] = {}
    columns: dict[str, Column] = {}
    table: ClimateTable | None = None
    for argument in function.arguments:
        cells = blocks[argument.name]
        if cells is None:
            values[argument.name] = default_of(argument)
        elif argument.kind == "climate":
            table = read_climate(cells)
            values[argument.name] = table and table.climate
        else:
            columns[argument.name] = read(argument, cells)
    return values, columns, table


def _shape(columns: dict[str, Column]) -> tuple[int, int]:
    """Find the shape of the answer: that of the columns, which single cells go with."""
    try:
        rows, width = np.broadcast_shapes((1, 1), *(each.values.shape for each in columns.values()))
    except ValueError:
        sizes = ", ".join(
            f"{name} {column.values.shape[0]} x {column.values.shape[1]}"
            for name, column in columns.items()
            if column.values.size != 1
        )
        raise Refused(f"the columns are not equally long: {sizes} cells") from None
    return int(rows), int(width)


def _set_apart(
    function: Function, columns: dict[str, Column], shape: tuple[int, int]
) -> tuple[NDArray[np.bool_] | None, dict[int, str]]:
    """Mark the rows with a blank required cell, None for no such row; tell the refused cells."""
    blanks: list[NDArray[np.bool_]] = []
    problems: dict[int, str] = {}
    for argument in function.arguments:
        column = columns.get(argument.name)
        if column is None:
            continue
        if not argument.optional and column.blank is not None:
            blanks.append(np.broadcast_to(column.blank, shape).ravel())
        if column.problems:
            cell = np.arange(column.values.size).reshape(column.values.shape)
            for place, at in enumerate(np.broadcast_to(cell, shape).ravel().tolist()):
                if at in column.problems:
                    problems.setdefault(place, str(column.problems[at]))
    return (np.logical_or.reduce(blanks) if blanks else None), problems


def answer_of_checked(function: Function, values: dict[str, Any], size: int) -> Answer:
    """Answer rows that are complete and inside the limits of each argument.

    Parameters
    ----------
    function : Function
        Its declaration.
    values : dict
        Of each argument one value, or a column of `size` values.
    size : int
        Number of rows.

    Returns
    -------
    Answer
        One cell a row; a row that breaks a rule across arguments is a problem.
    """
    problems = _broken_rules(function.rules, values, size)
    if not problems:
        return _computed(function, values, size)
    if len(problems) == size:
        return Answer([None] * size, (size, 1), problems)
    good = np.ones(size, bool)
    good[list(problems)] = False
    kept = {name: _taken(value, good) for name, value in values.items()}
    return _spread(
        _computed(function, kept, int(np.count_nonzero(good))), good, problems, (size, 1)
    )


def _spread(
    part: Answer, good: NDArray[np.bool_], problems: dict[int, str], shape: tuple[int, int]
) -> Answer:
    """Put the answers of the good rows among the others."""
    places = np.flatnonzero(good).tolist()
    cells: list[Any] = [None] * good.size
    for place, value in zip(places, part.values, strict=True):
        cells[place] = value
    return Answer(
        cells,
        shape,
        problems | {places[i]: reason for i, reason in part.problems.items()},
        {places[i]: remark for i, remark in part.remarks.items()},
    )


def _check_places(
    table: ClimateTable, name: str, values: dict[str, Any], size: int, problems: dict[int, str]
) -> None:
    """Replace the places by their names in the table and mark the rows whose place fails."""
    typed = values[name]
    one = isinstance(typed, str)
    places = Texts((typed,), np.zeros(size, np.intp)) if one else typed
    reasons = [table.place_problem(place, name) for place in places.different]
    for i in np.flatnonzero(np.array(reasons, bool)[places.which]).tolist():
        problems.setdefault(i, reasons[places.which[i]])
    named = tuple(table.named(place, name) for place in places.different)
    values[name] = named[0] if one else Texts(named, places.which)


def _taken(value: Any, kept: Any) -> Any:
    return value[kept] if _is_column(value) else value


def _row(values: dict[str, Any], i: int) -> dict[str, Any]:
    return {name: value[i] if _is_column(value) else value for name, value in values.items()}


def _is_column(value: Any) -> bool:
    return isinstance(value, (np.ndarray, Texts)) and value.ndim == 1


def _broken_rules(rules: tuple[Rule, ...], values: dict[str, Any], size: int) -> dict[int, str]:
    broken: dict[int, str] = {}
    for rule in rules:
        mask = np.broadcast_to(np.asarray(rule.broken(values), bool), (size,))
        for i in np.flatnonzero(mask).tolist():
            broken.setdefault(i, rule.reason(_row(values, i)))
    return broken


def _computed(function: Function, values: dict[str, Any], size: int) -> Answer:
    with np.errstate(all="ignore"):
        result = np.asarray(function.compute(**values))
    column = result.reshape(size) if result.size == size else np.broadcast_to(result, (size,))
    if column.dtype.kind == "U":
        column = column.astype(object)
    if all_answered(column):
        return Answer(column, (size, 1))
    none, beyond = no_answer(column), beyond_cells(column)
    never = none if column.dtype.kind == "M" else beyond
    cells = column.tolist()
    part = Answer(cells, (size, 1))
    if function.remark is not None and never.any():
        words = function.remark({name: _taken(value, never) for name, value in values.items()})
        part.remarks = remarks_at(np.flatnonzero(never).tolist(), words)
    for i in np.flatnonzero(none | beyond).tolist():
        if i in part.remarks:
            cells[i] = NOT_REACHED
            continue
        cells[i] = None
        part.problems[i] = (
            BEYOND[column.dtype.kind] if beyond[i] else function.missing.format(**_row(values, i))
        )
    return part
