"""Records: what comes in, with which type, and what is refused with which words."""

from __future__ import annotations

import os
import re
import sys
from datetime import datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book import record_file
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.layout import padded
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.record_file import read_rows
from lumbercalc.book.records import fill, not_read
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.template import build
from lumbercalc.faults import FileFault

BOARDS_HEADER = (
    "tag,log,cut,species,quarters,width,length,pieces,grade,defects,insects,released,treatment,"
    "parent,stack,load,ready,used"
)
SITE_HEADER = "place,month,temp,rh"
SALES_HEADER = ",".join(SALES.input_keys)
LINES_HEADER = ",".join(LINES.input_keys)
WEIGHED = "date,board,weight"


@pytest.fixture(scope="module")
def template() -> Workbook:
    """For files that are refused: what came in before the fault does not matter."""
    return build()


def write(folder: Path, **files: str | bytes) -> None:
    for name, content in files.items():
        raw = content if isinstance(content, bytes) else content.encode("utf-8")
        (folder / f"{name}.csv").write_bytes(raw)


def filled(folder: Path, **files: str | bytes) -> Workbook:
    """A new workbook filled from files of the given contents."""
    write(folder, **files)
    workbook = build()
    fill(workbook, folder)
    return workbook


def lines(*rows: str) -> str:
    return "\n".join(rows) + "\n"


