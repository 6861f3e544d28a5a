"""Declarations of the group Moisture content: by weight, by meter, and of a whole lot."""

from __future__ import annotations

from lumbercalc.sheet.function import Example, Function, Rule
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.picking import STACK, STACK_WITHOUT_STACKS, STACKS, of_stack, without
from lumbercalc.sheet.vocabulary import (
    CONFIDENCE,
    MC_LIMITS,
    READING_LIMITS,
    READINGS,
    SPECIES,
    TARGET_MC,
    TOLERANCE,
    number,
)
from lumbercalc.wood import meters, moisture

WEIGHT_LIMITS = Limits("g or lb", 0.001, 1_000_000)
ROUNDING = 1e-9
"""Share by which a weight that was reckoned may be off: as much below ovendry is ovendry."""
PINLESS_LIMITS = Limits("% MC", *meters.PINLESS_RANGE_PCT)
PINLESS_RANGE = PINLESS_LIMITS.words().removeprefix("from ")
BY_WEIGHT = "moisture content on the ovendry basis, ASTM D4442 (definition); Wengert 2000"
STUDENT = "Student's t; NIST/SEMATECH e-Handbook of Statistical Methods 7.2.2 (from memory)"

_TWO = (
    Rule(
        lambda v: v["readings"].size < 2,
        "readings holds one number; at least 2 readings are needed",
    ),
)

