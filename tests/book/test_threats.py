"""What a workbook or a CSV could try: it reaches no code, no other file and no network.

The table "Threats" of DEVELOPERS.md names the test of each of its lines; the last test here holds
it to that.
"""

from __future__ import annotations

import ast
import re
import socket
import struct
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pypdf
import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.xml import functions as openpyxl_xml
from openpyxl.xml.constants import PKG_REL_NS

import lumbercalc
from lumbercalc.book.checking.texts import texts
from lumbercalc.book.engine.compute import compute
from lumbercalc.book.engine.formula_reader import read_formula
from lumbercalc.book.engine.formula_text import Known
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.logger.log import read_log
from lumbercalc.book.logger.rows import PLACE_LETTER
from lumbercalc.book.records import fill, put
from lumbercalc.book.sheets.site import SITE
from lumbercalc.book.template import build
from lumbercalc.book.upgrading import beside
from lumbercalc.book.upgrading.kept import SHEET
from lumbercalc.book.upgrading.own_contents import own_forms
from lumbercalc.book.xlsx import archive, beside_cells, old_workbook, parts
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.edit import change_cells, change_parts
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook, read_old
from lumbercalc.book.xlsx.reader import open_workbook
from lumbercalc.book.xlsx.typed import type_in
from lumbercalc.faults import FileFault
from lumbercalc.hosts.calc.pdf import pdf_of
from tests.cli.commands import run
from tests.test_files import NOW

ROOT = Path(__file__).parents[2]
FIRST = Path(__file__).parent / "old_templates" / "template-1.xlsx"
SECRET = "secret-of-the-shop.xlsx"

# Whatever Python reports of itself while a file is read (sys.addaudithook)


REACHES_OUT = re.compile(
    r"socket\.(connect|bind|getaddrinfo|gethostby\w+|sendto)|urllib\.Request|http\.client\.\w+"
    r"|ftplib\.\w+|smtplib\.\w+|subprocess\.Popen|os\.(system|exec|fork|posix_spawn|startfile)"
    r"|webbrowser\.open|pty\.spawn|ctypes\.dlopen"
)
seen: list[str] | None = None


def _watch(event: str, arguments: tuple[Any, ...]) -> None:
    if seen is None:
        return
    if REACHES_OUT.fullmatch(event) or (event == "open" and SECRET in str(arguments[0])):
        seen.append(f"{event} {arguments}")


sys.addaudithook(_watch)


@contextmanager
def watched() -> Iterator[list[str]]:
    global seen
    seen = []
    try:
        yield seen
    finally:
        seen = None


def test_the_watch_sees_files_sockets_and_commands(tmp_path: Path) -> None:
    (tmp_path / SECRET).write_text("")
    with watched() as found:
        (tmp_path / SECRET).read_text()
        with pytest.raises(OSError):  # noqa: PT011 - whatever a closed port gives
            socket.create_connection(("127.0.0.1", 9), timeout=0.1)
        subprocess.run([sys.executable, "--version"], capture_output=True, check=True)
    said = " ".join(found)
    assert all(word in said for word in (SECRET, "socket.connect", "subprocess.Popen"))


# A workbook with whatever a spreadsheet would follow


def hostile_formulas(folder: Path) -> tuple[str, ...]:
    secret = folder / SECRET
    return (
        '=WEBSERVICE("http://127.0.0.1:9/x")',
        '=HYPERLINK("http://127.0.0.1:9/x","click")',
        "=[1]Sheet!A1",
        f"='{folder}/[{SECRET}]Sheet'!A1",
        f"='file://{secret}'#$Sheet.A1",
        f"=INDIRECT(\"'{folder}/[{SECRET}]Sheet'!A1\")",
        "=cmd|'/C touch owned'!A0",
        '=DDE("soffice","file","x")',
        '=CALL("kernel32","WinExec","JCJ","calc",0)',
        '=RTD("server",,"x")',
        '=FILTERXML(WEBSERVICE("http://127.0.0.1:9/x"),"//x")',
        '=IMAGE("http://127.0.0.1:9/x.png")',
        '=EXEC("touch owned")',
    )


