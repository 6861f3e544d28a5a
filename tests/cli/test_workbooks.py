"""The command line: what it writes, prints and refuses, and with which exit status."""

from __future__ import annotations

import os
import re
import struct
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

import pandas as pd
import pytest
from openpyxl import load_workbook
from openpyxl.workbook import Workbook
from typer.testing import CliRunner, Result

import lumbercalc as lc
from lumbercalc.book import template
from lumbercalc.book.cell_value import Values
from lumbercalc.book.macros import SETTINGS_SHEET
from lumbercalc.book.sample import sample_folder
from lumbercalc.book.sheets.site import SITE
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.table import FIRST_ROW
from lumbercalc.cli import app
from lumbercalc.hosts.calc import extension, install
from lumbercalc.hosts.calc.way import ASKED
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.version import TEMPLATE, VERSION
from lumbercalc.wood import species
from tests.book.stored_values import part_of

MOST_SECONDS = 10
LONGEST_LINE = 300
MB = 1_000_000


def run(*arguments: object) -> Result:
    """Run the command in a terminal of 80 columns."""
    words = [str(argument) for argument in arguments]
    return CliRunner().invoke(app, words, env={"COLUMNS": "80"})


def assert_one_line(result: Result, *words: str) -> None:
    """Exit status 2, nothing on standard output, one short line on standard error."""
    assert isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == 2
    assert result.stdout == ""
    [line] = result.stderr.splitlines()
    assert line.startswith("lumbercalc: ")
    assert len(line) < LONGEST_LINE
    for word in words:
        assert word in line


class Demo(NamedTuple):
    """What `lumbercalc demo` left and printed."""

    path: Path
    printed: str


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    path = tmp_path_factory.mktemp("demo") / "demo.xlsx"
    result = run("demo", path)
    assert result.exit_code == 0, result.output
    return Demo(path, result.stdout)


