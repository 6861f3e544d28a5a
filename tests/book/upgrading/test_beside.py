"""What stands beside the values of an older workbook: links come along, the rest is told."""

from __future__ import annotations

import zipfile

import pytest
from openpyxl.chart import BarChart, Reference
from openpyxl.workbook import Workbook
from openpyxl.worksheet.hyperlink import Hyperlink

from lumbercalc.book.upgrading.beside import (
    BESIDE_THE_FILE,
    BOX,
    CHART,
    LINK,
    LONGEST_LINK,
    OBJECT,
    PAGE,
    PICTURE,
    bring_beside,
)
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.xlsx.beside_cells import Beside
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook
from lumbercalc.book.xlsx.parts import exchange_parts
from tests.book.old_shops import THIRD, edited, plain, upgraded_file

SHOP = "https://example.org/walnut"
BOX_XML = (
    b'<xdr:twoCellAnchor><xdr:sp><xdr:nvSpPr><xdr:cNvPr id="9" name="Box"/></xdr:nvSpPr>'
    b'<xdr:txBody><a:p xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><a:r>'
    b"<a:t>Call the </a:t></a:r><a:r><a:t>miller</a:t></a:r></a:p></xdr:txBody></xdr:sp>"
    b"</xdr:twoCellAnchor>"
)


def change(workbook: Workbook) -> None:
    boards = workbook["Boards"]
    boards["A5"].hyperlink = SHOP
    boards["A7"].hyperlink = "photos/WA-03.jpg"
    boards["J6"].hyperlink = "file:///etc/passwd"
    boards["A6"].hyperlink = Hyperlink(ref="A6", location="'Stacks'!A5")
    boards["T7"].value = "seen there"  # beside the table: kept
    boards["T7"].hyperlink = "mailto:a@example.org"
    boards.oddFooter.center.text = "Typed in the footer"
    mine = workbook.create_sheet("Mine")
    mine["A1"].value = 3
    chart = BarChart()
    chart.title = "My chart"
    chart.add_data(Reference(mine, min_col=1, min_row=1))
    mine.add_chart(chart, "C3")


@pytest.fixture(scope="module")
def brought(tmp_path_factory: pytest.TempPathFactory) -> Refill:
    """A shop's workbook with links, a chart, a footer, a text box, a picture, a file."""
    path = edited(THIRD, tmp_path_factory.mktemp("beside"), change)
    path.write_bytes(exchange_parts(path.read_bytes(), {"xl/drawings/drawing1.xml": _with_box}))
    with zipfile.ZipFile(path, "a") as archive:
        for name in ("xl/media/image1.png", "xl/embeddings/sheet.docx"):
            archive.writestr(name, b"")
    return upgraded_file(path)


def _with_box(drawing: bytes) -> bytes:
    """openpyxl writes the drawing's name space as the default one."""
    box = BOX_XML.replace(b"xdr:", b"")
    return drawing.replace(b"</wsDr>", box + b"</wsDr>")


def told(brought: Refill, why: str) -> list[tuple[str, str, object]]:
    return [(each.sheet, each.cell, each.value) for each in brought.kept if each.why == why]


@pytest.mark.parametrize(("more", "comes"), [(0, True), (1, False)])
def test_a_link_that_is_too_long_to_be_followed_is_kept(more: int, comes: bool) -> None:
    place, workbook = ("Boards", 5, 1), Workbook()
    link = SHOP.ljust(LONGEST_LINK + more, "x")
    workbook.create_sheet("Boards")["A5"].value = "WA-01"
    old = OldWorkbook({place: OldCell("WA-01")}, {}, beside=Beside(links={place: link}))
    refill = Refill(old, 3, workbook, done={place: place})
    bring_beside(refill)
    assert bool(refill.cell(place).hyperlink) is comes
    assert told(refill, LINK) == ([] if comes else [("Boards", "A5", link)])


def test_links_of_typed_cells_come_along(brought: Refill) -> None:
    cell = brought.workbook["Boards"]["A5"]
    assert (cell.value, cell.hyperlink.target) == ("WA-01", SHOP)
    assert (cell.style, brought.workbook["Boards"]["A6"].hyperlink) == ("lc input", None)
    assert brought.workbook["Boards"]["A7"].hyperlink.target == "photos/WA-03.jpg"
    assert sorted(told(brought, LINK), key=str) == [
        ("Boards", "A6", "#'Stacks'!A5"),
        ("Boards", "J6", "file:///etc/passwd"),
        ("Boards", "T7", "mailto:a@example.org"),
    ]


def test_what_stays_in_the_old_workbook_is_told(brought: Refill) -> None:
    assert told(brought, CHART) == [("Mine", "", "My chart")]
    assert told(brought, PAGE) == [
        ("Boards", "", "&L&A&CTyped in the footer&Rpage &P of &N"),
    ]
    [(sheet, cell, text)] = told(brought, BOX)
    assert (sheet in brought.workbook.sheetnames, cell, text) == (True, "", "Call the miller")
    assert told(brought, PICTURE) == [("", "", "xl/media/image1.png")]
    assert told(brought, OBJECT) == [("", "", "xl/embeddings/sheet.docx")]


def test_the_templates_own_charts_links_and_footers_are_not_told() -> None:
    for why in (BOX, CHART, LINK, PAGE, PICTURE, OBJECT):
        assert told(plain(THIRD), why) == []


@pytest.mark.parametrize("link", ["photos/WA-03.jpg", "WA 03 (b).jpg", r"photos\1.jpg", "a.b.c"])
def test_a_file_beside_the_workbook_may_be_linked(link: str) -> None:
    assert BESIDE_THE_FILE.fullmatch(link)


@pytest.mark.parametrize(
    "link",
    [
        *("/etc/passwd", r"\\server\x.exe", r"C:\x.exe", "file:///x", "javascript:x", "#Boards!A1"),
        *(" file:///x", "\tfile:///x", "\u00a0file:///x", r" \\server\x", "java\tscript:x"),
        *("fi\nle:x", "../x.exe", r"photos\..\..\x.exe", "photos/%2e%2E/x.exe", ""),
    ],
)
def test_a_link_that_may_lead_elsewhere_is_none_beside_the_workbook(link: str) -> None:
    assert not BESIDE_THE_FILE.fullmatch(link)