EXTERNAL = (
    '<externalLink xmlns="{main}" xmlns:r="{relations}"><externalBook r:id="rId1"><sheetNames>'
    '<sheetName val="Sheet"/></sheetNames></externalBook></externalLink>'
)
DDE = (
    '<externalLink xmlns="{main}"><ddeLink ddeService="cmd" ddeTopic="/C touch owned"/>'
    "</externalLink>"
)
LINK = (
    '<Relationships xmlns="{package}"><Relationship Id="rId1" Target="file://{secret}" '
    'TargetMode="External" Type="{relations}/externalLinkPath"/></Relationships>'
)
CONNECTIONS = (
    '<connections xmlns="{main}"><connection id="1" name="x" type="4" refreshOnLoad="1">'
    '<webPr url="http://127.0.0.1:9/x"/></connection></connections>'
)
PIVOT = (
    '<pivotCacheDefinition xmlns="{main}" xmlns:r="{relations}" refreshOnLoad="1"><cacheSource '
    'type="worksheet"><worksheetSource ref="A1:B2" sheet="Sheet" r:id="rId1"/></cacheSource>'
    "<cacheFields/></pivotCacheDefinition>"
)
HYPERLINKS = (
    '<hyperlinks><hyperlink ref="A1:XFD1048576" r:id="rIdHostile" '
    'xmlns:r="{relations}"/></hyperlinks>'
)


def with_links(source: Path, target: Path, folder: Path) -> None:
    """Add parts that a spreadsheet would follow or run: links, DDE, a web query, a macro."""
    names = {
        "main": parts.MAIN,
        "relations": parts.RELATIONS,
        "package": PKG_REL_NS,
        "secret": folder / SECRET,
    }

    def filled(text: str) -> bytes:
        return text.format(**names).encode()

    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            content = old.read(item)
            if item.filename == "xl/workbook.xml":
                links = '<externalReferences><externalReference xmlns:r="{relations}" r:id="{id}"/>'
                links = links.replace("{id}", "rIdLink") + "</externalReferences>"
                content = content.replace(b"</sheets>", b"</sheets>" + filled(links))
            if item.filename == "xl/_rels/workbook.xml.rels":
                link = (
                    '<Relationship Id="rIdLink" Type="{relations}/externalLink" '
                    'Target="/xl/externalLinks/externalLink1.xml"/><Relationship Id="rIdMacro" '
                    'Type="http://schemas.microsoft.com/office/2006/relationships/vbaProject" '
                    'Target="vbaProject.bin"/></Relationships>'
                )
                content = content.replace(b"</Relationships>", filled(link))
            if item.filename == "xl/worksheets/sheet1.xml":
                content = content.replace(b"</sheetData>", b"</sheetData>" + filled(HYPERLINKS))
            new.writestr(item.filename, content)
        for name, text in (
            ("xl/externalLinks/externalLink1.xml", EXTERNAL),
            ("xl/externalLinks/externalLink2.xml", DDE),
            ("xl/externalLinks/_rels/externalLink1.xml.rels", LINK),
            ("xl/connections.xml", CONNECTIONS),
            ("xl/pivotCache/pivotCacheDefinition1.xml", PIVOT),
            ("xl/pivotCache/_rels/pivotCacheDefinition1.xml.rels", LINK),
            ("xl/vbaProject.bin", "Sub Auto_Open()"),
            ("xl/embeddings/oleObject1.bin", "MZ"),
        ):
            new.writestr(name, filled(text))


def hostile(source: Path, folder: Path) -> Path:
    """A workbook whose cells, names and parts reach for a file, the network and a command."""
    secret = Workbook()
    secret.worksheets[0]["A1"].value = "the shop's secret"
    secret.save(folder / SECRET)
    workbook = load_workbook(source)
    boards = workbook["Boards"]
    for row, formula in enumerate(hostile_formulas(folder), 5):
        for column in ("B", "F", "Z"):  # an input of text, one of numbers, beside the table
            boards[f"{column}{row}"].value = formula
    for name, text in (("evil", f"'[{SECRET}]Sheet'!$A$1"), ("Auto_Open", "EXEC(1)")):
        workbook.defined_names[name] = DefinedName(name, attr_text=text)
    plain = folder / "plain.xlsx"
    workbook.save(plain)
    with_links(plain, folder / "shop.xlsx", folder)
    plain.unlink()
    return folder / "shop.xlsx"


