"""Bad input to every function: an error that names the argument, the value and the limit."""

from __future__ import annotations

import math
from typing import Any

import pytest

import lumbercalc as lc
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.refusal import shown

YEAR = [[70, 50]] * 12

BAD_INPUT: tuple[tuple[str, str, Any], ...] = (
    ("THICKNESS_IN", "quarters", 0),
    ("THICKNESS_IN", "quarters", "9 quarters"),
    ("THICKNESS_IN", "quarters", "#N/A"),
    ("THICKNESS_IN", "quarters", True),
    ("BOARD_FEET", "thickness", "1/8"),
    ("BOARD_FEET", "width_in", -3),
    ("BOARD_FEET", "length_ft", 0),
    ("BOARD_FEET", "pieces", 2.5),
    ("SURFACE_MEASURE", "width_in", 0),
    ("SURFACE_MEASURE", "length_ft", math.inf),
    ("SURFACE_MEASURE", "by_turns", "by turns"),
    ("TALLY_BOARD_FEET", "thickness", 25),
    ("TALLY_BOARD_FEET", "width_in", "six"),
    ("TALLY_BOARD_FEET", "pieces", -1),
    ("LOG_SCALE", "diameter_in", 3.9),
    ("LOG_SCALE", "diameter_in", 4),  # allowed in general, but not by the rule of the example
    ("LOG_SCALE", "length_ft", True),
    ("LOG_SCALE", "rule", "Scribner"),
    ("NET_BOARD_FEET", "gross_bf", -1),
    ("NET_BOARD_FEET", "shrink_pct", 51),
    ("NET_BOARD_FEET", "shrink_pct", "7 %"),
    ("CUBIC_METERS", "board_feet", -0.5),
    ("CUBIC_METERS", "board_feet", math.inf),
    ("CUBIC_METERS", "board_feet", "#DIV/0!"),
    ("TALLY_SUMMARY", "species", "plastic lumber"),
    ("TALLY_SUMMARY", "thickness", "4/5"),
    ("TALLY_SUMMARY", "bf", -1),
    ("TALLY_SUMMARY", "grade", "number one common, " * 4),
    ("TALLY_SUMMARY", "row_count", 5),  # one fewer than the rows and totals of the example
    ("LUMBER_WEIGHT", "species", "plastic lumber"),
    ("LUMBER_WEIGHT", "board_feet", -1),
    ("LUMBER_WEIGHT", "mc_pct", 301),
    ("LUMBER_WEIGHT", "sawn_ratio", 0),
    ("WATER_LOSS", "species", 12),
    ("WATER_LOSS", "mc_from", -math.inf),
    ("WATER_LOSS", "mc_to", "dry"),
    ("DEHUMIDIFIER_PINTS", "species", "#REF!"),
    ("DEHUMIDIFIER_PINTS", "board_feet", True),
    ("DEHUMIDIFIER_PINTS", "mc_loss_per_day", 31),
    ("FLOOR_LOAD", "weight_lb", -1),
    ("FLOOR_LOAD", "length_ft", 0),
    ("FLOOR_LOAD", "width_ft", "four"),
    ("EMC", "temp_f", -41),
    ("EMC", "temp_f", "70 F"),
    ("EMC", "rh_pct", 140),
    ("RH_FOR_EMC", "temp_f", 211),
    ("RH_FOR_EMC", "emc_pct", -1),
    ("RH_FOR_EMC", "emc_pct", 30),  # above what saturated air of the example gives
    ("EMC_WET_BULB", "dry_bulb_f", 0),
    ("EMC_WET_BULB", "wet_bulb_f", 90),  # above the dry bulb of the example
    ("EMC_WET_BULB", "wet_bulb_f", 10),  # no air is that dry
    ("EMC_WET_BULB", "elevation_ft", 20_000),
    ("DEW_POINT", "temp_f", 151),
    ("DEW_POINT", "rh_pct", 0),
    ("DEW_POINT", "rh_pct", False),
    ("HEATED_RH", "temp_f", "cold"),
    ("HEATED_RH", "rh_pct", 101),
    ("HEATED_RH", "room_temp_f", 20),  # below the air of the example
    ("MEAN_EMC", "temps_f", -100),
    ("MEAN_EMC", "temps_f", "#N/A"),
    ("MEAN_EMC", "rhs_pct", 100.1),
    ("EXIT_RH", "temp_f", 151),
    ("EXIT_RH", "rh_pct", 0.6),
    ("EXIT_RH", "water_lb_per_day", -1),
    ("EXIT_RH", "cfm", 0),
    ("MOLD_INDEX", "temps_f", "#N/A"),
    ("MOLD_INDEX", "rhs_pct", 101),
    ("MOLD_INDEX", "hours_per_row", 0),
    ("MOLD_INDEX", "wood_class", "walnut"),
    ("MC_BY_WEIGHT", "weight", 0),
    ("MC_BY_WEIGHT", "weight", 90),  # below the ovendry weight of the example
    ("MC_BY_WEIGHT", "ovendry_weight", -5),
    ("OVENDRY_WEIGHT", "weight", "30 lb"),
    ("OVENDRY_WEIGHT", "mc_pct", -1),
    ("OVENDRY_WEIGHT", "mc_pct", 300.5),
    ("WEIGHT_AT_MC", "ovendry_weight", 0),
    ("WEIGHT_AT_MC", "ovendry_weight", math.inf),
    ("WEIGHT_AT_MC", "mc_pct", "eight"),
    ("MC_PIN", "reading_pct", 5.9),
    ("MC_PIN", "species", "unobtainium"),
    ("MC_PIN", "wood_temp_f", 161),
    ("MC_PIN", "calibration_temp_f", 0),
    ("MC_PINLESS", "reading_pct", 31),
    ("MC_PINLESS", "meter_sg", 0),
    ("MC_PINLESS", "species", "oakk tree"),
    ("MATCHES_DRY_SAMPLE", "reading", -1),
    ("MATCHES_DRY_SAMPLE", "dry_reading", "#VALUE!"),
    ("MATCHES_DRY_SAMPLE", "tolerance", 21),
    ("MC_UPPER", "readings", -1),
    ("MC_UPPER", "readings", "wet"),
    ("MC_UPPER", "confidence_pct", 100),
    ("MC_UPPER", "stack", "walnut in the shed, " * 4),
    ("SHARE_WITHIN", "readings", 101),
    ("SHARE_WITHIN", "target_pct", 0),
    ("SHARE_WITHIN", "tolerance", -1),
    ("SHARE_WITHIN", "stack", "walnut in the shed, " * 4),
    ("SAMPLES_NEEDED", "sd_pct", 0),
    ("SAMPLES_NEEDED", "margin_pct", -0.5),
    ("SAMPLES_NEEDED", "confidence_pct", 0),
    ("READINESS", "readings", True),
    ("READINESS", "target_pct", 61),
    ("READINESS", "confidence_pct", "95 %"),
    ("READINESS", "stack", "walnut in the shed, " * 4),
    ("SHRINKAGE", "species", "walnutt"),
    ("SHRINKAGE", "direction", "lengthwise"),
    ("SHRINKAGE", "mc_from", -1),
    ("SHRINKAGE", "mc_to", math.inf),
    ("SIZE_AT_MC", "size", 0),
    ("SIZE_AT_MC", "direction", 1),
    ("SIZE_AT_MC", "mc_to", 301),
    ("SAWN_SIZE", "finished_size", -1),
    ("SAWN_SIZE", "mc_final", "#N/A"),
    ("SAWN_SIZE", "allowance", 13),
    ("WIDTH_MOVEMENT", "width_in", 121),
    ("WIDTH_MOVEMENT", "direction", "volume"),
    ("WIDTH_MOVEMENT", "mc_from", 5),
    ("WIDTH_MOVEMENT", "mc_to", 15),
    ("STACK_FACTOR", "setting", "windy"),
    ("STACK_FACTOR", "setting", 0),
    ("STACK_FACTOR", "setting", "#NAME?"),
    ("DRYING_DAYS", "species", "plywood"),
    ("DRYING_DAYS", "thickness_in", 0.25),
    ("DRYING_DAYS", "target_mc", 90),  # above the green MC of the example
    ("DRYING_DAYS", "rate", 0),
    ("DRYING_DAYS", "temp_f", 131),  # a kiln or a hot box, not air drying
    ("MC_FORECAST", "green_mc", 4),
    ("MC_FORECAST", "start_date", "May 2026"),
    ("MC_FORECAST", "forecast_date", "2026-04-30"),  # before the start of the example
    ("MC_FORECAST", "forecast_date", "2036-05-02"),  # over ten years after the example's start
    ("MC_FORECAST", "climate", [[70, 140]] * 12),
    ("MC_FORECAST", "rate_spread", -0.1),
    ("MC_FORECAST", "band", "soonest"),
    ("MC_FORECAST", "move_date", "2026-06-01"),  # without a place to move to
    ("READY_DATE", "start_date", 60),
    ("READY_DATE", "target_mc", 81),  # above the green MC of the example
    ("READY_DATE", "stack_factor", -1),
    ("READY_DATE", "rate_spread", 2.5),
    ("READY_DATE", "climate", [["2026-06-01", 70, 50]]),
    ("READY_DATE", "move_date", "2026-06-31"),
    ("READY_DATE", "move_factor", 0.6),  # without a move
    ("DRYING_RATE", "dates", "2026-02-30"),
    ("DRYING_RATE", "dates", "2026-04-30"),  # before the start of the example
    ("DRYING_RATE", "mcs", 0),
    ("DRYING_RATE", "thickness_in", "#N/A"),
    ("RATE_SPREAD", "dates", True),
    ("RATE_SPREAD", "mcs", 251),
    ("RATE_SPREAD", "green_mc", math.inf),
    ("RATE_SPREAD", "move_factor", 0),
    ("DRYING_CURVE", "species", "elm tree house"),
    ("DRYING_CURVE", "start_date", "2026-13-01"),
    ("DRYING_CURVE", "target_mc", 2),
    ("DRYING_CURVE", "climate", 70),
    ("DRYING_CURVE", "move_factor", 2.5),
    ("MOVE_PLAN", "place", "garden"),
    ("MOVE_PLAN", "move_place", "attic"),
    ("MOVE_PLAN", "board_feet", -1),
    ("MOVE_PLAN", "move_factor", 0),
    ("MOVE_PLAN", "step_days", 0.5),
    ("SAFE_RATE", "species", "oak?!"),
    ("SAFE_RATE", "thickness_in", 0),
    ("SAFE_RATE", "thickness_in", 4.5),
    ("STICKERS", "length_ft", 0),
    ("STICKERS", "spacing_in", 3),
    ("STICKERS", "spacing_in", "16 in"),
    ("STACK_LAYERS", "height_in", 400),
    ("STACK_LAYERS", "thickness_in", "4/4"),
    ("STACK_LAYERS", "sticker_in", 0),
    ("STACK_LAYERS", "base_in", 48),  # as high as the stack of the example
    ("STACK_HEIGHT", "layers", 2.5),
    ("STACK_HEIGHT", "thickness_in", 0),
    ("STACK_HEIGHT", "sticker_in", "#N/A"),
    ("STACK_HEIGHT", "base_in", -1),
    ("STACK_BOARD_FEET", "layers", 0),
    ("STACK_BOARD_FEET", "width_ft", 48),
    ("STACK_BOARD_FEET", "fill_pct", 0.9),
    ("FAN_CFM", "sticker_in", 4),
    ("FAN_CFM", "length_ft", "eight"),
    ("FAN_CFM", "velocity_fpm", 0),
    ("TOP_WEIGHT", "length_ft", 41),
    ("TOP_WEIGHT", "width_ft", 0),
    ("TOP_WEIGHT", "psf", 301),
    ("STICKER_ADVICE", "stack_width_ft", 0),
    ("STICKER_ADVICE", "sticker_in", 0.1),
    ("STICKER_ADVICE", "fan", "yes"),
    ("HEAT_TREATED", "minutes", 30),  # above the second reading's in the example
    ("HEAT_TREATED", "minutes", "8:30"),
    ("HEAT_TREATED", "core_temps_f", 301),
    ("COST_PER_BF", "total_cost", -1),
    ("COST_PER_BF", "green_bf", 0),
    ("COST_PER_BF", "shrink_pct", 100),
    ("COST_PER_BF", "degrade_pct", "ten"),
    ("PRICE_FOR_MARGIN", "cost", -3),
    ("PRICE_FOR_MARGIN", "margin_pct", 100),
    ("PRICE_FOR_MARGIN", "margin_pct", "#NUM!"),
    ("CARRYING_COST", "value", True),
    ("CARRYING_COST", "annual_pct", 101),
    ("CARRYING_COST", "days", -1),
    ("LINE_TOTAL", "board_feet", -1),
    ("LINE_TOTAL", "price_per_bf", math.inf),
    ("LINE_TOTAL", "discount_pct", 101),
    ("SALES_TAX", "amount", -1),
    ("SALES_TAX", "amount", "ten"),
    ("SALES_TAX", "tax_pct", 51),
    ("SLAB_AREA", "widths_in", 0),
    ("SLAB_AREA", "widths_in", 240),
    ("SLAB_AREA", "length_ft", 41),
    ("MC_STATEMENT", "readings", 101),
    ("MC_STATEMENT", "reading_date", "yesterday"),
    ("MC_STATEMENT", "reading_date", 0),
    ("MC_STATEMENT", "method", "pin meter, " * 6),
    ("DEHUMIDIFIER_KWH", "water_lb", -1),
    ("DEHUMIDIFIER_KWH", "litres_per_kwh", 0),
    ("DEHUMIDIFIER_KWH", "litres_per_kwh", "two"),
    ("FAN_KWH", "watts", -40),
    ("FAN_KWH", "hours", math.inf),
    ("FAN_KWH", "hours", "all day"),
    ("SPACE_COST", "area_ft2", -1),
    ("SPACE_COST", "rent_per_month", "#N/A"),
    ("SPACE_COST", "days", 36_501),
    ("SHRINK_SO_FAR", "shrink_pct", 100),
    ("SHRINK_SO_FAR", "mc_pct", 301),
    ("SHRINK_SO_FAR", "target_mc", 30),
    ("MOVEMENT_LINE", "width_in", 0),
    ("MOVEMENT_LINE", "species", "balsa wood plane"),
    ("MOVEMENT_LINE", "mc_from", -1),
    ("MOVEMENT_LINE", "mc_to", 301),
    ("SPECIES_VALUE", "species", "balsa wood plane"),
    ("SPECIES_VALUE", "figure", "color"),
    ("SPECIES_VALUE", "figure", 1),
    ("SPECIES_SOURCE", "species", -1),
    ("SPECIES_SOURCE", "species", "#N/A"),
    ("SPECIES_SOURCE", "figure", "price"),
)
"""Function, argument, and a bad value for it where the function's example has a good one.

A bad reading, date or MC is put in the first row of the example's column.
"""


