"""What a stack's row advises on sheet Stacks: the rules, their sources, and the formula."""

from __future__ import annotations

from lumbercalc.book.sheets.readings import TOLERANCE
from lumbercalc.book.sheets.site import FLAT, MOLD_RH, MOLD_TEMP, of_month

OVER_SAFE_RATE = "over the safe rate: shade it, narrow the gaps, less fan"
MOLD = "this month's air grows mold: more air, a fan; look it over"
UNDER_HALF = "under half the forecast: give it more air"
NEVER_THERE = "the air there never gets to the target: move it or dehumidify"
NOT_TRUSTWORTHY = f"target within {FLAT} % of the EMC there: no trustworthy date"
STANDS_STILL = "the air here is no drier than the wood: it waits"
OUTSIDE = "too thin or too thick for the forecast: weigh, do not plan by it"
FEW_BOARDS = "fewer than four sample boards: set up more"

EMPTY = "every board on Boards has left it"
READ_READY = "ready by its readings: see Readings"
NEAR = f"within {TOLERANCE} % of its target: take readings"

WET = 40
MOLD_WET = 20
SLOW = 0.5
THINNEST, THICKEST = 0.75, 2.5
FEWEST = 4

EMPTIED = "AND({boards}=0,COUNTIF(board_stack,{name})>0)"
"""Condition that boards of the stack are on Boards, and that none of them lies in it."""

ADVICE = (
    (EMPTY, "boards on Boards name the stack, and none lies in it", "the rows of Boards"),
    (
        OVER_SAFE_RATE,
        f"wood over {WET} % MC loses more a day than the safe rate",
        "rates: Univ. of Kentucky FOR-128 Table 9 (Wengert); advice: common practice, no source",
    ),
    (
        MOLD,
        f"wood over {MOLD_WET} % MC, and a month of {MOLD_RH} % RH and {MOLD_TEMP} deg F or more",
        "humidity: Hukka and Viitanen (1999), for pine and spruce; 20 %: Wood Handbook FPL-GTR-190 "
        "(2010) ch. 14, from memory; what to do: common practice, no source",
    ),
    (
        READ_READY,
        "what Readings says of the readings of its latest day",
        "the boards themselves, before any forecast: as on Readings",
    ),
    (
        NEAR,
        f"MC now no more than {TOLERANCE} % over the target: the last of it may take months",
        "what readings may be off it, as on Readings; common practice, no source",
    ),
    (
        NEVER_THERE,
        "target below the lowest monthly EMC of the place",
        "Wood Handbook FPL-GTR-190 (2010) eq. 4-5; what to do: common practice, no source",
    ),
    (
        UNDER_HALF,
        f"rate k of its weighings is below {SLOW}",
        "common practice, no source",
    ),
    (
        NOT_TRUSTWORTHY,
        f"target less than {FLAT} % above that EMC",
        "derived: the drying curve is flat there, by the daily step of the forecast",
    ),
    (
        STANDS_STILL,
        "EMC of this month is at or above the MC now",
        "Wood Handbook FPL-GTR-190 (2010) eq. 4-5",
    ),
    (
        OUTSIDE,
        f"as sawn under {THINNEST} or over {THICKEST} in",
        "derived: the thicknesses of the published times that the forecast was held against",
    ),
    (
        FEW_BOARDS,
        f"weighed, with fewer than {FEWEST} sample boards",
        "at least 4: Univ. of Kentucky FOR-128 p. 76",
    ),
)
"""What a stack's row may advise, when, and where the rule comes from."""

_FINALLY = 'IF({move_place}<>"",{move_place},{place})'
_LOWEST = f"INDEX(place_lowest,MATCH({_FINALLY},place_names,0))"


_RH, _TEMP = (of_month(key, "{here}", "MONTH(as_of)") for key in ("rh", "temp"))
_MOLD = f"IF({{mc_now}}>{MOLD_WET},IFERROR(AND({_RH}>={MOLD_RH},{_TEMP}>={MOLD_TEMP}),FALSE),FALSE)"
IS_READ_READY = 'IFERROR(INDEX(lot_ready,MATCH({%s},lot_stack,0))="ready",FALSE)'
"""Condition that the stack in a column of the row is ready by its readings."""
ADVICE_FORMULA = (
    f'IF(NOT(ISNUMBER({{mc_now}})),"",IF({EMPTIED},"{EMPTY}",'
    f'IF(AND({{mc_now}}>{WET},MAX({{loss}},{{loss_weighed}})>{{safe}}),"{OVER_SAFE_RATE}",'
    f'IF({_MOLD},"{MOLD}",'
    f'IF({IS_READ_READY % "name"},"{READ_READY}",'
    'IF({mc_now}<={goal},"at its target: take readings",'
    f'IF({{mc_now}}<={{goal}}+{TOLERANCE},"{NEAR}",'
    f'IF(IFERROR({{goal}}<{_LOWEST},FALSE),"{NEVER_THERE}",'
    f'IF(AND({{weighings}}>0,{{rate}}<{SLOW}),"{UNDER_HALF}",'
    "IFERROR("
    f'IF({{goal}}<{_LOWEST}+{FLAT},"{NOT_TRUSTWORTHY}",'
    f'IF({{emc_here}}>={{mc_now}},"{STANDS_STILL}",'
    f'IF(OR({{sawn}}<{THINNEST},{{sawn}}>{THICKEST}),"{OUTSIDE}",'
    f'IF(AND({{weighings}}>0,COUNTIFS(sample_standing,{{name}})<{FEWEST}),"{FEW_BOARDS}","ok")))),'
    '"ok"))))))))))'
)
"""The first rule that holds, "ok" where none does, blank before there is an MC."""
