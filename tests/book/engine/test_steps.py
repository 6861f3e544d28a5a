"""A formula in plain steps is what the engine's own plan gives, errors and blank cells among it."""

from __future__ import annotations

from pathlib import Path

import pytest
import schedula
from formulas.builder import AstBuilder

from lumbercalc.book.engine import compute as computing
from lumbercalc.book.engine import functions, steps
from lumbercalc.book.engine.filled_down import FilledDown
from tests.book.checking.test_check import book

FORMULAS = (
    "=A1+2*A2-A1^2",
    '=IF(A4="",16,A4)',
    '=IF(blank="",16,blank)',
    '=SUMPRODUCT(MAX((whole<>"")*(ROW(whole)-1)))',
    '=A1&" "&A3',
    "=SUM(A1:A4,whole)",
    "=IFERROR(1/A4,A3)",
    "=1/A4",
    "=A3*2",
    "=NO_SUCH_NAME+1",
    "=NO_SUCH_FUNCTION(A1)",
    '=BOARD_FEET("8/4",A1,8)+BOARD_FEET("8/4",A1,8)',
    "=BOARD_FEET(1,-1,8)",
    '=IF(A1>1,"more",1/0)',
    '=IF(A1>9,"more",IF(A4,"blank is true",IF(A3="oak",A4,1/0)))',
    "=IF(A1>9,5)",
    "=IF(A1>1,5)+IF(A1>1,5,A2)",
    "=IF(A3,1,2)",
    "=IF(1/A4,1,2)",
    "=SUM(IF(A1>1,A1:A2,0))",
    "=SUMPRODUCT(IF(A1:A4>2,1,A1:A4))",
    "=COLUMN()+ROW()",
    "=-A1%",
    "=A1=A1",
    "={1,2}",
)


@pytest.fixture(scope="module")
def workbook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    cells = {f"A{row}": cell for row, cell in enumerate((2, 3.5, "oak", None), 1)}
    formulas = {f"C{row}": formula for row, formula in enumerate(FORMULAS, 1)}
    path = tmp_path_factory.mktemp("steps") / "workbook.xlsx"
    return book(path, {**cells, **formulas}, blank="'Mine'!$A$4", whole="'Mine'!$A$1:$A$4")


def test_steps_answer_as_the_engines_own_plan(
    workbook: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ours = computing.compute(workbook)
    monkeypatch.setattr(steps, "register", lambda: None)
    monkeypatch.setattr(AstBuilder, "compile_class", schedula.DispatchPipe)
    own = computing.compute(workbook)
    assert {
        where: (ours[where], value) for where, value in own.items() if ours[where] != value
    } == {}
    assert len(own) == len(FORMULAS)
    assert len(set(map(str, own.values()))) > 8


def test_most_formulas_are_plain_steps(workbook: Path) -> None:
    functions.register()
    model = FilledDown().loads(str(workbook)).finish(complete=False)
    compiled = [cell.func.func for cell in model.cells.values() if cell.func is not None]
    assert all(isinstance(one, steps.Steps) for one in compiled)
    assert all(one.steps is not None for one in compiled)
