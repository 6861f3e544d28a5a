"""Formulas that are filled down are read once, and found to be what each is by itself."""

from __future__ import annotations

import pytest

from lumbercalc.book.checking import formula_texts as reading
from lumbercalc.book.checking.formula_texts import formula_texts
from lumbercalc.book.engine.formula_reader import read_formula
from lumbercalc.book.engine.formula_text import Known
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook

KNOWN = Known(
    {"mine": (1_048_576, 6), "last a1": (10, 3)},
    {"rate", "whole", "x\\a1", "tags1"},
    set(),
    {"SUM", "IF", "LEN", "COUNTIF", "EMC"},
    {"whole"},
)
LONG = f'=LEN("{"x" * 8180}")+A'
"""With two digits behind it as long as a formula may be."""


def written(formula: str, rows: range) -> OldWorkbook:
    cells = {("Mine", row, 9): OldCell(None, formula.format(row=row, next=row + 1)) for row in rows}
    return OldWorkbook(cells, {})


@pytest.mark.parametrize(
    ("formula", "rows"),
    [
        ("=EMC(70,A{row})+rate", range(1, 4)),
        ('=IF(A{row}="A1",1,$B$2)', range(1, 4)),
        ("=SUM(A$1:A{row})", range(1, 4)),
        ("=SUM(A$1:A{row})", range(99_999, 100_003)),
        ("=SUM(A{row}:A{next})*A{row}", range(1, 4)),
        ("=A{next}", range(1_048_573, 1_048_576)),
        ("=A{next}", range(9_999_997, 10_000_001)),
        ("='Last A{row}'!B{row}", range(1, 4)),
        ("=x\\A{row}", range(1, 4)),
        ("=_xlfn.EMC(70,A{row})", range(1, 4)),
        ("=tags{row}", range(1, 4)),
        ("=whole+A{row}", range(1, 4)),
        ("=EMCX(70,A{row})", range(1, 4)),
        (LONG + "{row}", range(98, 102)),
    ],
)
def test_each_is_found_as_if_it_were_read_by_itself(formula: str, rows: range) -> None:
    old = written(formula, rows)
    by_itself = {
        place: read_formula(cell.formula, "Mine", KNOWN) for place, cell in old.cells.items()
    }
    for text in by_itself.values():
        text.not_followed += text.alone
    assert formula_texts(old, KNOWN, (), (), ()) == by_itself


def test_the_long_formula_is_too_long_within_its_rows() -> None:
    texts = formula_texts(written(LONG + "{row}", range(98, 102)), KNOWN, (), (), ())
    assert [len(text.not_followed) for text in texts.values()] == [0, 0, 1, 1]


def test_a_column_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []
    monkeypatch.setattr(
        reading,
        "read_formula",
        lambda text, *known: read.append(text) or read_formula(text, *known),
    )
    texts = formula_texts(written("=EMC(70,A{row})", range(1, 40)), KNOWN, (), (), ())
    assert read == ["=EMC(70,A1)"]
    assert [text.text for text in texts.values()][-1] == "=EMC(70,A39)"


def test_what_is_told_of_an_array_formula_is_not_told_of_another() -> None:
    formula = "=EMC(70,50)"
    cells = {
        ("Mine", 1, 9): OldCell(None, formula),
        ("Mine", 2, 9): OldCell(None, formula, "I2:I900000"),
        ("Mine", 3, 9): OldCell(None, formula, "I3:I4"),
    }
    texts = formula_texts(OldWorkbook(cells, {}), KNOWN, [("Mine", 3, 9)], (), ())
    assert [len(text.not_followed) for text in texts.values()] == [0, 1, 0]


def test_a_reader_sees_the_whole_tables() -> None:
    old = written("=SUM(whole)", range(1, 3))
    texts = formula_texts(old, KNOWN, (), {("Mine", 2, 9)}, ("whole",))
    assert [text.text for text in texts.values()] == ["=SUM(whole)", "=SUM(whole__whole)"]
