"""PsychroLib on columns: the formulas of moist air, row by row in deg F, psi and lb."""

from collections.abc import Callable

import numpy as np
import psychrolib  # type: ignore[import-untyped]
from numpy.typing import ArrayLike, NDArray


def row_by_row(formula: Callable[..., float], *columns: ArrayLike) -> NDArray[np.float64]:
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

    arrays = np.broadcast_arrays(*columns)
    rows = list(zip(*(array.ravel().tolist() for array in arrays), strict=True))
    before = psychrolib.GetUnitSystem()
    psychrolib.SetUnitSystem(psychrolib.IP)
    try:
        found = {row: one_row(*row) for row in set(rows)}
    finally:
        if before is not None:
            psychrolib.SetUnitSystem(before)
    return np.array([found[row] for row in rows], np.float64).reshape(arrays[0].shape)
