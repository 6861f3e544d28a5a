"""The archive that a workbook is: its limits are checked before anything in it is read."""

from __future__ import annotations

import codecs
import re
import warnings
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from lumbercalc.faults import FileFault
from lumbercalc.file_checks import Seen

LARGEST_FILE = 20_000_000
"""Bytes of a workbook file; 5,000 boards and 5,000 weighings take two million."""
LARGEST_CONTENT = 100_000_000
"""Bytes in it, unpacked: they take 26 million. More is refused before it is read."""
LARGEST_PART = 60_000_000
"""Bytes of one part, unpacked."""
MOST_PARTS = 2_000
"""A workbook of 20 sheets with charts has fewer than a hundred."""
TIGHTEST = 200
"""Times that a part may be larger unpacked; a sheet of blank rows comes to about 40."""
SMALL = 1_000_000
"""Bytes: a part of fewer may be packed as tightly as it likes."""

OLD_EXCEL = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""The first bytes of an .xls, and of a workbook with a password."""
CONTROL = re.compile(rb"[\x00-\x08\x0e-\x1f]")
"""Bytes that no text has, in whichever encoding of one byte a letter."""
LOOKED_AT = 4096
"""Bytes from which a text is told."""
PIECE = 1 << 20
XML = (".xml", ".rels", ".vml")
DOCUMENT_TYPE = re.compile(rb"<!(?:DOCTYPE|ENTITY)")
ODD_NAME = re.compile(r"(?:^|/)\.\.?(?:/|$)|^/|\\|^[A-Za-z]:|[\x00-\x1f]")
"""A name that leads out of the archive; nothing is unpacked to the disk, and no writer makes it."""


@dataclass(frozen=True, eq=False)
class Archive:
    """A workbook file that was read, once: what is read of it later is what was checked.

    Parameters
    ----------
    path : Path
        The file, for messages.
    content : bytes
        All of it.
    seen : Seen
        The file when it was read.
    """

    path: Path
    content: bytes
    seen: Seen

    def parts(self) -> zipfile.ZipFile:
        """Open it to read its parts.

        Returns
        -------
        ZipFile
            Of the content, not of the file.
        """
        return zipfile.ZipFile(BytesIO(self.content))


@contextmanager
def readable(path: Path) -> Iterator[None]:
    """Turn whatever a broken or hostile workbook raises while it is read into a fault.

    Parameters
    ----------
    path : Path
        For the message.

    Raises
    ------
    FileFault
        Of one line.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what openpyxl does not know does not matter here
            yield
    except FileFault:
        raise
    except OSError as fault:
        raise FileFault(f"{path}: the file cannot be read ({fault.strerror or fault})") from None
    except Exception:  # openpyxl and zipfile raise whatever a broken part happens to cause
        raise FileFault(f"{path}: this is not a workbook that can be read") from None


def open_archive(path: Path) -> Archive:
    """Read a workbook file whose archive keeps the limits.

    Parameters
    ----------
    path : Path
        An .xlsx or .xlsm file.

    Returns
    -------
    Archive
        The one reading of it.

    Raises
    ------
    FileFault
        When the file is not there, too large, or its archive is not what a spreadsheet writes.
    """
    if path.is_dir():
        raise FileFault(f"{path}: this is a folder; name a workbook in it")
    if not path.is_file():
        raise FileFault(f"{path}: there is no such file")
    with readable(path):
        seen = Seen.of(path)
        if seen.size > LARGEST_FILE:
            raise FileFault(f"{path}: {seen.size} bytes; a workbook has at most {LARGEST_FILE}")
        if seen.size == 0:
            raise _not_read(path, "it is empty")
        archive = Archive(path, path.read_bytes(), seen)
        if kind := _other_kind(archive):
            raise FileFault(
                f"{path}: this is not a workbook that can be read: {kind}; open it in the "
                "spreadsheet and save it as .xlsx"
            )
        with archive.parts() as parts:
            _check_directory(parts.infolist(), path)
            for item in parts.infolist():
                _check_part(parts, item, path)
    return archive


def _other_kind(archive: Archive) -> str:
    """Name another kind of file that a spreadsheet saves; "" for what may be a workbook of ours."""
    if archive.content.startswith(OLD_EXCEL):
        return "it is an .xls workbook, or has a password"
    if not zipfile.is_zipfile(BytesIO(archive.content)):
        return "it is a text file, such as CSV" if _is_text(archive.content) else ""
    with archive.parts() as parts:
        names = {item.filename for item in parts.infolist()}
        if "xl/workbook.bin" in names:
            return "it is an .xlsb workbook"
        return "it is an .ods workbook" if {"mimetype", "content.xml"} <= names else ""


def _is_text(content: bytes) -> bool:
    """Tell whether the beginning of a file is text, whatever its name ends in."""
    wide = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    return wide or (content != b"" and not CONTROL.search(content[:LOOKED_AT]))


def _check_directory(items: list[zipfile.ZipInfo], path: Path) -> None:
    """Refuse by what the archive says of itself; `_check_part` finds out where that is a lie."""
    if len(items) > MOST_PARTS:
        raise FileFault(f"{path}: {len(items)} parts; a workbook has at most {MOST_PARTS}")
    unpacked = sum(item.file_size for item in items)
    if unpacked > LARGEST_CONTENT:
        raise FileFault(
            f"{path}: {unpacked} bytes when unpacked; at most {LARGEST_CONTENT} are read"
        )
    names = set()
    for item in items:
        # the name as it stands in the file: zipfile cuts it at a NUL and turns slashes
        if ODD_NAME.search(item.orig_filename):
            raise _not_read(path, f"a part named {item.orig_filename[:40]!r}")
        if item.filename in names:
            raise _not_read(path, f"two parts named {item.filename[:40]!r}")
        names.add(item.filename)
        if item.file_size > LARGEST_PART:
            raise FileFault(
                f"{path}: {item.filename[:40]} has {item.file_size} bytes when unpacked; "
                f"at most {LARGEST_PART} are read"
            )
        if item.file_size > max(SMALL, TIGHTEST * item.compress_size):
            raise _not_read(
                path, f"{item.filename[:40]} is packed to less than 1/{TIGHTEST} of its size"
            )


def _check_part(archive: zipfile.ZipFile, item: zipfile.ZipInfo, path: Path) -> None:
    """Unpack a part in pieces: a larger one than it says ends in a wrong checksum."""
    is_xml = item.filename.lower().endswith(XML)
    before = b""
    with archive.open(item) as part:
        while piece := part.read(PIECE):
            if is_xml and DOCUMENT_TYPE.search(before + piece):
                raise _not_read(path, f"{item.filename[:40]} has a document type")
            before = piece[-10:]


def _not_read(path: Path, why: str) -> FileFault:
    return FileFault(f"{path}: this is not a workbook that can be read ({why})")