@pytest.fixture
def uncomputed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Write workbooks without computing them, for tests of files and not of values."""

    def no_values(path: Path, tables: object) -> Values:
        return {}

    monkeypatch.setattr(template, "compute", no_values)
    monkeypatch.setattr(template, "store", lambda path, values: None)


# Workbooks


def test_demo_prints_what_the_workbook_stores(demo: Demo) -> None:
    workbook = load_workbook(demo.path, data_only=True)
    sheet = workbook["Stacks"]
    for row in range(FIRST_ROW, FIRST_ROW + 3):
        value = {column.key: sheet[f"{STACKS.letter(column.key)}{row}"].value
                 for column in STACKS.columns}  # fmt: skip
        [what, when, look] = [
            line
            for line in demo.printed.partition("Stacks as of")[2].splitlines()
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
    assert re.search(rf"Total \$ +{total:,.2f}\b", demo.printed)
    assert total > 100


def test_demo_fits_in_80_columns_and_cuts_nothing(demo: Demo) -> None:
    tables = demo.printed.splitlines()[:-1]
    assert max(len(line) for line in tables) <= 80
    assert "\u2026" not in demo.printed
    assert "invented shop" in demo.printed.splitlines()[-1]


def test_report_prints_the_same_and_changes_nothing(demo: Demo) -> None:
    before = demo.path.read_bytes()
    result = run("report", demo.path)
    assert result.exit_code == 0
    assert result.stderr == ""
    assert result.stdout in demo.printed
    assert demo.path.read_bytes() == before
    assert len(list(demo.path.parent.iterdir())) == 1


def test_new_is_an_empty_workbook_with_values(tmp_path: Path) -> None:
    result = run("new", tmp_path / "shop.xlsx")
    assert (result.exit_code, result.stdout) == (0, f"wrote {tmp_path / 'shop.xlsx'}\n")
    assert load_workbook(tmp_path / "shop.xlsx")["Boards"]["A5"].value is None
    functions = load_workbook(tmp_path / "shop.xlsx", data_only=True)["Functions"]
    assert all(functions[f"G{row}"].value is not None for row in range(5, 5 + len(CATALOGUE)))
    report = run("report", tmp_path / "shop.xlsx")
    assert report.exit_code == 0
    assert "Sale: none yet" in report.stdout


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


@pytest.mark.parametrize("command", [("report",), ("quote", "--sale", "1"), ("labels",)])
def test_a_workbook_of_an_older_template_is_told_from_one_of_something_else(
    command: tuple[str, ...], tmp_path: Path
) -> None:
    old = Path(__file__).parents[1] / "book" / "old_templates" / "template-2.xlsx"
    name, *options = command
    words = f"its template is 2, older than {TEMPLATE}; run: lumbercalc upgrade"
    assert_one_line(run(name, old, *options), words)


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


# Files that are no workbook of ours


def zipped(**parts: bytes) -> bytes:
    content = BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return content.getvalue()


def with_part(demo: bytes, name: str, change: Callable[[bytes], bytes]) -> bytes:
    """The demo with one part of its archive changed."""
    with zipfile.ZipFile(BytesIO(demo)) as archive:
        parts = {part: archive.read(part) for part in archive.namelist()}
    assert change(parts[name]) != parts[name]
    return zipped(**parts | {name: change(parts[name])})


def edited(demo: bytes, edit: Callable[[Workbook], object]) -> bytes:
    workbook, content = load_workbook(BytesIO(demo), data_only=True), BytesIO()
    edit(workbook)
    workbook.save(content)
    return content.getvalue()


LAUGHS = "".join(
    f'<!ENTITY a{number} "{f"&a{number - 1};" * 10}">' for number in range(1, 12)
)  # ten to the power of eleven times "ha"
BOMB = f'<!DOCTYPE x [<!ENTITY a0 "ha">{LAUGHS}]>'
THIEF = '<!DOCTYPE x [<!ENTITY a11 SYSTEM "file:///etc/passwd">]>'


def exploding(doctype: str) -> Callable[[bytes], bytes]:
    """Put a document type with entities before the root, and use the last one."""

    def change(part: bytes) -> bytes:
        text = re.sub(r"<\?xml.*?\?>", "", part.decode())
        return (doctype + re.sub(r"(/?>)", r' x="&a11;"\1', text, count=1)).encode()

    return change


def lying(demo: bytes, name: str, size: int) -> bytes:
    """The demo with 100 MB in a part that its directory says to be small."""
    content = bytearray(with_part(demo, name, lambda part: part + b" " * (100 * MB)))
    for mark, offset, of_name, name_at in ((b"PK\3\4", 22, 26, 30), (b"PK\1\2", 24, 28, 46)):
        place = content.find(mark)
        while place >= 0:
            length = struct.unpack_from("<H", content, place + of_name)[0]
            if content[place + name_at : place + name_at + length] == name.encode():
                struct.pack_into("<I", content, place + offset, size)
            place = content.find(mark, place + 4)
    with zipfile.ZipFile(BytesIO(bytes(content))) as archive:
        assert archive.getinfo(name).file_size == size
    return bytes(content)


def encrypted(demo: bytes) -> bytes:
    """The demo with the mark of encryption on its first part."""
    content = bytearray(demo)
    content[6] |= 1
    content[content.find(b"PK\1\2") + 8] |= 1
    return bytes(content)


WORKBOOK, STACKS_PART = "xl/workbook.xml", part_of("Stacks")
NOT_READ = "this is not a workbook that can be read"

HOSTILE: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "text": (lambda demo: b"tag,width\nWA-01,7\n", NOT_READ),
    "picture": (lambda demo: b"\x89PNG\r\n\x1a\n" + bytes(range(256)), NOT_READ),
    "empty": (lambda demo: b"", NOT_READ),
    "another archive": (lambda demo: zipped(**{"notes.txt": b"hello"}), NOT_READ),
    "an empty archive": (lambda demo: zipped(), NOT_READ),
    "an archive of empty parts": (
        lambda demo: zipped(**{"[Content_Types].xml": b"", WORKBOOK: b""}),
        NOT_READ,
    ),
    "cut in half": (lambda demo: demo[: len(demo) // 2], NOT_READ),
    "last byte missing": (lambda demo: demo[:-1], NOT_READ),
    "a byte changed": (lambda demo: demo[:20_000] + b"?" + demo[20_001:], NOT_READ),
    "encrypted": (encrypted, NOT_READ),
    "sheet's text cut": (
        lambda demo: with_part(demo, STACKS_PART, lambda part: part[:3000]),
        NOT_READ,
    ),
    "no sheets": (
        lambda demo: with_part(demo, WORKBOOK, lambda part: b"<x/>"),
        "the sheet Boards is",
    ),
    "sheet missing": (
        lambda demo: edited(demo, lambda book: book.remove(book["Sale"])),
        "the sheet Sale is missing",
    ),
    "header renamed": (
        lambda demo: edited(demo, lambda book: book["Stacks"].cell(4, 4, "Wood")),
        "Stacks!D4 is 'Wood'; it must be 'Species'",
    ),
    "name lost": (
        lambda demo: edited(demo, lambda book: book.defined_names.pop("sale_number")),
        "the cell named sale_number is missing",
    ),
    "100 MB unpacked": (
        lambda demo: with_part(demo, STACKS_PART, lambda part: part + b" " * (100 * MB)),
        "bytes when unpacked; at most",
    ),
    "100 MB of XML": (lambda demo: b"<?xml version='1.0'?><a>" + b"<b/>" * (25 * MB), "bytes"),
    "entities in the workbook": (
        lambda demo: with_part(demo, WORKBOOK, exploding(BOMB)),
        NOT_READ,
    ),
    "entities in a sheet": (
        lambda demo: with_part(demo, STACKS_PART, exploding(BOMB)),
        NOT_READ,
    ),
    "entity of another file": (
        lambda demo: with_part(demo, WORKBOOK, exploding(THIEF)),
        NOT_READ,
    ),
    "a lie about the workbook's size": (lambda demo: lying(demo, WORKBOOK, 9000), NOT_READ),
    "a lie about a sheet's size": (lambda demo: lying(demo, STACKS_PART, 9000), NOT_READ),
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_report_refuses_what_is_no_workbook_of_ours(demo: Demo, tmp_path: Path, kind: str) -> None:
    make, words = HOSTILE[kind]
    path = tmp_path / "shop.xlsx"
    path.write_bytes(make(demo.path.read_bytes()))
    before, stamp = path.read_bytes(), path.stat().st_mtime_ns
    started = time.monotonic()
    result = run("report", path)
    assert time.monotonic() - started < MOST_SECONDS
    assert_one_line(result, str(path), words)
    assert "root:" not in result.output
    assert (path.read_bytes(), path.stat().st_mtime_ns) == (before, stamp)
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("name", ["none.xlsx", "folder", "line\nbreak.xlsx", "[red]red[/red].xlsx"])
def test_report_of_no_file(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    result = run("report", tmp_path / name)
    assert_one_line(result, "there is no such file", " ".join(name.split()))


def test_a_long_line_is_not_wrapped_and_there_is_no_traceback(tmp_path: Path) -> None:
    path = tmp_path / ("w" * 90 + ".xlsx")
    path.write_bytes(b"no workbook")
    done = subprocess.run(
        [sys.executable, "-m", "lumbercalc.cli", "report", str(path)],
        capture_output=True, text=True, check=False, env={"COLUMNS": "40", "PYTHONPATH": ROOT},
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"lumbercalc: {path}: {NOT_READ}\n"


ROOT = str(Path(__file__).parents[2])


# A logger's air


LOG = sample_folder() / "hygrometer_log.csv"


@pytest.fixture
def shop(demo: Demo, tmp_path: Path) -> Path:
    """A copy of the demo that may be changed."""
    path = tmp_path / "shop.xlsx"
    path.write_bytes(demo.path.read_bytes())
    return path


def air_of(shop: Path, place: str) -> dict[object, tuple[float, float]]:
    """Temperature and humidity by month or first day."""
    rows = load_workbook(shop)["Site"].iter_rows(FIRST_ROW, 304, 1, 4, values_only=True)
    return {month: (temp, rh) for name, month, temp, rh in rows if name == place}


def test_climate_updates_the_months_of_the_log(shop: Path) -> None:
    before = air_of(shop, "yard")
    result = run("climate", LOG, shop, "--place", "Yard", "--yes")
    assert result.exit_code == 0, result.output
    after = air_of(shop, "yard")
    assert {month for month in after if after[month] != before[month]} == {6, 7, 8}
    log = pd.read_csv(LOG, skiprows=4, na_values="---", names=["time", "temp", "rh"], header=0)
    log = log[log["rh"] <= 100].dropna().drop_duplicates("time")
    august = log[log["time"].str.startswith("08/")]
    # every day of August has its twelve readings, so that the mean of days is that of readings
    assert set(august.groupby(august["time"].str[:10]).size()) == {12}
    expected = lc.mean_emc(august["temp"].tolist(), august["rh"].tolist())
    # two decimals of humidity: half of 0.01 % RH at 1.2 % MC per % RH
    assert lc.emc(*after[8]) == pytest.approx(expected, abs=0.006)
    assert "wrote 3 rows of yard" in result.stdout
    assert "Ctrl+Shift+F9" in result.stdout
    assert "kept the old file as" in result.stderr
    assert len(list(shop.parent.iterdir())) == 2


def test_climate_shows_what_it_read_and_would_write(shop: Path) -> None:
    before = shop.read_bytes()
    result = run("climate", LOG, shop, "--place", "yard", "--dry-run")
    assert (result.exit_code, result.stderr) == (0, "")
    for words in (
        r"Rows read +901\b", r"'Temperature \(deg F\)'", "2025-06-20 09:00 to 2025-09-05 17:00",
        "month/day: there is no 20th month", "deg F, as the header says",
        r"Gaps over a day +1: 2025-07-21 03:00 to 2025-07-23 17:00", r"Duplicate times +2\b",
        r"Without a reading +3\b", r"Left out as bad +1; row 308: humidity '127.0'",
        r"11 +Jul +30 +74\.0 -> 72\.5 +72\.0 -> 75\.0 +13\.5 -> 14\.4",
        "not written: Sep, with readings on 5 days only",
    ):  # fmt: skip
        assert re.search(words, result.stdout), words
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert shop.read_bytes() == before
    assert list(shop.parent.iterdir()) == [shop]


@pytest.mark.parametrize(("answer", "writes"), [("y\n", True), ("n\n", False), ("", False)])
def test_climate_asks(shop: Path, answer: str, writes: bool) -> None:
    before = shop.read_bytes()
    result = CliRunner().invoke(app, ["climate", str(LOG), str(shop), "--place", "yard"], answer)
    assert result.exit_code == (0 if writes else 1)
    assert (shop.read_bytes() != before) is writes
    assert len(list(shop.parent.iterdir())) == (2 if writes else 1)


def test_climate_by_week_of_a_new_place(shop: Path) -> None:
    result = run("climate", LOG, shop, "--place", "lean-to", "--dated", "--yes")
    assert result.exit_code == 0, result.output
    assert "lean-to is new" in result.stdout
    assert "the row of 2025-09-01 holds on" in result.stdout
    days = list(air_of(shop, "lean-to"))
    assert days == [45828, *range(45831, 45902, 7)]  # 2025-06-20, then Mondays
    assert load_workbook(shop)["Site"]["J8"].value == "lean-to"
    written = air_of(shop, "lean-to")
    assert run("climate", LOG, shop, "--place", "lean-to", "--dated", "--yes").exit_code == 0
    assert air_of(shop, "lean-to") == written
    assert_one_line(
        run("climate", LOG, shop, "--place", "lean-to", "--yes"), "dated rows", "row 41"
    )


def test_climate_says_which_months_a_place_lacks(shop: Path) -> None:
    result = run("climate", LOG, shop, "--place", "lean-to", "--dry-run")
    assert "lean-to still lacks Jan, Feb, Mar, Apr, May, Sep, Oct, Nov, Dec" in result.stdout


def test_climate_beyond_the_rows_of_the_template_brings_their_formulas(shop: Path) -> None:
    for place in ("attic", "loft", "barn"):
        assert run("climate", LOG, shop, "--place", place, "--dated", "--yes").exit_code == 0
    sheet = load_workbook(shop)["Site"]
    last = FIRST_ROW + SITE.rows - 1
    assert sheet.cell(last + 1, 1).value == "barn"
    for column in SITE.columns:
        if column.formula:
            letter = SITE.letter(column.key)
            assert sheet[f"{letter}{last + 1}"].value == SITE.formula(column, last + 1)


@pytest.mark.parametrize(
    ("place", "options", "words"),
    [
        ("yard", ["--dated"], "monthly rows of 'yard' already (row 5, 6, 7, 8,"),
        (" ", [], "--place ' ' must be the name of a place"),
        ("=1+1", [], "--place '=1+1' must be the name of a place"),
        ("x" * 61, [], "place is"),
        ("yard", ["--temperature", "Temp 2"], "there is no column 'Temp 2'"),
        ("yard", ["--day-first"], "is not a time"),
    ],
)
def test_climate_refuses(shop: Path, place: str, options: list[str], words: str) -> None:
    before = shop.read_bytes()
    assert_one_line(run("climate", LOG, shop, "--place", place, *options, "--yes"), words)
    assert shop.read_bytes() == before
    assert list(shop.parent.iterdir()) == [shop]


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("none.xlsx", None, "there is no such file"),
        ("shop.ods", b"x", "must end in .xlsx"),
        ("text.xlsx", b"no workbook", "not a workbook that can be read"),
    ],
)
def test_climate_into_no_workbook(
    tmp_path: Path, name: str, content: bytes | None, words: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    before = sorted(tmp_path.iterdir())
    assert_one_line(run("climate", LOG, tmp_path / name, "--place", "yard", "--yes"), words)
    assert sorted(tmp_path.iterdir()) == before


def test_climate_into_another_workbook_or_from_no_log(shop: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.xlsx"
    Workbook().save(other)
    assert_one_line(
        run("climate", LOG, other, "--place", "yard", "--yes"), "the sheet Site is miss"
    )
    assert_one_line(run("climate", tmp_path / "none.csv", shop, "--place", "yard"), "no such file")
    few = tmp_path / "few.csv"
    few.write_text("Time,Temp F,RH\n2025-06-01,60,50\n2025-06-02,60,50\n")
    assert_one_line(
        run("climate", few, shop, "--place", "yard", "--yes"), "at most 2 days of a month"
    )
    (tmp_path / ".~lock.shop.xlsx#").write_text("")
    assert_one_line(run("climate", LOG, shop, "--place", "yard", "--yes"), "open in a spreadsheet")


# Functions and species


def test_version() -> None:
    assert run("--version").stdout == f"lumbercalc {VERSION}\n"


def test_without_a_command_the_help_is_shown() -> None:
    shown = run().output
    for command in ("new", "demo", "report", "check", "climate", "functions", "addin", "species"):
        assert command in shown


def test_functions_lists_the_catalogue() -> None:
    result = run("functions")
    assert result.exit_code == 0
    for name in CATALOGUE:
        assert re.search(rf"\b{name}\b", result.stdout)


@pytest.mark.parametrize("name", ["EMC", "emc", " Emc "])
def test_functions_explains_one(name: str) -> None:
    result = run("functions", name)
    assert result.exit_code == 0
    function = CATALOGUE["EMC"]
    for text in (function.summary, f"={function.formula}", f"Source: {function.source}"):
        assert text in result.stdout
    for argument in function.arguments:
        assert argument.name in result.stdout


@pytest.mark.parametrize("name", CATALOGUE)
def test_functions_shows_every_word_of_the_arguments(name: str) -> None:
    shown = set(re.split(r"[\s\u2502]+", run("functions", name).stdout))
    for argument in CATALOGUE[name].arguments:
        words = [word for word in argument.description.split() if len(word) < 20]
        assert [word for word in words if word not in shown] == []


@pytest.mark.parametrize("name", ["NOPE", "[bold]", "x" * 60])
def test_functions_refuses_a_name(name: str) -> None:
    assert_one_line(run("functions", name), f"there is no function {name!r}")


def test_species_are_listed() -> None:
    assert run("species", "show").stdout.splitlines() == list(species.names())


@pytest.mark.parametrize("name", ["walnut", "Walnut, black", "BLACK WALNUT"])
def test_species_shows_figures_with_sources(name: str) -> None:
    result = run("species", "show", name)
    assert result.exit_code == 0
    assert result.stdout.splitlines()[0].strip() == "Walnut, black"
    # Wood Handbook FPL-GTR-190 (2010), Table 4-3: black walnut, tangential 7.8 %
    assert re.search(r"tangential shrinkage\W+7\.8\W+%\W+Wood Handbook", result.stdout)


@pytest.mark.parametrize("name", ["nope", "[/red]"])
def test_species_refuses_a_name(name: str) -> None:
    assert_one_line(run("species", "show", name), f"species {name!r} is not in the table")


def test_species_names_near_ones() -> None:
    assert_one_line(run("species", "show", "blck walnut"), "Walnut, black")


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A settings folder of its own, not there yet."""
    folder = tmp_path / "settings" / "shop"
    monkeypatch.setenv("LUMBERCALC_SETTINGS", str(folder))
    return folder


