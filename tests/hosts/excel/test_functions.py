"""The functions in Excel, through xlwings' own code: what it finds, sends in and gives back."""

from __future__ import annotations

import ast
import math
import os
import subprocess
import sys
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path
from types import ModuleType
from typing import Any
from unittest import mock

import pytest

import lumbercalc as lc
from lumbercalc.hosts.excel import functions
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function
from lumbercalc.sheet.refusal import ERROR_TEXTS, MARKER
from tests.hosts.excel.stand_ins import (
    SERVED,
    ComObject,
    call_as_excel,
    call_from_ranges,
    on_windows,
)
from tests.sheet.test_bad_input import BAD, ROW_BY_ROW, bad_arguments

PACKAGE = Path(lc.__file__).parent
EACH = pytest.mark.parametrize("function", CATALOGUE.values(), ids=lambda one: one.name)
SENT = pytest.mark.parametrize("send", [call_as_excel, call_from_ranges])


# What xlwings finds


def marks_of(function: Function, module: ModuleType) -> dict[str, Any]:
    """What xlwings' decorators have written down of a function."""
    marks: dict[str, Any] = getattr(module, function.name).__xlfunc__
    return marks


@EACH
def test_xlwings_finds_the_function_with_its_arguments(function: Function) -> None:
    with on_windows() as modules:
        marks = marks_of(function, modules["xlwings.udfs"].get_udf_module(SERVED, None))
    assert marks["name"] == function.name
    assert marks["category"] == function.group
    assert marks["volatile"] is False
    assert [one["name"] for one in marks["args"]] == [one.name for one in function.arguments]
    for declared, found in zip(function.arguments, marks["args"], strict=True):
        repeats = function.repeats and declared is function.arguments[-1]
        assert found["vararg"] == repeats
        assert ("optional" in found) == (declared.optional and not repeats)
        assert found.get("optional") is None
        assert found["options"] == {"ndim": 2, "err_to_str": True}


def test_xlwings_finds_nothing_but_the_catalogue() -> None:
    with on_windows() as modules:
        module = modules["xlwings.udfs"].get_udf_module(SERVED, None)
    marked = [name for name in dir(module) if hasattr(getattr(module, name), "__xlfunc__")]
    assert marked == sorted(CATALOGUE)


@EACH
def test_help_keeps_to_excels_limits(function: Function) -> None:
    with on_windows() as modules:
        marks = marks_of(function, modules["xlwings.udfs"].get_udf_module(SERVED, None))
    # xlwings cuts at 255 itself, in the middle of a word; the sum of 254 is its issue 1489.
    assert function.summary in marks["ret"]["doc"]
    assert len(marks["ret"]["doc"]) <= 255
    for declared, found in zip(function.arguments, marks["args"], strict=True):
        assert declared.about in found["doc"]
        assert len(found["doc"]) <= 255
    names = [one.name for one in function.arguments]
    assert len("".join(names)) + len(names) < 254


def imported_by_xlwings() -> tuple[str, mock.Mock]:
    """The VBA module that xlwings' own import writes, and the help that it gives Excel."""
    texts: list[str] = []
    workbook = mock.Mock(Application=mock.Mock(Version="16.0"))
    workbook.Name = "shop.xlsm"
    workbook.VBProject.VBComponents.Import = lambda path: texts.append(Path(path).read_text())
    with on_windows() as modules, mock.patch.object(modules["xlwings.udfs"], "Book") as book:
        book.return_value.sheets = []
        modules["xlwings.udfs"].import_udfs(SERVED, workbook)
    return texts[0], workbook.Application.MacroOptions


def test_xlwings_own_import_writes_every_function(capsys: pytest.CaptureFixture[str]) -> None:
    text, options = imported_by_xlwings()
    for function in CATALOGUE.values():
        names = [f"{'Optional ' if one.optional else ''}{one.name}" for one in function.arguments]
        if function.repeats:
            names[-1] = f"ParamArray {function.arguments[-1].name}()"
        assert f"Function {function.name}({', '.join(names)})\n" in text
        assert f'XLPy.CallUDF("{SERVED}", "{function.name}", ' in text
    described = {call.args[0]: call.kwargs for call in options.call_args_list}
    assert set(described) == {f"'shop.xlsm'!{name}" for name in CATALOGUE}
    for name, function in CATALOGUE.items():
        given = described[f"'shop.xlsm'!{name}"]
        assert given["Category"] == function.group
        assert len(given["ArgumentDescriptions"] or []) == len(function.arguments)


