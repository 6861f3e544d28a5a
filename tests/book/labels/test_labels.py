"""Labels: the grid of each paper, what stands on a label, and the PDF as it is read back."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import openpyxl
import pypdf
import pytest
import segno
from numpy.typing import NDArray

from lumbercalc.book.labels.labels import Label, Shop
from lumbercalc.book.labels.paper import PAGE_HEIGHT, PAGE_WIDTH, PAPERS, Paper, paper_of
from lumbercalc.book.labels.pdf import QUIET, code, label_pdf
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.labels import LABELS, LINES
from lumbercalc.book.sheets.readings import READINGS
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.xlsx.parts import exchange_parts, sheet_files
from lumbercalc.faults import FileFault
from tests.book.stored_values import put_rows, stored_in

POINT = 1 / 72
"""Inch."""

EVERY_PAPER = pytest.mark.parametrize("paper", PAPERS.values(), ids=list(PAPERS))
Rows = Sequence[Mapping[str, Any]]
NAMES = ("WA-07", "Walnut 1", "OA-52", "WB-B1")


def labels(count: int) -> list[Label]:
    return [
        one_label(f"T-{n:03}", "Walnut, black", f"8/4, log WA, cut {n}", "9.6 % MC 2026-11-19, S")
        for n in range(count)
    ]


def one_label(name: str, *lines: str) -> Label:
    return Label(name, lines or ("", "", ""), "Boards!A5")


# Paper


@pytest.mark.parametrize(("size", "count"), [("1x2-5/8", 30), ("1-1/3x4", 14), ("2x4", 10),
                                             ("3-1/3x4", 6)])  # fmt: skip
def test_labels_on_a_letter_page(size: str, count: int) -> None:
    # the counts and sizes that such sheets are sold by: common practice, no source
    assert PAPERS[size].count == count


@EVERY_PAPER
def test_grid_fills_the_page_with_equal_margins(paper: Paper) -> None:
    page, left, top = paper.place(paper.count - 1)
    assert page == 0
    assert left + paper.width + paper.left == pytest.approx(PAGE_WIDTH, abs=1e-12)
    assert top + paper.height + paper.top == pytest.approx(PAGE_HEIGHT, abs=1e-12)
    assert min(paper.left, paper.top) > 0.1
    assert paper.across >= paper.width


@EVERY_PAPER
def test_no_label_lies_on_another(paper: Paper) -> None:
    places = [paper.place(number) for number in range(2 * paper.count)]
    assert len(set(places)) == len(places)
    for page, left, top in places:
        for other_page, other_left, other_top in places:
            beside = abs(left - other_left) >= paper.width - 1e-9
            below = abs(top - other_top) >= paper.height - 1e-9
            same = (page, left, top) == (other_page, other_left, other_top)
            assert same or page != other_page or beside or below


def test_size_is_read_as_people_write_it() -> None:
    assert paper_of("1 x 2-5/8 in") is PAPERS["1x2-5/8"]
    with pytest.raises(ValueError, match=r"'3x5' is not known.*1x2-5/8 \(30 a page\)"):
        paper_of("3x5")


# QR code


@pytest.mark.parametrize("name", NAMES)
def test_code_is_read_back_as_the_bare_name(name: str) -> None:
    assert cv2.QRCodeDetector().detectAndDecode(picture(np.array(code(name))))[0] == name


def picture(modules: NDArray[Any]) -> NDArray[np.uint8]:
    white = np.pad(modules, QUIET)
    grey = np.where(white, 0, 255).astype(np.uint8)
    return np.repeat(np.repeat(grey, 8, axis=0), 8, axis=1)


# PDF


def write(path: Path, made: list[Label], paper: Paper, *, skip: int = 0) -> int:
    """Write labels to a file; how many pages it has."""
    path.write_bytes(label_pdf(made, paper, skip=skip))
    return len(pypdf.PdfReader(path).pages)


def page_of(path: Path, number: int = 0) -> pypdf.PageObject:
    return pypdf.PdfReader(path).pages[number]


def texts(page: pypdf.PageObject) -> dict[str, tuple[float, float]]:
    """Each text with its left end and its foot, in inches from the page's left and top edge."""
    found: dict[str, tuple[float, float]] = {}

    def visit(text: str, _: Any, place: list[float], *others: Any) -> None:
        if text.strip():
            found[text.strip()] = (place[4] * POINT, PAGE_HEIGHT - place[5] * POINT)

    page.extract_text(visitor_text=visit)
    return found


def filled(page: pypdf.PageObject) -> NDArray[np.float64]:
    """Rectangles of the codes: left, top, width and height in inches."""
    content = page.get_contents()
    assert content is not None
    found = [[float(x) * POINT for x in numbers] for numbers, name in content.operations
             if name == b"re"]  # fmt: skip
    left, foot, width, height = np.array(found).T
    return np.array([left, PAGE_HEIGHT - foot - height, width, height]).T


