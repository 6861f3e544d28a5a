"""Put computed values beside the formulas of a workbook file, so that every viewer shows numbers.

openpyxl writes formulas without values. A spreadsheet without the add-in, a phone and a preview
show what is stored, so the values of `compute` are written into the sheets' XML.
"""

from __future__ import annotations

import os
import zipfile
from collections.abc import Mapping
from pathlib import Path

from lumbercalc.book.xlsx.calculation_mark import calculated
from lumbercalc.book.xlsx.cell_value import CellValue, Values
from lumbercalc.book.xlsx.parts import BOOK, sheet_files
from lumbercalc.book.xlsx.value_xml import put_values


def store(path: Path, values: Values) -> None:
    """Write computed values into a workbook file that openpyxl saved.

    Parameters
    ----------
    path : Path
        The file; it is replaced as a whole when the new one is complete.
    values : dict
        From `compute`.

    Raises
    ------
    KeyError
        When a formula cell has no value.
    """
    unfinished = path.with_name(f".{path.name}.unfinished")
    try:
        with (
            zipfile.ZipFile(path) as old,
            zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as new,
        ):
            sheets = sheet_files(old)
            for item in old.infolist():
                content = old.read(item)
                if item.filename in sheets:
                    content = _with_values(content, sheets[item.filename], values)
                elif item.filename == BOOK:
                    content = calculated(content)
                new.writestr(item, content)
        os.replace(unfinished, path)
    finally:
        unfinished.unlink(missing_ok=True)


def _with_values(content: bytes, sheet: str, values: Mapping[tuple[str, str], CellValue]) -> bytes:
    of_sheet = {address: value for (name, address), value in values.items() if name == sheet}
    return put_values(content, of_sheet, every=True)
