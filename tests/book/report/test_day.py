"""The shop's day: each question by small tables of rows, and the report of the demo."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName
from rich.console import Console
from typer.testing import CliRunner

from lumbercalc.book.report.day import Day, read_day
from lumbercalc.book.report.sections import day_sections
from lumbercalc.book.report.stacks import interval
from lumbercalc.book.sheets.stack_advice import MOLD, OVER_SAFE_RATE, READ_READY, STANDS_STILL
from lumbercalc.book.sheets.weighings import GAINED, TOO_FAST
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.cell_value import day_of
from lumbercalc.book.xlsx.reader import open_workbook
from lumbercalc.cli import app
from tests.book.checking.test_check import marked
from tests.book.stored_values import put_rows

AS_OF = date(2026, 11, 20)
ROOT = Path(__file__).parents[3]

STACK = {
    "name": "Oak 1", "place": "yard", "here": "yard", "mc_now": 30.0, "goal": 8,
    "likely": date(2027, 5, 1), "loss": 0.4, "loss_weighed": 0.5, "safe": 2.5,
    "advice": "ok", "note": "ok",
}  # fmt: skip
SAMPLE = {"board": "1a", "stack": "Oak 1", "date": date(2026, 9, 1), "note": "ok"}
WEIGHED = {"board": "1a", "stack": "Oak 1", "date": date(2026, 11, 12), "weight": 9, "mc": 31.0,
           "loss": 0.4, "note": "ok"}  # fmt: skip
BOARD = {"tag": "OA-01", "species": "Oak, white", "stack": "Oak 1", "lies": "Oak 1",
         "status": "drying", "note": "ok"}  # fmt: skip
SALE = {"number": "S-1", "buyer": "A joiner", "kind": "Invoice", "date": date(2026, 11, 1),
        "due": 12.5, "note": "ok"}  # fmt: skip

Rows = Mapping[str, list[dict[str, Any]]]


def stored(path: Path, rows: Rows, as_of: Any = AS_OF) -> Path:
    """A workbook with the sheets of the day and what is stored in them."""
    workbook = Workbook()
    workbook.worksheets[0].title = "Start"
    workbook["Start"]["B2"].value = as_of
    workbook.defined_names["as_of"] = DefinedName("as_of", attr_text="'Start'!$B$2")
    for table in TABLES:
        put_rows(workbook, table, rows.get(table.name, []))
    workbook.calculation.fullCalcOnLoad = False
    workbook.save(path)
    return path


def day(path: Path, rows: Rows, as_of: Any = AS_OF) -> Day:
    stored(path / "shop.xlsx", rows, as_of)
    archive = open_archive(path / "shop.xlsx")
    return read_day(open_workbook(archive), archive)


def printed(of: Day) -> str:
    console = Console(width=80, record=True, file=StringIO())
    for section in day_sections(of):
        console.print(section)
    return console.export_text()


@pytest.mark.parametrize(
    ("mc", "days"), [(80, 3), (40.1, 3), (40, 7), (12, 7)]
)  # common practice, no source
def test_wet_stacks_are_weighed_more_often(mc: float, days: int) -> None:
    assert interval(mc) == days


@pytest.mark.parametrize(
    ("stack", "last", "due"),
    [
        ({}, date(2026, 11, 13), True),
        ({}, date(2026, 11, 14), False),
        ({"mc_now": 55.0}, date(2026, 11, 17), True),
        ({"mc_now": 55.0}, date(2026, 11, 18), False),
        ({"mc_now": 8.0}, date(2026, 10, 1), False),  # at its target: to be read, not weighed
        ({"mc_now": "not begun"}, date(2026, 10, 1), False),
        ({}, datetime(2026, 11, 13, 15, 30), True),
        ({}, AS_OF, False),  # weighed today
    ],
)
def test_what_is_to_be_weighed(
    tmp_path: Path, stack: dict[str, Any], last: date, due: bool
) -> None:
    rows = {"stack": [STACK | stack], "sample": [SAMPLE], "weighing": [WEIGHED | {"date": last}]}
    found = day(tmp_path, rows).weigh
    assert bool(found) is due
    if due:
        [(name, boards, told)] = found
        assert (name, boards) == ("Oak 1", "1a")
        assert told.startswith(f"{last:%Y-%m-%d}, ")


def test_all_boards_are_weighed_but_those_that_were_replaced(tmp_path: Path) -> None:
    samples = [
        SAMPLE | {"board": board, "date": on, "replaces": replaces}
        for board, on, replaces in (
            ("old", date(2026, 9, 1), None),
            ("1a", date(2026, 9, 1), None),
            ("left out", date(2026, 9, 1), None),
            ("new", date(2026, 11, 13), "old"),
        )
    ]
    weighings = [
        WEIGHED | {"board": "old", "date": date(2026, 10, 1)},
        WEIGHED,
        WEIGHED | {"date": date(2026, 12, 24)},  # after the as-of day
        WEIGHED | {"board": "new", "date": date(2026, 11, 13), "mc": "#NUM!"},
    ]
    rows = {"stack": [STACK], "sample": samples, "weighing": weighings}
    assert day(tmp_path, rows).weigh == [("Oak 1", "1a, left out, new", "2026-11-12, 8 days ago")]


@pytest.mark.parametrize(("name", "written"), [("Oak 1", "oak 1 "), (7, "7"), (7.0, 7)])
def test_names_are_compared_as_the_workbook_does(tmp_path: Path, name: Any, written: Any) -> None:
    rows = {
        "board": [BOARD | {"stack": written, "lies": str(written)}],
        "stack": [STACK | {"name": name}],
        "sample": [SAMPLE | {"stack": written}],
        "weighing": [WEIGHED | {"stack": written, "board": "1A", "note": TOO_FAST}],
    }
    shown = "7" if name == 7 else name
    found = day(tmp_path, rows)
    assert found.weigh == [(shown, "1a", "2026-11-12, 8 days ago")]
    assert found.fast == [(shown, "board 1A 0.4")]


def test_boards_never_weighed_are_due_from_their_setup(tmp_path: Path) -> None:
    rows = {"stack": [STACK], "sample": [SAMPLE | {"date": date(2026, 11, 13)}]}
    assert day(tmp_path, rows).weigh == [("Oak 1", "1a", "never")]
    later = SAMPLE | {"board": "1b", "date": date(2026, 11, 19)}
    for samples in ([later], [SAMPLE | {"date": date(2026, 11, 13)}, later]):
        assert day(tmp_path, {"stack": [STACK], "sample": samples}).weigh == []


@pytest.mark.parametrize(
    ("stack", "why"),
    [
        ({"mc_now": 8.0}, "8.0 % MC now, target 8 %"),
        ({"mc_now": 7.2}, "7.2 % MC now, target 8 %"),
        ({"likely": AS_OF}, "its likely day, 2026-11-20, has come"),
        ({"likely": date(2026, 11, 21)}, None),
        ({"likely": "not reached"}, None),
        ({"mc_now": "#NUM!", "likely": "#NUM!"}, None),
    ],
)
def test_what_is_ready(tmp_path: Path, stack: dict[str, Any], why: str | None) -> None:
    found = day(tmp_path, {"stack": [STACK | stack]}).ready
    assert found == ([("Oak 1", "yard", why)] if why else [])


def test_a_stack_is_ready_by_its_readings_and_where_it_was_moved_to(tmp_path: Path) -> None:
    """Readings said so, and the report said that nothing is ready."""
    stack = STACK | {"here": "basement", "advice": READ_READY, "mc_now": 8.5}
    assert day(tmp_path, {"stack": [stack]}).ready == [("Oak 1", "basement", READ_READY)]


@pytest.mark.parametrize(
    ("stack", "weighing", "loses"),
    [
        ({"advice": OVER_SAFE_RATE, "loss": 3.04}, {}, "3.0 % MC a day, safe 2.5"),
        ({"advice": OVER_SAFE_RATE, "loss": "", "loss_weighed": 3.3}, {}, "3.3 % MC a day, safe"),
        ({"advice": OVER_SAFE_RATE, "loss": 0.4, "loss_weighed": 3.3}, {}, "3.3 % MC a day, safe"),
        ({}, {"note": TOO_FAST, "loss": 2.9}, "board 1a 2.9"),
        ({"advice": OVER_SAFE_RATE, "loss": "", "loss_weighed": ""}, {}, "over the safe rate"),
        ({}, {}, None),
    ],
)
def test_what_dries_too_fast(
    tmp_path: Path, stack: dict[str, Any], weighing: dict[str, Any], loses: str | None
) -> None:
    rows = {"stack": [STACK | stack], "weighing": [WEIGHED | weighing]}
    found = day(tmp_path, rows).fast
    assert len(found) == (1 if loses else 0)
    assert not loses or (found[0][0] == "Oak 1" and found[0][1].startswith(loses))


def test_a_board_that_was_too_fast_once_is_not_told_for_ever(tmp_path: Path) -> None:
    weighings = [WEIGHED | {"note": TOO_FAST, "date": date(2026, 11, 1)}, WEIGHED]
    assert day(tmp_path, {"stack": [STACK], "weighing": weighings}).fast == []


@pytest.mark.parametrize(
    ("stack", "weighing", "what"),
    [
        ({"advice": STANDS_STILL}, {}, STANDS_STILL),
        ({"advice": MOLD}, {}, MOLD),
        ({}, {"note": GAINED}, f"board 1a {GAINED}"),
        ({}, {}, None),
    ],
)
def test_what_is_damp(
    tmp_path: Path, stack: dict[str, Any], weighing: dict[str, Any], what: str | None
) -> None:
    rows = {"stack": [STACK | stack], "weighing": [WEIGHED | weighing]}
    assert day(tmp_path, rows).damp == ([("Oak 1", what)] if what else [])


def test_what_is_held(tmp_path: Path) -> None:
    boards = [BOARD, BOARD | {"tag": "OA-02", "status": "held", "lies": None}]
    found = day(tmp_path, {"board": boards, "stack": [STACK]}).held
    assert found == [("OA-02", "Oak, white", "Oak 1")]


@pytest.mark.parametrize(
    ("sale", "row"),
    [
        ({}, ("S-1", "A joiner", "2026-11-01", 12.5)),
        ({"due": 0}, None),
        ({"kind": "Quote"}, None),
        ({"kind": "Cancelled", "due": -400}, ("S-1", "A joiner", "to give back", -400.0)),
        ({"due": "#NUM!"}, None),
        ({"buyer": None}, ("S-1", "", "2026-11-01", 12.5)),
    ],
)
def test_what_is_unpaid(
    tmp_path: Path, sale: dict[str, Any], row: tuple[str, str, str, float] | None
) -> None:
    assert day(tmp_path, {"sales": [SALE | sale]}).unpaid == ([row] if row else [])


def test_a_stack_whose_boards_have_left_asks_for_nothing(tmp_path: Path) -> None:
    rows = {
        "board": [BOARD | {"lies": None, "status": "sold"}],
        "stack": [STACK | {"mc_now": 8.0, "advice": STANDS_STILL}],
    }
    found = day(tmp_path, rows)
    assert (found.ready, found.damp) == ([], [])
    assert day(tmp_path, rows | {"board": [BOARD]}).ready


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ({"board": [BOARD | {"note": "=1"}]}, "nothing is stored in Boards!AA5"),
        ({"stack": [STACK, STACK | {"note": "#NAME?"}]}, "was saved without the functions"),
        ({"board": [BOARD], "stack": [STACK]}, ""),
        ({"board": [{"log": "A"}]}, ""),  # no tag: the row has no check
    ],
)
def test_values_that_are_not_those_of_the_inputs_are_told(
    tmp_path: Path, rows: Rows, told: str
) -> None:
    found = day(tmp_path, rows)
    assert told in (found.stale.why if found.stale else "")
    assert bool(found.stale) is bool(told)
    assert ("shop.xlsx--fix-values" in "".join(printed(found).split())) is bool(told)


def test_a_file_that_is_to_be_computed_anew_is_told(tmp_path: Path) -> None:
    archive = open_archive(marked(stored(tmp_path / "shop.xlsx", {"stack": [STACK]})))
    found = read_day(open_workbook(archive), archive)
    assert found.stale is not None
    assert found.stale.why == "the file is marked to be computed anew"


def test_a_row_typed_below_the_formulas_is_told_to_be_given_some(tmp_path: Path) -> None:
    bare = BOARD | {"tag": "OA-09", "note": None}
    found = day(tmp_path, {"board": [BOARD, bare, bare], "stack": [STACK]})
    assert found.stale is not None
    assert found.stale.why == "Boards row 6 has no formulas, as 1 more"
    assert "copy those of the row above down, recalculate and save" in printed(found)
    assert "--fix-values" not in printed(found)
    both = day(tmp_path, {"board": [bare, BOARD | {"note": "=1"}]}).stale
    assert both is not None  # a computation comes first
    assert both.why == "nothing is stored in Boards!AA6"


def test_empty_sections_say_none_in_one_line(tmp_path: Path) -> None:
    lines = printed(day(tmp_path, {})).splitlines()
    assert lines[0] == "The day: 2026-11-20"
    for section in ("To weigh", "Ready", "Dries too fast", "Held, insect signs", "Unpaid"):
        assert f"{section}: none" in lines
    assert any("common practice, no source" in line for line in lines)
    assert not any("Damp" in line for line in lines)


def test_sections_are_printed_with_their_rows(tmp_path: Path) -> None:
    rows = {
        "board": [BOARD, BOARD | {"tag": "[red]", "status": "held"}],
        "stack": [STACK | {"advice": STANDS_STILL}],
        "sample": [SAMPLE],
        "weighing": [WEIGHED],
        "sales": [SALE | {"due": 1234.5}],
    }
    text = printed(day(tmp_path, rows))
    for words in ("To weigh", "2026-11-12, 8 days ago", "[red]", "1,234.50", "Damp", STANDS_STILL):
        assert words in text
    assert max(map(len, text.splitlines())) <= 80


def test_without_an_as_of_day_nothing_is_due(tmp_path: Path) -> None:
    rows = {"stack": [STACK | {"likely": AS_OF}], "sample": [SAMPLE], "weighing": [WEIGHED]}
    found = day(tmp_path, rows, as_of=None)
    assert (found.as_of, found.weigh, found.ready) == (None, [], [])
    assert "no as-of date on Start" in printed(found)


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        (datetime(2026, 5, 1, 12), date(2026, 5, 1)),
        (date(2026, 5, 1), date(2026, 5, 1)),
        (46143.0, date(2026, 5, 1)),
        ("2026-05-01", None),
        (None, None),
        (-1, None),
    ],
)
def test_the_day_of_a_cell(cell: Any, expected: date | None) -> None:
    assert day_of(cell) == expected


def test_the_sample_workbook_shows_its_day() -> None:
    path = ROOT / "samples" / "lumber-shop-demo.xlsx"
    result = CliRunner().invoke(app, ["report", str(path)])
    assert result.exit_code == 0
    head = result.stdout.split("Stacks as of")[0]
    assert head.startswith("The day: 2026-11-20\nTo weigh: none\n")
    assert "S-1009  Floor layer  2026-10-31   70.07" in head
    assert head.count("Ash, white") == 5


def test_what_is_not_computed_is_not_said_to_be_none(tmp_path: Path) -> None:
    rows = {"board": [{"tag": "OA-01", "insects": "signs"}]}
    told = printed(day(tmp_path, rows))
    assert "Held, insect signs: not known" in told
    assert ": none" not in told
    assert "Held, insect signs: none" in printed(day(tmp_path, {}))
