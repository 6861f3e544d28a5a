"""Declarations of the group Drying: when the lumber is ready, and how fast it may dry."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from lumbercalc.sheet.function import Argument, Example, Function, Rule, Values
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.picking import STACK, STACK_WITHOUT_STACKS, STACKS, of_stack, without
from lumbercalc.sheet.vocabulary import (
    DATE_LIMITS,
    GREEN_MC_LIMITS,
    RH,
    SPECIES,
    TEMP,
    number,
    words,
)
from lumbercalc.wood import calibration, curve, drying, forecast
from lumbercalc.wood.air import emc

MODEL = (
    "diffusion after Simpson & Hart (2000, from memory), D of red oak as read in a public research "
    "script, closed-form daily step of this project; an estimate: weigh before you sell"
)
FIVE_YEARS = "the air does not bring it there within 5 years"

SAWN = number("thickness_in", "thickness as sawn (4/4 is about 1-1/8)", Limits("in", 0.5, 4))
GREEN_MC = number("green_mc", "moisture content when stacked", GREEN_MC_LIMITS)
TARGET_MC = number("target_mc", "moisture content wanted", Limits("% MC", 3, 60))
START = Argument("start_date", "date", DATE_LIMITS, "day the drying began")
CLIMATE = Argument(
    "climate",
    "climate",
    Limits("rows of deg F and % RH"),
    "table of the air: 12 rows Jan..Dec (temp_f, rh_pct), dated rows (date, temp_f, rh_pct), "
    "or rows (place, month or date, temp_f, rh_pct)",
    shape="block",
)
FACTOR = number("stack_factor", "air flow through the stack", Limits("ratio", 0.05, 2), 1)
RATE = number("rate", "this stack's rate k, from DRYING_RATE", Limits("ratio", 0.05, 20), 1)
SPREAD = number(
    "rate_spread",
    "spread of ln k, from RATE_SPREAD; left out: 0.35, or 0.5 where the species' drying constant "
    "is an estimate",
    Limits("ratio", 0, 2),
    None,
)
FROM_DATE = Argument("from_date", "date", DATE_LIMITS, "day of the last weighing", None)
FROM_MC = number("from_mc", "moisture content on that day", Limits("% MC", 2, 250), None)
PLACE = words("place", "place in the climate table", Limits("text", longest=60), default="")
BAND = words(
    "band",
    "early, likely or late",
    Limits("choice", choices=("early", "likely", "late")),
    "choice",
    "likely",
)


def _given(values: Values, name: str) -> Any:
    value = np.asarray(values[name])
    return ~(np.isnat(value) if value.dtype.kind == "M" else np.isnan(value))


WEIGHED = (
    Rule(
        lambda v: _given(v, "from_date") != _given(v, "from_mc"),
        "from_date and from_mc go together; only one of them is given",
    ),
    Rule(
        lambda v: _given(v, "from_date") & (np.asarray(v["from_date"]) < v["start_date"]),
        "from_date is {from_date}; it must not be before start_date, {start_date}",
    ),
)
TARGET = Rule(
    lambda v: v["target_mc"] > v["green_mc"],
    "target_mc is {target_mc:g} % MC; it must not be above green_mc, {green_mc:g} % MC",
)
NO_CONSTANT_TEXT = "no drying constant for {species}: it has no specific gravity to estimate one"
NO_CONSTANT = Rule(lambda v: np.isnan(drying.drying_constant(v["species"])), NO_CONSTANT_TEXT)
AIR_ON_START = Rule(
    lambda v: ~v["climate"].has_air(v["start_date"], v["place"]),
    "climate has no air on start_date, {start_date}; its first dated row must not be later",
)
AIR_ON_BEGIN = (
    replace(
        AIR_ON_START,
        broken=lambda v: ~_given(v, "from_date") & np.asarray(AIR_ON_START.broken(v)),
    ),
    Rule(
        lambda v: _given(v, "from_date") & ~v["climate"].has_air(v["from_date"], v["place"]),
        "climate has no air on from_date, {from_date}; its first dated row must not be later",
    ),
)


def _why_not_reached(values: Values) -> str:
    lowest = curve.lowest_emc(values["climate"], values["place"] or None, values["start_date"])
    return (
        f"target_mc is {values['target_mc']:g} % MC and {FIVE_YEARS}; "
        f"the driest air of this climate holds wood at {lowest:.1f} % MC"
    )


def _why_not_steady(values: Values) -> str:
    held = float(emc(values["temp_f"], values["rh_pct"]))
    return (
        f"target_mc is {values['target_mc']:g} % MC and {FIVE_YEARS}; "
        f"it holds wood at {held:.1f} % MC"
    )


def _weighings(function: Any) -> Any:
    def compute(boards: Any, place: Any, **values: Any) -> Any:
        return function(boards=boards, place=place or None, **values)

    return without("stacks", "stack", compute=compute)


def _forecast(function: Any) -> Any:
    def compute(place: Any, **values: Any) -> Any:
        return function(place=None if isinstance(place, str) and not place else place, **values)

    return compute


def curve_rows(place: Any, row_count: Any, **values: Any) -> list[list[Any]]:
    """Lay out a drying curve as columns, padded with blanks to a fixed number of rows.

    Parameters
    ----------
    place : str
        Place in the climate table, or "".
    row_count : float
        Number of rows, or NaN for as many as there are.
    **values
        Arguments of `curve.drying_curve`.

    Returns
    -------
    list of list
        Date, likely, early and late moisture content [% MC].
    """
    columns = [list(column) for column in curve.drying_curve(place=place or None, **values)]
    if np.isnan(row_count):
        return columns
    count = int(row_count)
    return [(column + [None] * count)[:count] for column in columns]


WEIGHING_ARGUMENTS = (
    Argument("dates", "date", DATE_LIMITS, "dates of the weighings", shape="block"),
    number("mcs", "moisture contents by weight", Limits("% MC", 1, 250), shape="block"),
    SPECIES,
    SAWN,
    GREEN_MC,
    START,
    CLIMATE,
    FACTOR,
    Argument(
        "boards",
        "text",
        Limits("text", longest=60),
        "sample board of each weighing",
        None,
        shape="block",
    ),
    PLACE,
    STACKS,
    STACK,
)
NOT_BEFORE_START = Rule(
    lambda v: np.any(v["dates"] < v["start_date"]),
    lambda v: (
        f"dates holds {np.min(v['dates'])}; it must not be before start_date, {v['start_date']}"
    ),
)
WEIGHING_RULES = (STACK_WITHOUT_STACKS, NOT_BEFORE_START, AIR_ON_START, NO_CONSTANT)
EXAMPLE_CLIMATE = [[70, 50]] * 12
FORECAST_ARGUMENTS = (SPECIES, SAWN, GREEN_MC, START)
WEIGHINGS_EXAMPLE = (
    ["2026-05-08", "2026-05-15", "2026-05-22"],
    [55.0, 45.5, 38.5],
    "northern red oak",
    1.125,
    80,
    "2026-05-01",
    EXAMPLE_CLIMATE,
)

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
            SAWN,
            GREEN_MC,
            TARGET_MC,
            TEMP,
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
            *FORECAST_ARGUMENTS,
            Argument("forecast_date", "date", DATE_LIMITS, "day asked for"),
            CLIMATE,
            FACTOR,
            RATE,
            FROM_DATE,
            FROM_MC,
            PLACE,
        ),
        _forecast(forecast.mc_forecast),
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
                lambda v: (
                    _given(v, "from_date") & (v["forecast_date"] < np.asarray(v["from_date"]))
                ),
                "forecast_date is {forecast_date}; it must not be before from_date, {from_date}",
            ),
            *AIR_ON_BEGIN,
            NO_CONSTANT,
        ),
    ),
    Function(
        "READY_DATE",
        "Drying",
        "First day on which the target is reached: early, likely or late.",
        'date, or "not reached" within 5 years; the band covers about 80 % of stacks',
        (
            *FORECAST_ARGUMENTS,
            TARGET_MC,
            CLIMATE,
            FACTOR,
            RATE,
            SPREAD,
            FROM_DATE,
            FROM_MC,
            BAND,
            PLACE,
        ),
        _forecast(forecast.ready_date),
        MODEL,
        Example(
            ("northern red oak", 1.125, 80, "2026-05-01", 20, EXAMPLE_CLIMATE),
            "2026-06-08",
        ),
        gives="date",
        rules=(*WEIGHED, TARGET, *AIR_ON_BEGIN, NO_CONSTANT),
        remark=_why_not_reached,
    ),
    Function(
        "DRYING_RATE",
        "Drying",
        "Rate k of a stack against the forecast, fitted to the weighings of its sample boards.",
        "ratio: 1 as forecast, below 1 slower",
        WEIGHING_ARGUMENTS,
        _weighings(calibration.drying_rate),
        "this project's own estimator with a prior of 1; no published one was found",
        Example(WEIGHINGS_EXAMPLE, 0.6843448),
        rules=WEIGHING_RULES,
        selects=of_stack,
    ),
    Function(
        "RATE_SPREAD",
        "Drying",
        "How sure the rate k is: one standard deviation of ln k.",
        "ratio",
        WEIGHING_ARGUMENTS,
        _weighings(calibration.rate_spread),
        "this project's own estimator; no published one was found",
        Example(WEIGHINGS_EXAMPLE, 0.09842845),
        rules=WEIGHING_RULES,
        selects=of_stack,
    ),
    Function(
        "DRYING_CURVE",
        "Drying",
        "The forecast as a table for a chart: date, likely, early and late moisture content.",
        "rows of date and % MC (likely, early, late)",
        (
            *FORECAST_ARGUMENTS,
            TARGET_MC,
            CLIMATE,
            FACTOR,
            RATE,
            SPREAD,
            FROM_DATE,
            FROM_MC,
            PLACE,
            number("step_days", "days from row to row", Limits("days", 1, 365, whole=True), 7),
            number(
                "row_count",
                "rows to fill, padded with blanks",
                Limits("rows", 1, 2000, whole=True),
                None,
            ),
        ),
        curve_rows,
        MODEL,
        Example(
            ("northern red oak", 1.125, 80, "2026-05-01", 20, EXAMPLE_CLIMATE),
            "2026-05-01",
        ),
        rules=(*WEIGHED, TARGET, *AIR_ON_BEGIN, NO_CONSTANT),
        spills=True,
    ),
    Function(
        "SAFE_RATE",
        "Drying",
        "Loss of moisture content a day above which checking is likely, while the wood is wet.",
        "% MC a day; it matters above about 40 % MC",
        (SPECIES, SAWN),
        drying.safe_rate,
        "Univ. of Kentucky FOR-128 Table 9 (Wengert); 8/4 is 0.4 of 4/4 (FOR-128 Table 6)",
        Example(("northern red oak", 1.125), 3.8),
        missing="no safe rate is published for {species}",
    ),
)
"""Functions of the group."""
