"""An older workbook into a new file: what is said of it, and what is refused."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.workbook import Workbook

from lumbercalc.book import template
from lumbercalc.book.macros import SETTINGS_SHEET
from lumbercalc.book.tables import TABLES
from lumbercalc.version import TEMPLATE
from tests.book.old_shops import FIRST
from tests.cli.commands import assert_one_line, run
from tests.cli.hostile_files import NOT_READ


@pytest.fixture
def old_shop(tmp_path: Path) -> Path:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(FIRST.read_bytes())
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
    assert old_shop.read_bytes() == FIRST.read_bytes()
    assert load_workbook(new)["Boards"]["A5"].value == "WA-01"
    assert sorted(old_shop.parent.iterdir()) == sorted([old_shop, new])


@pytest.fixture(scope="module")
def shop_with_macros(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("macros") / "shop.xlsm"
    workbook = template.build(macros=True)
    workbook["Boards"]["A5"].value = "OA-01"
    workbook["xlwings.conf"]["A3"].value = "Interpreter_Win"  # a shop's own setting
    workbook.save(path)
    return path.read_bytes()


@pytest.mark.usefixtures("uncomputed")
@pytest.mark.parametrize("named", [True, False])
def test_upgrade_gives_a_workbook_with_macros_its_macros(
    old_shop: Path, shop_with_macros: bytes, named: bool
) -> None:
    old = old_shop.with_name("shop.xlsm")
    old.write_bytes(shop_with_macros)
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


@pytest.mark.usefixtures("uncomputed")
def test_upgrade_shows_one_line_for_a_column_whose_cells_are_kept_alike(old_shop: Path) -> None:
    workbook = load_workbook(old_shop)
    for row in range(5, 12):
        workbook["Boards"][f"F{row}"].value = "wide"
    workbook.save(old_shop)
    new = old_shop.with_name("new.xlsx")
    shown = run("upgrade", old_shop, new).stdout
    assert re.search(r"Boards +7 +it stands in its place too", shown)
    kept = load_workbook(new)["Kept from before"]
    assert "it stands in Boards!F5 too" in " ".join(str(cell.value) for cell in kept["D"])


def test_upgrade_stores_computed_values_as_new_does(
    old_shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stored: list[object] = []

    def store(content: bytes, values: object) -> bytes:
        stored.append(values)
        return content

    monkeypatch.setattr(template, "compute", lambda path, tables: (load_workbook(path), tables))
    monkeypatch.setattr(template, "with_values", store)
    run("upgrade", old_shop)
    [(workbook, tables)] = stored
    assert workbook["Boards"]["A176"].value is not None
    assert tables == TABLES


def _files(folder: Path) -> dict[Path, bytes | None]:
    """Give what is in each file of a folder; a folder in it has none."""
    return {path: path.read_bytes() if path.is_file() else None for path in folder.iterdir()}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda shop: shop.with_name("new.xlsx").write_text("mine"), "there is a file already"),
        (lambda shop: shop.with_name("new.xlsx").mkdir(), "this is a folder; name a file in it"),
        (lambda shop: shop.with_name("~$shop.xlsx").write_text(""), "open in a spreadsheet"),
        (lambda shop: shop.write_bytes(b"tag,width"), NOT_READ),
        (lambda shop: shop.unlink(), "there is no such file"),
        (lambda shop: Workbook().save(shop), "no table made by lumbercalc new is in it"),
    ],
)
def test_upgrade_refuses(old_shop: Path, change: Callable[[Path], object], words: str) -> None:
    change(old_shop)
    before = _files(old_shop.parent)
    assert_one_line(run("upgrade", old_shop, old_shop.with_name("new.xlsx")), words)
    assert _files(old_shop.parent) == before


def test_upgrade_never_writes_over_the_old_file(old_shop: Path) -> None:
    assert_one_line(run("upgrade", old_shop, old_shop), "there is a file already; name another")
    assert old_shop.read_bytes() == FIRST.read_bytes()


@pytest.mark.parametrize("name", [".", "", "/"])
def test_upgrade_of_a_folder_without_a_name_is_refused(name: str) -> None:
    assert_one_line(run("upgrade", name), "this is a folder; name a workbook in it")
