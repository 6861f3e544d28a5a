"""The values beside the formulas: all there, of the right type, and never half a file."""

from __future__ import annotations

import zipfile
from datetime import datetime
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from lumbercalc.book import template
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.records import fill
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.cell_value import Values
from lumbercalc.book.xlsx.stored import with_values
from lumbercalc.book.xlsx.value_xml import ERRORS
from tests.book.computed_once import NOW

SMALL: Values = {
    ("Sheet", "A1"): 2.5,
    ("Sheet", "A2"): "8/4 & <wide>",
    ("Sheet", "A3"): True,
    ("Sheet", "A4"): "#NUM!",
    ("Sheet", "A5"): "",
    ("Sheet", "A6"): "#8 screw",
    ("Sheet", "A7"): False,
    ("Sheet", "A8"): 46143.0,
    ("Sheet", "A9"): 1e-300,
    ("Sheet", "A10"): "caf\u00e9 \u2014",
}


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A workbook whose formulas have no values yet."""
    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    for _, address in SMALL:
        sheet[address].value = f'=IF(1,B1,"{address}")'
    sheet["A8"].number_format = "yyyy-mm-dd"
    sheet["B1"].value, sheet["B2"].value = "typed", 7
    workbook.save(tmp_path / "small.xlsx")
    return tmp_path / "small.xlsx"


def store(path: Path, values: Values) -> None:
    """Put values into a workbook of a test."""
    path.write_bytes(with_values(path.read_bytes(), values))


def left_over(path: Path) -> list[str]:
    """Files beside a workbook."""
    return sorted(one.name for one in path.parent.iterdir() if one != path)


@pytest.mark.parametrize(
    ("address", "value", "kind"),
    [
        ("A1", 2.5, "n"),
        ("A2", "8/4 & <wide>", "s"),
        ("A3", True, "b"),
        ("A4", "#NUM!", "e"),
        ("A6", "#8 screw", "s"),
        ("A7", False, "b"),
        ("A8", datetime(2026, 5, 1), "d"),
        ("A9", 1e-300, "n"),
        ("A10", "caf\u00e9 \u2014", "s"),
        ("B1", "typed", "s"),
        ("B2", 7, "n"),
    ],
)
def test_value_is_stored_with_its_type(small: Path, address: str, value: object, kind: str) -> None:
    store(small, SMALL)
    cell = load_workbook(small, data_only=True)["Sheet"][address]
    assert (cell.value, cell.data_type) == (value, kind)
    assert type(cell.value) is type(value)


def test_an_empty_text_is_stored_as_a_text(small: Path) -> None:
    store(small, SMALL)
    with zipfile.ZipFile(small) as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml").decode()
    cell = sheet[sheet.index('r="A5"') :].split("</c>")[0]
    assert 't="str"' in cell
    assert "<v></v>" in cell


@pytest.mark.parametrize("error", sorted(ERRORS))
def test_every_error_is_stored_as_an_error(small: Path, error: str) -> None:
    store(small, SMALL | {("Sheet", "A1"): error})
    cell = load_workbook(small, data_only=True)["Sheet"]["A1"]
    assert (cell.value, cell.data_type) == (error, "e")


def test_formulas_stay_and_every_part_is_kept(small: Path) -> None:
    before = load_workbook(small)["Sheet"]
    with zipfile.ZipFile(small) as archive:
        parts = archive.namelist()
    store(small, SMALL)
    after = load_workbook(small)["Sheet"]
    for row in before.iter_rows():
        for cell in row:
            assert after[cell.coordinate].value == cell.value
            assert after[cell.coordinate].number_format == cell.number_format
    with zipfile.ZipFile(small) as archive:
        assert archive.namelist() == parts
        assert archive.testzip() is None


def test_storing_twice_gives_the_later_values(small: Path) -> None:
    store(small, SMALL)
    store(small, SMALL | {("Sheet", "A3"): "now a text"})
    assert load_workbook(small, data_only=True)["Sheet"]["A3"].value == "now a text"


def test_a_formula_without_a_value_is_refused(small: Path) -> None:
    with pytest.raises(KeyError, match="A7"):
        store(small, {place: value for place, value in SMALL.items() if place[1] != "A7"})


def test_a_fault_while_saving_leaves_the_shop_s_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*arguments: object) -> Values:
        raise RuntimeError("no value was computed")

    shop = tmp_path / "shop.xlsx"
    shop.write_bytes(b"what the shop had")
    monkeypatch.setattr(template, "compute", broken)
    with pytest.raises(RuntimeError):
        template.save(build(), shop, now=NOW)
    assert shop.read_bytes() == b"what the shop had"
    assert left_over(shop) == []


def test_every_formula_of_the_demo_has_a_value(demo: Path) -> None:
    formulas, values = load_workbook(demo), load_workbook(demo, data_only=True)
    count = texts = numbers = 0
    with zipfile.ZipFile(demo) as archive:
        sheets = [archive.read(name) for name in archive.namelist() if "worksheets/sheet" in name]
    assert sum(sheet.count(b"<f>") for sheet in sheets) == sum(
        sheet.count(b"</f><v") for sheet in sheets
    )
    for sheet in formulas:
        for row in sheet.iter_rows():
            for cell in (cell for cell in row if cell.data_type == "f"):
                value = values[sheet.title][cell.coordinate]
                count += 1
                texts += value.data_type == "s"
                numbers += value.data_type in "nd" and value.value is not None
                assert value.data_type != "e", f"{sheet.title}!{cell.coordinate}: {value.value}"
    assert count > 5000
    assert min(texts, numbers) > 500


def test_formulas_of_the_demo_are_those_of_the_filled_template(demo: Path) -> None:
    filled = build()
    fill(filled, sample_folder())
    again = load_workbook(demo)
    assert again.sheetnames == filled.sheetnames
    assert set(again.defined_names) == set(filled.defined_names)
    for sheet in filled:
        for row in sheet.iter_rows():
            for cell in (cell for cell in row if cell.data_type == "f"):
                assert again[sheet.title][cell.coordinate].value == cell.value


def test_a_spreadsheet_is_not_told_to_calculate_on_load(demo: Path) -> None:
    with zipfile.ZipFile(demo) as archive:
        book = archive.read("xl/workbook.xml").decode()
    assert "calcPr" in book
    assert "fullCalcOnLoad" not in book  # absent is false: ECMA-376 Part 1, 18.2.2


def test_demo_opens_on_start(demo: Path) -> None:
    workbook = load_workbook(demo)
    assert workbook.active is workbook["Start"]
