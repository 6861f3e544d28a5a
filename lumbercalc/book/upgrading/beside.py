"""What stood beside the values of an older workbook: links come along, the rest is spoken of."""

from __future__ import annotations

import re

from defusedxml.ElementTree import fromstring
from openpyxl.workbook import Workbook
from openpyxl.xml.functions import tostring

from lumbercalc.book.upgrading.kept import Kept
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.xlsx.beside_cells import chart_titles, page_text

NOTE = "a note on the cell"
LINK = "the cell linked to it"
BOX = "a text box or a shape: it is in the old workbook only"
CHART = "a chart of your own: it is in the old workbook only"
PAGE = "a header or footer of the page: it is in the old workbook only"
PICTURE = "a picture: it is in the old workbook only"
OBJECT = "an embedded file: it is in the old workbook only"

OUTWARD = re.compile(r"(?:https?|mailto|tel):", re.IGNORECASE)
BESIDE_THE_FILE = re.compile(
    r"(?!\s|/|\\|[A-Z][A-Z0-9+.-]*:|.*(?:\.|%2E){2})[^#\x00-\x1f]+", re.IGNORECASE
)
"""A photo in a folder beside the workbook. Links to sheets, and whole paths or ways upwards, may
lead elsewhere now: they are kept as texts. Blanks and tabs around a scheme are no hiding place:
what follows a link passes over them."""
LONGEST_LINK = 2_000
"""Characters; Excel follows 2,083."""
OF_SPREADSHEETS = frozenset({"&C&A", "&CPage&P"})
"""Pages that Calc gives to a sheet that has none."""


def bring_beside(refill: Refill) -> None:
    """Bring the links of cells that were placed, and keep or name whatever else there was.

    Parameters
    ----------
    refill : Refill
        With every cell dealt with.
    """
    beside = refill.old.beside
    for place, text in beside.comments.items():
        refill.keep(place, text, NOTE)
    for place, link in beside.links.items():
        target = refill.done.get(place)
        leads = len(link) <= LONGEST_LINK and bool(
            OUTWARD.match(link) or BESIDE_THE_FILE.fullmatch(link)
        )
        if leads and target is not None and refill.cell(target).value is not None:
            refill.cell(target).hyperlink = link
        elif OUTWARD.match(link) or place in refill.done:
            refill.keep(place, link, LINK)
    titles, pages = _titles(refill.workbook), _pages(refill.workbook) | OF_SPREADSHEETS
    told = [(sheet, text, BOX) for sheet, text in beside.boxes]
    told += [
        (sheet, ", ".join(texts), CHART)
        for sheet, texts in beside.charts
        if titles.isdisjoint(texts)
    ]
    told += [(sheet, text, PAGE) for sheet, text in beside.pages if page_text(text) not in pages]
    told += [("", part, PICTURE) for part in beside.pictures]
    told += [("", part, OBJECT) for part in beside.objects]
    refill.kept += [Kept(sheet, "", text, why) for sheet, text, why in dict.fromkeys(told)]


def _titles(workbook: Workbook) -> set[str]:
    """Give the titles of today's charts, by which those of the template are told."""
    return {
        title
        for sheet in workbook.worksheets
        for chart in sheet._charts  # type: ignore[attr-defined]
        for title in chart_titles(fromstring(tostring(chart._write())))
    }


def _pages(workbook: Workbook) -> set[str]:
    return {
        page_text(str(part))
        for sheet in workbook.worksheets
        for part in (sheet.oddHeader, sheet.oddFooter)
    }
