"""The values that tests share are those of the very workbook that a test saves."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.macros import SETTINGS_SHEET
from lumbercalc.book.page.styles import add_styles
from tests.book import computed_once
from tests.book.computed_once import computed_in, what_is_computed
from tests.book.engine.test_compute import TALLY


def saved(path: Path, change: Callable[[Workbook], object] = lambda workbook: None) -> Path:
    workbook = Workbook()
    add_styles(workbook)
    sheet = workbook.worksheets[0]
    sheet["A1"].value, sheet["A2"].value = 7, "=A1*rate"
    sheet["B1"].value = ArrayFormula("B1:B2", "=A1:A2*2")
    sheet["C1"].value, sheet["C1"].data_type = "=A1", "s"
    workbook.create_sheet(SETTINGS_SHEET)
    workbook.defined_names["rate"] = DefinedName("rate", attr_text="'Sheet'!$A$1")
    change(workbook)
    workbook.save(path)
    return path


def put(address: str, value: object, kind: str = "") -> Callable[[Workbook], None]:
    def change(workbook: Workbook) -> None:
        cell = workbook.worksheets[0][address]
        cell.value = value
        cell.data_type = kind or cell.data_type

    return change


def name(text: str) -> Callable[[Workbook], None]:
    def change(workbook: Workbook) -> None:
        workbook.defined_names["rate"].attr_text = text

    return change


@pytest.mark.parametrize(
    "change",
    [
        put("A1", 8),
        put("A1", "7"),
        put("A1", True),
        put("A2", "=A1*rate+1"),
        put("A3", "=A1"),
        put("B1", ArrayFormula("B1:B3", "=A1:A2*2")),
        put("B1", ArrayFormula("B1:B2", "=A1:A2*3")),
        put("C1", "=A1", "f"),
        name("'Sheet'!$A$2"),
        lambda workbook: setattr(workbook.worksheets[0], "title", "Other"),
    ],
)
def test_whatever_changes_a_value_is_computed_anew(
    tmp_path: Path, change: Callable[[Workbook], None]
) -> None:
    before = what_is_computed(saved(tmp_path / "a.xlsx"), ())
    assert what_is_computed(saved(tmp_path / "b.xlsx", change), ()) != before


def test_tables_count_and_the_settings_of_macros_do_not(tmp_path: Path) -> None:
    before = what_is_computed(saved(tmp_path / "a.xlsx"), ())

    def macros(workbook: Workbook) -> None:
        workbook[SETTINGS_SHEET]["A1"].value = "UDF Modules"

    assert what_is_computed(saved(tmp_path / "b.xlsx", macros), ()) == before
    assert what_is_computed(tmp_path / "a.xlsx", (TALLY,)) != before


def test_a_workbook_is_computed_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    computed = []

    def compute(path: Path, tables: object) -> dict[tuple[str, str], float]:
        computed.append(path.name)
        return {("Sheet", "A2"): 49.0}

    monkeypatch.setattr(computed_once, "compute", compute)
    for file, change in (("a", put("A3", 1)), ("b", put("A3", 1)), ("c", put("A3", 2))):
        path = saved(tmp_path / f"{file}.xlsx", change)
        assert computed_in(tmp_path)(path, ()) == {("Sheet", "A2"): 49.0}
    assert computed == ["a.xlsx", "c.xlsx"]
