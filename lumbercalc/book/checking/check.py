"""Check any saved workbook that uses the functions: the template's, or a person's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from lumbercalc.book.checking.anew import compute_anew
from lumbercalc.book.checking.blank_cells import blanks_as_0
from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.formulas import (
    misspelt,
    not_computed,
    one_an_array,
    references,
    refusals,
    stale,
)
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.checking.rules import rules
from lumbercalc.book.checking.self_tests import self_tests
from lumbercalc.book.checking.silent import cut_off, hidden
from lumbercalc.book.checking.texts import texts


@dataclass(frozen=True)
class Checked:
    """What a check came to.

    Parameters
    ----------
    findings : list of Finding
        Kind by kind, each in the order of the sheets.
    compared : int
        Formulas with our functions whose stored values were compared.
    fresh : Fresh
        The workbook, stored and computed.
    """

    findings: list[Finding]
    compared: int
    fresh: Fresh

    @property
    def formulas(self) -> int:
        """All formulas of the workbook."""
        return len(self.fresh.texts)


def check(path: Path, tell: Callable[[int], None] = lambda _: None) -> Checked:
    """Look at everything that may be wrong in a workbook.

    Parameters
    ----------
    path : Path
        An .xlsx or .xlsm file; it is only read.
    tell : callable
        Is told how many formulas there are before they are computed.

    Returns
    -------
    Checked
        What was found.

    Raises
    ------
    FileFault
        When the file cannot be read.
    """
    fresh = compute_anew(path, tell)
    of_ours = (stale, refusals, not_computed, hidden)
    found = [each for find in of_ours for each in one_an_array(fresh, find(fresh))]
    typed = list(texts(fresh.old))
    found += [
        *blanks_as_0(fresh),
        *cut_off(fresh),
        *typed,
        *misspelt(fresh),
        *references(fresh),
        *rules(fresh, {each.place[:2] for each in typed if not isinstance(each.place, str)}),
        *self_tests(fresh.archive),
    ]
    known = (place for place in fresh.ours if fresh.value(place) is not None)
    compared = len({fresh.filled.get(place, place) for place in known})
    return Checked(_in_order(found, fresh), compared, fresh)


def _in_order(findings: list[Finding], fresh: Fresh) -> list[Finding]:
    kinds = {kind: number for number, kind in enumerate(Kind)}
    sheets = {sheet: number for number, sheet in enumerate(fresh.sheets)}

    def order(finding: Finding) -> tuple[int, int, int, int]:
        if isinstance(finding.place, str):
            return kinds[finding.kind], len(sheets), 0, 0
        sheet, row, column = finding.place
        return kinds[finding.kind], sheets[sheet], row, column

    return sorted(findings, key=order)
