"""How many cells a formula makes at most: a column times a row is as many as both multiplied."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

LARGEST_AREA = 100_000
"""Cells that are computed with: of a larger area, such as A:A, those that are in use."""
LARGEST_PRODUCT = 250_000
"""Cells of a height times a width, which may be of two areas that are never multiplied: in the
template 5,000 rows of one stand beside 17 columns of another."""

TURNING = ("TRANSPOSE",)
"""What makes rows of columns: then the height may be the width too."""
FLATTENING = ("FREQUENCY", "MODE.MULT")
"""What makes one column of an area."""
LIST = re.compile(r"\{([^{}]*)\}")
"""An array of constants, such as {1,2;3,4}."""


@dataclass(frozen=True)
class Extent:
    """The greatest height and width of the areas and lists that a formula computes with.

    Parameters
    ----------
    height, width : int
        Rows and columns, of the same area or not.
    turns, flattens : bool
        Whether the formula calls a function of `TURNING`, of `FLATTENING`.
    """

    height: int = 1
    width: int = 1
    turns: bool = False
    flattens: bool = False

    def __or__(self, other: Extent) -> Extent:
        """Give the extent of both together."""
        return Extent(
            max(self.height, other.height),
            max(self.width, other.width),
            self.turns or other.turns,
            self.flattens or other.flattens,
        )

    @property
    def made(self) -> tuple[int, int]:
        """Rows and columns that a product of all of it has."""
        height = self.height * self.width if self.flattens else self.height
        longest = max(height, self.width)
        return (longest, longest) if self.turns else (height, self.width)

    @property
    def too_large(self) -> str:
        """Why it is not computed; "" where it is."""
        height, width = self.made
        if height * width <= LARGEST_PRODUCT:
            return ""
        return (
            f"it may make {height:,} x {width:,} cells, more than {LARGEST_PRODUCT:,}; "
            "name smaller areas"
        )


def extent_of(marks: str, calls: set[str]) -> Extent:
    """Give the extent of a formula's lists and calls.

    Parameters
    ----------
    marks : str
        The formula's signs, without texts, words and numbers: of {1,2;3,4} it is {,;,}.
    calls : set of str
        Functions that it calls, in capitals.

    Returns
    -------
    Extent
        Without its areas.

    Examples
    --------
    >>> extent_of("=({,;,}*({;;}))", {"SUM", "TRANSPOSE"})
    Extent(height=3, width=2, turns=True, flattens=False)
    """
    extent = Extent(turns=not calls.isdisjoint(TURNING), flattens=not calls.isdisjoint(FLATTENING))
    for found in LIST.finditer(marks):
        rows = found[1].split(";")
        extent |= Extent(len(rows), max(row.count(",") for row in rows) + 1)
    return extent


def together(extents: Iterable[Extent]) -> Extent:
    """Give the extent of several formulas together.

    Parameters
    ----------
    extents : iterable of Extent
        None of them, too.

    Returns
    -------
    Extent
        One cell for none.
    """
    whole = Extent()
    for extent in extents:
        whole |= extent
    return whole
