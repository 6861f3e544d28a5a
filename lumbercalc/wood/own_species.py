"""A shop's own species: one CSV of figures that the publications do not have."""

import csv
import math
from collections.abc import Mapping
from io import StringIO
from pathlib import Path

from lumbercalc.wood.published import FIGURES, published_figures, published_spellings, spelling

FORMULA_STARTS = ("=", "+", "@", "\t", "\r")
"""A text that begins so may be taken for a formula by a spreadsheet; "-" begins numbers as well."""


def read_own(path: Path) -> dict[str, dict[str, float]]:
    """Read a shop's own species.

    Parameters
    ----------
    path : Path
        CSV with the column ``species`` and columns named after `FIGURES`; a blank cell is a
        figure the shop does not know. A file that is not there holds no species.

    Returns
    -------
    dict of str to dict of str to float
        From species to the figures that are filled in.

    Raises
    ------
    ValueError
        Where a species is blank, published or there twice, a column is no figure, or a figure
        is not a number above 0. The text names file and line.
    """
    own: dict[str, dict[str, float]] = {}
    if not path.exists():
        return own
    try:
        # A spreadsheet that saves CSV puts a byte order mark first; utf-8-sig takes it away.
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.DictReader(file, restkey="")
            columns = list(reader.fieldnames or ())
            rows = [(reader.line_num, row) for row in reader]
    except (UnicodeDecodeError, csv.Error) as error:
        raise ValueError(f"{path}: this is not a CSV file in UTF-8 ({error})") from None
    if "species" not in columns:
        raise ValueError(f"{path}: there is no column 'species'")
    for line, row in rows:
        if not any(row.values()):
            continue
        place = f"{path}, line {line}"
        name = _own_name(row.pop("species") or "", place)
        if spelling(name) in map(spelling, own):
            raise ValueError(f"{place}: species {name!r} is there twice")
        own[name] = {what: _positive(what, text, place) for what, text in row.items() if text}
    return own


def with_own(path: Path, name: str, figures: Mapping[str, float]) -> bytes:
    """Give the file of a shop's own species with one more, or with figures of one there changed.

    Parameters
    ----------
    path : Path
        CSV of the shop's own species, as it is now; it need not be there.
    name : str
        Name of the species, matching none of the published ones.
    figures : mapping of str to float
        From names in `FIGURES` to figures above 0, in their units.

    Returns
    -------
    bytes
        All of the new file.

    Raises
    ------
    ValueError
        Where the name is blank or published, a figure is unknown or not a number above 0, or
        the file that is there cannot be read.
    """
    name = _own_name(name, "species add")
    entry = {what: _positive(what, value, f"species {name!r}") for what, value in figures.items()}
    own = read_own(path)
    there = next((one for one in own if spelling(one) == spelling(name)), name)
    own[name] = own.pop(there, {}) | entry
    columns = [what for what in FIGURES if any(what in row for row in own.values())]
    text = StringIO(newline="")
    writer = csv.DictWriter(text, ["species", *columns], lineterminator="\n")
    writer.writeheader()
    writer.writerows({"species": one, **own[one]} for one in sorted(own))
    return text.getvalue().encode("utf-8")


def _own_name(text: str, place: str) -> str:
    name = " ".join(text.split())
    if len(text.strip().splitlines()) > 1:
        raise ValueError(
            f"{place}: species {text[:40]!r} has a line break; take a name of one line"
        )
    if not name.isprintable():
        raise ValueError(f"{place}: species {name[:40]!r} has a character that is not shown")
    if not spelling(name):
        raise ValueError(f"{place}: species is blank; give it a name")
    if name.startswith((*FORMULA_STARTS, "-")):
        raise ValueError(f"{place}: species {name!r} begins like a formula; take another name")
    if published := published_spellings().get(spelling(name)):
        raise ValueError(f"{place}: species {name!r} is already published, as {published!r}")
    return name


def _positive(what: str, value: str | float, place: str) -> float:
    if what not in FIGURES:
        raise ValueError(f"{place}: {what!r} is no figure; figures are {', '.join(FIGURES)}")
    try:
        number = float(value)
    except (TypeError, ValueError):
        number = math.nan
    published = [known.value for known in published_figures(what).values()]
    lowest, highest = min(published) / 2, max(published) * 2
    if not lowest <= number <= highest:  # also refuses what is no number
        unit = FIGURES[what].unit and f" {FIGURES[what].unit}"
        raise ValueError(
            f"{place}: {what} is {value!r}; it must be a number from {lowest:.3g} to "
            f"{highest:.3g}{unit}, half the lowest to twice the highest that is published"
        )
    return number
