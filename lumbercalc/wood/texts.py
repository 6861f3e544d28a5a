"""A column of texts in which many cells hold the same: each different text is met only once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, eq=False)
class Texts:
    """Texts of a column or of rows and columns, each different one kept once.

    NumPy takes it for an array of texts (`numpy.asarray`); `of_each` and `holds` are quicker.

    Parameters
    ----------
    different : tuple of str
        The texts that there are; the same one may stand twice.
    which : ndarray of int
        Of each cell, the place of its text in `different`.

    Examples
    --------
    >>> settings = Texts.of(["fan", "open yard", "fan"])
    >>> settings.different, settings.which.tolist(), settings[1]
    (('fan', 'open yard'), [0, 1, 0], 'open yard')
    """

    different: tuple[str, ...]
    which: NDArray[np.intp]

    @staticmethod
    def of(cells: Sequence[Any]) -> Texts | None:
        """Sort cells by their texts.

        Parameters
        ----------
        cells : sequence
            Of a column.

        Returns
        -------
        Texts or None
            None where there are no cells, or one of them is no text.

        Examples
        --------
        >>> Texts.of(["fan", None]) is None
        True
        """
        if not len(cells) or type(cells[0]) is not str:  # nearly all others end here
            return None
        try:
            different = tuple(dict.fromkeys(cells))
        except TypeError:  # a cell that is itself a list
            return None
        if set(map(type, different)) != {str}:
            return None
        if len(different) == 1:
            return Texts(different, np.zeros(len(cells), np.intp))
        place = {text: n for n, text in enumerate(different)}
        return Texts(different, np.fromiter(map(place.__getitem__, cells), np.intp, len(cells)))

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the cells."""
        return self.which.shape

    @property
    def ndim(self) -> int:
        """1 for a column, 2 for rows and columns."""
        return self.which.ndim

    @property
    def size(self) -> int:
        """How many cells there are."""
        return self.which.size

    def __getitem__(self, place: Any) -> Any:
        """Give one text, or the texts of several cells, as an array does."""
        chosen = self.which[place]
        return Texts(self.different, chosen) if np.ndim(chosen) else self.different[int(chosen)]

    def __array__(self, dtype: Any = None, copy: bool | None = None) -> NDArray[Any]:
        """Give NumPy an array of the texts."""
        return np.array(self.different, object if dtype is None else dtype)[self.which]

    def reshape(self, *shape: int) -> Texts:
        """Give the cells another shape, as of an array.

        Parameters
        ----------
        *shape : int
            Of as many cells; one may be -1.

        Returns
        -------
        Texts
            The same cells in reading order.
        """
        return Texts(self.different, self.which.reshape(shape))

    def ravel(self) -> Texts:
        """Give the cells in one dimension.

        Returns
        -------
        Texts
            In reading order.
        """
        return Texts(self.different, self.which.ravel())


def of_each(texts: ArrayLike | Texts, found: Callable[[str], Any], kind: Any) -> NDArray[Any]:
    """Work something out for every text of a column, for each different one once.

    Parameters
    ----------
    texts : array_like of str
        One text or many.
    found : callable
        Takes a text, gives what belongs to it.
    kind : dtype
        Of what it gives.

    Returns
    -------
    ndarray of `kind`
        In the shape of the texts.

    Examples
    --------
    >>> of_each(Texts.of(["a", "bcd", "a"]), len, float)
    array([1., 3., 1.])
    """
    if isinstance(texts, Texts):
        return np.array([found(text) for text in texts.different], kind)[texts.which]
    cells = np.asarray(texts, object)
    return np.array([found(text) for text in cells.ravel().tolist()], kind).reshape(cells.shape)


def different(texts: ArrayLike | Texts) -> set[str]:
    """Give the texts that a column holds.

    Parameters
    ----------
    texts : array_like of str
        One text or many.

    Returns
    -------
    set of str
        Each once; of a part of a column, perhaps some that only the rest holds.

    Examples
    --------
    >>> different("fan")
    {'fan'}
    """
    if isinstance(texts, Texts):
        return set(texts.different)
    return set(np.asarray(texts, object).ravel().tolist())


def holds(texts: ArrayLike | Texts, text: str) -> NDArray[np.bool_]:
    """Mark the cells that hold a text.

    Parameters
    ----------
    texts : array_like of str
        One text or many.
    text : str
        The one that is looked for.

    Returns
    -------
    ndarray of bool
        In the shape of the texts.

    Examples
    --------
    >>> holds(["fan", "open yard"], "fan").tolist()
    [True, False]
    """
    return of_each(texts, lambda cell: cell == text, np.bool_)
