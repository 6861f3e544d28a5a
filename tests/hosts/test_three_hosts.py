"""The same cells through Python, the Excel adapter and live Calc: same values, same refusals."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import numpy as np
import openpyxl
import pytest
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.formula import ArrayFormula

import lumbercalc as lc
from lumbercalc.hosts.excel.functions import refusal_text
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial
from lumbercalc.sheet.refusal import MARKER
from tests.hosts.calc.calc_session import Calc, Cell
from tests.hosts.excel.stand_ins import call_as_excel
from tests.sheet.test_bad_input import BAD_INPUT, bad_arguments

pytestmark = pytest.mark.calc

TOLERANCE = 1e-9
"""Relative: the same arithmetic."""

REFUSED = "refused"


@dataclass(frozen=True)
class Case:
    """One call: a function and the cells of its arguments, alone or in rows."""

    name: str
    cells: tuple[Any, ...]
    what: str


def in_all_hosts(cell: Any) -> bool:
    """Whether a spreadsheet has such a cell and sends it as it is.

    Calc has no infinity and no error that reaches a function, and sends TRUE as the number 1.
    """
    if isinstance(cell, (list, tuple)):
        return all(in_all_hosts(each) for each in cell)
    if isinstance(cell, str):
        return not cell.startswith("#")
    return not isinstance(cell, float) or abs(cell) < 1e300


def cases() -> Iterator[Case]:
    """Every function's example, its bad input, and columns with a blank between two good rows."""
    for function in CATALOGUE.values():
        example = function.example.arguments
        yield Case(function.name, tuple(example), "example")
        if function.takes_blocks or function.repeats:
            continue
        for place, argument in enumerate(function.arguments[: len(example)]):
            if argument.shape == "cell" and argument.kind != "flag":
                column = [[example[place]], [None], [example[place]]]
                yield Case(
                    function.name,
                    (*example[:place], column, *example[place + 1 :]),
                    f"column of {argument.name}",
                )
    yield Case("PROBLEM", ("BOARD_FEET", "8/4", -3, 8), "a reason")
    yield Case("PROBLEM", ("BOARD_FEET", "8/4", 3, 8), "no reason")
    for name, argument, bad in BAD_INPUT:
        if in_all_hosts(bad) and not isinstance(bad, bool):
            yield Case(name, tuple(bad_arguments(name, argument, bad)), f"{argument} {bad}"[:60])


CASES = tuple(cases())


def rows_of(given: Any) -> list[list[Any]]:
    """Arrange the cells of an argument in rows."""
    if not isinstance(given, (list, tuple)):
        return [[given]]
    return [list(row) if isinstance(row, (list, tuple)) else [row] for row in given]


def plain(value: Any) -> Any:
    """A value as a spreadsheet keeps it: dates are serial numbers, TRUE is 1, a blank is ""."""
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return ""
    if isinstance(value, np.datetime64):
        value = value.astype(object)
    if value is None:  # a date that is missing
        return ""
    if isinstance(value, datetime):
        value = value.date()
    if isinstance(value, date):
        return float(serial(value))
    return float(value) if isinstance(value, (bool, int, float, np.number, np.bool_)) else value


def in_python(case: Case) -> tuple[list[Any], str]:
    """Values, row by row, or what is refused."""
    try:
        answer = getattr(lc, case.name.lower())(*case.cells)
    except ValueError as refusal:
        return [REFUSED], str(refusal).removeprefix(f"{case.name.lower()}: ")
    if case.name == "PROBLEM" or isinstance(answer, str):
        return [answer], ""
    cells = np.asarray(answer, dtype=object).ravel() if not np.isscalar(answer) else [answer]
    return [plain(cell) for cell in cells], ""


def in_excel(case: Case) -> tuple[list[Any], str]:
    """The same from the Excel adapter, by xlwings' own code."""
    answer = call_as_excel(case.name, *case.cells)
    cells = [cell for row in answer for cell in row] if isinstance(answer, list) else [answer]
    if len(cells) == 1 and isinstance(cells[0], str) and cells[0].startswith(MARKER):
        return [REFUSED], cells[0]
    return [plain(cell) for cell in cells], ""


@pytest.fixture(scope="module")
def calc_cells(calc: Calc, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Cell]:
    """Every case in one workbook, as cells and formulas; what Calc makes of it."""
    workbook = openpyxl.Workbook()
    given, answers = workbook.worksheets[0], workbook.create_sheet("answers")
    given.title = "given"
    free = row = 1
    for case in CASES:
        column, areas, height = 1, [], 1
        for argument in case.cells:
            cells = rows_of(argument)
            for down, line in enumerate(cells):
                for right, value in enumerate(line):
                    cell = given.cell(free + down, column + right, value)
                    if isinstance(value, str):
                        cell.data_type = "s"
            last = get_column_letter(column + len(cells[0]) - 1)
            first = f"given!${get_column_letter(column)}${free}"
            one = len(cells) == len(cells[0]) == 1
            blank = one and cells[0][0] is None  # a blank cell alone would arrive as 0
            areas.append(
                '""' if blank else first if one else f"{first}:${last}${free + len(cells) - 1}"
            )
            column += len(cells[0])
            height = max(height, len(cells))
        formula = f"={case.name}({','.join(areas)})"
        where = answers.cell(row, 1)
        if case.what.startswith("column"):
            answers[where.coordinate] = ArrayFormula(f"A{row}:A{row + 2}", formula)
        else:
            where.value = formula
        reason = ",".join([f'"{case.name}"', *areas])
        if case.name != "PROBLEM":
            answers.cell(row, 2).value = f"=PROBLEM({reason})"
        free, row = free + height, row + 3
    path = tmp_path_factory.mktemp("three") / "three.xlsx"
    workbook.save(path)
    calc.open(path)
    calc.calculate()
    return calc.read("answers")


def in_calc(cells: dict[str, Cell], number: int) -> tuple[list[Any], str]:
    """Values, row by row, or what is refused, with PROBLEM's words."""
    case, row = CASES[number], 1 + 3 * number
    found = [cells.get(f"A{row + down}") for down in range(3 if "column" in case.what else 1)]
    if found[0] is not None and found[0].kind == "error":
        return [REFUSED], str(cells[f"B{row}"].value)
    return [plain(cell.value) if cell is not None else "" for cell in found], ""


def same(one: Any, other: Any) -> bool:
    """Whether two values are equal, numbers to the tolerance."""
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= TOLERANCE * max(1.0, abs(one))
    return bool(one == other)


@pytest.mark.parametrize("name", CATALOGUE)
def test_three_hosts_agree(name: str, calc_cells: dict[str, Cell]) -> None:
    chosen = [number for number, case in enumerate(CASES) if case.name == name]
    assert chosen
    for number in chosen:
        case = CASES[number]
        value, reason = in_python(case)
        for host, (found, words), expected_words in (
            ("Excel", in_excel(case), refusal_text(reason) if reason else ""),
            ("Calc", in_calc(calc_cells, number), reason),
        ):
            assert words == expected_words, (host, case)
            if host == "Calc" and CATALOGUE[name].spills:
                found, expected = found[:1], value[:1]  # a formula in one cell shows the first
            else:
                expected = value
            assert len(found) == len(expected), (host, case, found, expected)
            assert all(map(same, expected, found)), (host, case, found, expected)


def test_table_is_long_enough_to_mean_something() -> None:
    kinds = {case.what.split()[0] for case in CASES}
    assert {"example", "column"} <= kinds
    assert len(CASES) > 5 * len(CATALOGUE)