# What comes back


def in_a_cell(answer: Any) -> Any:
    """What Excel keeps of an answer of Python."""
    if isinstance(answer, date):
        return datetime.combine(answer, time())
    return "" if answer is None or answer != answer else answer


def in_cells(answer: Any) -> Any:
    if hasattr(answer, "tolist"):
        answer = [[cell] for cell in answer.tolist()]
    if isinstance(answer, list):
        return [[in_a_cell(cell) for cell in row] for row in answer]
    return in_a_cell(answer)


@SENT
@EACH
def test_the_example_gives_what_python_gives(function: Function, send: Any) -> None:
    arguments = function.example.arguments
    answer = send(function.name, *arguments)
    assert answer == in_cells(getattr(lc, function.python_name)(*arguments))
    assert type(answer) in (float, str, bool, datetime, list)


BY_ROWS = [
    one for one in CATALOGUE.values() if one.arguments and not (one.takes_blocks or one.repeats)
]


@SENT
@pytest.mark.parametrize("function", BY_ROWS, ids=lambda one: one.name)
def test_a_column_gives_a_column(function: Function, send: Any) -> None:
    arguments = list(function.example.arguments)
    arguments[0] = [arguments[0], None, arguments[0]]
    alone = send(function.name, *function.example.arguments)
    assert send(function.name, *arguments) == [[alone], [""], [alone]]


def as_sent(cells: Any) -> Any:
    """The same cells as Excel has them: every number a float."""
    if isinstance(cells, list):
        return [as_sent(cell) for cell in cells]
    return float(cells) if type(cells) is int else cells


@SENT
@BAD
def test_bad_input_is_a_marked_text_with_the_reason(
    name: str, argument: str, bad: Any, send: Any
) -> None:
    cells = bad_arguments(name, argument, bad)
    reason = lc.problem(name, *as_sent(cells))
    answer = send(name, *cells)
    assert answer.startswith(MARKER)
    assert argument in answer
    assert answer.removesuffix("...") == (MARKER + reason)[: len(answer.removesuffix("..."))]
    assert len(answer) == min(255, len(MARKER + reason))
    assert send("PROBLEM", name, *cells) == reason


@pytest.mark.parametrize(("name", "argument", "bad"), ROW_BY_ROW, ids=str)
def test_a_bad_row_leaves_its_neighbours_alone(name: str, argument: str, bad: Any) -> None:
    function = CATALOGUE[name]
    cells = bad_arguments(name, argument, bad)
    place = [declared.name for declared in function.arguments].index(argument)
    good = function.example.arguments[place] if place < len(function.example.arguments) else None
    cells[place] = [good, bad, good]
    alone = call_as_excel(name, *function.example.arguments)
    above, at, below = call_as_excel(name, *cells)
    assert [above, below] == [[alone], [alone]]
    assert at[0].startswith(MARKER)
    assert argument in at[0]


# Kinds of cells

YEAR = [[70, 50]] * 12
OAK = ("northern red oak", 1.125, 80)


