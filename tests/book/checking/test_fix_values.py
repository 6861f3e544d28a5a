"""Refreshing stored values in a copy: they become right, and nothing else changes by a byte."""

from __future__ import annotations

import re
from datetime import datetime
from functools import partial
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.checking.anew import compute_anew
from lumbercalc.book.checking.check import check
from lumbercalc.book.checking.finding import Kind
from lumbercalc.book.checking.fix_values import copy_beside, fix_values
from lumbercalc.book.xlsx.parts import exchange_parts
from lumbercalc.book.xlsx.places import address
from lumbercalc.faults import FileFault
from tests.book.checking.test_check import RIGHT, RIGHT_STORED, Cells, book, marked, run
from tests.book.stored_values import parts
from tests.hosts.calc.calc_session import Calc

NOW = datetime(2026, 11, 20, 10, 0)
REFRESHED = "mine-refreshed.xlsx"
SHEET = "xl/worksheets/sheet1.xml"


def values(path: Path) -> dict[str, object]:
    """What is stored in the cells of the first sheet."""
    [sheet, *_] = load_workbook(path, data_only=True).worksheets
    return {cell.coordinate: cell.value for row in sheet.iter_rows() for cell in row}


@pytest.mark.parametrize(
    "stored", [None, {"D2": 5.0, "D3": 749.0, "A4": 754.0}, {"D2": "#NAME?", "D3": "", "A4": "x"}]
)
def test_missing_and_stale_values_become_right(tmp_path: Path, stored: Cells | None) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT, stored)
    before = path.read_bytes()
    result = run(path, "--fix-values")
    assert result.exit_code == 0, result.output
    assert "stale         Mine!D2" in result.stdout
    assert f"wrote {tmp_path / REFRESHED}" in result.stdout
    copy = tmp_path / REFRESHED
    found = values(copy)
    assert {address: found[address] for address in RIGHT_STORED} == RIGHT_STORED
    assert check(copy).findings == []
    assert (path.read_bytes(), sorted(each.name for each in tmp_path.iterdir())) == (
        before, [REFRESHED, "mine.xlsx"])  # fmt: skip


def test_self_tests_are_those_of_the_copy(tmp_path: Path) -> None:
    cells = {"A1": "=EMC(70,50)", "B1": "=A1>9", "B2": "=A1>10"}
    path = book(tmp_path / "mine.xlsx", cells, test_one="Mine!$B$1")
    result = run(path, "--fix-values")
    assert (result.exit_code, "self-test" in result.stdout) == (0, True), result.output
    path = book(tmp_path / "two.xlsx", cells, test_one="Mine!$B$1", test_two="Mine!$B$2")
    assert run(path, "--fix-values").exit_code == 1  # the second is FALSE in the copy too


def test_a_workbook_that_was_saved_meanwhile_is_left_alone(tmp_path: Path) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT)
    fresh = compute_anew(path, lambda _: None)
    book(path, RIGHT | {"A9": 9})
    with pytest.raises(FileFault, match="the file was changed meanwhile; try again"):
        fix_values(fresh, tmp_path / "new.xlsx", NOW)
    assert [each.name for each in tmp_path.iterdir()] == ["mine.xlsx"]


def test_values_of_every_type_are_stored(tmp_path: Path) -> None:
    cells = {
        "A1": "=EMC(70,50)",
        "A2": '=READINESS(B1:B4,8)&" <&>"',
        "A3": "=EMC(70,50)>9",
        "A4": "=EMC(70,140)",
        "A5": '=IF(EMC(70,50)>1,"","x")',
        "B1": 8, "B2": 8, "B3": 8, "B4": 8,
    }  # fmt: skip
    path = book(tmp_path / "mine.xlsx", cells)
    assert run(path, "--fix-values", "--to", tmp_path / "new.xlsx").exit_code == 1  # A4 refuses
    found = values(tmp_path / "new.xlsx")
    assert found["A1"] == pytest.approx(9.24228742257097, rel=1e-12)
    assert isinstance(found["A2"], str)
    assert found["A2"].endswith(" <&>")
    assert found["A3"] is True
    assert (found["A4"], found["A5"]) == ("#NUM!", None)
    assert b'<c r="A5" t="str">' in parts(tmp_path / "new.xlsx")[SHEET]
    assert [each.kind for each in check(tmp_path / "new.xlsx").findings] == [Kind.REFUSED]


