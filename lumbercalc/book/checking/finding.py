"""One thing that was found in a workbook: what kind of thing, where, and what of it."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from lumbercalc.book.xlsx.places import Place, address


class Kind(StrEnum):
    """What was found, in the order in which it is shown."""

    STALE = "stale"
    REFUSED = "refused"
    HIDDEN = "hidden"
    BLANK = "blank"
    CUT_OFF = "cut off"
    NOT_COMPUTED = "not computed"
    TEXT = "text"
    REFERENCE = "reference"
    RULE = "rule"
    SELF_TEST = "self-test"
    REFRESHED = "refreshed"


class Finding(NamedTuple):
    """One thing that was found.

    Parameters
    ----------
    kind : Kind
        What kind of thing.
    place : tuple or str
        The cell, or a defined name.
    told : str
        What is there, and what should be.
    """

    kind: Kind
    place: Place | str
    told: str

    def __str__(self) -> str:
        """Give the finding as one line."""
        where = self.place
        if not isinstance(where, str):
            where = f"{where[0]}!{address(where)}"
        return " ".join(f"{self.kind:<12}  {where}: {self.told}".splitlines())
