"""Checking a person's own workbook: what is right is left alone, whatever is wrong is told."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.formula import ArrayFormula
from typer.testing import CliRunner, Result

from lumbercalc.book.checking import for_engine
from lumbercalc.book.checking.check import Checked, check
from lumbercalc.book.checking.finding import Kind
from lumbercalc.book.xlsx.calculation_mark import calculate_on_load
from lumbercalc.book.xlsx.cell_value import Values
from lumbercalc.book.xlsx.parts import BOOK, exchange_parts
from lumbercalc.book.xlsx.stored import with_values
from lumbercalc.cli import app

Cells = Mapping[str, Any]


def book(path: Path, cells: Cells, stored: Cells | None = None, **names: str | DefinedName) -> Path:
    """A workbook with cells, stored values beside its formulas, and defined names."""
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet.title = "Mine"
    workbook.create_sheet("Rates")["A1"].value = 50
    for address, value in cells.items():
        sheet[address].value = value
    for name, area in names.items():
        defined = DefinedName(name, attr_text=area) if isinstance(area, str) else area
        workbook.defined_names[name] = defined
    workbook.save(path)
    if stored is not None:
        values: Values = {("Mine", address): value for address, value in stored.items()}
        path.write_bytes(with_values(path.read_bytes(), values))
    return path


def marked(path: Path) -> Path:
    """The same workbook, marked to be computed anew: its stored values may be old."""
    path.write_bytes(exchange_parts(path.read_bytes(), {BOOK: calculate_on_load}))
    return path


def exchange(path: Path, part: str, was: bytes, now: bytes) -> None:
    """Put other bytes in the place of some that a part of a workbook has."""

    def change(content: bytes) -> bytes:
        assert was in content
        return content.replace(was, now)

    path.write_bytes(exchange_parts(path.read_bytes(), {part: change}))


def run(path: Path, *options: str | Path) -> Result:
    return CliRunner().invoke(app, ["check", str(path), *map(str, options)])


def told(checked: Checked, kind: Kind) -> list[str]:
    """The findings of a kind, without the kind."""
    return [str(each).removeprefix(f"{kind:<12}  ") for each in checked.findings
            if each.kind is kind]  # fmt: skip


# board feet: thickness in x width in x length ft / 12 (the definition of the measure)
RIGHT: Cells = {
    "A1": "Thickness", "B1": "Width", "C1": "Length", "D1": "bf",
    "A2": 1, "B2": 6, "C2": 8, "D2": "=BOARD_FEET(A2,B2,C2)",
    "A3": 2, "B3": 9, "C3": 10, "D3": "=ROUND(BOARD_FEET(A3,B3,C3)*Rates!A1,2)",
    "A4": "=SUM(D2:D3)",
}  # fmt: skip
RIGHT_STORED: Cells = {"D2": 4.0, "D3": 750.0, "A4": 754.0}


def test_what_is_right_passes(tmp_path: Path) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT, RIGHT_STORED)
    before = path.read_bytes()
    checked = check(path)
    assert (checked.findings, checked.compared, checked.formulas) == ([], 2, 3)
    result = run(path)
    assert result.exit_code == 0
    assert result.stdout == (
        "compared 2 of the 3 formulas (those with our functions); nothing found\n"
    )
    assert "computing 3 formulas" in result.stderr
    assert path.read_bytes() == before


@pytest.mark.parametrize("text", ["#REF!", "#NAME?", None])
def test_the_names_under_which_excel_keeps_the_help_of_functions_pass(
    tmp_path: Path, text: str | None
) -> None:
    # ECMA-376 part 1, 18.2.5: such a name stands for no cells; what else it says is left open
    names = {
        name: DefinedName(name, attr_text=text, function=True, vbProcedure=True, description="Help")
        for name in ("BOARD_FEET", "test_of_mine")
    }
    checked = check(book(tmp_path / "mine.xlsx", RIGHT, RIGHT_STORED, **names))
    assert (checked.findings, checked.compared, checked.formulas) == ([], 2, 3)


@pytest.mark.parametrize(
    ("stored", "line"),
    [
        ({"D2": 5.0}, "Mine!D2: stored 5, fresh 4"),
        ({"D2": 4 * (1 + 2e-9)}, "Mine!D2: stored 4.000000008, fresh 4"),
        ({"D2": 4 * (1 + 5e-10)}, None),
        ({"D2": "4"}, 'Mine!D2: stored the text "4", fresh 4'),
        ({"D2": True}, "Mine!D2: stored TRUE, fresh 4"),
        ({"D2": "#NAME?"}, "Mine!D2: stored #NAME?, fresh 4"),
        ({"D2": ""}, "Mine!D2: stored nothing, fresh 4"),
        ({"D3": 749.0}, "Mine!D3: stored 749, fresh 750"),  # our call inside another
        ({"A4": 9.0}, None),  # not a formula of ours
    ],
)
def test_a_stored_value_that_differs_is_stale(
    tmp_path: Path, stored: Cells, line: str | None
) -> None:
    path = book(tmp_path / "mine.xlsx", RIGHT, {**RIGHT_STORED, **stored})
    checked = check(path)
    assert told(checked, Kind.STALE) == ([line] if line else [])
    assert len(checked.findings) == (1 if line else 0)
    assert run(path).exit_code == (1 if line else 0)


def test_what_a_formula_depends_on_is_computed_anew_too(tmp_path: Path) -> None:
    cells = {"A1": 50, "A2": "=A1+10", "A3": "=EMC(70,A2)"}
    path = book(tmp_path / "mine.xlsx", cells, {"A2": 50.0, "A3": 9.24228742257097})
    assert told(check(path), Kind.STALE) == []  # the spreadsheet has computed A2, and A3 of it
    result = run(path)
    assert result.exit_code == 0
    assert "taken as stored: 1 formula without our functions" in result.stdout
    assert "the first Mine!A2: stored 50, here 60" in result.stdout
    marked(path)
    [line] = told(check(path), Kind.STALE)
    # 11.0 % MC: Wood Handbook FPL-GTR-190 (2010) Table 4-2 at 70 deg F and 60 % RH, to 0.1
    assert re.fullmatch(r"Mine!A3: stored 9\.24\d*, fresh (11\.0|10\.9[5-9])\d*", line)


@pytest.mark.parametrize(
    "formula",
    [
        "=_xlfn.EMC(70,50)",
        "=_xludf.EMC(70,50)",
        "=[1]!EMC(70,50)",
        "='C:\\shop\\tools.xlam'!EMC(70,50)",
        "=org.lumbercalc.addin.EMC(70,50)",
        "=emc(70,50)",
        '=IF("_xlfn.EMC("="",0,EMC(70,50))',
    ],
)
def test_a_function_is_known_under_whatever_a_spreadsheet_calls_it(
    tmp_path: Path, formula: str
) -> None:
    path = book(tmp_path / "mine.xlsx", {"A1": formula})
    checked = check(path)
    assert told(checked, Kind.STALE) == ["Mine!A1: stored nothing, fresh 9.24228742257097"]
    assert len(checked.findings) == 1


@pytest.mark.parametrize("formula", ['="EMC(70,50)"', "=SUM(1,2)", '=IF(1=1,"BOARD_FEET(",2)'])
def test_a_text_is_no_call(tmp_path: Path, formula: str) -> None:
    checked = check(book(tmp_path / "mine.xlsx", {"A1": formula}))
    assert (checked.findings, checked.compared) == ([], 0)


def test_a_refusal_is_told_with_its_reason_and_cell(tmp_path: Path) -> None:
    cells = {
        "A1": "=BOARD_FEET(1,-7,8)",
        "A2": '=BOARD_FEET(THICKNESS_IN("8/x"),6,8)',
        "A3": "=ROUND(EMC(70,140),1)",
        "A4": "=BOARD_FEET(1,A1,8)",
        "A5": '=IFERROR(EMC(70,140),"none")',
        "A6": "=EMC(70,A7)",
        "A7": "#N/A",
        "A8": "=A1*2",
        "A9": '=BOARD_FEET(1,"six",8)',
    }
    stored = dict.fromkeys(("A1", "A2", "A3", "A4", "A6", "A8", "A9"), "#VALUE!") | {"A5": "none"}
    path = book(tmp_path / "mine.xlsx", cells, stored)
    checked = check(path)
    width = "BOARD_FEET: width_in is -7 in; it must be from 0.25 to 120 in"
    found = told(checked, Kind.REFUSED)
    assert found[0] == f"Mine!A1: {width}"
    assert found[1].startswith('Mine!A2: THICKNESS_IN: quarters is the text "8/x"; it must be')
    assert found[2] == "Mine!A3: EMC: rh_pct is 140 % RH; it must be from 1 to 100 % RH"
    assert found[3] == f"Mine!A4: {width} (passed on from Mine!A1)"
    assert found[4].startswith("Mine!A6: it comes to #N/A")
    assert found[5].startswith('Mine!A9: BOARD_FEET: width_in is the text "six"')
    assert len(found) == len(checked.findings) == 6  # A5 says itself what it does, A8 is not ours


def test_a_refusal_in_a_block_names_the_row(tmp_path: Path) -> None:
    cells = {"A1": 5, "A2": -3, "A3": 5, "B1": ArrayFormula("B1:B3", "=BOARD_FEET(1,A1:A3,12)")}
    [line] = told(check(book(tmp_path / "mine.xlsx", cells)), Kind.REFUSED)
    assert line == "Mine!B2: BOARD_FEET: width_in is -3 in; it must be from 0.25 to 120 in"


@pytest.mark.parametrize(
    ("typed", "line"),
    [
        ("7,5", 'Mine!B4: the text "7,5" among the 3 numbers of column B'),
        ("7 1/2", 'Mine!B4: the text "7 1/2" among the 3 numbers of column B'),
        ("$ 4.50", 'Mine!B4: the text "$ 4.50" among the 3 numbers of column B'),
        ("12 %", 'Mine!B4: the text "12 %" among the 3 numbers of column B'),
        ("oak", None),
        ("1 250", 'Mine!B4: the text "1 250" among the 3 numbers of column B'),
        ("12 11/16", 'Mine!B4: the text "12 11/16" among the 3 numbers of column B'),
        ("0,5", 'Mine!B4: the text "0,5" among the 3 numbers of column B'),
        ("N/A", None),
        ("04102", None),  # a post code
        ("555 0102", None),  # a telephone number
        ("2026 001", None),  # an invoice
        (7.5, None),
        ("=1+1", None),
    ],
)
def test_a_text_among_numbers_is_told(tmp_path: Path, typed: Any, line: str | None) -> None:
    cells = {"A1": "4/4", "A2": "5/4", "A3": 1, "B1": "Width", "B2": 6, "B3": 7, "B4": typed,
             "B5": 9}  # fmt: skip
    assert told(check(book(tmp_path / "mine.xlsx", cells)), Kind.TEXT) == ([line] if line else [])


@pytest.mark.parametrize(
    ("formula", "told_of"),
    [
        ("=#REF!+1", "a reference is #REF!: what it named is gone"),
        ("=SUM(Rates!#REF!)", "a reference is #REF!: what it named is gone"),
        ("=Gone!A1", "there is no sheet 'Gone'"),
        ("='Last year'!A1*2", "there is no sheet 'Last year'"),
        ("=[1]Rates!A1", "another workbook is referred to; it is not followed"),
        ("='/shop/[old.xlsx]Rates'!A1", "another workbook is referred to; it is not followed"),
        ("=rate*2", "the name 'rate' is not in the workbook"),
    ],
)
def test_a_reference_that_leads_nowhere_is_told(tmp_path: Path, formula: str, told_of: str) -> None:
    cells = {"A1": formula, "A2": "=EMC(70,A1)", "A3": '="#REF! Gone!A1"&Rates!A1'}
    checked = check(book(tmp_path / "mine.xlsx", cells))
    assert told(checked, Kind.REFERENCE) == [f"Mine!A1: {told_of}"]
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert line == f"Mine!A2: it depends on Mine!A1: {told_of}"


@pytest.mark.parametrize(
    ("area", "told_of"),
    [
        ("#REF!", "a reference is #REF!"),
        ("Mine!#REF!", "a reference is #REF!"),
        ("Gone!$A$1", "there is no sheet 'Gone'"),
        ("[1]Rates!$A$1", "another workbook"),
    ],
)
def test_a_name_that_leads_nowhere_is_told(tmp_path: Path, area: str, told_of: str) -> None:
    path = book(tmp_path / "mine.xlsx", {"A1": "=EMC(70,humid)"}, humid=area)
    checked = check(path)
    [line] = told(checked, Kind.REFERENCE)
    assert line.startswith(f"the name humid: {told_of}")
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert line.startswith("Mine!A1: the name humid cannot be computed with")


@pytest.mark.parametrize(
    ("area", "what"),
    [
        ("'Mine'!$A$0", "the formula"),
        ("(((", "the formula"),
        ("'Mine:Gone'!$A$1", "the name odd"),
    ],
)
def test_a_name_that_cannot_be_read_keeps_no_other_formula_from_being_checked(
    tmp_path: Path, area: str, what: str
) -> None:
    cells = {
        "A1": 6,
        "A2": '=BOARD_FEET("4/4",A1,whole)',
        "A3": '=BOARD_FEET("4/4",odd,8)',
        "A4": '=BOARD_FEET("4/4",COUNTIF(odd,6),ROW())',
    }
    path = book(tmp_path / "mine.xlsx", cells, whole="'Mine'!$A$1", odd=area)
    checked = check(path)
    lines = told(checked, Kind.NOT_COMPUTED)
    assert [line.partition(" cannot be ")[0] for line in lines] == [
        f"Mine!A{row}: {what}" for row in (3, 4)
    ]
    assert told(checked, Kind.STALE) == ["Mine!A2: stored nothing, fresh 3"]


def test_a_function_that_is_nearly_ours_is_told(tmp_path: Path) -> None:
    cells = {"A1": '=BOARDFEET("4/4",8,8)', "A2": '=BOARD_FEETS("4/4",8,8)', "A3": "=A1+1"}
    lines = told(check(book(tmp_path / "mine.xlsx", cells)), Kind.NOT_COMPUTED)
    assert lines == [
        f"Mine!A{row}: the function {name} is not known to lumbercalc; is BOARD_FEET meant?"
        for row, name in ((1, "BOARDFEET"), (2, "BOARD_FEETS"))
    ]


@pytest.mark.parametrize(
    ("cells", "why"),
    [
        ({"A1": "=OFFSET(B1,1,0)"}, "the function OFFSET is not known to lumbercalc"),
        ({"A1": '=WEBSERVICE("http://127.0.0.1:9/x")'}, "the function WEBSERVICE is not known"),
        ({"A1": '=INDIRECT("B2")'}, "the function INDIRECT is not known"),
        ({"A1": "=50+RAND()"}, "RAND gives another number each time"),
        ({"A1": "=SUM(Widths[in])"}, "a table's column, Widths[in], is not followed"),
        ({"A1": "=SUM(Mine:Rates!B1)"}, "a reference through several sheets"),
        ({"A1": "=1+"}, "the formula cannot be read"),
        ({"A1": "=A1+1"}, "it depends on itself"),
        ({"A1": "=B1+1", "B1": "=A1+1"}, "it depends on itself"),
        (
            {"A1": "=SUMPRODUCT(B1:B501*TRANSPOSE(B1:B501))"},
            "it may make 501 x 501 cells, more than 250,000",
        ),
        ({"A1": "=SUMPRODUCT(B1:B5000*D1:BB1)"}, "it may make 5,000 x 51 cells"),
        ({"A1": "=SUMPRODUCT(B1:B90000*{1,2,3})"}, "it may make 90,000 x 3 cells"),
        ({"A1": "=SUM(TRANSPOSE(FREQUENCY(D1:D9,E1:AC21)))"}, "it may make 525 x 525 cells"),
        ({"A1": "=SUM(_xlfn.TOCOL(B1:D9))"}, "the cells that TOCOL makes are not followed"),
        ({"A1": "=SUM(B1:B2:D900)"}, "the area up to D900 is not followed"),
        ({"A1": '=IF(_xlfn.REGEXTEST("aa","(a+)+b"),1,2)'}, "the pattern of REGEXTEST"),
        ({"A1": "=SUM(B:B)", "B1048576": 1}, "the area B:B has more than 100,000 cells in use"),
    ],
)
def test_what_cannot_be_computed_is_told_and_never_called_equal(
    tmp_path: Path, cells: Cells, why: str
) -> None:
    path = book(tmp_path / "mine.xlsx", {**cells, "C1": "=EMC(70,A1)", "C2": "=EMC(70,50)"})
    checked = check(path)
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert line.startswith("Mine!C1: it depends on Mine!")
    assert why in line
    assert told(checked, Kind.STALE) == ["Mine!C2: stored nothing, fresh 9.24228742257097"]
    assert (checked.compared, run(path).exit_code) == (1, 1)


@pytest.mark.parametrize(
    ("formula", "made"),
    [
        ("=SUMPRODUCT(tall*TRANSPOSE(tall))", "501 x 501"),
        ("=SUMPRODUCT(turned*B1:B9)", "501 x 501"),
        ("=SUM(again+1)", "501 x 501"),
        ("=SUM(tall)+SUM(Rates!A1:XA1)", "501 x 625"),
    ],
)
def test_a_product_of_names_is_not_computed_either(tmp_path: Path, formula: str, made: str) -> None:
    names = {"tall": "Mine!$B$1:$B$501", "turned": "TRANSPOSE(tall)", "again": "turned*tall"}
    path = book(tmp_path / "mine.xlsx", {"A1": formula, "A2": "=EMC(70,A1)"}, **names)
    [line] = told(check(path), Kind.NOT_COMPUTED)
    assert f"it may make {made} cells, more than 250,000" in line


def test_as_many_cells_as_are_allowed_are_computed(tmp_path: Path) -> None:
    cells = {"A1": "=SUMPRODUCT(B1:B2500*D1:CY1)", "A2": "=EMC(70,50+A1)", "B7": 2, "D1": 3}
    checked = check(book(tmp_path / "mine.xlsx", cells))
    assert checked.fresh.value(("Mine", 1, 1)) == 6
    assert told(checked, Kind.NOT_COMPUTED) == []


def test_array_formulas_fill_only_so_many_cells_together(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(for_engine, "MOST_FILLED", 10)
    cells = {f"{x}1": ArrayFormula(f"{x}1:{x}5", "=EMC(70,50)") for x in "BCD"}
    checked = check(book(tmp_path / "mine.xlsx", cells))
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert line.startswith("Mine!D1: it fills the cells D1:D5: too many")


@pytest.mark.parametrize(
    "formula",
    ["=D1&D1", "=CONCATENATE(D1,D1)", "=REPLACE(D1,1,0,D1)", '=_xlfn.TEXTJOIN("",FALSE,D1,D1)'],
)
def test_a_text_too_long_for_a_cell_is_an_error(tmp_path: Path, formula: str) -> None:
    cells = {"A1": formula, "A2": formula.replace("D", "E"), "D1": "a" * 16_383, "E1": "a" * 16_384}
    computed = check(book(tmp_path / "mine.xlsx", cells)).fresh.computed.values
    assert (computed["Mine", "A1"], computed["Mine", "A2"]) == ("a" * 32_766, "#VALUE!")


def test_an_error_that_is_caught_is_not_computed_either(tmp_path: Path) -> None:
    cells = {"A1": "=OFFSET(B1,1,0)", "A2": "=IFERROR(A1,50)", "A3": "=EMC(70,A2)"}
    checked = check(book(tmp_path / "mine.xlsx", cells, dict.fromkeys(("A1", "A2"), 60.0)
                         | {"A3": 11.0}))  # fmt: skip
    [line] = told(checked, Kind.NOT_COMPUTED)
    assert line.startswith("Mine!A3: it depends on Mine!A1: the function OFFSET")
    assert line.endswith("; stored 11, compared with nothing")
    assert checked.compared == 0


def many_names(workbook: Workbook) -> None:
    for number in range(3000):
        name = f"name_{number}"
        workbook.defined_names[name] = DefinedName(name, attr_text=f"name_{number - 1}+1")


def names_in_names(workbook: Workbook) -> None:
    last = 60
    for number in range(last):
        text = "+".join(f"name_{other}" for other in range(number + 1, last + 1))
        workbook.defined_names[f"name_{number}"] = DefinedName(f"name_{number}", attr_text=text)
    workbook.defined_names[f"name_{last}"] = DefinedName(f"name_{last}", attr_text="Mine!$B$1")
    workbook["Mine"]["D1"].value = "=EMC(70,50+name_0)"


def whole_columns(workbook: Workbook) -> None:
    for row in range(1, 200):
        workbook["Mine"][f"D{row}"].value = "=EMC(70,50+0*SUM(A:A)+0*SUM($1:$3))"


def huge_array(workbook: Workbook) -> None:
    workbook["Mine"]["D1"].value = ArrayFormula("D1:XFD1048576", "=EMC(70,50)")


def far_cells(workbook: Workbook) -> None:
    workbook["Mine"]["XFD900"].value = 1
    workbook["Mine"]["D1"].value = "=EMC(70,XFD900+49)"


def doubling_text(workbook: Workbook) -> None:
    workbook["Mine"]["D1"].value = "a text that doubles and doubles"
    for row in range(2, 60):
        workbook["Mine"][f"D{row}"].value = f"=D{row - 1}&D{row - 1}"
    workbook["Mine"]["E1"].value = "=EMC(70,50+0*LEN(D59))"


def endless_cells(workbook: Workbook) -> None:
    for row in range(1, 20):
        workbook["Mine"][f"D{row}"].value = "=SUM(_xlfn.SEQUENCE(1000000,16000))"
        workbook["Mine"][f"E{row}"].value = f'=EMC(70,LEN(REPT("x",10^{row})))'


def long_circle(workbook: Workbook) -> None:
    for row in range(1, 300):
        workbook["Mine"][f"D{row}"].value = f"=EMC(70,D{row % 299 + 1})"


@pytest.mark.parametrize(
    "make",
    [
        many_names,
        names_in_names,
        whole_columns,
        huge_array,
        far_cells,
        long_circle,
        doubling_text,
        endless_cells,
    ],
)
def test_a_hostile_workbook_gives_findings_and_no_traceback(
    tmp_path: Path, make: Callable[[Workbook], None]
) -> None:
    workbook = Workbook()
    workbook.worksheets[0].title = "Mine"
    workbook["Mine"]["A1"].value = "=EMC(70,140)"
    make(workbook)
    workbook.save(tmp_path / "mine.xlsx")
    result = run(tmp_path / "mine.xlsx")
    assert result.exit_code == 1, result.output
    assert "refused       Mine!A1: EMC: rh_pct is 140 % RH" in result.stdout


@pytest.mark.parametrize("number", [b"1e400", b"1" + b"0" * 400])
def test_a_number_beyond_all_is_an_error(tmp_path: Path, number: bytes) -> None:
    workbook = Workbook()
    workbook.worksheets[0].title = "Mine"
    workbook["Mine"]["A1"].value, workbook["Mine"]["B1"].value = 7.125, "=EMC(70,A1)"
    workbook.save(tmp_path / "draft.xlsx")
    with (
        zipfile.ZipFile(tmp_path / "draft.xlsx") as draft,
        zipfile.ZipFile(tmp_path / "mine.xlsx", "w") as mine,
    ):
        for name in draft.namelist():
            mine.writestr(name, draft.read(name).replace(b"<v>7.125</v>", b"<v>%b</v>" % number))
    result = run(tmp_path / "mine.xlsx")
    assert result.exit_code == 1, result.output
    assert "refused       Mine!B1: it comes to #NUM!" in result.stdout


def test_a_workbook_that_counts_from_1904_is_refused(tmp_path: Path) -> None:
    workbook = Workbook()
    workbook.epoch = CALENDAR_MAC_1904
    path = tmp_path / "mine.xlsx"
    workbook.save(path)
    result = run(path)
    assert result.exit_code == 2
    assert "it counts days from 1904" in result.stderr


@pytest.mark.parametrize("name", ["none.xlsx", "text.xlsx"])
def test_what_is_no_workbook_is_bad_use(tmp_path: Path, name: str) -> None:
    (tmp_path / "text.xlsx").write_text("a,b\n")
    result = run(tmp_path / name)
    assert (result.exit_code, result.stdout) == (2, "")
    assert len(result.stderr.splitlines()) == 1


def test_findings_come_kind_by_kind_in_the_order_of_the_sheets(tmp_path: Path) -> None:
    workbook = Workbook()
    second = workbook.create_sheet("A first letter, a second sheet")
    first = workbook.worksheets[0]
    for sheet in (second, first):
        for address in ("B10", "A10", "A9"):
            sheet[address].value = "=EMC(70,140)"
    workbook.save(tmp_path / "mine.xlsx")
    result = run(tmp_path / "mine.xlsx")
    lines = [line.split(": ")[0] for line in result.stdout.splitlines()[:-1]]
    cells = [f"{sheet.title}!{address}" for sheet in (first, second)
             for address in ("A9", "A10", "B10")]  # fmt: skip
    expected = [f"{kind:<12}  {cell}" for kind in ("stale", "refused") for cell in cells]
    assert lines == expected
    assert result.stdout.splitlines()[-1].endswith("12 found: 6 stale, 6 refused")


@pytest.mark.parametrize(
    "title",
    ["Bob's", "It''s", "Yard.2026", "Loads (2026)", "A-1", "Länge & Breite", "2026", "R1C1"],
)
def test_a_sheet_of_any_name_is_computed(tmp_path: Path, title: str) -> None:
    workbook = Workbook()
    sheet, other = workbook.worksheets[0], workbook.create_sheet("Other")
    sheet.title = title
    quoted = "'" + title.replace("'", "''") + "'"
    workbook.defined_names["width"] = DefinedName("width", attr_text=f"{quoted}!$A$1")
    for row in (1, 2, 3):
        sheet[f"A{row}"].value = 6 * row
        sheet[f"B{row}"].value = f"=BOARD_FEET(1,A{row},8)"
        other[f"A{row}"].value = f"=BOARD_FEET(1,{quoted}!A{row},8)+SUM({quoted}!B$1:B{row})"
    other["B1"].value = "=BOARD_FEET(1,width,8)"
    workbook.save(tmp_path / "mine.xlsx")
    fresh = check(tmp_path / "mine.xlsx").fresh
    # 6 in x 8 ft of 1 in are 4 bf (the definition of the measure)
    assert [fresh.value((title, row, 2)) for row in (1, 2, 3)] == [4, 8, 12]
    assert [fresh.value(("Other", row, 1)) for row in (1, 2, 3)] == [8, 20, 36]
    assert fresh.value(("Other", 1, 2)) == 4


def test_an_area_of_which_each_cell_takes_its_own_row_is_left_as_it_is(tmp_path: Path) -> None:
    cells = {"A1": 1, "A2": 2, "B1": "=A1:A2*6", "B2": "=A1:A2*6"}
    cells |= {f"C{row}": f"=BOARD_FEET(1,B{row},8)" for row in (1, 2)}
    stored = {"B1": 6.0, "B2": 12.0, "C1": 4.0, "C2": 8.0}
    checked = check(book(tmp_path / "mine.xlsx", cells, stored))
    assert told(checked, Kind.STALE) == []
    first, second = told(checked, Kind.NOT_COMPUTED)
    assert first.startswith("Mine!C1: it depends on Mine!B1: which cell of A1:A2 is meant")
    assert second.startswith("Mine!C2")


def test_an_array_formula_takes_all_cells_of_its_areas(tmp_path: Path) -> None:
    cells = {"A1": 1, "A2": 2, "B1": ArrayFormula("B1:B2", "=A1:A2*6"), "C1": "=BOARD_FEET(1,B2,8)"}
    checked = check(book(tmp_path / "mine.xlsx", cells))
    assert told(checked, Kind.STALE) == ["Mine!C1: stored nothing, fresh 8"]
