"""The add-in in a live, headless LibreOffice Calc with a throw-away profile."""

from __future__ import annotations

import os
import signal
import sys
import time
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from lumbercalc.hosts.calc.install import check, install, put_in, remove
from lumbercalc.hosts.calc.office import CalcError, Office
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial
from tests.hosts.calc.calc_session import Calc, Cell, command_line, descendants

pytestmark = pytest.mark.calc

NUM, VALUE, NAME = 503, 519, 525
"""Calc's error codes for #NUM!, #VALUE! and #NAME?."""


def answers(calc: Calc, *formulas: str) -> list[Cell]:
    """Type formulas down column A of a new sheet and read them."""
    calc.new()
    calc.fill("A1", [[formula] for formula in formulas])
    cells = calc.read()
    return [cells[f"A{row}"] for row in range(1, len(formulas) + 1)]


def test_a_formula_typed_in_a_new_sheet_answers(calc: Calc) -> None:
    # 2 in x 6 in x 8 ft / 12 = 8 bf, by the definition of the board foot
    (cell,) = answers(calc, '=BOARD_FEET("8/4";6;8)')
    assert cell == Cell("A1", '=BOARD_FEET("8/4";6;8)', "number", 8.0, 0)


def test_what_is_left_out_what_is_refused_and_why(calc: Calc) -> None:
    whole, refused, missing, words, nothing = answers(
        calc,
        "=BOARD_FEET(1;6;8;3)",
        "=BOARD_FEET(1;-6;8)",
        "=BOARD_FEET(1;6)",
        '=PROBLEM("BOARD_FEET";1;-6;8)',
        '=PROBLEM("BOARD_FEET";1;6;8)',
    )
    assert (whole.kind, whole.value) == ("number", 12.0)
    assert (refused.kind, refused.error) == ("error", NUM)
    assert (missing.kind, missing.error) == ("error", NUM)
    assert words.kind == "text"
    assert "width_in is -6" in str(words.value)
    assert (nothing.kind, nothing.value) == ("text", "")


def test_truth_values_work_in_an_if(calc: Calc) -> None:
    yes, no = answers(
        calc,
        '=IF(MATCHES_DRY_SAMPLE(8;7.5);"dry";"wet")',
        '=IF(MATCHES_DRY_SAMPLE(12;7.5);"dry";"wet")',
    )
    assert (yes.value, no.value) == ("dry", "wet")


def test_a_bad_row_of_a_column_is_an_error_only_there(calc: Calc) -> None:
    calc.new()
    calc.fill("A1", [["8/4", 6.0, 8.0], ["8/4", -1.0, 8.0], ["", "", ""], ["8/4", 12.0, 8.0]])
    calc.array("D1:D4", "=BOARD_FEET(A1:A4;B1:B4;C1:C4)")
    calc.array("E1:E4", '=PROBLEM("BOARD_FEET";A1:A4;B1:B4;C1:C4)')
    calc.formula("D5", "=SUM(D1:D4)")
    cells = calc.read()
    assert [cells[f"D{row}"].value for row in (1, 3, 4)] == [8.0, "", 16.0]
    assert (cells["D2"].kind, cells["D2"].error) == ("error", NUM)
    assert [bool(cells[f"E{row}"].value) for row in (1, 2, 3, 4)] == [False, True, False, False]
    assert (cells["D5"].kind, cells["D5"].error) == ("error", NUM)


def test_dates_are_calcs_own(calc: Calc) -> None:
    calc.new()
    rows = "{" + "|".join(["70;45"] * 12) + "}"
    arguments = f'"white oak";1.125;70;DATE(2026;3;1);12;{rows}'
    calc.formula("A1", f"=READY_DATE({arguments})")
    calc.formula("A2", f"=MC_FORECAST({arguments.replace(';12;', ';A1;')})")
    calc.formula("A3", "=DATE(2026;3;1)")
    cells = calc.read()
    ready, content, start = (cells[f"A{row}"].value for row in (1, 2, 3))
    assert isinstance(ready, float)
    assert isinstance(content, float)
    assert isinstance(start, float)
    assert start < ready == int(ready)
    assert content <= 12.0  # the day it is ready, by the same model


def for_calcs_interface(formula: str) -> str:
    """Write a formula as Calc's interface takes it: ; between arguments, | between rows."""
    parts = formula.split('"')
    parts[::2] = [part.replace(";", "|").replace(",", ";") for part in parts[::2]]
    return '"'.join(parts)


