"""Labels as a PDF for label paper: every label in its place, to the size, with a QR code."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from itertools import groupby
from pathlib import Path
from typing import cast

import reportlab
import segno
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from lumbercalc.book.labels.labels import Label
from lumbercalc.book.labels.paper import PAGE_HEIGHT, PAGE_WIDTH, Paper
from lumbercalc.faults import FileFault

INCH = 72
"""Points."""

PADDING = 0.08
"""Inside a label's edge, for a printer that is off by a little [in]."""
QUIET = 4
"""Modules of white around a QR code: ISO/IEC 18004 (2015), 9.1, from memory."""
FINEST_MODULE = 0.013
"""Inches: a phone reads 13 mil at arm's length (common practice, no source)."""
LARGEST_CODE = 1.2
"""Inches."""

FONT, BOLD = "Label", "Label bold"
SMALLEST, LARGEST_NAME, LARGEST_LINE = 4.5, 30.0, 14.0
"""Letters [points]."""
LEADING = 1.2
NAME_SHARE = 2.0
"""Height of the name's line against that of the others."""


def label_pdf(
    labels: Sequence[Label], paper: Paper, *, skip: int, cut_lines: bool = False
) -> bytes:
    """Make a PDF file of labels.

    Parameters
    ----------
    labels : sequence of Label
        From left to right and down the pages.
    paper : Paper
        Size and grid.
    skip : int
        Labels of the first page that are used already.
    cut_lines : bool
        Lines around the labels, for plain paper.

    Returns
    -------
    bytes
        Of the file; the same labels give the same bytes.

    Raises
    ------
    FileFault
        When a name is too long for its code, or has a letter that the font lacks.
    """
    content = BytesIO()
    _load_fonts()
    canvas = Canvas(content, pagesize=(PAGE_WIDTH * INCH, PAGE_HEIGHT * INCH), invariant=1)
    canvas.setTitle("Labels")
    canvas.setViewerPreference("PrintScaling", "None")  # at actual size, not fitted to the page
    pages = 0
    for number, label in enumerate(labels, skip):
        page, left, top = paper.place(number)
        if page > pages:
            canvas.showPage()
            pages = page
        if cut_lines:
            canvas.setLineWidth(0.25)
            canvas.rect(
                left * INCH, _up(top + paper.height), paper.width * INCH, paper.height * INCH
            )
        _draw(canvas, label, paper, left, top)
    canvas.save()
    return content.getvalue()


def code(name: str) -> list[list[bool]]:
    """Make the QR code of a name, and of nothing but the name.

    Parameters
    ----------
    name : str
        Tag of a board or name of a stack.

    Returns
    -------
    list of list of bool
        Rows of modules, dark ones True, without the white around.

    Examples
    --------
    >>> len(code("WA-07"))
    21
    """
    made = segno.make_qr(name, error="m")
    return [[bool(module) for module in row] for row in made.matrix]


def _draw(canvas: Canvas, label: Label, paper: Paper, left: float, top: float) -> None:
    modules = code(label.name)
    side = min(paper.height - 2 * PADDING, LARGEST_CODE)
    module = side / (len(modules) + 2 * QUIET)
    if module < FINEST_MODULE:
        raise FileFault(
            f"{label.where}: {label.name[:40]!r} is too long for a code that can be read on this "
            "label; choose a larger one, or a shorter tag"
        )
    down = top + (paper.height - side) / 2
    for row, cells in enumerate(modules):
        at = 0
        for dark, run in groupby(cells):
            length = len(list(run))
            if dark:
                canvas.rect(
                    (left + PADDING + (QUIET + at) * module) * INCH,
                    _up(down + (QUIET + row + 1) * module),
                    length * module * INCH,
                    module * INCH,
                    stroke=0,
                    fill=1,
                )
            at += length
    beside = left + PADDING + side
    width = paper.width - 2 * PADDING - side
    each = (paper.height - 2 * PADDING) / (NAME_SHARE + len(label.lines))
    foot = top + PADDING + NAME_SHARE * each
    size = min(LARGEST_NAME, NAME_SHARE * each * INCH / LEADING)
    _fit(canvas, label.name, BOLD, size, (beside, foot, width), label.where)
    for line in label.lines:
        line = " ".join(line.split())
        foot += each
        if line:
            size = min(LARGEST_LINE, each * INCH / LEADING)
            _fit(canvas, line, FONT, size, (beside, foot, width), label.where)


def _fit(
    canvas: Canvas,
    text: str,
    font: str,
    size: float,
    room: tuple[float, float, float],
    where: str,
) -> None:
    """Write a line on its foot, smaller where it is too long, cut off where it is far too long."""
    left, foot, width = room
    face = cast(TTFont, pdfmetrics.getFont(font)).face
    lacking = [letter for letter in text if ord(letter) not in face.charToGlyph]
    if lacking:
        raise FileFault(f"{where}: {text[:40]!r}: the labels' font has no letter {lacking[0]!r}")
    wide = pdfmetrics.stringWidth(text, font, size)
    size = max(SMALLEST, min(size, size * width * INCH / wide)) if wide else size
    while len(text) > 1 and pdfmetrics.stringWidth(text, font, size) > width * INCH + 0.01:
        text = text[:-2] + "\N{HORIZONTAL ELLIPSIS}"
    canvas.setFont(font, size)
    canvas.drawString(left * INCH, _up(foot) + size * (LEADING - 1), text)


def _up(inches: float) -> float:
    """Turn inches from the top of the page into points from its foot."""
    return (PAGE_HEIGHT - inches) * INCH


def _load_fonts() -> None:
    """Load the font that comes with the PDF library: it has the letters of Western languages."""
    folder = Path(reportlab.__file__).parent / "fonts"
    for name, file in ((FONT, "Vera.ttf"), (BOLD, "VeraBd.ttf")):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(folder / file)))
