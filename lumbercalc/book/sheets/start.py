"""Sheet Start: the shop, the as-of date and targets, what to do first, and the cautions."""

from __future__ import annotations

from openpyxl.chart import ScatterChart
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.chart_looks import AS_OF, STACK_LOOKS, TARGET
from lumbercalc.book.page.charts import cover, date_chart, draw, name_at_point
from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import DATE, GREEN, RED, ROW_HEIGHT, head, mark, print_setup
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.course import course_area
from lumbercalc.book.sheets.stack_advice import EMPTY
from lumbercalc.book.sheets.stack_curves import (
    STACK_COURSES,
    STACK_LINES,
    line_name_cell,
    name_cell,
)
from lumbercalc.sheet.limits import Limits
from lumbercalc.version import TEMPLATE

FIELDS = [
    Field("shop_name", "Shop", "input", "@", "My lumber shop"),
    Field(
        "shop_address",
        "Its address",
        "input",
        "@",
        about="stands on the paper of a sale, as the next two",
    ),
    Field(
        "shop_contact",
        "Telephone or e-mail",
        "input",
        "@",
        about="under it: such as how and until when to pay, up to 200 characters",
    ),
    Field("shop_terms", "What every buyer is told", "input", "@"),
    Field(
        "as_of",
        "As of (today, when you look)",
        "input",
        DATE,
        None,
        Limits("date"),
        about="type today's date: nothing here changes by itself",
    ),
    Field(
        "target_mc",
        "Usual target MC (%)",
        "input",
        "0.0",
        8,
        limits_of("READY_DATE", "target_mc"),
        about="6 to 8 % for furniture and cabinets (Wood Handbook ch. 13)",
    ),
]

STATUS = [
    Field(
        "addin_version",
        "lumbercalc in this spreadsheet",
        "check",
        "@",
        '=IFERROR(LUMBERCALC_VERSION(),"not there: run lumbercalc addin")',
    ),
    Field("template_version", "Template of this workbook", "result", "0", TEMPLATE),
    Field("", "Boards and bundles on hand", "result", "#,##0", '=COUNTIF(board_stock,">0")'),
    Field("", "Board feet on hand, green (bf)", "result", "#,##0", "=SUM(board_stock)"),
    Field("", "Value at your prices ($)", "result", "#,##0", "=SUM(board_value)"),
    Field(
        "",
        "Stacks",
        "result",
        "0",
        f'=SUMPRODUCT((stack_name<>"")*1)-COUNTIF(stack_advice,"{EMPTY}")',
    ),
    Field(
        "",
        "Next stack likely ready",
        "result",
        DATE,
        '=IF(OR(as_of="",COUNTIFS(stack_open,">="&as_of)=0),"none",'
        'SMALL(stack_open,COUNTIFS(stack_open,"<"&as_of)+1))',
    ),
    Field("", "Checks to look at", "result", "0", "=checks_to_look_at"),
]

STEPS = (
    "Fill in the shop above, and come back to the as-of date whenever you look.",
    "Site: name your places in column J, then type temperature and humidity of each month.",
    "Stacks: a row for each stack: a name never used before, place, species, thickness and start.",
    "Loads: what each load cost. Boards: each board or bundle, with its stack and its load.",
    "Sample boards: at least four in a stack; set them up as the sheet says.",
    "Weighings: weigh them on the same day; Stacks then forecasts from your own weights.",
    "Prices, then Costs: what a dry board foot costs.",
    "Sales and Sales lines: a row for each sale and for each of its lines; Sale prints it.",
    "Checks: look there before you believe a total.",
    "To print a table without its blank rows, hide them: the arrow at its first header, not empty.",
)

CAUTIONS = (
    "Forecasts are estimates with a band. Weigh sample boards before you sell or use the wood.",
    "Floor and shelf loads are figures, not an approval: ask a licensed engineer and follow the "
    "local building code.",
    "Stacks topple and lumber is heavy: level base, aligned stickers, no climbing, lift in twos.",
    "Fans, dehumidifiers and cords: follow their labels and the local electrical code; "
    "no cord under a stack.",
    "Dust and mold harm lungs: wear what the labels and local rules ask for, and air the room.",
    "Ovens, hot boxes and hot sections burn: never leave them alone; smoke alarm, heaters by the "
    "local fire code, none that burns fuel without a flue: carbon monoxide kills.",
    "Sealers, finishes, borates, insecticides: by their labels, some for licensed hands only. Heat "
    "treatment for sale across borders is for certified operators.",
    "Plant quarantines may forbid taking logs, bark or green wood over a county or state line: ask "
    "your state.",
    "Sell on the measure and with the words that your law asks for.",
)


