"""What a formula calls, what it refers to, and what of that is not there."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from lumbercalc.book.engine.formula_size import Extent


@dataclass(frozen=True)
class Known:
    """What a formula may refer to.

    Parameters
    ----------
    sheets : dict
        Last row and last column in use, by the sheet's name in lower case.
    names : collection of str
        Defined names, in lower case.
    local_names : collection of str
        Those of one sheet only.
    functions : collection of str
        What the engine computes, our functions among them, in capitals.
    columns : collection of str
        Those of the names that are areas of several cells.
    """

    sheets: Mapping[str, tuple[int, int]]
    names: Collection[str]
    local_names: Collection[str]
    functions: Collection[str]
    columns: Collection[str] = ()


@dataclass
class FormulaText:
    """What was found in a formula.

    Parameters
    ----------
    text : str
        For the engine: our functions under their plain names, sheets as `for_the_engine` names
        them, large areas cut to those in use.
    calls : set of str
        Functions of ours that it calls.
    names : set of str
        Words that are defined names or should be, in lower case.
    broken : list of str
        References that lead nowhere, or out of the workbook.
    not_followed : list of str
        What else cannot be computed.
    alone : list of str
        Areas of several cells where one is asked for: unless it is an array formula, each cell
        takes the one in its own row or column, which is not followed.
    misspelt : list of str
        What of that is nearly the name of a function of ours.
    extent : Extent
        Of its areas and lists; those of its names are not among them.
    is_relative : bool
        Whether an area of it is not the same wherever it stands.
    """

    text: str = ""
    calls: set[str] = field(default_factory=set)
    names: set[str] = field(default_factory=set)
    broken: list[str] = field(default_factory=list)
    not_followed: list[str] = field(default_factory=list)
    alone: list[str] = field(default_factory=list)
    misspelt: list[str] = field(default_factory=list)
    extent: Extent = field(default_factory=Extent)
    is_relative: bool = False
