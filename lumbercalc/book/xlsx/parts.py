"""The parts of a workbook's archive: which of them is which sheet, and others in their place."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Mapping
from io import BytesIO

from defusedxml.ElementTree import fromstring
from openpyxl.packaging.relationship import get_dependents

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"

BOOK = "xl/workbook.xml"
"""The part that lists the sheets and the defined names."""


def sheet_files(archive: zipfile.ZipFile) -> dict[str, str]:
    """Give the file of each sheet in the archive, with the sheet's name.

    Parameters
    ----------
    archive : ZipFile
        Of a workbook.

    Returns
    -------
    dict of str to str
        Part, such as "xl/worksheets/sheet1.xml", to name.
    """
    relations = get_dependents(archive, "xl/_rels/workbook.xml.rels").to_dict()
    book = fromstring(archive.read(BOOK))
    return {
        relations[sheet.get(f"{{{RELATIONS}}}id")].Target: sheet.get("name", "")
        for sheet in book.iter(f"{{{MAIN}}}sheet")
    }


def exchange_parts(content: bytes, changes: Mapping[str, Callable[[bytes], bytes]]) -> bytes:
    """Give a workbook file with some of its parts changed.

    Parameters
    ----------
    content : bytes
        Of the file.
    changes : mapping of str to callable
        By the name of the part: takes its bytes, gives those in their place.

    Returns
    -------
    bytes
        Of the new file, with the parts in the same order.
    """
    target = BytesIO()
    with zipfile.ZipFile(BytesIO(content)) as old, zipfile.ZipFile(target, "w") as new:
        for item in old.infolist():
            part = old.read(item)
            if item.filename in changes:
                part = changes[item.filename](part)
            new.writestr(item, part, item.compress_type)
    return target.getvalue()
