"""Sheet Functions: every function with its arguments, units, source and an example that runs."""

from __future__ import annotations

from openpyxl.styles import Alignment
from openpyxl.workbook import Workbook

from lumbercalc.book.page.layout import DATE, head, print_setup
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function

HEADERS = (
    ("Function", 26),
    ("Group", 12),
    ("What it does", 36),
    ("Gives", 26),
    ("Arguments, with unit and limits; optional ones in [ ]", 58),
    ("Example", 36),
    ("Answer", 24),
    ("Source", 42),
)
LINE_HEIGHT = 13.5
"""Points of one line of text."""
HIGHEST_ROW = 409
"""Points: Microsoft, "Excel specifications and limits" (row height)."""


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
        len(HEADERS),
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
        texts: tuple[str | None, ...] = (
            function.name, function.group, function.summary, function.result, arguments,
            f"={formula}", _told(function), function.source,
        )  # fmt: skip
        for number, told in enumerate(texts, 1):
            cell = sheet.cell(row, number)
            cell.style = "lc label" if number == 1 else "lc text"
            cell.value = told
            if number == 6:
                cell.data_type = "s"  # the text of the formula, not the formula
        answer = sheet.cell(row, 7)
        answer.value, answer.style = f"={_in_words(function)}", "lc result"
        answer.alignment = Alignment(
            horizontal="right", vertical="center", wrap_text=True, indent=1
        )
        answer.number_format = DATE if _is_date(function) else "0.####"
        sheet.row_dimensions[row].height = min(LINE_HEIGHT * _lines(texts) + 4, HIGHEST_ROW)
    last = FIRST_ROW + len(CATALOGUE) - 1
    sheet.freeze_panes = f"B{FIRST_ROW}"
    sheet.auto_filter.ref = f"A{HEADER_ROW}:H{last}"
    print_setup(sheet, f"A1:H{last}")
    sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"


def _in_words(function: Function) -> str:
    """Write the example's formula; a truth value in words, which Calc would show as 1."""
    if function.gives == "flag":
        return f'IF({function.formula},"TRUE","FALSE")'
    return function.formula


def _told(function: Function) -> str | None:
    """Give the words of an answer that is a text."""
    answer = function.example.answer
    return answer if isinstance(answer, str) else None


def _is_date(function: Function) -> bool:
    return function.gives == "date" or function.spills


def _lines(texts: tuple[str | None, ...]) -> int:
    """Count the lines that the tallest cell of a row needs in its column's width."""
    return max(
        sum(1 + len(line) // (width - 2) for line in text.split("\n"))
        for text, (_, width) in zip(texts, HEADERS, strict=True)
        if text is not None
    )
