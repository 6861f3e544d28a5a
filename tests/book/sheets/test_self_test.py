"""The self-test: it says TRUE for what is published, FALSE for anything else."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import Workbook

from lumbercalc.book.engine.compute import compute
from lumbercalc.book.page.styles import add_styles
from lumbercalc.book.sheets import self_test
from lumbercalc.book.sheets.self_test import EXACT, PUBLISHED, Published, add_self_test
from lumbercalc.book.xlsx.stored import with_values
from lumbercalc.hosts.calc.office import Office, run
from lumbercalc.sheet.catalogue import CATALOGUE
from tests.book.self_tested import failing
from tests.hosts.calc.calc_session import Calc

EMC_TABLE = Path(__file__).parents[2] / "published" / "wood_handbook_2010_table_4_2_emc.csv"


def failing_alone(path: Path) -> list[str]:
    """Build the self-test alone in a workbook, compute it, and check it."""
    workbook = Workbook()
    add_styles(workbook)
    [sheet] = workbook.worksheets
    assert add_self_test(workbook, sheet, 4) == 4 + len(self_test.PUBLISHED)
    workbook.save(path)
    path.write_bytes(with_values(path.read_bytes(), compute(path)))
    return failing(path)


def test_every_function_agrees(tmp_path: Path) -> None:
    assert failing_alone(tmp_path / "book.xlsx") == []


def off(each: Published, by: float) -> Published:
    return replace(each, value=each.value + by * (each.tolerance + EXACT))


@pytest.mark.parametrize("by", [-2.5, 2.5])  # 2.5: no function is in the middle of its tolerance
def test_another_value_does_not_agree(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, by: float
) -> None:
    monkeypatch.setattr(self_test, "PUBLISHED", tuple(off(each, by) for each in PUBLISHED))
    assert failing_alone(tmp_path / "book.xlsx") == ["FALSE"] * len(PUBLISHED)


def test_a_refusal_does_not_agree(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    refused = Published("test_refused", "BOARD_FEET(1,-9,13)", 9.75, EXACT, "no source")
    monkeypatch.setattr(self_test, "PUBLISHED", (refused,))
    assert failing_alone(tmp_path / "book.xlsx") == ["#NUM!"]


def test_groups_of_the_catalogue_are_covered() -> None:
    names = [each.formula.partition("(")[0] for each in PUBLISHED]
    groups = {CATALOGUE[name].group for name in names}
    # nobody publishes prices, and of drying times the model makes no claim to the last digit
    assert {function.group for function in CATALOGUE.values()} - groups == {"Sale"}
    assert len(set(names)) == len(names) >= 10
    assert all(each.name.startswith("test_") and each.source for each in PUBLISHED)


def test_emc_is_the_cell_of_the_printed_table() -> None:
    [each] = [each for each in PUBLISHED if each.name == "test_emc"]
    with EMC_TABLE.open(newline="") as file:
        cells = {(row["temp_f"], row["rh_pct"]): row["emc_pct"] for row in csv.DictReader(file)}
    assert each.formula == "EMC(70,50)"
    assert each.value == float(cells["70", "50"])


@pytest.mark.calc
def test_without_the_add_in_they_stay_true(demo: Path, own_office: Office, tmp_path: Path) -> None:
    shop = tmp_path / "shop.xlsx"  # a copy: the tests' other Calc may still hold the demo open
    shop.write_bytes(demo.read_bytes())
    own = Calc(own_office)
    try:
        own.open(shop)
        own.store(tmp_path / "saved.xlsx")
    finally:
        own.quit()
    assert failing(tmp_path / "saved.xlsx") == []


@pytest.mark.calc
def test_calc_prints_the_workbook(demo: Path, own_office: Office, tmp_path: Path) -> None:
    # Calc 25.2 crashed here at a mark that refers to a truth value in the General format
    office = [own_office.soffice, *own_office.options]
    run([*office, "--headless", "--convert-to", "pdf", "--outdir", tmp_path, demo])
    assert (tmp_path / "demo.pdf").stat().st_size > 100_000
