"""What is read in a formula: calls, names, references that lead nowhere, areas cut down."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lumbercalc.book.engine.formula_reader import read_formula
from lumbercalc.book.engine.formula_text import Known

KNOWN = Known(
    {"mine": (40, 6), "last year": (10, 3), "it's": (1, 1), "far": (1_048_576, 2)},
    {"rate", "place_emc"},
    {"local"},
    {"SUM", "IF", "LET", "XLOOKUP", "EMC"},
)


@pytest.mark.parametrize(
    ("formula", "text"),
    [
        ("=EMC(70,A1)", "=EMC(70,A1)"),
        ("=_xlfn.EMC(70,[1]!EMC(70,50))", "=EMC(70,EMC(70,50))"),
        ('=_xlfn.EMC(70,LEN("_xlfn.EMC("))', '=EMC(70,LEN("_xlfn.EMC("))'),
        ("=_xlfn.XLOOKUP(A1,A1:A3,B1:B3)", "=_xlfn.XLOOKUP(A1,A1:A3,B1:B3)"),
        ("=SUM(A:A)", "=SUM($A$1:$A$40)"),
        ("=SUM($A:$C)", "=SUM($A$1:$C$40)"),
        ("=SUM('Last year'!A:B)+SUM(A:A)", "=SUM('Last year'!$A$1:$B$10)+SUM($A$1:$A$40)"),
        ("=SUM(A1:A1048576)", "=SUM($A$1:$A$40)"),
        ("=SUM(B1048576:A1)", "=SUM($A$1:$B$40)"),
        ("=SUM(3:9)", "=SUM($A$3:$F$9)"),
        ("=SUM(A1:C99)", "=SUM(A1:C99)"),
        ('=IF(A1="A:A","A:A",1)', '=IF(A1="A:A","A:A",1)'),
        ("=SUM('It''s'!A1)", "=SUM('It\ue000s'!A1)"),
        ("=SUM('It''s'!A:A,A1)&\"It''s\"", "=SUM('It\ue000s'!$A$1:$A$1,A1)&\"It''s\""),
    ],
)
def test_text_for_the_engine(formula: str, text: str) -> None:
    found = read_formula(formula, "Mine", KNOWN)
    assert found.text == text
    assert found.broken == []


@pytest.mark.parametrize(
    ("formula", "calls"),
    [
        ("=BOARD_FEET(1,2,3)", {"BOARD_FEET"}),
        ("=board_feet(1,Emc(70,50),3)", {"BOARD_FEET", "EMC"}),
        ('=IF(EMC(70,50)>9,PROBLEM("EMC",1,2),0)', {"EMC", "PROBLEM"}),
        ('="EMC(70,50)"&SUM(A1)', set()),
        ("=MYEMC(1)+EMCX(2)", set()),
        ("='EMC(1)'!A1", set()),
    ],
)
def test_calls_of_our_functions(formula: str, calls: set[str]) -> None:
    assert read_formula(formula, "Mine", KNOWN).calls == calls


@pytest.mark.parametrize(
    ("formula", "alone"),
    [
        ("=D:D*1", "D:D"),
        ("=(D1:D4)*2", "D1:D4"),
        ("=SUM(A1)+$D$1:$D$4", "$D$1:$D$4"),
        ("=widths*2", "widths"),
        ("=SUM(D1:D4)*2", ""),
        ("=SUM((D1:D4)*2)", ""),
        ("=IF(SUM(widths)>(1+2),D1,0)", ""),
        ("=rate*D1", ""),
    ],
)
def test_areas_outside_of_any_function(formula: str, alone: str) -> None:
    known = replace(KNOWN, names={"rate", "widths"}, columns={"widths"})
    found = read_formula(formula, "Mine", known).alone
    assert found == ([f"which cell of {alone} is meant is not followed"] if alone else [])


@pytest.mark.parametrize(
    ("formula", "names"),
    [
        ("=rate*2", {"rate"}),
        ("=INDEX(place_emc,1)+TRUE", {"place_emc"}),
        ("=_xlfn.LET(_xlpm.x,1,_xlpm.x+rate)", {"rate"}),
        ("=1E5+A1+$B$2+XFD1048576", set()),
        ("=Widths[[#This Row],[rate]]", set()),
    ],
)
def test_names(formula: str, names: set[str]) -> None:
    found = read_formula(formula, "Mine", KNOWN)
    assert found.names == names
    assert found.broken == []


@pytest.mark.parametrize(
    ("formula", "words"),
    [
        ("=Gone!A1", "there is no sheet 'Gone'"),
        ("='It''s gone'!A1", 'there is no sheet "It\'s gone"'),
        ("=#REF!", "#REF!"),
        ("=[2]Mine!A1", "another workbook"),
        ("='file:///shop/old.xlsx'#$Mine.A1", "another workbook"),
        ("=cmd|'/C touch x'!A0", "another workbook"),
        ("=rates", "the name 'rates' is not in the workbook"),
    ],
)
def test_what_leads_nowhere(formula: str, words: str) -> None:
    assert any(words in told for told in read_formula(formula, "Mine", KNOWN).broken)


@pytest.mark.parametrize(
    ("formula", "words"),
    [
        ("=OFFSET(A1,1,1)", "the function OFFSET"),
        ("=local+1", "is of one sheet only"),
        ("=SUM(Far!A:B)", "more than 100,000 cells in use"),
        ("=RAND()", "another number each time"),
        ('=REPT("x",9)', "not followed"),
        ("=SUM(Mine:Far!A1)", "through several sheets"),
    ],
)
def test_what_is_not_followed(formula: str, words: str) -> None:
    found = read_formula(formula, "Mine", KNOWN)
    assert any(words in told for told in found.not_followed)
    assert found.broken == []
