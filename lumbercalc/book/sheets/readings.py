"""Sheet Readings: meter readings corrected to moisture content, and what they say of a stack."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.names import place
from lumbercalc.book.page.notes import AFTER_AS_OF, first_note, reasons
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.named_stack import of_named_stack
from lumbercalc.sheet.limits import Limits

METERS = ("pin", "pinless")

TOLERANCE = 1
"""% MC that a reading may be off the target: the default of SHARE_WITHIN and READINESS."""
CONFIDENCE = 95
"""% that the lot's mean is no higher than its upper bound: the default of MC_UPPER."""

OUT_OF_RANGE = "out of the meter's range: weigh a sample board instead"
NO_PIN_FIGURES = "no pin figures for this species: use the maker's table, or weigh"

_PIN = limits_of("MC_PIN", "reading_pct")
_PINLESS = limits_of("MC_PINLESS", "reading_pct")
_OUTSIDE = (
    f'OR(AND({{meter}}="pin",OR({{shows}}<{_PIN.lowest:g},{{shows}}>{_PIN.highest:g})),'
    f'AND({{meter}}="pinless",OR({{shows}}<{_PINLESS.lowest:g},{{shows}}>{_PINLESS.highest:g})))'
)
_EARLY = f"IFERROR({{date}}<SUM({of_named_stack('start')}),FALSE)"
"""Of other wood, in a stack that had the name before."""
_BY_PIN = '{shows},{species},{temp},IF({calibration}="","",{calibration})'
_BY_PINLESS = "{shows},{meter_sg},{species}"
_ANY_PIN_READING = 'PROBLEM("MC_PIN",12,{species},70)'
"""Refused only where the species has no figures for a pin meter."""
_WHY = reasons(
    f'IF({{meter}}="pin",PROBLEM("MC_PIN",{_BY_PIN}),PROBLEM("MC_PINLESS",{_BY_PINLESS}))',
    'IF({dry}="","",PROBLEM("MATCHES_DRY_SAMPLE",{shows},{dry}))',
)

ELSEWHERE = "on Boards this board is not in that stack: left out"
_ELSEWHERE = (
    'IF({board}="",FALSE,IFERROR(INDEX(board_stack,MATCH({board},board_tag,0))<>{stack},FALSE))'
)
"""A board that has no tag on Boards is named by its place in the stack."""
BEFORE_STACKED = "read before its stack was stacked: left out"
READ_AGAIN = "this board was read again that day: its wettest reading counts"
NO_BOARD = "which board? Readings of a day without one count as one board"
_AGAIN = (
    'IF({key}="","",IF(COUNTIF(reading_key,{key})=1,0,'
    'IF(COUNTIFS(reading_key,{key},reading_order,">"&{order})>0,1,0)))'
)
"""One reading a board: what READINESS asks for are boards, not readings. The wettest, as the middle
of a board is the last to dry (common practice, no source)."""
_HIGHEST_SG = limits_of("MC_PINLESS", "meter_sg").highest
_MAY_BE = (
    f'IF({{species}}="",{{shows}},MAX({{shows}},IFERROR(IF({{meter_sg}}>{_HIGHEST_SG:g},0,'
    '{shows}*{meter_sg}/SPECIES_VALUE({species},"specific gravity")),0),'
    f"IFERROR(MC_PIN(MIN({_PIN.highest:g},MAX({_PIN.lowest:g},{{shows}})),{{species}},"
    'IF({temp}="",70,{temp})),0)))'
)
"""As wet as a reading may be that a correction puts out of the meter's range."""
_LATEST = "INDEX(lot_day,MATCH({stack},lot_stack,0))"
SHORTLY = 7
"""Days before a stack's latest readings in which wet boards are not dry yet (common practice, no
source)."""
_NO_GRAVITY = 'PROBLEM("SPECIES_VALUE",{species},"specific gravity")'

NOTES = (
    ('OR({date}="",{stack}="",{meter}="",{shows}="")', "date, stack, meter or reading is missing"),
    ("NOT(ISNUMBER({date}))", "the date is not a date"),
    ("{day}=0", AFTER_AS_OF),
    ("{day}<0", BEFORE_STACKED),
    ('{species}=""', "no such stack, or no species for it, on Stacks"),
    ("NOT(ISNUMBER({shows}))", "the reading is not a number"),
    ('{meter}<>"pin",{meter}<>"pinless"', "the meter must be pin or pinless"),
    ('{meter}="pin",{temp}=""', "the temperature of the wood is missing"),
    ('{meter}="pinless",{meter_sg}=""', "the SG that the meter is set to is missing"),
    (_OUTSIDE, OUT_OF_RANGE),
    (f'{_NO_GRAVITY}="",{{meter}}="pin",{_ANY_PIN_READING}<>""', NO_PIN_FIGURES),
    (f'{_WHY}="",{_ELSEWHERE}', ELSEWHERE),
    (f'{_WHY}="",{{board}}=""', NO_BOARD),
    (f'{_WHY}="",{{again}}=1', READ_AGAIN),
)
"""When a reading is to be looked at (conditions that hold together), and the words."""
_REASON = f'IF({_NO_GRAVITY}="",{_WHY},{_NO_GRAVITY})'