def test_species_add_writes_the_shop_s_own(settings: Path) -> None:
    figures = ("--figure", "specific gravity=0.76", "--figure", "green MC=70")
    result = run("species", "add", "Osage orange", *figures)
    assert result.exit_code == 0
    file = settings / "own_species.csv"
    assert result.stdout == f"added Osage orange to {file}\n"
    assert file.read_text() == "species,specific gravity,green MC\nOsage orange,0.76,70.0\n"
    assert run("species", "add", "Mulberry, red", "--figure", "green MC=60").exit_code == 0
    assert '"Mulberry, red",,60.0\n' in file.read_text()
    assert "Osage orange,0.76,70.0\n" in file.read_text()


@pytest.mark.parametrize(
    ("name", "figure", "words"),
    [
        ("Osage orange", "green MC", "'green MC' is not NAME=VALUE"),
        ("Osage orange", "weight=3", "'weight' is not one of: radial shrinkage"),
        ("Osage orange", "green MC=wet", "'wet' is not a number"),
        ("Osage orange", "green MC=", "'' is not a number"),
        ("Osage orange", "green MC=-3", "must be a number from"),
        ("Osage orange", "green MC=nan", "must be a number from"),
        ("Osage orange", "green MC=inf", "must be a number from"),
        ("Walnut, black", "green MC=70", "is already published"),
        ("black walnut", "green MC=70", "is already published"),
        (" ", "green MC=70", "species is blank"),
    ],
)
def test_species_add_refuses(settings: Path, name: str, figure: str, words: str) -> None:
    assert_one_line(run("species", "add", name, "--figure", figure), words)
    assert not (settings / "own_species.csv").exists()


