"""Compute every formula of a workbook without a spreadsheet, our functions included."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from openpyxl import load_workbook
from openpyxl.utils.cell import column_index_from_string, coordinate_to_tuple
from openpyxl.workbook import Workbook

from lumbercalc.book.engine.areas import areas_read, formula_cells
from lumbercalc.book.engine.as_stored import AsStored
from lumbercalc.book.engine.blank_rows import BlankRows
from lumbercalc.book.engine.dependence import Dependence
from lumbercalc.book.engine.filled_down import FilledDown
from lumbercalc.book.engine.functions import register
from lumbercalc.book.engine.guarded import NO_VALUE
from lumbercalc.book.engine.otherwise import Again
from lumbercalc.book.engine.trim import Dropped, trim
from lumbercalc.book.engine.values import Refusal, cell_value
from lumbercalc.book.page.table import Table
from lumbercalc.book.xlsx.cell_value import Values
from lumbercalc.book.xlsx.places import Area, Place, address
from lumbercalc.collector import without_collector

NOT_READ = "the formula cannot be read"
CIRCULAR = "it depends on itself, directly or through other cells"
FOLLOWS = "it depends on {}!{}: {}"

Where = tuple[str, str]
"""Sheet and address."""

MOST_CIRCLES = 100
"""Cells that depend on themselves and are told so; the others are said to depend on those."""


@dataclass(frozen=True)
class Computed:
    """What the formulas of a workbook come to.

    Parameters
    ----------
    values : dict
        By sheet and address.
    refusals : dict
        Reason by sheet and address of each cell that our functions refuse.
    passed_on : dict
        For a refusal that came in from another cell: the sheet and address of that one.
    missing : dict
        Sheet and address of each formula that cannot be computed: why.
    dependence : callable
        Finds the dependence of the formulas that were computed, when it is first asked for; blank
        rows of tables are not among them.
    again : Again
        Computes one of them once more, in another way.
    """

    values: Values
    refusals: dict[Where, str]
    passed_on: dict[Where, Where]
    missing: dict[Where, str]
    dependence: Callable[[], Dependence]
    again: Again


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

    Raises
    ------
    RuntimeError
        When a formula cannot be computed.
    """
    computed = compute_workbook(load_workbook(path), tables)
    for (sheet, where), why in computed.missing.items():
        raise RuntimeError(f"no value was computed for {sheet}!{where}: {why}")
    return computed.values


@dataclass(frozen=True)
class Checking:
    """What is known of a workbook that is checked.

    Parameters
    ----------
    not_given : mapping
        Sheet and address of formulas that are not in the workbook, and why: what depends on them
        is not computed either.
    sheets : sequence of str
        Names of the sheets in the answer, which may be others than in the workbook.
    as_stored : AsStored, optional
        What is taken as it is stored; it then knows what changed. Without it all is computed.
    from_calc : bool
        Whether cells arrive at our functions as in Calc: a blank one that stands alone as 0.
    readers : collection of tuple
        Formulas, by the sheet's name in the workbook, that see the rows that are cut away.
    """

    not_given: Mapping[Where, str]
    sheets: Sequence[str]
    as_stored: AsStored | None
    from_calc: bool
    readers: Collection[Place]


def compute_workbook(
    workbook: Workbook, tables: Sequence[Table] = (), checking: Checking | None = None
) -> Computed:
    """Compute the formulas of a workbook, as far as they can be.

    Parameters
    ----------
    workbook : Workbook
        With formulas; it is cut down.
    tables : sequence of Table
        Tables whose blank rows share one computation.
    checking : Checking, optional
        Of a workbook that is checked: what spreadsheets compute otherwise has no value. Of another
        it is #VALUE!.

    Returns
    -------
    Computed
        Values, and where there is none, why.
    """
    dropped = trim(workbook, tables)
    sheets = checking.sheets if checking else workbook.sheetnames
    names = {own.upper(): name for own, name in zip(workbook.sheetnames, sheets, strict=True)}
    computed = _compute(workbook, names, dropped, checking)
    for part in dropped:
        for letter, row in part.addresses:
            for told in (computed.values, computed.missing, computed.refusals):
                _share(told, part.sheet, f"{letter}{row}", f"{letter}{part.blank_row}")
    return computed


def _model(dropped: Sequence[Dropped], readers: Collection[Place]) -> FilledDown:
    if not readers:
        return FilledDown()
    like = {
        (part.sheet.upper(), column_index_from_string(letter), row): part.blank_row
        for part in dropped
        for letter, row in part.addresses
    }
    return FilledDown(BlankRows(like, ((each[0].upper(), *each[1:]) for each in readers)))