FUNCTIONS = (
    Function(
        "MC_BY_WEIGHT",
        "Moisture content",
        "Moisture content from a weight and the ovendry weight of the same piece.",
        "moisture content [% MC]",
        (
            number("weight", "weight now", WEIGHT_LIMITS),
            number("ovendry_weight", "ovendry weight in the same unit", WEIGHT_LIMITS),
        ),
        moisture.mc_by_weight,
        BY_WEIGHT,
        Example((120, 99.99), 20.012),
        rules=(
            Rule(
                lambda v: v["weight"] < v["ovendry_weight"] * (1 - ROUNDING),
                "weight is {weight:g}; it must not be below ovendry_weight, {ovendry_weight:g}",
            ),
        ),
    ),
    Function(
        "OVENDRY_WEIGHT",
        "Moisture content",
        "Weight that a piece would have ovendry.",
        "weight, in the unit of weight",
        (
            number("weight", "weight now", WEIGHT_LIMITS),
            number("mc_pct", "moisture content now", MC_LIMITS),
        ),
        moisture.ovendry_weight,
        BY_WEIGHT,
        Example((30, 50), 20.0),
    ),
    Function(
        "WEIGHT_AT_MC",
        "Moisture content",
        "Weight to wait for: what a piece weighs at a moisture content.",
        "weight, in the unit of ovendry_weight",
        (
            number("ovendry_weight", "ovendry weight", WEIGHT_LIMITS),
            number("mc_pct", "moisture content wanted", MC_LIMITS),
        ),
        moisture.weight_at_mc,
        BY_WEIGHT,
        Example((20, 8), 21.6),
    ),
    Function(
        "MC_PIN",
        "Moisture content",
        "Reading of a pin meter corrected for wood temperature, then for species.",
        "moisture content [% MC]; out of the meter's range weigh a sample board instead; frozen "
        "wood above 15 % MC is wetter by 1 to 2 % MC than this says",
        (
            number(
                "reading_pct",
                "reading of a pin meter set to Douglas-fir, its own corrections off",
                Limits("% MC", 6, 30),
            ),
            SPECIES,
            number("wood_temp_f", "temperature of the wood", Limits("deg F", 0, 160)),
            number(
                "calibration_temp_f", "temperature of the calibration", Limits("deg F", 50, 90), 70
            ),
        ),
        meters.mc_pin,
        "temperature: Wood Handbook FPL-GTR-190 (2010) p. 13-3; species: derived from James 1988 "
        "FPL-GTR-6 Table 1, from memory; the maker's own table governs",
        Example((12, "northern red oak", 50), 13.07203),
        rules=(
            Rule(
                lambda v: ~meters.has_pin_figures(v["species"]),
                "species {species} has no figures for a pin meter; use the maker's table, or weigh "
                "a sample board",
            ),
        ),
        missing="reading_pct is {reading_pct:g} % MC; in wood of {wood_temp_f:g} deg F that is "
        "outside the figures of {species} (7 to 25 % MC at most); weigh a sample board",
    ),
    Function(
        "MC_PINLESS",
        "Moisture content",
        "Reading of a pinless meter corrected for the density of the species.",
        "moisture content [% MC]; out of the meter's range weigh a sample board instead",
        (
            number(
                "reading_pct",
                "reading of a pinless meter set to meter_sg, no other correction on",
                PINLESS_LIMITS,
            ),
            number(
                "meter_sg",
                "basic specific gravity set on the meter (a maker's 12 % MC figure is about a "
                "tenth higher)",
                Limits("SG", 0.2, 1.1),
            ),
            SPECIES,
        ),
        meters.mc_pinless,
        "first order: the meter answers to water in a volume; James 1988 FPL-GTR-6, from memory",
        Example((9, 0.5, "black walnut"), 8.823529),
        missing="reading_pct is {reading_pct:g} % MC on a meter set to {meter_sg:g}; in {species} "
        f"that is outside {PINLESS_RANGE}, where such meters serve; weigh a sample board",
    ),
    Function(
        "MATCHES_DRY_SAMPLE",
        "Moisture content",
        "Whether a meter reads the stack like a piece of the same wood known to be dry.",
        "TRUE or FALSE",
        (
            number("reading", "reading on the stack", READING_LIMITS),
            number("dry_reading", "reading on the dry piece", READING_LIMITS),
            TOLERANCE,
        ),
        meters.matches_dry_sample,
        "common practice, no source",
        Example((9.2, 8.5), True),
        gives="flag",
    ),
    Function(
        "MC_UPPER",
        "Moisture content",
        "Upper bound of a lot's mean moisture content.",
        "moisture content [% MC]",
        (READINGS, CONFIDENCE, STACKS, STACK),
        without("stacks", "stack", compute=moisture.mc_upper),
        STUDENT,
        Example(([7.5, 8, 8.2, 7.9, 8.4],), 8.323311),
        rules=(STACK_WITHOUT_STACKS, *_TWO),
        selects=of_stack,
    ),
    Function(
        "SHARE_WITHIN",
        "Moisture content",
        "Share of the readings within a tolerance of the target.",
        "share [%]",
        (READINGS, TARGET_MC, TOLERANCE, STACKS, STACK),
        without("stacks", "stack", compute=moisture.share_within),
        "counting (definition)",
        Example(([7, 8, 9.5, 8.5], 8), 75.0),
        rules=(STACK_WITHOUT_STACKS,),
        selects=of_stack,
    ),
    Function(
        "SAMPLES_NEEDED",
        "Moisture content",
        "Boards to read so that the lot's mean is known within a margin.",
        "boards",
        (
            number("sd_pct", "standard deviation between boards", Limits("% MC", 0.01, 30)),
            number("margin_pct", "margin on the mean", Limits("% MC", 0.05, 30)),
            CONFIDENCE,
        ),
        moisture.samples_needed,
        STUDENT,
        Example((1, 0.5), 18.0),
        missing="sd_pct is {sd_pct:g} % MC; for a margin of {margin_pct:g} % MC no count is enough",
    ),
    Function(
        "READINESS",
        "Moisture content",
        "Whether a stack is ready by its readings.",
        '"ready" (also when drier), "not yet", "uneven" (the mean is there, but not surely, or a '
        'board is too wet) or "too few readings" (under 4)',
        (READINGS, TARGET_MC, TOLERANCE, CONFIDENCE, STACKS, STACK),
        without("stacks", "stack", compute=moisture.readiness),
        "at least 4 boards: Univ. of Kentucky FOR-128 p. 76; allowed spread: Wengert; Student's t",
        Example(([7.5, 8, 8.2, 7.9, 8.4], 8), "ready"),
        gives="text",
        rules=(STACK_WITHOUT_STACKS,),
        selects=of_stack,
    ),
)
"""Functions of the group."""