@pytest.mark.usefixtures("uncomputed")
def test_an_upgrade_follows_and_computes_nothing_of_the_old_workbook(tmp_path: Path) -> None:
    shop = hostile(FIRST, tmp_path)
    new = tmp_path / "new.xlsx"
    with watched() as reached:
        result = run("upgrade", shop, new)
    assert result.exit_code == 0, result.output
    assert reached == []
    assert not (tmp_path / "owned").exists()
    with zipfile.ZipFile(new) as parts:
        assert not [
            name for name in parts.namelist() if re.search("(?i)link|vba|pivot|ole|conn", name)
        ]
        relations = b"".join(parts.read(n) for n in parts.namelist() if n.endswith(".rels"))
        outside = re.findall(rb'<Relationship [^>]*TargetMode="External"[^>]*>', relations)
        assert all(b'Target="#' in link for link in outside)  # to places in the workbook itself
    workbook = load_workbook(new)
    own = {cell.value for sheet in build() for row in sheet.iter_rows() for cell in row
           if cell.data_type == "f"}  # fmt: skip
    formulas = {cell.value for sheet in workbook for row in sheet.iter_rows() for cell in row
                if cell.data_type == "f"}  # fmt: skip
    assert formulas == own
    kept = [cell.value for cell in workbook[SHEET]["C"]]
    for formula in hostile_formulas(tmp_path):
        assert kept.count(formula) == 3
    assert "evil" not in workbook.defined_names
    assert "the shop's secret" not in str(kept)


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented shop; its values go when `hostile` saves it again, so none are computed."""
    workbook = build()
    fill(workbook, sample_folder())
    path = tmp_path_factory.mktemp("filled") / "shop.xlsx"
    workbook.save(path)
    return path


@pytest.mark.parametrize("command", ["report", "climate"])
def test_reading_and_changing_a_workbook_follow_and_compute_nothing(
    filled: Path, tmp_path: Path, command: str
) -> None:
    shop = hostile(filled, tmp_path)
    log = tmp_path / "log.csv"
    log.write_text(
        "Time,Temp F,RH\n"
        + "".join(f"2025-06-{1 + n // 24:02d} {n % 24:02d}:00,70,50\n" for n in range(480))
    )
    words = ["report", shop] if command == "report" else [
        "climate", log, shop, "--place", "yard", "--yes"
    ]  # fmt: skip
    with watched() as reached:
        result = run(*words)
    assert result.exit_code == 0, result.output
    assert reached == []
    assert not (tmp_path / "owned").exists()


def test_a_check_follows_nothing_of_a_workbook(tmp_path: Path) -> None:
    secret = Workbook()
    secret.worksheets[0]["A1"].value = 7.1828
    secret.save(tmp_path / SECRET)
    small = Workbook()
    sheet = small.worksheets[0]
    for row, formula in enumerate(hostile_formulas(tmp_path), 1):
        sheet[f"A{row}"].value = formula
        sheet[f"B{row}"].value = f"=EMC(70,A{row})"
    small.save(tmp_path / "small.xlsx")
    shop = tmp_path / "shop.xlsx"
    with_links(tmp_path / "small.xlsx", shop, tmp_path)
    with watched() as reached:
        result = run("check", shop, "--fix-values")
    assert result.exit_code == 1, result.output
    assert reached == []
    lines = [line for line in result.stdout.splitlines() if line.startswith("not computed")]
    assert len(lines) == len(hostile_formulas(tmp_path))
    assert "7.1828" not in result.stdout
    assert not (tmp_path / "owned").exists()


def test_the_engine_reaches_nothing_even_if_it_were_given_such_a_formula(tmp_path: Path) -> None:
    """Such a formula is not given to it, see `formula_reader`; this is the second wall."""
    secret = Workbook()
    secret.worksheets[0]["A1"].value = "the shop's secret"
    secret.save(tmp_path / SECRET)
    for number, formula in enumerate(hostile_formulas(tmp_path)):
        workbook = Workbook()
        workbook.worksheets[0]["A1"].value = formula
        path = tmp_path / f"small-{number}.xlsx"
        workbook.save(path)
        with watched() as reached:
            try:
                answer = str(compute(path)["Sheet", "A1"])
            except Exception as refused:
                answer = type(refused).__name__
        assert reached == [], formula
        assert "secret" not in answer
    assert not (tmp_path / "owned").exists()


@pytest.mark.calc
@pytest.mark.usefixtures("own_office")
def test_calc_that_prints_a_sale_computes_but_follows_nothing(tmp_path: Path) -> None:
    secret, workbook = Workbook(), Workbook()
    secret.worksheets[0]["A1"].value = "secretword"
    secret.save(tmp_path / SECRET)
    with socket.create_server(("127.0.0.1", 0)) as listener:
        listener.settimeout(0)
        here = f"http://127.0.0.1:{listener.getsockname()[1]}/x"
        fetching = (
            f'=_xlfn.WEBSERVICE("{here}")',
            f'=HYPERLINK("{here}","click")',
            f"='file://{tmp_path}/{SECRET}'#$Sheet.A1",
            f"='{tmp_path}/[{SECRET}]Sheet'!A1",
            f"=INDIRECT(\"'file://{tmp_path}/{SECRET}'#$Sheet.A1\")",
            f'=DDE("soffice","{tmp_path}/{SECRET}","A1")',
            '="comp"&"uted"',
        )
        for row, formula in enumerate(fetching, 1):
            workbook.worksheets[0][f"A{row}"].value = formula
        workbook.save(tmp_path / "shop.xlsx")
        (tmp_path / "paper.pdf").write_bytes(pdf_of(tmp_path / "shop.xlsx"))
        with pytest.raises(BlockingIOError):
            listener.accept()
        with socket.create_connection(listener.getsockname()):
            listener.settimeout(5)
            listener.accept()[0].close()  # the one connection there was is this test's own
    shown = pypdf.PdfReader(tmp_path / "paper.pdf").pages[0].extract_text()
    assert "computed" in shown
    assert "secretword" not in shown


PICTURES = (
    '<wsDr xmlns="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing" '
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:r="{relations}">'
    "{pictures}</wsDr>"
)
PICTURE = (
    "<twoCellAnchor><from><col>{n}</col><colOff>0</colOff><row>2</row><rowOff>0</rowOff></from>"
    "<to><col>{to}</col><colOff>0</colOff><row>9</row><rowOff>0</rowOff></to><pic><nvPicPr>"
    '<cNvPr id="{to}" name="p{n}"/><cNvPicPr/></nvPicPr><blipFill><a:blip r:link="rId{n}"/>'
    "<a:stretch><a:fillRect/></a:stretch></blipFill><spPr><a:xfrm><a:off x='0' y='0'/>"
    "<a:ext cx='900000' cy='900000'/></a:xfrm><a:prstGeom prst='rect'/></spPr></pic><clientData/>"
    "</twoCellAnchor>"
)
DOT = (
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de"
    "0000000c49444154789c63f8cfc0000003010100c9fe92ef0000000049454e44ae426082"
)
"""A picture of one red point (PNG, W3C 2003)."""


def with_pictures(path: Path, addresses: tuple[str, ...]) -> None:
    """Let pictures on the first sheet of a workbook be links."""
    Workbook().save(path)
    with zipfile.ZipFile(path) as archive:
        content = {name: archive.read(name) for name in archive.namelist()}
    head = f'<Relationships xmlns="{PKG_REL_NS}">'
    there = f'<drawing xmlns:r="{parts.RELATIONS}" r:id="rId1"/></worksheet>'.encode()
    sheet = "xl/worksheets/sheet1.xml"
    content[sheet] = content[sheet].replace(b"</worksheet>", there)
    content["[Content_Types].xml"] = content["[Content_Types].xml"].replace(
        b"</Types>",
        b'<Override PartName="/xl/drawings/drawing1.xml" ContentType="application/vnd.'
        b'openxmlformats-officedocument.drawing+xml"/></Types>',
    )
    content["xl/worksheets/_rels/sheet1.xml.rels"] = (
        f'{head}<Relationship Id="rId1" Type="{parts.RELATIONS}/drawing" '
        'Target="/xl/drawings/drawing1.xml"/></Relationships>'
    ).encode()
    pictures = "".join(PICTURE.format(n=n, to=n + 1) for n in range(len(addresses)))
    drawing = PICTURES.format(relations=parts.RELATIONS, pictures=pictures)
    content["xl/drawings/drawing1.xml"] = drawing.encode()
    links = "".join(
        f'<Relationship Id="rId{n}" Type="{parts.RELATIONS}/image" Target="{address}" '
        'TargetMode="External"/>'
        for n, address in enumerate(addresses)
    )
    content["xl/drawings/_rels/drawing1.xml.rels"] = f"{head}{links}</Relationships>".encode()
    with zipfile.ZipFile(path, "w") as archive:
        for name, part in content.items():
            archive.writestr(name, part)


@pytest.mark.calc
@pytest.mark.usefixtures("own_office")
def test_calc_that_prints_a_sale_fetches_no_picture(tmp_path: Path) -> None:
    (tmp_path / "dot.png").write_bytes(bytes.fromhex(DOT))
    with socket.create_server(("127.0.0.1", 0)) as listener:
        listener.settimeout(0)
        here = f"http://127.0.0.1:{listener.getsockname()[1]}/x.png"
        with_pictures(tmp_path / "shop.xlsx", (here, (tmp_path / "dot.png").as_uri()))
        content = pdf_of(tmp_path / "shop.xlsx")
        with pytest.raises(BlockingIOError):
            listener.accept()
    assert b"/Subtype/Image" not in content


def test_a_text_that_looks_like_a_formula_is_no_formula_to_the_engine(tmp_path: Path) -> None:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    type_in(sheet["A1"], "=1+1")
    sheet["A2"].value = "=A1"
    workbook.save(tmp_path / "small.xlsx")
    assert compute(tmp_path / "small.xlsx") == {("Sheet", "A2"): "=1+1"}


# Texts that look like formulas


FORMULA_LIKE = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1+1", '=cmd|"/C calc"!A0')


@pytest.mark.parametrize("text", FORMULA_LIKE)
def test_such_a_text_is_stored_as_text_by_records_and_upgrade(tmp_path: Path, text: str) -> None:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    put(sheet["A1"], text, "@", "where")
    sheet["A1"].number_format = "@"
    type_in(sheet["A2"], text)
    workbook.save(tmp_path / "shop.xlsx")
    again = load_workbook(tmp_path / "shop.xlsx").worksheets[0]
    for cell, quoted in ((again["A1"], False), (again["A2"], True)):
        assert (cell.data_type, cell.value) == ("s", text)
        assert bool(cell.quotePrefix) is quoted  # a cell of the format "@" needs no mark


@pytest.mark.parametrize("text", FORMULA_LIKE)
def test_such_a_text_is_refused_or_stored_as_text_by_climate(
    filled: Path, tmp_path: Path, text: str
) -> None:
    shop, log = tmp_path / "shop.xlsx", tmp_path / "log.csv"
    shop.write_bytes(filled.read_bytes())
    log.write_text(
        "Time,Temp F,RH\n" + "".join(f"2025-06-{day:02d} 12:00,70,50\n" for day in range(1, 9))
    )
    result = run("climate", log, shop, f"--place={text}", "--yes")
    if not text.startswith("-"):
        assert result.exit_code == 2, result.output
        assert "must be the name of a place" in result.output
        assert shop.read_bytes() == filled.read_bytes()
        return
    assert result.exit_code == 0, result.output
    site = load_workbook(shop)["Site"]
    stored = [cell for row in site.iter_rows() for cell in row if cell.value == text]
    # in the list of places, and in the row of June
    assert [cell.column_letter for cell in stored] == [PLACE_LETTER, SITE.letter("place")]
    for cell in stored:
        assert cell.data_type in ("s", "inlineStr")
        assert cell.number_format == "@" or cell.quotePrefix


# XML and archives


def test_openpyxl_and_this_package_read_xml_with_defusedxml() -> None:
    assert openpyxl.DEFUSEDXML
    assert openpyxl_xml.iterparse.__module__.startswith("defusedxml")
    if not openpyxl.LXML:
        assert openpyxl_xml.fromstring.__module__.startswith("defusedxml")
    for module in (parts, beside_cells, beside):
        assert module.fromstring.__module__.startswith("defusedxml")


BOMB = b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]>'


@pytest.mark.parametrize("far", [0, archive.PIECE - 5, 3 * archive.PIECE + 17])
def test_a_document_type_is_refused_wherever_it_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, far: int
) -> None:
    monkeypatch.setattr(archive, "TIGHTEST", 10_000)
    path = tmp_path / "shop.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("xl/workbook.xml", b" " * far + BOMB)
    with pytest.raises(FileFault, match=r"\(xl/workbook.xml has a document type\)"):
        open_archive(path)


def test_entities_are_refused_in_another_encoding_too(tmp_path: Path) -> None:
    """UTF-16 hides the words from the search; then it is defusedxml that refuses."""
    path, wide = tmp_path / "shop.xlsx", tmp_path / "wide.xlsx"
    Workbook().save(path)
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(wide, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "xl/workbook.xml":
                text = re.sub(r"<\?xml.*?\?>", "", content.decode())
                content = (BOMB.decode() + text.replace("Sheet", "&b;")).encode("utf-16")
            new.writestr(name, content)
    with pytest.raises(FileFault, match=r"this is not a workbook that can be read$"):
        open_workbook(open_archive(wide))


def zipped(*parts: tuple[str, bytes]) -> bytes:
    content = BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as made:
        for name, part in parts:
            made.writestr(zipfile.ZipInfo(name), part, zipfile.ZIP_DEFLATED)
    return content.getvalue()


def renamed(name: bytes) -> bytes:
    """An archive with a name that Python's own writer would not make."""
    return zipped(("x" * len(name), b"")).replace(b"x" * len(name), name)


