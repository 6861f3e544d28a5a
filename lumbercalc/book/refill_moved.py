"""Bring over the inputs that stand elsewhere today, as the table of `moves` says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lumbercalc.book.inputs import Cells, Kind, Rows
from lumbercalc.book.kept import type_in
from lumbercalc.book.moves import Move, Moves
from lumbercalc.book.old_workbook import Area, OldWorkbook, Place
from lumbercalc.book.refill import Refill
from lumbercalc.book.refill_inputs import column_under


@dataclass(frozen=True)
class Way:
    """From a cell to another.

    Parameters
    ----------
    source : tuple or None
        Sheet, row and column before; None writes the text of the move.
    target : tuple
        Now.
    kind : Kind
        What the target may hold.
    text : str
        In place of a blank source.
    """

    source: Place | None
    target: Place
    kind: Kind
    text: str


def move_together(
    bring: Refill, moves: Moves, all_rows: list[Rows], single: dict[str, Cells]
) -> None:
    """Move inputs together: what goes to a table's column begins in its first free row.

    Parameters
    ----------
    bring : Refill
        Takes them.
    moves : Moves
        Which ones; they are of templates before `moves.before` only.
    all_rows : list of Rows
        The tables of today's template.
    single : dict of str to Cells
        Its other inputs.
    """
    if bring.template >= moves.before or not _anything_typed(bring.old, moves):
        return
    columns = {name: (rows, key) for rows in all_rows for key, name in rows.names.items() if name}
    free = {rows.table.sheet: rows.first_row + bring.rows.get(rows.table.sheet, 0)
            for rows in all_rows}  # fmt: skip
    ways: list[Way] = []
    for move in moves.lines:
        if move.when and bring.old.value(move.when[0]) != move.when[1]:
            continue
        if move.new in single:
            ways += _to_cells(bring.old, move, single[move.new])
        elif move.new in columns:
            rows, key = columns[move.new]
            ways += _to_column(bring.old, move, rows, key, free[rows.table.sheet])
        else:
            continue
        if move.when:  # the place where it is now says what stood there
            bring.done.update(bring.old.names[move.when[0]].places)
    filled = set()
    for way in ways:
        if way.source in bring.old.cells and way.source is not None:
            bring.place(way.source, way.target, way.kind)
        elif way.text:
            type_in(bring.cell(way.target), way.text)
        else:
            continue
        filled.add(way.target[:2])
    for sheet in free:
        added = sum(title == sheet and row >= free[sheet] for title, row in filled)
        bring.rows[sheet] = bring.rows.get(sheet, 0) + added


def _anything_typed(old: OldWorkbook, moves: Moves) -> bool:
    """Tell whether there is more than a blank template had."""
    return any(
        old.cells[place].value != moves.defaults.get(name)
        for name in {move.old for move in moves.lines} & old.names.keys()
        for place in old.names[name].places
        if place in old.cells
    )


def _to_cells(old: OldWorkbook, move: Move, cells: Cells) -> Iterator[Way]:
    for source, target in zip(_sources(old, move), cells.places, strict=False):
        yield Way(source, target, cells.kind, move.text)


def _to_column(old: OldWorkbook, move: Move, rows: Rows, key: str, first: int) -> Iterator[Way]:
    column, kind = (rows.table.sheet, rows.number(key)), rows.kind(key)
    sources = _sources(old, move)
    if not move.old:
        yield Way(None, (column[0], first, column[1]), kind, move.text)
    for below, source in enumerate(sources):
        if move.for_each and old.names[move.for_each].places[below] not in old.cells:
            continue
        yield Way(source, (column[0], first + below, column[1]), kind, move.text)


def _sources(old: OldWorkbook, move: Move) -> list[Place]:
    """Give the cells that move; one that is repeated as many times as there are rows."""
    area = old.names.get(move.old)
    if area is None:
        return []
    if move.for_each:
        there = old.names.get(move.for_each)
        return [] if there is None else area.places[:1] * len(there.places)
    if move.header:
        for header_row in range(area.first_row - 1, 0, -1):
            column = column_under(old, area.sheet, header_row, move.header)
            if column is not None:
                return Area(area.sheet, column, area.first_row, column, area.last_row).places
        return []
    return area.places
