"""What check tells of a template workbook: its rows' own checks, sheet Checks, typed texts."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from lumbercalc.book.checking.check import Checked, check
from lumbercalc.book.checking.finding import Kind
from lumbercalc.book.checking.fix_values import fix_values
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.checking.rules import VERDICT, _lines
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.report.sections import report
from lumbercalc.book.tables import TABLES
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.cell_value import CellValue, plain
from lumbercalc.book.xlsx.old_workbook import read_old
from lumbercalc.book.xlsx.places import Place
from lumbercalc.book.xlsx.reader import open_workbook
from tests.book.checking.test_check import told
from tests.book.checking.test_fix_values import NOW
from tests.book.small_shop import AS_OF, PRICES, oak, put

KEPT = ("Start", "Site", "Boards", "Stacks", "Sample boards", "Weighings", "Readings", "Sales",
        "Sales lines", "Sale", "Prices", "Loads", "Species", "Checks")  # fmt: skip
TABLE = {table.name: table for table in TABLES}
SALES_ROWS = [
    {"number": number, "buyer": "A joiner", "invoiced": date(2026, 11, 1), "shrink": 7} | more
    for number, more in (("S-1", {}), ("S-2", {}), ("S-3", {"discount": 0.05}))
]
LINES = [
    {"sale": "S-1", "tag": "OA-01"},
    {"sale": "S-2", "tag": "OA-01"},
]
STACK = {
    "name": "Oak 1", "place": "yard", "setting": "open yard", "species": "Oak, white",
    "quarters": "4/4", "start": date(2026, 9, 1), "target": 8,
}  # fmt: skip
SAMPLE = {
    "board": "Oak 1a", "stack": "Oak 1", "date": date(2026, 9, 1), "unit": "lb", "weight": 20,
    "section1": 80, "section2": 82,
}  # fmt: skip


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small shop in which one thing of each kind is wrong; nothing is stored yet."""
    rows = {
        "board": [
            oak("OA-01", 6, 8), oak("OA-02", 6, 8), oak("OA-02", 7, 8), oak("OA-04", 300, 8),
            oak("OA-05", 6, 8, insects="signs"),
        ],
        "stack": [STACK],
        "sample": [SAMPLE],
        "weighing": [
            {"date": date(2026, 9, 20), "board": "Oak 1a", "weight": 15},
            {"date": date(2026, 10, 1), "board": "Oak 1a", "weight": 15.5},
        ],
        "sales": SALES_ROWS,
        "line": LINES,
        "price": PRICES,
    }  # fmt: skip
    rows["board"].append(oak("OA-06", 6, 8) | {"pieces": "two"})
    workbook = build()
    for sheet in workbook.sheetnames:
        if sheet not in KEPT:  # the others take longest
            workbook.remove(workbook[sheet])
    for name, defined in list(workbook.defined_names.items()):
        if any(sheet not in KEPT for sheet, _ in defined.destinations):
            del workbook.defined_names[name]
    for name, some in rows.items():
        put(workbook, TABLE[name], some)
    [(sheet, where)] = workbook.defined_names["as_of"].destinations
    workbook[sheet][where.replace("$", "")].value = AS_OF
    path = tmp_path_factory.mktemp("shop") / "shop.xlsx"
    workbook.save(path)
    return path


@pytest.fixture(scope="module")
def checked(shop: Path) -> Checked:
    return check(shop)


def address(table: str, key: str, row: int) -> str:
    return f"{TABLE[table].sheet}!{TABLE[table].letter(key)}{FIRST_ROW + row}"


@pytest.mark.parametrize(
    ("table", "row", "words"),
    [
        ("board", 2, "Tag OA-02: tag is used twice"),
        ("board", 3, "Tag OA-04: width_in is 300 in; it must be from 0.25 to 120 in"),
        ("board", 4, "Tag OA-05: held: insect signs, keep it apart"),
        ("weighing", 1, "Sample board Oak 1a: gained weight: rain, damp air or a misread scale"),
        ("line", 1, "Number of the sale S-2, Tag OA-01: this board is in another sale"),
    ],
)
def test_a_row_is_told_with_its_tag(checked: Checked, table: str, row: int, words: str) -> None:
    lines = told(checked, Kind.RULE)
    assert f"{address(table, 'note', row)}: {words}" in lines, lines


