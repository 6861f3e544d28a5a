"""The workbook with macros: xlwings' VBA part in it, its settings, and all that the .xlsx has."""

from __future__ import annotations

import re
import sys
import zipfile
from collections.abc import Callable
from datetime import datetime
from importlib.metadata import version
from io import BytesIO
from pathlib import Path
from typing import Any

import olefile
import openpyxl
import pytest
import xlwings
import xlwings.utils
from oletools.olevba import VBA_Parser
from openpyxl.workbook import Workbook
from typer.testing import CliRunner

from lumbercalc.book import macros
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.macros import SETTINGS, SETTINGS_SHEET
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.edit import change_cells
from lumbercalc.cli import app
from lumbercalc.faults import FileFault
from lumbercalc.hosts.excel.machine import package_folder
from lumbercalc.hosts.excel.wrappers import SERVED_BY
from lumbercalc.sheet.catalogue import CATALOGUE
from tests.book.stored_values import part_of, parts

VBA_PART = "xl/vbaProject.bin"


def saved(workbook: Workbook) -> dict[str, bytes]:
    content = BytesIO()
    workbook.save(content)
    return parts(content)


def vba_sources(path: Path) -> dict[str, str]:
    """The source of each module of the VBA part, by its name."""
    parser = VBA_Parser(str(path))
    try:
        return {name: code for _, _, name, code in parser.extract_macros()}
    finally:
        parser.close()


def document_modules(path: Path) -> list[str]:
    """The modules that belong to the workbook or a sheet ([MS-OVBA] 2.3.1, PROJECT stream)."""
    with olefile.OleFileIO(BytesIO(parts(path)[VBA_PART])) as ole:
        project = ole.openstream("PROJECT").read().decode("cp1252")
    return re.findall(r"^Document=(\w+)/", project, re.MULTILINE)


@pytest.fixture(scope="module")
def workbook() -> Workbook:
    return build(macros=True)


def test_vba_part_is_that_of_the_installed_xlwings(macro_demo: Path) -> None:
    folder = package_folder("xlwings")
    assert folder is not None
    with zipfile.ZipFile(folder / "quickstart_standalone.xlsm") as archive:
        assert parts(macro_demo)[VBA_PART] == archive.read(VBA_PART)


def test_vba_source_holds_the_standard_module_of_xlwings(macro_demo: Path) -> None:
    sources = vba_sources(macro_demo)
    module = sources["xlwings.bas"]
    assert f'XLWINGS_VERSION As String = "{version("xlwings")}"' in module
    for routine in ("Function XLPy()", "Sub ImportPythonUDFs()", "Sub KillPy()"):
        assert routine in module
    assert "BSD 3-clause license" in module  # asks for its notice to stay
    assert {"ThisWorkbook.cls", "Sheet1.cls", "Sheet2.cls", "Dictionary.cls"} <= set(sources)


def test_nothing_in_it_goes_the_way_that_needs_a_licence(macro_demo: Path) -> None:
    # The standard module asks for the licensed part for code kept in sheets named *.py, with a key.
    naming = {name for name, code in vba_sources(macro_demo).items() if "xlwings.pro" in code}
    assert naming <= {"xlwings.bas"}
    book = openpyxl.load_workbook(macro_demo)
    assert not [name for name in book.sheetnames if name.endswith(".py")]
    settings = {row[0] for row in book[macros.SETTINGS_SHEET].iter_rows(values_only=True)}
    assert "LICENSE_KEY" not in settings
    others = {name: part for name, part in parts(macro_demo).items() if name != VBA_PART}
    assert not [name for name, part in others.items() if b"xlwings.pro" in part]


def test_parts_say_that_it_has_macros(macro_demo: Path) -> None:
    # content types and relationship as [MS-OFFMACRO2] 2.2.1 and a file saved by Excel have them
    found = parts(macro_demo)
    types = found["[Content_Types].xml"].decode()
    assert 'PartName="/xl/workbook.xml" ContentType="application/vnd.ms-excel.sheet.macro' in types
    assert 'Extension="bin" ContentType="application/vnd.ms-office.vbaProject"' in types
    relations = found["xl/_rels/workbook.xml.rels"].decode()
    kind = "http://schemas.microsoft.com/office/2006/relationships/vbaProject"
    assert re.findall(rf'Type="{kind}" Target="([^"]*)"', relations) == ["vbaProject.bin"]


