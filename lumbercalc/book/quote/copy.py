"""Make a copy of a workbook of which only the page of one sale is shown, to be printed."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Any
from xml.etree import ElementTree

from defusedxml.ElementTree import fromstring

from lumbercalc.book.sheets.sale import CHOICE
from lumbercalc.book.xlsx.archive import Archive, readable
from lumbercalc.book.xlsx.edit import change_parts, changed_cells
from lumbercalc.book.xlsx.parts import BOOK, MAIN, RELATIONS
from lumbercalc.book.xlsx.places import address
from lumbercalc.book.xlsx.reader import named_place, open_workbook

PRINTED = ("_xlnm.Print_Area", "_xlnm.Print_Titles")
"""Names of what a sheet prints (ECMA-376 part 1, 18.2.5)."""


def copy_of_sale(archive: Archive, number: Any) -> bytes:
    """Choose a sale in a copy of a workbook, and hide every sheet but its page.

    Parameters
    ----------
    archive : Archive
        Of a shop's workbook.
    number : object
        Of the sale, as it is stored on the sheet Sales: a text, unless it came from elsewhere.

    Returns
    -------
    bytes
        Of the copy.

    Raises
    ------
    FileFault
        When the cell for the number is gone.
    """
    path = archive.path
    choice = named_place(open_workbook(archive), CHOICE[0].name, path)
    sheet, row, _ = choice
    with readable(path):
        chosen = changed_cells(archive, sheet, {address(choice): number}, like_row=row)
        return change_parts(replace(archive, content=chosen), {BOOK: partial(_hidden, shown=sheet)})


def _hidden(content: bytes, shown: str) -> bytes:
    ElementTree.register_namespace("", MAIN)
    ElementTree.register_namespace("r", RELATIONS)
    book = fromstring(content)
    sheets = list(book.iter(f"{{{MAIN}}}sheet"))
    for sheet in sheets:
        sheet.set("state", "visible" if sheet.get("name") == shown else "hidden")
    place = [sheet.get("name") for sheet in sheets].index(shown)
    for names in book.iter(f"{{{MAIN}}}definedNames"):  # a print area is printed, hidden or not
        for name in list(names):
            area = name.get("name") in PRINTED
            if area and name.get("localSheetId") != str(place):
                names.remove(name)
    for view in book.iter(f"{{{MAIN}}}workbookView"):
        view.set("activeTab", str(place))
        view.attrib.pop("firstSheet", None)
    return bytes(ElementTree.tostring(book, encoding="utf-8", xml_declaration=True))