def test_species_add_follows_a_link_keeps_the_rights_and_a_backup(settings: Path) -> None:
    settings.mkdir(parents=True)
    mine = settings.parent / "mine.csv"
    mine.write_text("species,green MC\nHedge apple,50\n")
    mine.chmod(0o600)
    (settings / "own_species.csv").symlink_to(mine)
    assert run("species", "add", "Osage orange", "--figure", "green MC=70").exit_code == 0
    assert (settings / "own_species.csv").is_symlink()
    assert mine.read_text() == "species,green MC\nHedge apple,50.0\nOsage orange,70.0\n"
    assert mine.stat().st_mode & 0o777 == 0o600
    [backup] = settings.parent.glob("mine.backup-*.csv")
    assert backup.read_text() == "species,green MC\nHedge apple,50\n"


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00", b"name\nx\n", b"species,green MC\n" + b"x" * 200_000]
)
def test_species_add_leaves_a_broken_file_alone(settings: Path, content: bytes) -> None:
    settings.mkdir(parents=True)
    file = settings / "own_species.csv"
    file.write_bytes(content)
    assert_one_line(run("species", "add", "Osage orange", "--figure", "green MC=70"))
    assert file.read_bytes() == content
    assert list(settings.iterdir()) == [file]


def test_words_that_a_code_page_lacks_do_not_stop_it(tmp_path: Path) -> None:
    """As where Windows sends the output to a file."""
    workbook = Workbook()
    workbook.worksheets[0].title = "Dąb 1"
    workbook.worksheets[0]["A1"].value = "=EMC(70,140)"
    workbook.save(tmp_path / "shop.xlsx")
    done = subprocess.run(
        [sys.executable, "-m", "lumbercalc.cli", "check", str(tmp_path / "shop.xlsx")],
        env={**os.environ, "PYTHONIOENCODING": "cp1252"},
        capture_output=True,
        check=False,
    )
    assert b"Traceback" not in done.stderr
    assert b"refused       D?b 1!A1: EMC: rh_pct is 140" in done.stdout


