"""Sheet Sale: a quote or invoice from tagged boards, with its moisture statement, on one page."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.form import Field, write_form
from lumbercalc.book.layout import RED, ROW_HEIGHT, alignment, head, mark, padded, print_setup
from lumbercalc.book.sheets.stacks import DATE
from lumbercalc.book.table import Column, Table
from lumbercalc.book.validation import limits_of, validation
from lumbercalc.sheet.limits import Limits

LINES = 25
HEAD_ROW = 4
LINE_HEADER_ROW = 11
FIRST_LINE = LINE_HEADER_ROW + 1
LAST_LINE = FIRST_LINE + LINES - 1
TOTALS_ROW = LAST_LINE + 2

_OF_BOARD = 'IF({tag}="","",IFERROR(INDEX(board_%s,MATCH({tag},board_tag,0)),""))'

_ROUNDED = 'IF({tag}="","",IFERROR(ROUND(INDEX(board_dry_bf,MATCH({tag},board_tag,0)),2),""))'
"""Priced as it is printed, so that the buyer can reckon the line again."""

COLUMNS = (
    Column("tag", "Tag", "input", 14, "@", choices="=board_tag"),
    Column("species", "Species", "result", 22, "@", f"={_OF_BOARD % 'species'}"),
    Column("quarters", "Thickness", "result", 11, "@", f"={_OF_BOARD % 'quarters'}"),
    Column("grade", "Grade", "result", 12, "@", f'={_OF_BOARD % "grade"}&""'),
    Column("bf", "Dry board feet (bf)", "result", 12, "#,##0.00", "=" + _ROUNDED),
    Column("price", "Price ($/bf)", "result", 11, "#,##0.00", f"={_OF_BOARD % 'price'}"),
    Column(
        "discount", "Discount (%)", "input", 12, "0.0",
        limits=limits_of("LINE_TOTAL", "discount_pct"),
    ),
    Column(
        "total", "Total ($)", "result", 14, "#,##0.00",
        '=IF(OR({tag}="",NOT(ISNUMBER({price}))),"",'
        'LINE_TOTAL({bf},{price},IF({discount}="",sale_discount,{discount})))',
    ),
    Column(
        "note", "Check (not printed)", "check", 34, "@",
        '=IF({tag}="","",IF(COUNTIF(board_tag,{tag})=0,"no such board on Boards",'
        'IF(COUNTIF(sale_tag,{tag})>1,"this board stands twice",'
        'IF(INDEX(board_insects,MATCH({tag},board_tag,0))="signs","insect signs: do not sell",'
        'IF(NOT(ISNUMBER({price})),"no price on Prices","ok")))))',
    ),
)  # fmt: skip
"""The lines of the sale."""

SALE = Table("Sale", "sale", "", COLUMNS, rows=LINES)

LINE_NAMES = {
    "tag": "sale_tag",
    "bf": "sale_line_bf",
    "total": "sale_line_total",
    "note": "sale_note",
}
"""Defined names of the columns that other formulas use."""

HEAD_FIELDS = [
    Field("sale_kind", "Quote or invoice", "input", "@", "Quote",
          Limits("choice", choices=("Quote", "Invoice"))),
    Field("sale_number", "Number", "input", "@"),
    Field("sale_date", "Date", "input", DATE, None, Limits("date")),
    Field("sale_buyer", "Buyer", "input", "@"),
    Field("sale_stack", "Stack for the moisture statement", "input", "@", choices="=stack_name"),
    Field("sale_discount", "Discount on every line (%)", "input", "0.0", 0,
          limits_of("LINE_TOTAL", "discount_pct")),
]  # fmt: skip

TOTAL_FIELDS = [
    Field("sale_bf", "Dry board feet (bf)", "result", "#,##0.00", "=SUM(sale_line_bf)"),
    Field("sale_subtotal", "Lines ($)", "result", "#,##0.00", "=SUM(sale_line_total)"),
    Field("sale_delivery", "Delivery ($)", "input", "#,##0.00", 0, Limits("$", 0, 100_000)),
    Field("sale_tax_rate", "Sales tax (%)", "input", "0.000", 0, Limits("%", 0, 50)),
    Field("sale_tax", "Tax ($)", "result", "#,##0.00",
          "=ROUND((sale_subtotal+sale_delivery)*sale_tax_rate/100,2)"),
    Field("sale_sum", "Total ($)", "result", "#,##0.00",
          "=sale_subtotal+sale_delivery+sale_tax"),
    Field("sale_deposit", "Deposit paid ($)", "input", "#,##0.00", 0, Limits("$", 0, 1_000_000)),
    Field("sale_due", "Due ($)", "result", "#,##0.00", "=sale_sum-sale_deposit"),
]  # fmt: skip

_LAST = "INDEX(stack_last,MATCH(sale_stack,stack_name,0))"
_READ = 'IFERROR(INDEX(lot_%s,MATCH(sale_stack,lot_stack,0)),"")'
STATEMENT = (
    f'=IF(sale_stack="","",IFERROR(IF({_LAST}="",'
    f"IF(ISNUMBER({_READ % 'day'}),{_READ % 'statement'},"
    '"No weighings and no readings of this stack yet."),'
    f"IF(AND(ISNUMBER({_READ % 'day'}),{_READ % 'day'}>={_LAST}),{_READ % 'statement'},"
    f'MC_STATEMENT(weighing_used,{_LAST},"weighed sample boards",weighing_day,'
    'weighing_stack,sale_stack))),"No such stack on Stacks."))'
)
"""One line on the boards of the stack that a meter read, or that were weighed, whichever is later.

