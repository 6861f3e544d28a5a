"""Declarations of the group Weight and water: what lumber weighs and the water it gives off."""

from __future__ import annotations

from lumbercalc.sheet.function import Example, Function
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import (
    GREEN_FEET,
    MC_FROM,
    MC_LIMITS,
    MC_TO,
    SAWN_FEET,
    SPECIES,
    number,
)
from lumbercalc.wood import weight

OVENDRY = "ovendry weight = basic specific gravity x 62.4 lb/ft3 x green volume (definition)"
NO_GRAVITY = "no specific gravity is published for {species}"

FUNCTIONS = (
    Function(
        "LUMBER_WEIGHT",
        "Weight and water",
        "Weight of lumber at a moisture content.",
        "weight [lb]",
        (
            SPECIES,
            GREEN_FEET,
            number("mc_pct", "moisture content", MC_LIMITS),
            number(
                "sawn_ratio",
                "thickness as sawn over thickness tallied (1.125 for 4/4)",
                Limits("ratio", 0.5, 2),
                1,
            ),
        ),
        weight.lumber_weight,
        f"{OVENDRY}; specific gravity: FIA REF_SPECIES v. 2022 or Wood Handbook (2010) Table 5-3",
        Example(("northern red oak", 1000, 80), 5241.6),
        missing=NO_GRAVITY,
    ),
    Function(
        "WATER_LOSS",
        "Weight and water",
        "Water that lumber gives off between two moisture contents; what it takes up is negative.",
        "water [lb]",
        (SPECIES, SAWN_FEET, MC_FROM, MC_TO),
        weight.water_loss,
        OVENDRY,
        Example(("black walnut", 500, 85, 8), 1021.02),
        missing=NO_GRAVITY,
    ),
    Function(
        "DEHUMIDIFIER_PINTS",
        "Weight and water",
        "Pints of water a day to take out of the room while the lumber dries at this rate.",
        "water [US pints a day]; a dehumidifier gives less than its rating in cool or dry air, and "
        "many ice up below 60 to 65 deg F",
        (
            SPECIES,
            SAWN_FEET,
            number("mc_loss_per_day", "loss of moisture content", Limits("% MC a day", 0, 30)),
        ),
        weight.dehumidifier_pints,
        f"{OVENDRY}; US liquid pint = 28.875 in3",
        Example(("white oak", 500, 1), 14.96104),
        missing=NO_GRAVITY,
    ),
    Function(
        "FLOOR_LOAD",
        "Weight and water",
        "Weight over the footprint: a figure to take to a licensed engineer, never an approval.",
        "load [lb/ft2] as if spread evenly: where bolsters stand it is more; follow the local "
        "building code",
        (
            number(
                "weight_lb",
                "all that stands there: lumber, stickers, base, top weight",
                Limits("lb", 0, 1_000_000),
            ),
            number("length_ft", "length of the footprint", Limits("ft", 0.5, 100)),
            number("width_ft", "width of the footprint", Limits("ft", 0.5, 100)),
        ),
        weight.floor_load,
        "weight / (length x width) (definition); for comparison: floors of living rooms are "
        "commonly designed for 40 lb/ft2 (IRC Table R301.5, from memory)",
        Example((3200, 8, 4), 100.0),
    ),
)
"""Functions of the group."""