ARCHIVES: dict[str, tuple[Callable[[], bytes], str]] = {
    "too many parts": (lambda: zipped(*((f"p{n}", b"") for n in range(2001))), "2001 parts; a w"),
    "a part too large": (
        lambda: zipped(("a", b" " * 60_000_001)),
        "a has 60000001 bytes when unpacked; at most 60000000",
    ),
    "all too large": (
        lambda: zipped(("a", b" " * 55_000_000), ("b", b" " * 55_000_000)),
        "110000000 bytes when unpacked; at most 100000000",
    ),
    "packed too tightly": (
        lambda: zipped(("a", b" " * 2_000_000)),
        "a is packed to less than 1/200 of its size",
    ),
    "a path upwards": (lambda: zipped(("../../etc/cron.d/x", b"")), "a part named '../../etc"),
    "a path upwards inside": (lambda: zipped(("xl/../../x", b"")), "a part named 'xl/../../x'"),
    "a path from the root": (lambda: zipped(("/etc/passwd", b"")), "a part named '/etc/passwd'"),
    "a path of Windows": (lambda: zipped(("C:x", b"")), "a part named 'C:x'"),
    "a backslash": (lambda: renamed(b"..\\x"), "a part named '..\\\\x'"),
    "a zero in the name": (lambda: renamed(b"xl\0x"), "a part named 'xl\\x00x'"),
    "no archive": (lambda: b"tag,width", "not a workbook that can be read"),
}


