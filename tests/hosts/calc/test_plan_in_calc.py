"""A table of dates, numbers and texts in live Calc: the plan of a move."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial
from lumbercalc.sheet.function import formula_text
from tests.hosts.calc.calc_session import Calc

pytestmark = pytest.mark.calc

ROWS = 9


@pytest.mark.parametrize("target_mc", [12, 4])
def test_the_plan_fills_an_array_formula(calc: Calc, tmp_path: Path, target_mc: float) -> None:
    """4 % MC is below what the air of both places allows: texts stand for the dates."""
    arguments = list(CATALOGUE["MOVE_PLAN"].example.arguments)
    arguments[4] = target_mc
    arguments += [1, 0.8, 1, None, None, 14, ROWS]
    formula = f"MOVE_PLAN({','.join(map(formula_text, arguments))})"
    workbook = openpyxl.Workbook()
    sheet = workbook.worksheets[0]
    sheet["A1"].value = ArrayFormula(f"A1:F{ROWS}", f"={formula}")
    workbook.save(tmp_path / "plan.xlsx")
    calc.open(tmp_path / "plan.xlsx")
    calc.calculate()
    cells = calc.read()
    expected = call("MOVE_PLAN", arguments).rows(problem=str, day=serial)
    assert len(expected) == ROWS
    for number, row in enumerate(expected, 1):
        for letter, value in zip("ABCDEF", row, strict=True):
            cell = cells[f"{letter}{number}"]
            if isinstance(value, str):
                assert (cell.value or "") == value, cell
            else:
                assert cell.value == pytest.approx(value, rel=1e-9, abs=1e-9), cell
