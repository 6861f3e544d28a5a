"""Reading a shop's workbook: rows and cells as stored, and faults that name the place."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from rich.table import Table as Printed

from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.report.sections import report
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.reader import open_workbook, read_cell, read_table
from lumbercalc.faults import FileFault
from tests.book.stored_values import part_of, put_rows, stored_in


def test_the_first_and_the_last_row_of_a_table_are_read(tmp_path: Path) -> None:
    workbook, path = Workbook(), tmp_path / "shop.xlsx"
    put_rows(workbook, STACKS, [{"name": "first"}])
    letter = STACKS.letter("name")
    workbook[STACKS.sheet][f"{letter}{STACKS.last_row}"].value = "last"
    workbook[STACKS.sheet][f"{letter}{STACKS.last_row + 1}"].value = "below the table"
    workbook.save(path)
    rows = read_table(open_workbook(open_archive(path)), STACKS, path).rows
    assert rows["name"].to_dict() == {FIRST_ROW: "first", STACKS.last_row: "last"}


@pytest.mark.parametrize("table", [BOARDS, STACKS, WEIGHINGS], ids=lambda table: table.sheet)
def test_rows_are_those_that_a_plain_reading_gives(demo: Path, table: Table) -> None:
    stored = read_table(open_workbook(open_archive(demo)), table, demo)
    rows = stored.rows
    sheet = stored_in(demo)[table.sheet]
    inputs = table.input_keys
    assert list(rows.columns) == [column.key for column in table.columns]
    assert rows.index.name == "row"
    assert rows.index[0] == FIRST_ROW
    for number in rows.index:
        for key in rows.columns:
            assert rows.loc[number, key] == sheet[f"{table.letter(key)}{number}"].value
            assert stored.where(key, number) == f"{table.sheet}!{table.letter(key)}{number}"
    after = rows.index[-1] + 1
    assert all(sheet[f"{table.letter(key)}{after}"].value is None for key in inputs)


def test_types_are_those_of_the_cells(demo: Path) -> None:
    row = read_table(open_workbook(open_archive(demo)), STACKS, demo).rows.iloc[0]
    assert row["quarters"] == "8/4"
    assert isinstance(row["mc_now"], float)
    assert isinstance(row["start"], datetime)


def test_named_cells(demo: Path) -> None:
    workbook = open_workbook(open_archive(demo))
    assert read_cell(workbook, "as_of", demo) == datetime(2026, 11, 20)
    assert read_cell(workbook, "sale_sum", demo) > 0


def test_nothing_of_the_file_stays_open_or_is_changed(demo: Path, tmp_path: Path) -> None:
    copy = tmp_path / "shop.xlsx"
    copy.write_bytes(demo.read_bytes())
    workbook = open_workbook(open_archive(copy))
    copy.unlink()
    assert len(read_table(workbook, STACKS, copy).rows) == 3


def changed(demo: Path, folder: Path, change: Callable[[Workbook], None]) -> Path:
    """A copy of the demo after somebody's change."""
    workbook = load_workbook(demo, data_only=True)
    change(workbook)
    workbook.save(folder / "changed.xlsx")
    return folder / "changed.xlsx"


def renamed_header(workbook: Workbook) -> None:
    workbook["Stacks"]["A4"].value = "Pile\nof boards"


def test_a_header_of_other_words_is_the_shops_own_matter(demo: Path, tmp_path: Path) -> None:
    path = changed(demo, tmp_path, renamed_header)
    assert len(read_table(open_workbook(open_archive(path)), STACKS, path).rows) == 3


def leading(name: str, text: str) -> Callable[[Workbook], None]:
    """Have a name lead elsewhere."""

    def change(workbook: Workbook) -> None:
        workbook.defined_names[name] = DefinedName(name, attr_text=text)

    return change


def no_sheet(workbook: Workbook) -> None:
    del workbook["Weighings"]


def no_name(workbook: Workbook) -> None:
    del workbook.defined_names["as_of"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            leading("stack_place", "Stacks!#REF!"),
            "Stacks has no column named stack_place, for 'Place'",
        ),
        (
            leading("stack_place", "Stacks!$B$5:$C$5004"),
            "Stacks has no column named stack_place, for 'Place'",
        ),
        (
            leading("stack_place", "Stacks!$B$6:$B$5004"),
            "stack_place begins at Stacks!B6, and not beside Stacks!A5",
        ),
        (
            leading("stack_place", "Boards!$B$5:$B$5004"),
            "stack_place begins at Boards!B5, and not beside Stacks!A5",
        ),
        (
            leading("stack_place", "Stacks!$XFD$5:$XFD$5004"),
            "the columns of Stacks are more than 500 apart",
        ),
        (no_sheet, "Weighings has no column named weighing_date, for "),
        (no_name, "the cell named as_of is missing"),
        (leading("as_of", "#REF!"), "the cell named as_of is missing"),
        (leading("as_of", "'Attic'!$B$6"), "the cell named as_of is missing"),
        (
            leading("sale_number", "Sale!$A$1:$XFD$1048576"),
            "sale_number names Sale!$A$1:$XFD$1048576; it must be one cell",
        ),
        (leading("sale_number", "Sale!$A:$A"), "sale_number names Sale!$A:$A; it must be one cell"),
    ],
)
def test_a_changed_workbook_is_refused_at_its_place(
    demo: Path, tmp_path: Path, change: Callable[[Workbook], None], words: str
) -> None:
    path = changed(demo, tmp_path, change)
    with pytest.raises(FileFault) as fault:
        list(report(path))
    assert str(fault.value).startswith(f"{path}: ")
    assert words in str(fault.value)
    assert "\n" not in str(fault.value)


