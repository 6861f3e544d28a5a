"""The drying rate of one stack, fitted to the weighings of its sample boards.

No estimator of a rate from a few weighings was found in print; this one is the project's own.
Each interval between two weighings of a board gives a rate, weighted by how much was lost in it.
"""

import numpy as np

from lumbercalc.wood.band import prior_spread
from lumbercalc.wood.intervals import Intervals


def drying_rate(found: Intervals, species: str) -> np.float64:
    """Rate of one stack against the model's, fitted to its weighings.

    Parameters
    ----------
    found : Intervals
        Between the weighings of its sample boards, from `intervals`.
    species : str
        Canonical species name: how much is known of its drying before anything is weighed.

    Returns
    -------
    float [-]
        1 without a usable weighing; NaN where the air is unknown or a weighing precedes the start.

    Examples
    --------
    >>> from lumbercalc.wood.climate import Climate
    >>> from lumbercalc.wood.drying_course import DryingCourse
    >>> from lumbercalc.wood.intervals import intervals
    >>> oak = "Oak, northern red"
    >>> course = DryingCourse(oak, 1.125, 80, "2026-05-01", Climate.steady(70, 40))
    >>> days = ["2026-05-08", "2026-05-15", "2026-05-22", "2026-05-29"]
    >>> mcs = [55.0, 45.5, 38.5, 33.0]
    >>> found = intervals(course, days, mcs)
    >>> float(drying_rate(found, oak).round(2)), float(rate_spread(found, oak).round(3))
    (0.66, 0.091)
    """
    evidence = _evidence(found, species)
    rate: np.float64 = np.exp(np.sum(found.weight * np.log(found.rate)) / evidence)
    return rate


def rate_spread(found: Intervals, species: str) -> np.float64:
    """Spread of ln rate that is left after the weighings of one stack.

    Parameters
    ----------
    found : Intervals
        Between the weighings of its sample boards, from `intervals`.
    species : str
        Canonical species name.

    Returns
    -------
    float [-]
        The prior spread without a usable weighing; NaN as in `drying_rate`.

    Examples
    --------
    >>> import numpy as np
    >>> float(rate_spread(Intervals(np.array([0.7]), np.array([40.0])), "Walnut, black").round(3))
    0.144
    """
    return np.float64(_evidence(found, species) ** -0.5)


def _evidence(found: Intervals, species: str) -> float:
    """Sum of the weights, the prior's included."""
    unknown = 0.0 * found.rate  # NaN where the air is not known, and so is the sum
    return float(prior_spread(species) ** -2.0 + np.sum(found.weight + unknown))
