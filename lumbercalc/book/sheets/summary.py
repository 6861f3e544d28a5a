"""Sheet Summary: what is on hand and what went out, by species, thickness, grade and status."""

from __future__ import annotations

from openpyxl.chart import BarChart
from openpyxl.workbook import Workbook

from lumbercalc.book.page.block import MORE_ROWS, Block, row_number
from lumbercalc.book.page.chart_looks import BARS
from lumbercalc.book.page.charts import column_chart, cover, stand
from lumbercalc.book.page.form import Field, or_blank, write_form
from lumbercalc.book.page.layout import DATE, RED, head, mark, print_setup
from lumbercalc.book.page.table import FIRST_ROW, Column
from lumbercalc.book.sheets.board_status import ON_HAND

SUMMARY = "Summary"
MOST_SORTS = 150
MOST_SPECIES = 12
CHART_ROWS = 18
FORM_ROW = 4
SPECIES_ROW = FORM_ROW + 5
CHART_ROW = SPECIES_ROW + MOST_SPECIES + 3
SORTS_ROW = CHART_ROW + CHART_ROWS + 1

LEAD = (
    "Board feet of pieces count, those of the board they were cut from do not. What is held has "
    "no value until it is released."
)


def _of_first(key: str) -> str:
    return f'=IF({{row}}=0,"",INDEX(board_{key},{{row}})&"")'


def _sum(what: str, column: str) -> str:
    return f'=IF({{row}}=0,"",SUMIFS({what},board_sort,{column}))'


BY_SORT = Block(
    SUMMARY,
    (
        Column("species", "Species", "result", 26, "@", _of_first("species")),
        Column("quarters", "Thickness", "result", 11, "@", _of_first("quarters")),
        Column("grade", "Grade", "result", 13, "@", _of_first("grade")),
        Column("status", "Status", "result", 11, "@", _of_first("status")),
        Column(
            "count",
            "Boards and bundles",
            "result",
            12,
            "#,##0",
            '=IF({row}=0,"",COUNTIFS(board_sort,{sort}))',
        ),
        Column(
            "bf", "Board feet, green (bf)", "result", 12, "#,##0.00", _sum("board_tally", "{sort}")
        ),
        Column(
            "dry",
            "Board feet, dry (bf)",
            "result",
            12,
            "#,##0.00",
            _sum("board_dry_tally", "{sort}"),
        ),
        Column("value", "Value ($)", "result", 13, "#,##0.00", _sum("board_value", "{sort}")),
        Column("n", "Line", "result", 7, "0", row_number(SORTS_ROW)),
        Column(
            "row",
            "First on Boards",
            "result",
            9,
            "0;;",
            "=IF({n}>=summary_sorts,0,SMALL(board_sort_first,{n}+1))",
        ),
        Column("sort", "Sort", "result", 40, "@", '=IF({row}=0,"",INDEX(board_sort,{row}))'),
    ),
    MOST_SORTS,
    SORTS_ROW,
)
"""A row for each sort of boards, in the order in which they first stand on Boards.

Below them "row" is 0, not an empty text: an .ods keeps no empty text, and Calc, which takes one for
0 while it computes the cells of a loaded .ods that hang on it, filled the rows with the first sort.
"""


def _of_status(status: str) -> Column:
    return Column(
        status,
        f"{status.capitalize()}, dry (bf)",
        "result",
        11,
        "#,##0",
        '=IF({row}=0,"",SUMIFS(board_dry_tally,board_species,{species},board_status,'
        f'"{status}"))',
    )


BY_SPECIES = Block(
    SUMMARY,
    (
        Column("species", "Species", "result", 26, "@", _of_first("species")),
        *(_of_status(status) for status in ON_HAND),
        Column(
            "hand",
            "On hand, dry (bf)",
            "result",
            12,
            "#,##0",
            '=IF({row}=0,"",SUM({green}:{held}))',
        ),
        Column(
            "value",
            "Value ($)",
            "result",
            13,
            "#,##0.00",
            '=IF({row}=0,"",SUMIFS(board_value,board_species,{species}))',
        ),
        Column("n", "Line", "result", 7, "0", row_number(SPECIES_ROW)),
        Column(
            "row",
            "First on Boards",
            "result",
            9,
            "0;;",
            "=IF({n}>=COUNT(board_species_first),0,SMALL(board_species_first,{n}+1))",
        ),
    ),
    MOST_SPECIES,
    SPECIES_ROW,
)
"""What is on hand of each species."""

_LISTED = f"SUM('{SUMMARY}'!$F${BY_SORT.first_row}:$F${BY_SORT.last_row})"
FIELDS = [
    Field("", "As of", "result", DATE, f"={or_blank('as_of')}"),
    Field("summary_sorts", "Sorts of boards", "result", "0", "=COUNT(board_sort_first)"),
    Field(
        "summary_note",
        "Check",
        "check",
        "@",
        f'=IF(summary_sorts>ROWS({BY_SORT.area("bf")}),"more sorts than rows: {MORE_ROWS}",'
        f"IF(COUNT(board_species_first)>ROWS({BY_SPECIES.area('hand')}),"
        f'"more species than rows: {MORE_ROWS}",IF(ABS({_LISTED}-SUM(board_tally))>0.005,'
        '"the rows below do not add up to Boards","ok")))',
    ),
]


def summary_chart() -> BarChart:
    """Make the chart of what is on hand: a bar for each species, a part for each status.

    Returns
    -------
    BarChart
        Over the rows of the species.
    """
    chart = column_chart("on hand, dry tally (bf)", "#,##0")
    for status, look in zip(ON_HAND, BARS, strict=True):
        stand(chart, BY_SPECIES.area("species"), BY_SPECIES.area(status), status, look)
    return chart


def add_summary(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(SUMMARY)
    head(sheet, SUMMARY, LEAD, 8)
    write_form(workbook, sheet, FIELDS, (FORM_ROW, 1))
    row = FORM_ROW + len(FIELDS) - 1
    mark(sheet, f"B{row}", f'$B${row}<>"ok"', RED)
    BY_SPECIES.write(sheet)
    BY_SPECIES.write_total(sheet, "All species", ("hand", "value", *ON_HAND))
    cover(sheet, summary_chart(), f"A{CHART_ROW}:H{SORTS_ROW - 2}")
    BY_SORT.write(sheet)
    for block in (BY_SPECIES, BY_SORT):
        sheet.row_dimensions[block.header_row].height = 32
    last = BY_SORT.last_row
    print_setup(sheet, f"A1:H{last}", landscape=False)
    sheet.print_title_rows = f"{SORTS_ROW}:{SORTS_ROW}"
    sheet.freeze_panes = f"A{FIRST_ROW}"
