"""Declarations of the group Sale, its costs of drying: power, space and lost footage."""

from __future__ import annotations

from lumbercalc.sheet.function import Example, Function
from lumbercalc.sheet.groups.sale import DAYS_LIMITS, LOSS_LIMITS
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import MC_LIMITS, number
from lumbercalc.wood import costs

FUNCTIONS = (
    Function(
        "DEHUMIDIFIER_KWH",
        "Sale",
        "Electricity that a dehumidifier takes to remove this water.",
        "electricity [kWh]; a machine takes more in a cooler or drier room than its test's",
        (
            number("water_lb", "water to remove", Limits("lb", 0, 10_000_000)),
            number("litres_per_kwh", "rating on the machine's label", Limits("L per kWh", 0.1, 20)),
        ),
        costs.dehumidifier_kwh,
        "water / rating (definition); 1 lb = 0.45359237 kg, a liter of water taken as 1 kg",
        Example((1000, 1.6), 283.4952),
    ),
    Function(
        "FAN_KWH",
        "Sale",
        "Electricity of a fan, or of any machine of steady power.",
        "electricity [kWh]",
        (
            number("watts", "power while it runs", Limits("W", 0, 100_000)),
            number("hours", "hours that it runs", Limits("h", 0, 1_000_000)),
        ),
        costs.fan_kwh,
        "watts x hours / 1000 (definition)",
        Example((120, 480), 57.6),
    ),
    Function(
        "SPACE_COST",
        "Sale",
        "Cost of the floor that lumber stands on, by the day.",
        "money",
        (
            number("area_ft2", "floor, with its share of the aisle", Limits("ft2", 0, 1_000_000)),
            number(
                "rent_per_month", "rent of the floor", Limits("money per ft2 a month", 0, 10_000)
            ),
            number("days", "time it stands there", DAYS_LIMITS),
        ),
        costs.space_cost,
        "area x rent x months, a month of 365/12 days (common practice, no source)",
        Example((32, 0.5, 365), 192.0),
    ),
    Function(
        "SHRINK_SO_FAR",
        "Sale",
        "Footage lost to shrinkage so far, of the loss from green to the target.",
        "loss [% of the green tally]",
        (
            number("shrink_pct", "loss of footage from green to the target", LOSS_LIMITS),
            number("mc_pct", "moisture content now", MC_LIMITS),
            number("target_mc", "moisture content of that loss", Limits("% MC", 2, 29)),
        ),
        costs.shrink_so_far,
        "linear below 30 % MC: Wood Handbook FPL-GTR-190 (2010) eq. 13-3",
        Example((7, 19, 8), 3.5),
    ),
)
"""The costs' part of the group."""
