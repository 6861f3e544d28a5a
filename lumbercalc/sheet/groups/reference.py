"""Declarations of the group Reference: the tables behind the functions, and reasons in words."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lumbercalc import version
from lumbercalc.sheet.function import Argument, Example, Function
from lumbercalc.sheet.limits import Limits
from lumbercalc.sheet.vocabulary import SPECIES, words
from lumbercalc.wood import species as table
from lumbercalc.wood.texts import different, holds, of_each

FIGURE = words(
    "figure",
    "figure of the species table",
    Limits("choice", choices=tuple(table.FIGURES)),
    "choice",
)
MISSING = "no {figure} is published for {species}"


def species_value(species: Any, figure: Any) -> NDArray[np.float64]:
    """Look figures up, row by row.

    Parameters
    ----------
    species, figure : str or ndarray of str
        Canonical species and figure names that broadcast.

    Returns
    -------
    ndarray of float [unit of the figure]
        NaN where none is published.
    """
    values: Any = np.nan
    for kind in different(figure):
        values = np.where(holds(figure, kind), table.figure(species, kind), values)
    return np.asarray(values)


def species_source(species: Any, figure: Any) -> NDArray[Any]:
    """Name the publication of figures, row by row.

    Parameters
    ----------
    species, figure : str or ndarray of str
        Canonical species and figure names that broadcast.

    Returns
    -------
    ndarray of str
        "" where none is published.
    """
    sources: Any = ""
    for kind in different(figure):
        of_kind = of_each(species, partial(table.source, name=kind), object)
        sources = np.where(holds(figure, kind), of_kind, sources)
    return np.asarray(sources)


def no_computation(**_: Any) -> Any:
    """Refuse to compute: PROBLEM is answered by the call itself, from the reasons of another call.

    Raises
    ------
    NotImplementedError
        Always.
    """
    raise NotImplementedError("PROBLEM is answered by lumbercalc.sheet.call")


FUNCTIONS = (
    Function(
        "SPECIES_VALUE",
        "Reference",
        "A figure of the species table.",
        "the figure in its unit: shrinkage and green MC in %, coefficients per % MC",
        (SPECIES, FIGURE),
        species_value,
        "the publication that SPECIES_SOURCE names",
        Example(("black walnut", "tangential shrinkage"), 7.8),
        missing=MISSING,
    ),
    Function(
        "SPECIES_SOURCE",
        "Reference",
        "The publication that a figure is from, and whether it was read there or is from memory.",
        "text",
        (SPECIES, FIGURE),
        species_source,
        "the tables themselves",
        Example(
            ("black walnut", "tangential shrinkage"),
            "Wood Handbook FPL-GTR-190 (2010), Table 4-3; read there",
        ),
        gives="text",
        missing=MISSING,
    ),
    Function(
        "PROBLEM",
        "Reference",
        "What is wrong with the arguments of another function, in words.",
        'text; "" when all is well',
        (
            words("name", "name of the other function", Limits("text", longest=40)),
            Argument("arguments", "any", Limits("any cells"), "its arguments, in order", None),
        ),
        no_computation,
        "the limits that the functions themselves check",
        Example(
            ("BOARD_FEET", 1, -3, 8),
            "width_in is -3 in; it must be from 0.25 to 120 in",
        ),
        gives="text",
        repeats=True,
    ),
    Function(
        "LUMBERCALC_VERSION",
        "Reference",
        "The version of lumbercalc that answers.",
        "text",
        (),
        lambda: version.VERSION,
        "lumbercalc itself",
        Example((), version.VERSION),
        gives="text",
    ),
)
"""Functions of the group."""
