"""The parts of a workbook's archive: their XML namespaces, and which of them is which sheet."""

from __future__ import annotations

import zipfile

from defusedxml.ElementTree import fromstring

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"

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
    relations = fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {
        relation.get("Id"): relation.get("Target", "").removeprefix("/xl/").removeprefix("xl/")
        for relation in relations.iter(f"{{{PACKAGE_RELATIONS}}}Relationship")
    }
    book = fromstring(archive.read(BOOK))
    return {
        f"xl/{targets[sheet.get(f'{{{RELATIONS}}}id')]}": sheet.get("name", "")
        for sheet in book.iter(f"{{{MAIN}}}sheet")
    }
