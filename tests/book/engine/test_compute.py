"""Computing a workbook without a spreadsheet: our functions, native ones, errors, blank rows."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.workbook.defined_name import DefinedName

import lumbercalc as lc
from lumbercalc.book.engine.compute import Checking, compute, compute_workbook
from lumbercalc.book.engine.trim import WHOLE, _last_of_its_own, trim
from lumbercalc.book.page.styles import add_styles
from lumbercalc.book.page.table import FIRST_ROW, Column, Table
from lumbercalc.book.xlsx.cell_value import CellValue
from lumbercalc.sheet.catalogue import CATALOGUE


def computed(folder: Path, cells: dict[str, Any]) -> dict[str, CellValue]:
    """Values of the formula cells of a one-sheet workbook."""
    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    for address, value in cells.items():
        sheet[address].value = value
    workbook.save(folder / "small.xlsx")
    return {address: value for (_, address), value in compute(folder / "small.xlsx").items()}


FORMULAS: list[tuple[str, CellValue]] = [
    # Natives, by the arithmetic that their names state.
    ("=A1+A2", 12.5),
    ("=SUM(A1:A3)", 12.5),
    ("=COUNT(A1:A3)", 2.0),
    ('=IF(A3="","blank","not")', "blank"),
    ('=A4&" "&A1', "8/4 7.5"),
    ("=A1>A2", True),
    ("=INDEX(A1:A2,MATCH(5,A1:A2,0))", 5.0),
    ("=SUMPRODUCT((A1:A2>6)*A1:A2)", 7.5),
    ('=COUNTIF(A1:A2,">6")', 1.0),
    ("=1/0", "#DIV/0!"),
    ("=A4*2", "#VALUE!"),
    ("=MATCH(9,A1:A2,0)", "#N/A"),
    ("=SQRT(-1)", "#NUM!"),
    ("=IFERROR(1/0,3)", 3.0),
    # Ours: a board of 8/4 x 7-1/2 in x 8 ft has 2 x 7.5 x 8 / 12 = 10 bf.
    ("=BOARD_FEET(A4,A1,8)", 10.0),
    ("=ROUND(BOARD_FEET(A4,A1,8)/3,2)", 3.33),
    ('=IF(BOARD_FEET(A4,A1,8)>9,"large","small")', "large"),
    # A refused call is #NUM!, as in Calc, and goes through what uses it.
    ("=BOARD_FEET(A4,-1,8)", "#NUM!"),
    ("=BOARD_FEET(A4,-1,8)+1", "#NUM!"),
    ("=SUM(A1,BOARD_FEET(A4,-1,8))", "#NUM!"),
    ("=ISERROR(BOARD_FEET(A4,-1,8))", True),
    ('=PROBLEM("BOARD_FEET",A4,A1,8)', ""),
    # An error cell goes through a function of ours as it is.
    ("=BOARD_FEET(A4,A5,8)", "#DIV/0!"),
    ("=BOARD_FEET(A4,A5:A5,8)", "#DIV/0!"),
    ("=EMC(NA(),45)", "#N/A"),
    # A blank cell is a blank argument: no value, or the default.
    ("=BOARD_FEET(A4,A3,8)", ""),
    ("=BOARD_FEET(A4,A1,8,A3)", 10.0),
]


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, CellValue]:
    """The formulas, computed in one workbook."""
    cells: dict[str, Any] = {"A1": 7.5, "A2": 5, "A4": "8/4", "A5": "=1/0"}
    cells |= {f"D{row}": formula for row, (formula, _) in enumerate(FORMULAS, 1)}
    values = computed(tmp_path_factory.mktemp("formulas"), cells)
    return {formula: values[f"D{row}"] for row, (formula, _) in enumerate(FORMULAS, 1)}


@pytest.mark.parametrize(("formula", "value"), FORMULAS)
def test_value_of_a_formula(answers: dict[str, CellValue], formula: str, value: CellValue) -> None:
    found = answers[formula]
    assert type(found) is type(value)
    assert found == (pytest.approx(value) if isinstance(value, float) else value)


def test_same_call_as_in_python(tmp_path: Path) -> None:
    values = computed(tmp_path, {"A1": 70, "A2": 45, "B1": "=EMC(A1,A2)", "B2": "=B1*2"})
    assert values == {"B1": lc.emc(70, 45), "B2": 2 * lc.emc(70, 45)}


def test_a_table_goes_in_and_a_date_comes_out_as_its_serial(tmp_path: Path) -> None:
    cells: dict[str, Any] = {f"A{month}": 70 for month in range(1, 13)}
    cells |= {f"B{month}": 50 for month in range(1, 13)}
    cells["D1"] = '=READY_DATE("oak, white",1.125,60,"2026-05-01",20,A1:B12)'
    day = lc.ready_date("oak, white", 1.125, 60, "2026-05-01", 20, [[70, 50]] * 12)
    since_may = (pd.Timestamp(day) - pd.Timestamp("2026-05-01")).days
    # 2026-05-01 is day 46143 of the 1900 date system
    assert computed(tmp_path, cells) == {"D1": 46143.0 + since_may}
    assert since_may > 10


def test_every_example_of_the_catalogue_runs(tmp_path: Path) -> None:
    names = [name for name in CATALOGUE if not CATALOGUE[name].spills]
    cells = {f"A{row}": f"={CATALOGUE[name].formula}" for row, name in enumerate(names, 1)}
    values = computed(tmp_path, cells)
    assert len(values) == len(names) > 40
    for row, name in enumerate(names, 1):
        answer, value = CATALOGUE[name].example.answer, values[f"A{row}"]
        if isinstance(answer, bool) or not isinstance(answer, (int, float)):
            dates = CATALOGUE[name].gives == "date"
            assert isinstance(value, float) if dates else value == answer, name
        else:
            assert value == pytest.approx(answer, rel=1e-2), name  # "to the digits shown"


def test_a_link_to_another_file_is_not_followed(tmp_path: Path) -> None:
    other = Workbook()
    assert other.active is not None
    other.active["A1"].value = 77
    other.save(tmp_path / "other.xlsx")
    values = computed(tmp_path, {"A1": f"='[{tmp_path}/other.xlsx]Sheet'!A1", "A2": "=1+1"})
    assert values["A2"] == 2
    assert values["A1"] != 77


TALLY = Table(
    "Tally",
    "tally",
    "",
    (
        Column("width", "Width (in)", "input"),
        Column("bf", "Board feet (bf)", "result",
               formula='=IF({width}="","",BOARD_FEET("4/4",{width},12))'),
        Column("share", "Share", "result",
               formula='=IF({width}="","blank",{bf}/SUM(tally_bf))'),
        Column("again", "As often", "result", formula="=COUNTIF(tally_width,{width})"),
    ),
    rows=30,
    last_row=60,
)  # fmt: skip


def tally(folder: Path, widths: list[float | None]) -> Path:
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    add_styles(workbook)
    sheet = TALLY.write(workbook)
    for row, width in enumerate(widths, FIRST_ROW):
        sheet[f"A{row}"].value = width
    sheet["G1"].value = "=SUM(tally_bf)"
    sheet["G2"].value = '=SUMPRODUCT((tally_width<>"")*1)'
    sheet["G3"].value = "=SUM(rest)"
    sheet["G4"].value = "=SUMPRODUCT(ISERROR(tally_bf)*1)"
    workbook.defined_names["rest"] = DefinedName("rest", attr_text="'Tally'!$B$6:$B$8")
    workbook.save(folder / "tally.xlsx")
    return folder / "tally.xlsx"


@pytest.mark.parametrize(
    "widths",
    [[], [6.0], [6.0, None, 6.0, -1.0], [float(width) for width in range(1, 31)]],
    ids=["empty", "one row", "a gap and an error", "full"],
)
def test_trimmed_equals_untrimmed(tmp_path: Path, widths: list[float | None]) -> None:
    path = tally(tmp_path, widths)
    whole, trimmed = compute(path), compute(path, [TALLY])
    assert trimmed == whole
    assert len(whole) == 3 * TALLY.rows + 4
    assert whole["Tally", "G2"] == sum(width is not None for width in widths)


def test_a_remark_below_a_table_is_no_row_of_it(tmp_path: Path) -> None:
    path = tally(tmp_path, [6.0, 7.0])
    workbook = load_workbook(path)
    workbook["Tally"][f"A{TALLY.last_row + 3}"].value = "counted on Friday"
    workbook.save(path)
    whole, trimmed = compute(path), compute(path, [TALLY])
    assert trimmed == whole
    [dropped] = trim(workbook, [TALLY])
    assert dropped.blank_row == FIRST_ROW + 2
    assert workbook.defined_names["tally_bf"].attr_text == "'Tally'!$B$5:$B$7"


OWN = {
    # What a shop may ask of all rows: 30 have formulas, the names reach on to row 60.
    "=ROWS(tally_width)": 56.0,
    "=COUNTBLANK(tally_width)": 54.0,
    '=SUMPRODUCT((tally_width="")*1)': 54.0,
    "=COUNTA(Tally!C5:C60)": 30.0,
    '=SUMIF(tally_width,"<>",Tally!B5:B60)': 13.0,  # boards of 6 and 7 in x 12 ft x 1 in
    '=COUNTIF(tally_share,"blank")': 28.0,
    '=INDEX(tally_share,20)&"!"': "blank!",
    '=Tally!C30&"!"': "blank!",
    "=MAX(ROW(tally_width))": 60.0,
    "=SUM(Tally!B20:B60)": 0.0,
}


def test_a_shops_own_formulas_see_all_rows(tmp_path: Path) -> None:
    workbook = load_workbook(tally(tmp_path, [6.0, 7.0]))
    mine = workbook.create_sheet("Mine")
    for name in ("tally_width", "tally_share"):
        area = workbook.defined_names[name].attr_text
        workbook.defined_names[name + WHOLE] = DefinedName(name + WHOLE, attr_text=area)
    for row, formula in enumerate(OWN, 1):
        mine[f"A{row}"].value = re.sub(r"(tally_(?:width|share))", rf"\1{WHOLE}", formula)
    readers = {("Mine", row, 1) for row in range(1, len(OWN) + 1)}
    checking = Checking({}, workbook.sheetnames, None, from_calc=False, readers=readers)
    values = compute_workbook(workbook, [TALLY], checking).values
    assert {formula: values["Mine", f"A{row}"] for row, formula in enumerate(OWN, 1)} == OWN


def test_trim_keeps_one_blank_row_and_shortens_only_names_of_columns(tmp_path: Path) -> None:
    workbook = load_workbook(tally(tmp_path, [6.0, 7.0]))
    [dropped] = trim(workbook, [TALLY])
    assert (dropped.sheet, dropped.blank_row) == ("Tally", FIRST_ROW + 2)
    assert len(dropped.addresses) == 3 * (TALLY.rows - 3)
    assert workbook["Tally"][f"B{FIRST_ROW + 2}"].value is not None
    assert workbook["Tally"][f"B{FIRST_ROW + 3}"].value is None
    areas = {name: defined.attr_text for name, defined in workbook.defined_names.items()}
    assert areas["tally_bf"] == "'Tally'!$B$5:$B$7"
    assert areas["rest"] == "'Tally'!$B$6:$B$8"


@pytest.mark.parametrize(
    ("formula", "row", "alike"),
    [
        ('=IF($A{row}="","A6",A{above}+A$6)', 30, True),
        ('=IF($A{row}="","A{row}",A{above}+A$6)', 30, False),
        ("=IF(LOG10({row})>1,$A{row},A$6)", 10, False),
        ("=IF(LOG10(A{row})>1,$A{row},Other!A{row}:B{above})", 10, True),
        ("=if($a{row}>1,$a{row},a$6)", 30, True),
        ("=A{row}+RATE{row}", 30, False),
        ("=A{row}", 30, True),
        ("=7", 30, True),
    ],
)
def test_blank_rows_are_those_of_one_formula_filled_down(
    formula: str, row: int, alike: bool
) -> None:
    sheet = Workbook().worksheets[0]
    for each in (6, row):
        sheet[f"C{each}"].value = formula.format(row=each, above=each - 1)
    assert _last_of_its_own(sheet, ["C"], 6, row) == (0 if alike else row)
    sheet[f"C{row}"].data_type = "s"  # a text that looks like it
    assert _last_of_its_own(sheet, ["C"], 6, row) == row


@pytest.mark.parametrize("formula", ["=1+1", '=IF($A30="",7,8)', "=SUM($B$5:$B$8)"])
def test_a_formula_typed_into_a_blank_row_is_computed_by_itself(
    tmp_path: Path, formula: str
) -> None:
    path = tally(tmp_path, [6.0, 7.0])
    workbook = load_workbook(path)
    workbook["Tally"]["B30"].value = formula
    workbook.save(path)
    whole, trimmed = compute(path), compute(path, [TALLY])
    assert trimmed == whole
    assert whole["Tally", "B30"] not in ("", whole["Tally", "B29"])


def test_an_object_of_the_engine_is_no_value(tmp_path: Path) -> None:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    cells = {"A1": 5, "A2": 6, "B1": "=INDEX(A1:A2,{1;2})", "B2": "=B1+1", "B3": "=A1"}
    for address, value in cells.items():
        sheet[address].value = value
    computed = compute_workbook(workbook)
    assert computed.values == {(sheet.title, "B3"): 5.0}
    assert computed.missing[sheet.title, "B1"] == "no value can be computed"
    assert computed.missing[sheet.title, "B2"].startswith(f"it depends on {sheet.title}!B1")
