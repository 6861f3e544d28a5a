"""Cells that cannot be used: what is said of them, and what other hosts' errors look like."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np

from lumbercalc.sheet.function import Argument

MARKER = "#INPUT: "
"""How a host without error values writes a refusal; coming in, it goes out unchanged."""

ERROR_TEXTS = frozenset(
    {"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#SPILL!", "#CALC!"}
    | {"#GETTING_DATA", "#FIELD!", "#BLOCKED!", "#CONNECT!", "#BUSY!", "#UNKNOWN!"}
    | {f"Err:{code}" for code in range(501, 541)}
)
"""What error cells look like when a host or a file hands them over as text."""

NUMBERS = (int, float, np.integer, np.floating, Decimal, Fraction)
"""What hosts send for a number; a truth value is one of these in Python, but not here."""


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
    if is_number(cell):
        try:
            return f"{float(cell):.15g}"  # as many digits as a sheet keeps
        except OverflowError:
            return "a number of more than 300 digits"
    if isinstance(cell, str):
        printable = "".join(c if c.isprintable() else " " for c in cell)
        return f'the text "{shortened(printable, 60)}"'
    return shortened(" ".join(str(cell).split()), 60)  # some write themselves over several lines


def shortened(text: str, longest: int) -> str:
    """Cut a text that is too long, and show that it is cut.

    Parameters
    ----------
    text : str
        Any text.
    longest : int
        Greatest number of characters, from 3 up.

    Returns
    -------
    str
        At most that long.

    Examples
    --------
    >>> shortened("walnut, black", 9)
    'walnut...'
    """
    return text if len(text) <= longest else text[: longest - 3] + "..."


def refuse_errors(argument: Argument, cell: Any) -> None:
    """Refuse an error cell, and the refusal of another call.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Any cell.

    Raises
    ------
    Refused
        With the error, or with the words of the other refusal as they came.
    """
    if isinstance(cell, str):
        if cell.startswith(MARKER):
            reason = cell.removeprefix(MARKER).strip()
            raise PassedOn(reason or f"{argument.name} is a refusal without its reason")
        if cell.strip() in ERROR_TEXTS:
            raise Refused(
                f"{argument.name} is the error {cell.strip()}; it must be {argument.limits.words()}"
            )


def is_number(cell: Any) -> bool:
    """Tell whether a cell is a number; truth values and durations are none.

    Parameters
    ----------
    cell : object
        Any cell.

    Returns
    -------
    bool
        True for a number of any type.

    Examples
    --------
    >>> is_number(7.5), is_number(True), is_number("7.5")
    (True, False, False)
    """
    return isinstance(cell, NUMBERS) and not isinstance(cell, (bool, np.timedelta64))


def refused(argument: Argument, cell: Any, hint: str = "") -> Refused:
    """Say of a cell that it is not what the argument's limits allow.

    Parameters
    ----------
    argument : Argument
        What is declared of it.
    cell : object
        Not blank.
    hint : str
        Further words on the limits.

    Returns
    -------
    Refused
        Names the argument, the value and the limits.
    """
    limits = argument.limits
    has_unit = isinstance(cell, float) and limits.lowest is not None
    value = f"{shown(cell)} {limits.unit}" if has_unit else shown(cell)
    if limits.least is not None and isinstance(cell, float) and 0 < cell < limits.least:
        hint = f"; {100 * cell:.10g} % is typed as {100 * cell:.10g}, in a cell without %{hint}"
    number = "" if is_number(cell) or limits.lowest is None else "a number "
    words = limits.words() if limits.whole else f"{number}{limits.words()}"
    return Refused(f"{argument.name} is {value}; it must be {words}{hint}")
