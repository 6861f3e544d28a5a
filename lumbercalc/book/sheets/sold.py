"""Sheet Sold: what was sold each month by species, and the price per board foot it brought."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.page.block import MORE_ROWS, Block, row_number
from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import RED, head, mark, print_setup
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import Column
from lumbercalc.book.sheets.sales_reckoning import INVOICE

SOLD = "Sold"
MOST_ROWS = 180
FORM_ROW = 4
HEADER_ROW = FORM_ROW + 6

LEAD = (
    "Invoiced, after discounts, before delivery and tax, less returns since. "
    '"No species": work and goods without a tag, not in bf.'
)


_NO_SPECIES = "LEN({month})=7"
"""Of a key without one: 202611| is a month and the bar behind it."""


BY_MONTH = Block(
    SOLD,
    (
        Column(
            "first",
            "Month",
            "result",
            28,
            "yyyy\\-mm",
            '=IF({row}="","",DATE(VALUE(LEFT({month},4)),VALUE(MID({month},5,2)),1))',
        ),
        Column(
            "species",
            "Species",
            "result",
            26,
            "@",
            f'=IF({{row}}="","",IF({_NO_SPECIES},"no species",INDEX(line_species,{{row}})))',
        ),
        Column(
            "lines",
            "Lines",
            "result",
            8,
            "0",
            '=IF({row}="","",COUNTIFS(line_month,{month}))',
        ),
        Column(
            "bf",
            "Board feet, dry (bf)",
            "result",
            12,
            "#,##0.00",
            f'=IF({{row}}="","",IF({_NO_SPECIES},"",SUMIFS(line_bf,line_month,{{month}})))',
        ),
        Column(
            "sum",
            "Sold for ($)",
            "result",
            13,
            "#,##0.00",
            '=IF({row}="","",SUMIFS(line_sum,line_month,{month}))',
        ),
        Column(
            "price",
            "Price achieved ($/bf)",
            "result",
            12,
            "#,##0.00",
            '=IF({row}="","",IF(N({bf})=0,"",{sum}/{bf}))',
        ),
        Column(
            "year",
            "The year so far, all species ($)",
            "result",
            14,
            "#,##0.00",
            '=IF({row}="","",SUMIFS(sold_sum,sold_first,">="&DATE(YEAR({first}),1,1),'
            'sold_first,"<="&{first}))',
        ),
        Column("n", "Line", "result", 7, "0", row_number(HEADER_ROW)),
        Column(
            "row",
            "First on Sales lines",
            "result",
            9,
            "0",
            '=IF({n}>=COUNT(line_month_first),"",SMALL(line_month_first,{n}+1))',
        ),
        Column("month", "Key", "result", 30, "@", '=IF({row}="","",INDEX(line_month,{row}))'),
    ),
    MOST_ROWS,
    HEADER_ROW,
)
"""A row for each month and species, in the order in which they first stand on Sales lines."""

FIELDS = [
    Field("sold_total", "Sold in all ($)", "result", "#,##0.00", "=ROUND(SUM(sold_sum),2)"),
    Field("sold_total_bf", "Board feet, dry (bf)", "result", "#,##0.00", "=ROUND(SUM(sold_bf),2)"),
    Field(
        "sold_price",
        "Price, with a species ($/bf)",
        "result",
        "#,##0.00",
        '=IF(sold_total_bf=0,"",ROUND(SUMIFS(sold_sum,sold_bf,">0")/sold_total_bf,2))',
    ),
    Field(
        "sold_note",
        "Check",
        "check",
        "@",
        '=IF(COUNT(line_month_first)>ROWS(sold_sum),"more months and species than rows: '
        f'{MORE_ROWS}",IFERROR(IF(ABS(sold_total-SUMIFS(sales_gross,sales_kind,"{INVOICE}")'
        f'+SUMIFS(sales_back,sales_kind,"{INVOICE}"))>0.005,'
        '"the rows below do not add up to the invoices","ok"),'
        '"a line of an invoice is refused: see Sales lines"))',
    ),
]


def add_sold(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(SOLD)
    head(sheet, "Sold by month", LEAD, 7)
    write_form(workbook, sheet, FIELDS, (FORM_ROW, 1))
    row = FORM_ROW + len(FIELDS) - 1
    mark(sheet, f"B{row}", f'$B${row}<>"ok"', RED)
    BY_MONTH.write(sheet)
    for key in ("first", "bf", "sum"):
        name = f"sold_{key}"
        define(workbook, name, BY_MONTH.area(key))
    sheet.row_dimensions[HEADER_ROW].height = 40
    print_setup(sheet, f"A1:G{BY_MONTH.last_row}", landscape=False)
    sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"
    sheet.freeze_panes = f"A{BY_MONTH.first_row}"
