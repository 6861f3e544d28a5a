"""Workbooks written and shown: what is printed and stored, what is kept, and what is refused."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import NamedTuple

import pytest
from openpyxl import load_workbook

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.sheet.catalogue import CATALOGUE
from tests.cli.commands import assert_one_line, run
from tests.cli.hostile_files import HOSTILE

MOST_SECONDS = 10


class Demo(NamedTuple):
    """What `lumbercalc demo` left and printed."""

    path: Path
    printed: str


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    path = tmp_path_factory.mktemp("demo") / "demo.xlsx"
    result = run("demo", path)
    assert result.exit_code == 0, result.output
    return Demo(path, result.stdout)


def test_demo_prints_what_the_workbook_stores(made: Demo) -> None:
    workbook = load_workbook(made.path, data_only=True)
    sheet = workbook["Stacks"]
    for row in range(FIRST_ROW, FIRST_ROW + 3):
        value = {column.key: sheet[f"{STACKS.letter(column.key)}{row}"].value
                 for column in STACKS.columns}  # fmt: skip
        [what, when, look] = [
            line
            for line in made.printed.partition("Stacks as of")[2].splitlines()
            if f" {value['name']} " in line
        ]
        assert value["advice"] in look
        for number in (f"{value['mc_now']:.1f}", f"{value['loss']:.2f}", f"{value['safe']:.1f}"):
            assert number in what.split()
        assert f"{value['rate']:.2f}" in when.split()
        dates = [f"{value[key]:%Y-%m-%d}" for key in ("early", "likely", "late")]
        assert re.findall(r"\d{4}-\d\d-\d\d", when) == dates == sorted(dates)
    [(place, address)] = workbook.defined_names["sale_sum"].destinations
    total = workbook[place][address.replace("$", "")].value
    assert re.search(rf"Total \$ +{total:,.2f}\b", made.printed)
    assert total > 100


def test_demo_fits_in_80_columns_and_cuts_nothing(made: Demo) -> None:
    tables = made.printed.splitlines()[:-1]
    assert max(len(line) for line in tables) <= 80
    assert "\u2026" not in made.printed
    assert "invented shop" in made.printed.splitlines()[-1]


def test_report_prints_the_same_and_changes_nothing(made: Demo) -> None:
    before = made.path.read_bytes()
    result = run("report", made.path)
    assert result.exit_code == 0
    assert result.stderr == ""
    assert result.stdout in made.printed
    assert made.path.read_bytes() == before
    assert len(list(made.path.parent.iterdir())) == 1


def test_new_is_an_empty_workbook_with_values(tmp_path: Path) -> None:
    result = run("new", tmp_path / "shop.xlsx")
    assert (result.exit_code, result.stdout) == (0, f"wrote {tmp_path / 'shop.xlsx'}\n")
    assert load_workbook(tmp_path / "shop.xlsx")["Boards"]["A5"].value is None
    functions = load_workbook(tmp_path / "shop.xlsx", data_only=True)["Functions"]
    assert all(functions[f"G{row}"].value is not None for row in range(5, 5 + len(CATALOGUE)))
    report = run("report", tmp_path / "shop.xlsx")
    assert report.exit_code == 0
    assert "Sale: none yet" in report.stdout
    assert re.search(r"^Stacks +$", report.stdout, re.MULTILINE)  # as of no day


@pytest.mark.usefixtures("uncomputed")
def test_new_from_records_says_what_came_in(tmp_path: Path) -> None:
    result = run("new", tmp_path / "shop.xlsx", "--from", sample_folder())
    assert result.exit_code == 0
    assert "Boards 182 rows" in result.stdout
    assert "Sales lines 39 rows" in result.stdout
    assert load_workbook(tmp_path / "shop.xlsx")["Boards"]["A5"].value == "WA-01"


@pytest.mark.usefixtures("uncomputed")
def test_new_says_which_records_it_did_not_read(tmp_path: Path) -> None:
    (tmp_path / "boards.csv").write_bytes((sample_folder() / "boards.csv").read_bytes())
    (tmp_path / "sale.csv").write_text("number\nS-1\n")
    result = run("new", tmp_path / "shop.xlsx", "--from", tmp_path)
    assert result.exit_code == 0
    assert "not read: sale.csv; the names that are read: site.csv, boards.csv" in result.stderr


def test_new_from_bad_records_writes_nothing(tmp_path: Path) -> None:
    records = tmp_path / "records"
    records.mkdir()
    (records / "site.csv").write_text("place,month,temp,rh\nyard,1,=1+1,70\n")
    result = run("new", tmp_path / "shop.xlsx", "--from", records)
    assert_one_line(result, "site.csv row 2, column temp: '=1+1'")
    assert list(tmp_path.iterdir()) == [records]


@pytest.mark.usefixtures("uncomputed")
@pytest.mark.parametrize("command", ["new", "demo"])
def test_an_existing_file_is_refused_and_with_force_kept(tmp_path: Path, command: str) -> None:
    shop = tmp_path / "shop.xlsx"
    shop.write_bytes(b"a year of weighings")
    assert_one_line(run(command, shop), "there is a file already", "--force")
    assert list(tmp_path.iterdir()) == [shop]
    assert shop.read_bytes() == b"a year of weighings"
    run(command, shop, "--force")
    [backup] = [path for path in tmp_path.iterdir() if path != shop]
    assert re.fullmatch(r"shop\.backup-\d{4}-\d\d-\d\d-\d{6}\.xlsx", backup.name)
    assert backup.read_bytes() == b"a year of weighings"
    assert load_workbook(shop).sheetnames[0] == "Start"


@pytest.mark.usefixtures("uncomputed")
def test_each_backup_has_a_name_of_its_own_and_is_spoken_of(tmp_path: Path) -> None:
    shop = tmp_path / "shop.xlsx"
    shop.write_bytes(b"first")
    for _ in range(3):
        result = run("new", shop, "--force")
        assert "kept the old file as" in result.stderr
    kept = [path for path in tmp_path.iterdir() if path != shop]
    assert len(kept) == 3
    assert b"first" in {path.read_bytes() for path in kept}


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("shop", "must end in .xlsx or .xlsm"),
        ("shop.ods", "must end in .xlsx or .xlsm"),
        ("shop.xls", "must end in .xlsx or .xlsm"),
        ("folder.xlsx", "this is a folder"),
        ("none/shop.xlsx", "there is no folder"),
        ("file/shop.xlsx", "there is no folder"),
    ],
)
def test_a_place_that_cannot_be_written_is_refused_first(
    tmp_path: Path, name: str, words: str
) -> None:
    (tmp_path / "folder.xlsx").mkdir()
    (tmp_path / "file").write_text("")
    before = sorted(tmp_path.rglob("*"))
    assert_one_line(run("new", tmp_path / name, "--force"), words)
    assert sorted(tmp_path.rglob("*")) == before


def test_records_from_nowhere(tmp_path: Path) -> None:
    result = run("new", tmp_path / "shop.xlsx", "--from", tmp_path / "none")
    assert_one_line(result, "there is no such folder of records")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("kind", HOSTILE)
def test_report_refuses_what_is_no_workbook_of_ours(made: Demo, tmp_path: Path, kind: str) -> None:
    make, words = HOSTILE[kind]
    path = tmp_path / "shop.xlsx"
    path.write_bytes(make(made.path.read_bytes()))
    before, stamp = path.read_bytes(), path.stat().st_mtime_ns
    started = time.monotonic()
    result = run("report", path)
    assert time.monotonic() - started < MOST_SECONDS
    assert_one_line(result, str(path), words)
    assert "root:" not in result.output
    assert (path.read_bytes(), path.stat().st_mtime_ns) == (before, stamp)
    assert list(tmp_path.iterdir()) == [path]
