"""The choices of sheet Plan: one load in the shop's places and stacks, side by side."""

from __future__ import annotations

from lumbercalc.book.page.comparison import Comparison, Section
from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import reasons
from lumbercalc.book.page.table import Column
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.site import of_month

SHEET = "Plan"
OPTIONS = 12
TOP = 16
"""Row of the first section: under the load."""

AIR_SPEED = {"fan": 300, "open yard": 100, "wide or sheltered": 50, "still air": 20}
"""ft/min through the gaps. Fan: FPL-GTR-118 has 300 to 600, from memory; the others are common
practice without a source: measure with an anemometer and type what it shows."""

DAMP_RH = 85
"""Per cent where the air leaves the stack: wood in balance with it holds 18 % or more."""

MOLD_STARTS = 1
"""Index at which growth begins, seen under a microscope (Hukka and Viitanen 1999)."""

LOWEST_BASE = 8
"""Inches that the lowest board of a stack in an open yard lies off the ground: common practice, no
source."""

TALLEST = 3
"""Times its width that a stack may be tall: above it topples easily; common practice, no source."""

NO_RATE = "no rate"
"""Of a wood without a published safe rate."""

FORTNIGHTS = (1, 2, 3, 4)
HOURS = 336

_BY_SETTING = "".join(
    f'IF({{setting}}="{setting}",{speed},' for setting, speed in AIR_SPEED.items()
)
_AIR = f'{_BY_SETTING}""' + ")" * len(AIR_SPEED)
_THICK = "planned_sawn,{sticker}"
_DRYING = "planned_species,planned_sawn,planned_wet,planned_start"
_FORECAST = f'MC_FORECAST({_DRYING},planned_start+%d,climate,{{factor}},1,"","",{{place}})'
_BASE = 'IF({base}="",0,{base})'
_READY = f'{_DRYING},planned_target,climate,IFERROR({{factor}},1),1,"","","","likely",{{place}}'
_REASONS = reasons(
    'PROBLEM("STACK_FACTOR",{setting}&"")',
    f'PROBLEM("STACK_LAYERS",{{ceiling}},planned_sawn,{{sticker}},{_BASE})',
    'PROBLEM("STACK_BOARD_FEET",1,{width},{length},1)',
    'PROBLEM("FAN_CFM",1,1,8,IF({speed}="",100,{speed}))',
    'PROBLEM("STICKERS",8,planned_spacing_used)',
    f'IF(ISERROR(READY_DATE({_READY})),PROBLEM("READY_DATE",{_READY}),"")',
)
_WHY = f'IF({{place}}="","",{_REASONS})'


def _if_on(formula: str) -> str:
    return f'=IF({{on}}=0,"",{formula})'


def _if_fits(formula: str) -> str:
    return f'=IF(N({{layers}})=0,"",{formula})'


def _month_of(fortnight: int) -> str:
    return f"MONTH(planned_start+{14 * fortnight - 7})"


def _fortnight(number: int) -> tuple[Column, ...]:
    before = "planned_wet" if number == 1 else f"{{mc{number - 1}}}"
    after = f"{{mc{number}}}"
    return (
        Column(
            f"mc{number}", f"MC after {14 * number} days (%)", "result", 1, "0.0",
            _if_on(_FORECAST % (14 * number)), hidden=True,
        ),
        Column(
            f"water{number}", f"Water a day, fortnight {number} (lb)", "result", 1, "0.0",
            _if_fits(f"WATER_LOSS(planned_species,{{bf}}*planned_ratio,{before},"
                     f"MIN({before},{after}))/14"), hidden=True,
        ),
    )  # fmt: skip


def _air_in(key: str, month: str) -> str:
    """Of a place with dated rows and none in that month the mean of them all."""
    mean = f'IFERROR(AVERAGEIFS(site_{key},site_place,{{place}}),"")'
    return f"IFERROR({of_month(key, '{place}', month)},{mean})"


def _air_of(number: int) -> tuple[Column, ...]:
    temp, rh = (_air_in(key, _month_of(number)) for key in ("temp", "rh"))
    return (
        Column(
            f"temp{number}", f"Air, fortnight {number} (deg F)", "result", 1, "0",
            _if_on(temp), hidden=True,
        ),
        Column(
            f"rh{number}", f"Air, fortnight {number} (% RH)", "result", 1, "0",
            _if_on(rh), hidden=True,
        ),
    )  # fmt: skip


