"""Exchange the bytes of some cells in a sheet's XML, and leave every other byte as it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

from openpyxl.utils.cell import coordinate_to_tuple, get_column_letter

from lumbercalc.faults import FileFault


@dataclass(frozen=True)
class Formula:
    """A formula for a new cell: where something stands already, that stays.

    Parameters
    ----------
    text : str
        With "=" in front.
    """

    text: str


Content = float | str | Formula | None
"""Of a cell; None empties it."""


@dataclass
class Element:
    """Where an element stands in the XML.

    Parameters
    ----------
    name : str
        With its prefix.
    attributes : dict
        As written.
    start, end : int
        Bytes of the whole element.
    inner_end : int
        Where its closing tag begins; 0 where it has none.
    inside : set of str
        Names, without prefix, of what stands in it.
    children : dict
        Rows of the sheet by number, cells of a row by column, parts of a cell by their order.
    """

    name: str
    attributes: dict[str, str]
    start: int
    end: int = 0
    inner_end: int = 0
    inside: set[str] = field(default_factory=set)
    children: dict[int, Element] = field(default_factory=dict)


Edit = tuple[int, int, str]
"""Bytes from and to, and what comes in their place."""


def change_sheet(
    content: bytes, cells: Mapping[str, Content], *, like_row: int, sheet: str
) -> bytes:
    """Change cells in a sheet's XML.

    Parameters
    ----------
    content : bytes
        The part of the sheet, in UTF-8.
    cells : dict of str to Content
        By address.
    like_row : int
        Row whose styles and height new cells and rows take.
    sheet : str
        Its name, for messages.

    Returns
    -------
    bytes
        The part with the cells.

    Raises
    ------
    FileFault
        When a cell that is to be changed holds a formula.
    """
    data = elements(content, {"sheetData", "row", "c"})["sheetData"]
    model = data.children.get(like_row, Element(data.name.replace("sheetData", "row"), {}, 0))
    rows: dict[int, dict[int, Content]] = defaultdict(dict)
    for address, what in cells.items():
        row, column = coordinate_to_tuple(address)
        rows[row][column] = what
    edits: list[Edit] = []
    new_rows: dict[int, str] = {}
    for number in sorted(rows):
        row_element = data.children.get(number)
        if row_element is None:
            new_rows[number] = _new_row(model, number, rows[number])
        else:
            edits += _in_row(row_element, model, number, rows[number], sheet)
    return apply_edits(content, edits + _added(data, new_rows))


def elements(content: bytes, names: set[str]) -> dict[str, Element]:
    """Find the last element of each name; those inside another of the names stand in it.

    Parameters
    ----------
    content : bytes
        A part of a workbook.
    names : set of str
        Without prefix.

    Returns
    -------
    dict of str to Element
        By name.

    Raises
    ------
    FileFault
        When it has a document type or is not in UTF-8.
    """
    parser = expat.ParserCreate()
    found: dict[str, Element] = {}
    open_elements: list[Element] = []

    def refuse(*_: object) -> None:
        raise FileFault("a sheet with a document type or another encoding is not changed")

    def declared(version: str, encoding: str | None, standalone: int) -> None:
        if (encoding or "utf-8").casefold() != "utf-8":
            refuse()

    def started(name: str, attributes: dict[str, str]) -> None:
        plain = name.rpartition(":")[2]
        if plain in names:
            element = Element(name, attributes, parser.CurrentByteIndex)
            if open_elements:
                place = _number(open_elements[-1], attributes.get("r", ""))
                open_elements[-1].children[place] = element
            open_elements.append(element)
            found[plain] = element
        elif open_elements:
            open_elements[-1].inside.add(plain)

    def ended(name: str) -> None:
        if name.rpartition(":")[2] not in names:
            return
        element, here = open_elements.pop(), parser.CurrentByteIndex
        if content.startswith(f"</{name}".encode(), here):
            element.inner_end, element.end = here, content.index(b">", here) + 1
        else:  # one tag that opens and closes: the parser stands behind it
            element.end = here

    parser.StartDoctypeDeclHandler = refuse
    parser.XmlDeclHandler = declared
    parser.StartElementHandler, parser.EndElementHandler = started, ended
    parser.Parse(content, True)
    return found


def _number(parent: Element, reference: str) -> int:
    """Give the number of a row or column; one without a reference follows the one before."""
    if not reference:
        return max(parent.children, default=0) + 1
    return int(reference) if reference.isdigit() else coordinate_to_tuple(reference)[1]


def _in_row(
    row: Element, model: Element, number: int, contents: dict[int, Content], sheet: str
) -> list[Edit]:
    edits: list[Edit] = []
    new_cells: dict[int, str] = {}
    for column in sorted(contents):
        there, what = row.children.get(column), contents[column]
        if there is None:
            new_cells[column] = _cell(row, number, column, model.children.get(column), what)
        elif isinstance(what, Formula) and there.inside:
            continue
        elif "f" in there.inside:
            address = f"{sheet}!{get_column_letter(column)}{number}"
            raise FileFault(f"{address} holds a formula; only typed cells are changed")
        else:
            edits.append((there.start, there.end, _cell(row, number, column, there, what)))
    return edits + _added(row, new_cells)


def _added(parent: Element, texts: dict[int, str]) -> list[Edit]:
    """Put new rows or cells, in their order, before the next that is there, else at the end."""
    edits: list[Edit] = []
    last = ""
    for number, text in texts.items():
        after = [child.start for other, child in parent.children.items() if other > number]
        if after:
            edits.append((min(after), min(after), text))
        else:
            last += text
    if last and parent.inner_end:
        edits.append((parent.inner_end, parent.inner_end, last))
    elif last:  # the parent is one tag that opens and closes
        edits.append((parent.end - len("/>"), parent.end, f">{last}</{parent.name}>"))
    return edits


def _new_row(model: Element, number: int, contents: dict[int, Content]) -> str:
    height = {k: v for k, v in model.attributes.items() if k in ("ht", "customHeight")}
    cells = "".join(
        _cell(model, number, column, model.children.get(column), contents[column])
        for column in sorted(contents)
    )
    return f"<{model.name}{written({'r': str(number), **height})}>{cells}</{model.name}>"


def _cell(row: Element, number: int, column: int, like: Element | None, what: Content) -> str:
    """Write a cell in the style of another."""
    prefix = row.name.removesuffix("row")
    attributes = {"r": f"{get_column_letter(column)}{number}"}
    if like is not None and "s" in like.attributes:
        attributes["s"] = like.attributes["s"]
    if what is None:
        return f"<{prefix}c{written(attributes)}/>"
    if isinstance(what, Formula):
        inner = f"<{prefix}f>{escape(what.text.removeprefix('='))}</{prefix}f>"
    elif isinstance(what, str):
        attributes["t"] = "inlineStr"
        inner = f"<{prefix}is><{prefix}t>{escape(what)}</{prefix}t></{prefix}is>"
    else:
        inner = f"<{prefix}v>{what:.15g}</{prefix}v>"
    return f"<{prefix}c{written(attributes)}>{inner}</{prefix}c>"


def written(attributes: Mapping[str, str]) -> str:
    """Write attributes as they stand in a tag.

    Parameters
    ----------
    attributes : mapping of str to str
        In their order.

    Returns
    -------
    str
        With a space before each.
    """
    return "".join(f" {name}={quoteattr(value)}" for name, value in attributes.items())


def apply_edits(content: bytes, edits: list[Edit]) -> bytes:
    """Put edits in; what is added at a byte comes before what is exchanged from there on.

    Parameters
    ----------
    content : bytes
        A part of a workbook.
    edits : list of tuple
        Bytes from and to, and what comes in their place.

    Returns
    -------
    bytes
        The part with the edits.
    """
    pieces: list[bytes] = []
    at = 0
    for start, end, text in sorted(edits, key=lambda edit: edit[:2]):
        pieces += [content[at:start], text.encode()]
        at = end
    return b"".join([*pieces, content[at:]])
