"""The words at the end of a row: which of the things that may be wrong with it is told."""

from __future__ import annotations

from collections.abc import Sequence

Notes = Sequence[tuple[str, str]]
"""Conditions of a row that hold together, and the words for it; the first that holds is told.

AND looks at all its conditions, so that a search that is seldom needed stands behind an IF.
"""


def first_note(notes: Notes, why: str) -> str:
    """Write the formula that tells the first note that holds.

    Parameters
    ----------
    notes : sequence of tuple of str
        In the order in which they are looked at.
    why : str
        Formula of the reason that the row's figures are refused, or "".

    Returns
    -------
    str
        Part of a formula: the words, else the reason, else "ok".

    Examples
    --------
    >>> first_note([('{width}=""', "no width")], "{refused}")
    'IF(AND({width}=""),"no width",IF({refused}="","ok",{refused}))'
    """
    formula = f'IF({why}="","ok",{why})'
    for condition, words in reversed(notes):
        formula = f'IF(AND({condition}),"{words}",{formula})'
    return formula
