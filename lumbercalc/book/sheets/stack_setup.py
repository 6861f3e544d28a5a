"""What is typed of a stack: where it stands, of what, since when, where it moves, its size."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.table import Column
from lumbercalc.book.page.validation import THICKNESSES, limits_of
from lumbercalc.book.sheets.stack_reckoning import AT_START
from lumbercalc.sheet.limits import Limits

TYPED = (
    Column(
        "name",
        "Stack",
        "input",
        18,
        "@",
        about="A name of its own, never used again: boards, weighings, readings and invoices "
        "are found by it.",
    ),
    Column("place", "Place", "input", 12, "@", choices="=place_names"),
    Column(
        "setting",
        "Air through the stack",
        "input",
        17,
        "@",
        limits=limits_of("STACK_FACTOR", "setting"),
        about="A stack outdoors is taken as roofed: rain and sun on it are not in the forecast. "
        "Wide: 6 ft and more.",
    ),
    Column(
        "species",
        "Species",
        "input",
        20,
        "@",
        choices="=species_names",
        limits=limits_of("SPECIES_VALUE", "species"),
    ),
    Column("quarters", "Thickness (quarters)", "input", 11, "@", choices=THICKNESSES),
    Column(
        "measured_in",
        "As sawn, if measured (in)",
        "input",
        12,
        "0.000",
        limits=limits_of("READY_DATE", "thickness_in"),
        about="Blank takes the nominal thickness plus 1/8 in (common practice).",
    ),
    Column(
        "measured_mc",
        "Green MC, if measured (%)",
        "input",
        12,
        "0.0",
        limits=limits_of("READY_DATE", "green_mc"),
        about=f"Blank takes the mean of its sample boards set up within {AT_START} days of its "
        "start, else the species' published mean.",
    ),
    Column("start", "Stacked on", "input", 12, DATE, limits=limits_of("READY_DATE", "start_date")),
    Column(
        "target",
        "Target MC (%)",
        "input",
        9,
        "0.0",
        limits=limits_of("READY_DATE", "target_mc"),
        about="What this stack is to come down to; blank takes the usual one on Start.",
    ),
    Column(
        "move_date",
        "Moves on",
        "input",
        12,
        DATE,
        limits=limits_of("READY_DATE", "move_date"),
        about="First day in another place, planned or past; blank for a stack that stays. Of two "
        "moves the last: for what was before name a place of its own on Site, with a dated row for "
        "each month.",
    ),
    Column("move_place", "Moves to", "input", 12, "@", choices="=place_names"),
    Column(
        "move_setting",
        "Air through it there",
        "input",
        17,
        "@",
        limits=limits_of("STACK_FACTOR", "setting"),
    ),
    Column("sticker", "Sticker (in)", "input", 10, "0.000", limits=Limits("in", 0.25, 3)),
    Column("width", "Width (ft)", "input", 9, "0.0", limits=limits_of("FLOOR_LOAD", "width_ft")),
    Column("length", "Length (ft)", "input", 9, "0.0", limits=limits_of("FLOOR_LOAD", "length_ft")),
)
"""Columns of Stacks, in their order."""
