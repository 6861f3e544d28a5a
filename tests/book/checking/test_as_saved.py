"""Formulas as spreadsheets save them: what is right there is never called wrong here."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.checking.check import check
from lumbercalc.book.checking.finding import Kind
from lumbercalc.book.xlsx.parts import BOOK, exchange_parts
from tests.book.checking.test_check import Cells, book, exchange, marked, run, told

CALC = b"<Application>LibreOffice/25.2.3.2$Linux_X86_64</Application>"
MONTH = "{70,50}"
AIR = "{" + ";".join(["70,50"] * 12) + "}"
READY = f'READY_DATE("northern red oak",1.125,80,"2026-05-01",20,{AIR}'


def by_calc(path: Path) -> Path:
    """The same workbook, as if Calc had saved it."""
    change = {"docProps/app.xml": lambda was: re.sub(rb"<Application>.*?</Application>", CALC, was)}
    path.write_bytes(exchange_parts(path.read_bytes(), change))
    return path


@pytest.mark.parametrize(
    ("formula", "like"),
    [
        ("=BOARD_FEET(1,6,8,)", 4.0),  # 6 in x 8 ft of 1 in are 4 bf (the definition)
        ("=BOARD_FEET(1,6,,2)", ""),  # no length, no answer
        ("=NET_BOARD_FEET(100,)", "#NUM!"),  # what is left out at the end is missing
        ("=BOARD_FEET(1,6,8,1,)", "#NUM!"),  # one argument too many
        (f'={READY},,,,,,"late")', f'={READY},1,1,"","","","late")'),
        ('=MC_PIN(12,"walnut, black",70,)', '=MC_PIN(12,"walnut, black",70)'),
        ('=MC_PIN(12,"walnut, black",,70)', '=MC_PIN(12,"walnut, black","",70)'),
        ('=PROBLEM("NET_BOARD_FEET",100,)', '=PROBLEM("NET_BOARD_FEET",100)'),
    ],
)
def test_what_is_left_out_between_commas_is_missing(
    tmp_path: Path, formula: str, like: Any
) -> None:
    """As live Calc (25.2.3) does."""
    cells = {"A1": formula} | ({"A2": like} if str(like).startswith("=") else {})
    fresh = check(book(tmp_path / "mine.xlsx", cells)).fresh
    expected = fresh.value(("Mine", 2, 1)) if "A2" in cells else like
    assert fresh.value(("Mine", 1, 1)) == expected


def test_a_blank_cell_alone_is_0_in_a_workbook_of_calc(tmp_path: Path) -> None:
    cells = {"A1": "=EMC(70,B1)", "A2": "=BOARD_FEET(1,12,TRUE)", "A3": "=BOARD_FEET(1,12,B2)",
             "B2": True}  # fmt: skip
    stored = {"A1": "#NUM!", "A2": 1.0, "A3": 1.0}  # as live Calc (25.2.3) stored them
    path = book(tmp_path / "mine.xlsx", cells, stored)
    assert told(check(path), Kind.STALE)[0] == 'Mine!A1: stored #NUM!, fresh the text ""'
    assert told(check(by_calc(path)), Kind.STALE) == []


@pytest.mark.parametrize("error", ["#N/A", "#NULL!", "#DIV/0!", "#VALUE!", "#NAME?", "#NUM!"])
def test_an_error_in_a_formula_is_one(tmp_path: Path, error: str) -> None:
    """Calc saves an error that was typed as a formula."""
    cells = {"A1": f"={error}", "A2": "=IFERROR(A1,50)", "A3": "=EMC(70,A2)",
             "A4": f"=IF(A2=50,EMC(70,50),{error})", "A5": "=EMC(70,A1)"}  # fmt: skip
    emc = 9.24228742257097
    stored = {"A1": error, "A2": 50.0, "A3": emc, "A4": emc, "A5": error}
    checked = check(marked(book(tmp_path / "mine.xlsx", cells, stored)))
    kinds = {each.kind for each in checked.findings}
    assert kinds <= {Kind.REFUSED} | ({Kind.STALE} if error == "#NAME?" else set())
    assert checked.compared == 3


@pytest.mark.parametrize(
    ("formula", "value"),
    [("SUM(B4:B1)", 10.0), ("SUM(B$4:B1)", 10.0), ("SUM(C1:B1)", 6.0), ("SUM(B2:B1)", 3.0)],
)
def test_an_area_may_be_written_from_its_end(
    tmp_path: Path, formula: str, value: float, capfd: pytest.CaptureFixture[str]
) -> None:
    cells = {"B1": 1, "B2": 2, "B3": 3, "B4": 4, "C1": 5, "A1": f"={formula}+BOARD_FEET(1,12,1)"}
    checked = check(book(tmp_path / "mine.xlsx", cells, {"A1": value + 1}))
    assert checked.findings == []
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize(
    ("area", "why"),
    [
        ("Mine!$B$1:$B$2,Mine!$C$1", "areas put together by a comma are not followed"),
        ("Mine!B1", "it is counted from the cell that uses it"),
        ("Mine!B:B", "it is counted from the cell that uses it"),
        ("Mine!1:2", "it is counted from the cell that uses it"),
    ],
)
def test_a_name_that_is_no_one_area_is_not_followed(
    tmp_path: Path, area: str, why: str, capfd: pytest.CaptureFixture[str]
) -> None:
    cells = {"A1": "=BOARD_FEET(1,12,SUM(mine))", "B1": 1, "B2": 2, "C1": 3}
    checked = check(book(tmp_path / "mine.xlsx", cells, {"A1": 6.0}, mine=area))
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert why in line
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize("area", ["Mine!$B:$B", "Mine!$1:$2"])
def test_a_name_of_whole_columns_or_rows_is_followed(tmp_path: Path, area: str) -> None:
    cells = {"A9": "=BOARD_FEET(1,12,SUM(mine))", "B1": 1, "B2": 2}
    checked = check(book(tmp_path / "mine.xlsx", cells, {"A9": 3.0}, mine=area))
    assert (checked.findings, checked.compared) == ([], 1)


@pytest.mark.parametrize(
    ("formula", "is_followed"),
    [
        ("SUM(B1:B3)", True),
        ("SUMPRODUCT((B1:B3>1)*B1:B3)", True),
        ("SUMPRODUCT(ROUND(B1:B3,0))", True),
        ("MATCH(1,(B1:B3=2)*1,0)", True),
        ('SUM(IF(B1=1,B1:B3,""))', True),
        ("SUM((B1:B3>1)*B1:B3)", False),
        ("SUM(B1:B3*2)", False),
        ("SUM(mine*2)", False),
        ("MAX(ROUND(B1:B3,0))", False),
        ("IF(B1=1,B1:B3,2)", False),
        ("MEAN_EMC(B1:B3*30,C1:C3)", False),
        ("SUMPRODUCT(BOARD_FEET(1,B1:B3*2,8))", False),
        ("SUMPRODUCT(BOARD_FEET(1,B1:B3,8)*2)", True),
        ("@B1", False),
    ],
)
def test_of_which_areas_one_cell_is_taken(tmp_path: Path, formula: str, is_followed: bool) -> None:
    """Live Calc (25.2.3) gives #VALUE! there, or the cell of the own row; an array formula all."""
    cells: Cells = {f"{x}{row}": row for x in "BC" for row in (1, 2, 3)}
    entered = f"={formula}+EMC(70,50)"
    checked = check(book(tmp_path / "mine.xlsx", {**cells, "A9": entered}, mine="Mine!$B$1:$B$3"))
    assert (checked.compared == 1) == is_followed
    if formula.startswith("SUM(("):
        array = ArrayFormula("A9", entered)
        assert check(book(tmp_path / "array.xlsx", {**cells, "A9": array})).compared == 1


