"""Functions for drying and selling hardwood, the same in a worksheet and in Python.

Made from the catalogue by ``python -m lumbercalc.sheet.stub``; do not edit.

``| Any`` in an answer: None for a blank cell, a text such as "not reached", or one number for an
array without dimensions.
"""

# ruff: noqa: D401 - the summaries are those that a worksheet shows

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any, TypeAlias, overload

import numpy as np
import pandas as pd
from numpy.typing import NDArray

_Number: TypeAlias = float | np.integer[Any] | np.floating[Any] | Decimal | Fraction | None
_Thickness: TypeAlias = _Number | str
_Name: TypeAlias = str | None
_Text: TypeAlias = str | float | None
_Date: TypeAlias = date | np.datetime64 | str | float | None
_Flag: TypeAlias = bool | np.bool_ | None
_Rows: TypeAlias = list[Any] | tuple[Any, ...] | range | np.ndarray[Any, Any]
_Cells: TypeAlias = _Rows | pd.Index[Any] | pd.DataFrame | pd.api.extensions.ExtensionArray
_Column: TypeAlias = _Cells | pd.Series[Any]
_Table: TypeAlias = list[Any] | tuple[Any, ...] | np.ndarray[Any, Any] | pd.DataFrame | None

__version__: str

@overload
def thickness_in(
    quarters: _Thickness,
) -> float | Any:
    """Thickness in inches of quarters such as "8/4"; a number passes unchanged."""

@overload
def thickness_in(
    quarters: _Thickness | _Cells,
) -> NDArray[np.float64] | Any:
    """Thickness in inches of quarters such as "8/4"; a number passes unchanged."""

@overload
def thickness_in(
    quarters: _Thickness | _Column,
) -> pd.Series[float] | Any:
    """Thickness in inches of quarters such as "8/4"; a number passes unchanged."""

@overload
def board_feet(
    thickness: _Thickness,
    width_in: _Number,
    length_ft: _Number,
    pieces: _Number = 1,
) -> float | Any:
    """Board feet of boards by thickness, width and length; under 1 in thick counts as 1 in."""

@overload
def board_feet(
    thickness: _Thickness | _Cells,
    width_in: _Number | _Cells,
    length_ft: _Number | _Cells,
    pieces: _Number | _Cells = 1,
) -> NDArray[np.float64] | Any:
    """Board feet of boards by thickness, width and length; under 1 in thick counts as 1 in."""

@overload
def board_feet(
    thickness: _Thickness | _Column,
    width_in: _Number | _Column,
    length_ft: _Number | _Column,
    pieces: _Number | _Column = 1,
) -> pd.Series[float] | Any:
    """Board feet of boards by thickness, width and length; under 1 in thick counts as 1 in."""

@overload
def surface_measure(
    width_in: _Number,
    length_ft: _Number,
    by_turns: _Flag = False,
) -> float | Any:
    """Surface measure of a board, to the whole square foot."""

@overload
def surface_measure(
    width_in: _Number | _Cells,
    length_ft: _Number | _Cells,
    by_turns: _Flag | _Cells = False,
) -> NDArray[np.float64] | Any:
    """Surface measure of a board, to the whole square foot."""

@overload
def surface_measure(
    width_in: _Number | _Column,
    length_ft: _Number | _Column,
    by_turns: _Flag | _Column = False,
) -> pd.Series[float] | Any:
    """Surface measure of a board, to the whole square foot."""

@overload
def tally_board_feet(
    thickness: _Thickness,
    width_in: _Number,
    length_ft: _Number,
    pieces: _Number = 1,
) -> float | Any:
    """Board feet as a tally book has them: surface measure x thickness x pieces."""

@overload
def tally_board_feet(
    thickness: _Thickness | _Cells,
    width_in: _Number | _Cells,
    length_ft: _Number | _Cells,
    pieces: _Number | _Cells = 1,
) -> NDArray[np.float64] | Any:
    """Board feet as a tally book has them: surface measure x thickness x pieces."""

@overload
def tally_board_feet(
    thickness: _Thickness | _Column,
    width_in: _Number | _Column,
    length_ft: _Number | _Column,
    pieces: _Number | _Column = 1,
) -> pd.Series[float] | Any:
    """Board feet as a tally book has them: surface measure x thickness x pieces."""

@overload
def log_scale(
    diameter_in: _Number,
    length_ft: _Number,
    rule: _Name,
) -> float | Any:
    """Board feet that a log rule gives for a log."""

@overload
def log_scale(
    diameter_in: _Number | _Cells,
    length_ft: _Number | _Cells,
    rule: _Name | _Cells,
) -> NDArray[np.float64] | Any:
    """Board feet that a log rule gives for a log."""

@overload
def log_scale(
    diameter_in: _Number | _Column,
    length_ft: _Number | _Column,
    rule: _Name | _Column,
) -> pd.Series[float] | Any:
    """Board feet that a log rule gives for a log."""

@overload
def net_board_feet(
    gross_bf: _Number,
    shrink_pct: _Number,
) -> float | Any:
    """Board feet left of a green tally when the boards have shrunk."""