@pytest.mark.parametrize(
    ("file", "content", "where", "words"),
    [
        ("site", "month,temp,rh\n1,30,70\n", "row 1", "column place is missing"),
        ("site", "place,month,warmth,rh\n", "row 1", "column 3 is 'warmth'"),
        ("site", "place,month,temp,rh,rh\n", "row 1", "column 'rh' is there twice"),
        ("site", "place,month,temp,rh,wind\n", "row 1", "column 5 is 'wind'"),
        ("site", "place,month,temp,rh,,\n", "row 1", "column 5 has no name; delete it, or name"),
        ("site", '"pla\nce",month,temp,rh\n', "row 1", r"column 1 is 'pla\nce'"),
        ("site", "", "", "the file is empty"),
        ("site", "place;month;temp;rh\nyard;1;30;70\n", "row 1", "semicolons are between"),
        ("site", "place\tmonth\ttemp\trh\n", "row 1", "tabs are between its cells"),
        ("site", lines("", SITE_HEADER, "yard,1,30,70"), "row 1", "it is blank; it must be"),
        ("site", lines(",,,", SITE_HEADER, "yard,1,30,70"), "row 1", "it is blank; it must be the"),
        ("site", lines(SITE_HEADER, "yard,1,30"), "row 2", "3 cells; it must be 4"),
        ("site", lines(SITE_HEADER, "yard,1,30,70,9"), "row 2", "5 cells; it must be 4, as in"),
        ("site", lines(SITE_HEADER, "yard,1,=1+1,70"), "row 2, column temp", "'=1+1'"),
        ("site", lines(SITE_HEADER, "@x,1,30,70"), "row 2, column place", "'@x'"),
        ("site", lines(SITE_HEADER, "yard,+1,30,70"), "row 2, column month", "'+1'"),
        ("site", lines(SITE_HEADER, "\tyard,1,30,70"), "row 2, column place", r"'\tyard'"),
        ("site", lines(SITE_HEADER, " =A1,1,30,70"), "row 2, column place", "like a formula"),
        ("site", lines(SITE_HEADER, '"\r=A1",1,30,70'), "row 2, column place", "like a formula"),
        ("site", lines(SITE_HEADER, "yard,Jan,3,70"), "row 2, column month", "'Jan' is neither a"),
        ("site", lines(SITE_HEADER, "yard,1,cold,70"), "row 2, column temp", "'cold' is not a num"),
        ("site", lines(SITE_HEADER, "yard,1,nan,70"), "row 2, column temp", "'nan' is not a num"),
        ("site", lines(SITE_HEADER, "yard,1,inf,70"), "row 2, column temp", "'inf' is not a num"),
        ("prices", "species,quarters,grade,price\ncherry,4-Aug,FAS,8\n", "row 2, column quarters",
         "'4-Aug' is not a thickness in quarters such as 8/4"),
        ("site", lines(SITE_HEADER, "yard,1,1e999,70"), "row 2, column temp", "is not a number"),
        ("site", lines(SITE_HEADER, "yard,1,1_000,70"), "row 2, column temp", "is not a number"),
        ("site", lines(SITE_HEADER, 'yard,1,"30,5",70'), "row 2, column temp", "is not a number"),
        ("site", lines(SITE_HEADER, "yard,1,$30,70"), "row 2, column temp", "without a comma, a b"),
        ("site", lines(SITE_HEADER, 'yard,1,"30\n5",70'), "row 2, column temp", r"'30\n5'"),
        ("site", lines(SITE_HEADER, "", ",,,", "yard,1,x,70"), "row 4, column temp", "'x'"),
        ("site", lines(SITE_HEADER, "yard\x00,1,30,70"), "row 2, column place", "no cell can hold"),
        ("site", lines(SITE_HEADER, "ya\x07rd,1,3,70"), "row 2, column place", "no cell can hold"),
        ("site", lines(SITE_HEADER, f"{'y' * 40_000},1,3,70"), "row 2, column place", "40000 char"),
        ("site", lines(SITE_HEADER, f"{'y' * 200_000},1,3,70"), "", "not a CSV file"),
        ("site", lines(SITE_HEADER, 'y"a"rd,1,30,70', '"open'), "", "not a CSV file"),
        ("site", b"\xff\xfe" + SITE_HEADER.encode("utf-16-le"), "", "not a CSV file in UTF-8"),
        ("site", SITE_HEADER.encode("utf-16-le"), "", "not a CSV file in UTF-8; save it anew as"),
        ("site", b"place,month,temp,rh\ncaf\xe9,1,30,70\n", "", "not a CSV file in UTF-8"),
        ("site", lines(SITE_HEADER, *["yard,1,30,70"] * 301), "", "301 rows; Site holds at most"),
        ("site", lines(SITE_HEADER, '"ya\nrd",1,30,70'), "row 2, column place", "has a line break"),
        ("places", lines("place", *"abcdefghijk"), "", "11 rows; Site holds at most 10"),
        ("sales", lines(SALES_HEADER, "1,Ada" + "," * 14), "row 2", "16 cells; it must be 17"),
        ("sales_lines", lines("tag,discount", "WA-01,"), "row 1", "column sale is missing"),
        ("weighings", lines(WEIGHED, "11/20/2026,a,5"), "row 2, column date", "YYYY-MM-DD"),
        ("weighings", lines(WEIGHED, "2026-02-30,a,5"), "row 2, column date", "YYYY-MM-DD"),
        ("weighings", lines(WEIGHED, "20261120,a,5"), "row 2, column date", "YYYY-MM-DD"),
        ("weighings", lines(WEIGHED, "1949-12-31,a,5"), "row 2, column date", "1950-01-01"),
        ("weighings", lines(WEIGHED, "today,a,5"), "row 2, column date", "'today'"),
        ("shop", lines("name,value", "as_of,soon"), "row 2, column value", "'soon'"),
        ("shop", lines("name,value", "owner,Ada"), "row 2, column name", "'owner' is not known"),
        ("shop", lines("name,value", "target_mc,8", "target_mc,9"), "row 3, column name",
         "'target_mc' is there twice; not yet there: shop_name, shop_address, "),
        ("costs", lines("name,value", "cost_total,9"), "row 2, column name",
         "'cost_total' is not known; not yet there: "),
    ],
)  # fmt: skip
def test_bad_file_is_refused_in_one_line(
    template: Workbook, tmp_path: Path, file: str, content: str | bytes, where: str, words: str
) -> None:
    write(tmp_path, **{file: content})
    with pytest.raises(FileFault) as fault:
        fill(template, tmp_path)
    said = str(fault.value)
    assert said.startswith(f"{tmp_path / file}.csv {where}".strip())
    assert words in said
    assert len(said.splitlines()) == 1
    assert len(said) - len(str(tmp_path)) < 300


