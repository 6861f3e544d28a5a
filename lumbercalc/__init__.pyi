"""Functions for drying and selling hardwood, the same in a worksheet and in Python.

Made from the catalogue by ``python -m lumbercalc.sheet.stub``; do not edit.
"""

# ruff: noqa: D401 - the summaries are those that a worksheet shows

from datetime import date
from decimal import Decimal
from typing import Any, TypeAlias

import numpy as np
import pandas as pd

_Rows: TypeAlias = list[Any] | tuple[Any, ...] | range | np.ndarray[Any, Any]
_Labelled: TypeAlias = pd.Series[Any] | pd.Index[Any] | pd.DataFrame
_Column: TypeAlias = _Rows | _Labelled | pd.api.extensions.ExtensionArray
_One: TypeAlias = float | np.integer[Any] | np.floating[Any] | Decimal
_Number: TypeAlias = _One | _Column | None
_Thickness: TypeAlias = _One | str | _Column | None
_Text: TypeAlias = str | float | _Column | None
_Date: TypeAlias = date | np.datetime64 | str | float | _Column | None
_Flag: TypeAlias = bool | np.bool_ | _Column | None
_Table: TypeAlias = list[Any] | tuple[Any, ...] | np.ndarray[Any, Any] | pd.DataFrame

__version__: str

def thickness_in(
    quarters: _Thickness,
) -> Any:
    """Thickness in inches of quarters such as "8/4"; a number passes unchanged."""

def board_feet(
    thickness: _Thickness,
    width_in: _Number,
    length_ft: _Number,
    pieces: _Number = 1,
) -> Any:
    """Board feet of boards by thickness, width and length; under 1 in thick counts as 1 in."""

def surface_measure(
    width_in: _Number,
    length_ft: _Number,
    by_turns: _Flag = False,
) -> Any:
    """Surface measure of a board, to the whole square foot."""

def tally_board_feet(
    thickness: _Thickness,
    width_in: _Number,
    length_ft: _Number,
    pieces: _Number = 1,
) -> Any:
    """Board feet as a tally book has them: surface measure x thickness x pieces."""

def log_scale(
    diameter_in: _Number,
    length_ft: _Number,
    rule: _Text,
) -> Any:
    """Board feet that a log rule gives for a log."""

def net_board_feet(
    gross_bf: _Number,
    shrink_pct: _Number,
) -> Any:
    """Board feet left of a green tally when the boards have shrunk."""

def cubic_meters(
    board_feet: _Number,
) -> Any:
    """Cubic meters of a number of board feet."""

def tally_summary(
    species: _Text,
    thickness: _Thickness,
    bf: _Number,
    grade: _Text = None,
    row_count: _Number = None,
) -> list[list[Any]]:
    """Board feet of a tally added up by species, thickness and grade, with totals."""

def lumber_weight(
    species: _Text,
    board_feet: _Number,
    mc_pct: _Number,
    sawn_ratio: _Number = 1,
) -> Any:
    """Weight of lumber at a moisture content."""

def water_loss(
    species: _Text,
    board_feet: _Number,
    mc_from: _Number,
    mc_to: _Number,
) -> Any:
    """Water that lumber gives off between two moisture contents; what it takes up is negative."""

def dehumidifier_pints(
    species: _Text,
    board_feet: _Number,
    mc_loss_per_day: _Number,
) -> Any:
    """Pints of water a day to take out of the room while the lumber dries at this rate."""

def floor_load(
    weight_lb: _Number,
    length_ft: _Number,
    width_ft: _Number,
) -> Any:
    """Weight over the footprint: a figure to take to a licensed engineer, never an approval."""

def emc(
    temp_f: _Number,
    rh_pct: _Number,
) -> Any:
    """Equilibrium moisture content: what wood comes to if this air stays."""

def rh_for_emc(
    temp_f: _Number,
    emc_pct: _Number,
) -> Any:
    """Relative humidity that holds wood at an equilibrium moisture content."""

def emc_wet_bulb(
    dry_bulb_f: _Number,
    wet_bulb_f: _Number,
    elevation_ft: _Number = 0,
) -> Any:
    """Equilibrium moisture content from a dry-bulb and a wet-bulb thermometer."""

def dew_point(
    temp_f: _Number,
    rh_pct: _Number,
) -> Any:
    """Temperature at which this air begins to wet a surface."""

def heated_rh(
    temp_f: _Number,
    rh_pct: _Number,
    room_temp_f: _Number,
) -> Any:
    """Relative humidity of outdoor air after it is warmed indoors and no water is added."""

def mean_emc(
    temps_f: _Number,
    rhs_pct: _Number,
) -> float | None:
    """Mean equilibrium moisture content over a record of temperature and humidity."""

def exit_rh(
    temp_f: _Number,
    rh_pct: _Number,
    water_lb_per_day: _Number,
    cfm: _Number,
) -> Any:
    """Relative humidity of the air where it leaves a stack that gives off water."""