def decorated(path: Path) -> Path:
    """A workbook with a chart, a style, a name, a comment-like text and two stale values."""
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet.title = "Mine"
    for row in range(1, 6):
        sheet[f"A{row}"].value = 40 + row
        sheet[f"B{row}"].value = f"=EMC(70,A{row})"
        sheet[f"B{row}"].number_format = "0.00"
    sheet["D1"].value = "=SUM(A1:A5)"
    chart = BarChart()
    chart.add_data(Reference(sheet, range_string="Mine!$B$1:$B$5"))
    sheet.add_chart(chart, "F2")
    workbook.create_sheet("Other")["A1"].value = "=1+1"
    workbook.defined_names["air"] = DefinedName("air", attr_text="Mine!$A$1")
    workbook.save(path)
    fresh = compute_anew(path, lambda _: None)
    whole = path.with_name("whole.xlsx")
    fix_values(fresh, whole, NOW)

    def stale(content: bytes) -> bytes:
        content, count = re.subn(rb"(<c r=\"B[24]\".*?<v>)[^<]+", rb"\g<1>1.5", content)
        assert count == 2
        return re.sub(rb"(<c r=\"D1\".*?<v>)[^<]+", rb"\g<1>77", content)

    path.write_bytes(exchange_parts(whole.read_bytes(), {SHEET: stale}))
    whole.unlink()
    return path


def test_only_the_values_that_differ_change(tmp_path: Path) -> None:
    path = decorated(tmp_path / "mine.xlsx")
    fresh = compute_anew(path, lambda _: None)
    assert fix_values(fresh, tmp_path / REFRESHED, NOW) == 2
    before, after = parts(path), parts(tmp_path / REFRESHED)
    assert list(before) == list(after)
    assert [name for name in before if before[name] != after[name]] == [SHEET]
    old, new = (re.split(r"(?=<c r=)", each[SHEET].decode()) for each in (before, after))
    differing = [(was, now) for was, now in zip(old, new, strict=True) if was != now]
    assert [re.findall(r'^<c r="(\w+)"', was) for was, _ in differing] == [["B2"], ["B4"]]
    for was, now in differing:
        assert re.sub("<v>.*?</v>", "", was) == re.sub("<v>.*?</v>", "", now)
    assert b"<v>77</v>" in after[SHEET]  # nothing to do with our functions


def test_what_cannot_be_computed_keeps_its_value(tmp_path: Path) -> None:
    cells = {"A1": "=OFFSET(B1,1,0)", "A2": "=EMC(70,A1)", "A3": "=EMC(70,50)"}
    path = book(tmp_path / "mine.xlsx", cells, {"A1": 60.0, "A2": 11.25, "A3": 1.0})
    assert run(path, "--fix-values").exit_code == 1
    found = values(tmp_path / REFRESHED)
    assert (found["A1"], found["A2"]) == (60, 11.25)
    assert found["A3"] == pytest.approx(9.24228742257097)


def test_the_mark_to_compute_anew_goes_when_all_was(tmp_path: Path) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT)
    assert b'fullCalcOnLoad="1"' in parts(path)["xl/workbook.xml"]
    run(path, "--fix-values")
    assert b"fullCalcOnLoad" not in parts(tmp_path / REFRESHED)["xl/workbook.xml"]
    bad = book(tmp_path / "bad.xlsx", {"A1": "=EMC(70,OFFSET(B1,0,0))", "A2": "=EMC(70,50)"})
    run(bad, "--fix-values")
    assert b'fullCalcOnLoad="1"' in parts(copy_beside(bad))["xl/workbook.xml"]


def test_no_file_is_written_over(tmp_path: Path) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT)
    (tmp_path / REFRESHED).write_text("the shop's own")
    for options in (["--fix-values"], ["--fix-values", "--to", str(path)]):
        result = run(path, *options)
        assert result.exit_code == 2
        assert "there is a file already" in result.stderr
    assert (tmp_path / REFRESHED).read_text() == "the shop's own"
    fresh = compute_anew(path, lambda _: None)
    with pytest.raises(FileFault, match="there is a file already"):
        fix_values(fresh, tmp_path / REFRESHED, NOW)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--to", "new.xlsx"], "--to names the copy of --fix-values"),
        (["--fix-values", "--to", "new.xlsm"], "must end in .xlsx"),
        (["--fix-values", "--to", "none/new.xlsx"], "there is no folder none"),
        (["--fix-values", "--to", "."], "this is a folder; name a file in it"),
    ],
)
def test_bad_use_is_told(tmp_path: Path, options: list[str], told: str) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT)
    result = run(path, *options)
    assert result.exit_code == 2
    assert told in result.stderr


