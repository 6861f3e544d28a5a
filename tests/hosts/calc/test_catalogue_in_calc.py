"""Every function in live Calc: its example, and the bad input table with its reasons."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial
from lumbercalc.sheet.function import formula_text
from tests.hosts.calc.calc_session import Calc
from tests.sheet.test_bad_input import BAD_INPUT, bad_arguments, goes_row_by_row

pytestmark = pytest.mark.calc

TOLERANCE = 1e-9
"""Relative: the same arithmetic."""

IN_A_CELL = [
    row
    for row in BAD_INPUT
    # Calc has no infinity, and hands TRUE over as the number 1.
    if isinstance(row[2], str) or (isinstance(row[2], (int, float)) and abs(row[2]) < 1e300)
    if not isinstance(row[2], bool)
]


def in_formula(name: str, arguments: list[Any]) -> str:
    return f"{name}({','.join(map(formula_text, arguments))})"


def answer(name: str, arguments: Any) -> Any:
    """What a host shows in the first cell."""
    cell = call(name, list(arguments)).rows(problem=lambda _: None, day=serial)[0][0]
    return float(cell) if isinstance(cell, bool) else cell


def close(value: Any, expected: Any) -> bool:
    if isinstance(expected, float) and isinstance(value, (int, float)):
        return abs(value - expected) <= TOLERANCE * max(1.0, abs(expected))
    return bool(value == expected)


def test_examples_equal_python(calc: Calc, tmp_path: Path) -> None:
    workbook = openpyxl.Workbook()
    sheet = workbook.worksheets[0]
    for row, function in enumerate(CATALOGUE.values(), 1):
        sheet.cell(row, 1).value = f"={function.formula}"
    workbook.save(tmp_path / "examples.xlsx")
    calc.open(tmp_path / "examples.xlsx")
    calc.calculate()
    cells = calc.read()
    for row, function in enumerate(CATALOGUE.values(), 1):
        expected = answer(function.name, function.example.arguments)
        assert close(cells[f"A{row}"].value, expected), (function.name, cells[f"A{row}"])


def test_bad_input_is_an_error_and_problem_says_why(calc: Calc, tmp_path: Path) -> None:
    workbook = openpyxl.Workbook()
    sheet = workbook.worksheets[0]
    for row, (name, argument, bad) in enumerate(IN_A_CELL, 1):
        arguments = bad_arguments(name, argument, bad)
        sheet.cell(row, 1).value = "=" + in_formula(name, arguments)
        sheet.cell(row, 2).value = "=" + in_formula("PROBLEM", [name, *arguments])
    workbook.save(tmp_path / "bad.xlsx")
    calc.open(tmp_path / "bad.xlsx")
    calc.calculate()
    cells = calc.read()
    for row, (name, argument, bad) in enumerate(IN_A_CELL, 1):
        assert cells[f"A{row}"].kind == "error", (name, argument, bad, cells[f"A{row}"])
        assert argument in str(cells[f"B{row}"].value), (name, argument, bad, cells[f"B{row}"])


def test_a_bad_row_leaves_its_neighbours_alone(calc: Calc, tmp_path: Path) -> None:
    table = [row for row in IN_A_CELL if goes_row_by_row(row[0], row[1])]
    workbook = openpyxl.Workbook()
    sheet = workbook.worksheets[0]
    for number, (name, argument, bad) in enumerate(table):
        names = [each.name for each in CATALOGUE[name].arguments]
        arguments = bad_arguments(name, argument, bad)
        place = names.index(argument)
        example = CATALOGUE[name].example.arguments
        good = example[place] if place < len(example) else CATALOGUE[name].arguments[place].default
        first = 1 + 3 * number
        for row, value in enumerate((good, bad, good), first):
            sheet.cell(row, 1).value = value
            if isinstance(value, str):
                sheet.cell(row, 1).data_type = "s"
        texts = [formula_text(value) for value in arguments]
        texts[place] = f"$A${first}:$A${first + 2}"
        area = f"B{first}:B{first + 2}"
        sheet[f"B{first}"].value = ArrayFormula(area, f"={name}({','.join(texts)})")
    workbook.save(tmp_path / "columns.xlsx")
    calc.open(tmp_path / "columns.xlsx")
    calc.calculate()
    cells = calc.read()
    for number, (name, argument, bad) in enumerate(table):
        above, at, below = (cells[f"B{row}"] for row in range(1 + 3 * number, 4 + 3 * number))
        case = (name, argument, bad)
        assert at.kind == "error", case
        assert above.kind != "error", (case, above)
        assert above.value == below.value, case
