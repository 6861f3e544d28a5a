"""Declarations of the group Tally: board feet of boards and logs."""

from __future__ import annotations

from dataclasses import replace

from lumbercalc.sheet.function import Argument, Example, Function, Rule, Values
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import (
    BF_LIMITS,
    BOARD_FEET,
    LENGTH,
    NAME_LIMITS,
    PIECES,
    ROW_COUNT,
    SPECIES,
    THICKNESS,
    WIDTH,
    number,
    words,
)
from lumbercalc.wood import log_scale, tally, tally_summary

NHLA_LENGTH = replace(LENGTH, about="length in whole feet: NHLA drops a part of a foot")
NHLA = "National Hardwood Lumber Association rules, as told by the American Hardwood Export Council"


def _rows_needed(values: Values) -> int:
    columns = {name: values[name] for name in ("species", "thickness", "bf", "grade")}
    return len(tally_summary.tally_summary(**columns).bf)


FUNCTIONS = (
    Function(
        "THICKNESS_IN",
        "Tally",
        'Thickness in inches of quarters such as "8/4"; a number passes unchanged.',
        "thickness [in]",
        (Argument("quarters", "thickness", THICKNESS.limits, THICKNESS.about),),
        lambda quarters: tally.thickness_in(quarters),
        "common practice, no source: 4/4 is one inch, counted in quarters",
        Example(("8/4",), 2.0),
    ),
    Function(
        "BOARD_FEET",
        "Tally",
        "Board feet of boards by thickness, width and length; under 1 in thick counts as 1 in.",
        "board feet, unrounded [bf]",
        (THICKNESS, WIDTH, LENGTH, PIECES),
        tally.board_feet,
        "thickness x width x length / 12 (definition); under 1 in as 1 in: a US Navy "
        "builders' manual and a supplier's glossary",
        Example(("8/4", 7.5, 8), 10.0),
    ),
    Function(
        "SURFACE_MEASURE",
        "Tally",
        "Surface measure of a board, to the whole square foot.",
        "surface measure [ft2]",
        (
            WIDTH,
            NHLA_LENGTH,
            Argument(
                "by_turns",
                "flag",
                Limits("TRUE or FALSE"),
                "TRUE on a column: exact halves go up and down by turns",
                False,
            ),
        ),
        tally.surface_measure,
        f"width x length / 12, to the nearest foot: {NHLA}; halves by turns: Wengert 2007",
        Example((6.25, 8), 4.0),
    ),
    Function(
        "TALLY_BOARD_FEET",
        "Tally",
        "Board feet as a tally book has them: surface measure x thickness x pieces.",
        "board feet [bf]; halves of a foot go up, by turns in SURFACE_MEASURE",
        (THICKNESS, WIDTH, NHLA_LENGTH, PIECES),
        tally.tally_board_feet,
        NHLA,
        Example((2, 6.25, 8), 8.0),
    ),
    Function(
        "LOG_SCALE",
        "Tally",
        "Board feet that a log rule gives for a log.",
        "board feet [bf]: Doyle to 1, International 1/4 to 5; gross, nothing off for rot or sweep; "
        "of a small log Doyle tells far less than it saws out",
        (
            number("diameter_in", "diameter inside bark at the small end", Limits("in", 4, 80)),
            replace(
                LENGTH,
                about="length without trim; over 20 ft scale it in parts",
                limits=Limits("ft", 0.1, 60),
            ),
            words(
                "rule",
                "log rule",
                Limits("choice", choices=("Doyle", "International 1/4")),
                "choice",
            ),
        ),
        log_scale.log_scale,
        "Doyle by its printed tables: ((D-4)/4)^2 L; International 1/4 in by a forestry "
        "dictionary: 0.905 x (0.22 d^2 - 0.71 d) per 4-ft section; parts of a long log, Doyle on "
        "small logs: common practice, no source",
        Example((16, 16, "Doyle"), 144.0),
        rules=(
            Rule(
                lambda v: (v["rule"] == "Doyle") & (v["diameter_in"] <= 4),
                "diameter_in is {diameter_in:g} in; for the Doyle rule it must be above 4 in",
            ),
        ),
    ),
    Function(
        "NET_BOARD_FEET",
        "Tally",
        "Board feet left of a green tally when the boards have shrunk.",
        "board feet, dry tally [bf]",
        (
            number("gross_bf", "board feet of the green tally", BF_LIMITS),
            number("shrink_pct", "loss of footage by shrinkage", Limits("%", 0, 50)),
        ),
        tally.net_board_feet,
        "gross x (1 - shrink/100); 7 % is the trade's usual allowance (Atherholt 2001)",
        Example((1000, 7), 930.0),
    ),
    Function(
        "CUBIC_METERS",
        "Tally",
        "Cubic meters of a number of board feet.",
        "volume [m3]",
        (BOARD_FEET,),
        tally.cubic_meters,
        "1 bf = 144 in3, 1 in = 0.0254 m exactly",
        Example((1000,), 2.359737),
    ),
    Function(
        "TALLY_SUMMARY",
        "Tally",
        "Board feet of a tally added up by species, thickness and grade, with totals.",
        "rows of species, thickness [in], grade and bf; the totals have no thickness and the grade "
        '"total": after each species, and of all at the end; rows without bf are left out',
        (
            replace(SPECIES, shape="block"),
            replace(THICKNESS, shape="block"),
            number("bf", "board feet of each row of the tally", BF_LIMITS, shape="block"),
            Argument("grade", "text", NAME_LIMITS, "grade of each row", None, "block"),
            ROW_COUNT,
        ),
        tally_summary.tally_summary,
        "adding up (definition)",
        Example(
            (
                ["black walnut", "cherry", "cherry"],
                ["8/4", "4/4", "4/4"],
                [120, 50, 30.5],
                ["FAS", "1C", "FAS"],
            ),
            "Cherry, black",
        ),
        rules=(
            Rule(
                lambda v: v["row_count"] < _rows_needed(v),
                lambda v: (
                    f"row_count is {v['row_count']:g} rows; it must be at least {_rows_needed(v)}, "
                    "for all rows and totals of this tally"
                ),
            ),
        ),
        spills=True,
        counts=lambda columns: columns["bf"] > 0,
    ),
)
"""Functions of the group."""