def bad_arguments(name: str, argument: str, bad: Any) -> list[Any]:
    """Put a bad value into the arguments of a function's example."""
    function = CATALOGUE[name]
    place = [declared.name for declared in function.arguments].index(argument)
    cells = list(function.example.arguments)
    cells += [None] * (place + 1 - len(cells))
    is_column = isinstance(cells[place], list) and function.arguments[place].kind != "climate"
    cells[place] = [bad, *cells[place][1:]] if is_column else bad
    return cells


DATES_THAT_COLLIDE = ("2026-04-30", "2026-06-01", "2036-05-02")
"""Dates that are good alone and break a rule with the example's."""


def value_in_words(bad: Any) -> str:
    """Write a bad value as a message does: texts shortened, errors plain."""
    if isinstance(bad, list):  # a climate table: the cell that is bad in it
        return "140 % RH" if bad[0][1] == 140 else "2026-05-01"
    if isinstance(bad, str) and (bad.startswith("#") or bad in DATES_THAT_COLLIDE):
        return bad
    return "1 column" if bad == 70 else shown(bad.strip() if isinstance(bad, str) else bad)


def goes_row_by_row(name: str, argument: str) -> bool:
    """Whether an argument may be a column of good and bad rows."""
    function = CATALOGUE[name]
    shapes = {declared.name: declared.shape for declared in function.arguments}
    return not function.takes_blocks and shapes[argument] == "cell"


