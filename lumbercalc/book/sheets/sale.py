"""Sheet Sale: one sale of the sheet Sales as the paper for the buyer, on one page."""

from __future__ import annotations

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import (
    Field,
    chosen_or_first,
    looked_up,
    or_blank,
    row_of,
    write_form,
)
from lumbercalc.book.page.layout import (
    DATE,
    ROW_HEIGHT,
    alignment,
    head,
    label_from,
    mark_unless_ok,
    print_setup,
)
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import Column, Role
from lumbercalc.book.sheets.line_reckoning import PRICE, QUANTITY
from lumbercalc.book.sheets.sale_statement import MEAN_MC, STATEMENT
from lumbercalc.book.sheets.sale_totals import PRINTED, TOTALS, add_totals
from lumbercalc.book.sheets.sales_reckoning import (
    CANCELLED,
    DISCOUNT,
    LAPSED,
    PAGE_LINES,
    QUOTE,
)

SALE = "Sale"

HEAD_ROW = 4
LINE_HEADER_ROW = 9
FIRST_LINE = LINE_HEADER_ROW + 1
LAST_LINE = LINE_HEADER_ROW + PAGE_LINES
TOTALS_ROW = LAST_LINE + 2
LAST_ROW = TOTALS_ROW + len(TOTALS)
BESIDE = PRINTED + 6
"""Column of the figures that are not printed."""

LETTERHEAD = (
    '=shop_name&IF(shop_address="","",", "&shop_address)&IF(shop_contact="","",", "&shop_contact)'
)
"""Under the title: the shop as it is typed on Start."""

CHOICE = [Field("sale_choice", "Number", "input", "@", choices="=sales_number")]
"""What is typed on the sheet; blank shows the first sale."""


def _of_sale(name: str, label: str, number_format: str = "@", key: str = "") -> Field:
    """Declare a cell that shows a figure of the sale's row on Sales."""
    value = looked_up(f"sales_{key or name}", "sale_row")
    return Field(f"sale_{name}", label, "result", number_format, value)


LEFT = [
    *CHOICE,
    _of_sale("date", "Date", DATE),
    _of_sale("buyer", "Buyer"),
    Field(
        "sale_until",
        '=IF(sale_until="","","Good until")',
        "result",
        DATE,
        f'=IF(OR(sale_kind="{QUOTE}",sale_kind="{LAPSED}"),'
        f'{or_blank("INDEX(sales_until,sale_row)")},"")',
    ),
]
_GIVEN_BACK = (
    f'IFERROR(OR(sale_settled<0,AND(OR(sale_kind="{CANCELLED}",sale_kind="{LAPSED}"),'
    'sale_paid<>"",sale_due=0)),FALSE)'
)
"""The day under Paid on is that of a refund."""
RIGHT = [
    _of_sale("paid", f'=IF({_GIVEN_BACK},"Given back on","Paid on")', DATE),
    _of_sale("stack", "From the stack"),
    _of_sale("emc", "Your place: wood comes to (% MC)", "0.0", "place"),
]

BESIDE_FIELDS = [
    _of_sale("kind", "What it is"),
    Field(
        "sale_number",
        "Number shown",
        "result",
        "@",
        chosen_or_first("sale_choice", "sales_number"),
    ),
    Field("sale_row", "Its row on Sales", "result", "0", row_of("sale_number", "sales_number")),
    Field("sale_lines", "Its lines", "result", "0", "=COUNT(line_page)"),
    _of_sale("loss", "Loss of footage (%)", "0.0"),
    Field("sale_statement", "Moisture statement", "result", "@", STATEMENT),
    Field(
        "sale_mc",
        "Mean MC of the statement (%)",
        "result",
        "0.0",
        MEAN_MC,
    ),
    Field(
        "sale_species",
        "Species of the stack",
        "result",
        "@",
        '=IF(sale_stack="","",IFERROR(INDEX(stack_species,MATCH(sale_stack,stack_name,0))&"",""))',
    ),
    Field(
        "sale_width",
        "Mean width of its boards (in)",
        "result",
        "0.0",
        '=IF(COUNT(sale_line_width)=0,"",ROUND(AVERAGE(sale_line_width),1))',
    ),
    Field(
        "sale_note",
        "Check",
        "check",
        "@",
        '=IF(sale_number="","no sale yet: Sales has no row",'
        'IF(sale_row="","no such number on Sales",INDEX(sales_note,sale_row)))',
    ),
]
"""What the page takes from other sheets; right of it."""


def _of_line(key: str) -> str:
    return looked_up(f"line_{key}", "{row}")


def _of_board(key: str) -> str:
    board = "INDEX(line_board_row,{row})"
    return f'=IF({{row}}="","",IF({board}="","",INDEX(board_{key},{board})&""))'


def _shown(key: str, header: str, width: float, number_format: str, formula: str) -> Column:
    role: Role = "check" if key == "note" else "result"
    return Column(key, header, role, width, number_format, formula)