def test_every_document_module_has_its_sheet(macro_demo: Path) -> None:
    book = openpyxl.load_workbook(macro_demo)
    names = [book.code_name, *(sheet.sheet_properties.codeName for sheet in book)]
    assert len(set(names)) == len(names) == 1 + len(book.sheetnames)
    modules = document_modules(macro_demo)
    assert len(modules) == 3
    assert set(modules) <= set(names)
    assert book[SETTINGS_SHEET].sheet_properties.codeName == "Sheet2"


def test_openpyxl_keeps_the_vba_part(macro_demo: Path, tmp_path: Path) -> None:
    book = openpyxl.load_workbook(macro_demo, keep_vba=True)
    book["Start"]["B5"].value = "Another shop"
    book.save(tmp_path / "again.xlsm")
    assert parts(tmp_path / "again.xlsm")[VBA_PART] == parts(macro_demo)[VBA_PART]


def test_settings_are_where_the_vba_reads_them(workbook: Workbook, macro_demo: Path) -> None:
    rows = list(workbook[SETTINGS_SHEET].iter_rows(max_col=2, values_only=True))
    end = next(number for number, (name, _) in enumerate(rows) if name is None)
    assert tuple(rows[:end]) == SETTINGS
    assert all(value for _, value in SETTINGS)  # a blank one would hide the user's own
    asked = set(re.findall(r'GetConfig\("([^"]+)"', vba_sources(macro_demo)["xlwings.bas"]))
    assert {name.upper() for name, _ in SETTINGS} <= asked
    assert dict(SETTINGS)["UDF Modules"] == SERVED_BY
    assert "INTERPRETER_WIN" not in {name.upper() for name, _ in SETTINGS}
    assert workbook.sheetnames[-1] == SETTINGS_SHEET


