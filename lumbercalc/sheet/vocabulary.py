"""The arguments that several functions share, each declared once with its limits and unit."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from lumbercalc.sheet.function import REQUIRED, Argument, Kind, Shape
from lumbercalc.sheet.limits import Limits

TEMP_LIMITS = Limits("deg F", -40, 210)
"""Wood Handbook Table 4-2 ends at 30 and 210 deg F; below is extrapolated for winter air."""
FORECAST_TEMP_LIMITS = replace(TEMP_LIMITS, highest=130)
"""The model is for air drying, 15 to 110 deg F: of a kiln or a hot box it would be far too kind."""
RH_LIMITS = Limits("% RH", 1, 100)
"""Below 1 it is a blank cell of Calc (0), or 50 % typed as a share (0.5)."""
SMALLEST_PCT = 0.5
"""Percent: what is less was typed as a share of 1, as a sheet keeps 6.25 % that is typed so."""
SMALLEST_MC = 1
"""% MC: no wood and no meter shows less but ovendry, 0; 0.12 is 12 % typed as a share of 1."""
MC_LIMITS = Limits("% MC", 0, 300, least=SMALLEST_MC)
GREEN_MC_LIMITS = Limits("% MC", 5, 250)
READING_LIMITS = Limits("% MC", 0, 100, least=SMALLEST_MC)
DATE_LIMITS = Limits("date")
NAME_LIMITS = Limits("text", longest=60)
"""Of a stack, a board, a place, a charge, a grade, a method."""
BF_LIMITS = Limits("bf", 0, 10_000_000)
MONEY_LIMITS = Limits("money", 0, 1_000_000_000)
DIRECTIONS = ("tangential", "radial", "volume")
DIRECTION_WORDS = {
    "flatsawn": "tangential",
    "plainsawn": "tangential",
    "quartersawn": "radial",
    "volumetric": "volume",
}


def number(
    name: str, about: str, limits: Limits, default: Any = REQUIRED, shape: Shape = "cell"
) -> Argument:
    """Declare an argument that is a number.

    Parameters
    ----------
    name, about : str
        Name, and what it is in a few words.
    limits : Limits
        Unit and range.
    default : object
        REQUIRED where it must be given.
    shape : {"cell", "block"}
        Row by row, or a whole column.

    Returns
    -------
    Argument
        The declaration.
    """
    return Argument(name, "number", limits, about, default, shape)


def words(
    name: str, about: str, limits: Limits, kind: Kind = "text", default: Any = REQUIRED
) -> Argument:
    """Declare an argument that is a text or a choice.

    Parameters
    ----------
    name, about : str
        Name, and what it is in a few words.
    limits : Limits
        Choices or length.
    kind : str
        "text", "choice" or "species".
    default : object
        REQUIRED where it must be given.

    Returns
    -------
    Argument
        The declaration.
    """
    return Argument(name, kind, limits, about, default)


SPECIES = words("species", "species by a trade name", Limits("species"), "species")
THICKNESS = Argument(
    "thickness",
    "thickness",
    Limits("in", 0.25, 24),
    'thickness in inches, or quarters as text such as "8/4"',
)
SAWN = replace(
    number("thickness_in", "thickness as sawn (4/4 is about 1-1/8)", Limits("in", 0.25, 12)),
    hint=", as sawn: 4/4 is about 1.125 in",
)
WIDTH = number("width_in", "width", Limits("in", 0.25, 120))
LENGTH = number("length_ft", "length", Limits("ft", 0.1, 40))
PIECES = number("pieces", "number of pieces", Limits("pieces", 1, 100_000, whole=True), 1)
BOARD_FEET = number("board_feet", "board feet", BF_LIMITS)
GREEN_FEET = replace(BOARD_FEET, about="board feet of the green tally")
SAWN_FEET = replace(
    BOARD_FEET, about="board feet of the green tally, times thickness as sawn over tallied"
)
"""A tally counts 4/4 as 1 in; boards sawn to 1-1/8 in hold an eighth more wood and water."""
TEMP = number("temp_f", "temperature of the air", TEMP_LIMITS)
RH = number("rh_pct", "relative humidity", RH_LIMITS)
MC_FROM = number("mc_from", "moisture content before", MC_LIMITS)
MC_TO = number("mc_to", "moisture content after", MC_LIMITS)
DIRECTION = words(
    "direction",
    "tangential (flatsawn width), radial (quartersawn width) or volume",
    Limits("choice", choices=DIRECTIONS, also=DIRECTION_WORDS),
    "choice",
)
TARGET_MC = number("target_pct", "target moisture content", Limits("% MC", 2, 60))
READINGS = number("readings", "meter readings, one a board", READING_LIMITS, shape="block")
TOLERANCE = number("tolerance", "allowed difference", Limits("% MC", 0, 20), 1)
CONFIDENCE = number("confidence_pct", "confidence", Limits("%", 50, 99.9), 95)
ROW_COUNT = number(
    "row_count", "rows to fill, padded with blanks", Limits("rows", 1, 2000, whole=True), None
)
"""Of every function that spills; `on_blocks` cuts and pads the table."""