# The add-in


def test_addin_is_built_to_a_file(tmp_path: Path) -> None:
    file = tmp_path / "lumbercalc.oxt"
    result = run("addin", "calc", "--build-only", file)
    assert (result.exit_code, result.stdout) == (0, f"wrote {file}\n")
    assert file.read_bytes() == install.build()
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None


def test_addin_is_built_for_the_worker_where_it_is_asked_for(tmp_path: Path) -> None:
    file = tmp_path / "lumbercalc.oxt"
    file.write_bytes(b"mine")
    assert_one_line(run("addin", "calc", "--worker", "--build-only", file), "a file already")
    assert file.read_bytes() == b"mine"
    assert run("addin", "calc", "--worker", "--build-only", file, "--force").exit_code == 0
    assert len(list(file.parent.glob("*.backup-*.oxt"))) == 1
    assert file.read_bytes() == extension.build(ASKED)


def test_addin_that_cannot_be_written(tmp_path: Path) -> None:
    assert_one_line(run("addin", "calc", "--build-only", tmp_path / "none" / "x.oxt"), "x.oxt")


# Upgrades

FIRST_TEMPLATE = Path(__file__).parents[1] / "book" / "old_templates" / "template-1.xlsx"


@pytest.fixture
def old_shop(tmp_path: Path) -> Path:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(FIRST_TEMPLATE.read_bytes())
    return path


