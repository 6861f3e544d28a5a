"""Which template a workbook was made from: by its mark on Start, else by the names it has."""

from __future__ import annotations

from collections.abc import Container
from typing import Any

from lumbercalc.sheet.refusal import is_number

MARK = "template_version"
"""Name of the cell on Start that holds the template's number."""

TOLD_BY = ((4, "sales_number"), (3, "reading_date"), (2, "stack_move_date"), (1, "board_tag"))
"""Templates before the mark on Start: the newest that has this name."""


def template_of(names: Container[str], mark: Any) -> float | None:
    """Tell the template of a workbook.

    Parameters
    ----------
    names : container of str
        Its defined names.
    mark : object
        What stands in the cell named `MARK`; None where there is none.

    Returns
    -------
    float or None
        None for a workbook that no template made.

    Examples
    --------
    >>> template_of({"board_tag", "stack_move_date"}, None), template_of({}, 4)
    (2, 4)
    """
    if is_number(mark):
        return float(mark) if mark % 1 else int(mark)
    return next((template for template, name in TOLD_BY if name in names), None)
