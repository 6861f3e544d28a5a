"""Sheet Readings, its second table: what the readings of the latest day say of each stack."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.pagebreak import Break, ColBreak
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.layout import (
    DATE,
    GREEN,
    LEAD_ROW,
    RED,
    TITLE_ROW,
    all_rows,
    mark,
    print_setup,
)
from lumbercalc.book.page.names import column_area, define, row_above
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Column
from lumbercalc.book.sheets.named_stack import of_named_stack
from lumbercalc.book.sheets.readings import CONFIDENCE, READINGS, SHORTLY, TOLERANCE
from lumbercalc.book.sheets.stacks import STACKS

WET_LEFT_OUT = "a wet reading is left out"
WETTER_BEFORE = "wet boards were not read again"

LOTS_LEAD = (
    "By the readings of its latest day. A reading that is left out has no moisture content: its "
    "Check says why. Meters estimate: weigh sample boards too."
)

_MINE = "(reading_stack={stack})"
_FROM_THAT_DAY = '((reading_day=0)+(reading_day>=IF({day}="",0,{day}))>0)'
_LEFT_OUT = f"{_MINE}*(1-ISNUMBER(reading_mc))*{_FROM_THAT_DAY}"
"""Rows without a moisture content, of the latest day or later, or without a day."""
_LATEST = f"SUMPRODUCT(MAX({_MINE}*ISNUMBER(reading_mc)*reading_day))"
_PINS = f'SUMPRODUCT({_MINE}*ISNUMBER(reading_counts)*(reading_meter="pin"))'
_TARGET = of_named_stack("goal")
_LOT = "reading_stack,{stack}"


def _read(formula: str, fewest: int = 1) -> str:
    return f'=IF({{stack}}="","",IF({{readings}}<{fewest},"",{formula}))'


LOTS = Block(
    READINGS.sheet,
    (
        Column(
            "stack",
            "Stack",
            "result",
            13,
            "@",
            f'=IFERROR(INDEX(stack_name,ROW()-{row_above("reading_board")})&"","")',
        ),
        Column(
            "target",
            "Target MC (%)",
            "result",
            10,
            "0.0",
            f'=IF({{stack}}="","",IF(ISNUMBER({_TARGET}),{_TARGET},"none"))',
        ),
        Column(
            "day",
            "Latest readings",
            "result",
            12,
            DATE,
            f'=IF({{stack}}="","",IF({_LATEST}=0,"",{_LATEST}))',
        ),
        Column(
            "readings",
            "Readings counted",
            "result",
            10,
            "0",
            f'=IF({{stack}}="","",SUMPRODUCT({_MINE}*ISNUMBER(reading_counts)))',
        ),
        Column(
            "left_out",
            "Left out, that day or later",
            "result",
            13,
            "0",
            f'=IF({{stack}}="","",SUMPRODUCT({_LEFT_OUT}))',
        ),
        Column(
            "wet",
            "Left out and over target + 2 %",
            "result",
            14,
            "0",
            '=IF({stack}="","",IF(NOT(ISNUMBER({target})),{left_out},SUMPRODUCT('
            f"{_LEFT_OUT}*ISNUMBER(reading_may_be)*(reading_may_be>{{target}}+{2 * TOLERANCE}))))",
        ),
        Column(
            "before",
            f"Over target + 2 % in the {SHORTLY} days before, not read again",
            "result",
            15,
            "0",
            '=IF({stack}="","",IF(NOT(ISNUMBER({target})),0,COUNTIFS(reading_stack,{stack},'
            f'reading_not_again,1,reading_mc,">"&({{target}}+{2 * TOLERANCE}))))',
        ),
        Column(
            "method",
            "Read with",
            "result",
            14,
            "@",
            _read(
                f'IF({_PINS}={{readings}},"pin meter",IF({_PINS}=0,"pinless meter","meters"))',
            ),
        ),
        Column(
            "mean",
            "Mean MC (%)",
            "result",
            10,
            "0.0",
            _read(f"AVERAGEIFS(reading_counts,{_LOT})"),
        ),
        Column(
            "upper",
            f"Mean at most, {CONFIDENCE} % sure (%)",
            "result",
            14,
            "0.0",
            _read(f"MC_UPPER(reading_counts,{CONFIDENCE},{_LOT})", fewest=2),
        ),
        Column(
            "share",
            f"Within {TOLERANCE} % of the target (%)",
            "result",
            13,
            "0",
            _read(
                'IF({target}="none","",'
                f"SHARE_WITHIN(reading_counts,{{target}},{TOLERANCE},{_LOT}))"
            ),
        ),
        Column(
            "ready",
            "Ready by its readings",
            "result",
            23,
            "@",
            f'=IF({{stack}}="","",IF({{wet}}>0,"{WET_LEFT_OUT}",IF({{before}}>0,'
            f'"{WETTER_BEFORE}",IF({{readings}}=0,"no readings",'
            'IF({target}="none","no target on Stacks or Start",'
            f"READINESS(reading_counts,{{target}},{TOLERANCE},{CONFIDENCE},{_LOT}))))))",
        ),
        Column(
            "statement",
            "Statement for the invoice",
            "result",
            81,
            "@",
            _read(
                f'IF({{wet}}>0,"No statement: {WET_LEFT_OUT}, see Readings.",'
                f'IF({{before}}>0,"No statement: {WETTER_BEFORE}, see Readings.",'
                f"MC_STATEMENT(reading_counts,{{day}},{{method}},reading_day,{_LOT})))"
            ),
        ),
    ),
    rows=STACKS.rows,
    header_row=HEADER_ROW,
    left=len(READINGS.columns) + 2,
)
"""A row for each stack, in the order of Stacks. As wide as the readings: fitted to two pages, Calc
breaks in the middle, and not where the sheet says."""


def add_readings(workbook: Workbook) -> None:
    """Add the sheet with both of its tables.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = READINGS.write(workbook)
    LOTS.write(sheet)
    for column in LOTS.columns:
        letter = LOTS.letter(column.key)
        sheet.column_dimensions[letter].width = column.width
        sheet[f"{letter}{TITLE_ROW}"].style = "lc title"
        # to where Stacks may reach: a shop with more stacks fills the rows down
        area = column_area(sheet.title, letter, FIRST_ROW, STACKS.last_row)
        define(workbook, f"lot_{column.key}", area)
    sheet.cell(TITLE_ROW, LOTS.left).value = "Readings, stack by stack"
    lead = sheet.cell(LEAD_ROW, LOTS.left)
    lead.value, lead.style = LOTS_LEAD, "lc lead"
    gap = get_column_letter(LOTS.left - 1)
    sheet.column_dimensions[gap].width = 3
    sheet[f"{gap}{TITLE_ROW}"].style = "lc title"
    _mark(sheet, "ready", '{cell}="ready"', GREEN)
    _mark(sheet, "ready", f'OR({{cell}}="{WET_LEFT_OUT}",{{cell}}="{WETTER_BEFORE}")', RED)
    _mark(sheet, "left_out", "AND(ISNUMBER({cell}),{cell}>0)", RED)
    last = LOTS.letter(LOTS.columns[-1].key)
    print_setup(sheet, all_rows(last), pages_wide=2)
    sheet.col_breaks = ColBreak(brk=(Break(id=LOTS.left - 1),))


def _mark(sheet: Worksheet, key: str, formula: str, color: str) -> None:
    letter = LOTS.letter(key)
    area = f"{letter}{LOTS.first_row}:{letter}{LOTS.last_row}"
    mark(sheet, area, formula.format(cell=f"${letter}{LOTS.first_row}"), color)
