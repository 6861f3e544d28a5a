"""Sheet Weighings: dated weights of the sample boards, and the moisture content they show."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import AFTER_AS_OF, first_note, unless_a_number
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.named_stack import of_named_stack
from lumbercalc.book.sheets.stack_advice import WET
from lumbercalc.sheet.limits import Limits

_OF_BOARD = "INDEX(sample_%s,MATCH({board},sample_board,0))"
_NET = f"{{weight}}-{_OF_BOARD % 'tare'}"
_TYPED = 'OR({date}="",{board}="",{weight}="")'

_WHY = unless_a_number("{mc}", f'PROBLEM("MC_BY_WEIGHT",{_NET},{_OF_BOARD % "used"})')

LIGHTER = "lighter than the board ovendry: is it the unit, the board or the tare?"
TOO_DRY = "drier than the air there can make it: weigh again"
GAINED = "gained weight: rain, damp air or a misread scale"
FROM_DOUBT = "its loss is counted from a weight in doubt"
TOO_FAST = "over the safe rate"
UNLIKE = "lost far more than its stack's other boards: misread, or another board?"

_DAY = "IFERROR(SUM(%s),0)"
"""Of a cell that may hold no date."""
_STACKED = of_named_stack("start")


def _lowest(place: str) -> str:
    """Write the lowest EMC of a place of the stack; 1000 where there is none."""
    there = f"INDEX(stack_{place},MATCH({{stack}},stack_name,0))"
    return f'IFERROR(IF({there}="",1000,INDEX(place_lowest,MATCH({there},place_names,0))),1000)'


_LOWEST = f"MIN({_lowest('place')},{_lowest('move_place')})"
_TARGET = of_named_stack("goal")
_THAT_DAY = "weighing_stack,{stack},weighing_day,{day}"
_ALL_WEIGHED = f"COUNTIFS({_THAT_DAY})>=COUNTIFS(sample_standing,{{stack}})"
"""A driest board that is weighed alone does not tell that the stack is dry."""
_MEAN = f"AVERAGEIFS(weighing_used,{_THAT_DAY})"
BEFORE_DAY = 1_000_000
"""A day number beyond all: what is left to it is greatest for the first day."""
UNDER_EMC = 2
"""% MC by which air can miss its monthly mean: no wood is drier than that (derived)."""
_LATE = 'AND(as_of<>"",{date}>as_of)'
_EARLY = "{date}<{since}"

TIMES, POINTS = 2, 3
"""Times what the boards of a day lost on average, and % MC more than that, that a board loses only
where it was misread (common practice, no source)."""
_SOUND = f"{_THAT_DAY},weighing_doubt,0"
"""A board that gained on paper, by a slip, would lower the mean until the right ones stand out."""
_MEAN_LOSS = f"AVERAGEIFS(weighing_sure_loss,{_SOUND})"
_UNLIKE = (
    f"COUNTIFS({_SOUND})>2,IFERROR(AND({{sure_loss}}>{TIMES}*{_MEAN_LOSS},"
    f"({{sure_loss}}-{_MEAN_LOSS})*({{day}}-{{before}})>{POINTS}),FALSE)"
)

NOTES = (
    (_TYPED, "date, board or weight is missing"),
    ("NOT(ISNUMBER({date}))", "the date is not a date"),
    ("COUNTIF(sample_board,{board})=0", "no such board on Sample boards"),
    (_LATE, AFTER_AS_OF),
    (_EARLY, "the date is before the board was set up, or its stack was stacked"),
    (
        "{day}>0,COUNTIFS(weighing_board,{board},weighing_day,{day})>1",
        "weighed twice this day",
    ),
    (f"NOT(ISNUMBER({_OF_BOARD % 'used'}))", "its board has no ovendry weight: see Sample boards"),
    (f"IFERROR({_NET}<{_OF_BOARD % 'used'},FALSE)", LIGHTER),
    ("{doubt}=1", GAINED),
    ("{doubt}=2", TOO_DRY),
    ('ISNUMBER({loss}),{sure_loss}=""', FROM_DOUBT),
    (
        f"ISNUMBER({{sure_loss}}),ISNUMBER({{safe}}),{{mc_before}}>{WET},{{sure_loss}}>{{safe}}",
        TOO_FAST,
    ),
    (f"ISNUMBER({{sure_loss}}),{_UNLIKE}", UNLIKE),
)
"""When a weighing is to be looked at (conditions that hold together), and the words.

