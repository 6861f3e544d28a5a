"""A table of air in a pandas frame: its columns are known by their labels, in any order."""

from __future__ import annotations

from typing import Any

PLACES, MONTHS = ("place",), ("month", "date")
LABELS = (PLACES, MONTHS, ("temp_f", "temp"), ("rh_pct", "rh"))
"""Words by which the columns are known, in the order that a table of air has them in."""


def columns_in_order(table: Any, named: str) -> Any:
    """Put the columns of a frame in the order that a table of air has them in.

    Parameters
    ----------
    table : DataFrame or Series
        With its air by month, by date, or by place. Places and months may be in its index.
    named : str
        The function and its argument, for the error.

    Returns
    -------
    DataFrame or Series
        With its columns in order; as it is where no label speaks of air: then their order counts.

    Raises
    ------
    ValueError
        When it cannot be told which column is which, or a row's month is not.

    Examples
    --------
    >>> import pandas as pd
    >>> air = pd.DataFrame({"RH": [60, 55], "Temp": [40, 45], "month": [1, 2]})
    >>> list(columns_in_order(air, "ready_date: climate"))
    ['month', 'Temp', 'RH']
    """
    if not hasattr(table, "columns"):  # a Series has one, and is refused as any table of one
        return table
    frame = _with_its_index(table, named)
    labels = list(frame.columns)
    known = [[label for label in labels if _word(label) in words] for words in LABELS]
    *when_and_where, temps, humidities = map(len, known)
    said = any(word in _word(label) for label in labels for word in ("temp", "humid"))
    if temps == humidities == 0 and not said:
        return frame
    if temps != 1 or humidities != 1 or max(when_and_where) > 1:
        raise ValueError(
            f"{named} has the columns {', '.join(map(str, labels))}; they "
            "must be temp_f and rh_pct, with month or date, and place, where they are given"
        )
    return frame[[label for labels in known for label in labels]]


def _with_its_index(frame: Any, named: str) -> Any:
    """Make columns of the places and months that a frame has in its index, as groupby leaves them.

    Rows without months would be January to December: an index of dates says that they are not.
    """
    there = set(map(_word, frame.columns))
    levels = [
        level
        for level in frame.index.names
        if _word(level) in (*PLACES, *MONTHS) and _word(level) not in there
    ]
    there |= set(map(_word, levels))
    if levels:
        frame = frame.reset_index(levels)
    if there.isdisjoint(MONTHS) and type(frame.index).__name__ in ("DatetimeIndex", "PeriodIndex"):
        raise ValueError(
            f"{named} has dates in its index and no column month or date; "
            'make the first day of each row\'s air a column: frame.reset_index(names="date")'
        )
    return frame


def _word(label: Any) -> str:
    return str(label).strip().casefold()
