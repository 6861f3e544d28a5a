"""Declarations of the group Stack: stickers, layers, footage, air through it, weight on it."""

from __future__ import annotations

from lumbercalc.sheet.function import Argument, Example, Function, Rule
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import LENGTH, SAWN, number
from lumbercalc.wood import stack
from lumbercalc.wood.sticker_advice import sticker_advice

STICKER = number("sticker_in", "thickness of the stickers", Limits("in", 0.25, 3))
BASE = number("base_in", "height of the base under the first stickers", Limits("in", 0, 60), 0)
LAYERS = number("layers", "layers of boards", Limits("layers", 1, 500, whole=True))
STACK_WIDTH_LIMITS = Limits("ft", 0.5, 30)
WIDTH_FT = number("width_ft", "width of the stack", STACK_WIDTH_LIMITS)

UNDER_EVERY_LAYER = "stickers under every layer, the first on the base (common practice, no source)"

FUNCTIONS = (
    Function(
        "STICKERS",
        "Stack",
        "Stickers under one layer, one at each end.",
        "stickers for one layer",
        (
            LENGTH,
            number("spacing_in", "greatest distance between stickers", Limits("in", 4, 48), 16),
        ),
        stack.stickers,
        "counting; spacing 16 to 18 in for expensive hardwoods, 24 usual (Wengert 2000); 12 in for "
        "wood that twists, 8/4 or best quality (Univ. of Kentucky FOR-128 p. 69)",
        Example((8,), 7.0),
    ),
    Function(
        "STACK_LAYERS",
        "Stack",
        "Whole layers that fit under a height.",
        "layers; a stack that is high for its width can topple",
        (
            number("height_in", "height from the ground or floor", Limits("in", 1, 360)),
            SAWN,
            STICKER,
            BASE,
        ),
        stack.stack_layers,
        f"(height - base) / (thickness + sticker), whole layers; {UNDER_EVERY_LAYER}",
        Example((48, 1.125, 0.75, 12), 19.0),
        rules=(
            Rule(
                lambda v: v["base_in"] >= v["height_in"],
                "base_in is {base_in:g} in; it must be below height_in, {height_in:g} in",
            ),
        ),
    ),
    Function(
        "STACK_HEIGHT",
        "Stack",
        "Height of a stack from the ground to its top boards.",
        "height [in]; a stack that is high for its width can topple",
        (LAYERS, SAWN, STICKER, BASE),
        stack.stack_height,
        f"base + layers x (thickness + sticker); {UNDER_EVERY_LAYER}",
        Example((19, 1.125, 0.75, 12), 47.625),
    ),
    Function(
        "STACK_BOARD_FEET",
        "Stack",
        "Board feet in a stack by its size, until the boards are tallied.",
        "board feet [bf], an estimate",
        (
            LAYERS,
            WIDTH_FT,
            LENGTH,
            number(
                "thickness_in",
                "thickness as tallied (4/4 is 1; under 1 in counts as 1)",
                Limits("in", 0.25, 12),
            ),
            number("fill_pct", "share of a layer that is board", Limits("%", 10, 100), 90),
        ),
        stack.stack_board_feet,
        "board feet of a solid layer (as BOARD_FEET) x layers x fill; 90 % fill: common practice, "
        "no source",
        Example((19, 4, 8, 1), 547.2),
    ),
    Function(
        "FAN_CFM",
        "Stack",
        "Air through the gaps of a stack at a speed; what goes around the stack comes on top.",
        "air [ft3/min]; fans, guards and cords: their labels and the local electrical code rule",
        (
            LAYERS,
            STICKER,
            LENGTH,
            number("velocity_fpm", "speed of the air in the gaps", Limits("ft/min", 1, 2000)),
        ),
        stack.fan_cfm,
        "gaps (one a layer) x sticker x length x speed; 300 to 600 ft/min in forced-air drying "
        "(FPL-GTR-118, from memory), little gain above 600 to 700 (Simpson 1997 FPL-RN-0266, of "
        "eastern white pine), none below 20 % MC (Lamb 2002)",
        Example((19, 0.75, 8, 200), 1900.0),
    ),
    Function(
        "TOP_WEIGHT",
        "Stack",
        "Weight to lay on a stack so that its upper layers stay flat.",
        "weight [lb]; it adds to the load on the floor; tie it so that it cannot slide",
        (
            LENGTH,
            WIDTH_FT,
            number("psf", "weight on each square foot", Limits("lb/ft2", 1, 300), 50),
        ),
        stack.top_weight,
        "length x width x weight; 50 lb/ft2 at least, 150 for woods that warp (Univ. of Kentucky "
        "FOR-128 p. 68); more than 150 does not help (Wengert 2014)",
        Example((8, 4), 1600.0),
    ),
    Function(
        "STICKER_ADVICE",
        "Stack",
        "What common practice has on sticker thickness and on the width of a stack.",
        "text: the stickers, then the width",
        (
            number("stack_width_ft", "width of the stack, the way of the air", STACK_WIDTH_LIMITS),
            STICKER,
            Argument(
                "fan", "flag", Limits("TRUE or FALSE"), "TRUE when a fan drives air through it"
            ),
        ),
        sticker_advice,
        "stickers: Wengert 2000, TM 38-400 ch. 5; width: FPL Technical Note 233 (1960); thin "
        "stickers, 2 ft without a fan, turning the air: common practice, no source",
        Example(
            (4, 1, True),
            "stickers as usual, also for boards of 1-1/4 in and thicker; width as usual",
        ),
        gives="text",
    ),
)
"""Functions of the group."""