def test_days_of_a_document_that_counts_otherwise_are_refused(calc: Calc) -> None:
    calc.new()
    days = '"red oak";1;80;DATE(2026;5;4);8;'
    asked = (f"=READY_DATE({days}C1:D12)", f'=PROBLEM("ready_date";{days}C1:D12)')
    calc.fill("C1", [[70.0, 30.0]] * 12)
    calc.fill("A1", [[formula] for formula in (*asked, "=EMC(70;45)", '=PROBLEM("EMC";70;45)')])
    counted = calc.read()
    assert counted["A1"].kind == "number"
    assert [counted[f"A{row}"].value for row in (2, 4)] == ["", ""]
    calc.count_from(date(1904, 1, 1))
    calc.calculate()
    refused = calc.read()
    assert (refused["A1"].kind, refused["A1"].error) == ("error", VALUE)
    assert str(refused["A2"].value).startswith("this workbook counts days from 1904-01-01; set it")
    assert refused["A3"] == counted["A3"]
    assert refused["A4"].value == ""


def test_a_reason_that_nothing_is_asked_of_is_blank(calc: Calc) -> None:
    cells = answers(calc, "=PROBLEM(;)", '=PROBLEM(;1)&""')
    assert [(cell.kind, cell.value) for cell in cells] == [("text", ""), ("text", "")]


def test_every_example_of_the_catalogue_answers(calc: Calc) -> None:
    cells = answers(
        calc, *(f"={for_calcs_interface(function.formula)}" for function in CATALOGUE.values())
    )
    for function, cell in zip(CATALOGUE.values(), cells, strict=True):
        expected = function.example.answer
        assert cell.kind != "error", (function.name, cell)
        if isinstance(expected, str) and cell.kind == "number":  # a date, in Calc's day numbers
            assert cell.value == serial(date.fromisoformat(expected)), function.name
        elif isinstance(expected, str):
            assert cell.value == expected, function.name
        else:  # the example is written with five digits or more
            assert cell.value == pytest.approx(float(expected), rel=1e-5), function.name


def test_calc_knows_the_help_of_every_function(calc: Calc) -> None:
    known = calc.functions()
    for name, function in CATALOGUE.items():
        words, arguments = known[name]
        assert words.startswith(f"{function.group}: {function.summary}")
        assert [argument[0] for argument in arguments] == [a.name for a in function.arguments]
        for (_, text), argument in zip(arguments, function.arguments, strict=True):
            assert text.endswith(argument.description)


