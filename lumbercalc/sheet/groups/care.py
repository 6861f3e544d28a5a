"""Declarations of the group Care: heat against insects."""

from __future__ import annotations

import numpy as np

from lumbercalc.sheet.function import Argument, Example, Function, Rule, Values
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.picking import of_name, without
from lumbercalc.sheet.vocabulary import NAME_LIMITS, number, words
from lumbercalc.wood import care

CHARGES = Argument(
    "charges",
    "text",
    NAME_LIMITS,
    "charge of each reading, to pick one charge out of whole columns",
    None,
    shape="block",
)


def _not_rising(values: Values) -> bool:
    return bool((np.diff(values["minutes"]) <= 0).any())


def _where_not_rising(values: Values) -> str:
    minutes = values["minutes"]
    place = int(np.flatnonzero(np.diff(minutes) <= 0)[0])
    return f"minutes goes from {minutes[place]:g} to {minutes[place + 1]:g}; it must rise"


def _are_clock_times(values: Values) -> bool:
    """Whether all readings lie within one minute: times of day that were not made minutes."""
    minutes = values["minutes"]
    return bool(minutes.size > 1 and minutes[-1] - minutes[0] < 1)


def _deciding_gap(values: Values) -> tuple[float, float] | None:
    return care.deciding_gap(values["minutes"], values["core_temps_f"])


def _which_gap(values: Values) -> str:
    before, after = _deciding_gap(values) or (np.nan, np.nan)  # asked only where there is one
    return (
        f"minutes goes from {before:g} to {after:g} while the core is hot; readings must be at "
        f"most {care.WIDEST_GAP:g} minutes apart to show that it stayed so"
    )


FUNCTIONS = (
    Function(
        "HEAT_TREATED",
        "Care",
        "Whether the core stayed at 132.8 deg F (56 deg C) for 30 minutes without a break.",
        "TRUE or FALSE: a record, no certificate (borders: a licensed treater's mark); new "
        "insects may come; hot boxes burn: never leave one alone, labels and fire code rule",
        (
            number(
                "minutes",
                "time of each reading, rising (a cell of date and time x 1440)",
                Limits("min", 0, 1e8),
                shape="block",
            ),
            number(
                "core_temps_f",
                "temperature in the core of the thickest piece",
                Limits("deg F", -40, 300),
                shape="block",
            ),
            CHARGES,
            words("charge", "charge to pick", NAME_LIMITS, default=""),
        ),
        without("charges", "charge", compute=care.heat_treated),
        "ISPM 15 (International Plant Protection Convention), heat treatment; readings at most "
        f"{care.WIDEST_GAP:g} minutes apart: this project's own caution, no source; new "
        "insects: Wood Handbook (2010) ch. 14, from memory",
        Example(([0, 10, 20, 30, 40], [131, 133, 134, 135, 134]), True),
        gives="flag",
        rules=(
            Rule(
                lambda v: bool(v["charge"]) and v["charges"] is None,
                "charge is {charge}, but charges, the column to find it in, is left out",
            ),
            Rule(_not_rising, _where_not_rising),
            Rule(
                _are_clock_times,
                lambda v: (
                    f"minutes goes from {v['minutes'][0]:g} to {v['minutes'][-1]:g} in all; times "
                    "of day are shares of a day: x 1440 makes minutes"
                ),
            ),
            Rule(lambda v: _deciding_gap(v) is not None, _which_gap),
        ),
        selects=lambda cells, columns: of_name(cells["charge"], columns.get("charges"), "charge"),
        counts=lambda columns: ~np.isnan(columns["core_temps_f"]),
    ),
)
"""Functions of the group."""