@pytest.mark.parametrize("kind", ARCHIVES)
def test_archives_beyond_the_limits_are_refused(tmp_path: Path, kind: str) -> None:
    make, words = ARCHIVES[kind]
    path = tmp_path / "shop.xlsx"
    path.write_bytes(make())
    with pytest.raises(FileFault, match=re.escape(words)):
        open_archive(path)
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_parts_of_one_name_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(zipped(("a", b"1"), ("a", b"2")))
    with pytest.raises(FileFault, match="two parts named 'a'"):
        open_archive(path)


def test_a_lie_about_a_size_is_found_out(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    content = bytearray(zipped(("a", b" " * 5_000_000)))
    struct.pack_into("<I", content, content.find(b"PK\1\2") + 24, 900)
    path.write_bytes(bytes(content))
    with pytest.raises(FileFault, match="not a workbook that can be read"):
        open_archive(path)


@pytest.mark.usefixtures("uncomputed")
@pytest.mark.parametrize(
    "words",
    [
        ["report"],
        ["check"],
        ["labels", "--stacks", "--out", "labels.pdf"],
        ["quote", "--sale", "S-1004"],
        ["upgrade"],
        ["climate", "--place", "yard", "--dry-run"],
    ],
    ids=lambda words: words[0],
)
def test_a_workbook_is_read_once(
    filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    """Whatever stands in its place later cannot be mixed with what was checked."""
    monkeypatch.chdir(tmp_path)
    Path(SECRET).write_bytes(filled.read_bytes())
    command, *options = words
    if command == "check":  # of few formulas: they are computed
        Workbook().save(SECRET)
    log = [sample_folder() / "hygrometer_log.csv"] if command == "climate" else []
    with watched() as opened:
        result = run(command, *log, SECRET, *options)
    assert result.exit_code == 0, result.output
    assert len([event for event in opened if f"'{SECRET}'" in event]) == 1, opened


def test_a_workbook_that_another_takes_the_place_of_is_not_mixed_with_it(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet["A1"].value, sheet["A1"].comment = "first", Comment("of the first", "shop")
    sheet["A2"].value = "=1+1"
    workbook.save(path)
    before = open_archive(path)
    Workbook().save(path)
    found = read_old(before)
    assert [cell.formula or cell.value for cell in found.cells.values()] == ["first", "=1+1"]
    assert list(found.beside.comments.values()) == ["of the first"]
    assert change_parts(before, {}) == change_parts(replace(before, path=tmp_path / "none"), {})
    with pytest.raises(FileFault, match="was changed meanwhile"):
        change_cells(before, "Sheet", {"A1": "changed"}, like_row=1, now=NOW)


# Sheets that say they are huge


def with_sheet(folder: Path, rows: str, before: str = "", after: str = "") -> Path:
    workbook, path = BytesIO(), folder / "shop.xlsx"
    Workbook().save(workbook)
    xml = (
        f'<worksheet xmlns="{parts.MAIN}">{before}<sheetData>{rows}</sheetData>{after}</worksheet>'
    )
    with zipfile.ZipFile(workbook) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, xml if name.endswith("sheet1.xml") else old.read(name))
    return path


@pytest.mark.parametrize(
    ("rows", "before", "after"),
    [
        ('<row r="1"><c r="A1"><v>7</v></c></row>', '<dimension ref="A1:XFD1048576"/>', ""),
        (
            '<row r="1"><c r="A1"><v>7</v></c></row><row r="1048576"><c r="XFD1048576"/></row>',
            "",
            '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
            '<conditionalFormatting sqref="A1:XFD1048576"/>',
        ),
    ],
)
def test_a_sheet_that_says_it_is_huge_costs_nothing(
    tmp_path: Path, rows: str, before: str, after: str
) -> None:
    found = read_old(open_archive(with_sheet(tmp_path, rows, before, after)))
    assert [cell.value for cell in found.cells.values()] == [7]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ('<row r="999999999"><c r="A999999999"><v>7</v></c></row>', "reaches further than"),
        (
            "".join(f'<row r="{n}"><c r="XFD{n}"><v>7</v></c></row>' for n in range(1, 1300)),
            "reaches further than",
        ),
        ('<row r="1"><c r="A1"><f t="shared" ref="A1:B9" si="0">' + "1+" * 500 + "1</f></c></row>"
         + "".join(f'<row r="{n}"><c r="A{n}"><f t="shared" si="0"/></c></row>'
                   for n in range(2, 99)), "longer than"),
        ('<row r="1"><c r="ZZZZZ1"><v>7</v></c></row>', "not a workbook that can be read"),
    ],
)  # fmt: skip
def test_a_sheet_that_is_huge_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rows: str, words: str
) -> None:
    monkeypatch.setattr(old_workbook, "LONGEST_FORMULAS", 50_000)
    with pytest.raises(FileFault, match=words):
        read_old(open_archive(with_sheet(tmp_path, rows)))


