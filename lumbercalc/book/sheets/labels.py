"""Sheet Labels: plain text labels of chosen boards and stacks, thirty to a page."""

from __future__ import annotations

from openpyxl.styles import Border, Side
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.header_footer import HeaderFooter
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.form import or_blank, row_of
from lumbercalc.book.page.layout import TITLE_ROW, print_setup
from lumbercalc.book.page.styles import GRAIN
from lumbercalc.book.page.table import FIRST_ROW, Column, Table, hidden
from lumbercalc.book.sheets.board_status import HELD
from lumbercalc.book.sheets.move_plan import day_in_words
from lumbercalc.book.sheets.named_stack import of_named_stack, of_stack

ACROSS, DOWN = 3, 10
"""Labels of the page."""
LINES = ("tag", "species", "piece", "state")
"""Columns that make the lines of a label."""

NOT_THERE = "no such board on Boards, no such stack on Stacks"

_LOT = "INDEX(lot_%s,MATCH({tag},lot_stack,0))"
_OWN = "reading_mc,reading_board,{tag},reading_day,{read}"


def _of_board(key: str) -> str:
    return f"INDEX(board_{key},{{board}})"


def _either(board: str, pile: str, nothing: str = '""') -> str:
    """Choose by what the row's tag is the name of: a board, a stack or nothing."""
    return (
        f'=IF({{tag}}="",{nothing},IF(ISNUMBER({{board}}),{board},'
        f"IF(ISNUMBER({{pile}}),{pile},{nothing})))"
    )


def _and(key: str, word: str) -> str:
    return f'IF({_of_board(key)}="","",", {word} "&{_of_board(key)})'


KEEP_APART = "HELD: insect signs, keep it apart"
"""On the label of a held board, in place of where it may lie."""

LABELS = Table(
    "Labels",
    "label",
    "Choose tags of boards, or type names of stacks. The page on the right prints them as plain "
    "text to cut; lumbercalc labels makes a PDF for label paper, each with a QR code of its tag.",
    (
        Column("tag", "Tag, or stack", "input", 16, "@", choices="=board_tag"),
        Column(
            "board",
            "Its row on Boards",
            "result",
            8,
            "0",
            row_of("{tag}", "board_tag"),
            hidden=True,
        ),
        Column(
            "pile",
            "Its row on Stacks",
            "result",
            8,
            "0",
            '=IF(OR({tag}="",ISNUMBER({board})),"",IFERROR(MATCH({tag},stack_name,0),""))',
            hidden=True,
        ),
        Column(
            "stack",
            "Stack",
            "result",
            13,
            "@",
            _either(f'{_of_board("stack")}&""', "{tag}"),
            hidden=True,
        ),
        Column(
            "weighed",
            "Its stack was weighed",
            "result",
            12,
            "0",
            f'=IF({{tag}}="",0,IFERROR({of_named_stack("known_on")}+0,0))',
            hidden=True,
        ),
        Column(
            "read",
            "It was read",
            "result",
            12,
            "0",
            _either(
                "SUMPRODUCT(MAX((reading_board={tag})*ISNUMBER(reading_mc)*reading_day))",
                f"IFERROR({_LOT % 'day'}+0,0)",
                "0",
            ),
            hidden=True,
        ),
        hidden(
            "mc",
            "MC then (%)",
            '=IF(MAX({read},{weighed})=0,"",IF({read}<{weighed},'
            f"{of_named_stack('known_mc')},IF(ISNUMBER({{board}}),AVERAGEIFS({_OWN}),"
            f"{_LOT % 'mean'})))",
            "0.0",
        ),
        Column(
            "day",
            "On",
            "result",
            12,
            "0",
            '=IF({tag}="",0,MAX({read},{weighed}))',
            hidden=True,
        ),
        Column(
            "species",
            "Species",
            "result",
            24,
            "@",
            _either(f'{_of_board("species")}&""', f'{of_stack("species")}&""'),
        ),
        Column(
            "piece",
            "Thickness, log and cut",
            "result",
            28,
            "@",
            _either(
                f"{_of_board('quarters')}&{_and('log', 'log')}&{_and('cut', 'cut')}",
                f'{of_stack("quarters")}&IF({of_stack("start")}="","",", stacked "&'
                f"{day_in_words(of_stack('start'))})",
            ),
        ),
        Column(
            "state",
            "MC with its date, stack or place",
            "result",
            36,
            "@",
            f'=IF({{tag}}="","",IF(IF(ISNUMBER({{board}}),{_of_board("status")},"")="{HELD}",'
            f'"{KEEP_APART}",IF({{mc}}="","",FIXED({{mc}},1,TRUE)&" % MC "&{day_in_words("{day}")}'
            '&IF({stack}="","",", "))'
            f'&IF(ISNUMBER({{pile}}),{of_stack("here")}&"",{{stack}})))',
        ),
        Column(
            "note",
            "Check",
            "check",
            46,
            "@",
            '=IF({tag}="","",IF(AND({board}="",{pile}=""),'
            f'"{NOT_THERE}",'
            'IF(COUNTIF(label_tag,{tag})>1,"this label stands twice","ok")))',
        ),
    ),
    rows=ACROSS * DOWN,
    last_row=FIRST_ROW + ACROSS * DOWN - 1,
)
"""The labels that are chosen."""

GRID_COLUMN = len(LABELS.columns) + 2
GRID_WIDTH = 36
"""Characters of a label."""
LINE_HEIGHT = 23
"""Points: ten labels fill the page."""

_cut = Side(style="dashed", color=GRAIN)


def add_labels(workbook: Workbook) -> None:
    """Add the sheet with the page of labels right of the table.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = LABELS.write(workbook)
    sheet.column_dimensions[get_column_letter(GRID_COLUMN - 1)].width = 3
    for number in range(LABELS.rows):
        row, column = divmod(number, ACROSS)
        _label(sheet, FIRST_ROW + number, FIRST_ROW + row * len(LINES), GRID_COLUMN + column)
    for column in range(GRID_COLUMN, GRID_COLUMN + ACROSS):
        sheet.cell(TITLE_ROW, column).style = "lc title"
        sheet.column_dimensions[get_column_letter(column)].width = GRID_WIDTH
    sheet.cell(TITLE_ROW, GRID_COLUMN).value = "The page to print and cut"
    first, last = (get_column_letter(GRID_COLUMN + n) for n in (0, ACROSS - 1))
    last_row = FIRST_ROW + LABELS.rows // ACROSS * len(LINES) - 1
    for row in range(FIRST_ROW, last_row + 1):
        sheet.row_dimensions[row].height = LINE_HEIGHT
    area = f"{first}{FIRST_ROW}:{last}{last_row}"
    print_setup(sheet, area, landscape=False)
    sheet.HeaderFooter = HeaderFooter()  # no page number among the labels
    sheet._print_rows = None  # type: ignore[attr-defined]  # its own setter cannot take it back
    sheet.page_setup.fitToHeight = 1


def _label(sheet: Worksheet, source: int, top: int, column: int) -> None:
    """Write the lines of a label with a line to cut along."""
    for number, key in enumerate(LINES):
        cell = sheet.cell(top + number, column)
        there = f"${LABELS.letter(key)}${source}"
        cell.value = f"={or_blank(there)}"
        cell.style, cell.number_format = "lc label" if key == "tag" else "lc plain", "@"
        cell.border = Border(
            left=_cut,
            right=_cut,
            top=_cut if number == 0 else None,
            bottom=_cut if number == len(LINES) - 1 else None,
        )
