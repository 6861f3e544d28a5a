"""INDEX of one cell is what the engine's own INDEX gives, in a time that no column lengthens."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from formulas.ranges import Ranges

from lumbercalc.book.engine import compute as computing
from lumbercalc.book.engine import functions
from lumbercalc.book.engine.index import of_one_cell
from tests.book.checking.test_check import Cells, book

BLOCK = ((1, 2, 3), (4.5, "oak", True), ("7", 8, 9), (None, 5, 6), (0, 1))
AREAS = ("$A$1:$A$5", "$A$1:$C$1", "$A$1:$C$5", "$A$1", "mine")
NUMBERS = ("1", "3", "5", "6", "-1", "2.7")
PLACES = (*NUMBERS, "E1", "E2", "E3", "E4", "1/0", "TRUE", "MATCH(9,E1:E4,0)")
FORMULAS = (
    *(f"=INDEX({area},{place})" for area in AREAS for place in PLACES),
    *(
        f"=INDEX({area},{row},{column})"
        for area in AREAS[:4]
        for row in PLACES
        for column in (1, 2, 4)
    ),
    '=IFERROR(INDEX($A$1:$A$5,"")&"","none")',
    '=IF(INDEX($A$1:$A$5,4)="","blank","not")',
    "=SUMPRODUCT(INDEX($A$1:$A$5,{1;2}))",
    "=ROW(INDEX($A$1:$A$5,2))",
)
"""E1 is 2, E2 blank, E3 a text, E4 "3"; A4 is blank."""


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    cells: Cells = {
        f"{letter}{row}": cell
        for row, cells in enumerate(BLOCK, 1)
        for letter, cell in zip("ABC", cells, strict=False)
    }
    places = {f"E{row}": cell for row, cell in enumerate((2, None, "x", "3"), 1)}
    formulas = {f"H{row}": formula for row, formula in enumerate(FORMULAS, 1)}
    path = tmp_path_factory.mktemp("index") / "asked.xlsx"
    return book(path, {**cells, **places, **formulas}, mine="'Mine'!$B$1:$B$5")


def test_it_answers_as_the_engines_own(asked: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    ours = computing.compute(asked)
    monkeypatch.setattr(functions, "of_one_cell", lambda index: index)
    own = computing.compute(asked)
    differing = {
        FORMULAS[int(address[1:]) - 1]: (ours[sheet, address], value)
        for (sheet, address), value in own.items()
        if ours[sheet, address] != value
    }
    assert not differing
    assert len(own) == len(FORMULAS)
    assert len(set(own.values())) > 10


def test_one_cell_of_a_long_column_is_all_that_is_looked_at() -> None:
    looked_at: list[Any] = []
    index = of_one_cell(lambda compiling, area, *place: looked_at.append(area.ranges[0]["ref"]))
    column = Ranges().push("A1:A10000", [[row] for row in range(10_000)])
    index(False, column, 7_000)
    assert looked_at == ["A7000"]


def test_0_asks_for_a_whole_row_or_column(tmp_path: Path) -> None:
    """As live Calc (25.2.3) does, where nothing between the commas is 0 too."""
    cells: Cells = {"A1": 1, "B1": 2, "A2": 4, "B2": 8, "A3": 16, "B3": 32}
    sums = {
        "=SUM(INDEX(A1:B3,0,2))": 42, "=SUM(INDEX(A1:B3,2,0))": 12, "=SUM(INDEX(A1:B3,,1))": 21,
        "=SUM(INDEX(A1:A3,0))": 21, "=SUM(INDEX(A1:A3,))": 21, "=SUM(INDEX(A1:B3,0,0))": 63,
        "=SUM(INDEX(A1:B1,0))": 3, "=COUNT(INDEX(A1:B3,0,2))": 3,
        "=INDEX(B1:B3,MATCH(1,INDEX((A1:A3=4)*(B1:B3=8),0),0))": 8,
        "=SUM(INDEX(A1:B3,0,MATCH(2,A1:B1,0)))": 42,
    }  # fmt: skip
    formulas = {f"H{row}": formula for row, formula in enumerate(sums, 1)}
    values = computing.compute(book(tmp_path / "mine.xlsx", {**cells, **formulas}))
    assert {formula: values["Mine", place] for place, formula in formulas.items()} == sums