def test_too_large_a_file_is_refused_unread(
    template: Workbook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(record_file, "LARGEST_FILE", 50)
    write(tmp_path, site=lines(SITE_HEADER, *["yard,1,30,70"] * 3))
    with pytest.raises(FileFault, match=r"site\.csv: 59 bytes; at most 50 are read"):
        fill(template, tmp_path)


@pytest.mark.parametrize("what", ["folder", "device", "pipe"])
def test_what_is_no_file_is_not_read(template: Workbook, tmp_path: Path, what: str) -> None:
    path = tmp_path / "boards.csv"
    if what == "folder":
        path.mkdir()
    elif sys.platform == "win32":
        pytest.skip("no such files there")
    elif what == "device":  # without an end: reading it fills the memory
        path.symlink_to("/dev/zero")
    else:
        os.mkfifo(path)  # reading it waits for ever
    with pytest.raises(FileFault, match=r"boards\.csv: this is no file, but a folder, a device"):
        fill(template, tmp_path)


def test_a_folder_that_is_not_there(template: Workbook, tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="there is no such folder of records"):
        fill(template, tmp_path / "none")


def test_a_file_in_place_of_its_folder(template: Workbook, tmp_path: Path) -> None:
    write(tmp_path, site=lines(SITE_HEADER, "yard,1,30,70"))
    with pytest.raises(FileFault, match=r"site\.csv: this is a file; name the folder in which"):
        fill(template, tmp_path / "site.csv")


def test_a_line_break_in_a_folder_name_stays_out_of_the_line(
    template: Workbook, tmp_path: Path
) -> None:
    with pytest.raises(FileFault) as fault:
        fill(template, tmp_path / "two\nlines")
    assert "\n" not in str(fault.value)


def test_a_folder_without_any_record_is_refused(template: Workbook, tmp_path: Path) -> None:
    (tmp_path / "holiday.csv").write_text("day\n")
    with pytest.raises(FileFault, match=r"none of the files site\.csv, boards\.csv, .* is in this"):
        fill(template, tmp_path)
    (tmp_path / "holiday.csv").rename(tmp_path / "Board.CSV")
    with pytest.raises(FileFault, match=r", only Board\.CSV; the names must be those, in small le"):
        fill(template, tmp_path)


def test_a_missing_file_leaves_its_table_empty(tmp_path: Path) -> None:
    write(tmp_path, site=lines(SITE_HEADER, "yard,1,30,70"))
    counts = fill(build(), tmp_path)
    assert {sheet: count for sheet, count in counts.items() if count} == {"Site": 1}


LANDING = (
    ("quarters", "4/4", "4/4", "s"),
    ("tag", "007", "007", "s"),
    ("tag", "1E5", "1E5", "s"),
    ("tag", "TRUE", "TRUE", "s"),
    ("tag", "#N/A", "#N/A", "s"),
    ("tag", "2026-11-20", "2026-11-20", "s"),
    ("defects", "-check at one end", "-check at one end", "s"),
    ("defects", "caf\u00e9 \u2014 wane", "caf\u00e9 \u2014 wane", "s"),
    ("defects", "'quoted", "'quoted", "s"),
    ("log", " A ", "A", "s"),
    ("width", "7.25", 7.25, "n"),
    ("width", "-7", -7.0, "n"),
    ("width", ".5", 0.5, "n"),
    ("width", "1e1", 10.0, "n"),
    ("pieces", "3", 3, "n"),
    ("pieces", "", None, "n"),
)


@pytest.fixture(scope="module")
def landed(tmp_path_factory: pytest.TempPathFactory) -> Worksheet:
    """The sheet Boards with one row for each text of LANDING."""
    keys = BOARDS_HEADER.split(",")
    rows = [dict.fromkeys(keys, "") | {"species": "Oak"} | {key: text} for key, text, *_ in LANDING]
    written = [",".join(f'"{row[key]}"' for key in keys) for row in rows]
    folder = tmp_path_factory.mktemp("landing")
    return filled(folder, boards=lines(BOARDS_HEADER, *written))["Boards"]


@pytest.mark.parametrize("place", range(len(LANDING)), ids=[f"{k}-{t}" for k, t, *_ in LANDING])
def test_value_lands_in_its_cell_with_its_type(landed: Worksheet, place: int) -> None:
    key, _, value, kind = LANDING[place]
    cell = landed[f"{BOARDS.letter(key)}{FIRST_ROW + place}"]
    assert (cell.value, cell.data_type) == (value, kind)
    assert cell.number_format == padded(BOARDS.column(key).number_format)
    assert cell.style == "lc input"


def test_texts_survive_saving_as_texts(tmp_path: Path) -> None:
    header = BOARDS_HEADER.split(",")
    cells = dict.fromkeys(header, "") | {"tag": "007", "quarters": "4/4", "defects": "-x"}
    workbook = filled(tmp_path, boards=lines(BOARDS_HEADER, ",".join(cells.values())))
    workbook.save(tmp_path / "saved.xlsx")
    sheet = load_workbook(tmp_path / "saved.xlsx")["Boards"]
    for key in ("tag", "quarters", "defects"):
        cell = sheet[f"{BOARDS.letter(key)}{FIRST_ROW}"]
        assert (cell.value, cell.data_type) == (cells[key], "s")


def test_columns_of_a_file_may_stand_in_any_order_with_a_byte_order_mark(tmp_path: Path) -> None:
    text = "\ufeffrh,temp,place,month\r\n70,30,yard,1\r\n"
    sheet = filled(tmp_path, site=text)["Site"]
    assert [sheet.cell(FIRST_ROW, column).value for column in (1, 2, 3, 4)] == ["yard", 1, 30, 70]


def test_columns_that_a_file_does_not_have_stay_blank(tmp_path: Path) -> None:
    workbook = filled(tmp_path, boards="tag,length\n007,8\n", shop="name\nshop_name\n")
    sheet = workbook["Boards"]
    row = {key: sheet[f"{BOARDS.letter(key)}{FIRST_ROW}"].value for key in BOARDS.input_keys}
    assert {key: value for key, value in row.items() if value is not None} == {
        "tag": "007", "length": 8,
    }  # fmt: skip
    assert row.keys() > {"species", "width", "stack"}


def test_dates_forms_places_and_sales_land_where_they_belong(tmp_path: Path) -> None:
    workbook = filled(
        tmp_path,
        weighings=lines(WEIGHED, "2026-11-20,a,5971"),
        shop=lines("name,value", "shop_name,Test", "as_of,2026-11-20"),
        choices=lines("name,value", "sale_choice,0007"),
        places=lines("place", "yard", "shed"),
        sales=lines(SALES_HEADER, "0007,Ada,2026-11-20" + "," * 14),
        sales_lines=lines(LINES_HEADER, "0007,WA-01" + "," * 11, "0007,WA-02" + "," * 11),
    )

    def field(name: str) -> object:
        [(sheet, address)] = workbook.defined_names[name].destinations
        return workbook[sheet][address.replace("$", "")].value

    assert workbook["Weighings"]["A5"].is_date
    assert str(workbook["Weighings"]["A5"].value) == "2026-11-20"
    assert (field("shop_name"), str(field("as_of"))) == ("Test", "2026-11-20")
    assert field("sale_choice") == "0007"
    assert workbook["Sales"]["A5"].value == "0007"
    assert str(workbook["Sales"]["C5"].value) == "2026-11-20"
    [(sheet, area)] = workbook.defined_names["place_names"].destinations
    names = [cell.value for (cell,) in workbook[sheet][area.replace("$", "")]]
    assert names[:3] == ["yard", "shed", None]
    [(sheet, area)] = workbook.defined_names["line_tag"].destinations
    tags = [cell.value for (cell,) in workbook[sheet][area.replace("$", "")]]
    assert tags[:3] == ["WA-01", "WA-02", None]


def test_blank_rows_are_left_out_and_the_rest_moves_up(tmp_path: Path) -> None:
    (tmp_path / "site.csv").write_text(f"{SITE_HEADER}\n\n,,,\nyard,1,30,70\n")
    assert list(read_rows(tmp_path / "site.csv", SITE_HEADER.split(","))) == [4]
    sheet = filled(tmp_path)["Site"]
    assert sheet[f"A{FIRST_ROW}"].value == "yard"
    assert sheet[f"A{FIRST_ROW + 1}"].value is None


def test_more_rows_than_the_template_get_formulas_and_marks(tmp_path: Path) -> None:
    count = BOARDS.rows + 20
    row = dict.fromkeys(BOARDS_HEADER.split(","), "") | {"tag": "t", "quarters": "4/4"}
    workbook = filled(tmp_path, boards=lines(BOARDS_HEADER, *[",".join(row.values())] * count))
    sheet, last = workbook["Boards"], FIRST_ROW + count - 1
    for column in BOARDS.columns:
        cell = sheet[f"{BOARDS.letter(column.key)}{last}"]
        assert cell.style == f"lc {column.role}"
        assert cell.number_format == padded(column.number_format)
        assert sheet[f"{BOARDS.letter(column.key)}{last + 1}"].value is None
        if column.formula:
            assert cell.value == BOARDS.formula(column, last)
    end = re.compile(rf":\$?[A-Z]+\$?{last}$")
    assert end.search(sheet.auto_filter.ref)
    assert [str(area.sqref) for area in sheet.conditional_formatting] != []
    assert all(end.search(str(area.sqref)) for area in sheet.conditional_formatting)


def test_a_fuller_site_keeps_its_second_table_as_it_is(tmp_path: Path) -> None:
    rows = [f"place {number // 12},{number % 12 + 1},60,50" for number in range(84)]
    workbook = filled(tmp_path, site=lines(SITE_HEADER, *rows))
    template = build()["Site"]
    areas = [str(area.sqref) for area in workbook["Site"].conditional_formatting]
    before = [str(area.sqref) for area in template.conditional_formatting]
    moved = [(old, new) for old, new in zip(before, areas, strict=True) if old != new]
    assert moved
    assert all(old.endswith("64") and new.endswith("88") for old, new in moved)
    assert workbook["Site"]["I14"].style == template["I14"].style


def test_files_that_look_like_records_are_called_not_read(tmp_path: Path) -> None:
    for name in (
        "boards.csv",
        "stacks.csv.txt",
        "Weighings.tsv",
        "x.CSV",
        "notes.txt",
        "shop.xlsx",
    ):
        (tmp_path / name).write_text("")
    assert not_read(tmp_path) == ["Weighings.tsv", "stacks.csv.txt", "x.CSV"]


def test_a_file_that_is_read_under_another_name_is_not_called_not_read(tmp_path: Path) -> None:
    """As on a disk to which Boards.csv and boards.csv are one; here a second link is."""
    write(tmp_path, boards="tag", Sale="number")
    (tmp_path / "Boards.csv").hardlink_to(tmp_path / "boards.csv")
    assert not_read(tmp_path) == ["Sale.csv"]


def test_the_invented_shop_comes_in_whole() -> None:
    workbook = build()
    counts = fill(workbook, sample_folder())
    for sheet, file in (("Boards", "boards.csv"), ("Weighings", "weighings.csv")):
        text = (sample_folder() / file).read_text(encoding="utf-8")
        assert counts[sheet] == len(text.splitlines()) - 1
        assert workbook[sheet].cell(FIRST_ROW + counts[sheet] - 1, 2).value is not None
        assert workbook[sheet].cell(FIRST_ROW + counts[sheet], 1).value is None
    assert isinstance(workbook["Stacks"]["H5"].value, datetime) or workbook["Stacks"]["H5"].is_date
