"""Published tables: their rows, the figures they give, and the names of species in them."""

import csv
import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NamedTuple

DATA = Path(__file__).with_name("data")


@dataclass(frozen=True)
class Figure:
    """One figure of the species table: its name, its unit, what it is, where it is printed."""

    name: str
    unit: str
    meaning: str
    printed: tuple[tuple[str, str], ...]
    """File and column of each publication; a species is in one of them only."""


class Known(NamedTuple):
    """One figure of one species, where it is from, and whether it is an estimate."""

    value: float
    source: str
    estimated: bool = False


BASIS = {
    "seen": "read there",
    "memory": "from memory",
    "second hand": "second hand",
    "derived": "derived",
    "estimated": "estimated",
}


def _read(table: Path) -> tuple[dict[str, str], ...]:
    with table.open(encoding="utf-8", newline="") as lines:
        return tuple(csv.DictReader(lines))


# Read with the module: no function of the catalogue opens a file when it is called.
_TABLES = {table.name: _read(table) for table in sorted(DATA.glob("*.csv"))}


def published_rows(file: str) -> tuple[dict[str, str], ...]:
    """Rows of one published table.

    Parameters
    ----------
    file : str
        Name of a CSV in ``data``.

    Returns
    -------
    tuple of dict
        One dictionary per row, from column name to the text printed there.

    Examples
    --------
    >>> published_rows("for_128_table_9_safe_rates.csv")[2]["rate_4_4"]
    '6.1'
    """
    return _TABLES[file]


def _figures() -> dict[str, Figure]:
    figures: dict[str, Figure] = {}
    for row in published_rows("figures.csv"):
        name = row["figure"]
        earlier = figures[name].printed if name in figures else ()
        printed = (*earlier, (row["file"], row["column"]))
        figures[name] = Figure(name, row["unit"], row["meaning"], printed)
    return figures


FIGURES: dict[str, Figure] = _figures()


def published_figures(name: str) -> dict[str, Known]:
    """Read every published figure of one kind, and its source.

    Parameters
    ----------
    name : str
        A key of `FIGURES`.

    Returns
    -------
    dict of str to Known
        From canonical name to figure; a species that no publication has is not in it.

    Examples
    --------
    >>> published_figures("green MC")["Apple"].value
    78.0
    """
    publications = {row["file"]: row for row in published_rows("publications.csv")}
    known: dict[str, Known] = {}
    for file, column in FIGURES[name].printed:
        publication = publications[file]
        for row in published_rows(file):
            if not row[column]:
                continue
            citation = row.get(f"{column}_citation")
            text = (
                f"{publication['publication']}, {publication['table']}",
                f"citation code {citation}" if citation else "",
                BASIS[row["basis"]],
                row["note"],
            )
            told = "; ".join(filter(None, text))
            estimated = row["basis"] == "estimated"
            known[row["species"]] = Known(float(row[column]), told, estimated)
    return known


def spelling(name: str) -> str:
    """Name without case, hyphens, brackets, spacing and word order.

    Parameters
    ----------
    name : str
        Name of a species as it is typed or printed.

    Returns
    -------
    str
        Its words in lower case, sorted; "" where the name is blank.

    Examples
    --------
    >>> spelling("Walnut, BLACK") == spelling("black  walnut")
    True
    """
    return " ".join(sorted(re.findall(r"\w+", name.casefold())))


@cache
def published_spellings() -> dict[str, str]:
    """From every spelling of a published species to its canonical name.

    Canonical names come before trade names, and those before scientific names. A scientific
    name that two entries share (*Sequoia sempervirens*) is left out.

    Returns
    -------
    dict of str to str
        Keys as `spelling` makes them.

    Examples
    --------
    >>> published_spellings()["black walnut"]
    'Walnut, black'
    """
    rows = published_rows("species.csv")
    scientific = Counter(row["scientific_name"] for row in rows)
    spellings = {
        spelling(row["scientific_name"]): row["species"]
        for row in rows
        if scientific[row["scientific_name"]] == 1
    }
    for row in published_rows("trade_names.csv"):
        spellings[spelling(row["trade_name"])] = row["species"]
    for row in rows:
        # "Maple, red (soft)" is also asked for as red maple.
        spellings[spelling(re.sub(r"\(.*\)", "", row["species"]))] = row["species"]
        spellings[spelling(row["species"])] = row["species"]
    return spellings
