"""Blank cells that LibreOffice hands over as 0: told where nobody means 0 by them."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.checking.check import check
from lumbercalc.book.checking.finding import Kind
from tests.book.checking.test_as_saved import by_calc
from tests.book.checking.test_check import Cells, book, told

AS_0 = "which LibreOffice counts as 0"
READINGS: Cells = {"A1": 7.5, "A2": 8, "A3": 8.2, "A4": 7.9}


@pytest.mark.parametrize(
    ("formula", "line"),
    [
        ("=EMC(C1,B1)", f"EMC: temp_f is the blank cell C1, {AS_0} deg F; type the value"),
        ("=ROUND(EMC($C$1,50),1)",
         f"EMC: temp_f is the blank cell C1, {AS_0} deg F; type the value"),
        ("=EMC(warm,50)", f"EMC: temp_f is the blank cell C1, {AS_0} deg F; type the value"),
        ("=EMC(Rates!C1,B1)",
         f"EMC: temp_f is the blank cell Rates!C1, {AS_0} deg F; type the value"),
        ('=MC_PIN(B2,"white oak",C1)',
         f"MC_PIN: wood_temp_f is the blank cell C1, {AS_0} deg F; type the value"),
        ('=SHRINKAGE("black walnut","tangential",B1,C1)',
         f"SHRINKAGE: mc_to is the blank cell C1, {AS_0} % MC; type the value"),
        ("=READINESS(A1:A4,8,C1)",  # no limit above 0 is left: "not ready"
         f"READINESS: tolerance is the blank cell C1, {AS_0} % MC; type the value, or leave the "
         "argument out (then 1)"),
        ('=IF(B1>0,IFERROR(EMC(C1,B1),""),"")',
         f"EMC: temp_f is the blank cell C1, {AS_0} deg F; type the value"),
        ("=EMC(C1,50)", None),  # nothing else of the row is there: it may be blank to its end
        ("=EMC(C1,$B$1)", None),
        ("=EMC(C$1,$B$1)", None),
        ("=RH_FOR_EMC(C1,C2)", None),
        ('=IF(C1="","",EMC(C1,B1))', None),
        ('=IF(B1<0,EMC(C1,B1),"none")', None),
        ("=EMC(N(C1),B1)", None),  # made a 0 on purpose
        ("=LINE_TOTAL(B1,8,C1)", None),  # no discount, as if left out
        ("=SALES_TAX(B1,C1)", None),  # a blank amount means none
        ("=MEAN_EMC(C1:C2,B1:B2)", None),  # blank cells of an area stay blank
        ("=READINESS(A1:A4,8)", None),
    ],
)  # fmt: skip
def test_a_blank_cell_that_counts_as_0_is_told(
    tmp_path: Path, formula: str, line: str | None
) -> None:
    cells = {**READINGS, "B1": 50, "B2": 12, "D1": formula}
    path = book(tmp_path / "mine.xlsx", cells, warm="Mine!$C$1")
    assert told(check(path), Kind.BLANK) == []  # blank in Excel, and no answer or the default
    assert told(check(by_calc(path)), Kind.BLANK) == ([f"Mine!D1: {line}"] if line else [])


def test_a_blank_cell_that_many_formulas_read_is_told_once(tmp_path: Path) -> None:
    cells = {f"A{row}": 30 + row for row in range(1, 5)}
    formulas = {f"B{row}": f"=EMC($C$1,A{row})" for row in range(1, 7)}
    checked = check(by_calc(book(tmp_path / "mine.xlsx", {**cells, **formulas})))
    [line] = told(checked, Kind.BLANK)
    assert line.startswith("Mine!B1: EMC: temp_f is the blank cell C1")
    assert line.endswith("; type the value; 3 more formulas read it")
    assert [line.split(": ")[0] for line in told(checked, Kind.REFUSED)] == ["Mine!B5", "Mine!B6"]


def test_a_refusal_for_a_blank_cell_says_so(tmp_path: Path) -> None:
    checked = check(by_calc(book(tmp_path / "mine.xlsx", {"B1": 70, "D1": "=EMC(B1,C1)"})))
    assert told(checked, Kind.REFUSED) == [
        "Mine!D1: EMC: rh_pct is 0 % RH; it must be from 1 to 100 % RH (C1 is blank, which "
        "LibreOffice counts as 0)"
    ]
    typed = {"B1": 70, "C1": 0, "D1": "=EMC(B1,C1)"}
    [line] = told(check(by_calc(book(tmp_path / "mine.xlsx", typed))), Kind.REFUSED)
    assert line.endswith("from 1 to 100 % RH")
