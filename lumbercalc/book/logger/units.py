"""The unit of a logger's temperatures: as its cells say, its header, or the warmest of them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pandas as pd

from lumbercalc.book.logger.marks import READING, Unit, header_unit
from lumbercalc.faults import FileFault
from lumbercalc.sheet.limits import Limits

HOTTEST_C = 45.0
"""Air of a yard or a shop: a log that goes higher is taken as deg F where it names no unit."""
CELSIUS_LIMITS = Limits("deg C", -40, 98.8)
"""`TEMP_LIMITS` for who reads a log in deg C: 210 deg F are 98.9."""


@dataclass(frozen=True, eq=False)
class Temperatures:
    """A column of temperatures.

    Parameters
    ----------
    temp_f : Series of float
        In deg F; NaN where the text is no number, or its unit is not known.
    celsius : Series of bool
        Which were in deg C.
    words : str
        How the unit was told.
    """

    temp_f: pd.Series[float]
    celsius: pd.Series[bool]
    words: str


def read_numbers(texts: pd.Series[str]) -> tuple[pd.Series[float], pd.Series[str]]:
    """Read numbers with a decimal point or comma, and the units beside them.

    Parameters
    ----------
    texts : Series of str
        Cells without blanks around them.

    Returns
    -------
    numbers : Series of float
        NaN where a text is none.
    units : Series of str
        NaN where a number has none.
    """
    found = texts.str.extract(f"^(?:{READING.pattern})$", flags=re.ASCII)
    return pd.to_numeric(found[0].str.replace(",", "."), errors="coerce"), found[1]


def read_temperatures(
    path: Path, asked: Unit | None, header: str, texts: pd.Series[str]
) -> Temperatures:
    """Read temperatures, decide their unit, and say why.

    Where cells name both units, each is read in its own, and one that names none is not read.

    Parameters
    ----------
    path : Path
        For messages.
    asked : {"F", "C"} or None
        The unit, where the person knows it.
    header : str
        What stands over them.
    texts : Series of str
        Cells without blanks around them.

    Returns
    -------
    Temperatures
        With the same index.

    Raises
    ------
    FileFault
        When nothing tells it: a frosty day in deg F reads like a warm one in deg C.
    """
    values, signs = read_numbers(texts)
    letters = signs.dropna().str.replace("℃", "C").str.replace("℉", "F").str[-1].str.upper()
    named = sorted(set(letters[letters.isin(["F", "C"])]))
    if len(named) == 2:
        each = letters.reindex(texts.index)
        celsius = each == "C"
        known = values.where(each.isin(["F", "C"]))
        return Temperatures(
            _fahrenheit(known, celsius), celsius, "deg F and deg C, each as its reading says"
        )
    unit, words = _decide(path, asked, header, named, values)
    celsius = pd.Series(unit == "C", index=texts.index)
    return Temperatures(_fahrenheit(values, celsius), celsius, words)


def _fahrenheit(values: pd.Series[float], celsius: pd.Series[bool]) -> pd.Series[float]:
    return values.where(~celsius, values * 1.8 + 32)


def _decide(
    path: Path, asked: Unit | None, header: str, named: list[str], values: pd.Series[float]
) -> tuple[Unit, str]:
    said: Unit | None = header_unit(header)
    where = "the header says"
    if named:
        said, where = ("F" if named == ["F"] else "C"), "the readings say"
    if said is not None:
        if asked in (None, said):
            return said, f"deg {said}, as {where}"
        return asked, f"deg {asked}, as asked, although {where} deg {said}: look at the means"
    if asked is not None:
        return asked, f"deg {asked}, as asked"
    hottest = float(values.quantile(0.99))
    if not hottest <= HOTTEST_C:  # where no cell is a number, each row is told of later
        return "F", f"deg F, as the warmest readings are above {HOTTEST_C:g}"
    raise FileFault(
        f"{path}: the temperatures name no unit, and {values.min():g} to {values.max():g} can be "
        "deg F or deg C; say which with --unit F or --unit C"
    )
