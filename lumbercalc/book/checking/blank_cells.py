"""Blank cells that stand alone as an argument of our functions: Calc hands them over as 0."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.checking.lone_cells import Given, calls
from lumbercalc.book.checking.silent import own_of_ours
from lumbercalc.book.xlsx.cell_value import is_error
from lumbercalc.book.xlsx.places import Area, Place, address
from lumbercalc.sheet.function import Argument, formula_text

BLANK = "blank cell"
"""In the words of a refusal that tells of it itself."""
NEVER_MEANT = ("deg F", "% MC")
"""Units of which a blank cell means that nothing was read; a blank amount may well mean none."""


def blanks_as_0(fresh: Fresh) -> Iterator[Finding]:
    """Find blank cells that count as 0 in a workbook of Calc, where nobody means 0 by them.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        One for each blank cell and argument, at the first formula that reads it.
    """
    found: dict[tuple[str, str, Place], list[Place]] = defaultdict(list)
    arguments: dict[tuple[str, str, Place], Argument] = {}
    for place in own_of_ours(fresh) if fresh.from_calc else ():
        for name, given in calls(fresh, place):
            for each in given:
                if _is_taken_for_0(fresh, each, given) and _tells_apart(fresh, place):
                    key = name, each.argument.name, each.area.first
                    found[key].append(place)
                    arguments[key] = each.argument
    for key, (place, *others) in found.items():
        name, _, cell = key
        yield Finding(Kind.BLANK, place, _told(name, arguments[key], place, cell, len(others)))


def of_a_blank(fresh: Fresh, place: Place, reason: str) -> str:
    """Name the blank cell for which one of a shop's own formulas is refused.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.
    place : tuple
        Of a cell that the formula fills.
    reason : str
        Of the refusal.

    Returns
    -------
    str
        "" where it is not for a blank cell, or says so itself.
    """
    formula = fresh.filled.get(place, place)
    for name, given in calls(fresh, formula) if fresh.from_calc and formula in fresh.own else ():
        for each in given:
            is_it = reason.startswith(f"{name}: {each.argument.name} is 0")
            if is_it and each.cell and fresh.is_blank(each.cell) and BLANK not in reason:
                return f" ({address(each.cell)} is blank, which LibreOffice counts as 0)"
    return ""


def _is_taken_for_0(fresh: Fresh, blank: Given, given: list[Given]) -> bool:
    """Tell whether a cell is blank, what stands beside it is not, and 0 is another answer."""
    argument = blank.argument
    if argument.kind != "number" or argument.shape != "cell" or not argument.limits.inside(0.0):
        return False
    if argument.default == 0 or not (argument.optional or argument.limits.unit in NEVER_MEANT):
        return False
    if blank.cell is None or not fresh.is_blank(blank.cell):
        return False
    others = [(each, _holds_something(fresh, each.area)) for each in given if each is not blank]
    if not all(is_filled or each.argument.optional for each, is_filled in others):
        return False
    return not blank.moves or any(each.moves and is_filled for each, is_filled in others)


def _holds_something(fresh: Fresh, area: Area) -> bool:
    rows = range(area.first_row, area.last_row + 1)
    columns = range(area.first_column, area.last_column + 1)
    return any(not fresh.is_blank((area.sheet, row, column)) for row in rows for column in columns)


def _tells_apart(fresh: Fresh, place: Place) -> bool:
    """Tell whether a formula comes to something else where its blank cells stay blank."""
    again = fresh.computed.again
    as_0, as_blank = again.answer(place), again.answer(place, blanks_stay=True)
    if as_0 is None or as_blank is None or is_error(as_0.values[0][0]):
        return False
    return as_0.values != as_blank.values


def _told(name: str, argument: Argument, place: Place, cell: Place, others: int) -> str:
    where = address(cell) if cell[0] == place[0] else f"{cell[0]}!{address(cell)}"
    told = f"{name}: {argument.name} is the blank cell {where}, which LibreOffice counts as 0"
    told += f" {argument.limits.unit}; type the value"
    if argument.optional:
        left_out = "" if argument.default is None else f" (then {formula_text(argument.default)})"
        told += f", or leave the argument out{left_out}"
    return told + (f"; {others} more formulas read it" if others > 1 else
                   "; one more formula reads it" if others else "")  # fmt: skip