def mold_index(
    temps_f: _Number,
    rhs_pct: _Number,
    hours_per_row: _Number = 24,
    wood_class: _Text = "sensitive",
) -> float | None:
    """Risk of mold after a record of the air in the stack, from 0 (none) to 6 (all over)."""

def mc_by_weight(
    weight: _Number,
    ovendry_weight: _Number,
) -> Any:
    """Moisture content from a weight and the ovendry weight of the same piece."""

def ovendry_weight(
    weight: _Number,
    mc_pct: _Number,
) -> Any:
    """Weight that a piece would have ovendry."""

def weight_at_mc(
    ovendry_weight: _Number,
    mc_pct: _Number,
) -> Any:
    """Weight to wait for: what a piece weighs at a moisture content."""

def mc_pin(
    reading_pct: _Number,
    species: _Text,
    wood_temp_f: _Number,
    calibration_temp_f: _Number = 70,
) -> Any:
    """Reading of a pin meter corrected for wood temperature, then for species."""

def mc_pinless(
    reading_pct: _Number,
    meter_sg: _Number,
    species: _Text,
) -> Any:
    """Reading of a pinless meter corrected for the density of the species."""

def matches_dry_sample(
    reading: _Number,
    dry_reading: _Number,
    tolerance: _Number = 1,
) -> Any:
    """Whether a meter reads the stack like a piece of the same wood known to be dry."""

def mc_upper(
    readings: _Number,
    confidence_pct: _Number = 95,
    stacks: _Text = None,
    stack: _Text = "",
) -> float | None:
    """Upper bound of a lot's mean moisture content."""

def share_within(
    readings: _Number,
    target_pct: _Number,
    tolerance: _Number = 1,
    stacks: _Text = None,
    stack: _Text = "",
) -> float | None:
    """Share of the readings within a tolerance of the target."""

def samples_needed(
    sd_pct: _Number,
    margin_pct: _Number,
    confidence_pct: _Number = 95,
) -> Any:
    """Boards to read so that the lot's mean is known within a margin."""

def readiness(
    readings: _Number,
    target_pct: _Number,
    tolerance: _Number = 1,
    confidence_pct: _Number = 95,
    stacks: _Text = None,
    stack: _Text = "",
) -> str | None:
    """Whether a stack is ready by its readings."""

def shrinkage(
    species: _Text,
    direction: _Text,
    mc_from: _Number,
    mc_to: _Number,
) -> Any:
    """Shrinkage between two moisture contents; swelling is negative."""

def size_at_mc(
    size: _Number,
    species: _Text,
    direction: _Text,
    mc_from: _Number,
    mc_to: _Number,
) -> Any:
    """Size of a piece at another moisture content."""

def sawn_size(
    finished_size: _Number,
    species: _Text,
    direction: _Text,
    mc_green: _Number,
    mc_final: _Number,
    allowance: _Number = 0,
) -> Any:
    """What to saw, so that the finished size and an allowance are left when dry."""

def width_movement(
    width_in: _Number,
    species: _Text,
    direction: _Text,
    mc_from: _Number,
    mc_to: _Number,
) -> Any:
    """Movement of a board's width in service; swelling is positive."""

def stack_factor(
    setting: _Text,
) -> Any:
    """Factor for the air flow through a stack, until weighings give its rate."""

def drying_days(
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    target_mc: _Number,
    temp_f: _Number,
    rh_pct: _Number,
    stack_factor: _Number = 1,
    rate: _Number = 1,
) -> Any:
    """Days to dry in air that stays the same."""

