"""Pick the rows of one stack, or of one day, out of a whole sheet's columns."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc.sheet.function import Argument, Rule, Values
from lumbercalc.sheet.refusal import Refused
from lumbercalc.sheet.vocabulary import DATE_LIMITS, NAME_LIMITS, words
from lumbercalc.wood.texts import Texts, different, of_each

STACKS = Argument(
    "stacks",
    "text",
    NAME_LIMITS,
    "stack of each row, to pick one stack out of whole columns",
    None,
    shape="block",
)
STACK = words("stack", "stack to pick", NAME_LIMITS, default="")
DATES = Argument(
    "dates", "date", DATE_LIMITS, "date of each row, to pick one day", None, shape="block"
)
STACK_WITHOUT_STACKS = Rule(
    lambda v: bool(v["stack"]) and v["stacks"] is None,
    "stack is {stack}, but stacks, the column to find it in, is left out",
)


def of_stack(cells: Values, columns: Values) -> NDArray[np.bool_]:
    """Mark the rows of the stack that is asked for.

    Parameters
    ----------
    cells, columns : mapping
        Single values and columns of the call.

    Returns
    -------
    ndarray of bool
        All rows where no stack is asked for, and no more than one is there.
    """
    return of_name(cells["stack"], columns.get("stacks"), "stack")


def of_name(
    wanted: str, names: NDArray[np.str_] | Texts | None, argument: str
) -> NDArray[np.bool_]:
    """Mark the rows that bear a name.

    Parameters
    ----------
    wanted : str
        The name; "" where none was given. Its case does not matter.
    names : ndarray of str, optional
        Of each row.
    argument : str
        The argument that the name stands in; the names stand in its plural.

    Returns
    -------
    ndarray of bool
        All rows where no name is asked for, and no more than one is there.

    Raises
    ------
    Refused
        When none is asked for and there are several: they are not one record.
    """
    if names is None:
        return np.array(True)
    if not wanted:
        # In reverse: of names that differ in case alone the first stays.
        spelled = {name.casefold(): name for name in sorted(different(names), reverse=True) if name}
        there = sorted(spelled.values())
        if len(there) > 1:
            few = ", ".join(there[:3]) + (", ..." if len(there) > 3 else "")
            raise Refused(
                f"{argument} is blank; it must be one of the {len(there)} in {argument}s: {few}"
            )
        return np.array(True)
    folded = str(wanted).casefold()
    return of_each(names.ravel(), lambda name: name.casefold() == folded, np.bool_)


def of_stack_and_day(cells: Values, columns: Values) -> NDArray[np.bool_]:
    """Mark the rows of the stack and of the reading date that are asked for.

    Parameters
    ----------
    cells, columns : mapping
        Single values and columns of the call.

    Returns
    -------
    ndarray of bool
        All rows of the stack where no dates are given.
    """
    chosen = of_stack(cells, columns)
    if columns.get("dates") is None:
        return chosen
    return np.asarray(chosen & (columns["dates"].ravel() == cells["reading_date"]), bool)


def without(*names: str, compute: Any) -> Any:
    """Drop arguments that only pick rows before a computation of `wood` is called.

    Parameters
    ----------
    *names : str
        Of the arguments.
    compute : callable
        Does not take them.

    Returns
    -------
    callable
        Takes them too.
    """

    def computed(**values: Any) -> Any:
        return compute(**{name: value for name, value in values.items() if name not in names})

    return computed