Of one day the meter counts: it is read on more boards.
"""

TERMS = (
    "Board feet are net: the green tally less the shop's allowance for shrinkage. The "
    "moisture content is that of the boards weighed or read. Wood takes up and gives off moisture, "
    "and moves, with the air of the place where it is used. Tax is on lines and delivery."
)


def add_sale(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet("Sale")
    head(sheet, '=sale_kind&" "&sale_number', "=shop_name", len(COLUMNS))
    sheet["I2"].value = "Type or choose tags; the rest is looked up."
    sheet["I2"].style = "lc lead"
    write_form(workbook, sheet, HEAD_FIELDS, (HEAD_ROW, 2))
    for row in range(HEAD_ROW, HEAD_ROW + len(HEAD_FIELDS)):
        label = sheet.cell(row, 2)
        sheet.cell(row, 1).value, sheet.cell(row, 1).style = label.value, "lc label"
        label.value = None
        sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=2)
        sheet.merge_cells(start_row=row, end_row=row, start_column=3, end_column=5)
        sheet.cell(row, 3).alignment = alignment("@")
    _lines(workbook, sheet)
    write_form(workbook, sheet, TOTAL_FIELDS, (TOTALS_ROW, 7))
    labels = [field.label for field in TOTAL_FIELDS]
    for row in range(TOTALS_ROW, TOTALS_ROW + len(TOTAL_FIELDS)):
        sheet.cell(row, 7).alignment = COLUMNS[-2].alignment
    for label in ("Total ($)", "Due ($)"):
        cell = sheet.cell(TOTALS_ROW + labels.index(label), 8)
        cell.style, cell.number_format = "lc total", padded("#,##0.00")
        cell.alignment = COLUMNS[-2].alignment
    for first, rows, text in ((TOTALS_ROW, 3, STATEMENT), (TOTALS_ROW + 3, 5, TERMS)):
        sheet.merge_cells(start_row=first, end_row=first + rows - 1, start_column=1, end_column=5)
        sheet.cell(first, 1).value, sheet.cell(first, 1).style = text, "lc note"
    for row in range(HEAD_ROW - 1, TOTALS_ROW + len(TOTAL_FIELDS)):
        sheet.row_dimensions[row].height = ROW_HEIGHT
    sheet.row_dimensions[LINE_HEADER_ROW].height = 32
    mark(sheet, f"I{FIRST_LINE}:I{LAST_LINE}", f'AND(I{FIRST_LINE}<>"",I{FIRST_LINE}<>"ok")', RED)
    print_setup(sheet, f"A1:H{TOTALS_ROW + len(TOTAL_FIELDS) - 1}", landscape=False, numbered=False)
    sheet.page_setup.fitToHeight = 1
    sheet.freeze_panes = f"A{FIRST_LINE}"


def _lines(workbook: Workbook, sheet: Worksheet) -> None:
    for number, column in enumerate(COLUMNS, 1):
        letter = get_column_letter(number)
        header = sheet[f"{letter}{LINE_HEADER_ROW}"]
        header.value, header.style = column.header, "lc header"
        sheet.column_dimensions[letter].width = column.width
        for row in range(FIRST_LINE, LAST_LINE + 1):
            cell = sheet[f"{letter}{row}"]
            cell.style, cell.number_format = f"lc {column.role}", padded(column.number_format)
            cell.alignment = column.alignment
            if column.formula:
                cell.value = SALE.formula(column, row)
        rule = validation(column.limits, column.choices, column.header, "")
        if column.role == "input" and rule is not None:
            rule.add(f"{letter}{FIRST_LINE}:{letter}{LAST_LINE}")
            sheet.add_data_validation(rule)
        if column.key in LINE_NAMES:
            area = f"${letter}${FIRST_LINE}:${letter}${LAST_LINE}"
            SALE.name_cells(workbook, LINE_NAMES[column.key], area)
