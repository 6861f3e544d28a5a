"""Sheet Move plan: on which date to move a stack to a second place, and the water it brings."""

from __future__ import annotations

from openpyxl.chart import ScatterChart
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.chart_looks import DAY, MEASURED, TARGET
from lumbercalc.book.page.charts import cover, date_chart, draw
from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import DATE, GREEN, ROW_HEIGHT, head, mark, print_setup
from lumbercalc.book.page.styles import WRAPPED
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.move_table import (
    FROM_STACKS,
    MOVE_PLAN,
    PLAN_LINE,
    PLAN_SHEET,
    READY,
    STEP,
)
from lumbercalc.book.sheets.site import FLAT
from lumbercalc.book.sheets.stack_advice import NOT_TRUSTWORTHY

CHOICES = [
    Field(
        "plan_stack",
        "Stack",
        "input",
        "@",
        choices="=stack_name",
        about="blank plans for the first one",
    ),
    Field("plan_to", "Could move to", "input", "@", choices="=place_names"),
    Field(
        "plan_to_setting",
        "Air through it there",
        "input",
        "@",
        limits=limits_of("STACK_FACTOR", "setting"),
        about="blank: as where it stands",
    ),
    Field(
        "plan_step",
        "Days from date to date",
        "input",
        "0",
        STEP,
        limits_of("MOVE_PLAN", "step_days"),
    ),
]
"""What is typed on the sheet."""


PRINTED = 8
"""Columns of the page."""


def _here(key: str) -> str:
    return MOVE_PLAN.area(key).split("!")[1]


ANSWER = [
    Field("plan_here", "Stands in", "result", "@", "=IF(plan_moved=1,plan_move_place,plan_place)"),
    Field(
        "plan_begin",
        "Weighed, moved or stacked",
        "result",
        DATE,
        "=IF(ISNUMBER(plan_from),plan_from,plan_start)",
    ),
    Field(
        "plan_stays",
        "Ready if it stays",
        "result",
        DATE,
        f'=IF(plan_on=0,"",{READY % ""})',
    ),
    Field(
        "plan_best_ready",
        "Ready soonest if it moves",
        "result",
        DATE,
        f'=IF(MAX({_here("open_ready")})=0,"",'
        f"SMALL({_here('open_ready')},COUNTIF({_here('open_ready')},0)+1))",
    ),
    Field(
        "plan_best_day",
        "Latest date for that",
        "result",
        DATE,
        '=IF(plan_best_ready="","",SUMPRODUCT(MAX('
        f"({_here('open_ready')}=plan_best_ready)*{_here('open_day')})))",
    ),
]


def day_in_words(cell: str) -> str:
    """Write a date as text in every language of a spreadsheet: TEXT() has other letters in each.

    Parameters
    ----------
    cell : str
        Name or address of a cell with a date.

    Returns
    -------
    str
        Part of a formula.
    """
    return f'YEAR({cell})&"-"&TEXT(MONTH({cell}),"00")&"-"&TEXT(DAY({cell}),"00")'


NEVER_THERE = "leave it where it stands: that place never brings it to its target"
NO_GAIN = "moving does not pay: it is ready as soon where it stands"
INSTEAD = (
    ('plan_name=""', "no stack yet: Stacks has no row"),
    ('plan_row=""', "no such stack on Stacks"),
    ('plan_to=""', "choose a place it could move to"),
    (
        "OR(plan_on=0,ISERROR(plan_stays),ISERROR(plan_best_ready))",
        "first put this right: see the check of the stack on Stacks, and the air of both on Site",
    ),
    (
        f'COUNTIF({_here("moves")},">="&MAX(0,as_of))=0',
        "no date is left to choose: by then it is ready, or it was weighed too long ago",
    ),
    (
        'AND(ISTEXT(plan_stays),plan_best_ready="")',
        "neither place brings it to its target within 5 years",
    ),
    ('plan_best_ready=""', NEVER_THERE),
    ("plan_best_ready>=plan_stays", NO_GAIN),
)
"""When there is no date to name, and what is said then; the first that holds."""

_LOWEST_THERE = "INDEX(place_lowest,MATCH(plan_to,place_names,0))"
MOVE_IT = (
    f'"move it on "&{day_in_words("plan_best_day")}&": the latest of these dates that still makes '
    f'the earliest ready date, "&{day_in_words("plan_best_ready")}&'
    'IF(ISNUMBER(plan_stays),", "&(plan_stays-plan_best_ready)&" days sooner than if it stays",'
    '"; if it stays it never gets there")'
    f'&IF(IFERROR(plan_goal<{_LOWEST_THERE}+{FLAT},FALSE),"; {NOT_TRUSTWORTHY}","")'
)
"""Part of a formula: the date, why it, and what Stacks says of such a target."""
WORDS = Field(
    "plan_words",
    "In plain words",
    "check",
    "@",
    "="
    + "".join(f'IF({when},"{words}",' for when, words in INSTEAD)
    + MOVE_IT
    + ")" * len(INSTEAD),
)

