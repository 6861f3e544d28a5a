"""How lines, points and columns of the charts look: color never stands alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lumbercalc.book.page.styles import BARK, MOSS, RUST, STONE

Dash = Literal["solid", "dash", "lgDash", "sysDash", "sysDot", "sysDashDot"]

Pattern = Literal["wdUpDiag", "wdDnDiag", "dkHorz", "smCheck"]

AIR = "3F6C84"

DAY = "[>366]yyyy\\-mm\\-dd;;"
"""Of an axis: an empty workbook's chart shows no dates of the year 1900."""

CENTS = "0.00;;"
"""Of a column's label: none for a column that is not there."""


@dataclass(frozen=True)
class Look:
    """How a series is drawn.

    Parameters
    ----------
    color : str
        Of line or points.
    points : float
        Width of the line; 0 draws points only.
    dash : Dash
        Such as "dash"; color does not stand alone.
    symbol : {"none", "circle"}
        Of the points; none is a bare line.
    """

    color: str
    points: float
    dash: Dash = "solid"
    symbol: Literal["none", "circle"] = "none"


MEASURED = Look(BARK, 0, symbol="circle")
LIKELY = Look(MOSS, 2.25)
BAND = Look(MOSS, 1.0, "sysDash")
TARGET = Look(RUST, 1.5, "lgDash")
EMC_LINE = Look(AIR, 1.25, "sysDashDot")
AS_OF = Look(STONE, 1.0, "sysDot")


@dataclass(frozen=True)
class Bar:
    """How a part of the bars is filled.

    Parameters
    ----------
    color : str
        Of the fill, or of its lines.
    pattern : Pattern, optional
        Of lines, so that color does not stand alone; without one the fill is plain.
    """

    color: str
    pattern: Pattern | None = None


BARS = (
    Bar("9DB07F", "wdUpDiag"),
    Bar(AIR, "dkHorz"),
    Bar(MOSS),
    Bar("B8862B", "wdDnDiag"),
    Bar(RUST, "smCheck"),
)
"""Parts of a bar, from the bottom up."""

STACK_LOOKS = (
    Look(MOSS, 2.25),
    Look(RUST, 2.25),
    Look(AIR, 2.25),
    Look("B8862B", 2.25),
    Look("6D4C7D", 2.25, "dash"),
    Look("2B6E6A", 2.25, "dash"),
    Look("8A5A3C", 2.25, "dash"),
    Look(STONE, 2.25, "dash"),
)
"""One for each stack of the chart of all stacks."""
