"""Parts of the formulas of sheet Stacks, and what may be wrong with a row of it."""

from __future__ import annotations

from lumbercalc.book.page.notes import blank_around, reasons
from lumbercalc.book.sheets.stack_advice import IS_READ_READY
from lumbercalc.sheet.forecasting import FIVE_YEARS

SLOWEST_BOARDS = 0.7
"""Rate of the slowest 5 % of boards against the stack's: spread of 0.22 in ln k (derived)."""


def as_sawn(sawn: str, quarters: str) -> str:
    """Write the thickness as sawn over the thickness tallied.

    Parameters
    ----------
    sawn, quarters : str
        Formulas of the inches as sawn, and of the thickness as text.

    Returns
    -------
    str
        Wood in a board foot: what is under 1 in thick was tallied as 1 in.
    """
    return f"{sawn}/MAX(1,THICKNESS_IN({quarters}))"


AS_SAWN = as_sawn("{sawn}", "{quarters}")
_DRYING = "{species},{sawn},{green},{start}"
_AIR = "climate,{air},{rate}"
_MOVE = 'IF({move_date}="","",{move_date}),IF({move_place}="","",{move_place}),{move_air}'
"""A blank cell would arrive as 0; a blank text is a blank."""
READY = f'{_DRYING},{{goal}},{_AIR},{{spread}},{{known_on}},{{known_mc}},"%s",{{place}},{_MOVE}'
ALL_BOARDS = READY.replace("{rate}", f'IF({{rate}}="","",{SLOWEST_BOARDS}*{{rate}})') % "likely"
NOW = (
    f'{_DRYING},MAX(as_of+%d,{{known_on}}),{_AIR},{{known_on}},{{known_mc}},{{place}},"","",{_MOVE}'
)
WEIGHED = (
    f"weighing_day,weighing_used,{_DRYING},climate,{{air}},weighing_board,{{place}},"
    f"weighing_stack,{{name}},{_MOVE}"
)
HERE = 'IF(AND({move_date}<>"",{move_date}<=as_of),{move_place},{place})'
NO_DATES = (
    'PROBLEM("READY_DATE",{species},IFERROR({sawn},1),IFERROR({green},250),{start},{goal},climate,'
    'IFERROR({air},1),IFERROR({rate},1),IFERROR({spread},""),IFERROR({known_on},""),'
    'IFERROR({known_mc},""),"likely",{place},IF({move_date}="","",{move_date}),'
    'IF({move_place}="","",{move_place}),IFERROR({move_air},1))'
)
"""A figure that is itself an error gives way to one that is allowed, so that its cause is named."""
_REFUSED_RATE = f'IFERROR(PROBLEM("DRYING_RATE",{WEIGHED}),"")'
WHY = reasons(
    'PROBLEM("THICKNESS_IN",{quarters})',
    'PROBLEM("STACK_FACTOR",{setting}&"")',
    'PROBLEM("STACK_FACTOR",{move_setting}&"")',
    # what the rate is refused for is told once: the dates are mostly refused for it too
    f'IF({{no_dates}}<>"",{{no_dates}},IF(ISERROR({{rate}}),{_REFUSED_RATE},""))',
)
MISSING = (
    ('{place}=""', "its place is missing"),
    ('{species}=""', "its species is missing"),
    ('{quarters}=""', "its thickness is missing"),
    ('{start}=""', "the day it was stacked on is missing"),
    ('{goal}=""', "its target is missing, and the usual one on Start too"),
)
"""What makes a row incomplete, one thing at a time; that its name is missing is told before."""
INCOMPLETE = f'OR({{name}}="",{",".join(condition for condition, _ in MISSING)})'

AT_START = 3
"""Days between stacking and a sample board's set-up that still tells the green MC: oak 4/4 loses 1
or 2 % MC in each of them (common practice, no source)."""
SAME_ROUND = 7
"""Days back from the last weighing in which the other boards' weights still count for the MC."""

STANDING = "sample_standing,{name}"
"""Criterion of the stack's sample boards, without those that were re-trimmed since."""
LAST_KNOWN = "SUMPRODUCT(MAX((sample_standing={name})*sample_day))"
IN_LAST_ROUND = f'{STANDING},sample_last,">="&SUM({{known_on}})-{SAME_ROUND}'
"""Criteria of the sample boards whose MC counts for the stack."""
AS_SAWN_OFF = 0.25
"""in that wood may be thicker or thinner than it is commonly sawn, 1/8 in over its quarters; what
is farther off is as near to other quarters (common practice, no source)."""
_RECKONED = "NOT(ISERROR({late}))"

NAMED_BEFORE = (
    'COUNTIFS(sales_stack,{name},sales_invoiced,">0",sales_invoiced,"<"&SUM({start}))'
    '+COUNTIFS(reading_stack,{name},reading_day,"<0")>0'
)
"""Condition that another stack had the name: an invoice or readings are of before this one."""
NAMED_BEFORE_NOTE = "readings or invoices of before it was stacked: a new stack needs a new name"

OWN_NOTES = (
    ("COUNTIF(stack_name,{name})>1", "name is used twice"),
    blank_around("name"),
    *MISSING,
    (NAMED_BEFORE, NAMED_BEFORE_NOTE),
)
"""When a stack is to be looked at (conditions that hold together), and the words."""
NOTES = (
    ("COUNT(site_temp)=0", "Site has no air yet: type that of its place there, month by month"),
    (
        '{weighings}>0,COUNTIFS(weighing_stack,{name},weighing_day,{last},weighing_doubt,">0")>0',
        "a weighing of its last day is in doubt: see Weighings",
    ),
    (
        f'{_RECKONED},{{known_on}}<>"",COUNTIFS({STANDING})>COUNTIFS({IN_LAST_ROUND})',
        "sample boards not weighed in the last round: its MC is of the others alone",
    ),
    (
        f'{_RECKONED},{{known_on}}<>"",'
        f'COUNTIFS({IN_LAST_ROUND},sample_last,"<"&SUM({{known_on}}))>0',
        "not all of its sample boards were weighed on the last day",
    ),
)
"""The same of a stack that wood still lies in."""
LAST_NOTES = (
    (
        'IF({measured_in}="",FALSE,ABS({measured_in}-THICKNESS_IN({quarters})-1/8)>'
        f"{AS_SAWN_OFF})",
        f"as sawn is over {AS_SAWN_OFF} in off 1/8 in more than its quarters: measure again",
    ),
    ('{setting}=""', "its air is taken for a fan's: fill in Air through the stack"),
    (
        f"ISNUMBER({{likely}}),NOT(ISNUMBER({{late}})),NOT({IS_READ_READY % 'name'})",
        f"ready, late: {FIVE_YEARS}",
    ),
    (
        f"COUNTIFS({IN_LAST_ROUND},sample_count,0)>0",
        "rate k is without boards set up in drying: weigh them, that day's weight too",
    ),
    (
        "COUNTIF(board_stack,{name})=0",
        "no board on Boards lies in it: its weight and floor load are not known",
    ),
)
"""What is told of a stack where nothing is refused."""


def guarded(formula: str) -> str:
    """Guard a formula of a row that needs all that is typed for the forecast.

    Parameters
    ----------
    formula : str
        Of a result.

    Returns
    -------
    str
        The formula of the cell: blank while something is missing.
    """
    return f'=IF({INCOMPLETE},"",{formula})'
