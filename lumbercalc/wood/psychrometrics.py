"""PsychroLib on columns: the formulas of moist air, row by row in deg F, psi and lb."""

from collections.abc import Callable

import numpy as np
import psychrolib  # type: ignore[import-untyped]
from numpy.typing import ArrayLike, NDArray


def row_by_row(formula: Callable[..., float], *columns: ArrayLike) -> NDArray[np.float64]:
    """Apply a formula made of PsychroLib's, which take one number at a time.

    PsychroLib keeps its unit system as a global of the process: it is set here for the length of
    one call, and put back, because other code of the same process may be working in SI.

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

    Examples
    --------
    >>> print(row_by_row(psychrolib.GetSatVapPres, [70, 1000]).round(3))
    [0.363   nan]
    """

    def one_row(*row: float) -> float:
        try:
            return formula(*row)
        except ValueError:
            return np.nan

    before = psychrolib.GetUnitSystem()
    psychrolib.SetUnitSystem(psychrolib.IP)
    try:
        rows: NDArray[np.float64] = np.vectorize(one_row, otypes=[np.float64])(*columns)
    finally:
        if before is not None:
            psychrolib.SetUnitSystem(before)
    return rows
