"""Which areas of a workbook a formula reads, as the engine compiled it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import formulas

from lumbercalc.book.xlsx.places import Area

DEEPEST_NAME = 20
"""Defined names that stand in defined names."""


def areas_read(
    model: formulas.ExcelModel, cell: Any, names: Mapping[str, str], own: str, depth: int = 0
) -> Iterator[Area]:
    """Give the areas that a formula reads, those of its defined names among them.

    Parameters
    ----------
    model : ExcelModel
        With the cells of the workbook.
    cell : Cell
        Of the engine.
    names : mapping of str to str
        Names of the sheets by those that the engine knows them by.
    own : str
        The cell's sheet.
    depth : int
        Defined names on the way here.

    Yields
    ------
    Area
        Of any sheet of the workbook.
    """
    for key, ranges in (cell.func.inputs if cell.func else {}).items():
        named = model.cells.get(key)
        if named is not None and named.range is None:
            if named is not cell and depth < DEEPEST_NAME:
                yield from areas_read(model, named, names, own, depth + 1)
        elif hasattr(ranges, "ranges"):
            yield from areas_of(ranges, names, own)


def areas_of(ranges: Any, names: Mapping[str, str], own: str) -> Iterator[Area]:
    """Give the areas of a range of the engine.

    Parameters
    ----------
    ranges : Ranges
        Of the engine.
    names : mapping of str to str
        Names of the sheets by those that the engine knows them by.
    own : str
        Sheet of an area that names none.

    Yields
    ------
    Area
        Of any sheet of the workbook.
    """
    for area in ranges.ranges:
        if sheet := names.get(area.get("sheet", own).upper()):
            last_row, last_column = int(area["r2"]), int(area["n2"])
            yield Area(sheet, int(area["n1"]), int(area["r1"]), last_column, last_row)
