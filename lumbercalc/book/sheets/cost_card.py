"""Sheet Cost card: one stack on one page, step by step from the logs to a dry board foot."""

from __future__ import annotations

from openpyxl.chart import BarChart
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.page.chart_looks import AIR, Bar
from lumbercalc.book.page.charts import column_chart, cover, stand
from lumbercalc.book.page.form import Field, chosen_or_first, row_of, write_form
from lumbercalc.book.page.layout import ROW_HEIGHT, head, mark_unless_ok, padded, print_setup
from lumbercalc.book.page.styles import BARK, MOSS, RUST
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.cost_card_steps import (
    CARD_SHEET,
    ENDS,
    FIGURES,
    PRICES,
    STEPS,
    STEPS_COLUMN,
    STEPS_ROW,
    WATERFALL,
    both,
)

CHOICE = [
    Field(
        "waterfall_stack",
        "Stack",
        "input",
        "@",
        choices="=cost_stack",
        about="one that stands on Costs; blank shows the first one",
    ),
]
"""What is typed on the sheet."""

LOOKED_UP = [
    Field(
        "waterfall_name",
        "Stack",
        "result",
        "@",
        chosen_or_first("waterfall_stack", "cost_stack"),
    ),
    Field(
        "waterfall_row", "Its row on Costs", "result", "0", row_of("waterfall_name", "cost_stack")
    ),
    Field(
        "waterfall_on",
        "Reckoned (1) or not (0)",
        "result",
        "0",
        '=IF(waterfall_row="",0,IF(ISNUMBER(waterfall_each),1,0))',
    ),
]
"""Right of the printed page."""

CHECK = Field(
    "",
    "Check",
    "check",
    "@",
    '=IF(waterfall_name="","no stack yet: Costs has no row",IF(waterfall_row="",'
    '"no such stack on Costs",INDEX(cost_note,waterfall_row)))',
)

PRINTED = 6
CHOICE_ROW = 4
CHART_ROW = ENDS.last_row + 2
CHART_ROWS = 24
NOTES_ROW = CHART_ROW + CHART_ROWS
NOTES = (
    "Steps up to drying are per green board foot; the losses lift them to a dry, saleable one.",
    "Power, space and money run from stacking to the likely ready date; the date is an estimate.",
    "A dehumidifier's rating holds for its test; in cool or dry air it takes more power.",
    "Break-even is the cost itself: no profit, no wage beyond the labor typed, no tax.",
)


def waterfall_chart() -> BarChart:
    """Make the chart of the steps: each column stands on what came before.

    Returns
    -------
    BarChart
        Over the block `WATERFALL`.
    """
    chart = column_chart("$ per board foot", "0.00")
    steps = both("step")
    stand(chart, steps, both("under"), " ")
    stand(chart, steps, both("bought"), "to the stack", Bar(MOSS))
    stand(chart, steps, both("drying"), "drying", Bar(AIR, "wdUpDiag"))
    stand(chart, steps, both("losing"), "losses", Bar(RUST))
    stand(chart, steps, both("ends"), "cost and prices", Bar(BARK), labelled=True)
    return chart


def add_cost_card(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(CARD_SHEET)
    lead = "What a dry, saleable board foot of one stack costs, step by step."
    head(sheet, '="Cost card"&IF(waterfall_name="","",": "&waterfall_name)', lead, PRINTED)
    row = write_form(workbook, sheet, CHOICE, (CHOICE_ROW, 1))
    row = write_form(workbook, sheet, [*FIGURES, *PRICES, CHECK], (row, 1))
    sheet.merge_cells(start_row=row - 1, end_row=row - 1, start_column=2, end_column=PRINTED)
    mark_unless_ok(sheet, f"B{row - 1}", f"$B${row - 1}")
    WATERFALL.write(sheet)
    ENDS.write(sheet)
    for column in WATERFALL.columns[:PRINTED]:
        cell = sheet[f"{WATERFALL.letter(column.key)}{ENDS.first_row}"]
        cell.style, cell.alignment = "lc total", column.alignment
        cell.number_format = padded(column.number_format)
    sheet.column_dimensions["A"].width = 34
    write_form(workbook, sheet, LOOKED_UP, (FIRST_ROW, STEPS_COLUMN))
    write_form(workbook, sheet, STEPS, (STEPS_ROW, STEPS_COLUMN))
    for right, width in ((STEPS_COLUMN, 24), (STEPS_COLUMN + 1, 14)):
        sheet.column_dimensions[get_column_letter(right)].width = width
    last_column = get_column_letter(PRINTED)
    cover(sheet, waterfall_chart(), f"A{CHART_ROW}:{last_column}{NOTES_ROW - 2}")
    for number, note in enumerate(NOTES, NOTES_ROW):
        sheet.cell(number, 1).value, sheet.cell(number, 1).style = note, "lc lead"
    last = NOTES_ROW + len(NOTES) - 1
    for each in range(CHOICE_ROW, last + 1):
        sheet.row_dimensions[each].height = ROW_HEIGHT
    sheet.row_dimensions[WATERFALL.header_row].height = 32
    sheet.freeze_panes = f"A{FIRST_ROW}"
    print_setup(sheet, f"A1:{last_column}{last}", landscape=False)
    sheet.page_setup.fitToHeight = 1
