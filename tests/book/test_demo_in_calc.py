"""The demo workbook in live Calc: every formula equals what lumbercalc stored."""

from __future__ import annotations

from datetime import date, datetime, time
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import openpyxl
import pandas as pd
import pytest

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.move_table import PLAN_SHEET
from lumbercalc.book.sheets.sale import PAGE
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import LIGHTER, WEIGHINGS
from lumbercalc.sheet.dates import SERIAL_ZERO, serial
from tests.book.self_tested import failing
from tests.book.stored_values import named, stored_in
from tests.hosts.calc.calc_session import Calc, Cell

pytestmark = pytest.mark.calc

TOLERANCE = 1e-9
"""Relative: two hosts that do the same arithmetic in the same order."""


def as_shown(value: Any) -> Any:
    """A stored value as Calc holds it: dates and truth values are numbers there."""
    if isinstance(value, (datetime, date)):
        day = value.date() if isinstance(value, datetime) else value
        return float((day - SERIAL_ZERO).days)
    if isinstance(value, time):  # day 0, in a cell with the format of a date
        return (value.hour * 60 + value.minute) / 1440
    if isinstance(value, bool):
        return float(value)
    return "" if value is None else value


def all_cells(calc: Calc) -> dict[str, dict[str, Cell]]:
    """Read every sheet of the open document."""
    return {sheet: calc.read(sheet) for sheet in calc.sheets()}


@cache
def formulas_with_values(path: Path) -> list[tuple[str, str, Any, Any]]:
    """Sheet and address of each formula of a file, the formula, and its value as Calc holds it."""
    stored = stored_in(path)
    return [
        (
            sheet.title,
            cell.coordinate,
            cell.value,
            as_shown(stored[sheet.title][cell.coordinate].value),
        )
        for sheet in openpyxl.load_workbook(path)
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]


def differences(live: dict[str, dict[str, Cell]], path: Path) -> tuple[int, list[str]]:
    """Compare a file's formula cells with those of a document: how many, and what differs."""
    found = []
    formulas = formulas_with_values(path)
    for sheet, address, formula, expected in formulas:
        there = live[sheet].get(address)
        value = "" if there is None else there.value
        if isinstance(expected, (int, float)) and isinstance(value, (int, float)):
            same = abs(expected - value) <= TOLERANCE * max(1.0, abs(expected))
        else:
            same = expected == value and (there is None or there.kind != "error")
        if not same:
            found.append(f"{sheet}!{address} {formula}: {there}")
    return len(formulas), found


class Recalculated(NamedTuple):
    """The demo recalculated in Calc: its cells by sheet and address, and the file saved there."""

    cells: dict[str, dict[str, Cell]]
    saved: Path


