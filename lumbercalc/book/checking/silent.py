"""What goes wrong in a shop's own formulas and shows nothing of it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from openpyxl.utils.cell import coordinate_to_tuple

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.engine.formula_text import FormulaText
from lumbercalc.book.engine.otherwise import Answer
from lumbercalc.book.engine.values import shows_nothing
from lumbercalc.book.xlsx.archive import readable
from lumbercalc.book.xlsx.cell_value import in_words, is_error
from lumbercalc.book.xlsx.parts import sheet_files
from lumbercalc.book.xlsx.places import Place
from lumbercalc.sheet.catalogue import CATALOGUE

CATCHING = re.compile(r"\b(IFERROR|ISERR|ISERROR|ISNUMBER)\s*\(", re.IGNORECASE)
"""What may answer for a refusal."""
INSTEAD = "IFERROR"
"""The one of them that names what is shown for it."""
TELLING = "PROBLEM"
"""The function that tells refusals itself."""
CELL = re.compile(rb"<(?:\w+:)?c\s[^<>]*")
ITS_ADDRESS = re.compile(rb"""\sr=["']([A-Z]+[0-9]+)["']""")
MARKED = re.compile(rb"\scm=")


def hidden(fresh: Fresh) -> Iterator[Finding]:
    """Find refusals for which an IFERROR, or an ISERROR before it, shows nothing.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        With the reason; none of what is refused for blank cells only.
    """
    for place in own_of_ours(fresh):
        text = fresh.texts[place]
        catching = {found.upper() for found in CATCHING.findall(text.text)}
        if not catching or TELLING in text.calls:
            continue
        answer = fresh.computed.again.answer(place, blanks_stay=True, is_frank=True)
        for (row, column), reason in answer.refusals.items() if answer else ():
            cell = (place[0], place[1] + row, place[2] + column)
            shown = fresh.value(cell)
            if shown is None or fresh.filled.get(cell, cell) != place or is_error(shown):
                continue
            if shows_nothing(shown) or INSTEAD in catching:
                told = "nothing" if shown == "" else in_words(shown)
                yield Finding(Kind.HIDDEN, cell, f"it shows {told} in place of a refusal: {reason}")


def cut_off(fresh: Fresh) -> Iterator[Finding]:
    """Find answers of several cells that are given fewer.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        With the cells that the answer needs.
    """
    last: dict[Place, Place] = {}
    for place, first in fresh.filled.items():
        last[first] = max(place, last.get(first, place))
    spilling: set[Place] | None = None
    for place in own_of_ours(fresh):
        if not (fresh.old.cells[place].area or _may_give_rows(fresh.texts[place])):
            continue
        answer = fresh.computed.again.answer(place)
        _, row, column = last.get(place, place)
        height, width = row - place[1] + 1, column - place[2] + 1
        if answer is None or not _holds_more(answer, height, width):
            continue
        spilling = _spilling(fresh) if spilling is None else spilling
        if place not in spilling:
            told = (
                f"the answer has {answer.height:,} x {answer.width:,} cells (rows x columns), "
                f"{height:,} x {width:,} are there: the rest is cut off; enter it as an array "
                "formula in as many"
            )
            yield Finding(Kind.CUT_OFF, place, told)


def own_of_ours(fresh: Fresh) -> Iterator[Place]:
    """Give the shop's own formulas with our functions that were computed.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    tuple
        Place of the formula.
    """
    for place in fresh.ours:
        if place in fresh.own and fresh.value(place) is not None:
            yield place


def _may_give_rows(text: FormulaText) -> bool:
    spills = any(CATALOGUE[name].spills for name in text.calls)
    return spills or ":" in text.text or bool(text.names)


def _holds_more(answer: Answer, height: int, width: int) -> bool:
    """Tell whether something stands in an answer beyond its cells."""
    return any(
        value not in (None, "")
        for row, values in enumerate(answer.values)
        for column, value in enumerate(values)
        if row >= height or column >= width
    )


def _spilling(fresh: Fresh) -> set[Place]:
    """Give the cells that the file marks as formulas to which Excel gives the cells they need."""
    archive = fresh.archive
    found = set()
    with readable(archive.path), archive.parts() as parts:
        for part, sheet in sheet_files(parts).items():
            for cell in CELL.findall(parts.read(part)):
                where = ITS_ADDRESS.search(cell)
                if where and MARKED.search(cell):
                    found.add((sheet, *coordinate_to_tuple(where[1].decode())))
    return found
