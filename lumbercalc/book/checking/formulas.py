"""What is wrong with a workbook's formulas: stale, refused, not computed, or leading nowhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lumbercalc.book.checking.blank_cells import of_a_blank
from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.xlsx.cell_value import in_words, is_error, same
from lumbercalc.book.xlsx.places import Place, address

BEYOND = "#N/A"
"""In the cells of an array formula that its answer does not have."""


def stale(fresh: Fresh) -> Iterator[Finding]:
    """Find formulas of ours whose stored value is not the fresh one.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        With both values.
    """
    for place in fresh.ours:
        stored, computed = fresh.old.stored(place), fresh.value(place)
        there = place in fresh.old.cells  # a cell that an array formula fills may not be
        if there and computed is not None and not same(stored, computed):
            yield Finding(Kind.STALE, place, fresh.difference(place))


def refusals(fresh: Fresh) -> Iterator[Finding]:
    """Find formulas of ours that refuse, or come to another error.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        With the reason of the call that refused, and the cell of it where it is another one.
    """
    for place in fresh.ours:
        key = (place[0], address(place))
        computed = fresh.value(place)
        if key in fresh.computed.refusals and is_error(computed):
            origin = fresh.computed.passed_on.get(key)
            told = f" (passed on from {origin[0]}!{origin[1]})" if origin else ""
            reason = fresh.computed.refusals[key]
            yield Finding(Kind.REFUSED, place, reason + (told or of_a_blank(fresh, place, reason)))
        elif is_error(computed) and not (computed == BEYOND and _is_beyond(fresh, place)):
            told = f"it comes to {computed}, an error that came in or arose around the function"
            yield Finding(Kind.REFUSED, place, told)


def _is_beyond(fresh: Fresh, place: Place) -> bool:
    """Tell whether an array formula has no answer for a cell: spreadsheets show #N/A there."""
    first = fresh.filled.get(place)
    answer = fresh.computed.again.answer(first) if first else None
    if first is None or answer is None:
        return False
    return (
        1 < answer.height <= place[1] - first[1]  # one row or column is in every cell
        or 1 < answer.width <= place[2] - first[2]
    )


def not_computed(fresh: Fresh) -> Iterator[Finding]:
    """Find formulas of ours that cannot be computed here.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        With the reason; what is stored was compared with nothing.
    """
    for place in fresh.ours:
        why = fresh.computed.missing.get((place[0], address(place)))
        if why is not None:
            stored = fresh.old.stored(place)
            told = "" if stored is None else f"; stored {in_words(stored)}, compared with nothing"
            yield Finding(Kind.NOT_COMPUTED, place, f"{why}{told}")


def one_an_array(fresh: Fresh, findings: Iterable[Finding]) -> list[Finding]:
    """Tell of an array formula once, at the first of its cells that something is told of.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.
    findings : iterable of Finding
        Of one kind, of cells.

    Returns
    -------
    list of Finding
        With how many more cells of the array are like it.
    """
    by_formula: dict[Place, list[Finding]] = {}
    for finding in findings:
        if not isinstance(finding.place, str):
            formula = fresh.filled.get(finding.place, finding.place)
            by_formula.setdefault(formula, []).append(finding)
    told = []
    for first, *others in by_formula.values():
        more = f"; {len(others)} more of its array formula's cells" if others else ""
        told.append(first._replace(told=first.told + more))
    return told


def misspelt(fresh: Fresh) -> Iterator[Finding]:
    """Find formulas that call nearly one of our functions, and none of them.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        With the function that may be meant.
    """
    for place, text in fresh.texts.items():
        if text.misspelt and not text.calls:
            yield Finding(Kind.NOT_COMPUTED, place, text.misspelt[0])


def references(fresh: Fresh) -> Iterator[Finding]:
    """Find references that lead nowhere or out of the workbook, in any formula or defined name.

    Parameters
    ----------
    fresh : Fresh
        Stored and computed.

    Yields
    ------
    Finding
        One for each kind of broken reference of a formula.
    """
    for place, text in fresh.texts.items():
        for told in text.broken:
            yield Finding(Kind.REFERENCE, place, told)
    for name, text in fresh.names.items():
        for told in text.broken:
            yield Finding(Kind.REFERENCE, f"the name {name[:60]}", told)
