"""The limits of an argument, declared once and read by every check, help text and validation."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from sys import float_info
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

Numbers: TypeAlias = float | NDArray[np.float64]
"""One number or a column of them."""

MOST = float_info.max
"""The greatest number that is not infinite."""


@dataclass(frozen=True)
class Limits:
    """What an argument may be.

    Parameters
    ----------
    unit : str
        Unit of a number, or what the cell holds ("text", "date", "choice").
    lowest, highest : float, optional
        Range of a number, both ends allowed [unit].
    whole : bool
        Only whole numbers are allowed.
    least : float, optional
        Smallest number above 0 [unit]: of percents, what is below is a share (7 % typed as 0.07).
    choices : tuple of str
        Words of the trade that are allowed, compared without regard to case.
    also : mapping of str to str
        Other words for a choice, such as "flatsawn" for "tangential".
    longest : int
        Greatest number of characters of a text.

    Examples
    --------
    >>> Limits("% RH", 0, 100).words()
    'from 0 to 100 % RH'
    """

    unit: str
    lowest: float | None = None
    highest: float | None = None
    whole: bool = False
    least: float | None = None
    choices: tuple[str, ...] = ()
    also: Mapping[str, str] = field(default_factory=dict)
    longest: int = 255

    def words(self) -> str:
        """Say the limits in words, for help texts and for the reason of a refusal.

        Returns
        -------
        str
            One clause that completes "it must be ...".

        Examples
        --------
        >>> Limits("pieces", 1, 1000, whole=True).words()
        'a whole number from 1 to 1000 pieces'
        """
        if self.choices:
            return "one of " + ", ".join(f'"{choice}"' for choice in self.choices)
        if self.unit == "text":
            return f"a text of at most {self.longest} characters"
        if self.lowest is None or self.highest is None:
            return f"a {self.unit}" if self.unit in ("date", "species") else self.unit
        whole = "a whole number " if self.whole else ""
        lowest = self.lowest if self.least is None else self.least
        nought = "" if self.least is None else "0 or "
        return f"{whole}{nought}from {lowest:.10g} to {self.highest:.10g} {self.unit}"

    def inside(self, values: Numbers) -> Any:
        """Mark the numbers that keep the limits.

        Parameters
        ----------
        values : float or ndarray of float [unit]
            Numbers.

        Returns
        -------
        bool or ndarray of bool
            False where a number is outside; infinities and NaN always are.

        Examples
        --------
        >>> Limits("% RH", 0, 100).inside(140.0)
        False
        >>> Limits("% RH", 0, 100).inside(np.array([45.0, 140.0])).tolist()
        [True, False]
        """
        low, high = self._ends
        inside = (values >= low) & (values <= high)
        if self.least is not None:
            inside = inside & ((values == 0) | (values >= self.least))
        return inside & (values == np.floor(values)) if self.whole else inside

    def all_inside(self, values: NDArray[np.float64]) -> bool:
        """Tell whether all numbers keep the limits: those between do where the ends do.

        Parameters
        ----------
        values : ndarray of float [unit]
            Numbers.

        Returns
        -------
        bool
            True for no numbers at all.

        Examples
        --------
        >>> Limits("% RH", 0, 100).all_inside(np.array([45.0, 140.0]))
        False
        """
        if values.size == 0:
            return True
        # Read as whole numbers without a sign, the bits of floats from 0 on are in their order,
        # those of NaN and of all below 0 are behind them: one look does for both ends.
        from_0 = self.lowest == 0 and self.least is None and not self.whole
        if from_0 and values.view(np.uint64).max() <= self._last_bits:
            return True
        low, high = self._ends
        smallest = values.min()
        if not (low <= smallest and values.max() <= high):  # NaN is both ends, and outside
            return False
        if self.least is not None and smallest < self.least:
            return bool(np.all(self.inside(values)))
        return not (self.whole and np.any(values != np.floor(values)))

    @cached_property
    def _ends(self) -> tuple[float, float]:
        return (
            -MOST if self.lowest is None else self.lowest,
            MOST if self.highest is None else self.highest,
        )

    @cached_property
    def _last_bits(self) -> np.uint64:
        return np.float64(self._ends[1]).view(np.uint64)

    def choice(self, text: str) -> str | None:
        """Find the choice that a text means.

        Parameters
        ----------
        text : str
            What was typed.

        Returns
        -------
        str or None
            The choice as declared, or None.

        Examples
        --------
        >>> limits = Limits("choice", choices=("radial",), also={"quartersawn": "radial"})
        >>> limits.choice("Quartersawn")
        'radial'
        """
        typed = " ".join(text.split()).casefold()
        for choice in self.choices:
            if choice.casefold() == typed:
                return choice
        for word, choice in self.also.items():
            if word.casefold() == typed:
                return choice
        return None
