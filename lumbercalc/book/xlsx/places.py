"""Where cells are: the place of one, an area of several, and an address."""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.utils.cell import get_column_letter

Place = tuple[str, int, int]
"""Sheet, row, column."""


@dataclass(frozen=True)
class Area:
    """A rectangle of cells on a sheet.

    Parameters
    ----------
    sheet : str
        Where they are.
    first_column, first_row, last_column, last_row : int
        Both ends belong to it.
    """

    sheet: str
    first_column: int
    first_row: int
    last_column: int
    last_row: int

    @property
    def first(self) -> Place:
        """The cell at its top left."""
        return self.sheet, self.first_row, self.first_column

    @property
    def height(self) -> int:
        """Rows of it."""
        return self.last_row - self.first_row + 1

    @property
    def width(self) -> int:
        """Columns of it."""
        return self.last_column - self.first_column + 1

    @property
    def places(self) -> list[Place]:
        """Its cells, row by row."""
        return [
            (self.sheet, row, column)
            for row in range(self.first_row, self.last_row + 1)
            for column in range(self.first_column, self.last_column + 1)
        ]


def address(place: Place) -> str:
    """Write a cell's address.

    Parameters
    ----------
    place : tuple
        Sheet, row and column.

    Returns
    -------
    str
        Such as "C7".
    """
    return f"{get_column_letter(place[2])}{place[1]}"
