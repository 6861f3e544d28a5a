"""The template's inputs that hold what they may not, by what is declared of them."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.texts import texts
from lumbercalc.book.inputs import declared_inputs, named_area
from lumbercalc.book.template import build
from lumbercalc.book.template_mark import MARK
from lumbercalc.book.xlsx.old_workbook import as_old
from lumbercalc.book.xlsx.places import address
from lumbercalc.version import TEMPLATE


@pytest.fixture(scope="module")
def template() -> Workbook:
    return build()


def told(workbook: Workbook, typed: dict[str, Any]) -> list[Finding]:
    """Type into the first cell of each name, look, and clear it again."""
    sheet_cells = []
    for name, value in typed.items():
        place = named_area(workbook, name).places[0]
        cell = workbook[place[0]][address(place)]
        sheet_cells.append((cell, cell.value))
        cell.value = value
    found = list(texts(as_old(workbook)))
    for cell, before in sheet_cells:
        cell.value = before
    return found


@pytest.mark.parametrize(
    ("name", "value", "kind", "line"),
    [
        ("load_purchase", -2000, Kind.RULE, "Loads!D5: Logs or lumber ($) is -2000; it must be "),
        ("load_purchase", 1_000_000.5, Kind.RULE, "Loads!D5: Logs or lumber ($) is 1000000.5; "),
        ("load_purchase", 10**400, Kind.RULE, "Loads!D5: Logs or lumber ($) is a number of more "),
        ("load_purchase", True, Kind.RULE, "Loads!D5: Logs or lumber ($) is TRUE; it must be a "),
        (
            "load_purchase",
            datetime(2026, 5, 1),
            Kind.RULE,
            "Loads!D5: Logs or lumber ($) is 2026-05-01 00:00:00; it is a date and must be a "
            "number from 0 to 1000000 $",
        ),
        (
            "load_purchase",
            "much",
            Kind.TEXT,
            'Loads!D5: Logs or lumber ($) is the text "much"; it must be a number from 0 to '
            "1000000 $",
        ),
        (
            "load_date",
            "soon",
            Kind.TEXT,
            'Loads!B5: Date is the text "soon"; it must be a date',
        ),
        (
            "board_pieces",
            2.5,
            Kind.RULE,
            "Pieces is 2.5; it must be a whole number from 1 to 100000 pieces",
        ),
        (
            "board_insects",
            "maybe",
            Kind.RULE,
            'Insect signs is the text "maybe"; it must be one of "none", "signs"',
        ),
        (
            "reading_meter",
            "dowsing",
            Kind.RULE,
            'Meter is the text "dowsing"; it must be one of "pin", "pinless"',
        ),
        ("reading_meter", 7, Kind.RULE, 'Meter is 7; it must be one of "pin", "pinless"'),
        (
            "option_width",
            "four",
            Kind.TEXT,
            'Stack width (ft) is the text "four"; it must be a number from 0.5 to 30 ft',
        ),
        ("option_width", 900, Kind.RULE, "Stack width (ft) is 900; it must be from 0.5 to 30 ft"),
        ("option_setting", "a breeze", Kind.RULE, 'Air through the stack is the text "a breeze"; '),
        ("planned_bf", -1, Kind.RULE, "Board feet, green (bf) is -1; it must be from 0 to "),
        ("tax_year", 2026.5, Kind.RULE, "is 2026.5; it must be a whole number from 1990 to 2200"),
    ],
)
def test_what_an_input_may_not_hold_is_told(
    template: Workbook, name: str, value: Any, kind: Kind, line: str
) -> None:
    [finding] = told(template, {name: value})
    assert finding.kind == kind
    assert line in str(finding)
    assert finding.place == named_area(template, name).places[0]


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("load_purchase", 0),
        ("load_purchase", 1_000_000),
        ("load_purchase", "=-5"),  # what a formula comes to is computed, and checked elsewhere
        ("load_date", datetime(2026, 5, 1)),
        ("site_month", 12),
        ("site_month", datetime(2026, 5, 1)),
        ("reading_meter", "PIN"),
        ("board_species", "A wood of our own"),  # a list to choose from, and more
    ],
)
def test_what_an_input_may_hold_is_not_told(template: Workbook, name: str, value: Any) -> None:
    assert told(template, {name: value}) == []


def test_words_of_an_older_template_are_its_own(template: Workbook) -> None:
    """Insect signs could be "treated" before the fourth; its numbers are looked at all the same."""
    typed = {MARK: TEMPLATE - 1, "board_insects": "treated", "board_width": 300}
    [finding] = told(template, typed)
    assert "Width (in) is 300" in finding.told


def test_a_name_of_the_template_in_a_workbook_of_ones_own_is_ones_own() -> None:
    workbook = Workbook()
    workbook["Sheet"]["B2"] = "none yet"
    workbook.defined_names["as_of"] = DefinedName("as_of", attr_text="Sheet!$B$2")
    assert list(texts(as_old(workbook))) == []


def test_a_column_is_one_of_numbers_where_more_than_half_of_it_are() -> None:
    workbook = Workbook()
    for row, value in enumerate((7, 8, "7,5", "8,5"), 1):
        workbook["Sheet"][f"A{row}"] = value
    assert list(texts(as_old(workbook))) == []
    workbook["Sheet"]["A5"] = 9
    assert [str(finding).split()[1] for finding in texts(as_old(workbook))] == [
        "Sheet!A3:", "Sheet!A4:",
    ]  # fmt: skip


def test_every_input_is_looked_at(template: Workbook) -> None:
    """A text that they may not hold, in the first cell of each: a line each, no cell twice."""
    names = [name for name, kind in declared_inputs().items() if kind.refusal("no such") != ""]
    found = told(template, dict.fromkeys(names, "no such"))
    assert len(names) > 100
    assert [each.place for each in found] == [named_area(template, n).places[0] for n in names]
