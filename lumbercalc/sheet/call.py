"""One call of a worksheet function, the same for every host: cells in, an answer out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lumbercalc.sheet.answer import Answer, refusal
from lumbercalc.sheet.blanks import is_blank
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.cells import ROWS, Block, block
from lumbercalc.sheet.function import Function
from lumbercalc.sheet.on_blocks import call_on_blocks
from lumbercalc.sheet.on_cell import call_on_cell
from lumbercalc.sheet.on_rows import call_on_rows
from lumbercalc.sheet.refusal import Refused


def call(name: str, arguments: Sequence[Any]) -> Answer:
    """Call a function of the catalogue with cells.

    Parameters
    ----------
    name : str
        Name in the catalogue, without regard to case.
    arguments : sequence
        Cells, rows of cells, or arrays, in the order of the declaration; None for one left out.

    Returns
    -------
    Answer
        A bad cell never raises: its row is a problem and the other rows have their values.

    Examples
    --------
    >>> call("BOARD_FEET", ["8/4", [7.5, -1.0], 8.0]).values
    [10.0, None]
    """
    function = CATALOGUE.get(str(name).strip().upper())
    if function is None:
        return refusal(f'there is no function "{str(name)[:60]}"; see the list of functions')
    try:
        if function.repeats:
            return _explain(arguments)
        cells = _bind(function, arguments)
        if function.takes_blocks:
            return call_on_blocks(function, _blocks(function, cells))
        if function.takes_cells and not any(isinstance(c, ROWS) for c in cells.values()):
            return call_on_cell(function, cells)
        return call_on_rows(function, _blocks(function, cells))
    except Refused as refused:
        return refusal(str(refused))


def _explain(arguments: Sequence[Any]) -> Answer:
    """Answer PROBLEM: the reasons of another call, in its shape."""
    if not arguments or is_blank(arguments[0]):
        return Answer([None], (1, 1))
    named = _block("name", arguments[0])
    if named.size != 1 or not isinstance(named[0, 0], str):
        return refusal("name is not the name of one function in quotes")
    asked = CATALOGUE.get(named[0, 0].strip().upper())
    if asked is not None and asked.repeats:
        return refusal(f"{asked.name} explains the other functions, not itself")
    answer = call(named[0, 0], arguments[1:])
    reasons = answer.remarks | answer.problems
    size = answer.shape[0] * answer.shape[1]
    return Answer([reasons.get(place, "") for place in range(size)], answer.shape)


def _bind(function: Function, given: Sequence[Any]) -> dict[str, Any]:
    """Give the cells of each argument by its name; None where there are none."""
    if len(given) > len(function.arguments):
        raise Refused(
            f"{function.name} takes {len(function.arguments)} arguments, not {len(given)}"
        )
    for argument in function.arguments[len(given) :]:
        if not argument.optional:
            raise Refused(f"{argument.name} is missing: {argument.description}")
    cells = [*given, *[None] * (len(function.arguments) - len(given))]
    return {argument.name: cells[i] for i, argument in enumerate(function.arguments)}


def _blocks(function: Function, cells: dict[str, Any]) -> dict[str, Block | None]:
    blocks: dict[str, Block | None] = {}
    for argument in function.arguments:
        given = cells[argument.name]
        left_out = given is None and argument.optional
        blocks[argument.name] = None if left_out else _block(argument.name, given)
    return blocks


def _block(name: str, given: Any) -> Block:
    try:
        return block(given)
    except Refused as refused:
        raise Refused(f"{name} {refused}") from None
