"""How one cell is read as a number, a thickness, a choice, a species, a text, a date or a flag."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any, TypeAlias

import numpy as np

from lumbercalc.sheet.function import Argument, Kind
from lumbercalc.wood import species
from lumbercalc.wood.tally import inches_from_quarters

MARKER = "#INPUT: "
"""How a host without error values writes a refusal; coming in, it goes out unchanged."""

ERROR_TEXTS = frozenset(
    {"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#SPILL!", "#CALC!"}
    | {"#GETTING_DATA", "#FIELD!", "#BLOCKED!", "#CONNECT!", "#BUSY!", "#UNKNOWN!"}
    | {f"Err:{code}" for code in range(501, 541)}
)
"""What error cells look like when a host or a file hands them over as text."""

FIRST_SERIAL = 61
"""Serial of 1900-03-01: before it the hosts' calendars differ."""

LAST_SERIAL = 2958465
"""Serial of LAST_DAY."""

LAST_DAY = np.datetime64("9999-12-31", "D")
"""The last day of both hosts."""

SERIAL_ZERO = date(1899, 12, 30)
"""Day 0 of the hosts' serial dates from 61 up."""

NUMBERS = (int, float, np.integer, np.floating, Decimal)
"""What hosts send for a number; a truth value is one of these in Python, but not here."""

MemoryOf: TypeAlias = dict[str, Any]
"""Texts already read in this column: the same text is looked up once."""


class Refused(ValueError):  # noqa: N818 - what happened to the cell, in the words of the messages
    """A cell that cannot be used; its text says the value and the limit."""

    def at(self, where: str) -> Refused:
        """Say where the cell stands.

        Parameters
        ----------
        where : str
            Its row or place, in words.

        Returns
        -------
        Refused
            With the place before the reason.
        """
        return Refused(f"{where}: {self}")


class PassedOn(Refused):
    """A refusal of another call that came in as a cell: its words go out unchanged."""

    def at(self, where: str) -> Refused:
        """Leave the reason as it came.

        Parameters
        ----------
        where : str
            Not used.

        Returns
        -------
        Refused
            This one.
        """
        return self


def is_blank(cell: Any) -> bool:
    """Tell whether a cell is blank: nothing, an empty or white text, or a missing number.

    Parameters
    ----------
    cell : object
        Any cell of any host.

    Returns
    -------
    bool
        True for a blank.

    Examples
    --------
    >>> is_blank("  "), is_blank(float("nan")), is_blank(0)
    (True, True, False)
    """
    if cell is None:
        return True
    if isinstance(cell, str):
        return not cell or cell.isspace()
    if isinstance(cell, (float, np.floating)):
        return math.isnan(cell)
    if isinstance(cell, Decimal):
        return cell.is_nan()
    # A missing date (NaT) is the only one that is not equal to itself.
    return isinstance(cell, (date, np.datetime64)) and bool(cell != cell)


def blank_of(kind: Kind) -> Any:
    """Give the value that stands in a blank cell of a column of this kind.

    Parameters
    ----------
    kind : str
        Kind of the argument.

    Returns
    -------
    object
        NaN, no date, False or an empty text.
    """
    if kind in ("number", "thickness"):
        return math.nan
    if kind == "date":
        return np.datetime64("NaT", "D")
    return False if kind == "flag" else ""


def shown(cell: Any) -> str:
    """Show a cell in a message: numbers plain, texts in quotes, never longer than 60 characters.

    Parameters
    ----------
    cell : object
        Any cell.

    Returns
    -------
    str
        For a message.

    Examples
    --------
    >>> shown(7.50), shown("oak")
    ('7.5', 'the text "oak"')
    """
    if isinstance(cell, (bool, np.bool_)):
        return "TRUE" if cell else "FALSE"
    if _is_number(cell):
        try:
            return f"{float(cell):.15g}"  # as many digits as a sheet keeps
        except OverflowError:
            return "a number of more than 300 digits"
    if isinstance(cell, str):
        printable = "".join(c if c.isprintable() else " " for c in cell)
        return f'the text "{printable if len(printable) <= 60 else printable[:57] + "..."}"'
    text = str(cell)
    return text if len(text) <= 60 else text[:57] + "..."


def _refuse_errors(argument: Argument, cell: Any) -> None:
    if isinstance(cell, str):
        if cell.startswith(MARKER):
            raise PassedOn(cell.removeprefix(MARKER))
        if cell.strip() in ERROR_TEXTS:
            raise Refused(
                f"{argument.name} is the error {cell.strip()}; it must be {argument.limits.words()}"
            )


def _is_number(cell: Any) -> bool:
    return isinstance(cell, NUMBERS) and not isinstance(cell, (bool, np.timedelta64))


def _refused(argument: Argument, cell: Any, hint: str = "") -> Refused:
    limits = argument.limits
    has_unit = isinstance(cell, float) and limits.lowest is not None
    value = f"{shown(cell)} {limits.unit}" if has_unit else shown(cell)
    return Refused(f"{argument.name} is {value}; it must be {limits.words()}{hint}")


def read_number(argument: Argument, cell: Any, memory: MemoryOf) -> float:
    """Read a number inside the argument's limits.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Not used.

    Returns
    -------
    float
        [unit of the argument]

    Raises
    ------
    Refused
        For a text, a truth value, a date, or a number outside the limits.
    """
    _refuse_errors(argument, cell)
    if not _is_number(cell):
        raise _refused(argument, cell)
    try:
        number = float(cell)
    except OverflowError:
        raise _refused(argument, cell) from None
    if argument.limits.outside(np.float64(number)):
        hint = ""
        if number == 0 and argument.optional:
            hint = ' (a blank cell of Calc arrives as 0: pass IF(x="","",x))'
        raise _refused(argument, number, hint)
    return number


