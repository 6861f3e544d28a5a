"""Texts of strangers steer no terminal: cells of a workbook, names of sheets and of files."""

from __future__ import annotations

import sys
import unicodedata
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.workbook import Workbook

from lumbercalc.book import template
from lumbercalc.terminal import harmless
from tests.cli.commands import run

DEMO = Path(__file__).parents[1] / "samples" / "lumber-shop-demo.xlsx"
OLD = Path(__file__).parent / "book" / "old_templates" / "template-1.xlsx"
TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
"""Bidirectional classes of the marks that turn the direction of writing (Unicode, annex 9)."""
IN_A_CELL = "\x7f\x9b31m\x90q\u202e\u2066"
"""Colours, asks the terminal to answer, turns the direction: XML can hold these characters."""
IN_A_NAME = "\x1b]0;owned\x07\x1b[2J" + IN_A_CELL


def steering(text: str) -> set[str]:
    """Give the characters that a terminal obeys, by Unicode's own tables."""
    return {
        letter
        for letter in text
        if (unicodedata.category(letter) == "Cc" and letter not in "\t\n")
        or unicodedata.bidirectional(letter) in TURNING
    }


def test_each_character_that_steers_is_marked_and_no_letter_is() -> None:
    every = [chr(code) for code in range(sys.maxunicode + 1)]
    marked = {letter for letter in every if harmless(letter) == "\ufffd"} - {"\ufffd"}
    assert marked == steering("".join(every)) | set("\u200e\u200f\u061c")  # marks of a direction
    assert harmless("Walnut, black\n8/4\t½ °F [red]") == "Walnut, black\n8/4\t½ °F [red]"


@pytest.mark.parametrize("command", ["report", "check", "upgrade", "labels", "quote", "new"])
def test_the_name_of_a_file_steers_nothing(tmp_path: Path, command: str) -> None:
    file = tmp_path / (f"shop{IN_A_NAME}.xlsx")
    options = {"quote": ["--sale", "1"], "new": ["--from", tmp_path / IN_A_NAME]}
    result = run(command, file, *options.get(command, []))
    assert result.exit_code == 2
    assert "]0;owned\ufffd\ufffd[2J" in result.stderr
    assert steering(result.output) == set()


def test_a_finding_of_check_steers_nothing(tmp_path: Path) -> None:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet.title = IN_A_CELL
    sheet["A1"].value, sheet["A2"].value = f'=EMC(70,"{IN_A_CELL}")', "=[1]Other!A1"
    workbook.save(tmp_path / "shop.xlsx")
    result = run("check", tmp_path / "shop.xlsx")
    assert result.exit_code == 1
    assert "31m" in result.stdout
    assert steering(result.output) == set()


def test_the_tables_of_a_shop_steer_nothing(tmp_path: Path) -> None:
    workbook = load_workbook(DEMO, data_only=True)
    for name in ("Boards", "Stacks", "Sales", "Site"):
        for row in workbook[name].iter_rows(min_row=5):
            for cell in row:
                if isinstance(cell.value, str):
                    cell.value += IN_A_CELL
    workbook.save(tmp_path / "shop.xlsx")
    number = workbook["Sales"]["A5"].value
    log = tmp_path / "log.csv"
    log.write_text(
        "Time,Temp F,RH\n"
        + "".join(f"2025-06-{1 + n // 24:02d} {n % 24:02d}:00,70,50\n" for n in range(480))
    )
    for words in (
        ["report", tmp_path / "shop.xlsx"],
        ["quote", tmp_path / "shop.xlsx", "--sale", number],
        ["climate", log, tmp_path / "shop.xlsx", "--place", f"yard{IN_A_CELL}", "--dry-run"],
    ):
        result = run(*words)
        assert "31m" in result.output
        assert steering(result.output) == set()


def test_what_an_upgrade_keeps_steers_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(template, "compute", lambda path, tables: {})
    monkeypatch.setattr(template, "with_values", lambda content, values: content)
    workbook = load_workbook(OLD)
    workbook.create_sheet(IN_A_CELL)["A1"].value = "of my own"
    workbook.save(tmp_path / "shop.xlsx")
    result = run("upgrade", tmp_path / "shop.xlsx", tmp_path / "new.xlsx")
    assert "31m" in result.stdout
    assert steering(result.output) == set()
