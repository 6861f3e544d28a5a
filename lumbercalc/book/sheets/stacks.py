"""Sheet Stacks: each stack's place, size and weight, how wet it is and when it will be ready."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import first_note, of_named_row
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.sheets.stack_advice import ADVICE_FORMULA, EMPTIED
from lumbercalc.book.sheets.stack_reckoning import (
    ALL_BOARDS,
    AS_SAWN,
    HERE,
    IN_LAST_ROUND,
    LAST_KNOWN,
    LAST_NOTES,
    NO_DATES,
    NOTES,
    NOW,
    OWN_NOTES,
    READY,
    WEIGHED,
    WHY,
    guarded,
)
from lumbercalc.book.sheets.stack_setup import TYPED

STACKS = Table(
    "Stacks",
    "stack",
    "One row for every stack. Dates are estimates with a band: weigh sample boards, and weigh "
    "before you sell. Stacks fall and floors fail: see the cautions on Start.",
    (
        *TYPED,
        Column(
            "boards",
            "Rows on Boards",
            "result",
            9,
            "0",
            '=IF({name}="","",COUNTIFS(board_lies,{name}))',
        ),
        Column(
            "bf",
            "Board feet, green (bf)",
            "result",
            10,
            "#,##0",
            '=IF({name}="","",SUMIFS(board_bf,board_lies,{name}))',
        ),
        Column(
            "sawn",
            "As sawn, used (in)",
            "result",
            9,
            "0.000",
            '=IF(OR({name}="",{quarters}=""),"",'
            'IF({measured_in}<>"",{measured_in},THICKNESS_IN({quarters})+1/8))',
        ),
        Column(
            "green",
            "Green MC, used (%)",
            "result",
            9,
            "0.0",
            '=IF(OR({name}="",{species}=""),"",'
            'IF({measured_mc}<>"",{measured_mc},IFERROR(AVERAGEIFS(sample_at_start,sample_stack,'
            '{name}),SPECIES_VALUE({species},"green MC"))))',
        ),
        Column(
            "goal",
            "Target MC, used (%)",
            "result",
            9,
            "0.0",
            '=IF({name}="","",IF({target}<>"",{target},IF(target_mc="","",target_mc)))',
        ),
        Column(
            "air",
            "Air factor",
            "result",
            8,
            "0.00",
            '=IF(OR({name}="",{setting}=""),"",STACK_FACTOR({setting}))',
        ),
        Column(
            "move_air",
            "Air factor there",
            "result",
            8,
            "0.00",
            '=IF(OR({name}="",{move_setting}=""),"",STACK_FACTOR({move_setting}))',
        ),
        Column(
            "weighings",
            "Weighings used",
            "result",
            11,
            "0",
            '=IF({name}="","",COUNTIFS(weighing_stack,{name},weighing_day,">0"))',
        ),
        Column(
            "known_on",
            "Last weighed, or boards set up in drying",
            "result",
            12,
            DATE,
            f'=IF({{name}}="","",IF({LAST_KNOWN}=0,"",{LAST_KNOWN}))',
        ),
        Column(
            "known_mc",
            "MC then (%)",
            "result",
            10,
            "0.0",
            f'=IF(OR({{name}}="",{{known_on}}=""),"",AVERAGEIFS(sample_mc,{IN_LAST_ROUND}))',
        ),
        Column(
            "rate",
            "Rate k (1 = as forecast)",
            "result",
            10,
            "0.00",
            guarded(f"IF({{weighings}}=0,1,DRYING_RATE({WEIGHED}))"),
        ),
        Column(
            "spread",
            "Rate k, give or take (1 SD)",
            "result",
            10,
            "0%",
            guarded(f'IF({{weighings}}=0,"",RATE_SPREAD({WEIGHED}))'),
        ),
        Column(
            "mc_now",
            "MC now (%)",
            "result",
            9,
            "0.0",
            guarded(f'IF(as_of<{{start}},"not begun",MC_FORECAST({NOW % 0}))'),
        ),
        Column(
            "loss",
            "Loss now (% MC a day)",
            "result",
            10,
            "0.00",
            guarded(f'IF(ISNUMBER({{mc_now}}),{{mc_now}}-MC_FORECAST({NOW % 1}),"")'),
        ),
        Column(
            "loss_weighed",
            "Loss by last weighing (% MC a day)",
            "result",
            12,
            "0.00",
            '=IF(OR({name}="",{last}=""),"",'
            'IFERROR(AVERAGEIFS(weighing_sure_loss,weighing_stack,{name},weighing_day,{last}),""))',
        ),
        Column(
            "safe",
            "Safe rate (% MC a day)",
            "result",
            10,
            "0.0",
            '=IF(OR({name}="",{species}="",{quarters}=""),"",'
            'IFERROR(SAFE_RATE({species},{sawn}),"not published"))',
        ),
        Column(
            "weight",
            "Weight now (lb)",
            "result",
            10,
            "#,##0",
            '=IF(OR({name}="",NOT(ISNUMBER({mc_now})),{bf}=0),"",'
            f"LUMBER_WEIGHT({{species}},{{bf}},{{mc_now}},{AS_SAWN}))",
        ),
        Column(
            "pints",
            "Water to take out (pints a day)",
            "result",
            11,
            "0.0",
            '=IF(OR({name}="",NOT(ISNUMBER({loss})),{bf}=0),"",'
            f"DEHUMIDIFIER_PINTS({{species}},{{bf}}*{AS_SAWN},MAX(0,{{loss}})))",
        ),
        Column(
            "load",
            "Floor load, 50 lb/ft2 on top (lb/ft2)",
            "result",
            11,
            "0",
            '=IF(OR({name}="",{length}="",{width}="",NOT(ISNUMBER({weight}))),"",'
            "FLOOR_LOAD({weight}+TOP_WEIGHT({length},{width}),{length},{width}))",
        ),
        Column(
            "early", "Ready, early", "result", 12, DATE, guarded(f"READY_DATE({READY % 'early'})")
        ),
        Column(
            "likely",
            "Ready, likely",
            "result",
            12,
            DATE,
            guarded(f"READY_DATE({READY % 'likely'})"),
        ),
        Column("late", "Ready, late", "result", 12, DATE, guarded(f"READY_DATE({READY % 'late'})")),
        Column(
            "all_boards",
            "Ready, all boards (slowest 5 %)",
            "result",
            12,
            DATE,
            guarded(f"READY_DATE({ALL_BOARDS})"),
        ),
        Column(
            "emc_here",
            "EMC where it is, this month (%)",
            "result",
            11,
            "0.0",
            guarded(
                'IFERROR(INDEX(place_emc,MATCH({here},place_names,0),MONTH(as_of)),"not on Site")'
            ),
        ),
        Column(
            "open",
            "Ready, likely, unless every board has left it",
            "result",
            12,
            DATE,
            f'=IF(AND(ISNUMBER({{likely}}),NOT({EMPTIED})),{{likely}},"")',
            hidden=True,
        ),
        hidden(
            "last",
            "Last weighed",
            '=IF(OR({name}="",{weighings}=0),"",'
            "SUMPRODUCT(MAX((weighing_stack={name})*weighing_day)))",
            DATE,
        ),
        Column("advice", "Advice", "check", 58, "@", guarded(ADVICE_FORMULA)),
        Column(
            "note",
            "Check",
            "check",
            56,
            "@",
            of_named_row(
                "name",
                ("place", "length"),
                "the stack's name is missing",
                # nothing is to be done for a stack that every board has left
                first_note((*OWN_NOTES, (EMPTIED, "ok"), *NOTES), WHY, LAST_NOTES),
            ),
        ),
        hidden(
            "here",
            "Stands in",
            f'=IF({{name}}="","",{HERE}&"")',
            "@",
        ),
        hidden("no_dates", "Why it has no dates", guarded(NO_DATES), "@"),
    ),
    rows=40,
    last_row=204,
    pages_wide=3,
)
"""The table of the sheet."""
