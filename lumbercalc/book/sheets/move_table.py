"""The table of Move plan: the stack that stays, and the dates on which it could move."""

from __future__ import annotations

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import Field, chosen_or_first, looked_up, row_of
from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.table import Column
from lumbercalc.book.sheets.course import DAY
from lumbercalc.book.sheets.stack_reckoning import as_sawn
from lumbercalc.wood.moving import MOST_CANDIDATES

PLAN_SHEET = "Move plan"
STEP = 14
"""Days: a fortnight, as in MOVE_PLAN."""


def _of_stack(key: str, label: str, number_format: str = "@") -> Field:
    value = looked_up(f"stack_{key}", "plan_row")
    return Field(f"plan_{key}", label, "result", number_format, value)


FROM_STACKS = [
    Field(
        "plan_name",
        "Stack",
        "result",
        "@",
        chosen_or_first("plan_stack", "stack_name"),
    ),
    Field("plan_row", "Its row on Stacks", "result", "0", row_of("plan_name", "stack_name")),
    _of_stack("place", "First place"),
    _of_stack("air", "Air factor", "0.00"),
    _of_stack("move_date", "Moves on, on Stacks", DATE),
    _of_stack("move_place", "Moves to"),
    _of_stack("move_air", "Air factor there", "0.00"),
    _of_stack("species", "Species"),
    _of_stack("sawn", "As sawn (in)", "0.000"),
    _of_stack("green", "Green MC (%)", "0.0"),
    _of_stack("start", "Stacked on", DATE),
    _of_stack("goal", "Target MC (%)", "0.0"),
    _of_stack("rate", "Rate k", "0.00"),
    _of_stack("known_on", "Last measured", DATE),
    _of_stack("known_mc", "MC then (%)", "0.0"),
    _of_stack("bf", "Board feet, green (bf)", "#,##0"),
    _of_stack("quarters", "Thickness (quarters)"),
    Field(
        "plan_moved",
        "Moved already (1) or not (0)",
        "result",
        "0",
        "=IF(ISNUMBER(plan_move_date),IF(plan_move_date<=MAX(as_of,plan_known_on),1,0),0)",
    ),
    Field(
        "plan_since_move",
        "Moved after its last weighing (1) or not (0)",
        "result",
        "0",
        "=IF(plan_moved=0,0,IF(plan_move_date>IF(ISNUMBER(plan_known_on),plan_known_on,plan_start),1,0))",
    ),
    Field(
        "plan_from",
        "Forecast from: weighed, or moved since",
        "result",
        DATE,
        "=IF(plan_since_move=1,plan_move_date,plan_known_on)",
    ),
    Field(
        "plan_from_mc",
        "MC then (%)",
        "result",
        "0.0",
        "=IF(plan_since_move=0,plan_known_mc,MC_FORECAST(plan_species,plan_sawn,plan_green,"
        "plan_start,plan_move_date,climate,plan_air,plan_rate,plan_known_on,plan_known_mc,plan_place))",
    ),
    Field(
        "plan_here_since",
        "Stands here since",
        "result",
        DATE,
        "=IF(plan_moved=1,plan_move_date,plan_start)",
    ),
    Field(
        "plan_here_air",
        "Air factor where it stands",
        "result",
        "0.00",
        '=IF(AND(plan_moved=1,plan_move_air<>""),plan_move_air,plan_air)',
    ),
    Field(
        "plan_to_air",
        "Air factor in the second place",
        "result",
        "0.00",
        '=IF(plan_to_setting="","",STACK_FACTOR(plan_to_setting))',
    ),
    Field(
        "plan_every",
        "Days from date to date, used",
        "result",
        "0",
        f'=IF(plan_step="",{STEP},plan_step)',
    ),
    Field(
        "plan_each",
        "Pints of water in 1 % of MC",
        "result",
        "0.0",
        '=IF(plan_row="","",IF(plan_bf>0,DEHUMIDIFIER_PINTS(plan_species,'
        f'plan_bf*{as_sawn("plan_sawn", "plan_quarters")},1),""))',
    ),
    Field(
        "plan_on",
        "Planned (1) or not (0)",
        "result",
        "0",
        '=IF(OR(plan_row="",plan_to=""),0,IF(ISNUMBER(plan_rate),1,0))',
    ),
]
"""What the plan takes from Stacks; right of the printed page."""

_STACK = "plan_species,plan_sawn,plan_green,plan_start"
_BEGUN = "climate,plan_here_air,plan_rate"
READY = f'READY_DATE({_STACK},plan_goal,{_BEGUN},"",plan_from,plan_from_mc,"likely",plan_here%s)'
_THERE = ",{moves},plan_to,plan_to_air"
_DATE = "plan_begin+({n}-1)*plan_every"