@pytest.fixture(scope="module")
def live(calc: Calc, demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Recalculated:
    path = tmp_path_factory.mktemp("calc-saved") / "saved.xlsx"
    calc.open(demo)
    calc.calculate()
    calc.store(path)
    return Recalculated(all_cells(calc), path)


def test_every_formula_equals_its_stored_value(live: Recalculated, demo: Path) -> None:
    count, found = differences(live.cells, demo)
    assert found == []
    assert count > 4000


def test_workbook_with_macros_has_the_same_values(calc: Calc, demo: Path, macro_demo: Path) -> None:
    # Calc opens a file on behalf of a program with its macros disabled
    calc.open(macro_demo)
    calc.calculate()
    count, found = differences(all_cells(calc), demo)
    assert found == []
    assert count > 4000


def test_no_cell_is_an_error(live: Recalculated) -> None:
    errors = [
        f"{sheet}!{cell.address} {cell.formula}"
        for sheet, cells in live.cells.items()
        for cell in cells.values()
        if cell.kind == "error" or str(cell.value).startswith(("#", "Err:"))
    ]
    assert errors == []


def test_the_same_after_saving_from_calc_and_loading_again(
    calc: Calc, demo: Path, live: Recalculated
) -> None:
    calc.open(live.saved)
    calc.calculate()
    _, found = differences(all_cells(calc), demo)
    assert found == []
    before = openpyxl.load_workbook(demo)
    after = openpyxl.load_workbook(live.saved)
    for table, key in ((BOARDS, "bf"), (STACKS, "likely"), (WEIGHINGS, "mc")):
        address = f"{table.letter(key)}{FIRST_ROW}"
        formula = str(after[table.sheet][address].value)
        assert formula.replace(" ", "") == str(before[table.sheet][address].value).replace(" ", "")


def test_an_ods_shows_the_same_when_it_is_opened_again(
    calc: Calc, demo: Path, tmp_path: Path
) -> None:
    """Also what Calc saves by itself, to recover a workbook from, is an .ods."""
    calc.open(demo)
    calc.calculate()
    calc.store(tmp_path / "saved.ods")
    calc.open(tmp_path / "saved.ods")
    _, found = differences(all_cells(calc), demo)
    assert found == []


def test_self_tests_are_true_after_saving_from_calc(live: Recalculated) -> None:
    assert failing(live.saved) == []


def test_totals_are_those_of_the_records(live: Recalculated, demo: Path) -> None:
    import lumbercalc as lc

    boards = pd.read_csv(sample_folder() / "boards.csv", dtype={"quarters": str, "tag": str})
    green = lc.board_feet(boards["quarters"], boards["width"], boards["length"], boards["pieces"])
    cells = live.cells["Boards"]
    letter = BOARDS.letter("bf")
    shown = [cells[f"{letter}{row}"].value for row in range(FIRST_ROW, FIRST_ROW + len(boards))]
    assert sum(shown) == pytest.approx(green.sum(), rel=TOLERANCE)
    stacks = live.cells["Stacks"]
    held = (boards["insects"] == "signs") & boards["released"].isna()
    by_stack = green[~held].groupby(boards["stack"]).sum()
    assert (held & boards["stack"].notna()).any()
    for row in range(FIRST_ROW, FIRST_ROW + len(by_stack)):
        name = stacks[f"{STACKS.letter('name')}{row}"].value
        assert stacks[f"{STACKS.letter('bf')}{row}"].value == pytest.approx(
            by_stack[name], rel=TOLERANCE
        )
    choices = pd.read_csv(sample_folder() / "choices.csv").set_index("name")["value"]
    sale = pd.read_csv(sample_folder() / "sales_lines.csv", dtype={"tag": str, "price": float})
    sale = sale[sale["sale"] == choices["sale_choice"]].drop(columns="price")
    prices = pd.read_csv(sample_folder() / "prices.csv", dtype={"quarters": str})
    costs = pd.read_csv(sample_folder() / "costs.csv").set_index("name")["value"]
    lines = sale.merge(boards, on="tag").merge(prices, on=["species", "quarters", "grade"])
    lines["green"] = lc.board_feet(
        lines["quarters"], lines["width"], lines["length"], lines["pieces"]
    )
    # Priced as printed: the dry board feet of a line have two decimals.
    dry = (lines["green"] * (1 - float(costs["footage_shrink"]) / 100)).round(2)
    total = lc.line_total(dry, lines["price"], lines["discount"].fillna(0))
    assert len(total) == 15
    stored = stored_in(demo)
    sheet, address = next(iter(stored.defined_names["sale_subtotal"].destinations))
    shown_sum = live.cells[sheet][address.replace("$", "")].value
    assert shown_sum == pytest.approx(total.sum(), abs=1e-6)


def address_of(workbook: openpyxl.Workbook, name: str) -> str:
    [(_, where)] = workbook.defined_names[name].destinations
    return str(where.replace("$", ""))


def test_a_choice_of_another_sale_fills_its_page(calc: Calc, demo: Path) -> None:
    stored = stored_in(demo)
    totals = stored["Sales"]
    calc.open(demo)
    calc.calculate()
    for row in range(FIRST_ROW, FIRST_ROW + 11):
        number = str(totals[f"{SALES.letter('number')}{row}"].value)
        # Calc computes what hangs on the choice by itself, as it does for a person who types it
        calc.fill(address_of(stored, "sale_choice"), [[number]], "Sale")
        page = calc.read("Sale")
        kind = totals[f"{SALES.letter('kind')}{row}"].value
        assert page["A1"].value == f"{kind} {number}"
        for name, key in (("sale_sum", "total"), ("sale_due", "due"), ("sale_bf", "bf")):
            expected = totals[f"{SALES.letter(key)}{row}"].value
            assert page[address_of(stored, name)].value == pytest.approx(expected, abs=1e-9)
        shown = [
            page[f"{PAGE.letter('total')}{line}"].value
            for line in range(PAGE.first_row, PAGE.last_row + 1)
        ]
        lines = [value for value in shown if value != ""]
        assert len(lines) == totals[f"{SALES.letter('lines')}{row}"].value
        gross = totals[f"{SALES.letter('gross')}{row}"].value
        assert sum(lines) == pytest.approx(gross, abs=1e-9)


BAD_ROWS = (
    (BOARDS, 0, "width", "ten", "bf", "width_in"),
    (BOARDS, 1, "species", "Wallnut, blue", None, "species"),
    (BOARDS, 2, "length", -8.0, "bf", "length_ft"),
    (STACKS, 0, "target", 99.0, "likely", "target_mc"),
    (STACKS, 1, "place", "attic", "likely", "place"),
    (WEIGHINGS, 3, "weight", 1.0, "mc", LIGHTER),
)
"""Table, row, input, bad value, the result that must be an error, what the check says."""


def test_rows_made_bad_are_errors_with_a_reason_and_their_neighbours_are_untouched(
    calc: Calc, demo: Path, live: Recalculated, tmp_path: Path
) -> None:
    workbook = openpyxl.load_workbook(demo)
    for table, row, key, bad, _, _ in BAD_ROWS:
        workbook[table.sheet][f"{table.letter(key)}{FIRST_ROW + row}"].value = bad
    bad_file = tmp_path / "bad.xlsx"
    workbook.save(bad_file)
    calc.open(bad_file)
    calc.calculate()
    for table, row, _, _, result, argument in BAD_ROWS:
        cells = calc.read(table.sheet)
        at = FIRST_ROW + row
        if result is not None:
            assert cells[f"{table.letter(result)}{at}"].kind == "error", (table.sheet, at, result)
        assert argument in str(cells[f"{table.letter('note')}{at}"].value), (table.sheet, at)
    for table, results in ((BOARDS, ("bf", "dry_bf", "value")), (WEIGHINGS, ("mc",))):
        touched = {FIRST_ROW + row for each, row, *_ in BAD_ROWS if each is table}
        cells = calc.read(table.sheet)
        for key in results:
            letter = table.letter(key)
            for row in set(range(FIRST_ROW, FIRST_ROW + 100)) - touched:
                good = live.cells[table.sheet][f"{letter}{row}"].value
                assert cells[f"{letter}{row}"].value == good
    assert not [c for c in calc.read("Boards").values() if c.error == 525]  # no #NAME?


@pytest.mark.parametrize(
    ("moved", "then"),
    [
        (date(2026, 11, 17), "after its last weighing"),
        (date(2026, 9, 1), "before it"),
    ],
)
def test_a_stack_that_moved_has_one_ready_date_on_both_sheets(
    calc: Calc, demo: Path, moved: date, then: str
) -> None:
    """Move plan forecasts from where a stack stood, and when; Stacks does it by its own formula."""
    stored = stored_in(demo)
    last = named(stored, "plan_known_on").date()
    assert (moved > last) is (then == "after its last weighing")
    row = FIRST_ROW + 2  # Cherry 1, which the plan is of
    calc.open(demo)
    calc.fill(f"{STACKS.letter('move_date')}{row}", [[serial(moved)]], "Stacks")
    calc.fill(address_of(stored, "plan_to"), [["yard"]], PLAN_SHEET)
    calc.calculate()
    ready = calc.read("Stacks")[f"{STACKS.letter('likely')}{row}"].value
    plan = calc.read(PLAN_SHEET)
    found = {
        name: plan[address_of(stored, f"plan_{name}")].value
        for name in ("name", "here", "moved", "stays", "begin", "here_since")
    }
    assert isinstance(ready, float)
    assert found == {
        "name": "Cherry 1",
        "here": "basement",
        "moved": 1,
        "stays": ready,
        "begin": serial(max(moved, last)),
        "here_since": serial(moved),
    }