@pytest.mark.usefixtures("uncomputed")
def test_upgrade_writes_a_new_file_and_says_what_came(old_shop: Path) -> None:
    result = run("upgrade", old_shop)
    new = old_shop.with_name("shop-upgraded.xlsx")
    assert result.exit_code == 0, result.output
    assert re.search(r"Boards +172 *\n", result.stdout)
    assert re.search(r"Weighings +130 *\n", result.stdout)
    assert f"{old_shop}: template 1; this one is {TEMPLATE}. It is as it was" in result.stdout
    assert re.search(r"Sales lines +15 *\n", result.stdout)
    assert re.search(r"Boards +4 +signs, and treated as what was done", result.stdout)
    assert f"wrote {new}: 390 rows; 5 kept on Kept from before" in result.stdout
    assert old_shop.read_bytes() == FIRST_TEMPLATE.read_bytes()
    assert load_workbook(new)["Boards"]["A5"].value == "WA-01"
    assert sorted(old_shop.parent.iterdir()) == sorted([old_shop, new])


@pytest.mark.usefixtures("uncomputed")
@pytest.mark.parametrize("named", [True, False])
def test_upgrade_gives_a_workbook_with_macros_its_macros(old_shop: Path, named: bool) -> None:
    old = old_shop.with_name("shop.xlsm")
    workbook = template.build(macros=True)
    workbook["Boards"]["A5"].value = "OA-01"
    workbook["xlwings.conf"]["A3"].value = "Interpreter_Win"  # a shop's own setting
    workbook.save(old)
    new = old_shop.with_name("new.xlsm" if named else "shop-upgraded.xlsm")
    result = run("upgrade", old, new) if named else run("upgrade", old)
    assert result.exit_code == 0, result.output
    brought = load_workbook(new, keep_vba=True)
    assert brought["Boards"]["A5"].value == "OA-01"
    assert SETTINGS_SHEET in brought.sheetnames
    kept = [cell.value for cell in brought["Kept from before"]["C"]]
    assert "Interpreter_Win" in kept
    with zipfile.ZipFile(new) as archive:
        assert "xl/vbaProject.bin" in archive.namelist()
        assert b"macroEnabled.main+xml" in archive.read("[Content_Types].xml")


