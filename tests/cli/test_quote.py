"""A quote or an invoice: shown, refused in one line, or printed on one page by Calc."""

from __future__ import annotations

import re
from pathlib import Path

import openpyxl
import pytest
from typer.testing import Result

from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.cli.quote import _file_name
from lumbercalc.hosts.calc import pdf
from lumbercalc.hosts.calc.office import CalcError, Office
from tests.book.checking.test_check import marked
from tests.book.stored_values import put_rows
from tests.cli.commands import run

NUMBER = "S-1004"


def quote(*arguments: object) -> Result:
    return run("quote", *arguments)


def said(result: Result) -> str:
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    return result.stderr


def test_without_pdf_it_is_shown(demo: Path) -> None:
    result = quote(demo, "--sale", NUMBER)
    assert result.exit_code == 0
    assert "Invoice S-1004, Table maker 2026-07-18" in result.stdout
    assert re.search(r"MA-10 .* 6\.98 bf +7\.25 +50\.61", result.stdout)
    assert re.search(r"Less returned \$ +50\.61", result.stdout)
    assert re.search(r"Total \$ +113\.21", result.stdout)
    assert max(map(len, result.stdout.splitlines())) <= 80


def test_figures_of_before_are_told_with_a_command_that_can_be_copied(
    demo: Path, tmp_path: Path
) -> None:
    assert quote(demo, "--sale", NUMBER).stderr == ""
    old = tmp_path / "Müller & Söhne.xlsx"
    old.write_bytes(demo.read_bytes())
    first, command = quote(marked(old), "--sale", NUMBER).stderr.splitlines()
    assert "the file is marked to be computed anew" in first
    assert command == f'lumbercalc check "{old}" --fix-values'


@pytest.mark.parametrize("stored", [1004, 1004.0, " s-1004 "])
def test_a_number_is_found_however_it_is_stored(tmp_path: Path, stored: object) -> None:
    workbook = openpyxl.Workbook()
    put_rows(workbook, SALES, [{"number": stored, "kind": "Quote"}])
    put_rows(workbook, LINES, [{"sale": stored, "what": "a slab"}])
    workbook.create_sheet("Sale")
    workbook.save(tmp_path / "shop.xlsx")
    asked = stored.strip() if isinstance(stored, str) else "1004"
    result = quote(tmp_path / "shop.xlsx", "--sale", asked)
    assert result.exit_code == 0, result.output
    assert "Quote" in result.stdout
    assert "a slab" in result.stdout


def test_an_mbf_and_tenths_of_a_cent_are_printed_as_the_sheet_shows_them(
    demo: Path, tmp_path: Path
) -> None:
    result = quote(demo, "--sale", "S-1009")
    assert re.search(r"AA-31 .* 0\.00610 MBF +4,400\.00 +26\.84", result.stdout)
    workbook = openpyxl.Workbook()
    put_rows(workbook, SALES, [{"number": "1", "kind": "Quote"}])
    line = {"sale": "1", "tag": "OA-01", "what": "a board", "unit": "bf", "charged": 7.335}
    put_rows(workbook, LINES, [line])
    workbook.create_sheet("Sale")
    workbook.save(tmp_path / "shop.xlsx")
    assert " 7.335 " in quote(tmp_path / "shop.xlsx", "--sale", "1").stdout


def test_a_line_without_formulas_is_told(tmp_path: Path) -> None:
    workbook = openpyxl.Workbook()
    put_rows(workbook, SALES, [{"number": "1", "kind": "Quote", "note": "ok"}])
    put_rows(
        workbook, LINES, [{"sale": "1", "tag": "OA-01", "note": "ok"}, {"sale": "1", "tag": "B"}]
    )
    workbook.create_sheet("Sale")
    workbook.save(tmp_path / "shop.xlsx")
    told, old, _ = quote(tmp_path / "shop.xlsx", "--sale", "1").stderr.splitlines()
    assert told == "look at B on Sales lines: it has no formulas: copy those of the row above down"
    assert "to be computed anew" in old  # openpyxl computes nothing and marks the file so


def test_what_cannot_be_is_said_in_one_line(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paper = tmp_path / "paper.pdf"
    assert "--sale is missing" in said(quote(demo))
    assert "such as --sale S-1010" in said(quote(demo, NUMBER))
    told = said(quote("--sale", NUMBER, "--pdf", paper, demo))
    assert f"{paper}: this is to be written; name the workbook before it" in told
    assert "there is no sale 'X'" in said(quote(demo, "--sale", "X", "--pdf", paper))
    assert "there is no such file" in said(quote(tmp_path / "none.xlsx", "--sale", "1"))
    assert "with --pdf only" in said(quote(demo, paper, "--sale", NUMBER))
    assert "must end in .pdf" in said(quote(demo, "--sale", NUMBER, "--pdf", tmp_path / "a.doc"))
    assert "there is no folder" in said(quote(demo, "--sale", NUMBER, "--pdf", paper / "a.pdf"))
    paper.write_text("kept")
    assert "a file already" in said(quote(demo, "--sale", NUMBER, "--pdf", paper))

    def missing() -> Office:
        raise CalcError("LibreOffice Calc was not found: install LibreOffice 25.2 or later")

    monkeypatch.setattr(pdf, "find_office", missing)
    told = said(quote(demo, "--sale", NUMBER, "--pdf", paper, "--force"))
    assert "LibreOffice Calc was not found" in told
    assert paper.read_text() == "kept"
    monkeypatch.setattr(pdf, "pdf_of", lambda _: b"%PDF- new")
    assert quote(demo, "--sale", NUMBER, "--pdf", paper, "--force").exit_code == 0
    assert paper.read_bytes() == b"%PDF- new"
    [backup] = tmp_path.glob("paper.backup-*.pdf")
    assert backup.read_text() == "kept"


@pytest.mark.calc
@pytest.mark.usefixtures("own_office")
def test_calc_recalculates_the_copy_and_prints_one_page(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    before = demo.read_bytes()
    result = quote(demo, "--sale", NUMBER, "--pdf")
    assert result.stdout == "wrote Invoice-S-1004.pdf\n"
    paper = (tmp_path / "Invoice-S-1004.pdf").read_bytes()
    assert paper.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", paper)) == 1
    assert demo.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["Invoice-S-1004.pdf"]


@pytest.mark.parametrize(
    ("kind", "number", "name"),
    [
        ("Invoice", "S-1004", "Invoice-S-1004"),
        ("Lapsed quote", "12", "Lapsed-quote-12"),
        ("Quote", "2026/7", "Quote-2026-7"),  # no folder of that name
        ("", "../7", "Sale-..-7"),
        ("Quote", 'a\\b:"c"', "Quote-a-b-c"),
    ],
)
def test_the_name_of_a_paper_leads_into_no_folder(kind: str, number: str, name: str) -> None:
    assert _file_name(kind, number) == name
