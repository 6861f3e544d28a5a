"""Air: the equilibrium moisture content that wood comes to in it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats


def celsius(temp_f: ArrayLike) -> NDArray[np.float64]:
    """Temperature in degrees Celsius.

    Parameters
    ----------
    temp_f : array_like of float [deg F]
        Temperature.

    Returns
    -------
    ndarray of float [deg C]
        The same temperature.

    Examples
    --------
    >>> print(celsius([14, 32, 212]))
    [-10.   0. 100.]
    """
    degrees: NDArray[np.float64] = (np.asarray(temp_f, dtype=np.float64) - 32) / 1.8
    return degrees


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
    t = celsius(temp_f)
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

    columns = np.broadcast_arrays(*floats(temp_f, emc_pct))
    solution = elementwise.find_root(above_wanted, (0.0, 100.0), args=columns)
    return np.where(solution.success, solution.x, np.nan)


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
