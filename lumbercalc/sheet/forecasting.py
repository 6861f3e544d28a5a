"""The arguments that the forecasts of a stack share, and the rules across them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np

from lumbercalc.sheet.function import Argument, Rule, Values
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.refusal import shown
from lumbercalc.sheet.vocabulary import (
    DATE_LIMITS,
    GREEN_MC_LIMITS,
    NAME_LIMITS,
    SAWN,
    SPECIES,
    number,
    words,
)
from lumbercalc.wood import drying
from lumbercalc.wood.band import ESTIMATED_PRIOR_SPREAD, PRIOR_SPREAD, SIDES, first_day
from lumbercalc.wood.day_by_day import NO_DATE
from lumbercalc.wood.drying_course import DryingCourse

MODEL = (
    "diffusion after Simpson & Hart (2000, from memory), D of red oak as read in a public research "
    "script, closed-form daily step of this project; for boards of 3/4 to 2-1/2 in in air of 15 to "
    "110 deg F; quartersawn oak takes about 15 % longer (Wengert 2012); an estimate: weigh before "
    "you sell"
)
FIVE_YEARS = "the air does not bring it there within 5 years"

FORECAST_SAWN = replace(SAWN, limits=Limits("in", 0.5, 4))
GREEN_MC = number("green_mc", "moisture content when stacked", GREEN_MC_LIMITS)
TARGET_MC = number("target_mc", "moisture content wanted", Limits("% MC", 3, 60))
START = Argument("start_date", "date", DATE_LIMITS, "day the drying began")
STACK_BEGUN = (SPECIES, FORECAST_SAWN, GREEN_MC, START)
CLIMATE = Argument(
    "climate",
    "climate",
    Limits("rows of deg F and % RH"),
    "table of the air: 12 rows Jan..Dec (temp_f, rh_pct), rows (month or date, temp_f, rh_pct), "
    "or rows (place, month or date, temp_f, rh_pct); a place's dated rows go before its months; "
    "the first days of 12 months are the months",
    shape="block",
)
FACTOR_LIMITS = Limits("ratio", 0.05, 2)
FACTOR = number("stack_factor", "air flow through the stack, from STACK_FACTOR", FACTOR_LIMITS, 1)
RATE = number("rate", "this stack's rate k, from DRYING_RATE", Limits("ratio", 0.05, 20), 1)
SPREAD = number(
    "rate_spread",
    f"spread of ln k, from RATE_SPREAD; left out: {PRIOR_SPREAD:g}, or {ESTIMATED_PRIOR_SPREAD:g} "
    "where the species' drying constant is an estimate",
    Limits("ratio", 0, 2),
    None,
)
FROM_DATE = Argument("from_date", "date", DATE_LIMITS, "day of the last weighing", None)
FROM_MC = number("from_mc", "moisture content on that day", Limits("% MC", 2, 250), None)
PLACE = words("place", "place in the climate table", NAME_LIMITS, default="")
BAND = words(
    "band",
    "early, likely or late",
    Limits("choice", choices=tuple(SIDES)),
    "choice",
    "likely",
)
MOVE_PLACE = words("move_place", "place it moves to, in the climate table", NAME_LIMITS, default="")
MOVE_FACTOR = number(
    "move_factor", "air flow there; left out: it stays as stack_factor", FACTOR_LIMITS, None
)
MOVE = (
    Argument("move_date", "date", DATE_LIMITS, "first day in another place", None),
    MOVE_PLACE,
    MOVE_FACTOR,
)


def held(at: float, target: float) -> str:
    """Write what air holds wood at, with the digits that tell it from the target.

    Parameters
    ----------
    at, target : float [% MC]
        EMC of the air, and what the wood was to come to.

    Returns
    -------
    str
        To a tenth; to a hundredth where the two are closer than that.

    Examples
    --------
    >>> held(9.24, 8), held(8.04, 8)
    ('9.2 % MC', '8.04 % MC')
    """
    return f"{at:.{1 if abs(at - target) >= 0.1 else 2}f} % MC"


_COURSE = tuple(field.name for field in fields(DryingCourse))


def of_course(compute: Callable[..., Any]) -> Callable[..., Any]:
    """Let a function of `wood` that takes a drying course be called as the catalogue does it.

    Parameters
    ----------
    compute : callable
        Takes the course first, then arguments that are none of its figures.

    Returns
    -------
    callable
        Takes all of them by name.
    """

    def computed(**values: Any) -> Any:
        figures = {name: values.pop(name) for name in _COURSE if name in values}
        return compute(DryingCourse(**figures), **values)

    return computed


def given(values: Values, name: str) -> Any:
    """Mark the rows in which an optional argument is given.

    Parameters
    ----------
    values : mapping
        Checked arguments by name.
    name : str
        Of a date, a number or a text.

    Returns
    -------
    ndarray of bool
        False for the blank of its kind.
    """
    value = np.asarray(values[name])
    if value.dtype.kind == "M":
        return ~np.isnat(value)
    return ~np.isnan(value) if value.dtype.kind == "f" else value != ""


def begins(values: Values) -> Any:
    """Find the day on which each forecast, or the weighings of a stack, begin.

    Parameters
    ----------
    values : mapping
        Checked arguments by name.

    Returns
    -------
    ndarray of datetime64[D]
        Of the last weighing where it is given, else the start date.
    """
    from_date, from_mc = values.get("from_date", NO_DATE), values.get("from_mc", np.nan)
    return first_day(values["start_date"], from_date, from_mc)


def _has_air(values: Values, day: str) -> Any:
    """Mark the rows with air on a day, in the place where the stack then is."""
    # A stack that stays has no date, and no date is before another.
    moved = np.asarray(values.get("move_date", NO_DATE)) <= values[day]
    where = np.where(moved, values.get("move_place", ""), values["place"])
    return values["climate"].has_air(values[day], where)


def _moves_where_no_air_is(values: Values) -> Any:
    """Mark the rows that move, after the forecast begins, to a place without air on that day."""
    moves = given(values, "move_date")
    if not moves.any():
        return moves
    return (np.asarray(values["move_date"]) > begins(values)) & ~_has_air(values, "move_date")


LONGEST_FORECAST = np.timedelta64(3653, "D")
"""Ten years; a day's step takes a while, and wood has long come to its air by then."""

