"""Columns of numbers as the calculations take them."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def floats(*columns: ArrayLike) -> tuple[NDArray[np.float64], ...]:
    """Give columns of numbers as arrays of floats, those that are already as they are.

    Parameters
    ----------
    *columns : array_like of float
        Numbers, lists or arrays.

    Returns
    -------
    tuple of ndarray of float
        One for each.

    Examples
    --------
    >>> floats([1, 2], 3)
    (array([1., 2.]), array(3.))
    """
    return tuple(np.asarray(column, dtype=np.float64) for column in columns)