@SENT
@pytest.mark.parametrize(
    ("name", "cells", "expected"),
    [
        ("EMC", (Decimal("70"), Decimal("45.5")), lc.emc(70, 45.5)),
        ("EMC", (70, None), ""),
        ("EMC", (70, ""), ""),
        ("EMC", (None, None), ""),
        ("EMC", ([70, None], [45, 45]), [[lc.emc(70, 45)], [""]]),
        ("EMC", ([[70, 80]], 45), [[lc.emc(70, 45), lc.emc(80, 45)]]),
        ("EMC", ([70, 80], [[45, 50]]), lc.emc([[70], [80]], [[45, 50]]).tolist()),
        ("BOARD_FEET", ("8/4", 7.5, 8), 10.0),
        ("BOARD_FEET", ("8/4", 7.5, 8, None), 10.0),
        ("BOARD_FEET", ("8/4", 7.5, 8, [None, 3]), [[10.0], [30.0]]),
        ("SURFACE_MEASURE", ([6.75, 6.75], 8, True), lc.surface_measure([6.75] * 2, 8, True)),
        ("SURFACE_MEASURE", (6.25, 8, False), lc.surface_measure(6.25, 8)),
        ("MATCHES_DRY_SAMPLE", (8, 7.5), True),
        ("MATCHES_DRY_SAMPLE", ([8, 11], 7.5), [[True], [False]]),
        ("READY_DATE", (*OAK, date(2026, 5, 1), 20, YEAR), datetime(2026, 6, 8)),
        ("READY_DATE", (*OAK, datetime(2026, 5, 1, 17, 30), 20, YEAR), datetime(2026, 6, 8)),
        ("READY_DATE", (*OAK, 46143, 20, YEAR), datetime(2026, 6, 8)),
        ("READY_DATE", (*OAK, "2026-05-01", 20, YEAR), datetime(2026, 6, 8)),
        ("READY_DATE", (*OAK, date(2026, 5, 1), 8, YEAR), "not reached"),
        ("MC_UPPER", ([8, None, 9, "", 10],), lc.mc_upper([8, 9, 10])),
        ("THICKNESS_IN", (date(2026, 8, 4),), MARKER + "quarters is "),
        ("CUBIC_METERS", (True,), MARKER + "board_feet is TRUE"),
        ("CUBIC_METERS", ("#N/A",), MARKER + "board_feet is the error #N/A"),
        ("CUBIC_METERS", ("#SPILL!",), MARKER + "board_feet is the error #SPILL!"),
        ("CUBIC_METERS", (MARKER + "thickness is 0",), MARKER + "thickness is 0"),
        ("MEAN_EMC", ([70, "#DIV/0!"], [45, 45]), MARKER + "row 2: temps_f is the error #DIV/0!"),
        ("EMC", ([70, 80], [45, 50, 55]), MARKER + "the columns are not equally long"),
        ("PROBLEM", ("BOARD_FEET", "8/4", 7.5, 8), ""),
        ("PROBLEM", ("BOARD_FEET", "8/4", 7.5), lc.problem("BOARD_FEET", "8/4", 7.5)),
        ("PROBLEM", ("NO_SUCH", 1), 'there is no function "NO_SUCH"'),
        ("PROBLEM", ("PROBLEM", 1), "PROBLEM explains the other functions"),
        ("PROBLEM", ("EMC", [70, 80], [45, 140]), [[""], [lc.problem("EMC", 80.0, 140.0)]]),
    ],
)
def test_kinds_of_cells(name: str, cells: tuple[Any, ...], expected: Any, send: Any) -> None:
    answer = send(name, *cells)
    if isinstance(expected, str) and expected:
        assert answer.startswith(expected)
    else:
        assert answer == in_cells(expected)


@pytest.mark.parametrize("code", sorted(functions.ERRORS))
def test_every_error_of_excel_is_known_by_its_number(code: int) -> None:
    assert functions.ERRORS[code] in ERROR_TEXTS
    with on_windows() as modules:
        named = modules["xlwings._xlwindows"].cell_errors
    assert named.get(code, functions.ERRORS[code]) == functions.ERRORS[code]


def test_the_errors_that_xlwings_does_not_know_have_excel_s_numbers() -> None:
    # Office VBA reference, enumeration XlCVError (from memory)
    newer = {
        "#GETTING_DATA": 2043, "#SPILL!": 2045, "#CONNECT!": 2046, "#BLOCKED!": 2047,
        "#UNKNOWN!": 2048, "#FIELD!": 2049, "#CALC!": 2050,
    }  # fmt: skip
    for text, number in newer.items():
        # as Excel hands an error over: a VT_ERROR of 0x800A0000 + its number ([MS-OAUT] 2.2.7)
        cell = 0x800A0000 + number - 2**32
        assert functions.taken([[7.5, cell]]) == [[7.5, text]]


def test_every_error_that_xlwings_knows_is_known() -> None:
    with on_windows() as modules:
        named = modules["xlwings._xlwindows"].cell_errors
    assert named.items() <= functions.ERRORS.items()


def test_value2_keeps_the_digits_of_currency_that_a_range_loses() -> None:
    cost = Decimal("2.345678")
    assert call_as_excel("PRICE_FOR_MARGIN", cost, 50) == lc.price_for_margin(2.345678, 50)
    assert call_from_ranges("PRICE_FOR_MARGIN", cost, 50) == lc.price_for_margin(2.3457, 50)


def test_a_long_text_is_whole_alone_and_shortened_in_rows() -> None:
    reason = lc.problem("SPECIES_VALUE", "black walnut", "color")
    assert len(reason) > 255
    assert call_as_excel("PROBLEM", "SPECIES_VALUE", "black walnut", "color") == reason
    rows = call_as_excel("PROBLEM", "SPECIES_VALUE", "black walnut", ["color", "color"])
    assert rows == [[reason[:252] + "..."]] * 2