@overload
def net_board_feet(
    gross_bf: _Number | _Cells,
    shrink_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Board feet left of a green tally when the boards have shrunk."""

@overload
def net_board_feet(
    gross_bf: _Number | _Column,
    shrink_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Board feet left of a green tally when the boards have shrunk."""

@overload
def cubic_meters(
    board_feet: _Number,
) -> float | Any:
    """Cubic meters of a number of board feet."""

@overload
def cubic_meters(
    board_feet: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Cubic meters of a number of board feet."""

@overload
def cubic_meters(
    board_feet: _Number | _Column,
) -> pd.Series[float] | Any:
    """Cubic meters of a number of board feet."""

def tally_summary(
    species: _Name | _Column,
    thickness: _Thickness | _Column,
    bf: _Number | _Column,
    grade: _Text | _Column = None,
    row_count: _Number = None,
) -> list[list[Any]]:
    """Board feet of a tally added up by species, thickness and grade, with totals."""

@overload
def lumber_weight(
    species: _Name,
    board_feet: _Number,
    mc_pct: _Number,
    sawn_ratio: _Number = 1,
) -> float | Any:
    """Weight of lumber at a moisture content."""

@overload
def lumber_weight(
    species: _Name | _Cells,
    board_feet: _Number | _Cells,
    mc_pct: _Number | _Cells,
    sawn_ratio: _Number | _Cells = 1,
) -> NDArray[np.float64] | Any:
    """Weight of lumber at a moisture content."""

@overload
def lumber_weight(
    species: _Name | _Column,
    board_feet: _Number | _Column,
    mc_pct: _Number | _Column,
    sawn_ratio: _Number | _Column = 1,
) -> pd.Series[float] | Any:
    """Weight of lumber at a moisture content."""

@overload
def water_loss(
    species: _Name,
    board_feet: _Number,
    mc_from: _Number,
    mc_to: _Number,
) -> float | Any:
    """Water that lumber gives off between two moisture contents; what it takes up is negative."""

@overload
def water_loss(
    species: _Name | _Cells,
    board_feet: _Number | _Cells,
    mc_from: _Number | _Cells,
    mc_to: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Water that lumber gives off between two moisture contents; what it takes up is negative."""

@overload
def water_loss(
    species: _Name | _Column,
    board_feet: _Number | _Column,
    mc_from: _Number | _Column,
    mc_to: _Number | _Column,
) -> pd.Series[float] | Any:
    """Water that lumber gives off between two moisture contents; what it takes up is negative."""

@overload
def dehumidifier_pints(
    species: _Name,
    board_feet: _Number,
    mc_loss_per_day: _Number,
) -> float | Any:
    """Pints of water a day to take out of the room while the lumber dries at this rate."""

@overload
def dehumidifier_pints(
    species: _Name | _Cells,
    board_feet: _Number | _Cells,
    mc_loss_per_day: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Pints of water a day to take out of the room while the lumber dries at this rate."""

@overload
def dehumidifier_pints(
    species: _Name | _Column,
    board_feet: _Number | _Column,
    mc_loss_per_day: _Number | _Column,
) -> pd.Series[float] | Any:
    """Pints of water a day to take out of the room while the lumber dries at this rate."""

@overload
def floor_load(
    weight_lb: _Number,
    length_ft: _Number,
    width_ft: _Number,
) -> float | Any:
    """Weight over the footprint: a figure to take to a licensed engineer, never an approval."""

@overload
def floor_load(
    weight_lb: _Number | _Cells,
    length_ft: _Number | _Cells,
    width_ft: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Weight over the footprint: a figure to take to a licensed engineer, never an approval."""

@overload
def floor_load(
    weight_lb: _Number | _Column,
    length_ft: _Number | _Column,
    width_ft: _Number | _Column,
) -> pd.Series[float] | Any:
    """Weight over the footprint: a figure to take to a licensed engineer, never an approval."""

@overload
def emc(
    temp_f: _Number,
    rh_pct: _Number,
) -> float | Any:
    """Equilibrium moisture content: what wood comes to if this air stays."""

@overload
def emc(
    temp_f: _Number | _Cells,
    rh_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Equilibrium moisture content: what wood comes to if this air stays."""

@overload
def emc(
    temp_f: _Number | _Column,
    rh_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Equilibrium moisture content: what wood comes to if this air stays."""

@overload
def rh_for_emc(
    temp_f: _Number,
    emc_pct: _Number,
) -> float | Any:
    """Relative humidity that holds wood at an equilibrium moisture content."""

@overload
def rh_for_emc(
    temp_f: _Number | _Cells,
    emc_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Relative humidity that holds wood at an equilibrium moisture content."""

@overload
def rh_for_emc(
    temp_f: _Number | _Column,
    emc_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Relative humidity that holds wood at an equilibrium moisture content."""

@overload
def emc_wet_bulb(
    dry_bulb_f: _Number,
    wet_bulb_f: _Number,
    elevation_ft: _Number = 0,
) -> float | Any:
    """Equilibrium moisture content from a dry-bulb and a wet-bulb thermometer."""

@overload
def emc_wet_bulb(
    dry_bulb_f: _Number | _Cells,
    wet_bulb_f: _Number | _Cells,
    elevation_ft: _Number | _Cells = 0,
) -> NDArray[np.float64] | Any:
    """Equilibrium moisture content from a dry-bulb and a wet-bulb thermometer."""

@overload
def emc_wet_bulb(
    dry_bulb_f: _Number | _Column,
    wet_bulb_f: _Number | _Column,
    elevation_ft: _Number | _Column = 0,
) -> pd.Series[float] | Any:
    """Equilibrium moisture content from a dry-bulb and a wet-bulb thermometer."""

@overload
def dew_point(
    temp_f: _Number,
    rh_pct: _Number,
) -> float | Any:
    """Temperature at which this air begins to wet a surface."""

@overload
def dew_point(
    temp_f: _Number | _Cells,
    rh_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Temperature at which this air begins to wet a surface."""

@overload
def dew_point(
    temp_f: _Number | _Column,
    rh_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Temperature at which this air begins to wet a surface."""

@overload
def heated_rh(
    temp_f: _Number,
    rh_pct: _Number,
    room_temp_f: _Number,
) -> float | Any:
    """Relative humidity of outdoor air after it is warmed indoors and no water is added."""

@overload
def heated_rh(
    temp_f: _Number | _Cells,
    rh_pct: _Number | _Cells,
    room_temp_f: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Relative humidity of outdoor air after it is warmed indoors and no water is added."""

@overload
def heated_rh(
    temp_f: _Number | _Column,
    rh_pct: _Number | _Column,
    room_temp_f: _Number | _Column,
) -> pd.Series[float] | Any:
    """Relative humidity of outdoor air after it is warmed indoors and no water is added."""

def mean_emc(
    temps_f: _Number | _Column,
    rhs_pct: _Number | _Column,
) -> float | None:
    """Mean equilibrium moisture content over a record of temperature and humidity."""

@overload
def exit_rh(
    temp_f: _Number,
    rh_pct: _Number,
    water_lb_per_day: _Number,
    cfm: _Number,
) -> float | Any:
    """Relative humidity of the air where it leaves a stack that gives off water."""

@overload
def exit_rh(
    temp_f: _Number | _Cells,
    rh_pct: _Number | _Cells,
    water_lb_per_day: _Number | _Cells,
    cfm: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Relative humidity of the air where it leaves a stack that gives off water."""

@overload
def exit_rh(
    temp_f: _Number | _Column,
    rh_pct: _Number | _Column,
    water_lb_per_day: _Number | _Column,
    cfm: _Number | _Column,
) -> pd.Series[float] | Any:
    """Relative humidity of the air where it leaves a stack that gives off water."""

def mold_index(
    temps_f: _Number | _Column,
    rhs_pct: _Number | _Column,
    hours_per_row: _Number = 24,
    wood_class: _Name = "sensitive",
) -> float | None:
    """Risk of mold after a record of the air in the stack, from 0 (none) to 6 (all over)."""

@overload
def mc_by_weight(
    weight: _Number,
    ovendry_weight: _Number,
) -> float | Any:
    """Moisture content from a weight and the ovendry weight of the same piece."""

@overload
def mc_by_weight(
    weight: _Number | _Cells,
    ovendry_weight: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Moisture content from a weight and the ovendry weight of the same piece."""

@overload
def mc_by_weight(
    weight: _Number | _Column,
    ovendry_weight: _Number | _Column,
) -> pd.Series[float] | Any:
    """Moisture content from a weight and the ovendry weight of the same piece."""

@overload
def ovendry_weight(
    weight: _Number,
    mc_pct: _Number,
) -> float | Any:
    """Weight that a piece would have ovendry."""

@overload
def ovendry_weight(
    weight: _Number | _Cells,
    mc_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Weight that a piece would have ovendry."""

@overload
def ovendry_weight(
    weight: _Number | _Column,
    mc_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Weight that a piece would have ovendry."""

@overload
def weight_at_mc(
    ovendry_weight: _Number,
    mc_pct: _Number,
) -> float | Any:
    """Weight to wait for: what a piece weighs at a moisture content."""

@overload
def weight_at_mc(
    ovendry_weight: _Number | _Cells,
    mc_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Weight to wait for: what a piece weighs at a moisture content."""

@overload
def weight_at_mc(
    ovendry_weight: _Number | _Column,
    mc_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Weight to wait for: what a piece weighs at a moisture content."""

@overload
def mc_pin(
    reading_pct: _Number,
    species: _Name,
    wood_temp_f: _Number,
    calibration_temp_f: _Number = 70,
) -> float | Any:
    """Reading of a pin meter corrected for wood temperature, then for species."""

@overload
def mc_pin(
    reading_pct: _Number | _Cells,
    species: _Name | _Cells,
    wood_temp_f: _Number | _Cells,
    calibration_temp_f: _Number | _Cells = 70,
) -> NDArray[np.float64] | Any:
    """Reading of a pin meter corrected for wood temperature, then for species."""

@overload
def mc_pin(
    reading_pct: _Number | _Column,
    species: _Name | _Column,
    wood_temp_f: _Number | _Column,
    calibration_temp_f: _Number | _Column = 70,
) -> pd.Series[float] | Any:
    """Reading of a pin meter corrected for wood temperature, then for species."""

@overload
def mc_pinless(
    reading_pct: _Number,
    meter_sg: _Number,
    species: _Name,
) -> float | Any:
    """Reading of a pinless meter corrected for the density of the species."""

@overload
def mc_pinless(
    reading_pct: _Number | _Cells,
    meter_sg: _Number | _Cells,
    species: _Name | _Cells,
) -> NDArray[np.float64] | Any:
    """Reading of a pinless meter corrected for the density of the species."""

@overload
def mc_pinless(
    reading_pct: _Number | _Column,
    meter_sg: _Number | _Column,
    species: _Name | _Column,
) -> pd.Series[float] | Any:
    """Reading of a pinless meter corrected for the density of the species."""

@overload
def matches_dry_sample(
    reading: _Number,
    dry_reading: _Number,
    tolerance: _Number = 1,
) -> bool | Any:
    """Whether a meter reads the stack like a piece of the same wood known to be dry."""

@overload
def matches_dry_sample(
    reading: _Number | _Cells,
    dry_reading: _Number | _Cells,
    tolerance: _Number | _Cells = 1,
) -> NDArray[np.bool_] | Any:
    """Whether a meter reads the stack like a piece of the same wood known to be dry."""

@overload
def matches_dry_sample(
    reading: _Number | _Column,
    dry_reading: _Number | _Column,
    tolerance: _Number | _Column = 1,
) -> pd.Series[bool] | Any:
    """Whether a meter reads the stack like a piece of the same wood known to be dry."""

def mc_upper(
    readings: _Number | _Column,
    confidence_pct: _Number = 95,
    stacks: _Text | _Column = None,
    stack: _Text = "",
) -> float | None:
    """Upper bound of a lot's mean moisture content."""

def share_within(
    readings: _Number | _Column,
    target_pct: _Number,
    tolerance: _Number = 1,
    stacks: _Text | _Column = None,
    stack: _Text = "",
) -> float | None:
    """Share of the readings within a tolerance of the target."""

@overload
def samples_needed(
    sd_pct: _Number,
    margin_pct: _Number,
    confidence_pct: _Number = 95,
) -> float | Any:
    """Boards to read so that the lot's mean is known within a margin."""

@overload
def samples_needed(
    sd_pct: _Number | _Cells,
    margin_pct: _Number | _Cells,
    confidence_pct: _Number | _Cells = 95,
) -> NDArray[np.float64] | Any:
    """Boards to read so that the lot's mean is known within a margin."""

@overload
def samples_needed(
    sd_pct: _Number | _Column,
    margin_pct: _Number | _Column,
    confidence_pct: _Number | _Column = 95,
) -> pd.Series[float] | Any:
    """Boards to read so that the lot's mean is known within a margin."""

def readiness(
    readings: _Number | _Column,
    target_pct: _Number,
    tolerance: _Number = 1,
    confidence_pct: _Number = 95,
    stacks: _Text | _Column = None,
    stack: _Text = "",
) -> str | None:
    """Whether a stack is ready by its readings."""

@overload
def shrinkage(
    species: _Name,
    direction: _Name,
    mc_from: _Number,
    mc_to: _Number,
) -> float | Any:
    """Shrinkage between two moisture contents; swelling is negative."""

@overload
def shrinkage(
    species: _Name | _Cells,
    direction: _Name | _Cells,
    mc_from: _Number | _Cells,
    mc_to: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Shrinkage between two moisture contents; swelling is negative."""

@overload
def shrinkage(
    species: _Name | _Column,
    direction: _Name | _Column,
    mc_from: _Number | _Column,
    mc_to: _Number | _Column,
) -> pd.Series[float] | Any:
    """Shrinkage between two moisture contents; swelling is negative."""

@overload
def size_at_mc(
    size: _Number,
    species: _Name,
    direction: _Name,
    mc_from: _Number,
    mc_to: _Number,
) -> float | Any:
    """Size of a piece at another moisture content."""

@overload
def size_at_mc(
    size: _Number | _Cells,
    species: _Name | _Cells,
    direction: _Name | _Cells,
    mc_from: _Number | _Cells,
    mc_to: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Size of a piece at another moisture content."""

@overload
def size_at_mc(
    size: _Number | _Column,
    species: _Name | _Column,
    direction: _Name | _Column,
    mc_from: _Number | _Column,
    mc_to: _Number | _Column,
) -> pd.Series[float] | Any:
    """Size of a piece at another moisture content."""

@overload
def sawn_size(
    finished_size: _Number,
    species: _Name,
    direction: _Name,
    mc_green: _Number,
    mc_final: _Number,
    allowance: _Number = 0,
) -> float | Any:
    """What to saw, so that the finished size and an allowance are left when dry."""

@overload
def sawn_size(
    finished_size: _Number | _Cells,
    species: _Name | _Cells,
    direction: _Name | _Cells,
    mc_green: _Number | _Cells,
    mc_final: _Number | _Cells,
    allowance: _Number | _Cells = 0,
) -> NDArray[np.float64] | Any:
    """What to saw, so that the finished size and an allowance are left when dry."""

@overload
def sawn_size(
    finished_size: _Number | _Column,
    species: _Name | _Column,
    direction: _Name | _Column,
    mc_green: _Number | _Column,
    mc_final: _Number | _Column,
    allowance: _Number | _Column = 0,
) -> pd.Series[float] | Any:
    """What to saw, so that the finished size and an allowance are left when dry."""

@overload
def width_movement(
    width_in: _Number,
    species: _Name,
    direction: _Name,
    mc_from: _Number,
    mc_to: _Number,
) -> float | Any:
    """Movement of a board's width in service; swelling is positive."""

@overload
def width_movement(
    width_in: _Number | _Cells,
    species: _Name | _Cells,
    direction: _Name | _Cells,
    mc_from: _Number | _Cells,
    mc_to: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Movement of a board's width in service; swelling is positive."""

@overload
def width_movement(
    width_in: _Number | _Column,
    species: _Name | _Column,
    direction: _Name | _Column,
    mc_from: _Number | _Column,
    mc_to: _Number | _Column,
) -> pd.Series[float] | Any:
    """Movement of a board's width in service; swelling is positive."""

@overload
def stack_factor(
    setting: _Name,
) -> float | Any:
    """Factor for the air flow through a stack, until weighings give its rate."""

@overload
def stack_factor(
    setting: _Name | _Cells,
) -> NDArray[np.float64] | Any:
    """Factor for the air flow through a stack, until weighings give its rate."""

@overload
def stack_factor(
    setting: _Name | _Column,
) -> pd.Series[float] | Any:
    """Factor for the air flow through a stack, until weighings give its rate."""

@overload
def drying_days(
    species: _Name,
    thickness_in: _Number,
    green_mc: _Number,
    target_mc: _Number,
    temp_f: _Number,
    rh_pct: _Number,
    stack_factor: _Number = 1,
    rate: _Number = 1,
) -> float | Any:
    """Days to dry in air that stays the same."""

@overload
def drying_days(
    species: _Name | _Cells,
    thickness_in: _Number | _Cells,
    green_mc: _Number | _Cells,
    target_mc: _Number | _Cells,
    temp_f: _Number | _Cells,
    rh_pct: _Number | _Cells,
    stack_factor: _Number | _Cells = 1,
    rate: _Number | _Cells = 1,
) -> NDArray[np.float64] | Any:
    """Days to dry in air that stays the same."""

@overload
def drying_days(
    species: _Name | _Column,
    thickness_in: _Number | _Column,
    green_mc: _Number | _Column,
    target_mc: _Number | _Column,
    temp_f: _Number | _Column,
    rh_pct: _Number | _Column,
    stack_factor: _Number | _Column = 1,
    rate: _Number | _Column = 1,
) -> pd.Series[float] | Any:
    """Days to dry in air that stays the same."""

@overload
def mc_forecast(
    species: _Name,
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
    band: _Name = "likely",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> float | Any:
    """Moisture content on a date."""

@overload
def mc_forecast(
    species: _Name | _Cells,
    thickness_in: _Number | _Cells,
    green_mc: _Number | _Cells,
    start_date: _Date | _Cells,
    forecast_date: _Date | _Cells,
    climate: _Table,
    stack_factor: _Number | _Cells = 1,
    rate: _Number | _Cells = 1,
    from_date: _Date | _Cells = None,
    from_mc: _Number | _Cells = None,
    place: _Text | _Cells = "",
    rate_spread: _Number | _Cells = None,
    band: _Name | _Cells = "likely",
    move_date: _Date | _Cells = None,
    move_place: _Text | _Cells = "",
    move_factor: _Number | _Cells = None,
) -> NDArray[np.float64] | Any:
    """Moisture content on a date."""

@overload
def mc_forecast(
    species: _Name | _Column,
    thickness_in: _Number | _Column,
    green_mc: _Number | _Column,
    start_date: _Date | _Column,
    forecast_date: _Date | _Column,
    climate: _Table,
    stack_factor: _Number | _Column = 1,
    rate: _Number | _Column = 1,
    from_date: _Date | _Column = None,
    from_mc: _Number | _Column = None,
    place: _Text | _Column = "",
    rate_spread: _Number | _Column = None,
    band: _Name | _Column = "likely",
    move_date: _Date | _Column = None,
    move_place: _Text | _Column = "",
    move_factor: _Number | _Column = None,
) -> pd.Series[float] | Any:
    """Moisture content on a date."""

@overload
def ready_date(
    species: _Name,
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
    band: _Name = "likely",
    place: _Text = "",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> date | Any:
    """First day on which the target is reached: early, likely or late."""

@overload
def ready_date(
    species: _Name | _Cells,
    thickness_in: _Number | _Cells,
    green_mc: _Number | _Cells,
    start_date: _Date | _Cells,
    target_mc: _Number | _Cells,
    climate: _Table,
    stack_factor: _Number | _Cells = 1,
    rate: _Number | _Cells = 1,
    rate_spread: _Number | _Cells = None,
    from_date: _Date | _Cells = None,
    from_mc: _Number | _Cells = None,
    band: _Name | _Cells = "likely",
    place: _Text | _Cells = "",
    move_date: _Date | _Cells = None,
    move_place: _Text | _Cells = "",
    move_factor: _Number | _Cells = None,
) -> NDArray[np.datetime64] | Any:
    """First day on which the target is reached: early, likely or late."""

@overload
def ready_date(
    species: _Name | _Column,
    thickness_in: _Number | _Column,
    green_mc: _Number | _Column,
    start_date: _Date | _Column,
    target_mc: _Number | _Column,
    climate: _Table,
    stack_factor: _Number | _Column = 1,
    rate: _Number | _Column = 1,
    rate_spread: _Number | _Column = None,
    from_date: _Date | _Column = None,
    from_mc: _Number | _Column = None,
    band: _Name | _Column = "likely",
    place: _Text | _Column = "",
    move_date: _Date | _Column = None,
    move_place: _Text | _Column = "",
    move_factor: _Number | _Column = None,
) -> pd.Series[pd.Timestamp] | Any:
    """First day on which the target is reached: early, likely or late."""

def drying_curve(
    species: _Name,
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

@overload
def safe_rate(
    species: _Name,
    thickness_in: _Number,
) -> float | Any:
    """Loss of moisture content a day above which checking is likely, while the wood is wet."""

@overload
def safe_rate(
    species: _Name | _Cells,
    thickness_in: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Loss of moisture content a day above which checking is likely, while the wood is wet."""

@overload
def safe_rate(
    species: _Name | _Column,
    thickness_in: _Number | _Column,
) -> pd.Series[float] | Any:
    """Loss of moisture content a day above which checking is likely, while the wood is wet."""

def move_plan(
    species: _Name,
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
    dates: _Date | _Column,
    mcs: _Number | _Column,
    species: _Name,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    climate: _Table,
    stack_factor: _Number = 1,
    boards: _Text | _Column = None,
    place: _Text = "",
    stacks: _Text | _Column = None,
    stack: _Text = "",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> float | None:
    """Rate k of a stack against the forecast, fitted to the weighings of its sample boards."""

def rate_spread(
    dates: _Date | _Column,
    mcs: _Number | _Column,
    species: _Name,
    thickness_in: _Number,
    green_mc: _Number,
    start_date: _Date,
    climate: _Table,
    stack_factor: _Number = 1,
    boards: _Text | _Column = None,
    place: _Text = "",
    stacks: _Text | _Column = None,
    stack: _Text = "",
    move_date: _Date = None,
    move_place: _Text = "",
    move_factor: _Number = None,
) -> float | None:
    """How sure the rate k is: one standard deviation of ln k."""

@overload
def stickers(
    length_ft: _Number,
    spacing_in: _Number = 16,
) -> float | Any:
    """Stickers under one layer, one at each end."""

@overload
def stickers(
    length_ft: _Number | _Cells,
    spacing_in: _Number | _Cells = 16,
) -> NDArray[np.float64] | Any:
    """Stickers under one layer, one at each end."""

@overload
def stickers(
    length_ft: _Number | _Column,
    spacing_in: _Number | _Column = 16,
) -> pd.Series[float] | Any:
    """Stickers under one layer, one at each end."""

@overload
def stack_layers(
    height_in: _Number,
    thickness_in: _Number,
    sticker_in: _Number,
    base_in: _Number = 0,
) -> float | Any:
    """Whole layers that fit under a height."""

@overload
def stack_layers(
    height_in: _Number | _Cells,
    thickness_in: _Number | _Cells,
    sticker_in: _Number | _Cells,
    base_in: _Number | _Cells = 0,
) -> NDArray[np.float64] | Any:
    """Whole layers that fit under a height."""

@overload
def stack_layers(
    height_in: _Number | _Column,
    thickness_in: _Number | _Column,
    sticker_in: _Number | _Column,
    base_in: _Number | _Column = 0,
) -> pd.Series[float] | Any:
    """Whole layers that fit under a height."""

@overload
def stack_height(
    layers: _Number,
    thickness_in: _Number,
    sticker_in: _Number,
    base_in: _Number = 0,
) -> float | Any:
    """Height of a stack from the ground to its top boards."""

@overload
def stack_height(
    layers: _Number | _Cells,
    thickness_in: _Number | _Cells,
    sticker_in: _Number | _Cells,
    base_in: _Number | _Cells = 0,
) -> NDArray[np.float64] | Any:
    """Height of a stack from the ground to its top boards."""

@overload
def stack_height(
    layers: _Number | _Column,
    thickness_in: _Number | _Column,
    sticker_in: _Number | _Column,
    base_in: _Number | _Column = 0,
) -> pd.Series[float] | Any:
    """Height of a stack from the ground to its top boards."""

@overload
def stack_board_feet(
    layers: _Number,
    width_ft: _Number,
    length_ft: _Number,
    thickness_in: _Number,
    fill_pct: _Number = 90,
) -> float | Any:
    """Board feet in a stack by its size, until the boards are tallied."""

@overload
def stack_board_feet(
    layers: _Number | _Cells,
    width_ft: _Number | _Cells,
    length_ft: _Number | _Cells,
    thickness_in: _Number | _Cells,
    fill_pct: _Number | _Cells = 90,
) -> NDArray[np.float64] | Any:
    """Board feet in a stack by its size, until the boards are tallied."""

@overload
def stack_board_feet(
    layers: _Number | _Column,
    width_ft: _Number | _Column,
    length_ft: _Number | _Column,
    thickness_in: _Number | _Column,
    fill_pct: _Number | _Column = 90,
) -> pd.Series[float] | Any:
    """Board feet in a stack by its size, until the boards are tallied."""

@overload
def fan_cfm(
    layers: _Number,
    sticker_in: _Number,
    length_ft: _Number,
    velocity_fpm: _Number,
) -> float | Any:
    """Air through the gaps of a stack at a speed; what goes around the stack comes on top."""

@overload
def fan_cfm(
    layers: _Number | _Cells,
    sticker_in: _Number | _Cells,
    length_ft: _Number | _Cells,
    velocity_fpm: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Air through the gaps of a stack at a speed; what goes around the stack comes on top."""

@overload
def fan_cfm(
    layers: _Number | _Column,
    sticker_in: _Number | _Column,
    length_ft: _Number | _Column,
    velocity_fpm: _Number | _Column,
) -> pd.Series[float] | Any:
    """Air through the gaps of a stack at a speed; what goes around the stack comes on top."""

@overload
def top_weight(
    length_ft: _Number,
    width_ft: _Number,
    psf: _Number = 50,
) -> float | Any:
    """Weight to lay on a stack so that its upper layers stay flat."""

@overload
def top_weight(
    length_ft: _Number | _Cells,
    width_ft: _Number | _Cells,
    psf: _Number | _Cells = 50,
) -> NDArray[np.float64] | Any:
    """Weight to lay on a stack so that its upper layers stay flat."""

@overload
def top_weight(
    length_ft: _Number | _Column,
    width_ft: _Number | _Column,
    psf: _Number | _Column = 50,
) -> pd.Series[float] | Any:
    """Weight to lay on a stack so that its upper layers stay flat."""

@overload
def sticker_advice(
    stack_width_ft: _Number,
    sticker_in: _Number,
    fan: _Flag,
) -> str | Any:
    """What common practice has on sticker thickness and on the width of a stack."""

@overload
def sticker_advice(
    stack_width_ft: _Number | _Cells,
    sticker_in: _Number | _Cells,
    fan: _Flag | _Cells,
) -> NDArray[np.object_] | Any:
    """What common practice has on sticker thickness and on the width of a stack."""

@overload
def sticker_advice(
    stack_width_ft: _Number | _Column,
    sticker_in: _Number | _Column,
    fan: _Flag | _Column,
) -> pd.Series[str] | Any:
    """What common practice has on sticker thickness and on the width of a stack."""

def heat_treated(
    minutes: _Number | _Column,
    core_temps_f: _Number | _Column,
    charges: _Text | _Column = None,
    charge: _Text = "",
) -> bool | None:
    """Whether the core stayed at 132.8 deg F (56 deg C) for 30 minutes without a break."""

@overload
def cost_per_bf(
    total_cost: _Number,
    green_bf: _Number,
    shrink_pct: _Number,
    degrade_pct: _Number,
) -> float | Any:
    """Cost of a dry, saleable board foot."""

@overload
def cost_per_bf(
    total_cost: _Number | _Cells,
    green_bf: _Number | _Cells,
    shrink_pct: _Number | _Cells,
    degrade_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Cost of a dry, saleable board foot."""

@overload
def cost_per_bf(
    total_cost: _Number | _Column,
    green_bf: _Number | _Column,
    shrink_pct: _Number | _Column,
    degrade_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Cost of a dry, saleable board foot."""

@overload
def price_for_margin(
    cost: _Number,
    margin_pct: _Number,
) -> float | Any:
    """Price of which a share is margin."""

@overload
def price_for_margin(
    cost: _Number | _Cells,
    margin_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Price of which a share is margin."""

@overload
def price_for_margin(
    cost: _Number | _Column,
    margin_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Price of which a share is margin."""

@overload
def carrying_cost(
    value: _Number,
    annual_pct: _Number,
    days: _Number,
) -> float | Any:
    """Cost of waiting: interest on money tied up."""

@overload
def carrying_cost(
    value: _Number | _Cells,
    annual_pct: _Number | _Cells,
    days: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Cost of waiting: interest on money tied up."""

@overload
def carrying_cost(
    value: _Number | _Column,
    annual_pct: _Number | _Column,
    days: _Number | _Column,
) -> pd.Series[float] | Any:
    """Cost of waiting: interest on money tied up."""

@overload
def line_total(
    board_feet: _Number,
    price_per_bf: _Number,
    discount_pct: _Number = 0,
) -> float | Any:
    """Total of a line of a quote or invoice, to the cent."""

@overload
def line_total(
    board_feet: _Number | _Cells,
    price_per_bf: _Number | _Cells,
    discount_pct: _Number | _Cells = 0,
) -> NDArray[np.float64] | Any:
    """Total of a line of a quote or invoice, to the cent."""

@overload
def line_total(
    board_feet: _Number | _Column,
    price_per_bf: _Number | _Column,
    discount_pct: _Number | _Column = 0,
) -> pd.Series[float] | Any:
    """Total of a line of a quote or invoice, to the cent."""

@overload
def sales_tax(
    amount: _Number,
    tax_pct: _Number,
) -> float | Any:
    """Sales tax on an amount, to the cent."""

@overload
def sales_tax(
    amount: _Number | _Cells,
    tax_pct: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Sales tax on an amount, to the cent."""

@overload
def sales_tax(
    amount: _Number | _Column,
    tax_pct: _Number | _Column,
) -> pd.Series[float] | Any:
    """Sales tax on an amount, to the cent."""

def slab_area(
    widths_in: _Number | _Column,
    length_ft: _Number,
) -> float | None:
    """Area of a live-edge slab: the mean of its widths times its length."""

def mc_statement(
    readings: _Number | _Column,
    reading_date: _Date,
    method: _Text = "",
    dates: _Date | _Column = None,
    stacks: _Text | _Column = None,
    stack: _Text = "",
) -> str | None:
    """One line for the invoice on the moisture content: mean, range, count, method and date."""

@overload
def movement_line(
    width_in: _Number,
    species: _Name,
    mc_from: _Number,
    mc_to: _Number,
) -> str | Any:
    """One line for the invoice on how much a board's width moves in the buyer's place."""

@overload
def movement_line(
    width_in: _Number | _Cells,
    species: _Name | _Cells,
    mc_from: _Number | _Cells,
    mc_to: _Number | _Cells,
) -> NDArray[np.object_] | Any:
    """One line for the invoice on how much a board's width moves in the buyer's place."""

@overload
def movement_line(
    width_in: _Number | _Column,
    species: _Name | _Column,
    mc_from: _Number | _Column,
    mc_to: _Number | _Column,
) -> pd.Series[str] | Any:
    """One line for the invoice on how much a board's width moves in the buyer's place."""

@overload
def dehumidifier_kwh(
    water_lb: _Number,
    litres_per_kwh: _Number,
) -> float | Any:
    """Electricity that a dehumidifier takes to remove this water."""

@overload
def dehumidifier_kwh(
    water_lb: _Number | _Cells,
    litres_per_kwh: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Electricity that a dehumidifier takes to remove this water."""

@overload
def dehumidifier_kwh(
    water_lb: _Number | _Column,
    litres_per_kwh: _Number | _Column,
) -> pd.Series[float] | Any:
    """Electricity that a dehumidifier takes to remove this water."""

@overload
def fan_kwh(
    watts: _Number,
    hours: _Number,
) -> float | Any:
    """Electricity of a fan, or of any machine of steady power."""

@overload
def fan_kwh(
    watts: _Number | _Cells,
    hours: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Electricity of a fan, or of any machine of steady power."""

@overload
def fan_kwh(
    watts: _Number | _Column,
    hours: _Number | _Column,
) -> pd.Series[float] | Any:
    """Electricity of a fan, or of any machine of steady power."""

@overload
def space_cost(
    area_ft2: _Number,
    rent_per_month: _Number,
    days: _Number,
) -> float | Any:
    """Cost of the floor that lumber stands on, by the day."""

@overload
def space_cost(
    area_ft2: _Number | _Cells,
    rent_per_month: _Number | _Cells,
    days: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Cost of the floor that lumber stands on, by the day."""

@overload
def space_cost(
    area_ft2: _Number | _Column,
    rent_per_month: _Number | _Column,
    days: _Number | _Column,
) -> pd.Series[float] | Any:
    """Cost of the floor that lumber stands on, by the day."""

@overload
def shrink_so_far(
    shrink_pct: _Number,
    mc_pct: _Number,
    target_mc: _Number,
) -> float | Any:
    """Footage lost to shrinkage so far, of the loss from green to the target."""

@overload
def shrink_so_far(
    shrink_pct: _Number | _Cells,
    mc_pct: _Number | _Cells,
    target_mc: _Number | _Cells,
) -> NDArray[np.float64] | Any:
    """Footage lost to shrinkage so far, of the loss from green to the target."""

@overload
def shrink_so_far(
    shrink_pct: _Number | _Column,
    mc_pct: _Number | _Column,
    target_mc: _Number | _Column,
) -> pd.Series[float] | Any:
    """Footage lost to shrinkage so far, of the loss from green to the target."""

@overload
def species_value(
    species: _Name,
    figure: _Name,
) -> float | Any:
    """A figure of the species table."""

@overload
def species_value(
    species: _Name | _Cells,
    figure: _Name | _Cells,
) -> NDArray[np.float64] | Any:
    """A figure of the species table."""

@overload
def species_value(
    species: _Name | _Column,
    figure: _Name | _Column,
) -> pd.Series[float] | Any:
    """A figure of the species table."""

@overload
def species_source(
    species: _Name,
    figure: _Name,
) -> str | Any:
    """The publication that a figure is from, and whether it was read there or is from memory."""

@overload
def species_source(
    species: _Name | _Cells,
    figure: _Name | _Cells,
) -> NDArray[np.object_] | Any:
    """The publication that a figure is from, and whether it was read there or is from memory."""

@overload
def species_source(
    species: _Name | _Column,
    figure: _Name | _Column,
) -> pd.Series[str] | Any:
    """The publication that a figure is from, and whether it was read there or is from memory."""

def problem(
    name: _Text | _Column,
    *arguments: Any,
) -> str | Any:
    """What is wrong with the arguments of another function, in words."""

def lumbercalc_version() -> str:
    """The version of lumbercalc that answers."""
