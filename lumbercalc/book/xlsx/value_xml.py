"""Exchange the values that a sheet's XML stores in some cells; formulas and all else stay."""

from __future__ import annotations

import re
from collections.abc import Mapping
from xml.sax.saxutils import escape

from openpyxl.utils import get_column_letter

from lumbercalc.book.xlsx.cell_value import CellValue
from lumbercalc.book.xlsx.sheet_xml import Edit, Element, apply_edits, elements, written

ERRORS = frozenset({"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"})
"""Error values as a file stores them."""
NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def put_values(content: bytes, values: Mapping[str, CellValue], *, every: bool) -> bytes:
    """Store values in cells of a sheet.

    Parameters
    ----------
    content : bytes
        The part of the sheet, in UTF-8.
    values : mapping of str to float, str or bool
        By address. A cell that the part does not have is passed over.
    every : bool
        Whether each formula must have a value.

    Returns
    -------
    bytes
        The part; only the cells with a value differ.

    Raises
    ------
    KeyError
        When a formula has no value and each must have one.
    FileFault
        When the part is none that a spreadsheet writes.
    """
    found = elements(content, {"sheetData", "row", "c", "f", "v", "is", "extLst"})
    edits: list[Edit] = []
    for number, row in found["sheetData"].children.items():
        for column, cell in row.children.items():
            address = f"{get_column_letter(column)}{number}"
            if address in values:
                edits.append(_edit(content, cell, values[address]))
            elif every and "f" in _inner(cell):
                raise KeyError(address)
    return apply_edits(content, edits)


def _inner(cell: Element) -> dict[str, Element]:
    return {child.name.rpartition(":")[2]: child for child in cell.children.values()}


def _edit(content: bytes, cell: Element, value: CellValue) -> Edit:
    """Write a cell with another value; the bytes of its formula are those that were there."""
    prefix = cell.name.removesuffix("c")
    kind, text = _stored(value)
    attributes = {**cell.attributes, "t": kind}
    if kind == "n":
        del attributes["t"]
    inner = {
        name: content[child.start : child.end].decode() for name, child in _inner(cell).items()
    }
    body = f"{inner.get('f', '')}<{prefix}v>{text}</{prefix}v>{inner.get('extLst', '')}"
    return cell.start, cell.end, f"<{cell.name}{written(attributes)}>{body}</{cell.name}>"


def _stored(value: CellValue) -> tuple[str, str]:
    """Give the type and the text of a value as a file has them."""
    if isinstance(value, bool):
        return "b", "1" if value else "0"
    if isinstance(value, float):
        return "n", repr(value)
    if value in ERRORS:
        return "e", value
    return "str", escape(NOT_XML.sub(lambda found: f"_x{ord(found[0]):04X}_", value))