@pytest.mark.parametrize(
    ("formula", "is_followed"),
    [
        ('COUNTIF(B:B,"oak")', True),
        ('COUNTIF(B:B,"<>")', True),
        ('SUMIF(B:B,"<>oak",C:C)', True),
        ('COUNTIF(B:B,"")', False),
        ('COUNTIFS(B:B,"<>oak")', False),
        ("COUNTBLANK(B:B)", False),
        ("ROWS(B:B)", False),
        ("ROWS($B$1:$B$200000)", False),
        ('COUNTIF($B$1:$B$200000,"")', False),
        ("ROWS(B1:B9)", True),
    ],
)
def test_cells_behind_the_last_one_in_use_are_not_counted(
    tmp_path: Path, formula: str, is_followed: bool
) -> None:
    cells = {"B1": "oak", "C1": 2, "A1": f"={formula}+EMC(70,50)"}
    assert (check(book(tmp_path / "mine.xlsx", cells)).compared == 1) == is_followed


def test_quarters_among_numbers_are_no_mistake(tmp_path: Path) -> None:
    cells = {"A1": 1, "A2": 2, "A3": 1.25, "A4": "8/4", "A5": "7/8"}
    [line] = told(check(book(tmp_path / "mine.xlsx", cells)), Kind.TEXT)
    assert line.startswith('Mine!A5: the text "7/8"')


