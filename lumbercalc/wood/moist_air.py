"""Moist air: humidity, dew point and wet bulb, by PsychroLib."""

from collections.abc import Callable
from threading import Lock

import numpy as np
import psychrolib  # type: ignore[import-untyped]
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.air import emc

MINUTES_PER_DAY = 1440.0
SEA_LEVEL_FT = 0.0
COLDEST_F = -148.0
"""Where PsychroLib's saturation pressure ends; air that cold is long saturated [deg F]."""

_ONE_AT_A_TIME = Lock()
"""Threads would change PsychroLib's unit system under each other."""


def emc_wet_bulb(
    dry_bulb_f: ArrayLike, wet_bulb_f: ArrayLike, elevation_ft: ArrayLike = 0
) -> NDArray[np.float64]:
    """Equilibrium moisture content from a wet-bulb and a dry-bulb thermometer.

    Parameters
    ----------
    dry_bulb_f : array_like of float [deg F]
        Dry-bulb temperature.
    wet_bulb_f : array_like of float [deg F]
        Wet-bulb temperature, in moving air.
    elevation_ft : array_like of float [ft], optional
        Height above sea level; sets the standard air pressure.

    Returns
    -------
    ndarray of float [% MC]
        Equilibrium moisture content; NaN where the wet bulb is above the dry bulb, or lower than
        it can be in air without any water.

    Notes
    -----
    For the ideal wet bulb. Printed tables for a ventilated thermometer show up to 1 % RH less.

    References
    ----------
    ASHRAE Handbook - Fundamentals (2017), ch. 1, by PsychroLib; Wood Handbook, FPL-GTR-190
    (2010), eq. 4-5.

    Examples
    --------
    >>> print(emc_wet_bulb(90, [78, 90, 95]).round(1))
    [10.4 28.2  nan]
    """
    return emc(dry_bulb_f, _row_by_row(_wet_bulb_rh, dry_bulb_f, wet_bulb_f, elevation_ft))


def dew_point(temp_f: ArrayLike, rh_pct: ArrayLike) -> NDArray[np.float64]:
    """Temperature at which this air begins to leave water on what it touches.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Air temperature.
    rh_pct : array_like of float [% RH]
        Relative humidity.

    Returns
    -------
    ndarray of float [deg F]
        Dew point; NaN for air without any water.

    References
    ----------
    ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 5 and 6, by PsychroLib.

    Examples
    --------
    >>> print(dew_point(70, [30, 50, 100]).round(1))
    [37.2 50.5 70. ]
    """
    return _row_by_row(_dew_point, temp_f, rh_pct)


def heated_rh(temp_f: ArrayLike, rh_pct: ArrayLike, room_temp_f: ArrayLike) -> NDArray[np.float64]:
    """Relative humidity of air brought to room temperature with no water added.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Temperature of the air outside.
    rh_pct : array_like of float [% RH]
        Relative humidity of the air outside.
    room_temp_f : array_like of float [deg F]
        Temperature the air is brought to.

    Returns
    -------
    ndarray of float [% RH]
        Relative humidity in the room. Air cooled past its dew point sheds water and stays at 100.

    References
    ----------
    ASHRAE Handbook - Fundamentals (2017), ch. 1, eq. 5, 6 and 12, by PsychroLib.

    Examples
    --------
    >>> print(heated_rh(20, 80, [20, 50, 70]).round(1))
    [80.  22.7 11.1]
    """
    outside = _row_by_row(_saturation_pressure, temp_f)
    inside = _row_by_row(_saturation_pressure, room_temp_f)
    percent = np.asarray(rh_pct, dtype=np.float64) * outside / inside
    return np.minimum(percent, 100.0)