@pytest.mark.usefixtures("uncomputed")
def test_upgrade_counts_what_it_keeps(old_shop: Path) -> None:
    workbook = load_workbook(old_shop)
    for row in range(1, 8):
        workbook["Boards"][f"T{row}"].value = "[bold]a remark"
    workbook.save(old_shop)
    new = old_shop.with_name("new.xlsx")
    result = run("upgrade", old_shop, new)
    assert re.search(
        r"Boards +7 +not in a table of the template +T1, T2, T3, T4, T5, \.\.\.", result.stdout
    )
    assert f"wrote {new}: 390 rows; 12 kept on Kept from before" in result.stdout
    kept = load_workbook(new)["Kept from before"]
    assert [cell.value for cell in kept["C"]].count("[bold]a remark") == 7


def test_upgrade_stores_computed_values_as_new_does(
    old_shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stored: list[object] = []
    monkeypatch.setattr(template, "compute", lambda path, tables: (load_workbook(path), tables))
    monkeypatch.setattr(template, "store", lambda path, values: stored.append(values))
    run("upgrade", old_shop)
    [(workbook, tables)] = stored
    assert workbook["Boards"]["A176"].value is not None
    assert tables == template.TABLES


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda shop: shop.with_name("new.xlsx").write_text("mine"), "there is a file already"),
        (lambda shop: shop.with_name("~$shop.xlsx").write_text(""), "open in a spreadsheet"),
        (lambda shop: shop.write_bytes(b"tag,width"), NOT_READ),
        (lambda shop: shop.unlink(), "there is no such file"),
        (lambda shop: Workbook().save(shop), "no table made by lumbercalc new is in it"),
    ],
)
def test_upgrade_refuses(old_shop: Path, change: Callable[[Path], object], words: str) -> None:
    change(old_shop)
    before = {path: path.read_bytes() for path in old_shop.parent.iterdir()}
    assert_one_line(run("upgrade", old_shop, old_shop.with_name("new.xlsx")), words)
    assert {path: path.read_bytes() for path in old_shop.parent.iterdir()} == before


def test_upgrade_never_writes_over_the_old_file(old_shop: Path) -> None:
    assert_one_line(run("upgrade", old_shop, old_shop), "there is a file already; name another")
    assert old_shop.read_bytes() == FIRST_TEMPLATE.read_bytes()
