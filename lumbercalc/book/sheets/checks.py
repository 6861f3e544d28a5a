"""Sheet Checks: what is wrong in this workbook, counted, with the sheet to look at."""

from __future__ import annotations

from openpyxl.workbook import Workbook
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import GREEN, RED, ROW_HEIGHT, head, mark, print_setup
from lumbercalc.book.page.names import column_area, define
from lumbercalc.book.page.notes import looks_like_a_share
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, MOVED, Table
from lumbercalc.book.sheets.board_notes import NO_PARENT, OWN_PARENT, PIECES_OVER, TAG_TWICE
from lumbercalc.book.sheets.board_status import HELD, KEYS_LOST, NO_PRICE
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.checklist import CHECKLIST
from lumbercalc.book.sheets.costs import COSTS
from lumbercalc.book.sheets.hot_box import CORE_LOG, HOT_BOX
from lumbercalc.book.sheets.line_notes import (
    CUT_NOTE,
    HELD_NOTE,
    LOG_TAKEN_NOTE,
    TAKEN_NOTE,
)
from lumbercalc.book.sheets.loads import LOADS, NO_LOAD
from lumbercalc.book.sheets.prices import PRICES
from lumbercalc.book.sheets.readings import OUT_OF_RANGE, READINGS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.sheets.sales_reckoning import NUMBER_TWICE
from lumbercalc.book.sheets.sample_boards import SAMPLES
from lumbercalc.book.sheets.self_test import add_self_test
from lumbercalc.book.sheets.sell_or_hold import HOLD_OR_SELL
from lumbercalc.book.sheets.site import SITE
from lumbercalc.book.sheets.stack_advice import ADVICE, OVER_SAFE_RATE
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import GAINED, WEIGHINGS

HEADERS = (("What is checked", 62), ("Sheet", 24), ("Found", 12), ("Verdict", 46))
WIDTH = 6
"""Columns of the sheet, those of the self-test among them."""


def _notes(name: str) -> str:
    """Count the rows whose check is not "ok": one that came to an error is among them."""
    return f'=COUNTIF({name},"?*")-COUNTIF({name},"ok")+SUMPRODUCT(ISERROR({name})*1)'


def _told(table: str, *notes: str) -> str:
    """Count the rows whose check says one of some words."""
    return "=" + "+".join(f'COUNTIF({table}_note,"{note}")' for note in notes)


def _without_formulas(table: Table) -> tuple[str, str, str]:
    """Count the rows with a name or a date and nothing in the column that tells, not even an "ok".

    A row that a cell was moved out of has the formulas of another. Of what was put in between the
    header and the first row nothing is counted, as the names of the columns begin below it.
    """
    first, note = (f"{table.name}_{key}" for key in (table.columns[0].key, table.told_in))
    letter = table.letter(table.columns[0].key)
    headed = column_area(table.sheet, letter, HEADER_ROW, table.last_row)
    formula = (
        f'=SUMPRODUCT(({first}<>"")*ISBLANK({note}))+COUNTIF({note},"{MOVED}")'
        f"+COUNTA({headed})-1-COUNTA({first})"
    )
    return WITHOUT_FORMULAS, table.sheet, formula


def _texts(*names: str) -> str:
    return "=" + "+".join(f"SUMPRODUCT(ISTEXT({name})*1)" for name in names)


def _shares() -> str:
    names = ("footage_shrink", "degrade", "end_trim", "interest", "margin")
    return "=" + "+".join(f"IF(AND({looks_like_a_share(name)}),1,0)" for name in names)


KEYS = "Lines out of order: a row was put in without formulas"
WITHOUT_FORMULAS = "Rows without formulas (copy a row's) or above the first (move)"
FILLED_DOWN = (
    SITE,
    LOADS,
    BOARDS,
    STACKS,
    CHECKLIST,
    SAMPLES,
    WEIGHINGS,
    READINGS,
    HOT_BOX,
    CORE_LOG,
    COSTS,
    HOLD_OR_SELL,
    SALES,
    LINES,
    PRICES,
)
"""Tables that a shop fills down."""