def test_an_xlsx_calculates_and_keeps_the_plain_names(calc: Calc, tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book["Sheet"]
    sheet.append(["8/4", 6, 8, "=BOARD_FEET(A1,B1,C1)"])
    sheet.append(["8/4", -6, 8, "=BOARD_FEET(A2,B2,C2)", '=PROBLEM("BOARD_FEET",A2,B2,C2)'])
    book.save(tmp_path / "typed.xlsx")
    calc.open(tmp_path / "typed.xlsx")
    calc.calculate()
    cells = calc.read()
    assert cells["D1"].value == 8.0
    assert cells["D2"].error == NUM
    assert "width_in" in str(cells["E2"].value)

    calc.store(tmp_path / "saved.xlsx")
    saved = openpyxl.load_workbook(tmp_path / "saved.xlsx").worksheets[0]
    assert saved["D1"].value == "=BOARD_FEET(A1,B1,C1)"
    assert saved["E2"].value == '=PROBLEM("BOARD_FEET",A2,B2,C2)'
    values = openpyxl.load_workbook(tmp_path / "saved.xlsx", data_only=True).worksheets[0]
    assert (values["D1"].value, values["D2"].value) == (8, "#NUM!")


def test_an_ods_opens_again_with_its_functions(calc: Calc, tmp_path: Path) -> None:
    answers(calc, "=BOARD_FEET(1;6;8)")
    calc.store(tmp_path / "saved.ods")
    calc.open(tmp_path / "saved.ods")
    calc.calculate()
    assert calc.read()["A1"] == Cell("A1", "=BOARD_FEET(1;6;8)", "number", 4.0, 0)


def test_a_pdf_is_written(calc: Calc, tmp_path: Path) -> None:
    answers(calc, "=BOARD_FEET(1;6;8)")
    calc.store(tmp_path / "printed.pdf")
    assert (tmp_path / "printed.pdf").read_bytes().startswith(b"%PDF-")


def test_a_killed_worker_is_started_again(calc_by_worker: Calc) -> None:
    calc = calc_by_worker
    calc.new()
    calc.fill("A1", [[float(width), f"=BOARD_FEET(1;A{width};12)"] for width in range(1, 51)])
    for _ in range(2):
        (worker,) = calc.workers()
        os.kill(worker, signal.SIGKILL)
        calc.calculate()
        cells = calc.read()
        assert [cells[f"B{row}"].value for row in range(1, 51)] == list(range(1, 51))
        assert calc.workers() != [worker]


def gone(pids: list[int], patience: float = 15.0) -> bool:
    """Wait until none of the processes is left."""
    until = time.monotonic() + patience
    while any(command_line(pid) for pid in pids):
        if time.monotonic() > until:
            return False
        time.sleep(0.1)
    return True


@pytest.mark.parametrize("end", [Calc.quit, Calc.kill])
def test_nothing_is_left_running_after_calc(own_office: Office, end: object) -> None:
    put_in(own_office, by_worker=True)
    calc = Calc(own_office)
    (cell,) = answers(calc, "=BOARD_FEET(1;6;8)")
    assert cell.value == 4.0
    assert calc.workers()
    below = descendants(calc.process.pid)
    assert callable(end)
    end(calc)
    assert gone(below)


def test_a_python_that_is_gone_is_an_error_and_words(
    own_office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as moved:
        moved.setattr(sys, "executable", "/nowhere/bin/python")
        put_in(own_office)
    calc = Calc(own_office)
    try:
        number, words = answers(calc, "=BOARD_FEET(1;6;8)", '=PROBLEM("BOARD_FEET";1;6;8)')
    finally:
        calc.quit()
    assert (number.kind, number.error) == ("error", VALUE)
    assert "/nowhere/bin/python" in str(words.value)
    assert "lumbercalc addin calc" in str(words.value)
    steps = {step.name: step for step in check(own_office)}
    assert not steps["add-in made from this Python"].done
    assert "/nowhere/bin/python" in steps["add-in made from this Python"].detail
    assert [step for step in install(own_office) if not step.done] == []


def test_installing_twice_checking_and_removing(own_office: Office) -> None:
    assert not {step.name: step.done for step in check(own_office)}["add-in"]
    for _ in range(2):
        assert [step for step in install(own_office) if not step.done] == []
    assert all(step.done for step in remove(own_office))
    assert "was not installed" in remove(own_office)[0].detail
    calc = Calc(own_office)
    try:
        (cell,) = answers(calc, "=BOARD_FEET(1;6;8)")
        open_now = {step.name: step.done for step in check(own_office)}["Calc restarted"]
    finally:
        calc.quit()
    assert (cell.kind, cell.error) == ("error", NAME)
    assert not open_now


def test_an_extension_that_calc_refuses_is_an_error(
    own_office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lumbercalc.hosts.calc.extension.build", lambda way: b"no extension")
    with pytest.raises(CalcError, match="did not take the add-in: ERROR"):
        install(own_office)


def test_one_cell_is_a_plain_value(calc: Calc, tmp_path: Path) -> None:
    """In an .xlsx, whose texts Calc compares by another way than in its own files."""
    workbook = openpyxl.Workbook()
    sheet = workbook.worksheets[0]
    formulas = {
        "A1": ('IF(EMC(70,50)>9,IF(2>1,"a","b"),"c")', "a"),
        "A2": ('IF(READINESS({7.5;8;8.2;7.9;8.4},8)="ready","sell","wait")', "sell"),
        "A3": ('IF(1>2,"x",IF(PROBLEM("EMC",70,50)="","fine","look"))', "fine"),
    }
    for address, (formula, _) in formulas.items():
        sheet[address].value = f"={formula}"
    workbook.save(tmp_path / "plain.xlsx")
    calc.open(tmp_path / "plain.xlsx")
    calc.calculate()
    cells = calc.read()
    assert {address: cells[address].value for address in formulas} == {
        address: value for address, (_, value) in formulas.items()
    }


def test_a_block_follows_its_cells(calc: Calc) -> None:
    calc.new()
    calc.fill("A1", [[7.0], [8.0], [9.0]])
    calc.array("B1:B3", "BOARD_FEET(1;A1:A3;12)")
    calc.formula("C1", "=SUM(BOARD_FEET(1;A1:A3;12))")
    for width in (10.0, 20.0, 10.0):
        calc.fill("A1", [[width]])
        calc.calculate()
        cells = calc.read()
        assert [cells[f"B{row}"].value for row in (1, 2, 3)] == [width, 8.0, 9.0]
        assert cells["C1"].value == width + 17.0
