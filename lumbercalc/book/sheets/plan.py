"""Sheet Plan: before a load is stacked, its places and stacks side by side."""

from __future__ import annotations

from openpyxl.workbook import Workbook
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.form import Field, write_form
from lumbercalc.book.page.layout import (
    DATE,
    GREEN,
    RED,
    ROW_HEIGHT,
    head,
    mark,
    mark_unless_ok,
    print_setup,
)
from lumbercalc.book.page.styles import WRAPPED
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.page.validation import THICKNESSES, limits_of
from lumbercalc.book.sheets.plan_months import CHART_ROW, CHART_ROWS, EMC_HEADER, add_months
from lumbercalc.book.sheets.plan_options import DAMP_RH, MOLD_STARTS, PLAN, SHEET, TOP
from lumbercalc.book.sheets.plan_rules import CAUTIONS, RULES, VERDICTS

FORM_ROW = FIRST_ROW - 1
RESULTS_COLUMN = 7
SPACING = 16
"""Inches, as in STICKERS."""

LOAD = [
    Field("planned_species", "Species", "input", "@", limits=limits_of("READY_DATE", "species"),
          choices="=species_names"),
    Field("planned_quarters", "Thickness (quarters)", "input", "@", choices=THICKNESSES),
    Field("planned_bf", "Board feet, green (bf)", "input", "#,##0",
          limits=limits_of("LUMBER_WEIGHT", "board_feet")),
    Field("planned_stack", "or the boards of stack", "input", "@", choices="=stack_name"),
    Field("planned_start", "To be stacked on", "input", DATE,
          limits=limits_of("READY_DATE", "start_date")),
    Field("planned_target_typed", "Target MC, if not the usual (%)", "input", "0.0",
          limits=limits_of("READY_DATE", "target_mc")),
    Field("planned_measured", "As sawn, if measured (in)", "input", "0.000",
          limits=limits_of("READY_DATE", "thickness_in")),
    Field("planned_green", "Green MC, if measured (%)", "input", "0.0",
          limits=limits_of("READY_DATE", "green_mc")),
    Field("planned_spacing", "Sticker spacing, if not 16 (in)", "input", "0",
          limits=limits_of("STICKERS", "spacing_in")),
]  # fmt: skip
"""What is typed about the load."""

_KNOWN = 'OR(planned_species="",planned_quarters="")'
USED = [
    Field("planned_load", "Board feet planned (bf)", "result", "#,##0",
          '=IF(planned_bf<>"",planned_bf,IF(planned_stack="","",'
          "SUMIFS(board_bf,board_lies,planned_stack)))"),
    Field("planned_target", "Target MC (%)", "result", "0.0",
          '=IF(planned_target_typed<>"",planned_target_typed,target_mc)'),
    Field("planned_nominal", "Thickness as tallied (in)", "result", "0.000",
          f'=IF({_KNOWN},"",THICKNESS_IN(planned_quarters))'),
    Field("planned_sawn", "As sawn, used (in)", "result", "0.000",
          f'=IF({_KNOWN},"",IF(planned_measured<>"",planned_measured,planned_nominal+1/8))'),
    Field("planned_ratio", "As sawn over tallied", "result", "0.000",
          f'=IF({_KNOWN},"",planned_sawn/MAX(1,planned_nominal))'),
    Field("planned_wet", "Green MC, used (%)", "result", "0.0",
          '=IF(planned_green<>"",planned_green,IF(planned_species="","",'
          'SPECIES_VALUE(planned_species,"green MC")))'),
    Field("planned_safe", "Safe rate (% MC a day)", "result", "0.0",
          f'=IF({_KNOWN},"",IFERROR(SAFE_RATE(planned_species,planned_sawn),"not published"))'),
    Field("planned_spacing_used", "Sticker spacing, used (in)", "result", "0",
          f'=IF(planned_spacing="",{SPACING},planned_spacing)'),
    Field("planned_on", "Planned (1) or not (0)", "result", "0",
          '=IF(OR(planned_start="",NOT(ISNUMBER(planned_sawn)),NOT(ISNUMBER(planned_wet)),'
          "N(planned_load)<=0),0,1)"),
]  # fmt: skip
"""What the choices reckon with."""

