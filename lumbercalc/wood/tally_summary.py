"""A tally added up by species, thickness and grade."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from lumbercalc.wood.floats import floats

ALL_SPECIES = "all species"
TOTAL = "total"

INCH_DIGITS = 6
"""A thickness that was computed is the same as one that was typed when it is so to these digits."""


class TallySummary(NamedTuple):
    """Columns of a summary: its rows, and totals with no thickness."""

    species: list[str]
    thickness: list[float]
    grade: list[str]
    bf: list[float]


def tally_summary(
    species: ArrayLike, thickness: ArrayLike, bf: ArrayLike, grade: ArrayLike | None = None
) -> TallySummary:
    """Add a tally up.

    Parameters
    ----------
    species : array_like of str, shape (n,)
        Species of each row of the tally.
    thickness : array_like of float, shape (n,) [in]
        Thickness.
    bf : array_like of float, shape (n,) [bf]
        Board feet.
    grade : array_like of str, shape (n,), optional
        Grade, in any case; "" for none.

    Returns
    -------
    TallySummary
        One row for each species, thickness and grade, in that order, and after each species and
        at the end a row with the grade "total" and NaN for thickness.

    Examples
    --------
    >>> summary = tally_summary(["Cherry, black"] * 3, [1, 2, 1], [50, 80, 20], ["FAS", "", "fas"])
    >>> for row in zip(*summary, strict=True):
    ...     print(*row)
    Cherry, black 1.0 FAS 70.0
    Cherry, black 2.0  80.0
    Cherry, black nan total 150.0
    all species nan total 150.0
    """
    names = np.asarray(species, dtype=object).ravel().tolist()
    sawn, tallied = floats(thickness, bf)
    inches = np.round(sawn, INCH_DIGITS).ravel().tolist()
    feet = tallied.ravel().tolist()
    grades = [""] * len(names) if grade is None else np.asarray(grade, dtype=object).tolist()
    as_typed: dict[str, str] = {}
    sums: dict[str, dict[tuple[float, str], float]] = {}
    for name, inch, typed, foot in zip(names, inches, grades, feet, strict=True):
        lots = sums.setdefault(name, {})
        lot = inch, as_typed.setdefault(str(typed).casefold(), str(typed))
        lots[lot] = lots.get(lot, 0.0) + foot
    rows: list[tuple[str, float, str, float]] = []
    for name, lots in sorted(sums.items()):
        rows += [(name, inch, shown, foot) for (inch, shown), foot in sorted(lots.items())]
        rows.append((name, np.nan, TOTAL, sum(lots.values())))
    rows.append((ALL_SPECIES, np.nan, TOTAL, sum(feet)))
    return TallySummary(*map(list, zip(*rows, strict=True)))