@pytest.mark.parametrize(
    ("what", "found"),
    [
        ("Boards: Tags used twice", 1),
        ("Boards: Board feet that are errors", 2),
        ("Boards: Boards held for insect signs", 1),
        ("Weighings: Weights that went up", 1),
        ("Sales lines: Boards and logs that are in two sales", 1),
    ],
)
def test_a_line_of_sheet_checks_is_told(checked: Checked, what: str, found: int) -> None:
    assert re.fullmatch(
        rf"Checks!C\d+: {what}: {found}",
        next(line for line in told(checked, Kind.RULE) if what in line),
    )


def test_what_is_ok_is_not_told(checked: Checked) -> None:
    lines = told(checked, Kind.RULE)
    assert not any(": ok" in line or line.endswith(": 0") for line in lines)
    assert not any(line.startswith(address("board", "note", 0)) for line in lines)
    assert not any("fewer than four sample boards" in line for line in lines)  # advice, no rule


def test_a_text_in_a_number_column_is_told_with_its_limits(checked: Checked) -> None:
    [line] = told(checked, Kind.TEXT)
    assert line == (
        f'{address("board", "pieces", 5)}: Pieces is the text "two"; it must be a whole number '
        "from 1 to 100000 pieces"
    )


def test_a_percentage_typed_as_a_share_is_told_once(checked: Checked) -> None:
    row = rf"Sales![A-Z]+{FIRST_ROW + 2}: "
    [line] = [line for line in told(checked, Kind.RULE) if re.match(row, line)]
    discount = address("sales", "discount", 2)
    assert line == f"{discount}: Discount (%) is 0.05; it must be 0 or from 0.5 to 100 %"


def test_a_refusal_of_the_template_has_its_reason(checked: Checked) -> None:
    lines = told(checked, Kind.REFUSED)
    wide = "BOARD_FEET: width_in is 300 in; it must be from 0.25 to 120 in"
    assert f"{address('board', 'bf', 3)}: {wide}" in lines
    dry = f"{address('board', 'dry_bf', 3)}: {wide} (passed on from {address('board', 'bf', 3)})"
    assert dry in lines


def test_report_of_values_that_are_not_there_says_what_to_do(
    shop: Path, checked: Checked, tmp_path: Path
) -> None:
    first = str(next(iter(report(shop))))
    assert f"nothing is stored in {address('board', 'note', 0)}" in first
    assert "lumbercalc check" in first
    assert "--fix-values" in first
    fix_values(checked.fresh, tmp_path / "shop.xlsx", NOW)
    assert str(next(iter(report(tmp_path / "shop.xlsx")))).startswith("The day: 2026-11-20")
    stored = open_workbook(open_archive(tmp_path / "shop.xlsx"))["Boards"]
    assert stored[f"{TABLE['board'].letter('bf')}{FIRST_ROW}"].value == 4


@pytest.mark.parametrize(
    ("old", "lines"), [("template-1", 17), ("template-2", 17), ("template-3", 22)]
)
def test_lines_of_an_older_sheet_checks_are_read_as_far_as_they_go(old: str, lines: int) -> None:
    read = read_old(open_archive(Path(__file__).parents[1] / "old_templates" / f"{old}.xlsx"))

    def value(place: Place) -> CellValue | None:
        """As stored, and every line as one that is to be looked at."""
        cell = read.cells.get(place)
        return "look" if place[2] == VERDICT else plain(cell.value) if cell else None

    found = list(_lines(cast(Fresh, SimpleNamespace(old=read, value=value))))
    area = read.names["checks_to_look_at"]
    last = area.first_row - 1
    assert [each.place[1] for each in found] == list(range(last - lines + 1, last + 1))
    assert [str(each) for each in found if "What is checked" in str(each)] == []
