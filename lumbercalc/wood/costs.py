"""What drying costs: power, space, and the footage that is lost on the way."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats
from lumbercalc.wood.shrinkage import FIBER_SATURATION_PCT

KG_PER_LB = 0.45359237

MONTHS_IN_YEAR = 12
DAYS_IN_YEAR = 365


def dehumidifier_kwh(water_lb: ArrayLike, litres_per_kwh: ArrayLike) -> NDArray[np.float64]:
    """Electricity that a dehumidifier takes to remove water from a room.

    Parameters
    ----------
    water_lb : array_like of float [lb]
        Water.
    litres_per_kwh : array_like of float [L per kWh]
        The machine's rating, on its label.

    Returns
    -------
    ndarray of float [kWh]
        Electricity. A liter of water is taken as a kilogram.

    Notes
    -----
    Ratings hold for the air of the test; a machine removes less for a kWh in a cooler or drier
    room, so this is the least it takes. A pint per kWh is 0.473 litres per kWh.

    Examples
    --------
    >>> print(dehumidifier_kwh(1000, [1.3, 1.6]).round(1))
    [348.9 283.5]
    """
    water, litres = floats(water_lb, litres_per_kwh)
    return water * KG_PER_LB / litres


def fan_kwh(watts: ArrayLike, hours: ArrayLike) -> NDArray[np.float64]:
    """Electricity of a fan, or of any machine that runs at a steady power.

    Parameters
    ----------
    watts : array_like of float [W]
        Power while it runs.
    hours : array_like of float [h]
        Hours that it runs.

    Returns
    -------
    ndarray of float [kWh]
        Electricity.

    Examples
    --------
    >>> print(fan_kwh(120, 480))
    57.6
    """
    power, time = floats(watts, hours)
    return power * time / 1000


def space_cost(
    area_ft2: ArrayLike, rent_per_month: ArrayLike, days: ArrayLike
) -> NDArray[np.float64]:
    """Cost of the floor that lumber stands on, by the days it stands there.

    Parameters
    ----------
    area_ft2 : array_like of float [ft2]
        Floor, with its share of the aisle.
    rent_per_month : array_like of float [money per ft2 and month]
        What a square foot costs, or would bring.
    days : array_like of float [days]
        Time.

    Returns
    -------
    ndarray of float [money]
        Cost; a month is a twelfth of 365 days.

    Examples
    --------
    >>> print(space_cost(32, 0.5, 365))
    192.0
    """
    area, rent, time = floats(area_ft2, rent_per_month, days)
    return area * rent * (time * MONTHS_IN_YEAR / DAYS_IN_YEAR)


def shrink_so_far(
    shrink_pct: ArrayLike, mc_pct: ArrayLike, target_mc: ArrayLike
) -> NDArray[np.float64]:
    """Share of the green tally that is lost to shrinkage at a moisture content on the way.

    Parameters
    ----------
    shrink_pct : array_like of float [%]
        Loss of footage from the green tally to the tally at the target.
    mc_pct : array_like of float [% MC]
        Moisture content now.
    target_mc : array_like of float [% MC]
        Moisture content for which that loss holds, below 30.

    Returns
    -------
    ndarray of float [%]
        Loss so far: nothing above 30 % MC, all of it at the target and below.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3: shrinkage is taken as linear in moisture content
    below 30 %.

    Examples
    --------
    >>> print(shrink_so_far(7, [60, 19, 8], 8))
    [0.  3.5 7. ]
    """
    shrink, mc, target = floats(shrink_pct, mc_pct, target_mc)
    done = (FIBER_SATURATION_PCT - mc) / (FIBER_SATURATION_PCT - target)
    return shrink * np.clip(done, 0, 1)


def cost_per_bf(
    total_cost: ArrayLike, green_bf: ArrayLike, shrink_pct: ArrayLike, degrade_pct: ArrayLike
) -> NDArray[np.float64]:
    """Cost of a board foot that is dry and fit to sell.

    Parameters
    ----------
    total_cost : array_like of float [money]
        All that the lot has cost.
    green_bf : array_like of float [bf]
        Green tally of the lot.
    shrink_pct : array_like of float [%]
        Share of the green tally lost to shrinkage.
    degrade_pct : array_like of float [%]
        Share of the dry tally lost to drying defects.

    Returns
    -------
    ndarray of float [money per bf]
        Cost; NaN where nothing is left to sell.

    Examples
    --------
    >>> print(cost_per_bf(1800, 1000, 7, 10).round(2))
    2.15
    """
    cost, green, shrink, degrade = floats(total_cost, green_bf, shrink_pct, degrade_pct)
    saleable = green * ((1 - shrink / 100) * (1 - degrade / 100))
    return cost / np.where(saleable > 0, saleable, np.nan)


def carrying_cost(value: ArrayLike, annual_pct: ArrayLike, days: ArrayLike) -> NDArray[np.float64]:
    """Cost of money tied up while lumber waits: simple interest on a year of 365 days.

    Parameters
    ----------
    value : array_like of float [money]
        Money tied up.
    annual_pct : array_like of float [% a year]
        What that money costs, or would earn elsewhere.
    days : array_like of float [days]
        Time it waits.

    Returns
    -------
    ndarray of float [money]
        Cost of waiting.

    Examples
    --------
    >>> print(carrying_cost(5000, 8, 365).round(2))
    400.0
    """
    worth, rate, time = floats(value, annual_pct, days)
    return worth * rate / 100 * time / DAYS_IN_YEAR
