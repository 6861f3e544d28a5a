"""Air: equilibrium moisture content, and the moist air that sets it."""

from collections.abc import Callable

import numpy as np
import psychrolib  # type: ignore[import-untyped]
from numpy.typing import ArrayLike, NDArray


def emc(temp_f: ArrayLike, rh_pct: ArrayLike) -> NDArray[np.float64]:
    """Equilibrium moisture content of wood in steady air.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Air temperature.
    rh_pct : array_like of float [% RH]
        Relative humidity.

    Returns
    -------
    ndarray of float [% MC]
        Moisture content that wood comes to in this air, ovendry basis.

    Notes
    -----
    Serves for any species. The published table begins at 30 deg F; below that the equation is
    extrapolated. It covers 5 to 95 % RH.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, in the deg C form of Simpson, FPL-RN-0268 (1998).

    Examples
    --------
    >>> print(emc([70, 70], [50, 65]).round(1))
    [ 9.2 12. ]
    """
    t = (np.asarray(temp_f, dtype=np.float64) - 32) / 1.8
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * np.asarray(rh_pct, dtype=np.float64) / 100
    hydrate = k1 * kh
    dihydrate = k1 * k2 * kh**2
    percent: NDArray[np.float64] = (1800 / w) * (
        kh / (1 - kh) + (hydrate + 2 * dihydrate) / (1 + hydrate + dihydrate)
    )
    return percent


def rh_for_emc(temp_f: ArrayLike, emc_pct: ArrayLike) -> NDArray[np.float64]:
    """Relative humidity that holds wood at a moisture content.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Air temperature.
    emc_pct : array_like of float [% MC]
        Equilibrium moisture content wanted.

    Returns
    -------
    ndarray of float [% RH]
        Relative humidity; NaN where even saturated air gives less than `emc_pct`.

    References
    ----------
    Inverse of Wood Handbook, FPL-GTR-190 (2010), eq. 4-5.

    Examples
    --------
    >>> print(rh_for_emc(70, [6, 9.25, 40]).round(0))
    [29. 50. nan]
    """
    # Here rather than at the top: SciPy's optimizers would slow every start-up for one function.
    from scipy.optimize import elementwise

    def above_wanted(
        rh: NDArray[np.float64], temp: NDArray[np.float64], wanted: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        return emc(temp, rh) - wanted

    columns = np.broadcast_arrays(
        np.asarray(temp_f, dtype=np.float64), np.asarray(emc_pct, dtype=np.float64)
    )
    solution = elementwise.find_root(above_wanted, (0.0, 100.0), args=columns)
    return np.where(solution.success, solution.x, np.nan)


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
    return emc(dry_bulb_f, _by_psychrolib(_wet_bulb_rh, dry_bulb_f, wet_bulb_f, elevation_ft))


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
    return _by_psychrolib(_dew_point, temp_f, rh_pct)


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
    outside = _by_psychrolib(psychrolib.GetSatVapPres, temp_f)
    inside = _by_psychrolib(psychrolib.GetSatVapPres, room_temp_f)
    percent = np.asarray(rh_pct, dtype=np.float64) * outside / inside
    return np.minimum(percent, 100.0)


def mean_emc(temps_f: ArrayLike, rhs_pct: ArrayLike) -> float:
    """Equilibrium moisture content over a record of the air, each row weighing the same.

    Parameters
    ----------
    temps_f : array_like of float, shape (n,) [deg F]
        Air temperatures.
    rhs_pct : array_like of float, shape (n,) [% RH]
        Relative humidities.

    Returns
    -------
    float [% MC]
        Mean of the rows' equilibrium moisture contents, which is not that of the mean air.

    Examples
    --------
    >>> round(mean_emc([70, 70], [30, 90]), 1)
    13.3
    """
    return float(np.mean(emc(temps_f, rhs_pct)))


def _by_psychrolib(formula: Callable[..., float], *columns: ArrayLike) -> NDArray[np.float64]:
    """Apply a PsychroLib formula, which takes one number at a time, row by row in deg F and psi.

    PsychroLib keeps its unit system as a global of the process: it is set here for the length of
    one call, and put back, because other code of the same process may be working in SI.
    """

    def one_row(*row: float) -> float:
        try:
            return formula(*row)
        except ValueError:  # PsychroLib's way to say that no air is like that
            return np.nan

    before = psychrolib.GetUnitSystem()
    psychrolib.SetUnitSystem(psychrolib.IP)
    try:
        rows: NDArray[np.float64] = np.vectorize(one_row, otypes=[np.float64])(*columns)
    finally:
        if before is not None:
            psychrolib.SetUnitSystem(before)
    return rows


def _wet_bulb_rh(dry_bulb_f: float, wet_bulb_f: float, elevation_ft: float) -> float:
    pressure = psychrolib.GetStandardAtmPressure(elevation_ft)
    water = psychrolib.GetHumRatioFromTWetBulb(dry_bulb_f, wet_bulb_f, pressure)
    if water <= psychrolib.MIN_HUM_RATIO:  # its floor, where the formula itself falls below zero
        return np.nan
    return 100 * float(psychrolib.GetRelHumFromHumRatio(dry_bulb_f, water, pressure))


def _dew_point(temp_f: float, rh_pct: float) -> float:
    return float(psychrolib.GetTDewPointFromRelHum(temp_f, rh_pct / 100))
