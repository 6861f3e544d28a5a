"""Sheet Sale: a quote or invoice from tagged boards, with its moisture statement, on one page."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from lumbercalc.book.form import Field, write_form
from lumbercalc.book.sheets.stacks import DATE
from lumbercalc.book.table import RED, Column, Table, head, limits_of, mark, print_setup, validation
from lumbercalc.sheet.limits import Limits

LINES = 25
HEAD_ROW = 4
LINE_HEADER_ROW = 12
FIRST_LINE = LINE_HEADER_ROW + 1
LAST_LINE = FIRST_LINE + LINES - 1
TOTALS_ROW = LAST_LINE + 2

_OF_BOARD = 'IF({tag}="","",IFERROR(INDEX(board_%s,MATCH({tag},board_tag,0)),""))'

COLUMNS = (
    Column("tag", "Tag", "input", 11, "@", choices="=board_tag"),
    Column("species", "Species", "result", 22, "@", f"={_OF_BOARD % 'species'}"),
    Column("quarters", "Thickness", "result", 10, "@", f"={_OF_BOARD % 'quarters'}"),
    Column("grade", "Grade", "result", 12, "@", f'={_OF_BOARD % "grade"}&""'),
    Column("bf", "Dry board feet (bf)", "result", 11, "#,##0.00", f"={_OF_BOARD % 'dry_bf'}"),
    Column("price", "Price ($/bf)", "result", 10, "#,##0.00", f"={_OF_BOARD % 'price'}"),
    Column("discount", "Discount (%)", "input", 10, "0.0", limits=limits_of("LINE_TOTAL", "discount_pct")),
    Column("total", "Total ($)", "result", 12, "#,##0.00",
           '=IF(OR({tag}="",NOT(ISNUMBER({price}))),"",'
           'LINE_TOTAL({bf},{price},IF({discount}="",sale_discount,{discount})))'),
    Column("note", "Check", "check", 30, "@",
           '=IF({tag}="","",IF(COUNTIF(board_tag,{tag})=0,"no such board on Boards",'
           'IF(COUNTIF(sale_tag,{tag})>1,"this board stands twice",'
           'IF(INDEX(board_insects,MATCH({tag},board_tag,0))="signs","insect signs: do not sell",'
           'IF(NOT(ISNUMBER({price})),"no price on Prices","ok")))))'),
)
"""The lines of the sale."""

SALE = Table("Sale", "sale", "", COLUMNS, rows=LINES)

HEAD_FIELDS = [
    Field("sale_kind", "Quote or invoice", "input", "@", "Quote",
          Limits("choice", choices=("Quote", "Invoice"))),
    Field("sale_number", "Number", "input", "@"),
    Field("sale_date", "Date", "input", DATE, None, Limits("date")),
    Field("sale_buyer", "Buyer", "input", "@"),
    Field("sale_stack", "Stack for the moisture statement", "input", "@", choices="=stack_name"),
    Field("sale_discount", "Discount on every line (%)", "input", "0.0", 0,
          limits_of("LINE_TOTAL", "discount_pct")),
]

TOTAL_FIELDS = [
    Field("sale_bf", "Dry board feet (bf)", "result", "#,##0.00", "=SUM(sale_bf_lines)"),
    Field("sale_subtotal", "Lines ($)", "result", "#,##0.00", "=SUM(sale_total)"),
    Field("sale_delivery", "Delivery ($)", "input", "#,##0.00", 0, Limits("$", 0, 100_000)),
    Field("sale_tax_rate", "Sales tax (%)", "input", "0.000", 0, Limits("%", 0, 50)),
    Field("sale_tax", "Tax on lines and delivery ($)", "result", "#,##0.00",
          "=ROUND((sale_subtotal+sale_delivery)*sale_tax_rate/100,2)"),
    Field("sale_sum", "Total ($)", "result", "#,##0.00",
          "=sale_subtotal+sale_delivery+sale_tax"),
    Field("sale_deposit", "Deposit paid ($)", "input", "#,##0.00", 0, Limits("$", 0, 1_000_000)),
    Field("sale_due", "Due ($)", "result", "#,##0.00", "=sale_sum-sale_deposit"),
]

_LAST = "INDEX(stack_last,MATCH(sale_stack,stack_name,0))"
STATEMENT = (
    '=IF(sale_stack="","",IFERROR(MC_STATEMENT('
    f'IF((weighing_stack=sale_stack)*(weighing_day={_LAST}),weighing_used,""),{_LAST},'
    '"weighed sample boards"),"No weighings of this stack yet."))'
)
"""One line on the boards weighed last; an array formula, it picks a stack's rows."""


