"""The course of a stack's moisture content as rows to draw: up to its last weighing, and on."""

from __future__ import annotations

from collections.abc import Mapping

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.table import Column

CURVES = "Curves"
DAY = f"{DATE};;"
"""A date; nothing where there is none, which is a 0."""

FROM_STACKS = (
    "species",
    "sawn",
    "green",
    "start",
    "air",
    "rate",
    "known_on",
    "known_mc",
    "place",
    "move_date",
    "move_place",
    "move_air",
)
"""Columns of Stacks that a course rests on."""

TWO_YEARS = 730
"""Days that are drawn of a stack that does not reach its target."""
CLOSER_AT_FIRST = 1.75
"""Power of the spacing: wood dries fastest at first."""


def begins(cells: Mapping[str, str]) -> str:
    """Write the formula of the day on which the forecast begins.

    Parameters
    ----------
    cells : mapping
        Names or addresses of cells: those of `FROM_STACKS`, and "drawn", 1 or 0.

    Returns
    -------
    str
        Of the last weighing, or of the start where there is none.
    """
    measured = cells["known_on"]
    return f"=IF({cells['drawn']}=0,0,IF(ISNUMBER({measured}),{measured},{cells['start']}))"


def course(
    cells: Mapping[str, str],
    otherwise: tuple[str, str],
    rows: tuple[int, int],
    at: tuple[int, int],
    spread: str = "",
) -> tuple[Block, Block]:
    """Declare the rows of a course.

    Parameters
    ----------
    cells : mapping
        Names or addresses of cells: those of `FROM_STACKS`, "drawn", 1 or 0, "begin" and "to",
        days on which the forecast begins and on which the drawing ends.
    otherwise : tuple of str
        Day and moisture content of every row where nothing is drawn.
    rows : tuple of int
        How many up to the last weighing, and how many from it on.
    at : tuple of int
        Header row and number of the first column.
    spread : str
        Cell with the spread of the rate: adds the early and the late course.

    Returns
    -------
    past, ahead : Block
        With the columns n, day and likely, one under the other. A day without a forecast repeats
        the one before.
    """
    past_rows, ahead_rows = rows
    header_row, left = at
    past = Block(
        CURVES,
        (
            Column("n", "Point", "result", 7, "0"),
            _day(cells, otherwise[0], cells["start"], cells["begin"], past_rows),
            _mc(cells, otherwise[1], "likely", weighed=False),
        ),
        past_rows,
        header_row,
        left,
    )
    bands = [_mc(cells, otherwise[1], band, spread=spread) for band in ("early", "late") if spread]
    ahead = Block(
        CURVES,
        (
            Column("n", "Point", "result", 7, "0"),
            _day(cells, otherwise[0], cells["begin"], cells["to"], ahead_rows),
            _mc(cells, otherwise[1], "likely"),
            *bands,
        ),
        ahead_rows,
        past.last_row,
        left,
        headed=False,
    )
    return past, ahead


def _day(cells: Mapping[str, str], otherwise: str, first: str, last: str, rows: int) -> Column:
    share = f"({{n}}/{rows - 1})^{CLOSER_AT_FIRST}"
    day = f"{first}+ROUND(({last}-{first})*{share},0)"
    return Column("day", "Date", "result", 12, DAY, f"=IF({cells['drawn']}=0,{otherwise},{day})")


def _mc(
    cells: Mapping[str, str],
    otherwise: str,
    band: str,
    *,
    weighed: bool = True,
    spread: str = '""',
) -> Column:
    arguments = [
        *(cells[key] for key in ("species", "sawn", "green", "start")),
        "{day}",
        "climate",
        *(cells[key] for key in ("air", "rate")),
        *((cells["known_on"], cells["known_mc"]) if weighed else ('""', '""')),
        cells["place"],
        spread or '""',
        f'"{band}"',
        *(cells[key] for key in ("move_date", "move_place", "move_air")),
    ]
    forecast = f"IFERROR(MC_FORECAST({','.join(arguments)}),MAX(0,{{{band}.above}}))"
    return Column(
        band,
        f"{band.capitalize()} (% MC)",
        "result",
        9,
        "0.0",
        f"=IF({cells['drawn']}=0,{otherwise},{forecast})",
    )


def course_area(parts: tuple[Block, Block], key: str) -> str:
    """Give the cells of a course's column over both of its parts.

    Parameters
    ----------
    parts : tuple of Block
        From `course`.
    key : str
        "day" or "likely".

    Returns
    -------
    str
        Such as "'Curves'!$C$5:$C$64".
    """
    past, ahead = parts
    return f"{past.area(key).split(':')[0]}:{ahead.area(key).split(':')[1]}"
