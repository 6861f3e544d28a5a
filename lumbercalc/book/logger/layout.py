"""The header of a data logger's file with some rows below it, and how its columns are named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from lumbercalc.book.logger.header import Header
from lumbercalc.faults import FileFault

T = TypeVar("T")


@dataclass(frozen=True)
class Layout:
    """A header with some of the rows below it, all as wide.

    Parameters
    ----------
    path : Path
        For messages.
    header : Header
        With a name for every column, "" where there is none.
    sample : list of list of str
        Rows that are readings.
    """

    path: Path
    header: Header
    sample: list[list[str]]

    def cells(self, place: int, read: Callable[[str], T]) -> list[T]:
        """Read the cells of a column.

        Parameters
        ----------
        place : int
            Of the column.
        read : callable
            Takes the text of a cell.

        Returns
        -------
        list
            What each cell is read as.
        """
        return [read(row[place]) for row in self.sample]

    def all_fit(self, place: int, fits: Callable[[str], object]) -> bool:
        """Tell whether a column has texts, and each of them fits.

        Parameters
        ----------
        place : int
            Of the column.
        fits : callable
            Takes the text of a cell that is not blank, without blanks around it.

        Returns
        -------
        bool
            False for a column without texts.
        """
        told = [text for text in self.cells(place, str.strip) if text]
        return bool(told) and all(map(fits, told))

    def asked(self, free: list[int], what: str, asked: str) -> int:
        """Find a column by its header, else by its number.

        Parameters
        ----------
        free : list of int
            Places of the columns that it may be.
        what : str
            What the column is of, as the option is called.
        asked : str
            As typed.

        Returns
        -------
        int
            Its place.

        Raises
        ------
        FileFault
            When there is none, or several.
        """
        typed = " ".join(asked.split())
        found = [n for n in free if self.header.names[n].casefold() == typed.casefold()]
        if not found and typed.isascii() and typed.isdigit():
            found = [n for n in free if n + 1 == int(typed)]
        if found:
            return self.one(found, what)
        raise FileFault(
            f"{self.path}: there is no column {asked[:40]!r}; {self.choose(what)} among the "
            f"columns: {self.labels(free)}"
        )

    def one(self, found: list[int], what: str) -> int:
        """Give the one column that was found.

        Parameters
        ----------
        found : list of int
            Places, at least one.
        what : str
            What the column is of, as the option is called.

        Returns
        -------
        int
            Its place.

        Raises
        ------
        FileFault
            When there are several.
        """
        if len(found) == 1:
            return found[0]
        raise FileFault(
            f"{self.path}: columns {self.labels(found)} may be the {what}; {self.choose(what)}, "
            f"or by number: {' or '.join(str(n + 1) for n in found)}"
        )

    def choose(self, *what: str) -> str:
        """Say how the person chooses a column.

        Parameters
        ----------
        *what : str
            What the columns are of, as the options are called.

        Returns
        -------
        str
            For a message.
        """
        given = "HEADER" if self.header.width else "NUMBER"
        return "choose with " + " and ".join(f"--{each} {given}" for each in what)

    def labels(self, places: list[int]) -> str:
        """Name columns for a message.

        Parameters
        ----------
        places : list of int
            Counted from 0.

        Returns
        -------
        str
            With commas between them.
        """
        return ", ".join(self.header.label(n) for n in places)