def mc_forecast(
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    forecast_date: _Date,
    climate: _Table,
    stack_factor: _Number = 1,
    rate: _Number = 1,
    from_date: _Date = None,
    from_mc: _Number = None,
    place: _Text = "",
    rate_spread: _Number = None,
    band: _Text = "likely",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> Any:
    """Moisture content on a date."""

def ready_date(
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    target_mc: _Number,
    climate: _Table,
    stack_factor: _Number = 1,
    rate: _Number = 1,
    rate_spread: _Number = None,
    from_date: _Date = None,
    from_mc: _Number = None,
    band: _Text = "likely",
    place: _Text = "",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> Any:
    """First day on which the target is reached: early, likely or late."""

def drying_curve(
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    target_mc: _Number,
    climate: _Table,
    stack_factor: _Number = 1,
    rate: _Number = 1,
    rate_spread: _Number = None,
    from_date: _Date = None,
    from_mc: _Number = None,
    place: _Text = "",
    step_days: _Number = 7,
    row_count: _Number = None,
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> list[list[Any]]:
    """The forecast as a table for a chart: date, likely, early and late moisture content."""

def safe_rate(
    species: _Text,
    thickness_in: _Number,
) -> Any:
    """Loss of moisture content a day above which checking is likely, while the wood is wet."""

def move_plan(
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    target_mc: _Number,
    climate: _Table,
    place: _Text,
    move_place: _Text,
    board_feet: _Number,
    stack_factor: _Number = 1,
    move_factor: _Number = None,
    rate: _Number = 1,
    from_date: _Date = None,
    from_mc: _Number = None,
    step_days: _Number = 14,
    row_count: _Number = None,
) -> list[list[Any]]:
    """When to move a stack, yard first and heated room later: dates to choose from."""

def drying_rate(
    dates: _Date,
    mcs: _Number,
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    climate: _Table,
    stack_factor: _Number = 1,
    boards: _Text = None,
    place: _Text = "",
    stacks: _Text = None,
    stack: _Text = "",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> float | None:
    """Rate k of a stack against the forecast, fitted to the weighings of its sample boards."""

def rate_spread(
    dates: _Date,
    mcs: _Number,
    species: _Text,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    climate: _Table,
    stack_factor: _Number = 1,
    boards: _Text = None,
    place: _Text = "",
    stacks: _Text = None,
    stack: _Text = "",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> float | None:
    """How sure the rate k is: one standard deviation of ln k."""

def stickers(
    length_ft: _Number,
    spacing_in: _Number = 16,
) -> Any:
    """Stickers under one layer, one at each end."""

def stack_layers(
    height_in: _Number,
    thickness_in: _Number,
    sticker_in: _Number,
    base_in: _Number = 0,
) -> Any:
    """Whole layers that fit under a height."""

def stack_height(
    layers: _Number,
    thickness_in: _Number,
    sticker_in: _Number,
    base_in: _Number = 0,
) -> Any:
    """Height of a stack from the ground to its top boards."""

def stack_board_feet(
    layers: _Number,
    width_ft: _Number,
    length_ft: _Number,
    thickness_in: _Number,
    fill_pct: _Number = 90,
) -> Any:
    """Board feet in a stack by its size, until the boards are tallied."""

def fan_cfm(
    layers: _Number,
    sticker_in: _Number,
    length_ft: _Number,
    velocity_fpm: _Number,
) -> Any:
    """Air through the gaps of a stack at a speed; what goes around the stack comes on top."""

def top_weight(
    length_ft: _Number,
    width_ft: _Number,
    psf: _Number = 50,
) -> Any:
    """Weight to lay on a stack so that its upper layers stay flat."""

def sticker_advice(
    stack_width_ft: _Number,
    sticker_in: _Number,
    fan: _Flag,
) -> Any:
    """What common practice has on sticker thickness and on the width of a stack."""

def heat_treated(
    minutes: _Number,
    core_temps_f: _Number,
    charges: _Text = None,
    charge: _Text = "",
) -> bool | None:
    """Whether the core stayed at 132.8 deg F (56 deg C) for 30 minutes without a break."""

def cost_per_bf(
    total_cost: _Number,
    green_bf: _Number,
    shrink_pct: _Number,
    degrade_pct: _Number,
) -> Any:
    """Cost of a dry, saleable board foot."""

def price_for_margin(
    cost: _Number,
    margin_pct: _Number,
) -> Any:
    """Price of which a share is margin."""

def carrying_cost(
    value: _Number,
    annual_pct: _Number,
    days: _Number,
) -> Any:
    """Cost of waiting: interest on money tied up."""

def line_total(
    board_feet: _Number,
    price_per_bf: _Number,
    discount_pct: _Number = 0,
) -> Any:
    """Total of a line of a quote or invoice, to the cent."""

def sales_tax(
    amount: _Number,
    tax_pct: _Number,
) -> Any:
    """Sales tax on an amount, to the cent."""

def slab_area(
    widths_in: _Number,
    length_ft: _Number,
) -> float | None:
    """Area of a live-edge slab: the mean of its widths times its length."""

def mc_statement(
    readings: _Number,
    reading_date: _Date,
    method: _Text = "",
    dates: _Date = None,
    stacks: _Text = None,
    stack: _Text = "",
) -> str | None:
    """One line for the invoice on the moisture content: mean, range, count, method and date."""

def movement_line(
    width_in: _Number,
    species: _Text,
    mc_from: _Number,
    mc_to: _Number,
) -> Any:
    """One line for the invoice on how much a board's width moves in the buyer's place."""

def dehumidifier_kwh(
    water_lb: _Number,
    litres_per_kwh: _Number,
) -> Any:
    """Electricity that a dehumidifier takes to remove this water."""

def fan_kwh(
    watts: _Number,
    hours: _Number,
) -> Any:
    """Electricity of a fan, or of any machine of steady power."""

def space_cost(
    area_ft2: _Number,
    rent_per_month: _Number,
    days: _Number,
) -> Any:
    """Cost of the floor that lumber stands on, by the day."""

def shrink_so_far(
    shrink_pct: _Number,
    mc_pct: _Number,
    target_mc: _Number,
) -> Any:
    """Footage lost to shrinkage so far, of the loss from green to the target."""

def species_value(
    species: _Text,
    figure: _Text,
) -> Any:
    """A figure of the species table."""

def species_source(
    species: _Text,
    figure: _Text,
) -> Any:
    """The publication that a figure is from, and whether it was read there or is from memory."""

def problem(
    name: _Text,
    *arguments: Any,
) -> Any:
    """What is wrong with the arguments of another function, in words."""

def lumbercalc_version() -> str | None:
    """The version of lumbercalc that answers."""