def test_a_file_without_stored_values_is_called_so(tmp_path: Path) -> None:
    workbook = build()
    workbook["Stacks"][f"A{FIRST_ROW}"].value = "Oak 1"
    workbook.save(tmp_path / "shop.xlsx")
    *_, look, _ = report(tmp_path / "shop.xlsx")
    assert isinstance(look, Printed)
    assert [str(cell) for cell in look.columns[-1].cells] == ["not computed"]


def odd_texts(workbook: Workbook) -> None:
    sheet = workbook["Stacks"]
    sheet["A5"].value = "[/bold] [red]stack :boom:"
    sheet[f"{STACKS.letter('likely')}5"].value = "not reached"
    sheet[f"{STACKS.letter('early')}5"].value = 1e300
    sheet[f"{STACKS.letter('early')}5"].number_format = "General"
    sheet[f"{STACKS.letter('mc_now')}5"].value = "#NUM!"
    sheet[f"{STACKS.letter('bf')}5"].value = None


def date_beyond_the_calendar(workbook: Workbook) -> None:
    workbook["Stacks"][f"{STACKS.letter('late')}5"].value = 1e12


def huge_number(workbook: Workbook) -> None:
    workbook["Stacks"][f"{STACKS.letter('mc_now')}5"].value = 1e27


def far_cell(workbook: Workbook) -> None:
    workbook["Stacks"]["XFD1048576"].value = "far away"
    workbook["Sale"]["XFD1048576"].value = "far away"


@pytest.mark.parametrize("change", [odd_texts, date_beyond_the_calendar, huge_number, far_cell])
@pytest.mark.filterwarnings("error")
def test_odd_cells_do_not_stop_a_report(
    demo: Path, tmp_path: Path, change: Callable[[Workbook], None]
) -> None:
    path = changed(demo, tmp_path, change)
    *_, stacks, ready, look, sale = report(path)
    counts = [part.row_count for part in (stacks, ready, look, sale) if isinstance(part, Printed)]
    assert counts == [3, 3, 3, 10]


@pytest.mark.parametrize("number", [b"1e400", b"-1" + b"0" * 400])
def test_a_number_beyond_all_is_an_error(demo: Path, tmp_path: Path, number: bytes) -> None:
    path = tmp_path / "shop.xlsx"
    with zipfile.ZipFile(demo) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            content = old.read(item)
            if item.filename == part_of("Stacks"):
                content = re.sub(rb"<v>[0-9]+\.[0-9]+</v>", b"<v>" + number + b"</v>", content)
            new.writestr(item.filename, content)
    rows = read_table(open_workbook(open_archive(path)), STACKS, path).rows
    assert set(rows["mc_now"]) == {"#NUM!"}
    assert list(report(path))


@pytest.mark.parametrize(
    "bomb",
    [
        b'<mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>',
        b'<hyperlinks><hyperlink ref="A1:XFD1048576" location="A1"/></hyperlinks>',
    ],
    ids=["merged cells", "hyperlink"],
)
def test_an_area_of_billions_of_cells_costs_nothing(
    demo: Path, tmp_path: Path, bomb: bytes
) -> None:
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(demo) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            content = old.read(item)
            if item.filename == part_of("Stacks"):
                content = content.replace(b"</sheetData>", b"</sheetData>" + bomb)
                assert bomb in content
            new.writestr(item.filename, content)
    assert len(read_table(open_workbook(open_archive(path)), STACKS, path).rows) == 3


def test_a_cell_on_a_sheet_with_an_apostrophe_in_its_name(tmp_path: Path) -> None:
    workbook, path = Workbook(), tmp_path / "book.xlsx"
    workbook.active.title = "My Boards'24"  # type: ignore[union-attr]
    workbook["My Boards'24"]["B2"].value = 7
    workbook.defined_names["mine"] = DefinedName("mine", attr_text="'My Boards''24'!$B$2")
    workbook.save(path)
    assert read_cell(open_workbook(open_archive(path)), "mine", path) == 7