def _exit(number: int) -> Column:
    return Column(
        f"exit{number}", f"Where it leaves, fortnight {number} (% RH)", "result", 1, "0",
        _if_fits(f"EXIT_RH({{temp{number}}},{{rh{number}}},{{water{number}}},{{cfm}})"),
        hidden=True,
    )  # fmt: skip


_AIRS = [_air_of(number) for number in FORTNIGHTS]

PLACE_AND_STACK = (
    Column("place", "Place", "input", 1, "@", choices="=place_names"),
    Column("setting", "Air through the stack", "input", 1, "@",
           limits=limits_of("STACK_FACTOR", "setting")),
    Column("speed", "Air in the gaps, if measured (ft/min)", "input", 1, "0",
           limits=limits_of("FAN_CFM", "velocity_fpm"),
           about=f"Blank takes {AIR_SPEED['fan']} with a fan, {AIR_SPEED['open yard']} in an open "
           f"yard, {AIR_SPEED['wide or sheltered']} sheltered, {AIR_SPEED['still air']} in still "
           "air."),
    Column("sticker", "Sticker (in)", "input", 1, "0.000",
           limits=limits_of("STACK_LAYERS", "sticker_in")),
    Column("width", "Stack width (ft)", "input", 1, "0.0",
           limits=limits_of("STACK_BOARD_FEET", "width_ft")),
    Column("length", "Stack length (ft)", "input", 1, "0.0",
           limits=limits_of("STACK_BOARD_FEET", "length_ft")),
    Column("ceiling", "Room for it, from the floor (in)", "input", 1, "0",
           limits=limits_of("STACK_LAYERS", "height_in"),
           about="Ceiling or roof, less what you need to lift a board on top."),
    Column("base", "Lowest board above the floor (in)", "input", 1, "0",
           limits=limits_of("STACK_LAYERS", "base_in"),
           about=f"Outdoors at least {LOWEST_BASE} in, 12 to 18 in where it is damp."),
)  # fmt: skip

ROOM = (
    Column("fits", "Layers that fit", "result", 1, "0",
           _if_on(f"STACK_LAYERS({{ceiling}},{_THICK},{_BASE})")),
    Column("need", "Layers the load needs", "result", 1, "0",
           _if_on("ROUNDUP(planned_load/{layer_bf},0)")),
    Column("stacks", "Stacks to build", "result", 1, "0", _if_fits("ROUNDUP({need}/{fits},0)")),
    Column("height", "Height of a stack (in)", "result", 1, "0.0",
           _if_fits(f"STACK_HEIGHT({{layers}},{_THICK},{_BASE})")),
    Column("footprint", "Footprint of all (ft2)", "result", 1, "0",
           _if_fits("{width}*{length}*{stacks}")),
    Column("stickers", "Stickers to cut, as long as it is wide", "result", 1, "#,##0",
           _if_fits("STICKERS({length},planned_spacing_used)*{need}")),
    Column("fit_bf", "Board feet that fit in one (bf)", "result", 1, "#,##0",
           _if_on("{fits}*{layer_bf}")),
)  # fmt: skip

WEIGHT = (
    Column("wet_lb", "Weight wet (lb)", "result", 1, "#,##0",
           _if_fits("LUMBER_WEIGHT(planned_species,{bf},planned_wet,planned_ratio)")),
    Column("dry_lb", "Weight at the target (lb)", "result", 1, "#,##0",
           _if_fits("LUMBER_WEIGHT(planned_species,{bf},planned_target,planned_ratio)")),
    Column("top_lb", "To lay on top, 50 lb/ft2 (lb)", "result", 1, "#,##0",
           _if_fits("TOP_WEIGHT({length},{width})")),
    Column("floor", "Floor load, wet with that (lb/ft2)", "result", 1, "0",
           _if_fits("FLOOR_LOAD({wet_lb}+{top_lb},{length},{width})")),
)  # fmt: skip

