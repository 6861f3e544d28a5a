"""Bring a shop's records, a folder of CSV files, into the inputs of a workbook."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

from openpyxl.cell.cell import Cell
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.faults import FileFault
from lumbercalc.book.form import Field
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.prices import FIELDS as COST_FIELDS
from lumbercalc.book.sheets.prices import PRICES
from lumbercalc.book.sheets.sale import FIRST_LINE, HEAD_FIELDS, LINES, SALE, TOTAL_FIELDS
from lumbercalc.book.sheets.samples import SAMPLES
from lumbercalc.book.sheets.site import PLACES, SITE
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.start import FIELDS as START_FIELDS
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.book.table import FIRST_ROW, Table

TABLE_FILES = {
    "site.csv": SITE,
    "boards.csv": BOARDS,
    "stacks.csv": STACKS,
    "sample_boards.csv": SAMPLES,
    "weighings.csv": WEIGHINGS,
    "prices.csv": PRICES,
}
"""File of each table; its header row holds the keys of the table's input columns."""

FORM_FILES: dict[str, list[Field]] = {
    "shop.csv": START_FIELDS,
    "costs.csv": COST_FIELDS,
    "sale_head.csv": [*HEAD_FIELDS, *TOTAL_FIELDS],
}
"""File of each form: rows of (name, value)."""

FORMULA_STARTS = ("=", "+", "@", "\t", "\r")
LARGEST_FILE = 20_000_000
MOST_ROWS = 5000


def fill(workbook: Workbook, folder: Path) -> dict[str, int]:
    """Fill the inputs of a new workbook from a folder of CSV files.

    Parameters
    ----------
    workbook : Workbook
        From the template; is changed.
    folder : Path
        With the files of this module; a missing file leaves its table empty.

    Returns
    -------
    dict
        Rows brought in, by sheet.

    Raises
    ------
    FileFault
        Names the file, the row, the column and the value.
    """
    if not folder.is_dir():
        raise FileFault(f"{folder}: there is no such folder of records")
    counts: dict[str, int] = {}
    for file, table in TABLE_FILES.items():
        rows = read_rows(folder / file, input_keys(table))
        if len(rows) > table.last_row - FIRST_ROW + 1:
            raise FileFault(f"{folder / file}: {len(rows)} rows; {table.sheet} holds at most "
                            f"{table.last_row - FIRST_ROW + 1}")
        counts[table.sheet] = _fill_table(workbook[table.sheet], table, rows, folder / file)
    for file, fields in FORM_FILES.items():
        _fill_form(workbook, fields, read_rows(folder / file, ["name", "value"]), folder / file)
    places = read_rows(folder / "places.csv", ["place"])
    if len(places) > PLACES:
        raise FileFault(f"{folder / 'places.csv'}: {len(places)} places; Site holds {PLACES}")
    for row, record in enumerate(places, FIRST_ROW):
        workbook["Site"].cell(row, 9).value = record["place"]
    lines = read_rows(folder / "sale.csv", input_keys(SALE))
    if len(lines) > LINES:
        raise FileFault(f"{folder / 'sale.csv'}: {len(lines)} lines; Sale holds {LINES}")
    counts["Sale"] = _fill_table(workbook["Sale"], SALE, lines, folder / "sale.csv", FIRST_LINE)
    return counts


def input_keys(table: Table) -> list[str]:
    """Give the keys of a table's input columns.

    Parameters
    ----------
    table : Table
        Any of the workbook.

    Returns
    -------
    list of str
        In the order of the columns.
    """
    return [column.key for column in table.columns if column.role == "input"]


def read_rows(path: Path, keys: list[str]) -> list[dict[str, str]]:
    """Read a CSV file whose header must hold exactly the given keys.

    Parameters
    ----------
    path : Path
        The file; a missing one has no rows.
    keys : list of str
        Of its columns, in any order.

    Returns
    -------
    list of dict
        Text of each cell by key; rows without any text are left out.

    Raises
    ------
    FileFault
        For another header, a ragged row, a formula, or a file that is no text.
    """
    if not path.exists():
        return []
    if path.stat().st_size > LARGEST_FILE:
        raise FileFault(f"{path}: {path.stat().st_size} bytes; at most {LARGEST_FILE} are read")
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            lines = list(csv.reader(file, strict=True))
    except (UnicodeDecodeError, csv.Error, OSError) as error:
        raise FileFault(f"{path}: this is not a CSV file in UTF-8 ({error})") from None
    if not lines:
        raise FileFault(f"{path}: the file is empty; its header must be {', '.join(keys)}")
    header = [name.strip() for name in lines[0]]
    if sorted(header) != sorted(keys):
        missing = [key for key in keys if key not in header] or ["none"]
        extra = [name for name in header if name not in keys] or ["none"]
        raise FileFault(
            f"{path}: the header must be {', '.join(keys)}; "
            f"missing: {', '.join(missing)}; not known: {', '.join(extra)}"[:400]
        )
    rows = []
    for number, cells in enumerate(lines[1:], 2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(header):
            raise FileFault(f"{path} row {number}: {len(cells)} cells; it must be {len(header)}")
        for key, cell in zip(header, cells, strict=True):
            if cell.startswith(FORMULA_STARTS):
                raise FileFault(
                    f"{path} row {number}, column {key}: {cell[:40]!r} begins like a formula; "
                    "a record holds plain text and numbers"
                )
        rows.append(dict(zip(header, (cell.strip() for cell in cells), strict=True)))
    return rows


def _fill_table(
    sheet: Worksheet,
    table: Table,
    rows: list[dict[str, str]],
    path: Path,
    first_row: int = FIRST_ROW,
) -> int:
    for number, record in enumerate(rows):
        for key, text in record.items():
            column = table.column(key)
            cell = sheet[f"{table.letter(key)}{first_row + number}"]
            where = f"{path} row {number + 2}, column {key}"
            put(cell, text, column.number_format, where)
    return len(rows)


def _fill_form(
    workbook: Workbook, fields: list[Field], rows: list[dict[str, str]], path: Path
) -> None:
    inputs = {field.name: field for field in fields if field.role == "input"}
    for number, record in enumerate(rows, 2):
        field = inputs.get(record["name"])
        if field is None:
            raise FileFault(
                f"{path} row {number}: {record['name'][:40]!r} is not one of {', '.join(inputs)}"
            )
        sheet, address = next(iter(workbook.defined_names[field.name].destinations))
        cell = workbook[sheet][address.replace("$", "")]
        put(cell, record["value"], field.number_format, f"{path} row {number}")


def put(cell: Cell, text: str, number_format: str, where: str) -> None:
    """Put a text of a record into a cell as what the cell holds: text, date or number.

    Parameters
    ----------
    cell : Cell
        Of an input.
    text : str
        From the record; "" leaves the cell as it is.
    number_format : str
        Of the column: "@" is text, one with "yy" a date, any other a number.
    where : str
        For the message.

    Raises
    ------
    FileFault
        When the text is no such value.
    """
    if not text:
        return
    if number_format == "@":
        cell.value = text
        cell.data_type = "s"
        return
    try:
        cell.value = date.fromisoformat(text) if "yy" in number_format else float(text)
    except ValueError:
        kind = "a date as YYYY-MM-DD" if "yy" in number_format else "a number"
        raise FileFault(f"{where}: {text[:40]!r} is not {kind}") from None
    cell.number_format = number_format