def add_sale(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet("Sale")
    head(sheet, "Sale", "Type or choose tags; the rest is looked up. Measured and sold on the dry tally.")
    sheet["A3"].value, sheet["A3"].style = "=shop_name", "lc label"
    write_form(workbook, sheet, HEAD_FIELDS, (HEAD_ROW, 1))
    for row in range(HEAD_ROW, HEAD_ROW + len(HEAD_FIELDS)):
        sheet.merge_cells(start_row=row, end_row=row, start_column=2, end_column=3)
    names = {"bf": "sale_bf_lines"}
    for number, column in enumerate(COLUMNS, 1):
        letter = get_column_letter(number)
        header = sheet[f"{letter}{LINE_HEADER_ROW}"]
        header.value, header.style = column.header, "lc header"
        sheet.column_dimensions[letter].width = column.width
        for row in range(FIRST_LINE, LAST_LINE + 1):
            cell = sheet[f"{letter}{row}"]
            cell.style, cell.number_format = f"lc {column.role}", column.number_format
            if column.formula:
                cell.value = SALE.formula(column, row)
        rule = validation(column.limits, column.choices, column.header, "")
        if column.role == "input" and rule is not None:
            rule.add(f"{letter}{FIRST_LINE}:{letter}{LAST_LINE}")
            sheet.add_data_validation(rule)
        SALE.name_cells(
            workbook,
            names.get(column.key, f"sale_{'line_' if column.key == 'discount' else ''}{column.key}"),
            f"${letter}${FIRST_LINE}:${letter}${LAST_LINE}",
        )
    sheet.column_dimensions["A"].width = 31
    sheet.row_dimensions[LINE_HEADER_ROW].height = 32
    write_form(workbook, sheet, TOTAL_FIELDS, (TOTALS_ROW, 7))
    for row in range(TOTALS_ROW, TOTALS_ROW + len(TOTAL_FIELDS)):
        sheet.cell(row, 7).alignment = sheet.cell(row, 7).alignment.copy(horizontal="right")
    for name in ("Total ($)", "Due ($)"):
        row = TOTALS_ROW + [field.label for field in TOTAL_FIELDS].index(name)
        sheet.cell(row, 8).style = "lc total"
        sheet.cell(row, 8).number_format = "#,##0.00"
    statement = sheet.cell(TOTALS_ROW, 1)
    sheet.merge_cells(start_row=TOTALS_ROW, end_row=TOTALS_ROW + 2, start_column=1, end_column=5)
    statement.value = ArrayFormula(statement.coordinate, STATEMENT)
    statement.style = "lc note"
    caution = sheet.cell(TOTALS_ROW + 4, 1)
    sheet.merge_cells(start_row=TOTALS_ROW + 4, end_row=TOTALS_ROW + 7, start_column=1, end_column=5)
    caution.value = (
        "Board feet are net, measured dry (green tally less the loss of footage on Prices). "
        "Sell on the measure that your law asks for. Moisture is that of the boards weighed; "
        "wood moves with the air of the place where it is used."
    )
    caution.style = "lc note"
    mark(sheet, f"I{FIRST_LINE}:I{LAST_LINE}", f'AND(I{FIRST_LINE}<>"",I{FIRST_LINE}<>"ok")', RED)
    print_setup(sheet, f"A1:I{TOTALS_ROW + len(TOTAL_FIELDS) - 1}", landscape=False)
    sheet.page_setup.fitToHeight = 1
    sheet.freeze_panes = f"A{FIRST_LINE}"