READINGS = Table(
    "Readings",
    "reading",
    "One row for every meter reading, one reading a board, at least four boards. Only those of a "
    "stack's latest day count, in the table on the right. The maker's own table governs.",
    (
        Column("date", "Date", "input", 12, DATE, limits=Limits("date")),
        Column("stack", "Stack", "input", 13, "@", choices="=stack_name"),
        Column("board", "Board", "input", 13, "@", about="Its tag, or its place in the stack."),
        Column("meter", "Meter", "input", 9, "@", limits=Limits("choice", choices=METERS)),
        Column(
            "shows",
            "Meter shows (% MC)",
            "input",
            10,
            "0.0",
            limits=limits_of("MATCHES_DRY_SAMPLE", "reading"),
            about="Its own corrections off; a pin meter set to Douglas-fir. Pins along the grain, "
            "a quarter of the thickness deep for the mean, half for the core (FPL-GTR-6, from "
            "memory); a pinless meter flat, with air behind the board. Off ends and knots.",
        ),
        Column(
            "temp",
            "Wood, for pin (deg F)",
            "input",
            10,
            "0",
            limits=limits_of("MC_PIN", "wood_temp_f"),
            about="Temperature of the wood, not of the air; for a pin meter.",
        ),
        Column(
            "calibration",
            "Pin meter made for (deg F)",
            "input",
            12,
            "0",
            limits=limits_of("MC_PIN", "calibration_temp_f"),
            about="Temperature of the meter's calibration; blank is 70.",
        ),
        Column(
            "meter_sg",
            "Pinless meter set to (SG)",
            "input",
            12,
            "0.00",
            limits=limits_of("MC_PINLESS", "meter_sg"),
            about="Basic specific gravity set on a pinless meter. A maker that means the figure "
            "at 12 % MC prints one about a tenth higher: look in its manual.",
        ),
        Column(
            "dry",
            "On the dry piece (% MC)",
            "input",
            11,
            "0.0",
            limits=limits_of("MATCHES_DRY_SAMPLE", "dry_reading"),
            about="What the same meter shows, that day, on a piece of the same wood known to be "
            "dry; blank where there is none.",
        ),
        Column(
            "species",
            "Species",
            "result",
            18,
            "@",
            f'=IF({{stack}}="","",IFERROR({of_named_stack("species")}&"",""))',
        ),
        Column(
            "mc",
            "MC, corrected (%)",
            "result",
            12,
            "0.0",
            '=IF(OR({day}<=0,{shows}="",{species}=""),"",'
            f'IF({{meter}}="pin",IF({{temp}}="","",MC_PIN({_BY_PIN})),'
            f'IF({{meter}}="pinless",IF({{meter_sg}}="","",MC_PINLESS({_BY_PINLESS})),"")))',
        ),
        Column(
            "against",
            "Against the dry piece",
            "result",
            24,
            "@",
            '=IF(OR({shows}="",{dry}=""),"",IF(MATCHES_DRY_SAMPLE({shows},{dry}),'
            '"like the dry piece",IF({shows}>{dry},"wetter","drier: read both again")))',
        ),
        Column(
            "note",
            "Check",
            "check",
            74,
            "@",
            '=IF(AND({date}="",{stack}="",{board}="",{meter}="",{shows}=""),"",'
            + first_note(NOTES, _REASON)
            + ")",
        ),
        Column(
            "counts",
            "Counts for its stack (% MC)",
            "result",
            12,
            "0.0",
            f'=IF(NOT(ISNUMBER({{mc}})),"",IF(OR({{again}}=1,{_ELSEWHERE}),"",IFERROR(IF({{day}}='
            f'{_LATEST},{{mc}},""),"")))',
        ),
        Column(
            "day",
            "Day number",
            "result",
            10,
            "0;;",
            '=IF(NOT(ISNUMBER({date})),0,IF(AND(as_of<>"",{date}>as_of),0,'
            f"IF({_EARLY},-1,INT({{date}}))))",
            hidden=True,
        ),
        Column(
            "key",
            "Stack, day and board",
            "result",
            24,
            "@",
            '=IF(NOT(ISNUMBER({mc})),"",{stack}&"|"&{day}&"|"&{board})',
            hidden=True,
        ),
        hidden(
            "order",
            "Wettest first, then as typed",
            f'=IF(NOT(ISNUMBER({{mc}})),"",ROUND({{mc}},3)*10000000-{place("reading", "board")})',
        ),
        hidden("again", "Read again that day, and wetter (1) or not (0)", f"={_AGAIN}"),
        hidden(
            "may_be",
            "May be as wet as, where it is left out (% MC)",
            f'=IF(OR(ISNUMBER({{mc}}),NOT(ISNUMBER({{shows}}))),"",{_MAY_BE})',
            "0.0",
        ),
        hidden(
            "not_again",
            "Read shortly before its stack's latest day, not on it (1)",
            f'=IF(NOT(ISNUMBER({{mc}})),"",IFERROR(IF(AND({{day}}<{_LATEST},'
            f'{{day}}>={_LATEST}-{SHORTLY}),IF(COUNTIF(reading_key,{{stack}}&"|"&{_LATEST}&"|"'
            "&{board})=0,1,0),0),0))",
        ),
    ),
    rows=200,
    frozen=0,
)
"""The table of the readings."""
