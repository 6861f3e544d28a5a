"""Formulas filled down share one compilation and give what each would give by itself."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import formulas
import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.engine import compute
from lumbercalc.book.engine.filled_down import ONE_AREA, FilledDown, relative
from tests.book.checking.test_check import book

COLUMNS = {
    "C": "=$A{row}*2",
    "D": "=SUM($A$1:$A{row})",
    "E": '=IF($A{row}="","A1",$A{row}&" A1")',
    "F": "=IF(ROW($A{row})=3,SUM(whole),MATCH($A{row},whole,0))",
    "G": "=ROW()+COLUMN()",
    "H": "=$A{row}+$A$3",
    "I": "='Other one'!$A{row}+SUM('Other one'!$A$1:$A$4)",
    "J": "=COUNT($A{row}:$B{row})",
    "K": "=LINE_TOTAL($A{row},1.5)",
    "L": '=IFERROR(1/($A{row}-2),"none")',
    "M": "=Other.2!A{row}+$A{row}",
    "N": "=row()*2+Column( )",
    "O": "=SUM(A$1:A{row} A{row}:A$4)",
    "P": "=A{row}+a$1+$a$2",
    "Q": "=ROW(A{row})+ROW( )",
}
ROWS = 4


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    other, dotted = workbook.create_sheet("Other one"), workbook.create_sheet("Other.2")
    for row in range(1, ROWS + 1):
        sheet[f"A{row}"].value, other[f"A{row}"].value = row, 10 * row
        dotted[f"A{row}"].value = 100 * row
        for letter, formula in COLUMNS.items():
            sheet[f"{letter}{row}"].value = formula.format(row=row)
    workbook.defined_names["whole"] = DefinedName("whole", attr_text=f"'{sheet.title}'!$A$1:$A$4")
    path = tmp_path_factory.mktemp("filled") / "filled.xlsx"
    workbook.save(path)
    return path


def test_shared_equals_each_by_itself(filled: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shared = compute.compute(filled)
    compiled: list[str] = []

    def by_itself(model: FilledDown, address: str, *other: Any) -> Any:
        compiled.append(address)
        return formulas.ExcelModel._compile_cell(address, *other)

    monkeypatch.setattr(FilledDown, "_compile_formula", by_itself)
    assert shared == compute.compute(filled)
    assert len(shared) == len(compiled) == ROWS * len(COLUMNS)
    sheet = next(iter(shared))[0]
    assert [shared[sheet, f"D{row}"] for row in range(1, 5)] == [1, 3, 6, 10]
    assert [shared[sheet, f"I{row}"] for row in range(1, 5)] == [110, 120, 130, 140]
    assert [shared[sheet, f"M{row}"] for row in range(1, 5)] == [101, 202, 303, 404]
    assert [shared[sheet, f"N{row}"] for row in range(1, 5)] == [16, 18, 20, 22]
    assert [shared[sheet, f"O{row}"] for row in range(1, 5)] == [1, 2, 3, 4]
    assert [shared[sheet, f"P{row}"] for row in range(1, 5)] == [4, 5, 6, 7]


def test_a_column_is_compiled_once(filled: Path) -> None:
    model = FilledDown().loads(str(filled))
    wholes = {letter: set() for letter in COLUMNS}  # type: dict[str, set[int]]
    for cell in model.cells.values():
        if cell.func is not None and cell.range is not None:
            wholes[cell.range.ranges[0]["c1"]].add(id(cell.func.func))
    compiled = {letter: len(one) for letter, one in wholes.items()}
    # they have their own place in them, what is common to areas, or a sheet that is read otherwise
    assert {letter: compiled.pop(letter) for letter in "GMNOQ"} == dict.fromkeys("GMNOQ", ROWS)
    # where a row's own cell is also a fixed one, the next row is compiled again
    assert compiled.pop("P") == 3
    assert all(count <= 2 for count in compiled.values())


NAMES = {
    "one": "'Mine'!$A$1",
    "all_rows": "'Mine'!$A$1:$A$4",
    "other": "Mine!$B$2:$C$3",
    "share": "0.25",
    "of_names": "SUM(all_rows)*share",
    "relative": "Mine!B2:C3",
    "lost": "#REF!",
    "gone": "Gone!$A$1:$A$2",
    "elsewhere": "'[1]Other'!$A$1",
    "beyond": "'Mine'!$ZZZ$1",
}
OF_NAMES = {
    "=one+share": 1.25,
    "=SUM(all_rows)": 10.0,
    "=SUM(other)": 100.0,
    "=of_names": 2.5,
    "=SUM(relative)": 100.0,
    "=COUNT(all_rows,other)": 8.0,
    "=ROWS(all_rows)&COLUMNS(other)": "42",
    "=INDEX(all_rows,3)+INDEX(other,2,2)": 43.0,
    '=IFERROR(lost,"lost")': "lost",
}
ONLY_ALIKE = ("=SUM(gone)", "=elsewhere", "=SUM(beyond)", '=COUNTIF(gone,"x")')
"""Of which the engine says what it likes, with the names compiled once as with each by itself."""


def test_names_of_one_area_are_compiled_once_and_each_is_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cells: dict[str, Any] = {f"A{row}": row for row in range(1, 5)}
    cells |= {"B2": 10, "C2": 20, "B3": 30, "C3": 40}
    cells |= {f"E{row}": formula for row, formula in enumerate((*OF_NAMES, *ONLY_ALIKE), 1)}
    path = book(tmp_path / "names.xlsx", cells, **NAMES)
    values = compute.compute(path)
    found = {formula: values["Mine", f"E{row}"] for row, formula in enumerate(OF_NAMES, 1)}
    assert found == OF_NAMES
    named = [cell for cell in FilledDown().loads(str(path)).cells.values() if cell.range is None]
    assert len(named) == len(NAMES)
    compiled = {id(cell.func.func) for cell in named if cell.func is not None}
    areas = [area for area in NAMES.values() if ONE_AREA.fullmatch(area)]
    assert len(areas) == 5
    assert len(compiled) == len(NAMES) - len(areas) + 1
    monkeypatch.setattr(FilledDown, "add_references", formulas.ExcelModel.add_references)
    assert compute.compute(path) == values


@pytest.mark.parametrize(
    ("formula", "address", "shape"),
    [
        ("=A5", "B5", "=[-1][0]"),
        ("=$A5+$A$5", "B7", "=A[-2]+A5"),
        ("=SUM(A$5:B6)", "B6", "=SUM([-1]5:[0][0])"),
        ('=IF(A5="A5",LOG10(A5),"")', "A6", '=IF([0][-1]="A5",LOG10([0][-1]),"")'),
        ("='Sheet A1'!$B2+as_of", "A2", "='Sheet A1'!B[0]+as_of"),
        (r"=rate\A5+rate?A5+A5", "B5", r"=rate\A5+rate?A5+[-1][0]"),  # two names
    ],
)
def test_relative(formula: str, address: str, shape: str) -> None:
    assert relative(formula, address)[0] == shape


def test_the_same_formula_in_two_rows_has_one_shape(filled: Path) -> None:
    for letter, formula in COLUMNS.items():
        shapes: set[Any] = {
            relative(formula.format(row=row), f"{letter}{row}")[0] for row in (1, 2, 40)
        }
        assert len(shapes) == 1
