"""A file of labels: which are in it, what is refused, and no file replaced unasked."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from lumbercalc.book.labels.labels import Shop
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.labels import KEEP_APART, LABELS
from lumbercalc.book.sheets.readings import READINGS
from lumbercalc.book.sheets.stacks import STACKS
from tests.book.labels.test_labels import page_of, texts
from tests.book.stored_values import put_rows
from tests.cli.commands import run


@pytest.mark.parametrize(
    ("options", "first", "count"),
    [
        ([], "Walnut 1", 15),
        (["--tags", "WA-02, OA-03", "--tags", "Cherry 1"], "WA-02", 3),
        (["--stack", "cherry 1"], "CA-01", 17),
        (["--stack", "Oak 1"], "OA-01", 52),  # the held one lies apart
        (["--stacks"], "Walnut 1", 3),
    ],
)
def test_command_writes_what_is_asked_for(
    demo: Path, tmp_path: Path, options: list[str], first: str, count: int
) -> None:
    path = tmp_path / "labels.pdf"
    result = run("labels", demo, *options, "--paper", "2x4", "--out", path)
    assert result.exit_code == 0, result.output
    assert f"{count} labels" in result.output
    assert "actual size" in result.output
    assert first in texts(page_of(path))


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--tags", "ZZ-1"], "'ZZ-1': no such board on Boards"),
        (["--stack", "Elm 1"], "no stack 'Elm 1'; the last are: Walnut 1, Oak 1, Cherry 1"),
        (["--stack", ""], "Stacks has no stack ''"),
        (["--stacks", "--stack", "Oak 1"], "not several of them"),
        (["--paper", "A4"], "paper size 'A4' is not known"),
        (["--paper", "3-1/3x4", "--skip", "6"], "--skip is 6; a page has 6 labels"),
        (["--out", "labels.xlsx"], "the name of a file of labels must end in .pdf"),
        (["--out", "no_folder/labels.pdf"], "there is no folder"),
        (["--tags", " , "], "no label is asked for"),
    ],
)
def test_command_refuses_in_one_line(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options: list[str], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("labels", demo, *options)
    assert result.exit_code == 2
    [line] = result.stderr.splitlines()
    assert line.startswith("lumbercalc: ")
    assert said in line
    assert list(tmp_path.iterdir()) == []


def test_command_never_replaces_a_file_unasked(demo: Path, tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    path.write_text("mine")
    refused = run("labels", demo, "--out", path)
    assert refused.exit_code == 2
    assert "there is a file already; name another with --out or use --force" in refused.stderr
    assert path.read_text() == "mine"
    assert run("labels", demo, "--out", path, "--force").exit_code == 0
    assert path.read_bytes().startswith(b"%PDF")
    [backup] = tmp_path.glob("labels.backup-*.pdf")
    assert backup.read_text() == "mine"


def test_a_day_that_is_none_is_left_off_the_label(tmp_path: Path) -> None:
    workbook = openpyxl.Workbook()
    for table in (BOARDS, READINGS, LABELS):
        put_rows(workbook, table, [])
    stack = {
        "name": "Oak 1",
        "species": "Oak, white",
        "quarters": "4/4",
        "start": 1e9,
        "note": "=1",
    }
    put_rows(workbook, STACKS, [stack])
    workbook.save(tmp_path / "shop.xlsx")
    assert Shop(tmp_path / "shop.xlsx").labels(["oak 1"])[0].lines == ("Oak, white", "4/4", "")
    result = run(
        "labels", tmp_path / "shop.xlsx", "--tags", "Oak 1", "--out", tmp_path / "labels.pdf"
    )
    assert result.exit_code == 0
    assert "of before (nothing is stored in Stacks!" in result.stderr
    assert "--fix-values" in result.stderr


def test_a_workbook_without_a_stack_says_so_of_stacks(tmp_path: Path) -> None:
    workbook, path = openpyxl.Workbook(), tmp_path / "shop.xlsx"
    for table in (BOARDS, STACKS, READINGS, LABELS):
        put_rows(workbook, table, [])
    workbook.save(path)
    for options, words in (
        (["--stacks"], "no stack is on Stacks yet"),
        (["--stack", "Oak 1"], "Stacks has no stack 'Oak 1'; the last are: none yet"),
        ([], "no label is asked for; choose tags on the sheet Labels, or give --tags"),
    ):
        result = run("labels", path, *options, "--out", tmp_path / "labels.pdf")
        assert result.exit_code == 2
        assert words in result.stderr


def test_boards_that_are_held_or_gone_are_told(demo: Path, tmp_path: Path) -> None:
    result = run("labels", demo, "--tags", "OA-51,WA-02,OA-09", "--out", tmp_path / "labels.pdf")
    assert result.exit_code == 0
    assert "look at: OA-51 is held" in result.stderr
    assert Shop(demo).labels(["OA-51"])[0].lines[-1] == KEEP_APART


def test_a_tag_with_a_comma_one_with_a_line_break_and_the_pages_that_are_told(
    tmp_path: Path,
) -> None:
    workbook, path = openpyxl.Workbook(), tmp_path / "shop.xlsx"
    board = {"species": "Oak, white", "quarters": "4/4", "lies": "Oak 1", "note": "ok"}
    tags = ("W,1", "W-2", "W\n3")
    put_rows(workbook, BOARDS, [board | {"tag": tag} for tag in tags])
    put_rows(workbook, STACKS, [{"name": "Oak 1", "quarters": "4/4", "note": "ok"}])
    for table in (READINGS, LABELS):
        put_rows(workbook, table, [])
    workbook.save(path)
    pdf = ("--out", tmp_path / "labels.pdf", "--force")
    for asked, count in (("W,1", "1 label,"), ('"W,1", W-2', "2 labels,"), ("W-2,Oak 1", "2 l")):
        result = run("labels", path, "--tags", asked, *pdf)
        assert result.exit_code == 0, result.output
        assert f": {count}" in result.stdout
        assert ", 1 page\n" in result.stdout
    # of 10 labels to a page
    for used, pages in ((7, "1 page\n"), (8, "1 page\n"), (9, "2 pages\n")):
        words = ("--tags", "W-2,Oak 1", "--paper", "2x4", "--skip", used)
        assert f", 10 to a page, {pages}" in run("labels", path, *words, *pdf).stdout
    result = run("labels", path, "--stack", "Oak 1", *pdf)
    assert result.exit_code == 2
    assert "Boards!A7: 'W\\n3': the labels' font has no letter '\\n'" in result.stderr