ROW_BY_ROW = [row for row in BAD_INPUT if goes_row_by_row(row[0], row[1])]
BAD = pytest.mark.parametrize(("name", "argument", "bad"), BAD_INPUT, ids=str)


SHARES = (0.07, 0.08, 0.1, 0.12, 0.15, 0.4, 0.5, 0.06)


@pytest.mark.parametrize(
    ("name", "given", "said"),
    [
        # a cell that shows 7% holds 0.07
        ("SALES_TAX", (101.3, 0.07), "tax_pct is 0.07 %; it must be 0 or from 0.1 to 50 %; 7 % is"),
        ("PRICE_FOR_MARGIN", (3, 0.4), "margin_pct is 0.4 %; it must be 0 or from 1 to 99 %; 40 %"),
        (
            "LINE_TOTAL",
            (10.5, 8.75, 0.1),
            "discount_pct is 0.1 %; it must be 0 or from 0.5 to 100 %",
        ),
        ("COST_PER_BF", (2000, 1000, 0.07, 10), "shrink_pct is 0.07 %; it must be 0 or from 0.5"),
        ("CARRYING_COST", (1000, 0.06, 90), "annual_pct is 0.06 %; it must be 0 or from 0.5 to"),
        ("COST_PER_BF", (2000, 1000, 7, 0.1), "degrade_pct is 0.1 %; it must be 0 or from 0.5"),
        ("OVENDRY_WEIGHT", (30, 0.5), "mc_pct is 0.5 % MC; it must be 0 or from 1 to 300 % MC"),
        (
            "WEIGHT_AT_MC",
            (20, 0.08),
            "mc_pct is 0.08 % MC; it must be 0 or from 1 to 300 % MC; 8 %",
        ),
        ("LUMBER_WEIGHT", ("cherry", 1000, 0.12), "mc_pct is 0.12 % MC; it must be 0 or from 1"),
        (
            "SIZE_AT_MC",
            (10, "cherry", "flatsawn", 85, 0.08),
            "mc_to is 0.08 % MC; it must be 0 or from 1 to 300 % MC; 8 % is typed as 8",
        ),
        (
            "MATCHES_DRY_SAMPLE",
            (0.15, 8),
            "reading is 0.15 % MC; it must be 0 or from 1 to 100 % MC; 15 % is typed as 15",
        ),
    ],
)
def test_a_percent_typed_as_a_share(name: str, given: tuple[Any, ...], said: str) -> None:
    assert lc.problem(name, *given).startswith(said)
    assert lc.problem(name, *(0 if cell in SHARES else cell for cell in given)) == ""


