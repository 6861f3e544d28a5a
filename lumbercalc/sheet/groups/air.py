"""Declarations of the group Air: what the air can dry to."""

from __future__ import annotations

from dataclasses import replace

from lumbercalc.sheet.function import Example, Function, Rule
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import RH, RH_LIMITS, TEMP, TEMP_LIMITS, number
from lumbercalc.wood import air

EQUATION = "Wood Handbook FPL-GTR-190 (2010) eq. 4-5 (Table 4-2 from 30 to 210 deg F)"
MOIST_AIR = "psychrometrics of ASHRAE Handbook Fundamentals (2017) ch. 1, by PsychroLib"
AIR_TEMP_LIMITS = replace(TEMP_LIMITS, highest=150)

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
        "moisture content [% MC]",
        (
            number("dry_bulb_f", "dry-bulb temperature", Limits("deg F", 10, 210)),
            number("wet_bulb_f", "wet-bulb temperature", Limits("deg F", 10, 210)),
            number("elevation_ft", "height above the sea", Limits("ft", -1000, 15000), 0),
        ),
        air.emc_wet_bulb,
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
        "temperature [deg F]",
        (
            replace(TEMP, limits=AIR_TEMP_LIMITS),
            RH,
        ),
        air.dew_point,
        MOIST_AIR,
        Example((70, 50), 50.52832),
    ),
    Function(
        "HEATED_RH",
        "Air",
        "Relative humidity of outdoor air after it is warmed indoors and no water is added.",
        "relative humidity [% RH]",
        (
            replace(TEMP, limits=AIR_TEMP_LIMITS),
            RH,
            number("room_temp_f", "temperature of the room", AIR_TEMP_LIMITS),
        ),
        air.heated_rh,
        f"same vapour pressure; {MOIST_AIR}",
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
            number("temps_f", "temperatures of the record", TEMP_LIMITS, shape="block"),
            number("rhs_pct", "relative humidities of the record", RH_LIMITS, shape="block"),
        ),
        air.mean_emc,
        f"mean of {EQUATION} over the rows",
        Example(([70, 50], [50, 70]), 11.334),
    ),
)
"""Functions of the group."""
