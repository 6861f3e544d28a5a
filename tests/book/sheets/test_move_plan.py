"""Move plan: cell by cell what MOVE_PLAN answers, and the answer in words."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

import lumbercalc as lc
from lumbercalc.book.engine.compute import compute
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.sheets.move_plan import MOVE_IT, NEVER_THERE, NOTES, PRINTED
from lumbercalc.book.sheets.move_table import MOVE_PLAN, PLAN_LINE, PLAN_SHEET
from lumbercalc.book.sheets.stack_advice import NOT_TRUSTWORTHY
from tests.book.stored_values import named, rows, stored_in

TOLERANCE = 1e-9
COLUMNS = ["moves", "mc", "ready", "first", "second", "pints"]
"""As MOVE_PLAN lays them out."""


@pytest.fixture(scope="module", params=["demo", "nine_stacks"])
def workbook(request: pytest.FixtureRequest) -> Workbook:
    path: Path = request.getfixturevalue(request.param)
    return stored_in(path)


@pytest.fixture(scope="module")
def moves(demo: Path) -> Workbook:
    return stored_in(demo)


@pytest.fixture(scope="module")
def stays(nine_stacks: Path) -> Workbook:
    return stored_in(nine_stacks)


def answer(workbook: Workbook) -> list[list[Any]]:
    """The same plan from Python."""
    one = {
        name: named(workbook, f"plan_{name}")
        for name in ("species", "sawn", "green", "start", "goal", "place", "to", "bf", "air",
                     "to_air", "rate", "known_on", "known_mc", "quarters")
    }  # fmt: skip
    as_sawn = (one["bf"] or 1) * one["sawn"] / max(1, lc.thickness_in(one["quarters"]))
    site = pd.read_csv(sample_folder() / "site.csv")
    plan: list[list[Any]] = lc.move_plan(
        one["species"], one["sawn"], one["green"], one["start"], one["goal"], site,
        one["place"], one["to"], as_sawn, one["air"], one["to_air"], one["rate"],
        one["known_on"], one["known_mc"],
    )  # fmt: skip
    return plan


def as_cell(value: Any) -> Any:
    """A value of Python as a cell stores it."""
    if value is None:
        return ""
    return datetime(value.year, value.month, value.day) if isinstance(value, date) else value


def test_no_caution_is_longer_than_its_line() -> None:
    """A second line was cut through the middle: that of the electrical code."""
    characters = sum(column.width for column in MOVE_PLAN.columns[:PRINTED])
    assert max(len(note) for note in NOTES) <= characters


def test_table_is_what_move_plan_answers(workbook: Workbook) -> None:
    expected, shown = answer(workbook), rows(workbook, MOVE_PLAN)
    assert 2 <= len(expected) <= len(shown)
    without_boards = named(workbook, "plan_bf") == 0
    for row, values in zip(shown.to_dict("records"), expected, strict=False):
        for key, value in zip(COLUMNS, values, strict=True):
            found = "" if row[key] is None else row[key]
            if key == "pints" and without_boards:
                assert found in (0, "")  # no boards on Boards lie in this stack
            elif isinstance(value, float):
                assert found == pytest.approx(value, rel=TOLERANCE), (key, row["n"])
            else:
                assert found == as_cell(value), (key, row["n"])
    for row in shown[len(expected) :].to_dict("records"):
        assert {row[key] or "" for key in COLUMNS} == {""}


def test_average_is_the_water_over_the_days_there(moves: Workbook) -> None:
    shown = rows(moves, MOVE_PLAN)[1:]
    for row in shown.to_dict("records"):
        assert row["daily"] == pytest.approx(row["pints"] / row["second"], rel=TOLERANCE)


def test_words_name_the_latest_date_with_the_earliest_ready_date(moves: Workbook) -> None:
    as_of = named(moves, "as_of")
    open_rows = [
        row for row in rows(moves, MOVE_PLAN)[1:].to_dict("records") if row["moves"] >= as_of
    ]
    soonest = min(row["ready"] for row in open_rows)
    latest = max(row["moves"] for row in open_rows if row["ready"] == soonest)
    words = named(moves, "plan_words")
    assert words.startswith(f"move it on {latest:%Y-%m-%d}")
    assert f"{soonest:%Y-%m-%d}" in words
    assert (named(moves, "plan_best_day"), named(moves, "plan_best_ready")) == (latest, soonest)
    noted = [row["moves"] for row in open_rows if row["note"] == "this one"]
    assert noted == [latest]


@pytest.mark.parametrize(("target", "told"), [(9.1, True), (9.2, False)])
def test_a_target_near_the_emc_there_is_told(target: float, told: bool, tmp_path: Path) -> None:
    """Within 1.5 % of 7.7 % MC, as the advice on Stacks has it."""
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    columns: dict[str, list[Any]] = {
        "plan_to": ["room"],
        "plan_goal": [target],
        "plan_best_day": [date(2026, 12, 1)],
        "plan_best_ready": [date(2027, 1, 2)],
        "plan_stays": [date(2027, 1, 12)],
        "place_names": ["yard", "room"],
        "place_lowest": [11.0, 7.7],
    }
    for number, (name, cells) in enumerate(columns.items(), 2):
        letter = get_column_letter(number)
        for row, value in enumerate(cells, 1):
            sheet[f"{letter}{row}"] = value
        area = f"'Sheet'!${letter}$1:${letter}${len(cells)}"
        workbook.defined_names[name] = DefinedName(name, attr_text=area)
    sheet["A1"] = f"={MOVE_IT}"
    workbook.save(tmp_path / "words.xlsx")
    words = compute(tmp_path / "words.xlsx")["Sheet", "A1"]
    assert words.startswith("move it on 2026-12-01")
    assert words.endswith(f"; {NOT_TRUSTWORTHY}") == told


def test_dates_before_the_as_of_date_are_marked_and_not_chosen(moves: Workbook) -> None:
    as_of = named(moves, "as_of")
    past = [row for row in rows(moves, MOVE_PLAN)[1:].to_dict("records") if row["moves"] < as_of]
    assert past
    assert {row["note"] for row in past} == {"past"}
    assert {row["open_ready"] for row in past} <= {0, pd.Timestamp(0).time()}


def test_a_place_that_never_dries_it_is_told(stays: Workbook) -> None:
    assert named(stays, "plan_name") == "Fast"
    assert {
        row["ready"] for row in rows(stays, MOVE_PLAN)[1:].to_dict("records") if row["moves"]
    } == {"not reached"}
    assert named(stays, "plan_words") == NEVER_THERE


def test_line_of_the_stack_that_stays_is_its_ready_date(stays: Workbook, moves: Workbook) -> None:
    assert named(moves, "plan_stays") == "not reached"
    drawn = rows(moves, PLAN_LINE)
    assert drawn["day"].nunique() == 1  # one point, on one of the others
    assert isinstance(named(stays, "plan_stays"), datetime)
    assert set(rows(stays, PLAN_LINE)["ready"]) == {named(stays, "plan_stays")}


def test_page_is_one(demo: Path) -> None:
    sheet = openpyxl.load_workbook(demo)[PLAN_SHEET]
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 1)
