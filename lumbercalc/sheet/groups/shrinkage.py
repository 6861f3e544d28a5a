"""Declarations of the group Shrinkage: how boards shrink, swell and move."""

from __future__ import annotations

from dataclasses import replace

from lumbercalc.sheet.function import Example, Function
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import (
    DIRECTION,
    DIRECTIONS,
    MC_FROM,
    MC_LIMITS,
    MC_TO,
    SPECIES,
    WIDTH,
    number,
)
from lumbercalc.wood import movement, shrinkage

EQUATION = (
    "Wood Handbook FPL-GTR-190 (2010) eq. 13-3 (the fraction from memory) with S "
    "from Table 4-3 (SPECIES_SOURCE says which rows were read)"
)
MISSING = "no {direction} shrinkage is published for {species}"
SIZE_LIMITS = Limits("in", 0.01, 1200)
COEFFICIENT_MC_LIMITS = Limits("% MC", *shrinkage.COEFFICIENT_RANGE_PCT)

FUNCTIONS = (
    Function(
        "SHRINKAGE",
        "Shrinkage",
        "Shrinkage between two moisture contents; swelling is negative.",
        "% of the size at mc_from; nothing happens above "
        f"{shrinkage.FIBER_SATURATION_PCT:g} % MC, of redwood, western redcedar and northern "
        f"white-cedar above {shrinkage.EARLY_SATURATION_PCT:g} %",
        (SPECIES, DIRECTION, MC_FROM, MC_TO),
        shrinkage.shrinkage,
        EQUATION,
        Example(("black walnut", "tangential", 85, 8), 5.72),
        missing=MISSING,
    ),
    Function(
        "SIZE_AT_MC",
        "Shrinkage",
        "Size of a piece at another moisture content.",
        "size, in the unit of size",
        (number("size", "size at mc_from", SIZE_LIMITS), SPECIES, DIRECTION, MC_FROM, MC_TO),
        shrinkage.size_at_mc,
        EQUATION,
        Example((10, "black walnut", "tangential", 85, 8), 9.428),
        missing=MISSING,
    ),
    Function(
        "SAWN_SIZE",
        "Shrinkage",
        "What to saw, so that the finished size and an allowance are left when dry.",
        "size, in the unit of finished_size",
        (
            number("finished_size", "size wanted when dry", SIZE_LIMITS),
            SPECIES,
            DIRECTION,
            number("mc_green", "moisture content when sawn", MC_LIMITS),
            number("mc_final", "moisture content when dry", MC_LIMITS),
            number("allowance", "for planing and variation in sawing", Limits("in", 0, 12), 0),
        ),
        shrinkage.sawn_size,
        EQUATION,
        Example((1, "black walnut", "tangential", 85, 8, 0.125), 1.193254),
        missing=MISSING,
    ),
    Function(
        "WIDTH_MOVEMENT",
        "Shrinkage",
        "Movement of a board's width in service; swelling is positive.",
        f"movement [in], {COEFFICIENT_MC_LIMITS.words()}",
        (
            WIDTH,
            SPECIES,
            replace(
                DIRECTION,
                about="tangential (flatsawn width) or radial (quartersawn width)",
                limits=replace(
                    DIRECTION.limits,
                    choices=DIRECTIONS[:2],
                    also={k: v for k, v in DIRECTION.limits.also.items() if v in DIRECTIONS[:2]},
                ),
            ),
            replace(MC_FROM, limits=COEFFICIENT_MC_LIMITS),
            replace(MC_TO, limits=COEFFICIENT_MC_LIMITS),
        ),
        movement.width_movement,
        "Wood Handbook FPL-GTR-190 (2010) eq. 13-2 with coefficients from Table 13-5",
        Example((8, "red alder", "tangential", 6, 12), 0.12288),
        missing="no {direction} coefficient is published for {species}",
    ),
)
"""Functions of the group."""
