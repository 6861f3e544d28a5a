"""Sheet Stack card: one stack on one page, with its curve and its last weighings."""

from __future__ import annotations

from dataclasses import replace

from openpyxl.chart import ScatterChart
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.chart_looks import AS_OF, BAND, EMC_LINE, LIKELY, MEASURED, TARGET
from lumbercalc.book.page.charts import cover, date_chart, draw
from lumbercalc.book.page.form import Field, looked_up, or_blank, write_form
from lumbercalc.book.page.layout import (
    DATE,
    ROW_HEIGHT,
    alignment,
    head,
    mark_unless_ok,
    padded,
    print_setup,
)
from lumbercalc.book.page.table import FIRST_ROW, Column, Role
from lumbercalc.book.sheets.card_curve import CARD_COURSE, CARD_EMC, CARD_LINES, CARD_POINTS
from lumbercalc.book.sheets.course import course_area
from lumbercalc.book.sheets.weighings import WEIGHINGS

CARD = "Stack card"

CHOICE = [
    Field(
        "card_stack",
        "Stack",
        "input",
        "@",
        choices="=stack_name",
        about="choose a stack, then print the page; blank shows the first one",
    ),
]
"""What is typed on the sheet."""


def _of_stack(key: str, label: str, number_format: str = "@") -> Field:
    """Declare a cell that shows a figure of the stack's row on Stacks."""
    value = looked_up(f"stack_{key}", "card_row")
    return Field(f"card_{key}", label, "result", number_format, value)


SETUP = [
    _of_stack("place", "Place"),
    _of_stack("setting", "Air through the stack"),
    _of_stack("air", "Air factor", "0.00"),
    _of_stack("species", "Species"),
    _of_stack("quarters", "Thickness"),
    _of_stack("sawn", "As sawn (in)", "0.000"),
    _of_stack("green", "Green MC (%)", "0.0"),
    _of_stack("sticker", "Sticker (in)", "0.000"),
    Field(
        "card_size",
        "Width x length (ft)",
        "result",
        "@",
        '=IF(card_row="","",IF(OR(INDEX(stack_width,card_row)="",INDEX(stack_length,card_row)=""),'
        '"",INDEX(stack_width,card_row)&" x "&INDEX(stack_length,card_row)))',
    ),
    _of_stack("start", "Stacked on", DATE),
]

NOW = [
    Field("", "As of", "result", DATE, f"={or_blank('as_of')}"),
    _of_stack("mc_now", "MC now (%)", "0.0"),
    _of_stack("known_on", "Last measured", DATE),
    _of_stack("known_mc", "MC then (%)", "0.0"),
    _of_stack("loss", "Loss now (% MC a day)", "0.00"),
    _of_stack("loss_weighed", "Loss, weighed (% MC a day)", "0.00"),
    _of_stack("safe", "Safe rate (% MC a day)", "0.0"),
    _of_stack("emc_here", "EMC where it is (%)", "0.0"),
    _of_stack("weight", "Weight now (lb)", "#,##0"),
    _of_stack("load", "Floor load, 50 lb/ft2 on top (lb/ft2)", "0"),
]

AHEAD = [
    _of_stack("goal", "Target MC (%)", "0.0"),
    _of_stack("move_date", "Moves, or moved, on", DATE),
    _of_stack("move_place", "to"),
    _of_stack("move_setting", "Air through it there"),
    _of_stack("move_air", "Air factor there", "0.00"),
    _of_stack("rate", "Rate k (1 = as forecast)", "0.00"),
    _of_stack("spread", "give or take (1 SD)", "0%"),
    _of_stack("weighings", "Weighings used", "0"),
    _of_stack("bf", "Green board feet (bf)", "#,##0"),
    _of_stack("pints", "Water (pints a day)", "0.0"),
]

READY = (
    _of_stack("early", "Ready, early", DATE),
    _of_stack("likely", "Ready, likely", DATE),
    _of_stack("late", "Ready, late", DATE),
    _of_stack("all_boards", "Ready, all boards", DATE),
)

ADVICE = _of_stack("advice", "Advice")
CHECK = Field(
    "",
    "Check",
    "check",
    "@",
    '=IF(card_name="","no stack yet: Stacks has no row",IF(card_row="","no such stack on Stacks",'
    "INDEX(stack_note,card_row)))",
)

CHOICE_ROW = 4
FORMS_ROW = 5
READY_ROW = FORMS_ROW + 1 + len(SETUP)
CHART_ROW = READY_ROW + 5
CHART_ROWS = 25
WEIGHINGS_ROW = CHART_ROW + CHART_ROWS
LAST_WEIGHINGS = 12
PRINTED = 6
"""Columns of the page."""


def _weighing(key: str, header: str, width: float) -> Column:
    there = WEIGHINGS.column(key)
    shown: Role = "check" if there.role == "check" else "result"
    return Column(
        key, header, shown, width, there.number_format, looked_up(f"weighing_{key}", "{row}")
    )


