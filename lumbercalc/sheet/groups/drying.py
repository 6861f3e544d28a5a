"""Declarations of the group Drying: when the lumber is ready, and how fast it may dry."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lumbercalc.sheet.forecasting import (
    AIR_ON_BEGIN,
    BAND,
    CLIMATE,
    FACTOR,
    FIVE_YEARS,
    FORECAST_SAWN,
    FROM_DATE,
    FROM_MC,
    GREEN_MC,
    MODEL,
    MOVE,
    MOVED,
    NO_CONSTANT,
    NO_CONSTANT_TEXT,
    NOT_TOO_LATE,
    PLACE,
    RATE,
    SPREAD,
    STACK_BEGUN,
    TARGET,
    TARGET_MC,
    WEIGHED,
    begins,
    given,
    held,
    of_course,
)
from lumbercalc.sheet.function import Argument, Example, Function, Rule, Values
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import (
    DATE_LIMITS,
    FORECAST_TEMP_LIMITS,
    RH,
    ROW_COUNT,
    SPECIES,
    TEMP,
    number,
    words,
)
from lumbercalc.wood import curve, drying, forecast
from lumbercalc.wood.air import emc


def _why_not_reached(values: Values) -> list[str]:
    moved = given(values, "move_date") & given(values, "move_place")
    place = np.where(moved, values["move_place"], values["place"])
    since = np.where(moved, values["move_date"], begins(values))
    lowest = curve.lowest_emc(values["climate"], place, since)
    rows = np.broadcast(values["target_mc"], lowest, place, moved)
    return [
        _not_reached(
            target,
            emc_there,
            f"the driest air of {where or 'this climate'}{', where it moves to,' if move else ''}",
        )
        for target, emc_there, where, move in rows
    ]


def _why_not_steady(values: Values) -> list[str]:
    rows = np.broadcast(values["target_mc"], emc(values["temp_f"], values["rh_pct"]))
    return [_not_reached(target, emc_there, "it") for target, emc_there in rows]


def _not_reached(target: float, emc_there: float, what: str) -> str:
    holds = f"{what} holds wood at {held(emc_there, target)}"
    return f"target_mc is {target:g} % MC and {FIVE_YEARS}; {holds}"


EXAMPLE_CLIMATE = [[70, 50]] * 12

FUNCTIONS = (
    Function(
        "STACK_FACTOR",
        "Drying",
        "Factor for the air flow through a stack, until weighings give its rate.",
        "ratio to a narrow stack with a fan",
        (
            words(
                "setting",
                "how the stack stands",
                Limits("choice", choices=tuple(drying.STACK_FACTORS)),
                "choice",
            ),
        ),
        drying.stack_factor,
        "tuned by this project on published drying times; weak evidence, weigh sample boards",
        Example(("open yard",), 0.9),
    ),
    Function(
        "DRYING_DAYS",
        "Drying",
        "Days to dry in air that stays the same.",
        'days, or "not reached" within 5 years',
        (
            SPECIES,
            FORECAST_SAWN,
            GREEN_MC,
            TARGET_MC,
            replace(TEMP, limits=FORECAST_TEMP_LIMITS),
            RH,
            FACTOR,
            RATE,
        ),
        forecast.drying_days,
        MODEL,
        Example(("northern red oak", 1.125, 80, 20, 70, 50), 37.70348),
        rules=(TARGET,),
        remark=_why_not_steady,
        missing=NO_CONSTANT_TEXT,
    ),
    Function(
        "MC_FORECAST",
        "Drying",
        "Moisture content on a date.",
        "moisture content [% MC]",
        (
            *STACK_BEGUN,
            Argument("forecast_date", "date", DATE_LIMITS, "day asked for"),
            CLIMATE,
            FACTOR,
            RATE,
            FROM_DATE,
            FROM_MC,
            PLACE,
            SPREAD,
            BAND,
            *MOVE,
        ),
        of_course(forecast.mc_forecast),
        MODEL,
        Example(
            ("northern red oak", 1.125, 80, "2026-05-01", "2026-07-01", EXAMPLE_CLIMATE),
            13.66913,
        ),
        rules=(
            *WEIGHED,
            Rule(
                lambda v: v["forecast_date"] < v["start_date"],
                "forecast_date is {forecast_date}; it must not be before start_date, {start_date}",
            ),
            Rule(
                lambda v: given(v, "from_date") & (v["forecast_date"] < np.asarray(v["from_date"])),
                "forecast_date is {forecast_date}; it must not be before from_date, {from_date}",
            ),
            NOT_TOO_LATE,
            *MOVED,
            *AIR_ON_BEGIN,
            NO_CONSTANT,
        ),
    ),
    Function(
        "READY_DATE",
        "Drying",
        "First day on which the target is reached: early, likely or late.",
        'date (format the cell as one), or "not reached" within 5 years; in simulation the band '
        "held 4 of 5 stacks",
        (
            *STACK_BEGUN,
            TARGET_MC,
            CLIMATE,
            FACTOR,
            RATE,
            SPREAD,
            FROM_DATE,
            FROM_MC,
            BAND,
            PLACE,
            *MOVE,
        ),
        of_course(forecast.ready_date),
        MODEL,
        Example(
            ("northern red oak", 1.125, 80, "2026-05-01", 20, EXAMPLE_CLIMATE),
            "2026-06-08",
        ),
        gives="date",
        rules=(*WEIGHED, TARGET, *MOVED, *AIR_ON_BEGIN, NO_CONSTANT),
        remark=_why_not_reached,
    ),
    Function(
        "DRYING_CURVE",
        "Drying",
        "The forecast as a table for a chart: date, likely, early and late moisture content.",
        "rows of date (format the cells as such) and % MC (likely, early, late)",
        (
            *STACK_BEGUN,
            TARGET_MC,
            CLIMATE,
            FACTOR,
            RATE,
            SPREAD,
            FROM_DATE,
            FROM_MC,
            PLACE,
            number("step_days", "days from row to row", Limits("days", 1, 365, whole=True), 7),
            ROW_COUNT,
            *MOVE,
        ),
        of_course(curve.drying_curve),
        MODEL,
        Example(
            ("northern red oak", 1.125, 80, "2026-05-01", 20, EXAMPLE_CLIMATE),
            "2026-05-01",
        ),
        rules=(*WEIGHED, TARGET, *MOVED, *AIR_ON_BEGIN, NO_CONSTANT),
        spills=True,
    ),
    Function(
        "SAFE_RATE",
        "Drying",
        "Loss of moisture content a day above which checking is likely, while the wood is wet.",
        "% MC a day; it matters above about 40 % MC; over 8/4 it follows a rule, no table",
        (SPECIES, FORECAST_SAWN),
        drying.safe_rate,
        "Univ. of Kentucky FOR-128 Table 9 (Wengert); 8/4 is 0.4 of 4/4 (FOR-128 Table 6)",
        Example(("northern red oak", 1.125), 3.8),
        missing="no safe rate is published for {species}: go by the most like wood, and slower",
    ),
)
"""The forecasts' part of the group."""