@pytest.mark.parametrize("name", ["READINESS", "MC_UPPER", "SHARE_WITHIN", "MC_STATEMENT"])
def test_readings_typed_as_shares_are_never_dry_wood(name: str) -> None:
    # Boards of 12 to 16 % MC in cells that show 12%: READINESS called them ready at 8 %.
    readings = [0.12, 0.16, 0.13, 0.12]
    further = {"READINESS": (8,), "SHARE_WITHIN": (8,), "MC_STATEMENT": ("2026-11-02",)}
    said = lc.problem(name, readings, *further.get(name, ()))
    assert "0.12 % MC; it must be 0 or from 1 to 100 % MC; 12 % is typed as 12" in said


def test_quarters_are_no_thickness_as_sawn() -> None:
    stack = ("white oak", "8/4", 68, "2026-05-01", 8, [[70, 35]] * 12)
    said = 'thickness_in is the text "8/4"; it must be a number from 0.5 to 4 in, as sawn: 4/4'
    assert lc.problem("READY_DATE", *stack).startswith(said)
    # of a tally 4/4 is 1 in
    assert "as sawn" not in lc.problem("STACK_BOARD_FEET", 19, 4, 8, "4/4")
    assert "as sawn" in lc.problem("STACK_HEIGHT", 19, "4/4", 0.75)


