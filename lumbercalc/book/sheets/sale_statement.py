"""What a sale says of the moisture of its stack, and when it must not: parts of formulas.

Only what was weighed or read by the day of the invoice counts, so that a later round leaves the
paper as it is. What the shop itself doubts is told in the checks, and is not printed.
"""

from __future__ import annotations

from lumbercalc.book.page.notes import Notes
from lumbercalc.book.page.validation import limits_of

INVOICE_BY = 2_958_465
"""The day by which an open quote counts weighings, readings and boards: 9999-12-31, any day."""

_MOST_MC = limits_of("MC_STATEMENT", "readings").highest
_THERE = "ISNUMBER(MATCH({stack},stack_name,0))"
_BY = f"IF(ISNUMBER({{invoiced}}),{{invoiced}},{INVOICE_BY})"

WEIGHED = (
    f'=IF({{stack}}="",0,SUMPRODUCT(MAX((weighing_stack={{stack}})*(weighing_day<={_BY})*'
    "weighing_day)))"
)
READ = (
    f'=IF({{stack}}="",0,SUMPRODUCT(MAX((reading_stack={{stack}})*ISNUMBER(reading_mc)*'
    f"(reading_day<={_BY})*reading_day)))"
)
_LOT = "INDEX(lot_%s,MATCH({stack},lot_stack,0))"
_OF_DAY = "reading_stack,{stack},reading_day,{read}"
_LEFT_OUT = (
    f"IF(IFERROR({_LOT % 'day'}={{read}},FALSE),SUM({_LOT % 'wet'})+SUM({_LOT % 'before'}),"
    f'COUNTIFS({_OF_DAY})-COUNTIFS({_OF_DAY},reading_note,"ok"))'
)
"""Of the latest day the wet readings without a moisture content, and the wet boards of the days
before that were not read again, as Readings counts them; of an earlier day, for an older invoice,
each reading that has something to look at."""
_OF_ROUND = "weighing_stack,{stack},weighing_day,{weighed}"
_DOUBTED = (
    f'COUNTIFS({_OF_ROUND},weighing_doubt,">0")+COUNTIFS({_OF_ROUND},weighing_used,">{_MOST_MC:g}")'
)
NOT_THERE, NOTHING, LEFT_OUT, DOUBTED = 1, 2, 3, 4
"""Why a sale that names a stack has no statement; 0 for one that has it."""

UNSTATED = (
    f'=IF(OR({{number}}="",{{stack}}=""),0,IF(NOT({_THERE}),{NOT_THERE},'
    f"IF(MAX({{weighed}},{{read}})=0,{NOTHING},IF({{read}}>={{weighed}},"
    f"IF({_LEFT_OUT}>0,{LEFT_OUT},0),IF({_DOUBTED}>0,{DOUBTED},0)))))"
)

UNSTATED_NOTES: Notes = (
    (f"{{unstated}}={NOT_THERE}", "no such stack on Stacks"),
    (
        f"{{unstated}}={NOTHING}",
        "no moisture statement: its stack was not weighed or read by the day of the sale",
    ),
    (
        f"{{unstated}}={LEFT_OUT}",
        "no moisture statement: wet readings of its stack are left out, see Readings",
    ),
    (
        f"{{unstated}}={DOUBTED}",
        "no moisture statement: its stack's last weighing is in doubt, see Weighings",
    ),
)
"""Of an open sale that names a stack, and the words."""

OTHER_STACK_NOTE = "not of the stack of the sale's moisture statement"
_OF_SALE = "INDEX(sales_stack,{sale_row})"
_ITS_STACK = (
    'IF(INDEX(board_stack,{board_row})<>"",INDEX(board_stack,{board_row}),'
    "IFERROR(INDEX(board_stack,MATCH(INDEX(board_parent,{board_row}),board_tag,0)),"
    '""))'
)
"""A piece comes from where the board lay that it was cut from."""


def other_stack(of_log: str) -> str:
    """Write whether a board of the line never lay in the stack that the sale makes a statement of.

    Parameters
    ----------
    of_log : str
        Criteria of COUNTIFS for the boards of the line's log.

    Returns
    -------
    str
        Part of a formula: 1 or 0.
    """
    return (
        f'IF(OR({_OF_SALE}="",{{back}}=1),0,IF({{board_row}}<>"",IF({_ITS_STACK}={_OF_SALE},0,1),'
        f'IF({{log}}="",0,IF(COUNTIFS({of_log},board_stack,{_OF_SALE})<{{set}},1,0))))'
    )


_WEIGHED = "INDEX(sales_weighed,sale_row)"
_READ = "INDEX(sales_read,sale_row)"
_STATED = '=IF(OR(sale_row="",sale_stack=""),"",IF(INDEX(sales_unstated,sale_row)<>0,"",IFERROR('
_BY_METER = f"{_READ}>={_WEIGHED}"
_LATEST = f"IFERROR({_READ}=INDEX(lot_day,MATCH(sale_stack,lot_stack,0)),FALSE)"
_THEN = f"reading_stack,sale_stack,reading_day,{_READ}"
_PINS = f'COUNTIFS({_THEN},reading_meter,"pin")'
_METHOD = (
    f'IF({_PINS}=COUNTIFS({_THEN}),"pin meter",IF({_PINS}=0,"pinless meter","meters"))'  # as there
)

STATEMENT = (
    f"{_STATED}IF({_BY_METER},IF({_LATEST},INDEX(lot_statement,MATCH(sale_stack,lot_stack,0)),"
    f"MC_STATEMENT(reading_mc,{_READ},{_METHOD},reading_day,reading_stack,sale_stack)),"
    f'MC_STATEMENT(weighing_used,{_WEIGHED},"weighed sample boards",weighing_day,weighing_stack,'
    'sale_stack)),"")))'
)
"""One line on the boards of the stack that a meter read, or that were weighed, whichever is later.

Of one day the meter counts: it is read on more boards.
"""

MEAN_MC = (
    f"{_STATED}IF({_BY_METER},IF({_LATEST},INDEX(lot_mean,MATCH(sale_stack,lot_stack,0)),"
    f"AVERAGEIFS(reading_mc,{_THEN})),"
    f'AVERAGEIFS(weighing_used,weighing_stack,sale_stack,weighing_day,{_WEIGHED})),"")))'
)
"""Mean of what the statement tells."""

MOVEMENT = (
    '=IF(OR(sale_mc="",sale_emc="",sale_width="",sale_species=""),"",'
    'IFERROR("Expected in your place: "&'
    'MOVEMENT_LINE(sale_width,sale_species,sale_mc,sale_emc),""))'
)