def test_calc_opens_the_copy_and_agrees(calc: Calc, tmp_path: Path) -> None:
    path = decorated(tmp_path / "mine.xlsx")
    fix_values(compute_anew(path, lambda _: None), tmp_path / REFRESHED, NOW)
    calc.open(tmp_path / REFRESHED)
    opened = [calc.read("Mine")[f"B{row}"].value for row in range(1, 6)]
    calc.calculate()
    computed = [calc.read("Mine")[f"B{row}"].value for row in range(1, 6)]
    assert opened == pytest.approx(computed, rel=1e-9)
    assert opened == [values(tmp_path / REFRESHED)[f"B{row}"] for row in range(1, 6)]


def test_every_stored_value_that_changes_is_told(tmp_path: Path) -> None:
    cells = {"A1": 50, "A2": "=A1+10", "A3": "=EMC(70,A2)", "A4": "=A3*2", "A5": "=A1*2"}
    stored = {"A2": 61.0, "A3": 1.0, "A4": 2.0, "A5": 3.0}  # A5 has nothing to do with ours
    path = marked(book(tmp_path / "mine.xlsx", cells, stored))
    lines = run(path, "--fix-values").stdout.splitlines()
    told = [line for line in lines if line.startswith(("stale", "refreshed"))]
    assert [line.split(": ")[0].split() for line in told] == [
        ["stale", "Mine!A3"], ["refreshed", "Mine!A2"], ["refreshed", "Mine!A4"]
    ]  # fmt: skip
    assert "Mine!A2: stored 61, fresh 60" in told[1]
    assert "3 stored values refreshed" in lines[-1]


CHAIN: Cells = {
    "A1": 50, "A2": "=A1+10", "A3": "=EMC(70,A2)", "A4": "=A2*2", "A5": "=A3*2", "A6": "=A5*2",
    "A7": '=IF(A1>0,"x","")',
}  # fmt: skip
CHAIN_STORED: Cells = {"A2": 49.0, "A3": 9.082841295549606, "A4": 7.0, "A5": 17.0, "A6": 1.0,
                       "A7": ""}  # fmt: skip
"""A3 is `lumbercalc.emc(70, 49)`, right for what is stored in A2; the engine computes A2 to 60, A4
to 98, A5 to 18.2, A6 to 36 and A7 to "x", as it might by a fault of its own."""


@pytest.mark.parametrize(
    ("stored", "refreshed"),
    [
        ({}, {}),  # a spreadsheet's own values of plain formulas stay
        # what depends on a formula of ours that changed is computed anew, and nothing else
        ({"A3": 9.0}, {"A3": 9.082841295549606, "A5": 18.165682591099213, "A6": 36.33136518219843}),
        # ... as far as something changes on the way
        ({"A3": 9.0, "A5": 18.165682591099213}, {"A3": 9.082841295549606}),
        # nothing is stored, or the spreadsheet did not know a function
        ({"A5": None}, {"A5": 18.165682591099213, "A6": 36.33136518219843}),
        ({"A5": "#NAME?"}, {"A5": 18.165682591099213, "A6": 36.33136518219843}),
        ({"A2": None}, {"A2": 60.0, "A3": 10.964865788037152, "A4": 120.0,
                        "A5": 21.929731576074303, "A6": 43.85946315214861}),
        ({"A7": None}, {"A7": "x"}),
    ],
)  # fmt: skip
def test_a_plain_value_stays_until_something_that_it_reads_changes(
    tmp_path: Path, stored: Cells, refreshed: Cells
) -> None:
    known = CHAIN_STORED | stored
    path = book(tmp_path / "mine.xlsx", CHAIN, {each: value or "" for each, value in known.items()})
    for each in (each for each, value in known.items() if value is None):
        there, bare = rf'<c r="{each}" t="str">(<f>.*?</f>)<v></v>', rf'<c r="{each}">\1<v/>'
        change = partial(re.sub, there.encode(), bare.encode())
        path.write_bytes(exchange_parts(path.read_bytes(), {SHEET: change}))
    fresh = compute_anew(path, lambda _: None)
    found = {address(place): value for place, value in fresh.to_refresh.items()}
    assert found == {each: pytest.approx(value) for each, value in refreshed.items()}
    fix_values(fresh, tmp_path / REFRESHED, NOW)
    assert check(tmp_path / REFRESHED).findings == []
    assert compute_anew(tmp_path / REFRESHED, lambda _: None).to_refresh == {}
