"""The declaration of a worksheet function: its name, group, arguments, rules and example."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.limits import Limits

Kind = Literal["number", "thickness", "choice", "species", "text", "date", "flag", "climate", "any"]
Shape = Literal["cell", "block"]
Gives = Literal["number", "text", "date", "flag"]
Group = Literal[
    "Tally",
    "Weight and water",
    "Air",
    "Moisture content",
    "Shrinkage",
    "Drying",
    "Stack",
    "Care",
    "Sale",
    "Reference",
]

REQUIRED = object()
"""Default of an argument that must be given."""


@dataclass(frozen=True)
class Argument:
    """One argument of a worksheet function.

    Parameters
    ----------
    name : str
        Name in every host and in Python.
    kind : str
        How its cells are read.
    limits : Limits
        What is allowed.
    about : str
        What it is, in a few words.
    default : object
        Value for a missing or blank cell; REQUIRED where there is none.
    shape : {"cell", "block"}
        "cell" goes row by row with the other cells; "block" is a whole column or table.
    hint : str
        Words behind the limits where they are told of what is no number.

    Examples
    --------
    >>> Argument("rh_pct", "number", Limits("% RH", 0, 100), "relative humidity").description
    'relative humidity: from 0 to 100 % RH'
    """

    name: str
    kind: Kind
    limits: Limits
    about: str
    default: Any = REQUIRED
    shape: Shape = "cell"
    hint: str = ""

    @property
    def optional(self) -> bool:
        """Whether the argument may be left out."""
        return self.default is not REQUIRED

    @property
    def description(self) -> str:
        """One line of help: what it is, its range or choices, its default."""
        ranged = self.limits.choices or self.limits.lowest is not None
        text = f"{self.about}: {self.limits.words()}" if ranged else self.about
        if self.optional and self.default is not None and self.default != "":
            text += f"; {'FALSE' if self.default is False else self.default} when left out"
        return text


Values = Mapping[str, Any]
"""Checked arguments by name: scalars and columns that broadcast."""


@dataclass(frozen=True)
class Rule:
    """A limit that involves more than one argument.

    Parameters
    ----------
    broken : callable
        Takes the checked values by name, gives True in the rows that break the rule.
    message : str or callable
        Format string over the values of the row, or what makes the text of them.
    """

    broken: Callable[[Values], NDArray[np.bool_] | np.bool_ | bool]
    message: str | Callable[[Values], str]

    def reason(self, values: Values) -> str:
        """Say how values break the rule.

        Parameters
        ----------
        values : mapping
            Checked arguments of the row.

        Returns
        -------
        str
            Names the arguments, their values and the limit.
        """
        if isinstance(self.message, str):
            return self.message.format(**values)
        return self.message(values)


@dataclass(frozen=True)
class Example:
    """A call that runs: its arguments and the answer that it gives.

    Parameters
    ----------
    arguments : tuple
        Texts, numbers, booleans, or lists for columns and tables.
    answer : object
        Number (to the digits shown), text or truth value; the first cell of a block.
    """

    arguments: tuple[Any, ...]
    answer: float | str | bool


@dataclass(frozen=True)
class Function:
    """One worksheet function.

    Parameters
    ----------
    name : str
        Name in the worksheet; in Python the same in lower case.
    group : str
        Group of the catalogue.
    summary : str
        What it does, one sentence.
    result : str
        What it gives, with its unit.
    arguments : tuple of Argument
        In order; the optional ones last.
    compute : callable
        Takes the checked values by name, gives a column (or one value for a block function).
    source : str
        Publication, edition and equation or table; or "common practice, no source".
    example : Example
        A call that runs.
    gives : {"number", "text", "date", "flag"}
        Kind of the answer's cells.
    rules : tuple of Rule
        Limits across arguments.
    missing : str
        Format string: why there is no answer where `compute` finds none.
    remark : callable, optional
        Takes the values of the rows that have a text such as "not reached" for an answer, gives
        the words for each of them, or one text for all.
    selects : callable, optional
        Takes the values of single cells and the columns, gives True in the rows that count.
    spills : bool
        The answer is a table of several rows.
    repeats : bool
        The last argument may be repeated.
    unbroken : bool
        The rows of a block function follow each other in time: one with a blank is passed over
        before the first and after the last, and refused between them.
    counts : callable, optional
        Takes the columns of a block function, NaN in blank cells, gives True in the rows that must
        not be passed over: one with a blank cell is refused.
    """

    name: str
    group: Group
    summary: str
    result: str
    arguments: tuple[Argument, ...]
    compute: Callable[..., Any]
    source: str
    example: Example
    gives: Gives = "number"
    rules: tuple[Rule, ...] = ()
    missing: str = "no figure is published for these arguments"
    remark: Callable[[Values], str | list[str]] | None = None
    selects: Callable[[Values, Values], NDArray[np.bool_]] | None = None
    spills: bool = False
    repeats: bool = False
    unbroken: bool = False
    counts: Callable[[Values], NDArray[np.bool_]] | None = None

    @property
    def python_name(self) -> str:
        """Name in Python."""
        return self.name.lower()

    @cached_property
    def takes_blocks(self) -> bool:
        """Whether whole columns go in and one answer comes out."""
        return self.spills or any(
            argument.shape == "block" and argument.kind != "climate" for argument in self.arguments
        )

    @cached_property
    def takes_cells(self) -> bool:
        """Whether every argument may be a single cell."""
        return all(argument.shape == "cell" for argument in self.arguments)

    @cached_property
    def takes_days(self) -> bool:
        """Whether a number that goes in or comes out may be a day, counted from 1899-12-30."""
        return self.gives == "date" or any(
            argument.kind in ("date", "climate") for argument in self.arguments
        )

    @property
    def formula(self) -> str:
        """The example as it is typed in a worksheet."""
        return f"{self.name}({','.join(formula_text(value) for value in self.example.arguments)})"


def formula_text(value: Any) -> str:
    """Write a value as it is typed in a formula.

    Parameters
    ----------
    value : object
        Text, number, truth value, None for an argument left out, or rows of them.

    Returns
    -------
    str
        Texts in double quotes, rows in braces, parted by semicolons.

    Examples
    --------
    >>> print(formula_text([["yard", 60, True], ['12" oak', 7.5, None]]))
    {"yard",60,TRUE;"12"" oak",7.5,}
    """
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, str):
        return '"' + value.replace('"', '""') + '"'
    if isinstance(value, (list, tuple)):
        rows = (row if isinstance(row, (list, tuple)) else [row] for row in value)
        return "{" + ";".join(",".join(formula_text(cell) for cell in row) for row in rows) + "}"
    return "" if value is None else repr(value)