KEY = (
    ("lc input", "boxed", "type here"),
    ("lc result", "plain", "computed: leave it alone"),
    ("lc check", "slanted", "a check in words; bold on red when there is something to look at"),
)

LINE_LENGTH = 112
"""Characters that fit in one line of the sheet."""

CHART_ROWS = 16


def stacks_chart() -> ScatterChart:
    """Make the chart of the last stacks: each with its name at the day it was stacked.

    Returns
    -------
    ScatterChart
        Over the areas of the sheet Curves.
    """
    chart = date_chart("moisture content (% MC)")
    for number, (parts, look) in enumerate(zip(STACK_COURSES, STACK_LOOKS, strict=True)):
        days, values = course_area(parts, "day"), course_area(parts, "likely")
        series = draw(chart, days, values, look, name_cell(number))
        name_at_point(series, look.color)
    for day, height, look, name in (
        ("day", "target", TARGET, line_name_cell("target")),
        ("as_of", "height", AS_OF, line_name_cell("as_of")),
    ):
        series = draw(chart, STACK_LINES.area(day), STACK_LINES.area(height), look, name)
        name_at_point(series, look.color, above=True)
    chart.legend = None
    return chart


def add_start(workbook: Workbook) -> None:
    """Add the sheet as the first one.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet("Start", 0)
    head(sheet, "Lumber shop workbook", "What you have, how wet it is, when it is ready.", 3)
    for letter, width in zip("ABC", (34, 36, 62), strict=True):
        sheet.column_dimensions[letter].width = width
    row = _section(sheet, 4, "The shop")
    row = write_form(workbook, sheet, FIELDS, (row, 1)) + 1
    row = _section(sheet, row, "At a glance")
    first = row
    row = write_form(workbook, sheet, STATUS, (row, 1)) + 1
    mark(sheet, f"B{first}", f'LEFT($B${first},3)="not"', RED)
    mark(sheet, f"B{row - 2}", f"$B${row - 2}>0", RED)
    mark(sheet, f"B{row - 2}", f"$B${row - 2}=0", GREEN)
    row = _section(sheet, row, "The stacks: how wet, and likely when ready")
    cover(sheet, stacks_chart(), f"A{row}:C{row + CHART_ROWS - 2}")
    row = _section(sheet, row + CHART_ROWS, "How to read the cells")
    for style, text, meaning in KEY:
        sheet.cell(row, 1).value, sheet.cell(row, 1).style = text, style
        sheet.cell(row, 2).value, sheet.cell(row, 2).style = meaning, "lc lead"
        row += 1
    row = _lines(sheet, row + 1, "What to do first", STEPS, "lc text")
    row = _lines(sheet, row + 1, "Cautions", CAUTIONS, "lc caution")
    for each in range(4, row):
        sheet.row_dimensions[each].height = sheet.row_dimensions[each].height or ROW_HEIGHT
    print_setup(sheet, f"A1:C{row - 1}", landscape=False)
    sheet.page_setup.fitToHeight = 1


def _section(sheet: Worksheet, row: int, title: str) -> int:
    """Write a section's title across the sheet; give the row under it."""
    for column in range(1, 4):
        sheet.cell(row, column).style = "lc section"
    sheet.cell(row, 1).value = title
    return row + 1


def _lines(sheet: Worksheet, row: int, title: str, lines: tuple[str, ...], style: str) -> int:
    """Write a section of numbered lines; give the row after it."""
    row = _section(sheet, row, title)
    for number, text in enumerate(lines, 1):
        sheet.cell(row, 1).value = f"{number}. {text}"
        for column in range(1, 4):
            sheet.cell(row, column).style = style
        sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=3)
        sheet.row_dimensions[row].height = ROW_HEIGHT if len(text) < LINE_LENGTH else 30
        row += 1
    return row