NOTES = (
    "Likely dates only; the band of Stacks holds here too. Weigh before you move, and before you "
    "sell.",
    "Later moves leave less water for the room and cost days: the table shows how much of each.",
    "A room with wet wood in it grows damp: watch its humidity. Mold harms lungs; air the room.",
    "A dehumidifier takes out less than its rated pints in cool or dry air, and many ice up below "
    "60 to 65 deg F.",
    "Dehumidifiers, fans and cords: their labels and the local electrical code govern.",
    "Wet wood dries fast in a heated room and can check: look at the safe rate on Stacks.",
)
"""Cautions under the table, none longer than its line."""

CHART_ROW = MOVE_PLAN.last_row + 2
CHART_ROWS = 14
NOTES_ROW = CHART_ROW + CHART_ROWS
FROM_STACKS_COLUMN = PLAN_LINE.left + len(PLAN_LINE.columns) + 1


def plan_chart() -> ScatterChart:
    """Make the chart of ready dates against moving dates.

    Returns
    -------
    ScatterChart
        Over the right part of the table.
    """
    chart = date_chart("ready on", DAY, x_title="moves on")
    move = MOVE_PLAN.area("drawn_day")
    draw(chart, move, MOVE_PLAN.area("drawn_ready"), MEASURED, "ready if it moves on this date")
    draw(chart, PLAN_LINE.area("day"), PLAN_LINE.area("ready"), TARGET, "ready if it stays")
    return chart


def add_move_plan(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(PLAN_SHEET)
    lead = "Yard first and a heated room later: when to move a stack, and what the room must take."
    head(sheet, '="Move plan"&IF(plan_name="","",": "&plan_name)', lead, PRINTED)
    row = write_form(workbook, sheet, CHOICES, (FIRST_ROW - 1, 1))
    row = write_form(workbook, sheet, ANSWER, (row, 1))
    _add_words(workbook, sheet, row)
    MOVE_PLAN.write(sheet)
    PLAN_LINE.write(sheet)
    letters = [MOVE_PLAN.letter(column.key) for column in MOVE_PLAN.columns]
    table = f"{letters[0]}{MOVE_PLAN.first_row}:{letters[PRINTED - 1]}{MOVE_PLAN.last_row}"
    mark(sheet, table, f'${MOVE_PLAN.letter("note")}{MOVE_PLAN.first_row}="this one"', GREEN)
    cover(sheet, plan_chart(), f"A{CHART_ROW}:{letters[PRINTED - 1]}{NOTES_ROW - 2}")
    for number, note in enumerate(NOTES, NOTES_ROW):
        sheet.cell(number, 1).value = note
        for column in range(1, PRINTED + 1):
            sheet.cell(number, column).style = "lc caution"
        sheet.merge_cells(start_row=number, end_row=number, start_column=1, end_column=PRINTED)
    last = NOTES_ROW + len(NOTES) - 1
    for each in range(FIRST_ROW - 1, last + 1):
        sheet.row_dimensions[each].height = sheet.row_dimensions[each].height or ROW_HEIGHT
    sheet.row_dimensions[MOVE_PLAN.header_row].height = 46
    at = (FIRST_ROW, FROM_STACKS_COLUMN)
    write_form(workbook, sheet, FROM_STACKS, at)
    for offset, width in enumerate((40, 20)):
        letter = get_column_letter(FROM_STACKS_COLUMN + offset)
        sheet.column_dimensions[letter].width = width
    sheet.freeze_panes = f"A{FIRST_ROW}"
    print_setup(sheet, f"A1:{letters[PRINTED - 1]}{last}", landscape=False)
    sheet.page_setup.fitToHeight = 1


def _add_words(workbook: Workbook, sheet: Worksheet, row: int) -> None:
    """Write the answer in words across the page."""
    write_form(workbook, sheet, [WORDS], (row, 1))
    cell = sheet.cell(row, 2)
    cell.alignment = WRAPPED
    sheet.merge_cells(start_row=row, end_row=row, start_column=2, end_column=PRINTED)
    sheet.row_dimensions[row].height = 3 * ROW_HEIGHT
    mark(sheet, cell.coordinate, f'LEFT(${cell.coordinate},4)="move"', GREEN)
