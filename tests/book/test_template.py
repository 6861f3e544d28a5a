"""The template workbook as it is built, before anything is computed or typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import formulas
import pytest
from openpyxl.formula import Tokenizer
from openpyxl.formula.translate import Translator
from openpyxl.utils import FORMULAE
from openpyxl.workbook import Workbook
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.engine.filled_down import relative
from lumbercalc.book.page.form import Field
from lumbercalc.book.page.layout import padded
from lumbercalc.book.page.styles import named_styles
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW, Column, Table
from lumbercalc.book.page.validation import LONGEST_TITLE, MONEY
from lumbercalc.book.records import FORM_FILES
from lumbercalc.book.sheets.matched_set import SET_LINES
from lumbercalc.book.sheets.prices import USUAL_THICKNESSES
from lumbercalc.book.sheets.sale import FIRST_LINE, LINE_HEADER_ROW
from lumbercalc.book.sheets.sold import BY_MONTH
from lumbercalc.book.sheets.summary import BY_SORT
from lumbercalc.book.tables import TABLES
from lumbercalc.book.template import CALCULATION_ENGINE, build
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.limits import Limits

SHEETS = [
    "Start", "Site", "Plan", "Boards", "Stacks", "Checklist", "Sample boards", "Weighings",
    "Readings", "Stack card", "Move plan", "Hot box", "Core log", "Loads", "Costs", "Cost card",
    "Sell or hold", "Labels", "Sales", "Sales lines", "Sale", "Matched set", "Summary", "Sold",
    "Sales tax", "Prices", "Species", "Functions", "Checks", "Curves",
]  # fmt: skip

VOLATILE = {"TODAY(", "NOW(", "RAND(", "RANDBETWEEN(", "OFFSET(", "INDIRECT("}
RATIOS = {"Air factor", "Air factor there"}
"""Numbers that have no unit."""

LONGEST_FORMULA = 8192
LONGEST_LIST = LONGEST_LITERAL = 255
"""Characters: Microsoft, "Excel specifications and limits" (formula contents), and the limits of a
list typed into a validation and of a text in a formula, from memory."""
DEEPEST, MOST_ARGUMENTS = 64, 255
"""Functions inside each other, and arguments of one: the same page."""
HIGHEST_ROW = 409
"""Points: the same page."""


@pytest.fixture(scope="module")
def workbook() -> Workbook:
    return build()


def formulas_in(workbook: Workbook) -> Iterator[tuple[str, Any]]:
    """Where each formula stands, and the formula."""
    for sheet in workbook:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    yield f"{sheet.title}!{cell.coordinate}", cell.value


def alike_in(workbook: Workbook) -> dict[str, str]:
    """One of the formulas that differ in their addresses alone: Tokenizer takes its time."""
    alike = {
        relative(formula, where.partition("!")[2])[0]: (where, formula)
        for where, formula in formulas_in(workbook)
    }
    return dict(alike.values())


def called(formula: str) -> set[str]:
    """Functions that a formula calls, with their bracket."""
    tokens = Tokenizer(formula).items
    return {token.value for token in tokens if token.type == "FUNC" and token.subtype == "OPEN"}


def named(formula: str) -> set[str]:
    """Names that a formula uses: operands that are no cell, area or constant."""
    areas = {
        token.value
        for token in Tokenizer(formula).items
        if token.type == "OPERAND" and token.subtype == "RANGE"
    }
    cell = r"\$?[A-Z]{1,3}\$?\d+"
    return {area for area in areas if not re.fullmatch(rf"('[^']+'!)?{cell}(:{cell})?", area)}


def columns_of(role: str = "") -> list[tuple[Table, Column]]:
    return [
        (table, column) for table in TABLES for column in table.columns if role in ("", column.role)
    ]


def rows_of(table: Table) -> range:
    """Rows of a table in a new workbook."""
    return range(FIRST_ROW, FIRST_ROW + table.rows)


def id_of(value: object) -> str:
    return value.sheet if isinstance(value, Table) else getattr(value, "key", str(value))


all_columns = pytest.mark.parametrize(("table", "column"), columns_of(), ids=id_of)
input_columns = pytest.mark.parametrize(("table", "column"), columns_of("input"), ids=id_of)
fields = pytest.mark.parametrize(
    "field", [field for form in FORM_FILES.values() for field in form], ids=lambda f: f.name
)


def test_sheets_are_there_in_their_order(workbook: Workbook) -> None:
    assert workbook.sheetnames == SHEETS


@all_columns
def test_header_says_what_and_in_which_unit(
    workbook: Workbook, table: Table, column: Column
) -> None:
    header = workbook[table.sheet][f"{table.letter(column.key)}{HEADER_ROW}"]
    assert header.value == column.header
    assert header.style == "lc header"
    assert not set("[]") & set(column.header)
    # whole numbers are counts or months, dates and texts say what they are: all others need a unit
    plain = column.number_format in ("@", "0", "0;;") or "yy" in column.number_format
    assert plain or column.header in RATIOS or re.search(r"\(.+\)", column.header)


def test_no_header_of_any_sheet_has_square_brackets(workbook: Workbook) -> None:
    headers = [
        str(cell.value)
        for sheet in workbook
        for row in sheet.iter_rows(min_row=HEADER_ROW, max_row=LINE_HEADER_ROW)
        for cell in row
        if cell.style == "lc header" and cell.value is not None
    ]
    optional = [header for header in headers if "[" in header and not header.endswith("in [ ]")]
    assert len(headers) > len(columns_of())
    assert optional == []


def test_no_defined_name_is_a_function_or_an_address(workbook: Workbook) -> None:
    functions = {name.upper() for name in (*FORMULAE, *formulas.get_functions(), *CATALOGUE)}
    assert {"SUM", "XLOOKUP", "EMC"} <= functions
    address = re.compile(r"[A-Z]{1,3}\d+|R\d*C\d*|R|C|TRUE|FALSE", re.IGNORECASE)
    names = list(workbook.defined_names)
    assert [name for name in names if name.upper() in functions] == []
    assert [name for name in names if address.fullmatch(name)] == []
    assert [name for name in names if not re.fullmatch(r"[a-z][a-z0-9_]*", name)] == []


def test_defined_names_point_into_the_workbook(workbook: Workbook) -> None:
    for name, defined in workbook.defined_names.items():
        [(sheet, area)] = defined.destinations
        assert sheet in SHEETS, name
        assert re.fullmatch(r"\$[A-Z]+\$\d+(:\$[A-Z]+\$\d+)?", area), name


def test_every_name_and_function_that_a_formula_uses_is_there(workbook: Workbook) -> None:
    # FORMULAE are the functions of the 2007 file format: a newer one would need a prefix.
    known = {f"{name}(" for name in (*FORMULAE, *CATALOGUE)} - VOLATILE
    used = set()
    for where, formula in alike_in(workbook).items():
        used |= called(formula)
        assert called(formula) <= known, where
        assert named(formula) <= set(workbook.defined_names), where
    assert {"READY_DATE(", "SAFE_RATE(", "MC_BY_WEIGHT(", "BOARD_FEET("} <= used


def test_formulas_are_short_and_no_array_formulas(workbook: Workbook) -> None:
    written = [formula for _, formula in formulas_in(workbook)]
    assert {type(formula) for formula in written} == {str}
    assert 100 < max(len(formula) for formula in written) <= LONGEST_FORMULA


def test_formulas_keep_to_what_excel_reads(workbook: Workbook) -> None:
    depths, arguments, literals = [0], [0], [0]
    for formula in alike_in(workbook).values():
        open_functions: list[int] = []
        for token in Tokenizer(formula).items:
            if token.type == "FUNC" and token.subtype == "OPEN":
                open_functions.append(1)
                depths.append(len(open_functions))
            elif token.type == "FUNC":
                arguments.append(open_functions.pop())
            elif token.type == "SEP" and token.subtype == "ARG":
                open_functions[-1] += 1
            elif token.subtype == "TEXT":
                literals.append(len(token.value[1:-1].replace('""', '"')))
    assert 20 < max(depths) <= DEEPEST
    assert 10 < max(arguments) <= MOST_ARGUMENTS
    assert 100 < max(literals) <= LONGEST_LITERAL


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_row_is_higher_than_excel_makes_one(workbook: Workbook, sheet: str) -> None:
    rows = workbook[sheet].row_dimensions.values()
    assert max(row.height or 0 for row in rows) <= HIGHEST_ROW


def test_checks_lead_to_their_sheets(workbook: Workbook) -> None:
    # a place in the workbook is a location, and no relation to another file: part 1, 18.3.1.47
    cells = [cell for row in workbook["Checks"].iter_rows(min_col=2, max_col=2) for cell in row]
    links = [(cell.value, cell.hyperlink) for cell in cells if cell.hyperlink]
    assert len(links) > 50
    assert {link.target for _, link in links} == {None}
    assert all(link.location == f"'{sheet}'!A1" and sheet in SHEETS for sheet, link in links)


@pytest.mark.parametrize(("table", "column"), columns_of("result") + columns_of("check"), ids=id_of)
def test_column_is_its_first_formula_filled_down(
    workbook: Workbook, table: Table, column: Column
) -> None:
    sheet, letter, rows = workbook[table.sheet], table.letter(column.key), rows_of(table)
    first = Translator(sheet[f"{letter}{rows[0]}"].value, origin=f"{letter}{rows[0]}")
    for row in rows:
        assert sheet[f"{letter}{row}"].value == first.translate_formula(f"{letter}{row}")


@pytest.mark.parametrize(("table", "column"), columns_of("result") + columns_of("check"), ids=id_of)
def test_column_is_guarded_against_blank_rows(table: Table, column: Column) -> None:
    # beyond the keys there are SMALL is an error, and that is the guard of their column alone
    guard = "=IFERROR(SMALL(" if column.key == "nth_key" else "=IF("
    assert column.formula.startswith(guard)


def test_named_styles_by_role_are_there(workbook: Workbook) -> None:
    names = {style.name for style in named_styles()}
    assert names >= {"lc input", "lc result", "lc check", "lc note", "lc header", "lc title"}
    assert names <= set(workbook.named_styles)


@all_columns
def test_every_cell_of_a_table_has_the_style_of_its_role(
    workbook: Workbook, table: Table, column: Column
) -> None:
    sheet, letter = workbook[table.sheet], table.letter(column.key)
    cells = [sheet[f"{letter}{row}"] for row in rows_of(table)]
    assert {cell.style for cell in cells} == {f"lc {column.role}"}
    assert {cell.number_format for cell in cells} == {padded(column.number_format)}
    if column.role == "input":
        assert {cell.value for cell in cells} == {None}


@fields
def test_every_field_is_a_named_cell_in_the_style_of_its_role(
    workbook: Workbook, field: Field
) -> None:
    [(sheet, address)] = workbook.defined_names[field.name].destinations
    cell = workbook[sheet][address.replace("$", "")]
    total = {"lc answer", "lc total"} if field.role == "result" else set()
    assert cell.style in {f"lc {field.role}"} | total
    assert cell.number_format == padded(field.number_format)
    assert cell.value == field.value


def test_roles_differ_by_more_than_color() -> None:
    styles = {style.name: style for style in named_styles()}
    roles = [styles[f"lc {role}"] for role in ("input", "result", "check")]
    assert len({(style.border.left is None, bool(style.font.i)) for style in roles}) == len(roles)


def bounds(rule: DataValidation) -> tuple[float, float]:
    return float(rule.formula1 or "nan"), float(rule.formula2 or "nan")


def validations_at(sheet: Worksheet, address: str) -> list[DataValidation]:
    return [rule for rule in sheet.data_validations.dataValidation if address in rule.cells]


@pytest.mark.parametrize("sheet", SHEETS)
def test_lists_fit_into_a_validation(workbook: Workbook, sheet: str) -> None:
    for rule in workbook[sheet].data_validations.dataValidation:
        if rule.type != "list":
            continue
        listed = rule.formula1 or ""
        if listed.startswith('"'):
            assert len(listed) - 2 <= LONGEST_LIST
        else:
            assert listed in workbook.defined_names  # without "=": ECMA-376 part 1, 18.17.2


@pytest.mark.parametrize("sheet", SHEETS)
def test_titles_of_validations_are_no_words_cut_in_two(workbook: Workbook, sheet: str) -> None:
    page = workbook[sheet]
    shown = {str(cell.value) for row in page.iter_rows() for cell in row if cell.value}
    for rule in page.data_validations.dataValidation:
        title = rule.promptTitle or ""
        assert len(title) <= LONGEST_TITLE
        assert rule.errorTitle == (title if rule.type else None)
        assert any(
            text == title or text.startswith((f"{title} (", f"{title},")) for text in shown
        ), title


@input_columns
def test_validation_holds_the_declared_limits(
    workbook: Workbook, table: Table, column: Column
) -> None:
    sheet, letter = workbook[table.sheet], table.letter(column.key)
    last = table.last_row
    rules = validations_at(sheet, f"{letter}{rows_of(table)[0]}")
    assert rules == validations_at(sheet, f"{letter}{last}")
    assert validations_at(sheet, f"{letter}{last + 1}") == []
    check_rules(rules, column.limits, column.choices, column.about)


@pytest.mark.parametrize(
    "field",
    [field for form in FORM_FILES.values() for field in form if field.role == "input"],
    ids=lambda field: field.name,
)
def test_validation_of_a_field_holds_its_declared_limits(workbook: Workbook, field: Field) -> None:
    [(sheet, address)] = workbook.defined_names[field.name].destinations
    check_rules(
        validations_at(workbook[sheet], address.replace("$", "")), field.limits, field.choices
    )


def check_rules(
    rules: list[DataValidation], limits: Limits | None, choices: str, about: str = ""
) -> None:
    if limits is None and not choices and not about:
        assert rules == []
        return
    [rule] = rules
    assert rule.allowBlank
    assert rule.showInputMessage == bool(about)
    assert rule.prompt == about or not about
    if limits is None and not choices:
        assert (rule.type, rule.error) == (None, None)
        return
    if choices:
        assert (rule.type, rule.formula1, rule.errorStyle) == (
            "list",
            choices.removeprefix("="),
            "warning",
        )
        return
    assert limits is not None
    words = limits.words().replace("money", MONEY)
    assert words in (rule.error or "") or len(words) > 200
    if limits.choices:
        assert (rule.type, rule.formula1) == ("list", '"' + ",".join(limits.choices) + '"')
    elif limits.unit == "date":
        # 1950-01-01 and 9999-12-31 in the 1900 date system (ECMA-376 Part 1, 18.17.4)
        assert (rule.type, rule.formula1, rule.formula2) == ("date", "18264", "2958465")
    else:
        assert rule.type == ("whole" if limits.whole else "decimal")
        assert bounds(rule) == (limits.lowest, limits.highest)


@pytest.mark.parametrize(
    ("table", "key", "function", "argument"),
    [
        ("Site", "temp", "DRYING_DAYS", "temp_f"),
        ("Site", "rh", "EMC", "rh_pct"),
        ("Boards", "width", "BOARD_FEET", "width_in"),
        ("Boards", "length", "BOARD_FEET", "length_ft"),
        ("Boards", "pieces", "BOARD_FEET", "pieces"),
        ("Stacks", "measured_in", "READY_DATE", "thickness_in"),
        ("Stacks", "measured_mc", "READY_DATE", "green_mc"),
        ("Stacks", "target", "READY_DATE", "target_mc"),
        ("Sample boards", "weight", "OVENDRY_WEIGHT", "weight"),
        ("Weighings", "weight", "MC_BY_WEIGHT", "weight"),
        ("Sales", "discount", "LINE_TOTAL", "discount_pct"),
        ("Sales", "tax_rate", "SALES_TAX", "tax_pct"),
        ("Sales lines", "discount", "LINE_TOTAL", "discount_pct"),
        ("Sales lines", "width_3", "SLAB_AREA", "widths_in"),
        ("Prices", "price", "LINE_TOTAL", "price_per_bf"),
        ("Costs", "litres", "DEHUMIDIFIER_KWH", "litres_per_kwh"),
        ("Costs", "fan", "FAN_KWH", "watts"),
        ("Costs", "area", "SPACE_COST", "area_ft2"),
        ("Sell or hold", "now_price", "LINE_TOTAL", "price_per_bf"),
    ],
)
def test_validation_and_function_refuse_the_same_numbers(
    workbook: Workbook, table: str, key: str, function: str, argument: str
) -> None:
    declared = next(one for one in TABLES if one.sheet == table)
    address = f"{declared.letter(key)}{rows_of(declared)[0]}"
    [rule] = validations_at(workbook[table], address)
    limits = next(a.limits for a in CATALOGUE[function].arguments if a.name == argument)
    assert bounds(rule) == (limits.lowest, limits.highest)


# Labels prints its page of labels, not its table.
PRINTED = [table for table in TABLES if table.sheet != "Labels"]


@pytest.mark.parametrize("table", PRINTED, ids=lambda table: table.sheet)
def test_a_row_that_is_filled_down_later_is_printed_too(workbook: Workbook, table: Table) -> None:
    assert re.fullmatch(r".*!\$A\$1:\$[A-Z]+\$1048576", workbook[table.sheet].print_area)


@pytest.mark.parametrize("sheet", SHEETS)
def test_sheet_is_set_up_for_printing(workbook: Workbook, sheet: str) -> None:
    page: Any = workbook[sheet]
    assert page.print_area
    assert page.page_setup.fitToWidth >= 1
    assert page.sheet_properties.pageSetUpPr.fitToPage
    bare = {"Sale", "Labels"}  # a buyer gets no page 17 of 27
    expected = None if sheet in bare else "page &P of &N"
    assert page.oddFooter.right.text == expected
    one_page = {"Start", "Stack card", "Move plan", "Sale", "Matched set", "Checks", "Plan"}
    one_page |= {"Cost card", "Labels", "Sales tax"}
    assert (page.print_title_rows is None) == (sheet in one_page)


@pytest.mark.parametrize("sheet", [sheet for sheet in SHEETS if sheet != "Start"])
def test_headers_stay_when_the_sheet_is_scrolled(workbook: Workbook, sheet: str) -> None:
    row = int(re.sub(r"\D", "", workbook[sheet].freeze_panes or ""))
    under_a_form = {"Sale": FIRST_LINE, "Matched set": SET_LINES.first_row}
    under_a_form["Sold"] = BY_MONTH.first_row
    assert row == under_a_form.get(sheet, FIRST_ROW)


def test_every_page_of_the_summary_has_the_headers_of_its_long_list(workbook: Workbook) -> None:
    header = BY_SORT.header_row
    assert workbook["Summary"].print_title_rows == f"${header}:${header}"


def test_quarters_to_choose_from_are_texts(workbook: Workbook) -> None:
    [(sheet, area)] = workbook.defined_names["quarters_list"].destinations
    cells = [cell for (cell,) in workbook[sheet][area.replace("$", "")]]
    assert [cell.value for cell in cells] == list(USUAL_THICKNESSES)
    assert {(cell.data_type, cell.number_format) for cell in cells} == {("s", "@")}


def test_functions_sheet_lists_the_catalogue_with_live_examples(workbook: Workbook) -> None:
    sheet = workbook["Functions"]
    rows = [row for row in sheet.iter_rows(min_row=FIRST_ROW) if row[0].value]
    assert [row[0].value for row in rows] == list(CATALOGUE)
    for name, row in zip(CATALOGUE, rows, strict=True):
        assert row[5].data_type == "s"  # the formula to read
        assert row[5].value == f"={CATALOGUE[name].formula}"
        assert row[6].data_type == "f"  # the formula that runs
        assert f"{name}(" in called(str(row[6].value))


def test_stored_values_count_as_computed_by_today_s_excel(workbook: Workbook) -> None:
    # [MS-XLS] 2.4.215 RecalcId: of an older engine, and Excel computes everything anew on load,
    # which without the functions is #NAME? everywhere; openpyxl writes 2007's 124519
    assert workbook.calculation.calcId == CALCULATION_ENGINE >= 191029
    assert not workbook.calculation.fullCalcOnLoad


def test_two_builds_are_the_same(workbook: Workbook) -> None:
    again = build()
    cells = [
        {cell.coordinate: (cell.value, cell.style) for row in sheet.iter_rows() for cell in row}
        for sheet in (*workbook, *again)
    ]
    assert cells[: len(SHEETS)] == cells[len(SHEETS) :]
