"""Bring a shop's records, a folder of CSV files, into the inputs of a workbook."""

from __future__ import annotations

import math
import re
from contextlib import suppress
from copy import copy
from datetime import date
from pathlib import Path

from openpyxl.cell.cell import Cell
from openpyxl.formatting.formatting import ConditionalFormattingList
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.form import Field
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.page.validation import THICKNESSES
from lumbercalc.book.record_file import Rows, read_rows
from lumbercalc.book.sheets.cost_card import CHOICE as COST_CARD_CHOICE
from lumbercalc.book.sheets.matched_set import CHOICE as SET_CHOICE
from lumbercalc.book.sheets.move_plan import CHOICES as MOVE_CHOICES
from lumbercalc.book.sheets.plan import LOAD
from lumbercalc.book.sheets.plan_options import PLAN
from lumbercalc.book.sheets.prices import FIELDS as RATE_FIELDS
from lumbercalc.book.sheets.sale import CHOICE as SALE_CHOICE
from lumbercalc.book.sheets.sales_tax import CHOICE as TAX_CHOICE
from lumbercalc.book.sheets.site import MATRIX_COLUMN, PLACES
from lumbercalc.book.sheets.site_months import ROOM, WOOD
from lumbercalc.book.sheets.stack_card import CHOICE as CARD_CHOICE
from lumbercalc.book.sheets.start import FIELDS as START_FIELDS
from lumbercalc.book.tables import TABLE_FILES
from lumbercalc.faults import FileFault
from lumbercalc.sheet.dates import FIRST_DAY
from lumbercalc.wood.tally import inches_from_quarters

FORM_FILES: dict[str, list[Field]] = {
    "shop.csv": START_FIELDS,
    "costs.csv": RATE_FIELDS,
    "choices.csv": [
        *CARD_CHOICE,
        *MOVE_CHOICES,
        *WOOD,
        *ROOM,
        *LOAD,
        *COST_CARD_CHOICE,
        *SALE_CHOICE,
        *SET_CHOICE,
        *TAX_CHOICE,
    ],
}
"""File of each form: rows of (name, value)."""

FILES = (*TABLE_FILES, *FORM_FILES, "places.csv", "plan.csv")
"""Every file that is read."""

RECORD = re.compile(
    rf".*\.csv|(?:{'|'.join(file.removesuffix('.csv') for file in FILES)})(?:\.csv)?\.(?:txt|tsv)",
    re.IGNORECASE | re.DOTALL,
)
"""The name of a file that somebody may mean for records."""

SHOWN_FILES = 5
"""Other files that are named where none is read."""
NAMES = frozenset({"tag", "name", "number", "board", "stack", "place", "load", "log", "sale"})
"""Columns by which rows are found: on labels, in QR codes and in lists of choices."""
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)
"""A number as a person writes it: float() also takes "nan", "inf" and "1_000"."""


def fill(workbook: Workbook, folder: Path) -> dict[str, int]:
    """Fill the inputs of a new workbook from a folder of CSV files.

    Parameters
    ----------
    workbook : Workbook
        From the template; is changed.
    folder : Path
        With some of the files `FILES`; a missing one leaves its table empty.

    Returns
    -------
    dict
        Rows brought in, by sheet.

    Raises
    ------
    FileFault
        Names the file, the row, the column and the value.
    """
    if folder.is_file():
        raise FileFault(f"{folder}: this is a file; name the folder in which the records are")
    if not folder.is_dir():
        raise FileFault(f"{folder}: there is no such folder of records")
    if not any((folder / file).exists() for file in FILES):
        other = ", ".join(not_read(folder)[:SHOWN_FILES])
        there = f", only {other}; the names must be those, in small letters" if other else ""
        raise FileFault(f"{folder}: none of the files {', '.join(FILES)} is in this folder{there}")
    counts: dict[str, int] = {}
    for file, table in TABLE_FILES.items():
        rows = read_rows(folder / file, table.input_keys)
        _check_count(rows, table.last_row - FIRST_ROW + 1, table.sheet, folder / file)
        counts[table.sheet] = len(rows)
        extend(workbook[table.sheet], table, len(rows))
        _fill_table(workbook[table.sheet], table, rows, folder / file)
    for file, fields in FORM_FILES.items():
        _fill_form(workbook, fields, read_rows(folder / file, ["name", "value"]), folder / file)
    _fill_places(workbook["Site"], folder / "places.csv")
    _fill_plan(workbook[PLAN.sheet], folder / "plan.csv")
    return counts


def not_read(folder: Path) -> list[str]:
    """Name the files of a folder that look like records and go by no name that is read.

    Parameters
    ----------
    folder : Path
        Of records.

    Returns
    -------
    list of str
        Such as a misspelt "sale.csv", or "boards.csv.txt" as some editors save it.
    """
    read = [folder / name for name in FILES if (folder / name).exists()]
    return sorted(
        file.name
        for file in folder.iterdir()
        if RECORD.fullmatch(file.name)
        and file.name not in FILES
        # where a disk takes capitals for small letters, Boards.csv was read as boards.csv
        and not (file.exists() and any(map(file.samefile, read)))
    )


def _check_count(rows: Rows, most: int, sheet: str, path: Path) -> None:
    if len(rows) > most:
        raise FileFault(f"{path}: {len(rows)} rows; {sheet} holds at most {most}")