NOT_TOO_LATE = Rule(
    lambda v: v["forecast_date"] > begins(v) + LONGEST_FORECAST,
    lambda v: (
        f"forecast_date is {v['forecast_date']}; it must not be more than 10 years after "
        f"{begins(v)}, when the forecast begins"
    ),
)
WEIGHED = (
    Rule(
        lambda v: given(v, "from_date") != given(v, "from_mc"),
        "from_date and from_mc go together; only one of them is given",
    ),
    Rule(
        lambda v: given(v, "from_date") & (np.asarray(v["from_date"]) < v["start_date"]),
        "from_date is {from_date}; it must not be before start_date, {start_date}",
    ),
)
TARGET = Rule(
    lambda v: v["target_mc"] > v["green_mc"],
    "target_mc is {target_mc:g} % MC; it must not be above green_mc, {green_mc:g} % MC",
)
NO_CONSTANT_TEXT = "no drying constant for {species}: it has no specific gravity to estimate one"
NO_CONSTANT = Rule(lambda v: np.isnan(drying.drying_constant(v["species"])), NO_CONSTANT_TEXT)
MOVED = (
    Rule(
        lambda v: given(v, "move_date") & ~given(v, "move_place"),
        "move_date is {move_date}; it must come with move_place, which is missing",
    ),
    Rule(
        lambda v: given(v, "move_place") & ~given(v, "move_date"),
        lambda v: (
            f"move_place is {shown(v['move_place'])}; it must come with move_date, which is missing"
        ),
    ),
    Rule(
        lambda v: given(v, "move_factor") & ~given(v, "move_date"),
        "move_factor is {move_factor:g}; it must come with move_date, which is missing",
    ),
    Rule(
        lambda v: given(v, "move_date") & (np.asarray(v["move_date"]) < v["start_date"]),
        "move_date is {move_date}; it must not be before start_date, {start_date}",
    ),
    Rule(
        _moves_where_no_air_is,
        "climate has no air in {move_place} on move_date, {move_date}; "
        "its first dated row must not be later",
    ),
)
AIR_ON_START = Rule(
    lambda v: ~_has_air(v, "start_date"),
    "climate has no air on start_date, {start_date}; its first dated row must not be later",
)
AIR_ON_BEGIN = (
    replace(
        AIR_ON_START,
        broken=lambda v: ~given(v, "from_date") & np.asarray(AIR_ON_START.broken(v)),
    ),
    Rule(
        lambda v: given(v, "from_date") & ~_has_air(v, "from_date"),
        "climate has no air on from_date, {from_date}; its first dated row must not be later",
    ),
)
