"""How one cell is read as a number, a thickness, a choice, a species, a text or a flag."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from typing import Any

import numpy as np

from lumbercalc.sheet.blanks import is_blank, is_blank_of_calc
from lumbercalc.sheet.dates import FIRST_SERIAL, LAST_SERIAL, read_date
from lumbercalc.sheet.function import Argument
from lumbercalc.sheet.refusal import NUMBERS, Refused, is_number, refuse_errors, refused, shown
from lumbercalc.wood import species
from lumbercalc.wood.tally import inches_from_quarters


def read_number(argument: Argument, cell: Any) -> float:
    """Read a number inside the argument's limits.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    float
        [unit of the argument]

    Raises
    ------
    Refused
        For a text, a truth value, a date, or a number outside the limits.
    """
    refuse_errors(argument, cell)
    if not is_number(cell):
        raise refused(argument, cell, argument.hint)
    try:
        number = float(cell)
    except OverflowError:
        raise refused(argument, cell) from None
    if not argument.limits.inside(number):
        hint = ""
        if number == 0 and argument.optional:
            hint = ' (a blank cell of Calc arrives as 0: pass IF(x="","",x))'
        raise refused(argument, number, hint)
    return number


AS_TEXT = ' (as a text only quarters, such as "4/4" for 1 in)'


def _says_a_number(text: str) -> bool:
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False


def read_thickness(argument: Argument, cell: Any) -> float:
    """Read a thickness: inches, or quarters such as "8/4" as text.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    float
        [in]

    Raises
    ------
    Refused
        For other texts, and for the date that a sheet makes of 8/4 typed as a number.
    """
    refuse_errors(argument, cell)
    quarters = ' (inches, or quarters such as "8/4")'
    if isinstance(cell, str):
        inches = inches_from_quarters(cell)
        if inches is None:
            raise refused(argument, cell, AS_TEXT if _says_a_number(cell) else quarters)
        return read_number(argument, inches)
    if isinstance(cell, (date, np.datetime64)) or (
        is_number(cell) and FIRST_SERIAL <= cell <= LAST_SERIAL
    ):
        raise Refused(
            f"{argument.name} is {shown(cell)}, which looks like a date: a sheet makes one of "
            f'8/4; format the cell as text first; it must be {argument.limits.words()} or "8/4"'
        )
    return read_number(argument, cell)


def read_choice(argument: Argument, cell: Any) -> str:
    """Read one of the argument's choices.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    str
        The choice as declared.

    Raises
    ------
    Refused
        For anything else.
    """
    refuse_errors(argument, cell)
    choice = argument.limits.choice(cell) if isinstance(cell, str) else None
    if choice is None:
        raise refused(argument, cell)
    return choice


def read_species(argument: Argument, cell: Any) -> str:
    """Read a species by one of its names.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    str
        The name in the species table.

    Raises
    ------
    Refused
        For an unknown name; the nearest names are offered.
    """
    refuse_errors(argument, cell)
    if not isinstance(cell, str):
        raise refused(argument, cell, " name, such as Walnut, black")
    name = species.match(cell)
    if name is None:
        raise refused(argument, cell, _offer(species.nearest(cell)))
    return name


def _offer(names: list[str]) -> str:
    if not names:
        return " in the species table"
    return " in the table; the nearest: " + "; ".join(names)


def read_text(argument: Argument, cell: Any) -> str:
    """Read a text; a number is taken as the text it shows (a board tagged 12).

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    str
        Without surrounding blanks.

    Raises
    ------
    Refused
        For error texts, texts that are too long, and what no cell can hold.
    """
    refuse_errors(argument, cell)
    if not isinstance(cell, (str, *NUMBERS, np.bool_, date, np.datetime64)):
        raise refused(argument, cell)
    text = cell.strip() if isinstance(cell, str) else shown(cell)
    if len(text) > argument.limits.longest:
        raise refused(argument, text, f", not {len(text)}")
    return text


def read_flag(argument: Argument, cell: Any) -> bool:
    """Read a truth value: TRUE or FALSE, or the 1 or 0 that a host sends for it.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.

    Returns
    -------
    bool
        The truth value.

    Raises
    ------
    Refused
        For anything else.
    """
    refuse_errors(argument, cell)
    if isinstance(cell, (bool, np.bool_)) or (is_number(cell) and cell in (0, 1)):
        return bool(cell)
    raise refused(argument, cell)


def read_cell(argument: Argument, cell: Any) -> Any:
    """Read one cell as an argument.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Any cell of any host.

    Returns
    -------
    object
        The checked value, None for a blank cell, or the refusal.
    """
    if is_blank(cell) or is_blank_of_calc(argument, cell):
        return None
    try:
        return READERS[argument.kind](argument, cell)
    except Refused as refusal:
        return refusal


READERS: dict[str, Callable[[Argument, Any], Any]] = {
    "number": read_number,
    "thickness": read_thickness,
    "choice": read_choice,
    "species": read_species,
    "text": read_text,
    "date": read_date,
    "flag": read_flag,
}
"""Reader of each kind of argument; a climate table has its own module."""