@pytest.mark.parametrize("text", ["Sheet!$A$1:$XFD$1048576", "Sheet!$A:$A", "Sheet!$1:$3", "#REF!"])
def test_a_name_of_billions_of_cells_is_only_a_text(tmp_path: Path, text: str) -> None:
    workbook = Workbook()
    workbook.defined_names["board_tag"] = DefinedName("board_tag", attr_text=text)
    workbook.save(tmp_path / "shop.xlsx")
    found = read_old(open_archive(tmp_path / "shop.xlsx"))
    assert (found.names, found.other_names) == ({}, {"board_tag": text})


# Texts for which a careless search takes the square or the cube of their length


@contextmanager
def processor_seconds(most: float) -> Iterator[None]:
    start = time.process_time()
    yield
    assert time.process_time() - start < most


def test_a_typed_text_that_is_almost_a_number_costs_no_time() -> None:
    typed = [1, 2, 3, "1" + " " * 2_000 + "x", "1 " * 16_000]
    cells = {("Mine", row, 1): OldCell(value) for row, value in enumerate(typed, 1)}
    with processor_seconds(1):
        assert list(texts(OldWorkbook(cells, {}))) == []


@pytest.mark.parametrize("cell", ["1" + " " * 15_000 + "x", "1%" + " " * 15_000 + "x"])
def test_a_logged_text_that_is_almost_a_reading_costs_no_time(tmp_path: Path, cell: str) -> None:
    log = tmp_path / "log.csv"
    rows = f"2025-06-01 00:00,{cell},50\n" + "2025-06-01 01:00,70,50\n" * 40
    log.write_text(f"Time,Temp,RH\n{rows}")
    with processor_seconds(1):
        assert read_log(log, unit="F").bad == 1


