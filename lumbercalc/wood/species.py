"""Species of the trade: their names, their figures and where each figure is from."""

import difflib
import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.own_species import read_own, with_own
from lumbercalc.wood.published import (
    FIGURES,
    Figure,
    Known,
    published_figures,
    published_rows,
    published_spellings,
    spelling,
)
from lumbercalc.wood.texts import of_each

__all__ = [
    "FIGURES",
    "Figure",
    "drying_constant_is_estimated",
    "figure",
    "load_own",
    "match",
    "names",
    "nearest",
    "source",
    "with_own",
]

_own: dict[str, dict[str, float]] = {}


@cache
def names() -> tuple[str, ...]:
    """Names of the species table, the shop's own included.

    Returns
    -------
    tuple of str
        Canonical names, sorted.

    Examples
    --------
    >>> names()[:3]
    ('Alder, red', 'Apple', 'Ash, black')
    """
    published = {row["species"] for row in published_rows("species.csv")}
    return tuple(sorted(published | set(_own), key=str.casefold))


def match(name: str) -> str | None:
    """Canonical name of a species, whatever the case and the order of the words.

    Trade names ("hard maple") and scientific names are matched too; a scientific name that two
    entries of the table share matches neither.

    Parameters
    ----------
    name : str
        Name as it is typed.

    Returns
    -------
    str or None
        Name of the species table, or None where there is no such species.

    Examples
    --------
    >>> match("BLACK  walnut"), match("tulip poplar"), match("Quercus alba")
    ('Walnut, black', 'Yellow-poplar', 'Oak, white')
    >>> match("plastic") is None
    True
    """
    return _spellings().get(spelling(name))


def nearest(name: str, count: int = 3) -> list[str]:
    """Nearest names of the species table, for the text of an error.

    Parameters
    ----------
    name : str
        Name that matched nothing.
    count : int, optional
        How many names to offer at most.

    Returns
    -------
    list of str
        Canonical names, those with every typed word first; empty where nothing comes near.

    Examples
    --------
    >>> nearest("blck walnut", 1)
    ['Walnut, black']
    """
    known = _spellings()
    typed = spelling(name)
    words = set(typed.split())
    with_every_word = [one for one in known if words and words <= set(one.split())]
    # Several spellings lead to one species, so more are asked for than are offered.
    near = difflib.get_close_matches(typed, with_every_word, n=4 * count, cutoff=0)
    near += difflib.get_close_matches(typed, known, n=4 * count, cutoff=0.5)
    return list(dict.fromkeys(known[one] for one in near))[:count]


def figure(species: ArrayLike, name: str) -> NDArray[np.float64]:
    """Figures of a column of species.

    Parameters
    ----------
    species : array_like of str
        Canonical names.
    name : str
        A key of `FIGURES`.

    Returns
    -------
    ndarray of float
        The figures, in the unit that `FIGURES` states; NaN where none is published.

    Raises
    ------
    ValueError
        Where `name` is no figure, or a species is not a canonical name.

    Examples
    --------
    >>> print(figure(["Walnut, black", "Oak, white", "Apple"], "tangential shrinkage"))
    [ 7.8 10.5  nan]
    """
    return _look_up(species, _values(name), np.float64)


def source(species: str, name: str) -> str:
    """Tell where a figure is from.

    Parameters
    ----------
    species : str
        Canonical name.
    name : str
        A key of `FIGURES`.

    Returns
    -------
    str
        Publication, table, whether it was read there, from memory, second hand or derived, and
        a note where there is one; "" where there is no figure.

    Raises
    ------
    ValueError
        Where `name` is no figure, or `species` is not a canonical name.

    Examples
    --------
    >>> source("Walnut, black", "tangential shrinkage")
    'Wood Handbook FPL-GTR-190 (2010), Table 4-3; read there'
    """
    return str(_look_up(species, _sources(name), object))


def drying_constant_is_estimated(species: ArrayLike) -> NDArray[np.bool_]:
    """Tell which drying constants are estimates: from specific gravity, or another oak's figure.

    Parameters
    ----------
    species : array_like of str
        Canonical names.

    Returns
    -------
    ndarray of bool
        True where the constant is an estimate.

    Examples
    --------
    >>> print(drying_constant_is_estimated(["Walnut, black", "Sassafras"]))
    [False  True]
    """
    return _look_up(species, _estimated(), np.bool_)


def load_own(path: Path) -> None:
    """Take a shop's own species into the table, in place of any taken in before.

    Parameters
    ----------
    path : Path
        CSV as `with_own` gives it; a file that is not there holds no species.

    Raises
    ------
    ValueError
        Where the file cannot be used; the species taken in before then stay.
    """
    own = read_own(path)
    _own.clear()
    _own.update(own)
    for kept in (names, _spellings, _known, _values, _sources, _estimated):
        kept.cache_clear()


def _look_up(species: ArrayLike, table: Mapping[str, Any], kind: Any) -> NDArray[Any]:
    try:
        return of_each(species, table.__getitem__, kind)
    except KeyError as missing:
        name = str(missing.args[0])
        near = "; ".join(nearest(name)) or "none"
        raise ValueError(
            f"species {name!r} is not a name of the species table; nearest: {near}"
        ) from None


@cache
def _spellings() -> dict[str, str]:
    return {spelling(name): name for name in _own} | published_spellings()


@cache
def _known(name: str) -> dict[str, Known]:
    """Every species that has this figure: published, the shop's own or estimated."""
    if name not in FIGURES:
        raise ValueError(f"figure {name!r} is not one of: {', '.join(FIGURES)}")
    known = published_figures(name)
    for one, row in _own.items():
        if name in row:
            known[one] = Known(row[name], "the shop's own figure")
    if name == "drying constant":
        known |= _estimated_drying_constants(set(names()) - set(known))
    return known


@cache
def _values(name: str) -> dict[str, float]:
    """Give the figure of every species, NaN where there is none: cells ask one by one."""
    known = _known(name)
    return {one: known[one].value if one in known else math.nan for one in names()}


@cache
def _sources(name: str) -> dict[str, str]:
    known = _known(name)
    return {one: known[one].source if one in known else "" for one in names()}


@cache
def _estimated() -> dict[str, bool]:
    known = _known("drying constant")
    return {one: one in known and known[one].estimated for one in names()}


def drying_constant_line() -> tuple[float, float, int]:
    """Least squares line of ln A on ln specific gravity over the listed hardwoods.

    A group listed as one (hickory, aspen) counts once, by its first species.

    Returns
    -------
    tuple of float, float, int
        Constant and slope of the line, and how many hardwoods it is fitted to.

    Examples
    --------
    >>> drying_constant_line()[2]
    21
    """
    rows = reversed(published_rows("drying_constants.csv"))
    listed = {row["printed_name"]: row for row in rows}.values()
    gravity = figure([row["species"] for row in listed], "specific gravity")
    constants = np.array([row["drying_constant"] for row in listed], dtype=np.float64)
    slope, constant = np.polyfit(np.log(gravity), np.log(constants), 1)
    return float(constant), float(slope), len(listed)


def _estimated_drying_constants(species: set[str]) -> dict[str, Known]:
    a, b, count = drying_constant_line()
    gravity = _known("specific gravity")
    softwoods = {r["species"] for r in published_rows("species.csv") if r["group"] == "softwood"}
    text = f"estimated from specific gravity, by a line fitted to {count} listed hardwoods"
    outside = text + "; a softwood, outside that fit"
    return {
        one: Known(
            math.exp(a + b * math.log(gravity[one].value)),
            outside if one in softwoods else text,
            estimated=True,
        )
        for one in species
        if one in gravity
    }
