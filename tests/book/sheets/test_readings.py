"""Sheet Readings: corrected readings, what the check says of a row, and each stack's verdict."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.engine.compute import compute
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.block import Block
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.readings import (
    ELSEWHERE,
    NO_BOARD,
    NO_PIN_FIGURES,
    OUT_OF_RANGE,
    READ_AGAIN,
    READINGS,
)
from lumbercalc.book.sheets.readings_by_stack import LOTS, WET_LEFT_OUT, WETTER_BEFORE
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.tables import TABLES
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.cell_value import Values
from lumbercalc.book.xlsx.stored import with_values
from tests.book.stored_values import stored_in
from tests.book.test_demo_in_calc import all_cells, differences
from tests.book.what_is_asked import clear_others, row_of_check
from tests.hosts.calc.calc_session import Calc

TOLERANCE = 1e-12
"""Relative: the sheet and Python call the same functions on the same numbers."""

DAY = date(2026, 11, 19)
BEFORE = date(2026, 11, 5)
EVE = date(2026, 11, 18)
WEEK_AGO, LONGER_AGO = date(2026, 11, 12), date(2026, 11, 11)

STACK_ROWS: list[dict[str, Any]] = [
    {"name": "ready", "species": "Walnut, black", "target": 9},
    {"name": "wet", "species": "Walnut, black", "target": 9},
    {"name": "both", "species": "Oak, white", "target": 9},
    {"name": "cherry", "species": "Cherry, black", "target": 9},
    {"name": "no target", "species": "Walnut, black"},
    {"name": "unread", "species": "Walnut, black", "target": 9},
    {"name": "one", "species": "Walnut, black", "target": 9},
    {"name": "blue", "species": "Wallnut, blue", "target": 9},
    {"name": "twice", "species": "Oak, white", "target": 9},
    {"name": "parts", "species": "Oak, white", "target": 9},
    {"name": "basswood", "species": "Basswood, American", "target": 18},
    {"name": "nameless", "species": "Oak, white", "target": 9},
    *({"name": name, "species": "Oak, white", "target": 9} for name in ("week", "longer", "eve")),
]


def pin(stack: str, shows: Any, board: str, day: Any = DAY, **cells: Any) -> dict[str, Any]:
    typed = {"date": day, "stack": stack, "board": board, "meter": "pin", "shows": shows}
    return typed | {"temp": 70} | cells


def pinless(stack: str, shows: Any, board: str | None, **cells: Any) -> dict[str, Any]:
    typed = {"date": DAY, "stack": stack, "board": board, "meter": "pinless", "shows": shows}
    return typed | {"meter_sg": 0.6} | cells


ROWS: list[tuple[dict[str, Any], str]] = [
    (pin("ready", 8.0, "1", dry=8.0), "ok"),
    (pin("ready", 8.4, "2", dry=7.4), "ok"),
    (pin("ready", 8.2, "3", dry=7.1), "ok"),
    (pin("ready", 7.9, "4", dry=9.0), "ok"),
    (pin("ready", 19.0, "1", BEFORE), "ok"),
    (pin("ready", 5.9, "5"), OUT_OF_RANGE),
    (pin("ready", 30.5, "6", BEFORE), OUT_OF_RANGE),
    (pin("ready", 8.0, "7", date(2026, 12, 24)), "the date is after the as-of date on Start"),
    (pin("wet", 8.0, "1"), "ok"),
    (pin("wet", 8.1, "2"), "ok"),
    (pin("wet", 8.2, "3"), "ok"),
    (pin("wet", 8.3, "4", calibration=80), "ok"),
    (pin("wet", 31, "5"), OUT_OF_RANGE),
    (pin("both", 9.0, "1"), "ok"),
    (pinless("both", 12.0, "2"), "ok"),
    (pinless("both", 3.9, "3"), OUT_OF_RANGE),
    (pinless("both", 30.1, "3", date=BEFORE), OUT_OF_RANGE),
    (pin("cherry", 8.0, "1"), NO_PIN_FIGURES),
    (pinless("cherry", 7.0, "2"), "ok"),
    (pinless("cherry", 7.2, "3"), "ok"),
    (pin("no target", 9.0, "1"), "ok"),
    (pin("no target", 9.4, "2"), "ok"),
    (pin("one", 9.0, "1"), "ok"),
    (pin("ready", "eight", "8"), "the reading is not a number"),
    (pin("ready", 8.0, "9", temp=None), "the temperature of the wood is missing"),
    (pin("ready", 8.0, "10", temp=500), "wood_temp_f is 500 deg F"),
    (pin("ready", 8.0, "11", calibration=40), "calibration_temp_f is 40 deg F"),
    (pin("ready", 8.0, "12", day="yesterday"), "the date is not a date"),
    (pin("ready", 8.0, "13", meter="needles"), "the meter must be pin or pinless"),
    (pin("ready", None, "14"), "date, stack, meter or reading is missing"),
    (pin("attic", 8.0, "1"), "no such stack, or no species for it, on Stacks"),
    (pin("blue", 8.0, "1"), 'species is the text "Wallnut, blue"'),
    (pinless("one", 8.0, "2", meter_sg=None), "the SG that the meter is set to is missing"),
    (pinless("one", 8.0, "3", meter_sg=3), "meter_sg is 3 SG"),
    (pin("one", 8.0, "4", BEFORE), "ok"),
    (pin("one", 8.0, "4", BEFORE), READ_AGAIN),
    (pin("one", 9.0, "5", BEFORE, dry=101), "dry_reading is 101 % MC"),
    (pin("ready", 8.3, "OA-1"), ELSEWHERE),
    (pinless("twice", 8.0, "1"), READ_AGAIN),
    *((pinless("twice", 8.0, board), "ok") for board in "234"),
    (pinless("twice", 8.0, "4"), READ_AGAIN),
    (pinless("twice", 15.0, "1"), "ok"),
    *((pinless("parts", 14.0, board, date=EVE), "ok") for board in "123456"),
    *((pinless("parts", 8.0, board), "ok") for board in "6789"),
    *((pinless("basswood", 10.0, board, meter_sg=0.5), "ok") for board in "12345"),
    (
        pinless("basswood", 19.5, "6", meter_sg=0.5),
        "reading_pct is 19.5 % MC on a meter set to 0.5",
    ),
    *((pinless("nameless", 8.0, None), NO_BOARD) for _ in range(4)),
    *((pinless(stack, 8.0, n), "ok") for stack in ("week", "longer", "eve") for n in "1234"),
    (pinless("week", 14.0, "5", date=WEEK_AGO), "ok"),
    (pinless("longer", 14.0, "5", date=LONGER_AGO), "ok"),
    (pinless("eve", 10.5, "5", date=EVE), "ok"),
]
BOARDS_ROWS = [{"tag": "OA-1", "stack": "both"}]
"""What is typed in a row, and how its check begins."""

ERRORS = {5, 6, 12, 15, 16, 17, 23, 25, 26, 31, 33, 59}
"""Rows of which the corrected MC is an error."""

COUNTS = {
    "Readings with something to look at": sum(said != "ok" for _, said in ROWS),
    "Readings out of the meter's range": sum(said == OUT_OF_RANGE for _, said in ROWS),
    "Stacks with readings left out": 7,
    "Stacks without a row beside the readings (copy its last row down)": 0,
    "Texts where dates or figures belong": 2,
}
"""What Checks counts of them."""


def put(workbook: Workbook, table: Table, rows: list[dict[str, Any]]) -> None:
    for row, cells in enumerate(rows, FIRST_ROW):
        for key, value in cells.items():
            workbook[table.sheet][f"{table.letter(key)}{row}"].value = value


def put_name(workbook: Workbook, name: str, value: object) -> None:
    [(sheet, address)] = workbook.defined_names[name].destinations
    workbook[sheet][address.replace("$", "")].value = value


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Values]:
    """A workbook with good and bad rows, with the computed values of its sheet Readings."""
    workbook = build()
    put_name(workbook, "as_of", date(2026, 11, 20))
    put_name(workbook, "target_mc", None)
    put(workbook, STACKS, STACK_ROWS)
    put(workbook, BOARDS, BOARDS_ROWS)
    put(workbook, READINGS, [cells for cells, _ in ROWS])
    clear_others(workbook, ["Readings", *((what, "Readings") for what in COUNTS)])
    path = tmp_path_factory.mktemp("readings") / "readings.xlsx"
    workbook.save(path)
    computed = compute(path, TABLES)
    path.write_bytes(with_values(path.read_bytes(), computed))
    return path, computed


@pytest.fixture(scope="module")
def values(shop: tuple[Path, Values]) -> Values:
    return shop[1]


def at(values: Values, table: Table | Block, key: str, row: int) -> Any:
    return values["Readings", f"{table.letter(key)}{FIRST_ROW + row}"]


def lot(values: Values, key: str, stack: str) -> Any:
    return at(values, LOTS, key, [row["name"] for row in STACK_ROWS].index(stack))


@pytest.mark.parametrize(("row", "begins"), list(enumerate(check for _, check in ROWS)))
def test_the_check_says_what_is_wrong_with_a_row(values: Values, row: int, begins: str) -> None:
    said = at(values, READINGS, "note", row)
    assert said == "ok" if begins == "ok" else str(said).startswith(begins)


def test_a_bad_row_is_an_error_alone(values: Values) -> None:
    kinds = [at(values, READINGS, "mc", row) for row in range(len(ROWS))]
    assert {row for row, mc in enumerate(kinds) if str(mc).startswith("#")} == ERRORS
    assert all(isinstance(kinds[row], float) for row, (_, said) in enumerate(ROWS) if said == "ok")
    beside = [
        at(values, LOTS, column.key, row)
        for column in LOTS.columns
        for row in range(len(STACK_ROWS))
    ]
    assert [value for value in beside if str(value).startswith("#")] == []


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (0, "like the dry piece"),
        (1, "like the dry piece"),  # 1 % above it: the limit itself counts
        (2, "wetter"),
        (3, "drier: read both again"),
        (4, ""),
    ],
)
def test_against_the_dry_piece(values: Values, row: int, words: str) -> None:
    assert at(values, READINGS, "against", row) == words


def test_rows_are_corrected_as_in_python(values: Values) -> None:
    expected = {
        0: lc.mc_pin(8.0, "walnut", 70),
        11: lc.mc_pin(8.3, "walnut", 70, 80),
        13: lc.mc_pin(9.0, "white oak", 70),
        14: lc.mc_pinless(12.0, 0.6, "white oak"),
        18: lc.mc_pinless(7.0, 0.6, "black cherry"),
    }
    for row, mc in expected.items():
        assert at(values, READINGS, "mc", row) == pytest.approx(mc, rel=TOLERANCE)


def test_only_good_readings_of_the_latest_day_count(values: Values) -> None:
    good = lc.mc_pin([8.0, 8.4, 8.2, 7.9], "walnut", 70)
    assert lot(values, "readings", "ready") == 4
    assert lot(values, "mean", "ready") == pytest.approx(good.mean(), rel=TOLERANCE)
    assert lot(values, "upper", "ready") == pytest.approx(lc.mc_upper(good), rel=TOLERANCE)
    assert lot(values, "share", "ready") == lc.share_within(good, 9)
    assert lot(values, "statement", "ready") == lc.mc_statement(good, DAY, "pin meter")
    assert [at(values, READINGS, "counts", row) != "" for row in range(8)] == [True] * 4 + [
        False
    ] * 4


@pytest.mark.parametrize(
    ("stack", "ready", "method", "left_out", "wet"),
    [
        # left out: 5.9 %, no number, no or a wrong temperature, a wrong calibration, no and a
        # late date, no meter, no reading
        ("ready", "ready", "pin meter", 9, 0),
        ("wet", WET_LEFT_OUT, "pin meter", 1, 1),
        ("both", "too few readings", "meters", 1, 0),
        ("cherry", "too few readings", "pinless meter", 1, 0),
        ("no target", "no target on Stacks or Start", "pin meter", 0, 0),
        ("unread", "no readings", "", 0, 0),
        ("one", "too few readings", "pin meter", 2, 0),
        ("blue", "no readings", "", 1, 0),
        # the first board at 15, not the 8 that it showed at first
        ("twice", "uneven", "pinless meter", 0, 0),
        # the day before six boards at 14, of which one was read again
        ("parts", WETTER_BEFORE, "pinless meter", 0, 0),
        # 19.5 x 0.5 / 0.32 is 30 %, beyond the meter's range, where 20 is over the target + 2
        ("basswood", WET_LEFT_OUT, "pinless meter", 1, 1),
        ("nameless", "too few readings", "pinless meter", 0, 0),
        # a wet board seven days before, eight, and one that was within 2 % of the target
        ("week", WETTER_BEFORE, "pinless meter", 0, 0),
        ("longer", "ready", "pinless meter", 0, 0),
        ("eve", "ready", "pinless meter", 0, 0),
    ],
)
def test_verdict_of_each_stack(
    values: Values, stack: str, ready: str, method: str, left_out: int, wet: int
) -> None:
    said = [lot(values, key, stack) for key in ("ready", "method", "left_out", "wet")]
    assert said == [ready, method, left_out, wet]


def test_a_wet_board_that_is_left_out_is_not_hidden_from_the_buyer(values: Values) -> None:
    assert lc.readiness([*lc.mc_pin([8.0, 8.1, 8.2], "walnut", 70).tolist(), 8.8], 9) == "ready"
    assert lot(values, "statement", "wet").startswith("No statement: a wet reading is left out")


def test_the_wettest_reading_of_a_board_counts(values: Values) -> None:
    mcs = lc.mc_pinless([15.0, 8.0, 8.0, 8.0], 0.6, "white oak")
    assert lot(values, "readings", "twice") == 4
    assert lot(values, "mean", "twice") == pytest.approx(mcs.mean(), rel=TOLERANCE)


def test_wet_boards_of_the_days_before_are_told(values: Values) -> None:
    """Board 6 was read again: five are left."""
    assert lot(values, "before", "parts") == 5
    assert lot(values, "statement", "parts").startswith("No statement: wet boards were not read")
    assert lot(values, "before", "ready") == 0  # 19 % a fortnight before, and read again


def test_bad_rows_are_counted_on_checks(values: Values) -> None:
    workbook = build()
    rows = {what: row_of_check(workbook, what, "Readings") for what in COUNTS}
    assert {what: values["Checks", f"C{row}"] for what, row in rows.items()} == COUNTS


def test_blank_rows_stay_blank(values: Values) -> None:
    blank = len(ROWS) + 3
    shown = {
        column.key: at(values, READINGS, column.key, blank)
        for column in READINGS.columns
        if column.formula
    }
    assert shown.pop("day") == 0  # not shown by its number format
    assert set(shown.values()) == {""}
    below = len(STACK_ROWS) + 1
    assert {at(values, LOTS, column.key, below) for column in LOTS.columns} == {""}


@pytest.fixture(scope="module")
def sample() -> pd.DataFrame:
    rows = pd.read_csv(sample_folder() / "readings.csv")
    stacks = pd.read_csv(sample_folder() / "stacks.csv")[["name", "species", "target"]]
    return rows.merge(stacks, left_on="stack", right_on="name")


def test_the_sample_equals_python(demo: Path, sample: pd.DataFrame) -> None:
    sheet = stored_in(demo)["Readings"]
    of_pin = sample["meter"] == "pin"
    one, other = sample[of_pin], sample[~of_pin]
    mc = pd.concat(
        [
            pd.Series(lc.mc_pin(one["shows"], one["species"], one["temp"]), one.index),
            pd.Series(
                lc.mc_pinless(other["shows"], other["meter_sg"], other["species"]), other.index
            ),
        ]
    ).sort_index()
    letter = READINGS.letter("mc")
    stored = [sheet[f"{letter}{FIRST_ROW + row}"].value for row in range(len(sample))]
    assert stored == pytest.approx(list(mc), rel=TOLERANCE)
    latest = sample["date"] == sample.groupby("stack")["date"].transform("max")
    names = list(pd.read_csv(sample_folder() / "stacks.csv")["name"])
    for stack, rows in sample[latest].groupby("stack"):
        row = FIRST_ROW + names.index(str(stack))
        counted, target = list(mc[rows.index]), float(rows["target"].iloc[0])
        method = {"pin": "pin meter", "pinless": "pinless meter"}[rows["meter"].iloc[0]]
        shown = {
            column.key: sheet[f"{LOTS.letter(column.key)}{row}"].value for column in LOTS.columns
        }
        assert shown["readings"] == len(counted)
        assert shown["mean"] == pytest.approx(sum(counted) / len(counted), rel=TOLERANCE)
        assert shown["upper"] == pytest.approx(lc.mc_upper(counted), rel=TOLERANCE)
        assert shown["share"] == pytest.approx(lc.share_within(counted, target), rel=TOLERANCE)
        assert shown["ready"] == lc.readiness(counted, target)
        assert shown["statement"] == lc.mc_statement(counted, rows["date"].iloc[0], method)


def test_the_sale_tells_what_the_meter_showed_after_the_last_weighing(demo: Path) -> None:
    workbook = stored_in(demo)
    said = workbook["Readings"][f"{LOTS.letter('statement')}{FIRST_ROW}"].value
    assert "12 readings, pin meter, 2026-11-19" in said
    assert said in [cell.value for row in workbook["Sale"].iter_rows() for cell in row]


@pytest.mark.calc
def test_good_and_bad_rows_are_the_same_in_calc(calc: Calc, shop: tuple[Path, Values]) -> None:
    path, computed = shop
    errors = {
        f"{sheet}!{address}"
        for (sheet, address), value in computed.items()
        if sheet == "Readings" and str(value).startswith("#")
    }
    calc.open(path)
    calc.calculate()
    _, found = differences(all_cells(calc), path)
    differing = {text.split(" ")[0] for text in found if text.startswith("Readings!")}
    assert differing == errors
    assert all("kind='error'" in text for text in found if text.startswith("Readings!"))


def test_both_tables_are_as_wide_so_that_each_is_on_pages_of_its_own() -> None:
    """Seen in Calc 25.2: fitted to two pages, a sheet is broken in its middle."""
    shown = [sum(column.width for column in each.columns if not column.hidden)
             for each in (READINGS, LOTS)]  # fmt: skip
    assert shown[0] == shown[1]