CHECKS = (
    (
        "As-of date that is missing, or no date",
        "Start",
        '=IF(OR(ISNUMBER(as_of),SUMPRODUCT((stack_name<>"")*1)+COUNT(sales_quoted,sales_invoiced)=0),'
        "0,1)",
    ),
    ("Rows of air with something to look at", "Site", _notes("site_note")),
    ("Texts where numbers belong", "Site", _texts("site_month", "site_temp", "site_rh")),
    ("Loads with something to look at", "Loads", _notes("load_note")),
    (
        "Texts where numbers belong",
        "Loads",
        _texts(*(f"load_{key}" for key in ("purchase", "hauling", "milling", "hours", "rate"))),
    ),
    ("Boards whose load is not on Loads", "Boards", f'=COUNTIF(board_cost,"{NO_LOAD}")'),
    ("Boards with something to look at", "Boards", _notes("board_note")),
    ("Tags used twice", "Boards", _told("board", TAG_TWICE)),
    ("Texts where numbers belong", "Boards", _texts("board_width", "board_length", "board_pieces")),
    ("Board feet that are errors", "Boards", "=SUMPRODUCT(ISERROR(board_bf)*1)"),
    ("Boards held for insect signs", "Boards", f'=COUNTIF(board_status,"{HELD}")'),
    (
        "Boards on hand without a price",
        "Boards",
        f'=IF(COUNT(price_price)=0,0,COUNTIFS(board_price,"{NO_PRICE}",board_stock,">0"))',
    ),
    (
        "Boards cut from a board that is not there, or from themselves",
        "Boards",
        _told("board", NO_PARENT, OWN_PARENT),
    ),
    (
        "Boards whose pieces tally more than they did",
        "Boards",
        _told("board", PIECES_OVER),
    ),
    ("Stacks with something to look at", "Stacks", _notes("stack_note")),
    ("Stacks over the safe rate", "Stacks", f'=COUNTIF(stack_advice,"{OVER_SAFE_RATE}")'),
    (
        "Texts where numbers belong",
        "Stacks",
        _texts("stack_measured_in", "stack_measured_mc", "stack_start", "stack_target"),
    ),
    ("Stacks with steps still to do", "Checklist", _notes("checklist_note")),
    (
        "Stacks without a row",
        "Checklist",
        '=SUMPRODUCT((stack_name<>"")*ISNA(MATCH(stack_name,checklist_stack,0)))',
    ),
    ("Sample boards with something to look at", "Sample boards", _notes("sample_note")),
    ("Weighings with something to look at", "Weighings", _notes("weighing_note")),
    ("Weights that went up", "Weighings", _told("weighing", GAINED)),
    (
        "Texts where dates or weights belong",
        "Weighings",
        _texts("weighing_date", "weighing_weight"),
    ),
    ("Readings with something to look at", "Readings", _notes("reading_note")),
    (
        "Readings out of the meter's range",
        "Readings",
        _told("reading", OUT_OF_RANGE),
    ),
    (
        "Stacks with readings left out",
        "Readings",
        '=SUMPRODUCT((lot_stack<>"")*(lot_left_out>0))',
    ),
    (
        "Stacks without a row beside the readings (copy its last row down)",
        "Readings",
        '=SUMPRODUCT((stack_name<>"")*ISNA(MATCH(stack_name,lot_stack,0)))',
    ),
    (
        "Texts where dates or figures belong",
        "Readings",
        _texts("reading_date", "reading_shows", "reading_temp", "reading_meter_sg", "reading_dry"),
    ),
    ("Charges with something to look at", "Hot box", _notes("charge_note")),
    ("Readings with something to look at", "Core log", _notes("core_note")),
    ("Texts where numbers belong", "Core log", _texts("core_minute", "core_temp")),
    ("Choices that are errors", "Plan", '=COUNTIF(option_verdict,"error")'),
    ("Costs of stacks with something to look at", "Costs", _notes("cost_note")),
    ("Rows of Sell or hold with something to look at", "Sell or hold", _notes("hold_note")),
    ("Labels of no board or stack", "Labels", _notes("label_note")),
    ("Sales with something to look at", "Sales", _notes("sales_note")),
    ("Numbers of sales that stand twice", "Sales", _told("sales", NUMBER_TWICE)),
    (
        "Texts where dates or money belong",
        "Sales",
        _texts("sales_quoted", "sales_invoiced", "sales_paid", "sales_delivery", "sales_deposit"),
    ),
    ("Lines of sales with something to look at", "Sales lines", _notes("line_note")),
    (
        "Boards and logs that are in two sales",
        "Sales lines",
        _told("line", TAKEN_NOTE, LOG_TAKEN_NOTE),
    ),
    (
        "Held or cut up boards in a sale",
        "Sales lines",
        _told("line", HELD_NOTE, CUT_NOTE),
    ),
    (
        "Texts where numbers belong",
        "Sales lines",
        _texts("line_quantity", "line_price", "line_discount"),
    ),
    ("Summary that does not add up to Boards", "Summary", '=IF(summary_note="ok",0,1)'),
    ("Months that do not add up to the invoices", "Sold", '=IF(sold_note="ok",0,1)'),
    ("Sales tax of the year with something to look at", "Sales tax", '=IF(tax_note="ok",0,1)'),
    (
        "Keys of prices that stand twice",
        "Prices",
        '=SUMPRODUCT((price_key<>"")*(COUNTIF(price_key,price_key&"")>1))',
    ),
    (
        "Prices without a species",
        "Prices",
        '=SUMPRODUCT((price_species="")*((price_quarters<>"")+(price_grade<>"")+(price_price<>"")>0))',
    ),
    ("Texts where numbers belong", "Prices", _texts("price_price")),
    ("Percentages typed as shares, 0.07 for 7 %", "Prices", _shares()),
    (KEYS, "Sales lines", "=COUNT(line_key)-COUNT(line_nth_key)"),
    *map(_without_formulas, FILLED_DOWN),
    (
        "Functions that differ from what is published",
        "Checks",
        "=SUMPRODUCT(1-self_tests*1)",
    ),
)
"""What is counted: words, sheet, formula."""