def test_a_cell_of_a_data_table_is_what_it_came_to(tmp_path: Path) -> None:
    cells = {"A1": "=1+1", "A2": "=BOARD_FEET(1,12,A1)"}
    path = book(tmp_path / "mine.xlsx", cells, {"A1": 7.0, "A2": 7.0})
    table = b'<f t="dataTable" ref="A1:A1" dt2D="0" dtr="0" r1="B1"/>'
    exchange(path, "xl/worksheets/sheet1.xml", b"<f>1+1</f>", table)
    checked = check(marked(path))
    assert (checked.findings, checked.fresh.to_refresh, checked.formulas) == ([], {}, 1)


def test_an_array_formula_is_one_formula_and_one_line(tmp_path: Path) -> None:
    cells: Cells = {f"A{row}": -row for row in range(1, 21)}
    cells = {**cells, "B1": ArrayFormula("B1:B20", "=BOARD_FEET(1,A1:A20,12)")}
    result = run(book(tmp_path / "mine.xlsx", cells))
    lines = result.stdout.splitlines()
    assert [line.split(": ")[0].split() for line in lines[:-1]] == [
        ["stale", "Mine!B1"], ["refused", "Mine!B1"]
    ]  # fmt: skip
    assert lines[1].endswith("from 0.25 to 120 in; 19 more of its array formula's cells")
    assert lines[-1].startswith("compared 1 of one formula")
    assert "computing 1 formula, about" in result.stderr


def test_an_array_formula_that_is_not_computed_is_told_once(tmp_path: Path) -> None:
    array = ArrayFormula("B1:B2", "=BOARD_FEET(1,A1:A2,8)")
    cells = {"A1": 5, "A2": "=OFFSET(C1,1,0)", "B1": array, "B2": "#VALUE!"}
    stored = {"A2": "#VALUE!", "B1": "#VALUE!"}
    checked = check(book(tmp_path / "mine.xlsx", cells, stored))
    assert (len(checked.findings), checked.compared) == (1, 0)
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert line.startswith("Mine!B1: it depends on Mine!A2: the function OFFSET")
    assert line.endswith("; 1 more of its array formula's cells")


def test_a_file_of_strict_open_xml_is_refused_in_words(tmp_path: Path) -> None:
    path = book(tmp_path / "mine.xlsx", {"A1": "=EMC(70,50)"})
    loose, strict = b"http://schemas.openxmlformats.org/", b"http://purl.oclc.org/ooxml/"
    for kind in (b"spreadsheetml", b"officeDocument"):
        exchange(path, BOOK, loose + kind + b"/2006", strict + kind)
    result = run(path)
    assert result.exit_code == 2
    assert "save it as an ordinary Excel workbook (.xlsx)" in result.stderr
    assert len(result.stderr.splitlines()) == 1
