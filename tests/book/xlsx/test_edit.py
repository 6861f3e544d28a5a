"""Changing cells of a workbook file: those cells, and not a byte more."""

from __future__ import annotations

import os
import re
import zipfile
from collections.abc import Callable
from datetime import datetime
from functools import partial
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter

from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.xlsx import edit
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.calculation_mark import calculate_on_load, is_calculated
from lumbercalc.book.xlsx.edit import change_cells, may_change
from lumbercalc.book.xlsx.parts import exchange_parts, sheet_files
from lumbercalc.book.xlsx.sheet_xml import Formula, change_sheet
from lumbercalc.faults import FileFault
from tests.book.stored_values import parts
from tests.hosts.calc.calc_session import Calc

NOW = datetime(2025, 9, 6, 10, 0, 0)
CELLS = {"C5": 31.5, "D6": 66.25, "A41": "lean-to & <yard>", "B41": 7, "A42": None, "J8": "lean-to"}
BELOW = {"A70": "attic", "B70": 1, "C70": 60.0, "D70": 50.0, "E70": Formula("=EMC($C70,$D70)")}


def part_of(path: Path, sheet: str) -> str:
    with zipfile.ZipFile(path) as archive:
        return next(part for part, name in sheet_files(archive).items() if name == sheet)


def cells_of(content: bytes) -> dict[str, bytes]:
    """The bytes of each cell."""
    found = re.findall(rb'(<c r="([A-Z]+\d+)"[^>]*?(?:/>|>.*?</c>))', content)
    return {address.decode(): cell for cell, address in found}


def style_of(cell: bytes) -> bytes:
    [style] = re.findall(rb' s="(\d+)"', cell)
    return bytes(style)


def copy_of(workbook: Path, folder: Path) -> Path:
    path = folder / "shop.xlsx"
    path.write_bytes(workbook.read_bytes())
    return path


def change(path: Path, cells: dict[str, Any]) -> Path:
    backup = change_cells(open_archive(path), "Site", cells, like_row=FIRST_ROW, now=NOW)
    assert backup is not None
    return backup


def assert_only_these_changed(before: Path, after: Path, cells: dict[str, Any]) -> None:
    """Every other part is the same, and of the sheet every byte outside these cells."""
    old, new = parts(before), parts(after)
    part = part_of(before, "Site")
    assert list(old) == list(new)
    assert {name for name in old if old[name] != new[name]} == {part, "xl/workbook.xml"}
    # of the workbook's own part the mark and nothing else
    mark = b' fullCalcOnLoad="1"'
    assert new["xl/workbook.xml"].count(mark) == 1
    settings = rb"<calcPr[^>]*>"
    assert re.sub(settings, b"", new["xl/workbook.xml"]) == re.sub(
        settings, b"", old["xl/workbook.xml"]
    )
    there, here = cells_of(old[part]), cells_of(new[part])
    assert {a for a in here if here[a] != there.get(a)} == set(cells)
    assert set(there) <= set(here)

    def outside(content: bytes) -> bytes:
        for address in cells:
            content = re.sub(rb'<c r="%s"[^>]*?(/>|>.*?</c>)' % address.encode(), b"", content)
        return re.sub(rb"<row [^>]*></row>", b"", content)

    assert outside(new[part]) == outside(old[part])
    for address in cells:
        model = there.get(address) or there[re.sub(r"\d+", str(FIRST_ROW), address)]
        assert style_of(here[address]) == style_of(model)


@pytest.mark.parametrize("cells", [CELLS, BELOW, CELLS | BELOW])
def test_nothing_else_changes(demo: Path, tmp_path: Path, cells: dict[str, Any]) -> None:
    path = copy_of(demo, tmp_path)
    backup = change(path, cells)
    assert backup.name == "shop.backup-2025-09-06-100000.xlsx"
    assert backup.read_bytes() == demo.read_bytes()
    assert sorted(tmp_path.iterdir()) == sorted([path, backup])
    assert_only_these_changed(demo, path, cells)
    formulas, values = load_workbook(path)["Site"], load_workbook(path, data_only=True)["Site"]
    for address, what in cells.items():
        assert formulas[address].value == (what.text if isinstance(what, Formula) else what)
    assert values["C5"].value == cells.get("C5", 28)
    assert zipfile.ZipFile(path).testzip() is None


