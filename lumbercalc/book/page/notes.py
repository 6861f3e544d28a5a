"""The words at the end of a row: which of the things that may be wrong with it is told."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lumbercalc.sheet.vocabulary import SMALLEST_PCT

Notes = Sequence[tuple[str, str]]
"""Conditions of a row that hold together, and the words for it; the first that holds is told.

AND looks at all its conditions, so that a search that is seldom needed stands behind an IF.
"""

UNDER_SHARE = f" under {SMALLEST_PCT:g} %: type "
"""In the words for a percentage that was typed as a share, after the name of it."""
AFTER_AS_OF = "the date is after the as-of date on Start"


def first_note(notes: Notes, why: str, more: Notes = ()) -> str:
    """Write the formula that tells the first note that holds.

    Parameters
    ----------
    notes : sequence of tuple of str
        In the order in which they are looked at.
    why : str
        Formula of the reason that the row's figures are refused, or "".
    more : sequence of tuple of str
        Told only where nothing is refused.

    Returns
    -------
    str
        Part of a formula: the words, else the reason, else the words of `more`, else "ok".

    Examples
    --------
    >>> first_note([('{width}=""', "no width")], "{refused}")
    'IF(AND({width}=""),"no width",IF({refused}="","ok",{refused}))'
    >>> first_note([], "{refused}", [("{width}>40", "wide")])
    'IF({refused}="",IF(AND({width}>40),"wide","ok"),{refused})'
    """
    well = _first_of(more, '"ok"')
    return _first_of(notes, f'IF({why}="",{well},{why})')


def _first_of(notes: Notes, otherwise: str) -> str:
    formula = otherwise
    for condition, words in reversed(notes):
        formula = f'IF(AND({condition}),"{words}",{formula})'
    return formula


def unless_a_number(figure: str, why: str) -> str:
    """Write the formula of why a figure is refused: of one that is there nobody asks.

    Parameters
    ----------
    figure : str
        Cell of the figure.
    why : str
        Formula of the reason: a call that leaves the spreadsheet, for every row.

    Returns
    -------
    str
        Part of a formula: the reason, or "".

    Examples
    --------
    >>> unless_a_number("{bf}", 'PROBLEM("BOARD_FEET",{size})')
    'IF(ISNUMBER({bf}),"",PROBLEM("BOARD_FEET",{size}))'
    """
    return f'IF(ISNUMBER({figure}),"",{why})'


def reasons(*told: str) -> str:
    """Write the formula of why a row's figures are refused, where several things may be wrong.

    Parameters
    ----------
    *told : str
        Formulas, each of a reason or "".

    Returns
    -------
    str
        Part of a formula: all reasons that there are, or "".

    Examples
    --------
    >>> reasons("{width_why}", "{length_why}")
    'MID(IF({width_why}="","","; "&{width_why})&IF({length_why}="","","; "&{length_why}),3,999)'
    """
    return "MID(" + "&".join(f'IF({each}="","","; "&{each})' for each in told) + ",3,999)"


def looks_like_a_share(cell: str) -> str:
    """Write the condition that a percentage was typed as a share: 0.0625 for 6.25.

    Parameters
    ----------
    cell : str
        Name of a cell, or "{key}" of a column.

    Returns
    -------
    str
        Conditions that hold together.
    """
    return f"ISNUMBER({cell}),{cell}>0,{cell}<{SMALLEST_PCT}"


def text_among(keys: Iterable[str]) -> tuple[str, str]:
    """Write the note of a row in which a text stands for a date.

    Parameters
    ----------
    keys : iterable of str
        Of the columns of dates.

    Returns
    -------
    tuple of str
        Condition and words.
    """
    return f"OR({','.join(f'ISTEXT({{{key}}})' for key in keys)})", "a date is not a date"


def late_among(keys: Iterable[str]) -> tuple[str, str]:
    """Write the note of a row with a date that has not come.

    Parameters
    ----------
    keys : iterable of str
        Of the columns of dates.

    Returns
    -------
    tuple of str
        Condition and words.
    """
    late = ",".join(f"SUM({{{key}}})>as_of" for key in keys)
    return f'AND(as_of<>"",OR({late}))', "a date is after the as-of date on Start"


def blank_around(key: str) -> tuple[str, str]:
    """Write the note of a row whose name has a blank too many, so that no other row finds it.

    Parameters
    ----------
    key : str
        Of the column with the name.

    Returns
    -------
    tuple of str
        Condition and words.
    """
    return f"LEN({{{key}}})<>LEN(TRIM({{{key}}}))", "a blank too many in its name"


def of_named_row(name: str, others: tuple[str, str], words: str, formula: str) -> str:
    """Write the check of a row that counts only with its name.

    Parameters
    ----------
    name : str
        Key of the column that names the row.
    others : tuple of str
        Keys of the first and the last of its other inputs, which stand side by side.
    words : str
        What is told where these are typed and the name is not.
    formula : str
        Part of a formula: what is told of a row with a name.

    Returns
    -------
    str
        Formula of the check column.

    Examples
    --------
    >>> of_named_row("tag", ("log", "used"), "the tag is missing", '"ok"')
    '=IF({tag}="",IF(COUNTA({log}:{used})=0,"","the tag is missing"),"ok")'
    """
    first, last = others
    return f'=IF({{{name}}}="",IF(COUNTA({{{first}}}:{{{last}}})=0,"","{words}"),{formula})'