@pytest.mark.parametrize("book", ["https://d.docs.live.net/1/s.xlsm", r"\\mill\shop\s.xlsm"])
def test_xlwings_server_starts_wherever_the_workbook_lies(
    book: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # what XLPyCommand of xlwings' VBA hands to the server when it starts it
    monkeypatch.setattr(sys, "path", ["here"])
    begin = f"{dict(SETTINGS)['Add_Workbook_to_PYTHONPATH']};{book};{book};;;;"
    xlwings.utils.prepare_sys_path(begin)
    assert [each for each in sys.path if each] == ["here"]
    if "://" in book:
        with pytest.raises(xlwings.XlwingsError, match="OneDrive"):
            xlwings.utils.prepare_sys_path(begin.replace("false", "true"))


def cells(path: Path, read: Callable[[Any], object], **options: bool) -> dict[str, object]:
    return {
        f"{sheet.title}!{cell.coordinate}": read(cell)
        for sheet in openpyxl.load_workbook(path, **options)
        if sheet.title != SETTINGS_SHEET
        for row in sheet.iter_rows()
        for cell in row
    }


def test_formulas_styles_and_stored_values_are_those_of_the_plain_workbook(
    demo: Path, macro_demo: Path
) -> None:
    def typed(cell: Any) -> object:
        return cell.value, cell.style, cell.number_format

    def stored(cell: Any) -> object:
        return cell.value

    assert cells(macro_demo, typed) == cells(demo, typed)
    values = cells(macro_demo, stored, data_only=True)
    assert values == cells(demo, stored, data_only=True)
    assert sum(isinstance(value, float) for value in values.values()) > 1000


def test_names_validations_and_charts_are_those_of_the_plain_workbook(
    demo: Path, macro_demo: Path
) -> None:
    plain, with_macros = openpyxl.load_workbook(demo), openpyxl.load_workbook(macro_demo)
    names = {name: defined.attr_text for name, defined in plain.defined_names.items()}
    assert {n: d.attr_text for n, d in with_macros.defined_names.items()} == names
    assert len(names) > 100
    assert with_macros.sheetnames == [*plain.sheetnames, SETTINGS_SHEET]
    for sheet in plain:
        rules = sheet.data_validations.dataValidation
        assert with_macros[sheet.title].data_validations.dataValidation == rules
    before, after = parts(demo), parts(macro_demo)
    charts = {name for name in before if name.startswith(("xl/charts/", "xl/drawings/"))}
    assert len(charts) >= 9
    assert all(after[name] == before[name] for name in charts)


def test_functions_are_called_by_their_plain_names(workbook: Workbook) -> None:
    formulas = [
        str(cell.value)
        for sheet in workbook
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
    called = {name for formula in formulas for name in re.findall(r"([\w.!\]'\[]+)\(", formula)}
    assert [name for name in called if re.search(r"[!\[\]']", name)] == []
    assert {"BOARD_FEET", "READY_DATE"} <= called & set(CATALOGUE)


def test_plain_workbook_holds_no_trace_of_xlwings(demo: Path) -> None:
    found = parts(demo)
    assert [name for name in found if "vba" in name.lower()] == []
    traces = (b"xlwings", b"codename", b"macroenabled", b"vbaproject")
    assert [n for n, part in found.items() if any(trace in part.lower() for trace in traces)] == []


def test_two_builds_have_the_same_bytes() -> None:
    one, other = saved(build(macros=True)), saved(build(macros=True))
    assert list(one) == list(other)
    # when it was made stands in the properties, as in the plain workbook
    assert [name for name in one if one[name] != other[name]] in ([], ["docProps/core.xml"])


def test_xlwings_missing_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(macros, "package_folder", lambda name: None)
    with pytest.raises(FileFault, match=r"needs the package xlwings: pip install xlwings"):
        build(macros=True)
    assert build().sheetnames[0] == "Start"


@pytest.fixture
def shop(macro_demo: Path, tmp_path: Path) -> Path:
    """A copy that may be changed."""
    path = tmp_path / "shop.xlsm"
    path.write_bytes(macro_demo.read_bytes())
    return path


def test_changing_cells_leaves_the_macros_and_their_settings(shop: Path, macro_demo: Path) -> None:
    backup = change_cells(
        open_archive(shop), "Site", {"C5": 31.5}, like_row=5, now=datetime(2026, 3, 1)
    )
    assert backup is not None
    assert backup.name == "shop.backup-2026-03-01-000000.xlsm"
    old, new = parts(macro_demo), parts(shop)
    assert list(old) == list(new)
    differing = {name for name in old if old[name] != new[name]}
    assert differing == {"xl/workbook.xml", part_of("Site")}
    assert openpyxl.load_workbook(shop)["Site"]["C5"].value == 31.5
    assert openpyxl.load_workbook(shop).code_name == "ThisWorkbook"


def test_logger_s_air_goes_into_a_workbook_with_macros(shop: Path, macro_demo: Path) -> None:
    log = sample_folder() / "hygrometer_log.csv"
    words = ["climate", str(log), str(shop), "--place", "basement", "--yes"]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 0, result.output
    old, new = parts(macro_demo), parts(shop)
    assert new[part_of("Site")] != old[part_of("Site")]
    assert new[VBA_PART] == old[VBA_PART]
    last = f"xl/worksheets/sheet{len(openpyxl.load_workbook(macro_demo).sheetnames)}.xml"
    assert new[last] == old[last]
    assert SETTINGS[0][1].encode() in new[last]


def test_report_is_the_same(demo: Path, macro_demo: Path) -> None:
    printed = [CliRunner().invoke(app, ["report", str(path)]) for path in (demo, macro_demo)]
    assert [result.exit_code for result in printed] == [0, 0]
    assert printed[0].stdout == printed[1].stdout
    assert "Walnut 1" in printed[1].stdout