def _share(told: dict[Where, Any], sheet: str, where: str, like: str) -> None:
    if (sheet, like) in told:
        told[sheet, where] = told[sheet, like]


@dataclass(frozen=True)
class _Collected:
    """What the engine came to, formula by formula.

    Parameters
    ----------
    values, refusals, passed_on
        As in `Computed`.
    absent : list of tuple
        Formulas that were not computed.
    no_values : dict
        Those that came to what no cell can hold, and why.
    unknown : list of tuple
        Those to which it came from another.
    """

    values: Values = field(default_factory=dict)
    refusals: dict[Where, str] = field(default_factory=dict)
    passed_on: dict[Where, Where] = field(default_factory=dict)
    absent: list[Place] = field(default_factory=list)
    no_values: dict[Place, str] = field(default_factory=dict)
    unknown: list[Place] = field(default_factory=list)


def _compute(
    workbook: Workbook,
    names: Mapping[str, str],
    dropped: Sequence[Dropped],
    checking: Checking | None,
) -> Computed:
    register(from_calc=checking is not None and checking.from_calc, is_check=checking is not None)
    model = _model(dropped, checking.readers if checking else ())
    with without_collector():
        model.take(workbook)
        if checking is not None and checking.as_stored is not None:
            checking.as_stored.watch(model, names)
        model.finish(complete=False)
        solution = model.calculate()
        found = _collected(model, solution, names)

    @cache
    def dependence() -> Dependence:
        return Dependence(_read(model, names))

    not_read = {(names[sheet], where): NOT_READ for sheet, where in model.not_read}
    missing = _why_missing(
        found, dependence, {**(checking.not_given if checking else {}), **not_read}
    )
    values = {where: value for where, value in found.values.items() if where not in missing}
    again = Again(model, solution, names)
    return Computed(values, found.refusals, found.passed_on, missing, dependence, again)


def _collected(model: FilledDown, solution: Any, names: Mapping[str, str]) -> _Collected:
    """Take values and refusals out of the engine, in the order in which it computed them."""
    collected = _Collected()
    first: dict[int, Where] = {}
    order = {key: number for number, key in enumerate(solution)}
    cells = formula_cells(model, names)
    for cell, area in sorted(cells, key=lambda each: order.get(each[0].output, len(order))):
        result = solution.get(cell.output)
        if result is None:
            collected.absent.extend(area.places)
            continue
        found = np.asarray(result.value, object).ravel()
        for place, value in zip(area.places, found, strict=True):
            where = (area.sheet, address(place))
            held = cell_value(value)
            if held is None:
                if first.setdefault(id(value), where) == where:
                    collected.no_values[place] = getattr(value, "reason", NO_VALUE)
                else:
                    collected.unknown.append(place)
                continue
            collected.values[where] = held
            if isinstance(value, Refusal):
                collected.refusals[where] = value.reason
                origin = first.setdefault(id(value), where)
                if origin != where:
                    collected.passed_on[where] = origin
    return collected


def _read(model: FilledDown, names: Mapping[str, str]) -> dict[Place, list[Area]]:
    """Give the areas that each formula reads."""
    read: dict[Place, list[Area]] = {}
    for cell, area in formula_cells(model, names):
        areas = list(areas_read(model, cell, names, area.sheet))
        read.update(dict.fromkeys(area.places, areas))
    return read


def _why_missing(
    found: _Collected, dependence: Callable[[], Dependence], known: Mapping[Where, str]
) -> dict[Where, str]:
    """Say why formulas have no value, or one that hangs on a formula without."""
    missing = dict(known)
    if not (missing or found.absent or found.no_values or found.unknown):
        return missing
    circles = [
        place for place in found.absent[:MOST_CIRCLES] if place in dependence().before([place])
    ]
    missing |= {(place[0], address(place)): CIRCULAR for place in circles}
    missing |= {(place[0], address(place)): reason for place, reason in found.no_values.items()}
    unknown = [(sheet, *coordinate_to_tuple(where)) for sheet, where in missing]
    for place, cause in dependence().after(unknown).items():
        why = missing[cause[0], address(cause)]
        missing.setdefault(
            (place[0], address(place)), FOLLOWS.format(cause[0], address(cause), why)
        )
    for place in (*found.absent, *found.unknown):
        missing.setdefault((place[0], address(place)), NO_VALUE)
    return missing
