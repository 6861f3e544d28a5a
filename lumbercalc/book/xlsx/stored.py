"""Put computed values beside the formulas of a workbook file, so that every viewer shows numbers.

openpyxl writes formulas without values. A spreadsheet without the add-in, a phone and a preview
show what is stored, so the values of `compute` are written into the sheets' XML.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from functools import partial
from io import BytesIO

from lumbercalc.book.xlsx.calculation_mark import calculated
from lumbercalc.book.xlsx.cell_value import CellValue, Values
from lumbercalc.book.xlsx.parts import BOOK, exchange_parts, sheet_files
from lumbercalc.book.xlsx.value_xml import put_values


def with_values(content: bytes, values: Values) -> bytes:
    """Give a workbook file that openpyxl saved with computed values in it.

    Parameters
    ----------
    content : bytes
        Of the file.
    values : dict
        From `compute`.

    Returns
    -------
    bytes
        Of the new file.

    Raises
    ------
    KeyError
        When a formula cell has no value.
    """
    by_sheet: dict[str, dict[str, CellValue]] = {}
    for (sheet, address), value in values.items():
        by_sheet.setdefault(sheet, {})[address] = value
    with zipfile.ZipFile(BytesIO(content)) as archive:
        sheets = sheet_files(archive)
    changes: dict[str, Callable[[bytes], bytes]] = {
        part: partial(put_values, values=by_sheet.get(sheet, {}), every=True)
        for part, sheet in sheets.items()
    }
    return exchange_parts(content, {**changes, BOOK: calculated})