def extend(sheet: Worksheet, table: Table, count: int) -> None:
    """Fill the formulas of a table further down, where it has more rows than the template.

    Parameters
    ----------
    sheet : Worksheet
        Of the table.
    table : Table
        As `Table.write` put it there.
    count : int
        Rows that are needed.
    """
    old, new = FIRST_ROW + table.rows - 1, FIRST_ROW + count - 1
    if new <= old:
        return
    for column in table.columns:
        letter = table.letter(column.key)
        first = sheet[f"{letter}{FIRST_ROW}"]
        for row in range(old + 1, new + 1):
            cell = sheet[f"{letter}{row}"]
            cell._style = copy(first._style)
            if column.formula:
                cell.value = table.formula(column, row)
    for row in range(old + 1, new + 1):
        sheet.row_dimensions[row].height = sheet.row_dimensions[FIRST_ROW].height
    sheet.auto_filter.ref = _reaching(sheet.auto_filter.ref, old, new)
    marks = ConditionalFormattingList()
    for area in sheet.conditional_formatting:
        for rule in area.rules:
            marks.add(_reaching(str(area.sqref), old, new), rule)
    sheet.conditional_formatting = marks


def _reaching(area: str, old: int, new: int) -> str:
    """Let an area that ends in the old last row end in the new one."""
    return re.sub(rf"(:\$?[A-Z]+\$?){old}\b", rf"\g<1>{new}", area)


def _fill_table(sheet: Worksheet, table: Table, rows: Rows, path: Path) -> None:
    for place, (number, record) in enumerate(rows.items(), FIRST_ROW):
        for key, text in record.items():
            cell = sheet[f"{table.letter(key)}{place}"]
            where = f"{path} row {number}, column {key}"
            column = table.column(key)
            if key in NAMES and len(text.splitlines()) > 1:
                raise FileFault(f"{where}: {text[:40]!r} has a line break; a name is of one line")
            if text and column.choices == THICKNESSES and inches_from_quarters(text) is None:
                raise FileFault(
                    f"{where}: {text[:40]!r} is not a thickness in quarters such as 8/4"
                )
            put(cell, text, column.number_format, where)


def _fill_form(workbook: Workbook, fields: list[Field], rows: Rows, path: Path) -> None:
    inputs = {field.name: field for field in fields if field.role == "input"}
    known = frozenset(inputs)
    for number, record in rows.items():
        where = f"{path} row {number}, column name"
        field = inputs.pop(record["name"], None)
        if field is None:
            fault = "there twice" if record["name"] in known else "not known"
            raise FileFault(
                f"{where}: {record['name'][:40]!r} is {fault}; "
                f"not yet there: {', '.join(inputs) or 'none'}"
            )
        sheet, address = next(iter(workbook.defined_names[field.name].destinations))
        cell = workbook[sheet][address.replace("$", "")]
        put(cell, record["value"], field.number_format, f"{path} row {number}, column value")


def _fill_plan(sheet: Worksheet, path: Path) -> None:
    inputs = [figure.key for figure in PLAN.figures if figure.role == "input"]
    rows = read_rows(path, inputs)
    _check_count(rows, PLAN.choices, PLAN.sheet, path)
    for column, (number, record) in zip(PLAN.columns, rows.items(), strict=False):
        for key, text in record.items():
            cell = sheet[f"{column}{PLAN.row(key)}"]
            put(cell, text, PLAN.figure(key).number_format, f"{path} row {number}, column {key}")


def _fill_places(sheet: Worksheet, path: Path) -> None:
    rows = read_rows(path, ["place"])
    _check_count(rows, PLACES, "Site", path)
    for place, (number, record) in enumerate(rows.items(), FIRST_ROW):
        where = f"{path} row {number}, column place"
        put(sheet[f"{get_column_letter(MATRIX_COLUMN)}{place}"], record["place"], "@", where)


def put(cell: Cell, text: str, number_format: str, where: str) -> None:
    """Put a text of a record into a cell as what the cell holds: text, date or number.

    Parameters
    ----------
    cell : Cell
        Of an input.
    text : str
        From the record; "" leaves the cell as it is.
    number_format : str
        Of the column: "@" is text, one with "yy" a date (or a number, where it has two sections),
        any other a number.
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
    if "yy" not in number_format:
        cell.value = _number(text, where)
    elif ";" not in number_format:
        cell.value = _day(text, f"{where}: {text[:40]!r} is not a date")
    elif NUMBER.fullmatch(text):
        cell.value = _number(text, where)
    else:
        cell.value = _day(text, f"{where}: {text[:40]!r} is neither a month as 1 to 12 nor a date")


def _day(text: str, fault: str) -> date:
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII):
        with suppress(ValueError):  # such as the 30th of February
            day = date.fromisoformat(text)
            if day >= FIRST_DAY:
                return day
    raise FileFault(f"{fault} as YYYY-MM-DD, from {FIRST_DAY.isoformat()}")


def _number(text: str, where: str) -> float:
    number = float(text) if NUMBER.fullmatch(text) else math.inf
    if not math.isfinite(number):
        raise FileFault(
            f"{where}: {text[:40]!r} is not a number as 1250.5, with a decimal point, and without "
            "a comma, a blank, a currency or a unit"
        )
    return number