_LOG_OF_LINE = "INDEX(line_log,{row})"
_OWN = "INDEX(line_discount,{row})"
_BOARD_ROW = "INDEX(line_board_row,{row})"
_OTHER_WOOD = "OR(INDEX(line_species,{row})<>sale_species,INDEX(line_other_stack,{row})=1)"
"""What the statement is not of: its movement is not told."""

PAGE = Block(
    SALE,
    (
        _shown(
            "tag",
            "Tag or log",
            12,
            "@",
            '=IF({row}="","",INDEX(line_tag,{row})&INDEX(line_log,{row}))',
        ),
        _shown("what", "What", 38, "@", _of_line("what")),
        _shown("quarters", "Thick", 8, "@", _of_board("quarters")),
        _shown("grade", "Grade", 12, "@", _of_board("grade")),
        _shown("amount", "Quantity", 10, QUANTITY, _of_line("amount")),
        _shown("unit", "by", 7, "@", _of_line("unit")),
        _shown("charged", "Price ($)", 10, PRICE, _of_line("charged")),
        _shown(
            "discount",
            "Discount (%)",
            9,
            DISCOUNT,
            f'=IF({{row}}="","",IF({_OWN}<>"",{_OWN},IF(SUM(INDEX(sales_discount,sale_row))=0,"",'
            "INDEX(sales_discount,sale_row))))",
        ),
        _shown("total", "Total ($)", 11, "#,##0.00", _of_line("sum")),
        _shown("note", "Check (not printed)", 44, "@", _of_line("note")),
        Column("n", "Line", "result", 6, "0"),
        _shown(
            "row",
            "Row on Sales lines",
            12,
            "0",
            '=IF({n}>=sale_lines,"",SMALL(line_page,{n}+1))',
        ),
        _shown(
            "width",
            "Width (in)",
            9,
            "0.00",
            f'=IF({{row}}="","",IF({_OTHER_WOOD},"",IF({_BOARD_ROW}<>"",'
            f'INDEX(board_width,{_BOARD_ROW}),IF({_LOG_OF_LINE}="","",IFERROR(AVERAGEIFS('
            f"board_width,board_log,{_LOG_OF_LINE},board_fit_from,"
            '"<="&INDEX(line_log_day,{row})),"")))))',
        ),
    ),
    PAGE_LINES,
    LINE_HEADER_ROW,
)
"""The lines of the chosen sale; right of the page the rows they come from."""


def add_sale(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(SALE)
    title = '=IF(sale_kind="","Sale",sale_kind&" "&sale_number)'
    head(sheet, title, LETTERHEAD, PRINTED)
    hint = sheet[f"{PAGE.letter('note')}2"]
    hint.value, hint.style = (
        "Choose a number; the page is filled from Sales and Sales lines.",
        "lc lead",
    )
    PAGE.write(sheet)
    for row in range(FIRST_LINE, LAST_LINE + 1):
        what = sheet[f"{PAGE.letter('what')}{row}"]
        what.alignment = Alignment("left", "center", indent=1, shrink_to_fit=True)
    widths = PAGE.area("width")
    define(workbook, "sale_line_width", widths)
    _head(workbook, sheet)
    add_totals(workbook, sheet, TOTALS_ROW)
    write_form(workbook, sheet, BESIDE_FIELDS, (HEAD_ROW, BESIDE))
    for column, width in ((BESIDE, 30), (BESIDE + 1, 16)):
        sheet.column_dimensions[get_column_letter(column)].width = width
    for row in range(HEAD_ROW - 1, LAST_ROW + 1):
        sheet.row_dimensions[row].height = ROW_HEIGHT
    sheet.row_dimensions[LINE_HEADER_ROW].height = 32
    sheet.row_dimensions[LAST_ROW].height = 2 * ROW_HEIGHT
    letter = PAGE.letter("note")
    mark_unless_ok(sheet, f"{letter}{FIRST_LINE}:{letter}{LAST_LINE}", f"${letter}{FIRST_LINE}")
    print_setup(sheet, f"A1:I{LAST_ROW}", landscape=False, numbered=False)
    sheet.page_setup.fitToHeight = 1
    sheet.freeze_panes = f"A{FIRST_LINE}"


def _head(workbook: Workbook, sheet: Worksheet) -> None:
    """Write whose sale it is: at the left what it is, at the right where it goes."""
    write_form(workbook, sheet, LEFT, (HEAD_ROW, 1))
    write_form(workbook, sheet, RIGHT, (HEAD_ROW, 7))
    for row in range(HEAD_ROW, HEAD_ROW + len(LEFT)):
        sheet.cell(row, 2).alignment = alignment("@")
    for row in range(HEAD_ROW, HEAD_ROW + len(RIGHT)):
        label_from(sheet, row, 4, 7)
        sheet.merge_cells(start_row=row, end_row=row, start_column=8, end_column=9)
        sheet.cell(row, 8).alignment = alignment("@")
