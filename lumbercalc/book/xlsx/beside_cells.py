"""What a workbook has beside the values of its cells: notes, links, text boxes, charts, pages."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from defusedxml.ElementTree import fromstring
from openpyxl.packaging.relationship import get_dependents, get_rels_path
from openpyxl.utils.cell import range_boundaries

from lumbercalc.book.xlsx.parts import MAIN, RELATIONS, sheet_files
from lumbercalc.book.xlsx.places import Area, Place

DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
LETTERS = "http://schemas.openxmlformats.org/drawingml/2006/main"
CHART = "http://schemas.openxmlformats.org/drawingml/2006/chart"
MOST_LINKED = 1_000
"""Cells of one link; of more only the first is taken."""
PAGE_LOOKS = re.compile(r'&"[^"]*"|&K[0-9A-Fa-f]{6}|&\d{1,3}|\s+')
"""Fonts, colors and sizes in a page's header or footer."""


@dataclass(frozen=True)
class Beside:
    """What is beside the values.

    Parameters
    ----------
    comments, links : dict
        Text of the note on a cell, address that a cell links to; by sheet, row and column.
    boxes : list of tuple
        Sheet and text of each text box, "" for a shape without any.
    charts : list of tuple
        Sheet and titles of each chart, of its axes too.
    pages : list of tuple
        Sheet and text of each page header and footer, without its looks.
    pictures, objects : list of str
        Parts of the archive that are pictures, and embedded files.
    """

    comments: dict[Place, str] = field(default_factory=dict)
    links: dict[Place, str] = field(default_factory=dict)
    boxes: list[tuple[str, str]] = field(default_factory=list)
    charts: list[tuple[str, tuple[str, ...]]] = field(default_factory=list)
    pages: list[tuple[str, str]] = field(default_factory=list)
    pictures: list[str] = field(default_factory=list)
    objects: list[str] = field(default_factory=list)


def read_beside(archive: zipfile.ZipFile) -> Beside:
    """Read what a workbook has beside the values of its cells; nothing is followed.

    Parameters
    ----------
    archive : ZipFile
        Of a workbook.

    Returns
    -------
    Beside
        Charts and text boxes of sheets that hold no cells have the sheet "".
    """
    parts = set(archive.namelist())
    beside = Beside(
        pictures=sorted(name for name in parts if name.startswith("xl/media/")),
        objects=sorted(name for name in parts if name.startswith("xl/embeddings/")),
    )
    sheet_of: dict[str, str] = {}
    for part, sheet in sheet_files(archive).items():
        if part not in parts:
            continue
        relations = _relations(archive, part, parts)
        _read_sheet(archive.read(part), sheet, relations, beside)
        for kind, target in relations.values():
            if kind == "comments" and target in parts:
                beside.comments.update(_comments(archive.read(target), sheet))
            if kind == "drawing":
                sheet_of[target] = sheet
    for drawing in sorted(name for name in parts if name.startswith("xl/drawings/drawing")):
        sheet = sheet_of.get(drawing, "")
        beside.boxes.extend((sheet, text) for text in _boxes(archive.read(drawing)))
        charts = _relations(archive, drawing, parts).values()
        sheet_of.update({target: sheet for kind, target in charts if kind.startswith("chart")})
    for chart in sorted(name for name in parts if re.match(r"xl/charts/chart[^/]*\.xml$", name)):
        titles = chart_titles(fromstring(archive.read(chart)))
        beside.charts.append((sheet_of.get(chart, ""), titles))
    return beside


def chart_titles(chart: Any) -> tuple[str, ...]:
    """Give the titles of a chart and of its axes.

    Parameters
    ----------
    chart : Element
        Its XML.

    Returns
    -------
    tuple of str
        In their order.
    """
    titles = chart.iter(f"{{{CHART}}}title")
    return tuple(text for title in titles if (text := _text(title)))


def page_text(text: str) -> str:
    """Give the text of a page's header or footer without its looks.

    Parameters
    ----------
    text : str
        As it stands in the file.

    Returns
    -------
    str
        With its parts and fields: "&L&A&Rpage&Pof&N".

    Examples
    --------
    >>> page_text('&L&"Arial,Bold"&12&A&Rpage &P')
    '&L&A&Rpage&P'
    """
    return PAGE_LOOKS.sub("", text)


def _relations(archive: zipfile.ZipFile, part: str, parts: set[str]) -> dict[str, tuple[str, str]]:
    """Give the kind and target of each relation of a part; targets outside as they stand."""
    file: str = get_rels_path(part)  # type: ignore[no-untyped-call]
    if file not in parts:
        return {}
    return {
        str(each.Id): (each.Type.rpartition("/")[2], each.Target)
        for each in get_dependents(archive, file)
    }


def _read_sheet(
    content: bytes, sheet: str, relations: dict[str, tuple[str, str]], beside: Beside
) -> None:
    root = fromstring(_without_cells(content))
    for link in root.iter(f"{{{MAIN}}}hyperlink"):
        _, target = relations.get(link.get(f"{{{RELATIONS}}}id", ""), ("", ""))
        location = link.get("location", "")
        address = f"{target}#{location}" if location else target
        beside.links.update(dict.fromkeys(_places(sheet, link.get("ref", "A1")), address))
    for footer in root.iter(f"{{{MAIN}}}headerFooter"):
        beside.pages.extend((sheet, each.text) for each in footer if each.text)


def _without_cells(content: bytes) -> bytes:
    """Cut the cells out of a sheet, which are nearly all of it, where they are found at once."""
    first, last = content.find(b"sheetData"), content.rfind(b"sheetData>")
    if first < 0 or last <= first:
        return content
    start, end = content.rfind(b"<", 0, first), content.rfind(b"</", first, last)
    return content if min(start, end) < 0 else content[:start] + content[last + 10 :]


def _places(sheet: str, ref: str) -> list[Place]:
    area = Area(sheet, *(int(bound or 1) for bound in range_boundaries(ref)))
    if area.height * area.width > MOST_LINKED:
        return [area.first]
    return area.places


def _comments(content: bytes, sheet: str) -> Iterator[tuple[Place, str]]:
    """Give the notes on cells, which stand in parts of their own."""
    for comment in fromstring(content).iter(f"{{{MAIN}}}comment"):
        left, top, _, _ = range_boundaries(comment.get("ref", "A1"))
        text = "".join(part.text or "" for part in comment.iter(f"{{{MAIN}}}t"))
        yield (sheet, int(top or 1), int(left or 1)), text


def _boxes(content: bytes) -> Iterator[str]:
    """Give the texts of the shapes of a drawing."""
    for shape in fromstring(content).iter(f"{{{DRAWING}}}sp"):
        yield _text(shape)


def _text(element: Any) -> str:
    lines = (
        "".join(part.text or "" for part in line.iter(f"{{{LETTERS}}}t"))
        for line in element.iter(f"{{{LETTERS}}}p")
    )
    return " ".join(" ".join(lines).split())