def exit_rh(
    temp_f: ArrayLike, rh_pct: ArrayLike, water_lb_per_day: ArrayLike, cfm: ArrayLike
) -> NDArray[np.float64]:
    """Relative humidity of the air where it leaves a stack.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Temperature of the air that enters.
    rh_pct : array_like of float [% RH]
        Relative humidity of the air that enters.
    water_lb_per_day : array_like of float [lb per day]
        Water that the lumber gives off.
    cfm : array_like of float [ft3/min]
        Air that enters the stack.

    Returns
    -------
    ndarray of float [% RH]
        At most 100: from there on the air cannot carry the water, and the lumber cannot dry as
        fast as that.

    Notes
    -----
    The lumber's water goes into the air, whose heat evaporates it: the air leaves damper and
    cooler, at the wet-bulb temperature with which it came. Sun, a heater or warm lumber would
    warm it; none is counted. Nor is what it takes to melt ice: from frozen lumber the air leaves
    damper by a point or two. At sea level.

    References
    ----------
    Balance of dry air, water and heat; ASHRAE Handbook - Fundamentals (2017), ch. 1, by
    PsychroLib.

    Examples
    --------
    >>> print(exit_rh(70, 60, [0, 49, 490], 500).round(1))
    [ 60.   75.6 100. ]
    """
    return _row_by_row(_exit_rh, temp_f, rh_pct, water_lb_per_day, cfm)


def _row_by_row(formula: Callable[..., float], *columns: ArrayLike) -> NDArray[np.float64]:
    """Apply a formula made of PsychroLib's, which take one number at a time.

    PsychroLib keeps its unit system as a global of the process: it is set here for the length of
    one call, and put back, because other code of the same process may be working in SI. A row
    takes 10 to 40 us; a logger's rows are in tenths and come again: each is computed once.

    Parameters
    ----------
    formula : callable
        Takes one number of each column, in US units.
    *columns : array_like of float
        Columns that broadcast.

    Returns
    -------
    ndarray of float [unit of the formula]
        NaN in the rows for which PsychroLib says that no air is like that.
    """

    def one_row(*row: float) -> float:
        try:
            return formula(*row)
        except ValueError:
            return np.nan

    arrays = np.broadcast_arrays(*columns)
    rows = list(zip(*(array.ravel().tolist() for array in arrays), strict=True))
    with _ONE_AT_A_TIME:
        # Where Numba is installed, PsychroLib 2.5.0 compiles its functions: GetUnitSystem then
        # crashes Python, and SetUnitSystem puts new ones in their place, in a second.
        before = psychrolib.PSYCHROLIB_UNITS
        if before != psychrolib.IP:
            psychrolib.SetUnitSystem(psychrolib.IP)
        try:
            found = {row: one_row(*row) for row in set(rows)}
        finally:
            if before not in (None, psychrolib.IP):
                psychrolib.SetUnitSystem(before)
    return np.array([found[row] for row in rows], np.float64).reshape(arrays[0].shape)


def _saturation_pressure(temp_f: float) -> float:
    return float(psychrolib.GetSatVapPres(temp_f))


def _wet_bulb_rh(dry_bulb_f: float, wet_bulb_f: float, elevation_ft: float) -> float:
    pressure = psychrolib.GetStandardAtmPressure(elevation_ft)
    water = psychrolib.GetHumRatioFromTWetBulb(dry_bulb_f, wet_bulb_f, pressure)
    if water <= psychrolib.MIN_HUM_RATIO:  # its floor, where the formula itself falls below zero
        return np.nan
    return 100 * float(psychrolib.GetRelHumFromHumRatio(dry_bulb_f, water, pressure))


def _dew_point(temp_f: float, rh_pct: float) -> float:
    return float(psychrolib.GetTDewPointFromRelHum(temp_f, rh_pct / 100))


def _exit_rh(temp_f: float, rh_pct: float, water_lb_per_day: float, cfm: float) -> float:
    pressure = psychrolib.GetStandardAtmPressure(SEA_LEVEL_FT)
    entering = psychrolib.GetHumRatioFromRelHum(temp_f, rh_pct / 100, pressure)
    ft3_per_lb = psychrolib.GetMoistAirVolume(temp_f, entering, pressure)
    taken_up = water_lb_per_day / (MINUTES_PER_DAY * cfm / ft3_per_lb)
    leaving = entering + taken_up
    wet_bulb = psychrolib.GetTWetBulbFromHumRatio(temp_f, entering, pressure)
    # The water that wood holds in its cell walls does not freeze: it is liquid below 32 deg F too.
    heat = psychrolib.GetMoistAirEnthalpy(temp_f, entering) + taken_up * (wet_bulb - 32)
    cooled = psychrolib.GetTDryBulbFromEnthalpyAndHumRatio(heat, leaving)
    if cooled < COLDEST_F:
        return 100.0
    # in this order, as min takes the first of two that cannot be compared: NaN stays NaN
    return min(100 * float(psychrolib.GetRelHumFromHumRatio(cooled, leaving, pressure)), 100.0)
