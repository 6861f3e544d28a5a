"""Sheet Matched set: the boards of one log in the order they were cut, to sell as a set."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import Field, chosen_or_first, looked_up, write_form
from lumbercalc.book.page.layout import (
    RED,
    ROW_HEIGHT,
    alignment,
    head,
    label_from,
    mark,
    mark_unless_ok,
    print_setup,
)
from lumbercalc.book.page.names import define
from lumbercalc.book.page.styles import WRAPPED
from lumbercalc.book.page.table import Column, Role
from lumbercalc.book.sheets.board_status import CUT_UP, HELD, NO_PRICE
from lumbercalc.book.sheets.boards import BOARDS

SET = "Matched set"
MOST_CUTS = 60
FORM_ROW = 4
HEADER_ROW = 11

CHOICE = [
    Field(
        "set_choice",
        "Log",
        "input",
        "@",
        about="blank: that of the first board",
    ),
]
"""What is typed on the sheet."""

_SET = 'board_log,set_log,board_fit,1,board_status,"<>sold"'
LEFT = [
    *CHOICE,
    Field(
        "set_log",
        "Log shown",
        "result",
        "@",
        chosen_or_first("set_choice", "board_log"),
    ),
    Field(
        "set_species",
        "Species",
        "result",
        "@",
        '=IF(set_log="","",IFERROR(INDEX(board_species,MATCH(set_log,board_log,0))&"",""))',
    ),
    Field(
        "set_boards",
        "Boards, without those cut up",
        "result",
        "0",
        '=IF(set_log="","",COUNTIFS(board_log,set_log)-COUNTIFS(board_log,set_log,board_cut_up,1))',
    ),
    Field(
        "set_free",
        "Of these free to sell",
        "result",
        "0",
        '=IF(set_log="","",COUNTIFS(board_log,set_log,board_fit,1,board_line,0))',
    ),
    Field(
        "set_whole",
        "The set",
        "check",
        "@",
        '=IF(set_log="","",IF(set_boards=0,"no board of this log on Boards",'
        'IF(COUNTIFS(board_log,set_log,board_order,">0")>COUNT(set_line_row),'
        f'"not all are shown: a cut order stands twice, or is over {MOST_CUTS}",'
        'IF(set_free=set_boards,"ok","not whole: "&set_boards-set_free&" of "&set_boards&'
        '" boards are sold, reserved, used or held"))))',
    ),
]
RIGHT = [
    Field(
        "set_cuts",
        "Highest cut order",
        "result",
        "0",
        '=IF(set_log="","",SUMPRODUCT(MAX((board_log=set_log)*board_order)))',
    ),
    Field(
        "set_unordered",
        "Without a cut order",
        "result",
        "0",
        '=IF(set_log="","",COUNTIFS(board_log,set_log,board_order,0))',
    ),
    Field(
        "set_gaps",
        "Gaps in the cut order",
        "result",
        "0",
        '=IF(set_log="","",COUNTIF(set_line_note,"gap*"))',
    ),
    Field(
        "set_bf",
        "Fit and not sold, dry (bf)",
        "result",
        "#,##0.00",
        f'=IF(set_log="","",ROUND(NET_BOARD_FEET(SUMIFS(board_bf,{_SET}),footage_shrink),2))',
    ),
    Field(
        "set_price",
        "Mean list price ($/bf)",
        "result",
        "#,##0.00",
        f'=IF(set_log="","",IF(OR(set_bf=0,COUNTIFS({_SET},board_price,"{NO_PRICE}")>0),"{NO_PRICE}",'
        f"ROUND(SUMIFS(board_list,{_SET})/SUMIFS(board_bf,{_SET}),2)))",
    ),
    Field(
        "set_sum",
        "The set at that price ($)",
        "result",
        "#,##0.00",
        '=IF(ISNUMBER(set_price),LINE_TOTAL(set_bf,set_price),"")',
    ),
]


def _shown(key: str, header: str, width: float, role: Role = "result") -> Column:
    there = BOARDS.column(key)
    return Column(key, header, role, width, there.number_format, looked_up(f"board_{key}", "{row}"))


SET_LINES = Block(
    SET,
    (
        Column("cut", "Cut order", "result", 29, "0", '=IF({n}>=SUM(set_cuts),"",{n}+1)'),
        _shown("tag", "Tag", 14),
        _shown("quarters", "Thickness", 11),
        _shown("width", "Width (in)", 10),
        _shown("length", "Length (ft)", 10),
        _shown("grade", "Grade", 13),
        _shown("dry_bf", "Board feet, dry (bf)", 11),
        _shown("price", "Price ($/bf)", 10),
        _shown("status", "Status", 11),
        Column(
            "note",
            "Check",
            "check",
            30,
            "@",
            '=IF({cut}="","",IF({row}="","gap: no board of this cut order",'
            f'IF({{status}}="{CUT_UP}","cut up: its pieces count",IF({{status}}="{HELD}",'
            '"held: not for sale",'
            'IF(INDEX(board_line,{row})>0,"in sale "&INDEX(board_sale,{row}),'
            'IF({status}="used","used","ok"))))))',
        ),
        Column("n", "Line", "result", 7, "0"),
        Column(
            "row",
            "Row on Boards",
            "result",
            9,
            "0",
            '=IF({cut}="","",IFERROR(MATCH(set_log&"|"&{cut},board_cut_key,0),""))',
        ),
    ),
    MOST_CUTS,
    HEADER_ROW,
)
"""The boards in cut order; right of the page the rows they come from."""

LEAD = (
    "Boards of one log in the order they were cut, side by side in the tree. To sell all of them "
    "type the log in place of a tag on Sales lines."
)


def add_matched_set(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(SET)
    title = '="Matched set"&IF(set_log="","",": log "&set_log)'
    head(sheet, title, LEAD, len(SET_LINES.columns) - 2)
    SET_LINES.write(sheet)
    for key in ("note", "row"):
        name = f"set_line_{key}"
        define(workbook, name, SET_LINES.area(key))
    write_form(workbook, sheet, LEFT, (FORM_ROW, 1))
    write_form(workbook, sheet, RIGHT, (FORM_ROW, 7))
    for row in range(FORM_ROW, FORM_ROW + len(RIGHT)):
        label_from(sheet, row, 6, 7)
        sheet.cell(row, 2).alignment = alignment("@")
        sheet.cell(row, 8).alignment = alignment("0")
    for row in range(FORM_ROW, SET_LINES.last_row + 1):
        sheet.row_dimensions[row].height = ROW_HEIGHT
    sheet.row_dimensions[HEADER_ROW].height = 32
    whole = FORM_ROW + len(LEFT) - 1
    sheet[f"B{whole}"].alignment = WRAPPED
    sheet.merge_cells(f"B{whole}:E{whole}")
    sheet.row_dimensions[whole].height = 2 * ROW_HEIGHT
    mark(sheet, f"B{whole}", f'LEFT($B${whole},2)="no"', RED)
    note, first = SET_LINES.letter("note"), SET_LINES.first_row
    mark_unless_ok(sheet, f"{note}{first}:{note}{SET_LINES.last_row}", f"${note}{first}")
    print_setup(sheet, f"A1:{note}{SET_LINES.last_row}", landscape=False)
    sheet.page_setup.fitToHeight = 1
    sheet.freeze_panes = f"A{first}"
