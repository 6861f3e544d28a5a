"""What the chart of all stacks on Start draws, as rows of the sheet Curves."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import Field, looked_up
from lumbercalc.book.page.layout import alignment, padded
from lumbercalc.book.page.names import row_above
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Column
from lumbercalc.book.sheets.course import CURVES, DAY, FROM_STACKS, TWO_YEARS, begins, course

STACKS_DRAWN = 8
"""The last rows of Stacks, as many as can be told apart."""
CURVE_ROWS = (13, 11)
"""Up to the last weighing, and from it on."""

LABELS_COLUMN = 26
_LOOKED_UP = (*FROM_STACKS, "likely")
_ROWS = ("row", "drawn", "name", *_LOOKED_UP, "begin", "to")
_DATES = ("start", "known_on", "move_date", "likely", "begin", "to")
COURSE_HEADER_ROW = HEADER_ROW + len(_ROWS) + 1


def _cells(number: int) -> dict[str, str]:
    """Give the cells with what a stack's course rests on, from 0."""
    letter = get_column_letter(LABELS_COLUMN + 3 * (number + 1))
    return {key: f"{letter}${row}" for row, key in enumerate(_ROWS, FIRST_ROW)}


def _formulas(number: int) -> dict[str, str]:
    """Write what stands in those cells."""
    cells = _cells(number)
    row, drawn = cells["row"], cells["drawn"]
    formulas = {
        "row": f"=MAX(0,curve_last-{STACKS_DRAWN})+{number + 1}",
        "drawn": f"=IF({row}>curve_last,0,IF(ISNUMBER(INDEX(stack_rate,{row})),1,0))",
        "name": f'=IF({drawn}=0," ",INDEX(stack_name,{row}))',
        "begin": begins(cells),
        "to": f"=IF({drawn}=0,0,MAX(as_of,{cells['known_on']},"
        f"IF(ISNUMBER({cells['likely']}),{cells['likely']},{cells['start']}+{TWO_YEARS})))",
    }
    for key in _LOOKED_UP:
        formulas[key] = looked_up(f"stack_{key}", row, f"{drawn}=0")
    return formulas


STACK_COURSES = tuple(
    course(
        _cells(number),
        ("curve_first", "curve_target"),
        CURVE_ROWS,
        (COURSE_HEADER_ROW, LABELS_COLUMN + 3 * number + 1),
    )
    for number in range(STACKS_DRAWN)
)
"""Both parts of each stack's course; a stack that is not there is one point on the target."""


def name_cell(number: int) -> str:
    """Give the cell with the name of one of the stacks, as a chart names it.

    Parameters
    ----------
    number : int
        From 0.

    Returns
    -------
    str
        Such as "'Curves'!$AC$7".
    """
    letter, row = _cells(number)["name"].split("$")
    return f"'{CURVES}'!${letter}${row}"


def line_name_cell(key: str) -> str:
    """Give the cell with the name of a line of the chart: blank while there is no stack.

    Parameters
    ----------
    key : {"target", "as_of"}
        Which line.

    Returns
    -------
    str
        As a chart names it.
    """
    return STACK_LINES.area(f"{key}_name").split(":")[0]


def _across(key: str) -> str:
    """Give the row of cells with one figure of all stacks."""
    row = FIRST_ROW + _ROWS.index(key)
    ends = [get_column_letter(LABELS_COLUMN + place) for place in (1, 3 * STACKS_DRAWN)]
    return f"${ends[0]}${row}:${ends[1]}${row}"


STACKS_FIELDS = [
    Field(
        "curve_last",
        "Last row of Stacks in use",
        "result",
        "0",
        f'=SUMPRODUCT(MAX((stack_name<>"")*(ROW(stack_name)-{row_above("stack_name")})))',
    ),
    Field(
        "curve_first",
        "First day drawn",
        "result",
        DAY,
        f"=IF(COUNT({_across('start')})=0,0,MIN({_across('start')}))",
    ),
    Field("curve_end", "Last day drawn", "result", DAY, f"=MAX({_across('to')})"),
    Field("curve_top", "Highest green MC (%)", "result", "0.0", f"=MAX({_across('green')})"),
    Field("curve_target", "Usual target (% MC)", "result", "0.0", "=MAX(0,target_mc)"),
]
"""What the chart begins with."""

STACK_LINES = Block(
    CURVES,
    (
        Column("n", "End", "result", 7, "0"),
        Column("day", "Date", "result", 12, DAY, "=IF({n}=0,curve_first,curve_end)"),
        Column("target", "Usual target (% MC)", "result", 9, "0.0", "=curve_target"),
        Column(
            "as_of", "As of", "result", 12, DAY, '=IF(OR(as_of="",curve_end=0),curve_first,as_of)'
        ),
        Column("height", "Height (% MC)", "result", 9, "0.0", "=(1-{n})*curve_top"),
        Column("target_name", "Name", "result", 14, "@", '=IF(curve_end=0," ","usual target")'),
        Column("as_of_name", "Name", "result", 9, "@", '=IF(curve_end=0," ","as of")'),
    ),
    2,
    HEADER_ROW,
    LABELS_COLUMN + 3 * STACKS_DRAWN + 2,
)
"""The usual target, and the upright line at the as-of date."""

STACK_BLOCKS = (*(block for parts in STACK_COURSES for block in parts), STACK_LINES)


def add_lookups(sheet: Worksheet) -> None:
    """Write what the courses rest on, above them.

    Parameters
    ----------
    sheet : Worksheet
        Curves.
    """
    labels = get_column_letter(LABELS_COLUMN)
    sheet.column_dimensions[labels].width = 14
    for row, label in enumerate(_ROWS, FIRST_ROW):
        cell = sheet[f"{labels}{row}"]
        cell.value, cell.style = label, "lc label"
    for number in range(STACKS_DRAWN):
        formulas = _formulas(number)
        for key, address in _cells(number).items():
            cell = sheet[address.replace("$", "")]
            form = DAY if key in _DATES else "General"
            cell.value, cell.style, cell.number_format = formulas[key], "lc result", padded(form)
            cell.alignment = alignment(form)
