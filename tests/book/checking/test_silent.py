"""What a shop's own formulas show nothing of: hidden refusals, answers that are cut off."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.checking.check import check
from lumbercalc.book.checking.finding import Kind
from tests.book.checking.test_as_saved import by_calc
from tests.book.checking.test_check import Cells, book, exchange, told

WIDTHS: Cells = {"A1": 6, "A2": -7, "A3": 9, "A4": 140}
WET = "EMC: rh_pct is 140 % RH; it must be from 1 to 100 % RH"
NARROW = "BOARD_FEET: width_in is -7 in; it must be from 0.25 to 120 in"


@pytest.mark.parametrize(
    ("formula", "line"),
    [
        ('=IFERROR(EMC(70,A4),"")', f"it shows nothing in place of a refusal: {WET}"),
        ("=IFERROR(ROUND(EMC(70,A4),1),0)", f"it shows 0 in place of a refusal: {WET}"),
        ('=IFERROR(EMC(70,A4),"-")', f'it shows the text "-" in place of a refusal: {WET}'),
        ("=IFERROR(EMC(70,A4),0)+2", f"it shows 2 in place of a refusal: {WET}"),
        (
            '=IF(ISERROR(EMC(70,A4)),"",EMC(70,A4))',
            f"it shows nothing in place of a refusal: {WET}",
        ),
        ('=IF(ISNUMBER(EMC(70,A4)),EMC(70,A4),"")',
         f"it shows nothing in place of a refusal: {WET}"),
        ("=IFERROR(EMC(70,140),0)", f"it shows 0 in place of a refusal: {WET}"),  # constants alone
        ("=IFERROR(ROUND(EMC(70,140),1),0)*2", f"it shows 0 in place of a refusal: {WET}"),
        ('=IF(ISERROR(EMC(70,140)),"",EMC(70,140))',
         f"it shows nothing in place of a refusal: {WET}"),
        ('=IFERROR(EMC(70,140),"look")', None),
        ('=IFERROR(EMC(70,50),0)', None),
        ("=SUM(IFERROR(BOARD_FEET(1,A1:A3,12),0))",  # 6 in x 12 ft are 6 bf, 9 in 9 (definition)
         f"it shows 15 in place of a refusal: {NARROW}"),
        ('=IFERROR(EMC(70,A4),"look")', None),  # it says itself that something is wrong
        ('=IFERROR(EMC(70,A4),PROBLEM("EMC",70,A4))', None),
        ("=IFERROR(EMC(70,A4),EMC(70,50))", None),  # a second way to the figure
        ('=IFERROR(EMC(70,50),"")', None),
        ('=IFERROR(EMC(C1,C2),"")', None),  # blank cells
        ('=IF(C1="","",IFERROR(EMC(70,A4),""))', None),  # not asked for
        ('=IFERROR(IF(A1>0,EMC(70,50),EMC(70,A4)),"")', None),
        ("=SUMPRODUCT(ISERROR(BOARD_FEET(1,A1:A3,12))*1)", None),  # it counts them
        ('=IFERROR(EMC(70,1/0),"")', None),  # not refused: an error that came in
    ],
)  # fmt: skip
def test_a_refusal_that_shows_nothing_is_told(
    tmp_path: Path, formula: str, line: str | None
) -> None:
    path = book(tmp_path / "mine.xlsx", {**WIDTHS, "B1": ArrayFormula("B1", formula)})
    for save in (Path, by_calc):
        checked = check(save(path))
        assert told(checked, Kind.HIDDEN) == ([f"Mine!B1: {line}"] if line else [])
        assert told(checked, Kind.REFUSED) == []


def test_a_refusal_of_another_cell_is_told_there_only(tmp_path: Path) -> None:
    cells = {**WIDTHS, "B1": "=BOARD_FEET(1,A2,12)", "B2": '=IFERROR(BOARD_FEET(1,B1,12),"")'}
    checked = check(book(tmp_path / "mine.xlsx", cells))
    assert told(checked, Kind.REFUSED) == [f"Mine!B1: {NARROW}"]
    assert told(checked, Kind.HIDDEN) == []


def test_a_cell_of_an_array_formula_that_shows_nothing_is_told(tmp_path: Path) -> None:
    array = ArrayFormula("B1:B3", '=IFERROR(BOARD_FEET(1,A1:A3,12),"")')
    checked = check(book(tmp_path / "mine.xlsx", {**WIDTHS, "B1": array}))
    assert told(checked, Kind.HIDDEN) == [
        f"Mine!B2: it shows nothing in place of a refusal: {NARROW}"
    ]


# board feet of two species, with a line for each species and its total, and one for all: 5 x 4
TALLY = "=TALLY_SUMMARY(A1:A2,B1:B2,C1:C2)"
BOARDS: Cells = {"A1": "cherry", "A2": "white oak", "B1": 1, "B2": 2, "C1": 5, "C2": 6}


@pytest.mark.parametrize(
    ("where", "formula", "sizes"),
    [
        ("E1:H5", TALLY, None),
        ("E1:J9", TALLY, None),  # #N/A behind the answer: room for more
        ("E1:H3", TALLY, ("5 x 4", "3 x 4")),
        ("E1:F9", TALLY, ("5 x 4", "9 x 2")),
        ("E1:I4", TALLY, ("5 x 4", "4 x 5")),  # as many cells, of another height
        ("E1", TALLY, ("5 x 4", "1 x 1")),
        ("E1:E2", f"=IFERROR({TALLY[1:]},0)", ("5 x 4", "2 x 1")),
        ("E1", "=EMC(70,B1:B2*20)", ("2 x 1", "1 x 1")),
        ("E1", f"=INDEX({TALLY[1:]},2,4)", None),
        ("E1", f"=ROWS({TALLY[1:]})", None),
        ("E1", "=SUM(BOARD_FEET(1,C1:C2,8))", None),
        ("E1:F2", "=EMC(70,50)", None),
    ],
)
def test_an_answer_with_too_few_cells_is_told(
    tmp_path: Path, where: str, formula: str, sizes: tuple[str, str] | None
) -> None:
    array = ArrayFormula(where, formula)
    checked = check(book(tmp_path / "mine.xlsx", {**BOARDS, "E1": array}))
    assert told(checked, Kind.REFUSED) == []
    lines = told(checked, Kind.CUT_OFF)
    if sizes is None:
        assert lines == []
    else:
        needed, there = sizes
        assert lines == [
            f"Mine!E1: the answer has {needed} cells (rows x columns), {there} are there: the rest "
            "is cut off; enter it as an array formula in as many"
        ]


def test_a_block_in_a_plain_formula_shows_its_first_cell_only(tmp_path: Path) -> None:
    """As live Calc (25.2.3) shows it."""
    [line] = told(check(book(tmp_path / "mine.xlsx", {**BOARDS, "E1": TALLY})), Kind.CUT_OFF)
    assert line.startswith("Mine!E1: the answer has 5 x 4 cells (rows x columns), 1 x 1 are there")


@pytest.mark.parametrize("quote", ['"', "'"])
def test_what_excel_lets_spill_is_not_cut_off(tmp_path: Path, quote: str) -> None:
    path = book(tmp_path / "mine.xlsx", {**BOARDS, "E1": ArrayFormula("E1", TALLY)})
    # the attribute cm of c: index of the cell's metadata (ECMA-376 part 1, 18.3.1.4)
    marked = f"<c r={quote}E1{quote} cm={quote}1{quote}".encode()
    exchange(path, "xl/worksheets/sheet1.xml", b'<c r="E1"', marked)
    assert told(check(path), Kind.CUT_OFF) == []
