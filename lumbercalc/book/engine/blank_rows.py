"""Blank rows of tables that were cut away, for the formulas of a shop's own that read them.

The template's formulas ask for nothing of them. A shop's own may count them, or compare them with
another column: ROWS(stack_name), SUMIF(board_species,"oak",Boards!S5:S5004). They find in each the
values of the blank row that was kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import formulas
from formulas.cell import RangesAssembler

from lumbercalc.book.xlsx.places import Place


class BlankRows:
    """Cells that were cut away, and who reads them.

    Parameters
    ----------
    like : mapping
        Of each such cell, by the sheet in capitals, the column and the row: the row that was kept.
    readers : iterable of tuple
        Sheet in capitals, row and column of the formulas that see the whole tables.
    """

    def __init__(self, like: Mapping[tuple[str, int, int], int], readers: Iterable[Place]) -> None:
        self._like = like
        self._readers = set(readers)

    def assemble(self, model: formulas.ExcelModel, cells: Any) -> None:
        """Make the areas that such formulas read.

        Parameters
        ----------
        model : ExcelModel
            With all its cells.
        cells : dict
            Names of its cells by place, and of its areas, sheet by sheet.
        """
        known = model.dsp.default_values
        for area in sorted(self._read(model)):
            if area in known or model.dsp.dmap.pred.get(area):
                continue
            assembler = _WithBlankRows(area)
            sheet = assembler.range.ranges[0]["sheet_id"]
            for output, places in cells.get("range", {}).get(sheet, ()):
                assembler.push(places, output)
            alone = cells.get("cell", {}).get(sheet, {})
            assembler.push(alone)
            assembler.copy(alone, self._like)
            if assembler.copies:
                assembler.add(model.dsp)

    def _read(self, model: formulas.ExcelModel) -> set[str]:
        """Give the names of the areas that the readers, or the names that they use, read."""
        read: set[str] = set()
        for cell in model.cells.values():
            if cell.range is None or not cell.inputs:
                continue
            corner = cell.range.ranges[0]
            if (corner["sheet"].upper(), int(corner["r1"]), int(corner["n1"])) in self._readers:
                read.update(name for name in cell.inputs if isinstance(name, str))
        for name in tuple(read):
            named = model.cells.get(name)
            if named is not None and named.range is None:
                read.update(each for each in named.inputs or () if isinstance(each, str))
        return {name for name in read if name not in model.cells and "!" in name}


class _WithBlankRows(RangesAssembler):  # type: ignore[misc]  # the engine has no types
    """An area of the engine in which some cells are like others."""

    def __init__(self, area: str) -> None:
        super().__init__(area)
        self.copies: dict[str, list[tuple[int, int]]] = {}

    def copy(
        self, alone: Mapping[tuple[int, int], str], like: Mapping[tuple[str, int, int], int]
    ) -> None:
        """Take the cells that were cut away from those that are blank.

        Parameters
        ----------
        alone : mapping
            Names of the cells of the sheet, by column and row.
        like : mapping
            As of `BlankRows`.
        """
        corner = self.range.ranges[0]
        sheet, top, left = corner["sheet"].upper(), int(corner["r1"]), int(corner["n1"])
        for column, row in tuple(self.missing):
            kept = alone.get((column, like.get((sheet, column, row), 0)))
            if kept is not None:
                self.copies.setdefault(kept, []).append((row - top, column - left))
                self.missing.discard((column, row))
                self.inputs.setdefault(kept, None)

    def __call__(self, *cells: Any) -> Any:
        """Give the values of the area, of its cells that the engine hands over."""
        block = super().__call__(*cells)
        held = dict(zip(self.inputs, cells, strict=False))
        for kept, places in self.copies.items():
            value = held[kept].value[0, 0]
            for row, column in places:
                block[row, column] = value
        return block
