"""Patterns of COUNTIF and MATCH in the engine: what they fit, and that they cost no time."""

from __future__ import annotations

import time
from fnmatch import translate
from pathlib import Path
from re import fullmatch

from hypothesis import given
from hypothesis import strategies as st
from openpyxl.workbook import Workbook

from lumbercalc.book.engine.compute import compute
from lumbercalc.book.engine.patterns import compile_whole

LETTERS = st.text("ab", max_size=12)
PATTERNS = st.text("ab*?", max_size=8)


@given(PATTERNS, LETTERS)
def test_it_fits_what_a_shells_pattern_fits(pattern: str, text: str) -> None:
    """Python's fnmatch, which has the same * and ? for whole names."""
    ours = compile_whole(pattern.replace("*", ".*").replace("?", ".?"))
    assert bool(ours.match(text)) == bool(fullmatch(translate(pattern), text))


def test_countif_and_match_answer_for_the_whole_cell_at_once(tmp_path: Path) -> None:
    """Excel's rules for criteria: * any letters, ? one, the whole cell, in any case."""
    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    sheet.title = "Mine"
    for row, text in enumerate(("Oak 1", "Oak 10", "Walnut 1", "1a", "May", "a" * 800), 1):
        sheet[f"A{row}"] = text
    for row, formula in enumerate(
        (
            '=COUNTIF(A1:A6,"oak*")',
            '=COUNTIF(A1:A6,"oak ?")',
            '=COUNTIF(A1:A6,"*1")',
            '=COUNTIF(A1:A6,"2a")',
            '=COUNTIF(A1:A6,"*a*a*a*a*a*b")',
            '=MATCH("wal*1",A1:A6,0)',
            '=IFERROR(MATCH("*a*a*a*a*a*b",A1:A6,0),0)',
        ),
        1,
    ):
        sheet[f"B{row}"] = formula
    workbook.save(tmp_path / "mine.xlsx")
    before = time.process_time()
    computed = compute(tmp_path / "mine.xlsx", ())
    assert [computed["Mine", f"B{row}"] for row in range(1, 8)] == [2, 1, 2, 0, 0, 3, 0]
    assert time.process_time() - before < 2
