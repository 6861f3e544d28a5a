"""Declarations of the group Air: what the air can dry to."""

from __future__ import annotations

from dataclasses import replace

from lumbercalc.sheet.function import Example, Function, Rule
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import RH, RH_LIMITS, TEMP, TEMP_LIMITS, number, words
from lumbercalc.wood import air, moist_air, mold

EQUATION = (
    "Wood Handbook FPL-GTR-190 (2010) eq. 4-5 (Table 4-2: 30 to 210 deg F, 5 to "
    "95 % RH; beyond it extrapolated)"
)
MOIST_AIR = "psychrometrics of ASHRAE Handbook Fundamentals (2017) ch. 1, by PsychroLib"
AIR_TEMP_LIMITS = replace(TEMP_LIMITS, highest=150)
RECORD_TEMPS = number("temps_f", "temperatures of the record", TEMP_LIMITS, shape="block")
RECORD_RHS = number("rhs_pct", "relative humidities of the record", RH_LIMITS, shape="block")

FUNCTIONS = (
    Function(
        "EMC",
        "Air",
        "Equilibrium moisture content: what wood comes to if this air stays.",
        "moisture content [% MC]",
        (TEMP, RH),
        air.emc,
        EQUATION,
        Example((70, 50), 9.242287),
    ),
    Function(
        "RH_FOR_EMC",
        "Air",
        "Relative humidity that holds wood at an equilibrium moisture content.",
        "relative humidity [% RH]",
        (
            TEMP,
            number("emc_pct", "equilibrium moisture content", Limits("% MC", 0, 30)),
        ),
        air.rh_for_emc,
        f"inverse of {EQUATION}",
        Example((70, 8), 41.98964),
        missing="emc_pct is {emc_pct:g} % MC; at {temp_f:g} deg F and 100 % RH the air gives less",
    ),
    Function(
        "EMC_WET_BULB",
        "Air",
        "Equilibrium moisture content from a dry-bulb and a wet-bulb thermometer.",
        "moisture content [% MC]; below 32 deg F the wick is taken as frozen",
        (
            number("dry_bulb_f", "dry-bulb temperature", Limits("deg F", 10, 210)),
            number("wet_bulb_f", "wet-bulb temperature", Limits("deg F", 10, 210)),
            number("elevation_ft", "height above the sea", Limits("ft", -1000, 15000), 0),
        ),
        moist_air.emc_wet_bulb,
        f"{EQUATION}; {MOIST_AIR}",
        Example((80, 70), 10.99986),
        rules=(
            Rule(
                lambda v: v["wet_bulb_f"] > v["dry_bulb_f"],
                "wet_bulb_f is {wet_bulb_f:g} deg F; it must not be above dry_bulb_f, "
                "{dry_bulb_f:g} deg F",
            ),
        ),
        missing="wet_bulb_f is {wet_bulb_f:g} deg F; no air at {dry_bulb_f:g} deg F is that dry",
    ),
    Function(
        "DEW_POINT",
        "Air",
        "Temperature at which this air begins to wet a surface.",
        "temperature [deg F]; below 32 deg F that of frost",
        (
            replace(TEMP, limits=AIR_TEMP_LIMITS),
            RH,
        ),
        moist_air.dew_point,
        MOIST_AIR,
        Example((70, 50), 50.52832),
    ),
    Function(
        "HEATED_RH",
        "Air",
        "Relative humidity of outdoor air after it is warmed indoors and no water is added.",
        "relative humidity [% RH]; in frost humidity counts over ice; weather stations count over "
        "water, and the room is then up to a fifth wetter at 0 deg F",
        (
            replace(TEMP, limits=AIR_TEMP_LIMITS),
            RH,
            number("room_temp_f", "temperature of the room", AIR_TEMP_LIMITS),
        ),
        moist_air.heated_rh,
        f"same vapor pressure; {MOIST_AIR}",
        Example((30, 80, 68), 19.0698),
        rules=(
            Rule(
                lambda v: v["room_temp_f"] < v["temp_f"],
                "room_temp_f is {room_temp_f:g} deg F; "
                "it must not be below temp_f, {temp_f:g} deg F",
            ),
        ),
    ),
    Function(
        "MEAN_EMC",
        "Air",
        "Mean equilibrium moisture content over a record of temperature and humidity.",
        "moisture content [% MC]",
        (
            RECORD_TEMPS,
            RECORD_RHS,
        ),
        air.mean_emc,
        f"mean of {EQUATION} over the rows",
        Example(([70, 50], [50, 70]), 11.334),
    ),
    Function(
        "EXIT_RH",
        "Air",
        "Relative humidity of the air where it leaves a stack that gives off water.",
        "relative humidity [% RH]; at 100 the air cannot carry that water: it needs more air, or "
        "dries slower",
        (
            replace(TEMP, limits=AIR_TEMP_LIMITS, about="temperature of the air that enters"),
            replace(RH, about="relative humidity of the air that enters"),
            number("water_lb_per_day", "water given off", Limits("lb a day", 0, 100_000)),
            number("cfm", "air through the stack", Limits("ft3/min", 1, 1_000_000)),
        ),
        moist_air.exit_rh,
        f"balance of water and heat at constant wet bulb, sea level; {MOIST_AIR}",
        Example((70, 60, 49, 500), 75.55298),
    ),
    Function(
        "MOLD_INDEX",
        "Air",
        "Risk of mold after a record of the air in the stack, from 0 (none) to 6 (all over).",
        "index: 1 first growth under a microscope, 3 seen with the naked eye; for hardwood a "
        "measure of risk only, never a word on health",
        (
            replace(RECORD_TEMPS, about="temperatures in the order of time, without a gap"),
            replace(RECORD_RHS, about="relative humidities in the stack"),
            number("hours_per_row", "hours that each row lasts", Limits("h", 0.01, 744), 24),
            words(
                "wood_class",
                "how readily it molds",
                Limits("choice", choices=tuple(mold.WOOD_CLASSES)),
                "choice",
                "sensitive",
            ),
        ),
        mold.mold_index,
        "Hukka & Viitanen 1999 (pine sapwood, 0 to 50 deg C); classes: Ojanen et al. 2010; both "
        "as published implementations have them; no class is published for hardwoods; every class "
        "declines in dry air as pine does: in others it may last longer (from memory)",
        Example(([70, 68, 66, 68], [96, 98, 97, 96], 168), 1.341309),
        unbroken=True,
    ),
)
"""Functions of the group."""
