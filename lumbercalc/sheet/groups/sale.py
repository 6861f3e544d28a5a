"""Declarations of the group Sale: cost, price and what a buyer is told."""

from __future__ import annotations

from dataclasses import replace

from lumbercalc.sheet.function import Argument, Example, Function
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.picking import (
    DATES,
    STACK,
    STACK_WITHOUT_STACKS,
    STACKS,
    of_stack_and_day,
    without,
)
from lumbercalc.sheet.vocabulary import (
    BF_LIMITS,
    BOARD_FEET,
    DATE_LIMITS,
    LENGTH,
    MC_FROM,
    MC_TO,
    MONEY_LIMITS,
    NAME_LIMITS,
    READINGS,
    SMALLEST_PCT,
    SPECIES,
    WIDTH,
    number,
    words,
)
from lumbercalc.wood import costs, movement, sale, tally

LOSS_LIMITS = Limits("%", 0, 99)
TYPED_LOSS_LIMITS = replace(LOSS_LIMITS, least=SMALLEST_PCT)
DAYS_LIMITS = Limits("days", 0, 36_500)

FUNCTIONS = (
    Function(
        "COST_PER_BF",
        "Sale",
        "Cost of a dry, saleable board foot.",
        "money per bf",
        (
            number("total_cost", "cost of the load until it is dry", MONEY_LIMITS),
            number("green_bf", "board feet of the green tally", replace(BF_LIMITS, lowest=0.01)),
            number("shrink_pct", "loss of footage by shrinkage", TYPED_LOSS_LIMITS),
            number("degrade_pct", "loss by degrade and trim", TYPED_LOSS_LIMITS),
        ),
        costs.cost_per_bf,
        "total / (green bf x (1 - shrink) x (1 - degrade)) (definition)",
        Example((2000, 1000, 7, 10), 2.389486),
    ),
    Function(
        "PRICE_FOR_MARGIN",
        "Sale",
        "Price of which a share is margin.",
        "money, in the unit of cost",
        (
            number("cost", "cost of a unit", MONEY_LIMITS),
            number(
                "margin_pct", "share of the price that is margin", replace(LOSS_LIMITS, least=1)
            ),
        ),
        sale.price_for_margin,
        "cost / (1 - margin/100) (definition)",
        Example((3, 40), 5.0),
    ),
    Function(
        "CARRYING_COST",
        "Sale",
        "Cost of waiting: interest on money tied up.",
        "money",
        (
            number("value", "money tied up", MONEY_LIMITS),
            number("annual_pct", "interest a year", Limits("%", 0, 100, least=SMALLEST_PCT)),
            number("days", "days of waiting", DAYS_LIMITS),
        ),
        costs.carrying_cost,
        "simple interest on 365 days (common practice, no source)",
        Example((5000, 7.3, 30), 30.0),
    ),
    Function(
        "LINE_TOTAL",
        "Sale",
        "Total of a line of a quote or invoice, to the cent.",
        "money, rounded to 0.01, halves up",
        (
            BOARD_FEET,
            number("price_per_bf", "price of a board foot", Limits("money", 0, 1_000_000)),
            number("discount_pct", "discount", Limits("%", 0, 100, least=SMALLEST_PCT), 0),
        ),
        sale.line_total,
        "board feet x price x (1 - discount/100), decimal rounding at the line (common practice)",
        Example((10.5, 8.75, 10), 82.69),
    ),
    Function(
        "SALES_TAX",
        "Sale",
        "Sales tax on an amount, to the cent.",
        "money, rounded to 0.01, halves up",
        (
            number("amount", "what is taxed", MONEY_LIMITS),
            number("tax_pct", "rate of the tax", Limits("%", 0, 50, least=0.1)),
        ),
        sale.sales_tax,
        "amount to the cent x rate/100, decimal rounding (common practice)",
        Example((101.3, 5), 5.07),
    ),
    Function(
        "SLAB_AREA",
        "Sale",
        "Area of a live-edge slab: the mean of its widths times its length.",
        "area [ft2]",
        (
            number(
                "widths_in", "widths along the slab, at equal steps", WIDTH.limits, shape="block"
            ),
            LENGTH,
        ),
        tally.slab_area,
        "mean width x length / 12 (common practice, no source)",
        Example(([22, 18.5, 25.5], 8), 14.66667),
    ),
    Function(
        "MC_STATEMENT",
        "Sale",
        "One line for the invoice on the moisture content: mean, range, count, method and date.",
        "text",
        (
            READINGS,
            Argument("reading_date", "date", DATE_LIMITS, "day of the readings"),
            words("method", "how it was read", NAME_LIMITS, default=""),
            DATES,
            STACKS,
            STACK,
        ),
        without("dates", "stacks", "stack", compute=sale.mc_statement),
        "common practice, no source",
        Example(
            ([7.5, 8, 8.2], "2026-11-02", "pin meter"),
            "Moisture content 7.9 % on average (7.5 to 8.2 %), 3 readings, pin meter, 2026-11-02.",
        ),
        gives="text",
        rules=(STACK_WITHOUT_STACKS,),
        selects=of_stack_and_day,
    ),
    Function(
        "MOVEMENT_LINE",
        "Sale",
        "One line for the invoice on how much a board's width moves in the buyer's place.",
        "text",
        (
            WIDTH,
            SPECIES,
            replace(MC_FROM, about="moisture content when sold"),
            replace(MC_TO, about="moisture content where it is used, such as EMC of that place"),
        ),
        movement.movement_line,
        "Wood Handbook FPL-GTR-190 (2010) eq. 13-2 from 6 to 14 % MC, beyond it eq. 13-3",
        Example(
            (8, "black walnut", 9.6, 7.4),
            "From 9.6 to 7.4 % MC a flatsawn board 8.0 in wide gets 0.05 in narrower, "
            "a quartersawn one 0.03 in.",
        ),
        gives="text",
        missing="no shrinkage is published for {species}",
    ),
)
"""Functions of the group."""