A weighing of a day that cannot be is left out of the forecast.
"""


WEIGHINGS = Table(
    "Weighings",
    "weighing",
    "One row for every weighing: date, sample board and what the scale shows. Weigh all boards of "
    "a stack on the same day, every few days at first, then weekly.",
    (
        Column("date", "Date", "input", 12, DATE, limits=Limits("date")),
        Column("board", "Sample board", "input", 13, "@", choices="=sample_board"),
        Column(
            "weight",
            "Scale shows (g or lb)",
            "input",
            11,
            "0.00",
            limits=limits_of("MC_BY_WEIGHT", "weight"),
        ),
        Column(
            "stack",
            "Stack",
            "result",
            13,
            "@",
            f'=IF({{board}}="","",IFERROR({_OF_BOARD % "stack"}&"",""))',
        ),
        Column(
            "mc",
            "MC (%)",
            "result",
            9,
            "0.0",
            f'=IF({_TYPED},"",MC_BY_WEIGHT({_NET},{_OF_BOARD % "used"}))',
        ),
        Column(
            "before",
            "Weighed before",
            "result",
            12,
            DATE,
            '=IF(NOT(ISNUMBER({mc})),"",IF(SUMPRODUCT(MAX((weighing_board={board})*'
            "(weighing_day<{day})*weighing_day))=0,"
            f'IF({_OF_BOARD % "date"}="","",{_OF_BOARD % "date"}),SUMPRODUCT('
            "MAX((weighing_board={board})*(weighing_day<{day})*weighing_day))))",
        ),
        Column(
            "mc_before",
            "MC before (%)",
            "result",
            9,
            "0.0",
            '=IF(OR(NOT(ISNUMBER({mc})),{before}=""),"",IF(COUNTIFS(weighing_board,{board},'
            f"weighing_day,{{before}})=0,{_OF_BOARD % 'green'},"
            "AVERAGEIFS(weighing_used,weighing_board,{board},weighing_day,{before})))",
        ),
        Column(
            "loss",
            "Loss (% MC a day)",
            "result",
            10,
            "0.00",
            '=IF(OR(NOT(ISNUMBER({mc})),NOT(ISNUMBER({mc_before}))),"",'
            'IF({day}>{before},({mc_before}-{mc})/({day}-{before}),""))',
        ),
        Column(
            "safe",
            "Safe rate (% MC a day)",
            "result",
            10,
            "0.0",
            f'=IF({{stack}}="","",IFERROR({of_named_stack("safe")},""))',
        ),
        Column(
            "note",
            "Check",
            "check",
            50,
            "@",
            '=IF(AND({date}="",{board}="",{weight}=""),"",'
            + first_note(NOTES, f'IFERROR({_WHY},"the weight is not a number")')
            + ")",
        ),
        hidden(
            "since",
            "Day from which it can be weighed",
            f'=IF({{board}}="",0,MAX({_DAY % (_OF_BOARD % "date")},{_DAY % _STACKED}))',
            "0;;",
        ),
        hidden(
            "day",
            "Day number",
            f"=IF(AND(ISNUMBER({{date}}),ISNUMBER({{mc}})),IF(OR({_LATE},{_EARLY}),0,INT({{date}})),0)",
            "0;;",
        ),
        hidden(
            "doubt",
            "Gained (1), or too dry to be true (2)",
            "=IF(NOT(ISNUMBER({mc})),0,IF(IF(ISNUMBER({loss}),{loss}<-0.2,FALSE),1,"
            f"IF(AND({{day}}>0,{_LOWEST}<1000,{{mc}}<{_LOWEST}-{UNDER_EMC}),2,0)))",
            "0;;",
        ),
        hidden(
            "sure_loss",
            "Loss, unless it is counted from a weight in doubt (% MC a day)",
            '=IF(NOT(ISNUMBER({loss})),"",IF(COUNTIFS(weighing_board,{board},weighing_day,{before},'
            'weighing_doubt,">0")>0,"",{loss}))',
            "0.00",
        ),
        hidden(
            "used",
            "MC for the forecast (%)",
            '=IF(OR(ISERROR({mc}),{day}=0),"",{mc})',
            "0.0",
        ),
        hidden(
            "dry",
            "Its boards were at the target, the first day the greatest",
            f'=IF(OR({{used}}="",{{stack}}=""),0,IFERROR(IF({{used}}>SUM({_TARGET}),0,'
            f"IF(AND({_ALL_WEIGHED},{_MEAN}<={_TARGET}),{BEFORE_DAY}-{{day}},0)),0))",
            "0;;",
        ),
        hidden(
            "card",
            "For the card",
            '=IF({stack}="","",IF(AND({stack}=card_name,{day}>0),{day}+ROW({board})/100000,""))',
            "0;;",
        ),
    ),
    rows=200,
    frozen=2,
)
"""The table of the sheet."""