@EVERY_PAPER
def test_every_label_of_the_file_stands_inside_its_place(paper: Paper, tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    made = labels(paper.count)
    assert write(path, made, paper) == 1
    page = page_of(path)
    assert (page.mediabox.width, page.mediabox.height) == (612, 792)  # Letter in points
    shown, bars = texts(page), filled(page)
    for number, label in enumerate(made):
        _, left, top = paper.place(number)
        assert label.name in shown
        for text in (label.name, label.lines[1]):
            at, foot = shown[text]
            assert left < at < left + paper.width
            assert top < foot < top + paper.height
        middle = bars[:, :2] + bars[:, 2:] / 2
        mine = (abs(middle - [left, top]) < [paper.width, paper.height]).all(axis=1) & (
            middle > [left, top]
        ).all(axis=1)
        assert (bars[mine, :2] > [left, top]).all()
        assert (bars[mine, :2] + bars[mine, 2:] < [left + paper.width, top + paper.height]).all()
        assert mine.sum() > 100


@EVERY_PAPER
def test_code_in_the_file_is_the_one_of_the_tag(paper: Paper, tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    write(path, [one_label("WA-07")], paper)
    bars = filled(page_of(path))
    module = bars[:, 3].max()
    assert module > 0.013
    column, row, length, _ = np.rint((bars - [*bars[:, :2].min(axis=0), 0, 0]) / module).T
    found = np.zeros((21, 21), bool)
    for at, down, run in zip(column.astype(int), row.astype(int), length.astype(int), strict=True):
        found[down, at : at + run] = True
    expected = np.array([list(line) for line in segno.make_qr("WA-07", error="m").matrix], bool)
    assert (found == expected).all()
    left = bars[:, 0].min() - paper.place(0)[1]
    assert left > QUIET * module  # white all round


def test_pages_follow_and_used_labels_are_left_out(tmp_path: Path) -> None:
    path, paper = tmp_path / "labels.pdf", PAPERS["2x4"]
    assert write(path, labels(9), paper, skip=3) == 2
    first, second = texts(page_of(path)), texts(page_of(path, 1))
    assert sorted(name for name in first if name.startswith("T-")) == [
        f"T-{n:03}" for n in range(7)
    ]
    assert {"T-007", "T-008"} <= set(second)
    _, left, top = paper.place(3)
    assert left < first["T-000"][0] < left + paper.width
    assert top < first["T-000"][1] < top + paper.height


def test_a_long_line_is_made_smaller_and_then_cut(tmp_path: Path) -> None:
    path, paper = tmp_path / "labels.pdf", PAPERS["1x2-5/8"]
    long = "wide flat board with a live edge, " * 9
    write(path, [one_label("T-1", long, "", "")], paper)
    [shown] = [text for text in texts(page_of(path)) if text.startswith("wide")]
    assert shown.endswith("\N{HORIZONTAL ELLIPSIS}")
    assert long.startswith(shown[:-1])


def test_what_cannot_be_printed_is_refused_and_leaves_no_file(tmp_path: Path) -> None:
    path, paper = tmp_path / "labels.pdf", PAPERS["1x2-5/8"]
    with pytest.raises(FileFault, match=r"^Boards!A5: .* too long for a code"):
        write(path, [one_label("T" * 900)], paper)
    with pytest.raises(FileFault, match="no letter '\N{CJK UNIFIED IDEOGRAPH-6728}'"):
        write(path, [one_label("\N{CJK UNIFIED IDEOGRAPH-6728}-1")], paper)
    assert list(tmp_path.iterdir()) == []


def test_a_reader_is_told_to_print_at_actual_size(tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    write(path, labels(1), PAPERS["2x4"])
    # ISO 32000-1:2008, table 150: PrintScaling None is "no page scaling"
    preferences = pypdf.PdfReader(path).root_object["/ViewerPreferences"].get_object()
    assert preferences["/PrintScaling"] == "/None"


def test_the_same_labels_make_the_same_file(tmp_path: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        write(tmp_path / name, labels(3), PAPERS["2x4"])
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


# Workbook


def small_shop(path: Path, boards: Rows, stacks: Rows, readings: Rows, chosen: Rows = ()) -> Shop:
    """A workbook with the sheets that labels rest on, and what is stored in them."""
    workbook = openpyxl.Workbook()
    put_rows(workbook, BOARDS, boards)
    put_rows(workbook, STACKS, stacks)
    put_rows(workbook, READINGS, readings)
    put_rows(workbook, LABELS, chosen)
    workbook.save(path / "shop.xlsx")
    return Shop(path / "shop.xlsx")


STACK = {"name": "Oak 1", "species": "Oak, white", "quarters": "4/4", "here": "yard",
         "known_on": 46340, "known_mc": 12.0, "note": "ok"}  # fmt: skip
BOARD = {"tag": "OA-01", "species": "Oak, white", "quarters": "4/4", "stack": "Oak 1",
         "lies": "Oak 1", "status": "dry", "note": "ok"}  # fmt: skip


@pytest.mark.parametrize(
    ("readings", "moisture"),
    [
        ([], "12.0 % MC 2026-11-14"),
        ([{"day": 46339, "mc": 10.0}], "12.0 % MC 2026-11-14"),  # weighed after it
        ([{"day": 46340, "mc": 10.0}], "10.0 % MC 2026-11-14"),  # of one day, of this very board
        ([{"day": 46341, "mc": 10.0}], "10.0 % MC 2026-11-15"),
        ([{"day": 46341, "mc": 10.0}, {"day": 46341, "mc": 11.0}], "10.5 % MC 2026-11-15"),
        ([{"day": 46341, "mc": 10.0}, {"day": 46342, "mc": 9.0}], "9.0 % MC 2026-11-16"),
    ],
)
def test_the_later_of_reading_and_weighing_stands_on_a_board(
    tmp_path: Path, readings: Rows, moisture: str
) -> None:
    of_board = [{"board": "OA-01", "stack": "Oak 1"} | dict(each) for each in readings]
    [label] = small_shop(tmp_path, [BOARD], [STACK], of_board).labels(["OA-01"])
    assert label.lines[2] == f"{moisture}, Oak 1"


def test_on_a_stack_stand_only_the_readings_that_count(tmp_path: Path) -> None:
    left_out = {"stack": "Oak 1", "day": 46342, "mc": 20.0, "counts": ""}
    [label] = small_shop(tmp_path, [], [STACK], [left_out]).labels(["Oak 1"])
    assert label.lines[2] == "12.0 % MC 2026-11-14, yard"
    counts = {"stack": "Oak 1", "day": 46341, "mc": 11.0, "counts": 11.0}
    [label] = small_shop(tmp_path, [], [STACK], [left_out, counts]).labels(["Oak 1"])
    assert label.lines[2] == "11.0 % MC 2026-11-15, yard"


@pytest.mark.parametrize("status", ["held", "cut up", "sold", "used", "dry", "drying"])
def test_what_is_not_for_sale_is_told(tmp_path: Path, status: str) -> None:
    shop = small_shop(tmp_path, [BOARD | {"status": status}], [STACK], [])
    told = [] if status in ("dry", "drying") else [f"OA-01 is {status}"]
    assert shop.not_for_sale(["oa-01", "Oak 1"]) == told


def test_a_number_that_a_formula_chose_is_a_tag_too(tmp_path: Path) -> None:
    small_shop(tmp_path, [BOARD | {"tag": 7}], [STACK], [], [{"tag": 7}])

    def computed(content: bytes) -> bytes:  # `check --fix-values` stores every value so
        return content.replace(b"<v>7</v>", b"<v>7.0</v>")

    path = tmp_path / "shop.xlsx"
    with zipfile.ZipFile(path) as archive:
        parts = dict.fromkeys(sheet_files(archive), computed)
    path.write_bytes(exchange_parts(path.read_bytes(), parts))
    shop = Shop(path)
    assert [label.name for label in shop.labels(shop.chosen)] == ["7"]


def test_sheet_and_file_say_the_same(demo: Path) -> None:
    sheet = stored_in(demo)[LABELS.sheet]
    shop = Shop(demo)
    assert len(shop.chosen) == 15
    for row, label in enumerate(shop.labels(shop.chosen), FIRST_ROW):
        shown = tuple(sheet[f"{LABELS.letter(key)}{row}"].value or "" for key in LINES)
        assert shown == (label.name, *label.lines)


def test_page_of_the_sheet_has_the_lines_of_the_table(demo: Path) -> None:
    sheet = stored_in(demo)[LABELS.sheet]
    [area] = sheet.print_area.split(",")
    page = [[cell.value or "" for cell in row] for row in sheet[area.split("!")[1]]]
    assert (len(page), len(page[0])) == (40, 3)
    for number in range(LABELS.rows):
        down, across = divmod(number, 3)
        there = [page[4 * down + line][across] for line in range(4)]
        row = FIRST_ROW + number
        assert there == [sheet[f"{LABELS.letter(key)}{row}"].value or "" for key in LINES]


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        # read on its own on 2026-11-19; the stack was weighed on 2026-11-14 and 10.2 % then
        ("wa-02", ("Walnut, black", "8/4, log WA, cut 2", "9.8 % MC 2026-11-19, Walnut 1")),
        ("WA-03", ("Walnut, black", "8/4, log WA, cut 3", "10.2 % MC 2026-11-14, Walnut 1")),
        ("WB-B1", ("Walnut, black", "8/4, log WB", "10.2 % MC 2026-11-14, Walnut 1")),
        ("AA-09", ("Ash, white", "5/4, log AA, cut 9", "")),
        ("Oak 1", ("Oak, white", "4/4, stacked 2026-10-24", "46.0 % MC 2026-11-18, yard")),
    ],
)
def test_lines_of_a_label(demo: Path, name: str, lines: tuple[str, ...]) -> None:
    [label] = Shop(demo).labels([name])
    assert label.lines == lines
    assert label.name.casefold() == name.casefold()
