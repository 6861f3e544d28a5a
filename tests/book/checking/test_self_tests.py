"""Cells named test_...: what is stored there, where they are, and the exit status of check."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.checking.self_tests import self_tests
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.faults import FileFault
from tests.cli.commands import run


def book(path: Path, values: Mapping[str, object], areas: Mapping[str, str] = {}) -> Path:
    """A workbook with a named cell for each value, and further names."""
    workbook = Workbook()
    sheet = workbook.create_sheet("Self tests")
    named = dict(areas or {})
    for row, (name, value) in enumerate(values.items(), 1):
        sheet.cell(row, 2).value = value  # type: ignore[assignment]
        named[name] = f"'Self tests'!$B${row}"
    for name, area in named.items():
        workbook.defined_names[name] = DefinedName(name, attr_text=area)
    workbook.save(path)
    return path


def wrong(path: Path) -> dict[object, str]:
    """What is told of each cell that does not pass, by its name."""
    return {each.place: each.told for each in self_tests(open_archive(path))}


@pytest.mark.parametrize("value", [True, 1], ids=["typed", "as Calc stores it"])
def test_a_cell_that_is_true_passes(tmp_path: Path, value: object) -> None:
    path = book(tmp_path / "book.xlsx", {"test_emc": value})
    assert wrong(path) == {}
    assert run("check", path).exit_code == 0


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (False, "FALSE"),
        (0, "FALSE"),
        (2, "2"),
        ("TRUE", "'TRUE'"),
        (None, "blank"),
        ("=1=1", "blank"),  # nothing stored beside the formula
        ("#NAME?", "#NAME?"),
        ("#INPUT: width_in is 0 in", "#INPUT: width_in is 0 in"),
    ],
)
def test_any_other_does_not(tmp_path: Path, value: object, told: str) -> None:
    path = book(tmp_path / "book.xlsx", {"test_emc": value})
    assert wrong(path) == {"test_emc": f"Self tests!B1 is {told}"}
    assert run("check", path).exit_code == 1


@pytest.mark.parametrize(
    ("area", "detail"),
    [
        ("'Self tests'!$B$1:$B$3", "test_emc names Self tests!$B$1:$B$3; it must be one cell"),
        ("#REF!", "the cell named test_emc is missing from the workbook"),
        ("'Gone'!$B$1", "the cell named test_emc is missing from the workbook"),
    ],
)
def test_a_name_that_is_no_cell_is_an_error(tmp_path: Path, area: str, detail: str) -> None:
    path = book(tmp_path / "book.xlsx", {"test_tally": True}, {"test_emc": area})
    assert wrong(path) == {"test_emc": detail}
    assert run("check", path).exit_code == 1


def test_names_are_taken_in_any_case_and_others_are_left_alone(tmp_path: Path) -> None:
    path = book(tmp_path / "book.xlsx", {"Test_B": False, "TEST_A": False, "latest_c": False})
    assert list(wrong(path)) == ["TEST_A", "Test_B"]


def test_a_workbook_without_self_tests_passes(tmp_path: Path) -> None:
    path = book(tmp_path / "book.xlsx", {"as_of": True})
    assert wrong(path) == {}
    assert run("check", path).exit_code == 0


def test_one_that_fails_is_shown_among_the_others(tmp_path: Path) -> None:
    path = book(tmp_path / "book.xlsx", {"test_emc": True, "test_tally": False})
    result = run("check", path)
    assert result.exit_code == 1
    [line, summary] = result.stdout.splitlines()
    assert line == "self-test     test_tally: Self tests!B2 is FALSE"
    assert summary.endswith("1 found: 1 self-test")


def test_what_is_no_workbook_is_refused(tmp_path: Path) -> None:
    (tmp_path / "book.xlsx").write_text("test_emc,TRUE\n")
    with pytest.raises(FileFault, match="not a workbook that can be read"):
        wrong(tmp_path / "book.xlsx")
    result = run("check", tmp_path / "book.xlsx")
    assert result.exit_code == 2
    assert "not a workbook" in result.stderr