def test_new_rows_have_the_height_of_the_others(demo: Path, tmp_path: Path) -> None:
    path = copy_of(demo, tmp_path)
    change(path, BELOW)
    rows = load_workbook(path)["Site"].row_dimensions
    assert rows[70].height == rows[FIRST_ROW].height is not None


def test_a_second_change_of_the_same_cells(demo: Path, tmp_path: Path) -> None:
    path = copy_of(demo, tmp_path)
    change(path, CELLS | BELOW)
    second = {"A70": "shed", "A41": None, "A71": "yard", "C5": 28}
    kept = change(path, second)
    assert kept.read_bytes() != demo.read_bytes()
    sheet = load_workbook(path)["Site"]
    assert [sheet[address].value for address in second] == list(second.values())
    assert sheet["E70"].value == "=EMC($C70,$D70)"


def test_a_formula_is_never_replaced(demo: Path, tmp_path: Path) -> None:
    path = copy_of(demo, tmp_path)
    with pytest.raises(FileFault, match="Site!E5 holds a formula"):
        change(path, {"C5": 1.0, "E5": 9.0})
    assert path.read_bytes() == demo.read_bytes()
    assert list(tmp_path.iterdir()) == [path]
    change(path, {"E5": Formula("=1"), "C5": Formula("=1"), "C41": Formula("=1+1")})
    before, after = load_workbook(demo)["Site"], load_workbook(path)["Site"]
    assert [after[a].value for a in ("E5", "C5")] == [before[a].value for a in ("E5", "C5")]
    assert after["C41"].value == "=1+1"


def test_a_file_that_changed_meanwhile_is_left_alone(demo: Path, tmp_path: Path) -> None:
    path = copy_of(demo, tmp_path)
    archive = open_archive(path)
    path.write_bytes(demo.read_bytes() + b" ")
    with pytest.raises(FileFault, match="was changed meanwhile"):
        change_cells(archive, "Site", CELLS, like_row=5, now=NOW)
    assert path.read_bytes() == demo.read_bytes() + b" "
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("lock", [".~lock.shop.xlsx#", "~$shop.xlsx"])
def test_a_file_open_in_a_spreadsheet(demo: Path, tmp_path: Path, lock: str) -> None:
    path = copy_of(demo, tmp_path)
    (tmp_path / lock).write_text("")
    with pytest.raises(
        FileFault, match=re.escape(f"open in a spreadsheet (there is a file {lock})")
    ):
        change(path, CELLS)
    assert path.read_bytes() == demo.read_bytes()


def test_a_read_only_file_and_one_that_is_not_there(demo: Path, tmp_path: Path) -> None:
    path = copy_of(demo, tmp_path)
    path.chmod(0o444)
    with pytest.raises(FileFault, match="the file is read-only"):
        may_change(path)
    with pytest.raises(FileFault, match="there is no such file"):
        may_change(tmp_path / "none.xlsx")