_OTHERS = (
    "SUMPRODUCT((board_lies=planned_stack)"
    "*(1-(board_species=planned_species)*(TRIM(board_quarters)=TRIM(planned_quarters))))"
)
"""Boards of the stack that are not of the load's species and thickness."""
_STRANGE = (
    f'IF(OR(planned_stack="",planned_bf<>""),"",IF({_OTHERS}=0,"",'
    f'{_OTHERS}&" of its rows on Boards are of another species or thickness. "))'
)
_BEST = "SMALL(option_good,COUNTIF(option_good,0)+1)"
_NUMBER = f"MATCH({_BEST},option_good,0)"
_BAD = 'SUMPRODUCT(MAX((option_why<>"")*(100-COLUMN(option_why))))'
WORDS = (
    '=IF(planned_on=0,"Type the load: species, thickness, board feet or a stack, and the date.",'
    f"{_STRANGE}&"
    f'IF({_BAD}>0,"Choice "&(99-{_BAD})&": "&INDEX(option_why,1,99-{_BAD})&". ","")&'
    'IF(COUNTIF(option_verdict,"ok")=0,"No choice without a flag yet: see the verdicts.",'
    f'"Soonest without a flag: choice "&{_NUMBER}&", "&INDEX(option_place,1,{_NUMBER})&", "&'
    f'INDEX(option_setting,1,{_NUMBER})&", "&INDEX(option_days,1,{_NUMBER})&" days. Stickers: "&'
    f"STICKER_ADVICE(INDEX(option_width,1,{_NUMBER}),INDEX(option_sticker,1,{_NUMBER}),"
    f'INDEX(option_setting,1,{_NUMBER})="fan")&"."))'
)
WORDS_ROW = TOP - 2


def add_plan(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet(SHEET)
    lead = "Before the wood is stacked: place, stickers, width, fan and month, side by side."
    width = 1 + len(PLAN.columns)
    head(sheet, "Plan", lead, width)
    sheet.column_dimensions["A"].width = 39
    for letter in PLAN.columns:
        sheet.column_dimensions[letter].width = 18
    write_form(workbook, sheet, LOAD, (FORM_ROW, 1), value_columns=2)
    write_form(workbook, sheet, USED, (FORM_ROW, RESULTS_COLUMN), label_columns=3)
    for row in range(FORM_ROW, FORM_ROW + len(LOAD)):
        sheet.row_dimensions[row].height = ROW_HEIGHT
    _across(sheet, WORDS_ROW, WORDS, "lc check", 2)
    for number, letter in enumerate(PLAN.columns, 1):
        cell = sheet[f"{letter}{TOP - 1}"]
        cell.value, cell.style = f"choice {number}", "lc header"
    sheet[f"A{TOP - 1}"].style = "lc header"
    PLAN.write(workbook, sheet)
    _marks(sheet)
    add_months(sheet)
    row = _rules(sheet, CHART_ROW + CHART_ROWS + 1)
    sheet.freeze_panes = f"B{FIRST_ROW}"
    print_setup(sheet, f"A1:{PLAN.columns[-1]}{row}")
    sheet.row_breaks.append(Break(id=EMC_HEADER - 1))
    sheet.row_breaks.append(Break(id=CHART_ROW + CHART_ROWS))


def _marks(sheet: Worksheet) -> None:
    """Mark what speaks against a choice, and the choices without a flag."""
    first = PLAN.columns[0]
    for key, beyond in (
        ("exit_rh", f">={DAMP_RH}"),
        ("mold", f">={MOLD_STARTS}"),
        ("margin", "<0"),
        ("stacks", ">1"),
    ):
        cell = f"{first}{PLAN.row(key)}"
        mark(sheet, _span(key), f"AND(ISNUMBER({cell}),{cell}{beyond})", RED)
    verdict = f"{first}{PLAN.row('verdict')}"
    mark_unless_ok(sheet, _span("verdict"), verdict)
    mark(sheet, _span("verdict"), f'{verdict}="ok"', GREEN)


def _span(key: str) -> str:
    return PLAN.span(key).replace("$", "")


def _across(sheet: Worksheet, row: int, text: str, style: str, lines: int = 1) -> None:
    width = 1 + len(PLAN.columns)
    for column in range(1, width + 1):
        sheet.cell(row, column).style = style
    sheet.cell(row, 1).value = text
    sheet.cell(row, 1).alignment = WRAPPED
    sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=width)
    sheet.row_dimensions[row].height = lines * ROW_HEIGHT


def _rules(sheet: Worksheet, row: int) -> int:
    """Write verdicts, rules and cautions; give the last row."""
    _across(sheet, row, VERDICTS, "lc note", 2)
    row += 1
    spans = ((1, 1), (2, 8), (9, 1 + len(PLAN.columns)))
    for text, (start, _) in zip(("Choice", "Rule", "Source"), spans, strict=True):
        sheet.cell(row, start).value = text
    for column in range(1, 2 + len(PLAN.columns)):
        sheet.cell(row, column).style = "lc section"
    for rule in RULES:
        row += 1
        for text, (start, end) in zip(rule, spans, strict=True):
            for column in range(start, end + 1):
                sheet.cell(row, column).style = "lc label" if start == 1 else "lc text"
            sheet.cell(row, start).value = text
            if end > start:
                sheet.merge_cells(start_row=row, end_row=row, start_column=start, end_column=end)
        sheet.row_dimensions[row].height = 2 * ROW_HEIGHT
    for text in CAUTIONS:
        row += 1
        _across(sheet, row, text, "lc caution")
    return row
