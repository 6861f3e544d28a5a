"""Sheet Sample boards: how each weighed sample board was set up, and what it is to weigh."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import AFTER_AS_OF, blank_around, first_note, of_named_row
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.named_stack import of_named_stack
from lumbercalc.book.sheets.stack_reckoning import AT_START
from lumbercalc.sheet.limits import Limits

_WEIGHED = "SUMPRODUCT(MAX((weighing_board={board})*weighing_day))"
_STACKED, _TARGET = of_named_stack("start"), of_named_stack("goal")

_WHY = (
    'IF({ovendry}="",PROBLEM("OVENDRY_WEIGHT",{weight}-{tare},{green}),IF({weight}="",'
    'PROBLEM("WEIGHT_AT_MC",{ovendry},0),PROBLEM("MC_BY_WEIGHT",{weight}-{tare},{ovendry})))'
)
_SECTIONS = "{section1},{section2}"

LEAST_SECTION = 5
"""% MC: less in a board set up for drying was typed as a share of 1, 0.75 for 75 %."""
SECTIONS_OFF = 5
"""% MC by which the mean of two sound sections may miss the whole board (common practice, no
source)."""
FAR_APART = 2
"""Times one section may hold what the other does (common practice, no source)."""

OF_SECTION = (
    "Cut it 1 in along the grain, 12 in or more from the board's end, clear of knots. Weigh it at "
    "once; dry it at 215 deg F until it loses no more (Wengert 2012). =MC_BY_WEIGHT(weight then, "
    "weight dried)"
)
"""How a section is cut, weighed and dried."""

NOTES = (
    ("COUNTIF(sample_board,{board})>1", "name is used twice"),
    blank_around("board"),
    ("COUNTIF(stack_name,{stack})=0", "no such stack on Stacks"),
    ("ISTEXT({date})", "the date is not a date"),
    ('{date}=""', "the day it was set up is missing"),
    ('as_of<>"",SUM({date})>as_of', AFTER_AS_OF),
    (
        'IF({ovendry}="",OR({weight}="",{green}=""),FALSE)',
        "weight and section MCs, or an ovendry weight, are missing",
    ),
    (
        f"COUNT({_SECTIONS})>0,MIN({_SECTIONS})<{LEAST_SECTION}",
        f"a section under {LEAST_SECTION} % MC: type 75 for 75 %",
    ),
    (
        f"COUNT({_SECTIONS})=2,MAX({_SECTIONS})>{FAR_APART}*MIN({_SECTIONS})",
        "the two sections are far apart: dry and weigh them again",
    ),
    (
        f'IF(AND({{ovendry}}<>"",COUNT({_SECTIONS})>0,ISNUMBER({{green}})),'
        f"ABS({{green}}-AVERAGE({_SECTIONS}))>{SECTIONS_OFF},FALSE)",
        f"the ovendry weight is used; its sections tell over {SECTIONS_OFF} % MC more or less",
    ),
    (
        '{replaces}<>"",COUNTIFS(sample_board,{replaces},sample_stack,{stack})'
        "-IF({replaces}={board},1,0)<1",
        "no other board of its stack has the name that it was re-trimmed from",
    ),
    (
        f"IF(ISNUMBER({{gap}}),{{gap}}<-{AT_START},FALSE)",
        "set up long before its stack was stacked: its MC then is not used",
    ),
)
"""When a sample board is to be looked at (conditions that hold together), and the words."""

SAMPLES = Table(
    "Sample boards",
    "sample",
    "One row for every sample board. Cut a section from each end, oven-dry them, coat the ends, "
    "weigh the board. A re-trimmed board starts a new row, naming the old one. Ovens burn: "
    "never leave one alone.",
    (
        Column(
            "board",
            "Sample board",
            "input",
            13,
            "@",
            about="Among them the thickest, the widest and the wettest, most of it heartwood: the "
            "last to be dry (AH-188 ch. 6, from memory). Lay it where it can be pulled out.",
        ),
        Column("stack", "Stack", "input", 13, "@", choices="=stack_name"),
        Column("date", "Set up on", "input", 12, DATE, limits=Limits("date")),
        Column("unit", "Unit", "input", 7, "@", limits=Limits("choice", choices=("g", "lb"))),
        Column(
            "tare",
            "Scale tare (g or lb)",
            "input",
            9,
            "0.00",
            limits=Limits("g or lb", 0, 1000),
            about="What hangs on the scale with the board; blank is 0.",
        ),
        Column(
            "weight",
            "Weight when set up (g or lb)",
            "input",
            11,
            "0.00",
            limits=limits_of("OVENDRY_WEIGHT", "weight"),
        ),
        Column(
            "section1",
            "MC of section 1 (%)",
            "input",
            10,
            "0.0",
            limits=limits_of("OVENDRY_WEIGHT", "mc_pct"),
            about=OF_SECTION,
        ),
        Column(
            "section2",
            "MC of section 2 (%)",
            "input",
            10,
            "0.0",
            limits=limits_of("OVENDRY_WEIGHT", "mc_pct"),
            about=OF_SECTION,
        ),
        Column(
            "ovendry",
            "Ovendry weight, if measured (g or lb)",
            "input",
            11,
            "0.00",
            limits=limits_of("MC_BY_WEIGHT", "ovendry_weight"),
        ),
        Column(
            "replaces",
            "Re-trimmed from",
            "input",
            13,
            "@",
            choices="=sample_board",
            about="The row of the same board before new sections were cut from it, or of a lost "
            "one that this stands in for: from then on the stack's MC is without that row. Blank "
            "for any other.",
        ),
        Column(
            "green",
            "MC when set up (%)",
            "result",
            10,
            "0.0",
            '=IF({board}="","",IF(AND({ovendry}<>"",{weight}<>""),'
            f'MC_BY_WEIGHT({{weight}}-{{tare}},{{ovendry}}),IF(COUNT({_SECTIONS})=0,"",'
            f"AVERAGE({_SECTIONS}))))",
        ),
        Column(
            "used",
            "Ovendry weight, used (g or lb)",
            "result",
            10,
            "0.00",
            '=IF({board}="","",IF({ovendry}<>"",{ovendry},'
            'IF(OR({weight}="",{green}=""),"",OVENDRY_WEIGHT({weight}-{tare},{green}))))',
        ),
        Column(
            "count",
            "Weighings",
            "result",
            11,
            "0",
            '=IF({board}="","",COUNTIFS(weighing_board,{board},weighing_day,">0"))',
        ),
        Column(
            "last",
            "Last weighed, or set up in drying",
            "result",
            12,
            DATE,
            '=IF({board}="","",IF({day}=0,"",{day}))',
        ),
        Column(
            "mc",
            "MC then (%)",
            "result",
            10,
            "0.0",
            '=IF(OR({board}="",{last}=""),"",IF({count}=0,{green},'
            'IFERROR(AVERAGEIFS(weighing_used,weighing_board,{board},weighing_day,{last}),"")))',
        ),
        Column(
            "wait",
            "Scale shows at the target (g or lb)",
            "result",
            11,
            "0.00",
            f'=IF(OR({{board}}="",NOT(ISNUMBER({{used}}))),"",IFERROR(IF({_TARGET}="","",'
            f'WEIGHT_AT_MC({{used}},{_TARGET})+{{tare}}),""))',
        ),
        Column(
            "note",
            "Check",
            "check",
            44,
            "@",
            of_named_row(
                "board",
                ("stack", "replaces"),
                "the sample board's name is missing",
                first_note(NOTES, _WHY),
            ),
        ),
        hidden(
            "gap",
            "Days from stacking to its set-up",
            '=IF(OR({board}="",NOT(ISNUMBER({date})),NOT(ISNUMBER({green}))),"",'
            f'IF(OR({{green}}<{LEAST_SECTION},AND(as_of<>"",{{date}}>as_of)),"",'
            f'IFERROR(INT({{date}})-{_STACKED},"")))',
        ),
        hidden(
            "at_start",
            "MC when set up, at its stack's start (%)",
            f'=IF(ISNUMBER({{gap}}),IF(ABS({{gap}})<={AT_START},{{green}},""),"")',
            "0.0",
        ),
        hidden(
            "day",
            "Day of its last MC",
            f'=IF({{board}}="",0,IF({{count}}>0,{_WEIGHED},'
            f"IF(ISNUMBER({{gap}}),IF({{gap}}>{AT_START},INT({{date}}),0),0)))",
            "0;;",
        ),
        hidden(
            "standing",
            "Its stack, unless it was re-trimmed",
            '=IF({board}="","",IF(COUNTIFS(sample_replaces,{board},sample_stack,{stack})'
            '>IF({replaces}={board},1,0),"",{stack}&""))',
            "@",
        ),
    ),
    rows=40,
    last_row=504,
)
"""The table of the sheet."""