CARD_WEIGHINGS = Block(
    CARD,
    (
        _weighing("date", "Date", 23),
        _weighing("board", "Sample board", 20),
        _weighing("mc", "MC (%)", 33),
        _weighing("loss", "Loss (% MC a day)", 15),
        _weighing("safe", "Safe rate (% MC a day)", 25),
        _weighing("note", "Check", 19),
        Column("n", "From the last", "result", 9, "0"),
        Column(
            "row",
            "Row on Weighings",
            "result",
            11,
            "0",
            '=IF({n}>=card_points,"",MATCH(SMALL(weighing_card,card_points-{n}),weighing_card,0))',
        ),
    ),
    LAST_WEIGHINGS,
    WEIGHINGS_ROW + 1,
)
"""The last weighings of the stack, the latest first; right of the page the rows they come from."""


def add_card(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(CARD)
    title = '="Stack card"&IF(card_name="","",": "&card_name)'
    head(sheet, title, "=shop_name", PRINTED)
    write_form(workbook, sheet, CHOICE, (CHOICE_ROW, 1))
    for column, title, fields in (
        (1, "As it was stacked", SETUP),
        (3, "Now", NOW),
        (5, "Ahead", AHEAD),
    ):
        _section(sheet, FORMS_ROW, column, 2, title)
        end = write_form(workbook, sheet, fields, (FORMS_ROW + 1, column))
        for row in range(FORMS_ROW + 1, end):
            sheet.cell(row, column + 1).alignment = alignment(DATE)
    _section(sheet, READY_ROW, 1, PRINTED, "When it will be ready")
    for number, field in enumerate(READY):
        at = (READY_ROW + 1 + number // 3, 1 + 2 * (number % 3))
        write_form(workbook, sheet, [field], at)
        sheet.cell(at[0], at[1] + 1).style = "lc answer"
        sheet.cell(at[0], at[1] + 1).number_format = padded(DATE)
        sheet.cell(at[0], at[1] + 1).alignment = alignment(DATE)
    under = sheet.cell(READY_ROW + 2, 3)
    under.value = (
        "Early to late: 80 % in simulation; all boards: the slowest 5 % too. Weigh before you sell."
    )
    under.style = "lc lead"
    for row, field in ((READY_ROW + 3, ADVICE), (READY_ROW + 4, CHECK)):
        write_form(workbook, sheet, [replace(field, role="check")], (row, 1))
        sheet.merge_cells(start_row=row, end_row=row, start_column=2, end_column=PRINTED)
        mark_unless_ok(sheet, f"B{row}", f"$B${row}")
    _section(sheet, WEIGHINGS_ROW, 1, PRINTED, "The last weighings")
    CARD_WEIGHINGS.write(sheet)
    cover(sheet, card_chart(), f"A{CHART_ROW}:F{WEIGHINGS_ROW - 2}")
    picked = workbook[WEIGHINGS.sheet].column_dimensions[WEIGHINGS.letter("card")]
    picked.hidden = True  # only the formulas read it
    for row in range(CHOICE_ROW, CARD_WEIGHINGS.last_row + 1):
        sheet.row_dimensions[row].height = ROW_HEIGHT
    sheet.row_dimensions[CARD_WEIGHINGS.header_row].height = 32
    sheet.freeze_panes = f"A{FIRST_ROW}"
    print_setup(sheet, f"A1:F{CARD_WEIGHINGS.last_row}", landscape=False)
    sheet.page_setup.fitToHeight = 1


def _section(sheet: Worksheet, row: int, column: int, width: int, title: str) -> None:
    for each in range(column, column + width):
        sheet.cell(row, each).style = "lc section"
    sheet.cell(row, column).value = title


def card_chart() -> ScatterChart:
    """Make the chart of the stack: what was measured, and what is ahead.

    Returns
    -------
    ScatterChart
        Over the areas of the sheet Curves.
    """
    chart = date_chart("moisture content (% MC)")
    ahead = CARD_COURSE[1]
    lines = [
        (CARD_POINTS.area("day"), CARD_POINTS.area("mc"), MEASURED, "weighed"),
        (course_area(CARD_COURSE, "day"), course_area(CARD_COURSE, "likely"), LIKELY, "likely"),
        (ahead.area("day"), ahead.area("early"), BAND, "early"),
        (ahead.area("day"), ahead.area("late"), BAND, "late"),
        (CARD_EMC.area("day"), CARD_EMC.area("emc"), EMC_LINE, "EMC of the air"),
        (CARD_LINES.area("day"), CARD_LINES.area("target"), TARGET, "target"),
        (CARD_LINES.area("as_of"), CARD_LINES.area("height"), AS_OF, "as of"),
    ]
    for days, values, look, name in lines:
        draw(chart, days, values, look, name)
    return chart