@pytest.mark.parametrize("piece", ["'", "''!", "'a'!", "[1]!", "_xlfn.", '"', "a[", "("])
def test_a_formula_that_is_never_closed_costs_no_time(piece: str) -> None:
    known = Known({"mine": (1, 1)}, (), (), ())
    with processor_seconds(0.25):
        read_formula("=" + piece * (8_000 // len(piece)), "Mine", known)
        long = read_formula("=" + piece * 30_000, "Mine", known)
    assert "at most 8,192 are read" in long.not_followed[0]
    old = OldWorkbook({("Mine", 1, 1): OldCell(None, "=" + piece * 15_000)}, {})
    with processor_seconds(1):
        assert len(list(own_forms(old, {}))) == 1


# The code itself


RUNS_CODE = re.compile(
    r"builtins\.(eval|exec|compile|__import__)"
    r"|os\.(system|popen|startfile|fork\w*|exec\w+|spawn\w+|posix_spawn\w*)|sys\.modules"
    r"|(typer|click)\.(launch|edit)"
    r"|(asyncio|code|ctypes|ftplib|http|importlib|marshal|multiprocessing|pickle|pty|requests|runpy"
    r"|shelve|smtplib|socket|socketserver|subprocess|telnetlib|urllib|webbrowser|xmlrpc)(\..+)?"
)
"""What runs code or commands, loads a module by its name, or opens a connection."""

HARMLESS = {
    "own_contents.py: importlib.resources.files",  # this package's own data
    "python_face.py: sys.modules",  # whether pandas is loaded
}


def used(source: str) -> Iterator[str]:
    """Name in full whatever a module imports, and uses of that or of what is built in."""
    tree, meant = ast.parse(source), {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name
                first = alias.name.split(".")[0]
                meant[alias.asname or first] = alias.name if alias.asname else first
        elif isinstance(node, ast.ImportFrom):
            for alias in node.names:
                meant[alias.asname or alias.name] = f"{node.module}.{alias.name}"
                yield f"{node.module}.{alias.name}"
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute | ast.Name):
            first, *rest = ast.unparse(node).split(".")
            yield ".".join([meant.get(first, f"builtins.{first}"), *rest])


@pytest.mark.parametrize(
    "source",
    [
        "eval('1')",
        "run = exec",
        "import os\nos.system('true')",
        "import os as system\ndef f():\n    return system.popen('true').read()",
        "from os import execv as put",
        "import os\nput = os.spawnlp",
        "import os\nos.startfile('shop.xlsx')",
        "import os, sys\nsys.modules['os'].getcwd()",
        "import importlib\nimportlib.import_module('socket')",
        "from importlib import import_module",
        "import importlib.util as found\nfound.spec_from_file_location",
        "import builtins\nbuiltins.eval('1')",
        "import urllib.request",
        "from http import client",
        "import typer\ntyper.launch('shop.xlsx')",
    ],
)
def test_what_runs_code_is_seen(source: str) -> None:
    assert any(map(RUNS_CODE.fullmatch, used(source)))


def test_no_layer_that_reads_files_can_run_code_or_open_a_connection() -> None:
    package = Path(lumbercalc.__file__).parent
    modules = list(package.glob("*.py"))
    for layer in ("wood", "sheet", "book", "cli"):
        modules += (package / layer).rglob("*.py")
    assert len(modules) > 100
    found = {
        f"{module.name}: {name}"
        for module in modules
        for name in used(module.read_text(encoding="utf-8"))
        if RUNS_CODE.fullmatch(name)
    }
    assert found == HARMLESS


def test_every_line_of_the_table_of_threats_names_a_test_that_is_there() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text[text.index("## Threats") :]
    lines = [line for line in table.splitlines() if line.startswith("| ")][2:]
    assert len(lines) > 10
    for line in lines:
        named = re.findall(r"`(tests/[\w/]+\.py)::(test_\w+)`", line)
        assert named, line
        for file, test in named:
            assert f"def {test}(" in (ROOT / file).read_text(encoding="utf-8"), (file, test)
