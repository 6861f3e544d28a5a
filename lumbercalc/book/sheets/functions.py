"""Sheet Functions: every function with its arguments, units, source and an example that runs."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.table import FIRST_ROW, HEADER_ROW, head, print_setup
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function

HEADERS = (
    ("Function", 25),
    ("Group", 14),
    ("What it does", 44),
    ("Gives", 34),
    ("Arguments, with unit and limits; optional ones in [ ]", 70),
    ("Example", 46),
    ("Answer", 16),
    ("Source", 54),
)
CHARACTERS_PER_POINT_ROW = 13.0


def add_functions(workbook: Workbook) -> None:
    """Add the sheet, made from the catalogue.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet("Functions")
    head(
        sheet,
        "Functions",
        "Type them in any cell of any sheet. The answers in column G are live: "
        "if they show #NAME?, the add-in is not installed.",
    )
    for number, (text, width) in enumerate(HEADERS, 1):
        cell = sheet.cell(HEADER_ROW, number)
        cell.value, cell.style = text, "lc header"
        sheet.column_dimensions[cell.column_letter].width = width
    for row, function in enumerate(CATALOGUE.values(), FIRST_ROW):
        arguments = "\n".join(
            f"[{a.name}] {a.description}" if a.optional else f"{a.name} {a.description}"
            for a in function.arguments
        )
        formula = function.formula
        texts = (
            function.name, function.group, function.summary, function.result, arguments,
            f"={formula}", None, function.source,
        )  # fmt: skip
        for number, text in enumerate(texts, 1):
            cell = sheet.cell(row, number)
            cell.style = "lc label" if number == 1 else "lc note"
            cell.value = text
            if number == 6:
                cell.data_type = "s"  # the text of the formula, not the formula
        answer = sheet.cell(row, 7)
        answer.value, answer.style = f"={formula}", "lc result"
        answer.alignment = answer.alignment.copy(vertical="top", wrap_text=True)
        answer.number_format = "yyyy-mm-dd" if _is_date(function) else "General"
        sheet.row_dimensions[row].height = CHARACTERS_PER_POINT_ROW * _lines(texts)
    last = FIRST_ROW + len(CATALOGUE) - 1
    sheet.freeze_panes = f"B{FIRST_ROW}"
    sheet.auto_filter.ref = f"A{HEADER_ROW}:H{last}"
    print_setup(sheet, f"A1:H{last}")
    sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"


def _is_date(function: Function) -> bool:
    return function.gives == "date" or function.spills


def _lines(texts: tuple[str | None, ...]) -> int:
    """Count the lines that the tallest cell of a row needs in its column's width."""
    return max(
        sum(1 + len(line) // int(width * 1.05) for line in text.split("\n"))
        for text, (_, width) in zip(texts, HEADERS, strict=True)
        if text is not None
    )
