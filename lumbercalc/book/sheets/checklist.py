"""Sheet Checklist: what was done to each stack as it was built, with the date of each."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import first_note, late_among, of_named_row, text_among
from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.sheets.named_stack import of_named_stack
from lumbercalc.sheet.limits import Limits

STEPS = (
    ("sealed", "Ends sealed on", "seal the ends",
     "At once, when the log or board is cut (Wengert; FOR-128 p. 65)."),
    ("brushed", "Sawdust brushed off on", "brush off the sawdust",
     "It holds water and stains (common practice, no source)."),
    ("inspected", "Looked over for insects on", "look over edges and bark for insects",
     "Holes and frass at edges, bark and sapwood (common practice, no source)."),
    ("base", "Base flat corner to corner on", "check the base from corner to corner",
     "String or straightedge over both diagonals (common practice, no source)."),
    ("stickers", "Stickers dry and aligned on", "check that the stickers are dry and aligned",
     "8 to 12 % MC, one above the other, one at each end (Wengert 1998; FOR-128 p. 69)."),
    ("top", "Top weight on", "lay weight on top",
     "50 lb/ft2 at least (FOR-128 p. 68); it must not slide off, and adds to the floor load."),
)  # fmt: skip
"""Key, header, what to do, and what is meant, with its source."""

_TO_DO = "&".join(f'IF({{{key}}}="","; {do}","")' for key, _, do, _ in STEPS)
_DONE = "COUNT({sealed},{brushed},{inspected},{base},{stickers},{top})"
_START = of_named_stack("start")

_SEALED_LATE = (
    f'IF(AND(N({_START})>0,N({{sealed}})>N({_START})),"; sealed after it was stacked","")'
)
_DATED = [key for key, *_ in STEPS]
NOTES = (
    ("COUNTIF(checklist_stack,{stack})>1", "stack stands twice"),
    ("COUNTIF(stack_name,{stack})=0", "no such stack on Stacks"),
    text_among(_DATED),
    late_among(_DATED),
    ("COUNTIF(board_lies,{stack})=0,COUNTIF(board_stack,{stack})>0", "ok"),
)
"""When a row is to be looked at (conditions that hold together), and the words; nothing is to be
done any more for a stack that every board has left."""
_NOTE = first_note(NOTES, f'IF({{done}}={len(STEPS)},"",MID({_TO_DO}&{_SEALED_LATE},3,200))')

CHECKLIST = Table(
    "Checklist",
    "checklist",
    "One row for every stack, a date for every step. Lift in twos, nobody climbs on a stack, and "
    "tie down what could slide or topple.",
    (
        Column("stack", "Stack", "input", 14, "@", choices="=stack_name"),
        *(
            Column(key, header, "input", 13, DATE, limits=Limits("date"), about=about)
            for key, header, _, about in STEPS
        ),
        Column("remarks", "Remarks", "input", 34, "@"),
        Column("done", f"Done (of {len(STEPS)})", "result", 9, "0",
               f'=IF({{stack}}="","",{_DONE})'),
        Column("note", "Still to do", "check", 62, "@",
               of_named_row("stack", ("sealed", "remarks"), "the stack is missing", _NOTE)),
    ),
    rows=40,
    last_row=204,
)  # fmt: skip
"""The table of the sheet."""
