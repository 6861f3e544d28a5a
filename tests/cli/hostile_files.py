"""Files that are no workbook of ours, most of them made from the demo, and the word on each."""

from __future__ import annotations

import re
import struct
import zipfile
from collections.abc import Callable
from io import BytesIO

from openpyxl import load_workbook
from openpyxl.workbook import Workbook

from lumbercalc.book.xlsx.parts import exchange_parts
from tests.book.stored_values import part_of

MB = 1_000_000
WORKBOOK, STACKS_PART = "xl/workbook.xml", part_of("Stacks")
NOT_READ = "this is not a workbook that can be read"


def zipped(**parts: bytes) -> bytes:
    content = BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return content.getvalue()


def with_part(demo: bytes, name: str, change: Callable[[bytes], bytes]) -> bytes:
    """The demo with one part of its archive changed."""

    def changed(part: bytes) -> bytes:
        assert change(part) != part
        return change(part)

    return exchange_parts(demo, {name: changed})


def edited(demo: bytes, edit: Callable[[Workbook], object]) -> bytes:
    workbook, content = load_workbook(BytesIO(demo), data_only=True), BytesIO()
    edit(workbook)
    workbook.save(content)
    return content.getvalue()


LAUGHS = "".join(
    f'<!ENTITY a{number} "{f"&a{number - 1};" * 10}">' for number in range(1, 12)
)  # ten to the power of eleven times "ha"
BOMB = f'<!DOCTYPE x [<!ENTITY a0 "ha">{LAUGHS}]>'
THIEF = '<!DOCTYPE x [<!ENTITY a11 SYSTEM "file:///etc/passwd">]>'


def exploding(doctype: str) -> Callable[[bytes], bytes]:
    """Put a document type with entities before the root, and use the last one."""

    def change(part: bytes) -> bytes:
        text = re.sub(r"<\?xml.*?\?>", "", part.decode())
        return (doctype + re.sub(r"(/?>)", r' x="&a11;"\1', text, count=1)).encode()

    return change


def lying(demo: bytes, name: str, size: int) -> bytes:
    """The demo with 100 MB in a part that its directory says to be small."""
    content = bytearray(with_part(demo, name, lambda part: part + b" " * (100 * MB)))
    for mark, offset, of_name, name_at in ((b"PK\3\4", 22, 26, 30), (b"PK\1\2", 24, 28, 46)):
        place = content.find(mark)
        while place >= 0:
            length = struct.unpack_from("<H", content, place + of_name)[0]
            if content[place + name_at : place + name_at + length] == name.encode():
                struct.pack_into("<I", content, place + offset, size)
            place = content.find(mark, place + 4)
    with zipfile.ZipFile(BytesIO(bytes(content))) as archive:
        assert archive.getinfo(name).file_size == size
    return bytes(content)


def encrypted(demo: bytes) -> bytes:
    """The demo with the mark of encryption on its first part."""
    content = bytearray(demo)
    content[6] |= 1
    content[content.find(b"PK\1\2") + 8] |= 1
    return bytes(content)


HOSTILE: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "text": (lambda demo: b"tag,width\nWA-01,7\n", NOT_READ),
    "picture": (lambda demo: b"\x89PNG\r\n\x1a\n" + bytes(range(256)), NOT_READ),
    "empty": (lambda demo: b"", f"{NOT_READ} (it is empty)"),
    "another archive": (lambda demo: zipped(**{"notes.txt": b"hello"}), NOT_READ),
    "an empty archive": (lambda demo: zipped(), NOT_READ),
    "an archive of empty parts": (
        lambda demo: zipped(**{"[Content_Types].xml": b"", WORKBOOK: b""}),
        NOT_READ,
    ),
    "cut in half": (lambda demo: demo[: len(demo) // 2], NOT_READ),
    "last byte missing": (lambda demo: demo[:-1], NOT_READ),
    "a byte changed": (lambda demo: demo[:20_000] + b"?" + demo[20_001:], NOT_READ),
    "encrypted": (encrypted, NOT_READ),
    "sheet's text cut": (
        lambda demo: with_part(demo, STACKS_PART, lambda part: part[:3000]),
        NOT_READ,
    ),
    "no sheets": (
        lambda demo: with_part(demo, WORKBOOK, lambda part: b"<x/>"),
        "Boards has no column named board_tag",
    ),
    "sheet missing": (
        lambda demo: edited(demo, lambda book: book.remove(book["Sale"])),
        "the cell named sale_number is missing",
    ),
    "column lost": (
        lambda demo: edited(demo, lambda book: book.defined_names.pop("stack_species")),
        "Stacks has no column named stack_species, for 'Species'; to bring it into this template",
    ),
    "name lost": (
        lambda demo: edited(demo, lambda book: book.defined_names.pop("sale_number")),
        "the cell named sale_number is missing",
    ),
    "100 MB unpacked": (
        lambda demo: with_part(demo, STACKS_PART, lambda part: part + b" " * (100 * MB)),
        "bytes when unpacked; at most",
    ),
    "100 MB of XML": (lambda demo: b"<?xml version='1.0'?><a>" + b"<b/>" * (25 * MB), "bytes"),
    "entities in the workbook": (
        lambda demo: with_part(demo, WORKBOOK, exploding(BOMB)),
        NOT_READ,
    ),
    "entities in a sheet": (
        lambda demo: with_part(demo, STACKS_PART, exploding(BOMB)),
        NOT_READ,
    ),
    "entity of another file": (
        lambda demo: with_part(demo, WORKBOOK, exploding(THIEF)),
        NOT_READ,
    ),
    "a lie about the workbook's size": (lambda demo: lying(demo, WORKBOOK, 9000), NOT_READ),
    "a lie about a sheet's size": (lambda demo: lying(demo, STACKS_PART, 9000), NOT_READ),
}