def test_a_write_that_fails_leaves_everything(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def held(*_: object) -> None:
        raise PermissionError(13, "it is held by another program")

    path = copy_of(demo, tmp_path)
    monkeypatch.setattr(os, "replace", held)
    with pytest.raises(FileFault, match=r"cannot be written \(it is held by another program\)"):
        change(path, CELLS)
    assert path.read_bytes() == demo.read_bytes()
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(
    "change_part",
    [
        lambda name, content: (name, content + b" " * (name == "xl/styles.xml")),
        lambda name, content: (name.replace("styles", "style"), content),
    ],
)
def test_a_change_that_reaches_further_is_noticed(
    demo: Path, change_part: Callable[[str, bytes], tuple[str, bytes]]
) -> None:
    target = BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, content in parts(demo).items():
            archive.writestr(*change_part(name, content))
    with pytest.raises(FileFault, match="more than the cells would change"):
        edit._check_rest(open_archive(demo), target, {"xl/workbook.xml"})


def test_mode_and_links_are_kept(demo: Path, tmp_path: Path) -> None:
    path = copy_of(demo, tmp_path)
    path.chmod(0o640)
    link = tmp_path / "link.xlsx"
    link.symlink_to(path)
    change(link, CELLS)
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert load_workbook(path)["Site"]["C5"].value == 31.5


# The XML of other writers


MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def sheet_xml(rows: str, prefix: str = "") -> bytes:
    space = f'xmlns{":" + prefix.rstrip(":") if prefix else ""}="{MAIN}"'
    text = f'<worksheet {space}>\n <sheetData>{rows}</sheetData><!-- <c r="A1"/> --></worksheet>'
    text = re.sub(r"<(/?)(?=\w)", rf"<\1{prefix}", text) if prefix else text
    return f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n{text}'.encode()


def changed(rows: str, cells: dict[str, Any], prefix: str = "") -> str:
    made = change_sheet(sheet_xml(rows, prefix), cells, like_row=1, sheet="Site").decode()
    ElementTree.fromstring(made)
    found = re.search(rf"<{prefix}sheetData>(.*)</{prefix}sheetData>", made, re.DOTALL)
    assert found is not None
    return found[1]


@pytest.mark.parametrize(
    ("rows", "cells", "expected"),
    [
        ('<row r="1"><c r="A1" s="3"/></row>', {"A1": 2.5},
         '<row r="1"><c r="A1" s="3"><v>2.5</v></c></row>'),
        ('<row r="1"><c r="A1" s="3" t="s"><v>7</v></c></row>', {"A1": "x"},
         '<row r="1"><c r="A1" s="3" t="inlineStr"><is><t>x</t></is></c></row>'),
        ('<row r="1"><c r="A1" s="3" t="s"><v>7</v></c></row>', {"A1": None},
         '<row r="1"><c r="A1" s="3"/></row>'),
        ('<row r="1"><c r="A1"/> <c r="C1" s="2"/></row>', {"B1": 1, "C1": 2, "D1": 3},
         '<row r="1"><c r="A1"/> <c r="B1"><v>1</v></c><c r="C1" s="2"><v>2</v></c>'
         '<c r="D1"><v>3</v></c></row>'),
        ('<row r="1" ht="17" customHeight="1" spans="1:2"><c r="A1" s="4"/></row>\n<row r="4"/>',
         {"A2": "\u00e9<&", "A4": 1, "A6": 2},
         '<row r="1" ht="17" customHeight="1" spans="1:2"><c r="A1" s="4"/></row>\n'
         '<row r="2" ht="17" customHeight="1"><c r="A2" s="4" t="inlineStr"><is><t>\u00e9&lt;&amp;'
         '</t></is></c></row><row r="4"><c r="A4" s="4"><v>1</v></c></row>'
         '<row r="6" ht="17" customHeight="1"><c r="A6" s="4"><v>2</v></c></row>'),
        ("<row><c><v>1</v></c><c><v>2</v></c></row><row><c/></row>", {"B1": 5, "A2": 6},
         '<row><c><v>1</v></c><c r="B1"><v>5</v></c></row><row><c r="A2"><v>6</v></c></row>'),
        ("", {"B2": 5}, '<row r="2"><c r="B2"><v>5</v></c></row>'),
    ],
)  # fmt: skip
def test_cells_rows_and_styles(rows: str, cells: dict[str, Any], expected: str) -> None:
    assert changed(rows, cells) == expected


def test_a_prefix_is_kept() -> None:
    made = changed('<row r="1"><c r="A1" s="3"/></row>', {"A1": "x", "A2": 1}, "x:")
    assert made == (
        '<x:row r="1"><x:c r="A1" s="3" t="inlineStr"><x:is><x:t>x</x:t></x:is></x:c></x:row>'
        '<x:row r="2"><x:c r="A2" s="3"><x:v>1</x:v></x:c></x:row>'
    )


@pytest.mark.parametrize(
    "content",
    [
        b'<!DOCTYPE x [<!ENTITY a "b">]>' + sheet_xml("").split(b"\n", 1)[1],
        sheet_xml("").replace(b"UTF-8", b"ISO-8859-1"),
    ],
)
def test_entities_and_encodings_are_refused(content: bytes) -> None:
    with pytest.raises(FileFault, match="document type or another encoding"):
        change_sheet(content, {"A1": 1}, like_row=1, sheet="Site")


def test_a_sheet_without_any_row_takes_some() -> None:
    bare = sheet_xml("").replace(b"<sheetData></sheetData>", b"<sheetData />")
    made = change_sheet(bare, {"A3": 2, "B2": 1}, like_row=1, sheet="Site")
    rows = '<row r="2"><c r="B2"><v>1</v></c></row><row r="3"><c r="A3"><v>2</v></c></row>'
    assert made == sheet_xml(rows).replace(b"<sheetData>", b"<sheetData >")


Contents = st.one_of(st.none(), st.integers(-999, 999), st.text("ab<&\"' \u00fc", max_size=5))


@given(
    st.dictionaries(st.tuples(st.integers(1, 9), st.integers(1, 30)), Contents, max_size=30),
    st.dictionaries(st.tuples(st.integers(1, 12), st.integers(1, 30)), Contents, min_size=1),
)
@settings(max_examples=60, deadline=None)
def test_any_change_of_any_sheet(before: dict[Any, Any], cells: dict[Any, Any]) -> None:
    book = Workbook()
    for (row, column), what in before.items():
        book.worksheets[0].cell(row, column).value = what
    old = BytesIO()
    book.save(old)
    addresses = {f"{get_column_letter(c)}{r}": what for (r, c), what in cells.items()}
    change = partial(change_sheet, cells=addresses, like_row=1, sheet="Site")
    new = exchange_parts(old.getvalue(), {"xl/worksheets/sheet1.xml": change})
    sheet = load_workbook(BytesIO(new)).worksheets[0]
    expected = {place: what for place, what in (before | cells).items() if what not in (None, "")}
    there = {(c.row, c.column): c.value for row in sheet.iter_rows() for c in row}
    assert {place: what for place, what in there.items() if what not in (None, "")} == expected


@pytest.mark.parametrize(
    ("settings", "expected"),
    [
        ('<calcPr calcId="191029"/>', '<calcPr calcId="191029" fullCalcOnLoad="1"/>'),
        ('<calcPr fullCalcOnLoad="0" />', '<calcPr fullCalcOnLoad="1"/>'),
        ('<calcPr fullCalcOnLoad="1" ></calcPr>', '<calcPr fullCalcOnLoad="1" ></calcPr>'),
    ],
)
def test_a_workbook_is_marked_once(settings: str, expected: str) -> None:
    frame = f'<?xml version="1.0"?><workbook xmlns="{MAIN}"><sheets/>%s<extLst/></workbook>'
    assert calculate_on_load((frame % settings).encode()) == (frame % expected).encode()


@pytest.mark.parametrize(
    ("settings", "old"),  # a truth value is 1 or true: XML Schema part 2, 3.2.2.1
    [
        ('<calcPr fullCalcOnLoad="1"/>', True),
        ('<calcPr fullCalcOnLoad="true"/>', True),
        ('<calcPr fullCalcOnLoad="false"/>', False),
        ("<calcPr/>", False),
        ("", False),
    ],
)
def test_a_file_says_whether_its_values_may_be_old(settings: str, old: bool) -> None:
    content = f'<?xml version="1.0"?><workbook xmlns="{MAIN}"><sheets/>{settings}</workbook>'
    assert is_calculated(content.encode()) is not old


# In live Calc


@pytest.mark.calc
def test_calc_takes_the_cells_recalculates_and_its_own_files_can_be_changed_too(
    calc: Calc, demo: Path, tmp_path: Path
) -> None:
    path = copy_of(demo, tmp_path)
    change(path, {"C5": 31.5} | BELOW)
    calc.open(path)
    calc.calculate()
    site = calc.read("Site")
    assert (site["A70"].value, site["C70"].value, site["C5"].value) == ("attic", 60.0, 31.5)
    saved = tmp_path / "saved.xlsx"
    calc.store(saved)  # shared texts, another order of attributes
    again = tmp_path / "again.xlsx"
    again.write_bytes(saved.read_bytes())
    second = {"C5": 28.0, "A70": "shed", "B70": 2, "A71": "attic"}
    change(again, second)
    old, new = parts(saved), parts(again)
    site_part = part_of(saved, "Site")
    assert {n for n in old if old[n] != new[n]} == {site_part, "xl/workbook.xml"}
    there, here = cells_of(old[site_part]), cells_of(new[site_part])
    assert {a for a in here if here[a] != there.get(a)} == set(second)
    calc.open(again)
    calc.calculate()
    last = calc.read("Site")
    assert {a: last[a].value for a in second} == second
    assert last["E5"].value != site["E5"].value
    assert [cell for cell in last.values() if cell.kind == "error"] == []