def read_thickness(argument: Argument, cell: Any, memory: MemoryOf) -> float:
    """Read a thickness: inches, or quarters such as "8/4" as text.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Not used.

    Returns
    -------
    float
        [in]

    Raises
    ------
    Refused
        For other texts, and for the date that a sheet makes of 8/4 typed as a number.
    """
    _refuse_errors(argument, cell)
    quarters = ' (inches, or quarters such as "8/4")'
    if isinstance(cell, str):
        inches = inches_from_quarters(cell)
        if inches is None:
            raise _refused(argument, cell, quarters)
        return read_number(argument, inches, memory)
    if isinstance(cell, (date, np.datetime64)) or (
        _is_number(cell) and FIRST_SERIAL <= cell <= LAST_SERIAL
    ):
        raise Refused(
            f"{argument.name} is {shown(cell)}, which looks like a date: a sheet makes one of "
            f'8/4; format the cell as text first; it must be {argument.limits.words()} or "8/4"'
        )
    return read_number(argument, cell, memory)


def read_choice(argument: Argument, cell: Any, memory: MemoryOf) -> str:
    """Read one of the argument's choices.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Texts already read.

    Returns
    -------
    str
        The choice as declared.

    Raises
    ------
    Refused
        For anything else.
    """
    _refuse_errors(argument, cell)
    if isinstance(cell, str):
        if cell not in memory:
            memory[cell] = argument.limits.choice(cell)
        if memory[cell] is not None:
            return str(memory[cell])
    raise _refused(argument, cell)


def read_species(argument: Argument, cell: Any, memory: MemoryOf) -> str:
    """Read a species by one of its names.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Names already matched.

    Returns
    -------
    str
        The name in the species table.

    Raises
    ------
    Refused
        For an unknown name; the nearest names are offered.
    """
    _refuse_errors(argument, cell)
    if not isinstance(cell, str):
        raise _refused(argument, cell, " name, such as Walnut, black")
    if cell not in memory:
        memory[cell] = species.match(cell) or _refused(
            argument, cell, _offer(species.nearest(cell))
        )
    if isinstance(memory[cell], Refused):
        raise memory[cell]
    return str(memory[cell])


def _offer(names: list[str]) -> str:
    if not names:
        return " in the species table"
    return " in the table; the nearest: " + "; ".join(names)


def read_text(argument: Argument, cell: Any, memory: MemoryOf) -> str:
    """Read a text; a number is taken as the text it shows (a board tagged 12).

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Not used.

    Returns
    -------
    str
        Without surrounding blanks.

    Raises
    ------
    Refused
        For error texts, texts that are too long, and what no cell can hold.
    """
    _refuse_errors(argument, cell)
    if not isinstance(cell, (str, *NUMBERS, np.bool_, date, np.datetime64)):
        raise _refused(argument, cell)
    text = cell.strip() if isinstance(cell, str) else shown(cell)
    if len(text) > argument.limits.longest:
        raise _refused(argument, text, f", not {len(text)}")
    return text


def read_date(argument: Argument, cell: Any, memory: MemoryOf) -> np.datetime64:
    """Read a date: a date, a datetime, ISO text, or a serial number from 61 up.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Not used.

    Returns
    -------
    datetime64[D]
        The day; a time of day is dropped.

    Raises
    ------
    Refused
        For anything else, and for times with a time zone.
    """
    _refuse_errors(argument, cell)
    how = ", as YYYY-MM-DD or a date cell from 1900-03-01 to 9999-12-31"
    if isinstance(cell, str):
        try:
            cell = datetime.fromisoformat(cell.strip())
        except ValueError:
            raise _refused(argument, cell, how) from None
    if isinstance(cell, datetime):
        if cell.tzinfo is not None:
            raise _refused(argument, cell, " without a time zone")
        cell = cell.date()
    if isinstance(cell, date):
        serial = float((cell - SERIAL_ZERO).days)
    elif isinstance(cell, np.datetime64):  # a year beyond 9999 is no Python date
        serial = float((cell.astype("datetime64[D]") - np.datetime64(SERIAL_ZERO)).astype(int))
    elif not _is_number(cell):
        raise _refused(argument, cell, how)
    else:
        try:
            serial = float(cell)
        except OverflowError:
            raise _refused(argument, cell, how) from None
    if not FIRST_SERIAL <= serial < LAST_SERIAL + 1:
        raise _refused(argument, cell, how)
    return np.datetime64(SERIAL_ZERO + timedelta(days=int(serial)), "D")


def read_flag(argument: Argument, cell: Any, memory: MemoryOf) -> bool:
    """Read a truth value: TRUE or FALSE, or the 1 or 0 that a host sends for it.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    memory : dict
        Not used.

    Returns
    -------
    bool
        The truth value.

    Raises
    ------
    Refused
        For anything else.
    """
    _refuse_errors(argument, cell)
    if isinstance(cell, (bool, np.bool_)) or (_is_number(cell) and cell in (0, 1)):
        return bool(cell)
    raise _refused(argument, cell)


READERS: dict[str, Callable[[Argument, Any, MemoryOf], Any]] = {
    "number": read_number,
    "thickness": read_thickness,
    "choice": read_choice,
    "species": read_species,
    "text": read_text,
    "date": read_date,
    "flag": read_flag,
}
"""Reader of each kind of argument; a climate table has its own module."""
