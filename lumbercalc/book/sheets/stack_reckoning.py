"""Parts of the formulas of sheet Stacks, and what may be wrong with a row of it."""

from __future__ import annotations

from lumbercalc.book.page.notes import blank_around

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
READY = f'{_DRYING},{{target}},{_AIR},{{spread}},{{last}},{{last_mc}},"%s",{{place}},{_MOVE}'
ALL_BOARDS = READY.replace("{rate}", f"{SLOWEST_BOARDS}*{{rate}}") % "likely"
NOW = f'{_DRYING},MAX(as_of+%d,{{last}}),{_AIR},{{last}},{{last_mc}},{{place}},"","",{_MOVE}'
WEIGHED = (
    f"weighing_day,weighing_used,{_DRYING},climate,{{air}},weighing_board,{{place}},"
    f"weighing_stack,{{name}},{_MOVE}"
)
HERE = 'IF(AND({move_date}<>"",{move_date}<=as_of),{move_place},{place})'
WHY = (
    'TRIM(PROBLEM("THICKNESS_IN",{quarters})&" "&PROBLEM("STACK_FACTOR",{setting}&"")&" "&'
    'PROBLEM("STACK_FACTOR",{move_setting}&"")&" "&'
    'PROBLEM("READY_DATE",{species},IFERROR({sawn},1),IFERROR({green},250),{start},{target},climate,'
    'IFERROR({air},1),IFERROR({rate},1),IFERROR({spread},""),IFERROR({last},""),'
    'IFERROR({last_mc},""),"late",{place},IF({move_date}="","",{move_date}),'
    'IF({move_place}="","",{move_place}),IFERROR({move_air},1))&" "&'
    f'IF(ISERROR({{rate}}),IFERROR(PROBLEM("DRYING_RATE",{WEIGHED}),""),""))'
)
"""A figure that is itself an error gives way to one that is allowed, so that its cause is named."""
INCOMPLETE = 'OR({name}="",{place}="",{species}="",{quarters}="",{start}="",{target}="")'

SAME_ROUND = 7
"""Days back from the last weighing in which the other boards' weights still count for the MC."""

NOTES = (
    ("COUNTIF(stack_name,{name})>1", "name is used twice"),
    blank_around("name"),
    (INCOMPLETE, "place, species, thickness, date or target is missing"),
    (
        '{weighings}>0,COUNTIFS(weighing_stack,{name},weighing_day,{last},weighing_doubt,">0")>0',
        "a weighing of its last day is in doubt: see Weighings",
    ),
    (
        "{weighings}>0,COUNTIFS(sample_stack,{name},sample_last,"
        f'">="&SUM({{last}})-{SAME_ROUND},sample_last,"<"&SUM({{last}}))>0',
        "not all of its sample boards were weighed on the last day",
    ),
    (
        "COUNTIF(board_stack,{name})=0",
        "no board on Boards lies in it: its weight and floor load are not known",
    ),
)
"""When a stack is to be looked at (conditions that hold together), and the words."""


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