def add_checks(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the other sheets' names.
    """
    sheet = workbook.create_sheet("Checks")
    lead = "What is wrong in this workbook, counted. The check column of the sheet says which."
    head(sheet, "Checks", lead, WIDTH)
    for number, (text, width) in enumerate(HEADERS, 1):
        cell = sheet.cell(HEADER_ROW, number)
        cell.value, cell.style = text, "lc header"
        sheet.column_dimensions[cell.column_letter].width = width
    for row, (what, where, formula) in enumerate(CHECKS, FIRST_ROW):
        sheet.cell(row, 1).value, sheet.cell(row, 2).value = what, where
        sheet.cell(row, 2).hyperlink = Hyperlink(ref=f"B{row}", location=f"'{where}'!A1")
        sheet.cell(row, 3).value = formula
        sheet.cell(row, 4).value = f'=IF(ISERROR(C{row}),"look",IF(C{row}=0,"ok","look"))'
        for number, style in enumerate(("lc label", "lc lead", "lc result", "lc check"), 1):
            sheet.cell(row, number).style = style
        sheet.row_dimensions[row].height = ROW_HEIGHT
    last = FIRST_ROW + len(CHECKS) - 1
    tested = add_self_test(workbook, sheet, _add_advice(sheet, last + 4) + 3)
    sheet.cell(last + 1, 1).value = "Checks to look at"
    sheet.cell(last + 1, 3).value = f'=COUNTIF(D{FIRST_ROW}:D{last},"look")'
    for number in range(1, 5):
        sheet.cell(last + 1, number).style = "lc total"
    mark(sheet, f"D{FIRST_ROW}:D{last}", f'D{FIRST_ROW}="look"', RED)
    mark(sheet, f"D{FIRST_ROW}:D{last}", f'D{FIRST_ROW}="ok"', GREEN, bold=False)
    row = FIRST_ROW + [what for what, _, _ in CHECKS].index(KEYS)
    define(workbook, KEYS_LOST, f"'Checks'!$C${row}")
    define(workbook, "checks_to_look_at", f"'Checks'!$C${last + 1}")
    sheet.freeze_panes = f"A{FIRST_ROW}"
    for letter, width in (("E", 12), ("F", 12)):  # of the self-test
        sheet.column_dimensions[letter].width = width
    print_setup(sheet, f"A1:F{tested}", landscape=False)


def _add_advice(sheet: Worksheet, row: int) -> int:
    """Say under the checks what the advice on Stacks rests on; give the last row."""
    for number, text in enumerate(("Advice on Stacks", "When", "", "Source"), 1):
        if text:
            sheet.cell(row, number).value = text
        sheet.cell(row, number).style = "lc section"
    for each, (advice, when, source) in enumerate(ADVICE, row + 1):
        for number, told in enumerate((advice, when, None, source), 1):
            sheet.cell(each, number).value = told
            sheet.cell(each, number).style = "lc text"
        sheet.merge_cells(start_row=each, end_row=each, start_column=2, end_column=3)
        sheet.row_dimensions[each].height = 3 * ROW_HEIGHT
    return row + len(ADVICE)