def test_every_function_is_in_the_table_with_three_bad_values() -> None:
    counted = {name: sum(row[0] == name for row in BAD_INPUT) for name in CATALOGUE}
    exempt = {"PROBLEM", "LUMBERCALC_VERSION"}  # of any input it tells; takes no input
    few = {name for name, count in counted.items() if count < 3}
    assert few == exempt, "BAD_INPUT takes three bad values or more for each function"


@BAD
def test_python_raises_with_the_argument_the_value_and_the_limit(
    name: str, argument: str, bad: Any
) -> None:
    with pytest.raises(ValueError, match=argument) as refused:
        getattr(lc, name.lower())(*bad_arguments(name, argument, bad))
    said = str(refused.value)
    assert said.startswith(f"{name.lower()}: ")
    assert value_in_words(bad) in said
    assert "must" in said or "; " in said  # the limit, or why nothing is that way


@BAD
def test_problem_says_the_same(name: str, argument: str, bad: Any) -> None:
    cells = bad_arguments(name, argument, bad)
    reason = lc.problem(name, *cells)
    with pytest.raises(ValueError, match=argument) as refused:
        getattr(lc, name.lower())(*cells)
    assert str(refused.value) == f"{name.lower()}: {reason}"


@pytest.mark.parametrize(("name", "argument", "bad"), ROW_BY_ROW, ids=str)
def test_a_bad_row_of_a_column_leaves_its_neighbours_alone(
    name: str, argument: str, bad: Any
) -> None:
    function = CATALOGUE[name]
    cells = bad_arguments(name, argument, bad)
    place = [declared.name for declared in function.arguments].index(argument)
    good = function.example.arguments[place] if place < len(function.example.arguments) else None
    cells[place] = [good, bad, good]
    alone = call(name, function.example.arguments).values[0]
    answer = call(name, cells)
    assert answer.values == [alone, None, alone]
    assert list(answer.problems) == [1]
    assert argument in answer.problems[1]