WEIRD = [None, "", " ", "#CALC!", True, date(9999, 12, 31), datetime(1900, 1, 1), 1e300, -1e300]


def cells_of(answer: Any) -> list[Any]:
    return [cell for row in answer for cell in row] if isinstance(answer, list) else [answer]


@EACH
@pytest.mark.parametrize("cell", [*WEIRD, Decimal("-0.00005"), 60, "x" * 40_000], ids=repr)
def test_no_cell_breaks_a_function(function: Function, cell: Any) -> None:
    for given in (cell, [cell, cell], [[cell, cell, cell], [cell, 1, "x"]]):
        for send in (call_as_excel, call_from_ranges):
            for value in cells_of(send(function.name, *[given] * len(function.arguments))):
                assert type(value) in (float, str, bool, datetime)
                assert not isinstance(value, float) or math.isfinite(value)
                assert not isinstance(value, str) or len(value) <= 32_767


@EACH
def test_a_linked_data_type_is_refused_like_any_other_cell(function: Function) -> None:
    for given in (ComObject(), [[ComObject()], [1]]):
        for value in cells_of(call_as_excel(function.name, *[given] * len(function.arguments))):
            assert type(value) in (float, str, bool, datetime)


def test_a_failure_inside_a_call_is_an_answer_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(name: str, arguments: object) -> object:
        raise ZeroDivisionError("division by zero")

    with on_windows() as modules:
        monkeypatch.setattr(modules[SERVED], "call", broken)
    said = "EMC failed: ZeroDivisionError: division by zero"
    assert call_as_excel("EMC", 70, 45) == MARKER + said


# What is loaded


def run(script: str, **environment: str) -> str:
    ended = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(PACKAGE.parent), **environment},
        timeout=120,
        check=True,
    )
    return ended.stdout


def test_the_shops_own_species_are_there_when_the_module_is(tmp_path: Path) -> None:
    figures = "species,specific gravity\nYard plum,0.55\n"
    (tmp_path / "own_species.csv").write_text(figures)
    script = (
        "from lumbercalc.hosts.excel import functions\n"
        "print(functions.SPECIES_VALUE([['yard plum']], [['specific gravity']]))"
    )
    assert run(script, LUMBERCALC_SETTINGS=str(tmp_path)) == "0.55\n"


def test_the_package_alone_does_not_load_xlwings() -> None:
    script = "import lumbercalc.hosts.excel.wrappers, sys; print('xlwings' in sys.modules)"
    assert run(script) == "False\n"


WHO_LOADS = """
import importlib, pkgutil, sys
from pathlib import Path
import lumbercalc

class Watch:
    def find_spec(self, name, path=None, target=None):
        if name.startswith("xlwings.pro"):
            frame = sys._getframe(1)
            while "importlib" in frame.f_code.co_filename:
                frame = frame.f_back
            print(Path(frame.f_code.co_filename).as_posix())

sys.meta_path.insert(0, Watch())
for found in pkgutil.walk_packages(lumbercalc.__path__, "lumbercalc."):
    if found.name not in ("lumbercalc.hosts.calc.component", "lumbercalc.cli.__main__"):
        importlib.import_module(found.name)
"""
"""Says which file asks for a module of xlwings.pro. The component runs inside Calc only."""


def test_no_module_loads_the_part_of_xlwings_that_needs_a_licence() -> None:
    # xlwings itself looks for it when it is imported, and does without where there is no licence.
    asking = run(WHO_LOADS, XLWINGS_LICENSE_KEY="").split("\n")[:-1]
    assert asking, "xlwings no longer looks for it: then nothing at all may ask"
    assert all("/site-packages/xlwings/" in file for file in asking), asking


def test_no_module_names_the_part_of_xlwings_that_needs_a_licence() -> None:
    for file in PACKAGE.rglob("*.py"):
        text = file.read_text("utf-8")
        names = {
            f"{node.module}.{alias.name}" if isinstance(node, ast.ImportFrom) else alias.name
            for node in ast.walk(ast.parse(text))
            if isinstance(node, (ast.Import, ast.ImportFrom))
            for alias in node.names
        }
        assert not any(name.startswith("xlwings.") for name in names), file
        assert "xlwings.pro" not in text, file
