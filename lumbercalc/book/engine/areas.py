"""Which areas of a workbook a formula fills and reads, as the engine compiled it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import formulas

from lumbercalc.book.xlsx.places import Area


def formula_cells(
    model: formulas.ExcelModel, names: Mapping[str, str]
) -> Iterator[tuple[Any, Area]]:
    """Give the formulas of a model, without its constants and defined names.

    Parameters
    ----------
    model : ExcelModel
        With the cells of the workbook.
    names : mapping of str to str
        Names of the sheets by those that the engine knows them by.

    Yields
    ------
    tuple of Cell and Area
        Of the engine; with the cells that it fills.
    """
    for cell in model.cells.values():
        if cell.func is not None and cell.range is not None:
            [area] = areas_of(cell.range, names, "")
            yield cell, area


def areas_read(
    model: formulas.ExcelModel, cell: Any, names: Mapping[str, str], own: str
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

    Yields
    ------
    Area
        Of any sheet of the workbook.
    """
    waiting, seen = [cell], set()
    while waiting:
        func = waiting.pop().func
        for key, ranges in (func.inputs if func else {}).items():
            named = model.cells.get(key)
            if named is not None and named.range is None:
                if key not in seen:  # names may stand in each other, in more ways than can be gone
                    seen.add(key)
                    waiting.append(named)
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