_NOTHING_DAY = "IF(ISNUMBER(plan_best_day),plan_best_day,MAX(0,plan_begin))"
_NOTHING_READY = "IF(ISNUMBER(plan_best_ready),plan_best_ready,MAX(0,plan_begin,plan_stays))"
"""What is drawn of a date that cannot be chosen, so that the axes keep to the years of the rest."""

TABLE_ROW = 15
MOVE_PLAN = Block(
    PLAN_SHEET,
    (
        Column(
            "moves",
            "Moves on",
            "result",
            28,
            DATE,
            '=IF(plan_on=0,"",IF({n}=0,"stays",IF(ISTEXT(plan_stays),'
            f'{_DATE},IF(ISNUMBER(plan_stays),IF({_DATE}<plan_stays,{_DATE},""),""))))',
        ),
        Column(
            "mc",
            "MC then (%)",
            "result",
            18,
            "0.0",
            "=IF(ISNUMBER({moves}),"
            f'MC_FORECAST({_STACK},{{moves}},{_BEGUN},plan_from,plan_from_mc,plan_here),"")',
        ),
        Column(
            "ready",
            "Ready, likely",
            "result",
            13,
            DATE,
            f'=IF({{moves}}="","",IF({{n}}=0,plan_stays,{READY % _THERE}))',
        ),
        Column(
            "first",
            "Days in the first place",
            "result",
            12,
            "0",
            '=IF({moves}="","",IF(ISNUMBER({moves}),{moves}-plan_here_since,'
            'IF(ISNUMBER({ready}),{ready}-plan_here_since,"")))',
        ),
        Column(
            "second",
            "Days in the second",
            "result",
            12,
            "0",
            '=IF({moves}="","",IF({n}=0,0,IF(ISNUMBER({ready}),{ready}-{moves},"")))',
        ),
        Column(
            "pints",
            "Water to take out there (pints)",
            "result",
            13,
            "#,##0",
            '=IF({moves}="","",IF({n}=0,0,IF(AND(ISNUMBER({ready}),ISNUMBER(plan_each)),'
            '({mc}-plan_goal)*plan_each,"")))',
        ),
        Column(
            "daily",
            "On average (pints a day)",
            "result",
            12,
            "0.0",
            '=IF(AND(ISNUMBER({pints}),ISNUMBER({second})),IF({second}>0,{pints}/{second},""),"")',
        ),
        Column(
            "note",
            "Note",
            "check",
            12,
            "@",
            '=IF(NOT(ISNUMBER({moves})),"",IF({moves}<as_of,"past",'
            'IF({moves}=plan_best_day,"this one","")))',
        ),
        Column("n", "Row", "result", 7, "0"),
        Column(
            "open_ready",
            "Ready, if still possible",
            "result",
            12,
            DAY,
            "=IF(AND(ISNUMBER({moves}),ISNUMBER({ready})),IF({moves}>=as_of,{ready},0),0)",
        ),
        Column("open_day", "Moves on", "result", 12, DAY, "=IF({open_ready}>0,{moves},0)"),
        Column(
            "drawn_day",
            "Drawn: moves on",
            "result",
            12,
            DAY,
            f"=IF({{open_ready}}>0,{{moves}},{_NOTHING_DAY})",
        ),
        Column(
            "drawn_ready",
            "Drawn: ready",
            "result",
            12,
            DAY,
            f"=IF({{open_ready}}>0,{{ready}},{_NOTHING_READY})",
        ),
    ),
    MOST_CANDIDATES + 1,
    TABLE_ROW,
)
"""The stack that stays, then the dates; right of the page what the chart draws of them."""

PLAN_LINE = Block(
    PLAN_SHEET,
    (
        Column("n", "End", "result", 7, "0"),
        Column(
            "day",
            "Drawn: stays",
            "result",
            12,
            DAY,
            f"=IF(AND({{n}}=0,ISNUMBER(plan_stays)),{_NOTHING_DAY},"
            f"MAX({_NOTHING_DAY},{MOVE_PLAN.area('open_day').split('!')[1]}))",
        ),
        Column(
            "ready",
            "Ready if it stays",
            "result",
            12,
            DAY,
            f"=IF(ISNUMBER(plan_stays),plan_stays,"
            f"MAX({_NOTHING_READY},{MOVE_PLAN.area('open_ready').split('!')[1]}))",
        ),
    ),
    2,
    TABLE_ROW,
    MOVE_PLAN.left + len(MOVE_PLAN.columns) + 1,
)
"""The ready date of the stack that stays; one point of the others where it is never ready."""