WATER = (
    Column("water_first", "Water a day, first fortnight (lb)", "result", 1, "0.0",
           _if_fits("{water1}")),
    Column("water_mean", "Water a day, on average (lb)", "result", 1, "0.0",
           '=IF(OR(N({layers})=0,NOT(ISNUMBER({days}))),"",IF({days}=0,0,'
           "WATER_LOSS(planned_species,{bf}*planned_ratio,planned_wet,planned_target)/{days}))"),
    Column("pints", "For a dehumidifier at first (pints a day)", "result", 1, "0.0",
           _if_fits("DEHUMIDIFIER_PINTS(planned_species,{bf}*planned_ratio,"
                    "MAX(0,planned_wet-{mc1})/14)")),
    Column("cfm", "Air through the gaps (CFM)", "result", 1, "#,##0",
           _if_fits("FAN_CFM({layers},{sticker},{length},{air})")),
    Column("exit_rh", "Humidity where it leaves, at first (% RH)", "result", 1, "0",
           _if_fits("{exit1}")),
    Column("mold", "Mold index after 8 weeks (0 to 6)", "result", 1, "0.0",
           _if_fits(f"MOLD_INDEX({{temp1}}:{{temp4}},{{exit1}}:{{exit4}},{HOURS})")),
    Column("loss", "Fastest loss after day 1 (% MC a day)", "result", 1, "0.0",
           _if_on("{day1}-{day2}")),
    Column("margin", "Under the safe rate by (% MC a day)", "result", 1, "0.0",
           _if_on(f'IF(ISNUMBER(planned_safe),planned_safe-{{loss}},"{NO_RATE}")')),
)  # fmt: skip

_DAMP = f"N({{exit_rh}})>={DAMP_RH}"
_MOLD = f"N({{mold}})>={MOLD_STARTS}"

WHEN = (
    Column("ready", "Ready, likely", "result", 1, DATE,
           _if_on(f"READY_DATE({_READY})")),
    Column("days", "Days", "result", 1, "#,##0",
           _if_on('IF(ISNUMBER({ready}),{ready}-planned_start,"never")')),
    Column("verdict", "Verdict", "check", 1, "@",
           '=IF({place}="","",IF({why}<>"","error",IF({on}=0,"incomplete",'
           'IF(N({layers})=0,"no room",IF(NOT(ISNUMBER({ready})),"never dry"&'
           f'IF({_DAMP},", damp",IF({_MOLD},", mold","")),IF({_DAMP},"damp",IF({_MOLD},"mold",'
           f'IF(N({{margin}})<0,"too fast",IF({{height}}>{TALLEST}*12*{{width}},"tall",'
           'IF({stacks}>1,{stacks}&" stacks",'
           f'IF(AND({{setting}}="open yard",N({{base}})<{LOWEST_BASE}),"base low",'
           f'IF({{margin}}="{NO_RATE}","{NO_RATE}","ok"))))))))))))'),
)  # fmt: skip

WORKING = (
    Column("why", "What is wrong", "result", 1, "@", f"={_WHY}", hidden=True),
    Column("on", "Planned (1) or not (0)", "result", 1, "0",
           '=IF(OR(planned_on=0,{why}<>"",{place}="",{setting}="",{sticker}="",{width}="",'
           '{length}="",{ceiling}=""),0,1)', hidden=True),
    Column("factor", "Air factor", "result", 1, "0.00",
           '=IF({setting}="","",STACK_FACTOR({setting}))', hidden=True),
    Column("air", "Air in the gaps (ft/min)", "result", 1, "0",
           _if_on(f'IF({{speed}}<>"",{{speed}},{_AIR})'), hidden=True),
    Column("layer_bf", "Board feet in a layer", "result", 1, "0.0",
           _if_on("STACK_BOARD_FEET(1,{width},{length},planned_nominal)"), hidden=True),
    Column("layers", "Layers of a stack", "result", 1, "0", _if_on("MIN({need},{fits})"),
           hidden=True),
    Column("bf", "Board feet in a stack", "result", 1, "#,##0",
           _if_fits("MIN(planned_load,{layers}*{layer_bf})"), hidden=True),
    Column("day1", "MC after a day (%)", "result", 1, "0.0", _if_on(_FORECAST % 1), hidden=True),
    Column("day2", "MC after two (%)", "result", 1, "0.0", _if_on(_FORECAST % 2), hidden=True),
    *(column for number in FORTNIGHTS for column in _fortnight(number)),
    *(air[0] for air in _AIRS),
    *(air[1] for air in _AIRS),
    *(_exit(number) for number in FORTNIGHTS),
    Column("good", "Ready, when there is no flag", "result", 1, "0",
           '=IF({verdict}="ok",{ready},0)', hidden=True),
)  # fmt: skip

PLAN = Comparison(
    SHEET,
    "option",
    (
        Section("Where and how it is stacked", PLACE_AND_STACK),
        Section("Room and stickers", ROOM),
        Section("Weight of one stack", WEIGHT),
        Section("Water and air of one stack", WATER),
        Section("When", WHEN),
        Section("", WORKING),
    ),
    OPTIONS,
    TOP,
)
"""Twelve choices; the last rows are hidden."""
