"""An older workbook in a new template: every typed cell is in its place, or kept and said."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book import upgrade as upgrade_module
from lumbercalc.book.faults import FileFault
from lumbercalc.book.inputs import Kind, named_area, single_cells, tables
from lumbercalc.book.kept import HEADERS, SHEET, Kept
from lumbercalc.book.moves import MOVES, TOLD_BY, Move, Moves
from lumbercalc.book.old_workbook import OldCell, OldWorkbook, as_old, read_old
from lumbercalc.book.own_contents import old_contents, own_forms, own_name
from lumbercalc.book.records import fill
from lumbercalc.book.refill import Refill, refusal
from lumbercalc.book.refill_moved import move_together
from lumbercalc.book.sample import sample_folder
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.prices import PRICES
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.template import build
from lumbercalc.book.upgrade import (
    NOTE,
    OVER_A_FORMULA,
    OWN_NAME,
    OWN_SHEET,
    PICTURE,
    REMARK,
    _told,
    upgrade,
)
from lumbercalc.sheet.limits import Limits
from lumbercalc.version import TEMPLATE
from tests.hosts.calc.calc_session import Calc

OLD = Path(__file__).parent / "old_templates"
FIRST, SECOND, THIRD = OLDEST = [OLD / f"template-{number}.xlsx" for number in (1, 2, 3)]
COMMITTED = Path(__file__).parents[2] / "workbook" / "lumber-shop.xlsx"

MOVED = {move.old for moves in MOVES for move in moves.lines}


@pytest.fixture(scope="module")
def template() -> Workbook:
    return build()


@cache
def plain(old: Path) -> Refill:
    """A template's own sample upgraded; read it, do not change it."""
    return upgrade(old)


@cache
def found_in(old: Path) -> OldWorkbook:
    return read_old(old)


def copy_of(found: OldWorkbook) -> OldWorkbook:
    return OldWorkbook(dict(found.cells), found.names)


@cache
def opened(old: Path) -> Workbook:
    return load_workbook(old)


def typed_rows(workbook: Workbook, names_of: Workbook) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table as it was typed, read by the names of the columns alone."""
    found: dict[str, list[tuple[Any, ...]]] = {}
    for rows in tables():
        columns = []
        for name in rows.names.values():
            if name in names_of.defined_names:
                [(sheet, area)] = workbook.defined_names[name].destinations
                columns.append([cell.value for (cell,) in workbook[sheet][area.replace("$", "")]])
        found[rows.table.sheet] = [
            row for row in zip(*columns, strict=True) if any(cell is not None for cell in row)
        ]
    return found


def typed_cells(workbook: Workbook, template: Workbook) -> dict[str, list[Any]]:
    """What stands in the fields, the lists and the choices."""
    found = {}
    for name in single_cells(template):
        if name in workbook.defined_names:
            [(sheet, area)] = workbook.defined_names[name].destinations
            block = workbook[sheet][area.replace("$", "")]
            rows = block if isinstance(block, tuple) else ((block,),)
            found[name] = [cell.value for row in rows for cell in row]
    return found


def saved(brought: Refill, folder: Path) -> Path:
    """The new workbook as a file, without computed values."""
    path = folder / "new.xlsx"
    brought.workbook.save(path)
    return path


def edited(source: Path, folder: Path, change: Callable[[Workbook], object]) -> Path:
    """An old workbook after somebody's change."""
    workbook = load_workbook(source)
    change(workbook)
    path = folder / "edited.xlsx"
    workbook.save(path)
    return path


def why(brought: Refill) -> list[tuple[str, str, Any]]:
    return [(each.sheet, each.cell, each.value) for each in brought.kept]


# From the first template on


@pytest.mark.parametrize("old", OLDEST, ids=lambda path: path.stem)
def test_every_input_row_of_every_template_is_there(old: Path, template: Workbook) -> None:
    before = old.read_bytes()
    brought = plain(old)
    rows = typed_rows(opened(old), opened(old))
    assert {sheet: len(lines) for sheet, lines in rows.items() if lines} == {
        sheet: count for sheet, count in brought.rows.items() if count
    }
    assert sum(map(len, rows.values())) > 380
    assert typed_rows(brought.workbook, opened(old)) == rows
    cells = typed_cells(opened(old), template)
    now = typed_cells(brought.workbook, template)
    assert len(cells) > 15
    assert {name: now[name][: len(values)] for name, values in cells.items()} == cells
    assert brought.kept == []
    assert SHEET not in brought.workbook.sheetnames
    assert brought.template == OLDEST.index(old) + 1
    assert old.read_bytes() == before


def test_the_discounts_of_a_sale_come_without_a_name_of_their_own() -> None:
    old, new = opened(FIRST)["Sale"], plain(FIRST).workbook["Sale"]
    discounts = [old[f"G{row}"].value for row in range(12, 37)]
    assert any(discounts)
    assert [new[f"G{row}"].value for row in range(12, 37)] == discounts


def test_the_new_workbook_is_the_one_that_records_make(tmp_path: Path) -> None:
    """The invented shop of today, filled by its records or upgraded from its own workbook."""
    workbook = build()
    fill(workbook, sample_folder())
    path = tmp_path / "today.xlsx"
    workbook.save(path)
    brought = upgrade(path)
    assert brought.template == TEMPLATE
    assert brought.kept == []
    assert contents(brought.workbook) == contents(workbook)


def contents(workbook: Workbook) -> dict[str, Any]:
    def day(value: Any) -> Any:
        return value.date() if isinstance(value, datetime) else value

    return {
        f"{sheet.title}!{cell.coordinate}": (day(cell.value), cell.number_format, cell.style)
        for sheet in workbook
        for row in sheet.iter_rows()
        for cell in row
    } | {name: defined.attr_text for name, defined in workbook.defined_names.items()}


# The template's number and what it has of its own


def test_the_mark_tells_the_template(tmp_path: Path, template: Workbook) -> None:
    [(sheet, address)] = template.defined_names["template_version"].destinations
    assert template[sheet][address.replace("$", "")].value == TEMPLATE
    newer = edited(THIRD, tmp_path, mark(TEMPLATE + 1))
    words = f"its template is {TEMPLATE + 1}, newer than {TEMPLATE}"
    with pytest.raises(FileFault, match=words):
        upgrade(newer)
    assert _told(read_old(edited(THIRD, tmp_path, mark(TEMPLATE))), THIRD) == TEMPLATE


def mark(number: int) -> Callable[[Workbook], object]:
    def change(workbook: Workbook) -> None:
        workbook["Start"]["Z1"].value = number
        workbook.defined_names["template_version"] = DefinedName(
            "template_version", attr_text="Start!$Z$1"
        )

    return change


def test_a_workbook_of_somebody_else_is_refused(tmp_path: Path) -> None:
    Workbook().save(tmp_path / "other.xlsx")
    with pytest.raises(FileFault, match="no table made by lumbercalc new is in it"):
        upgrade(tmp_path / "other.xlsx")


def test_every_input_of_the_template_is_one_that_an_upgrade_brings(template: Workbook) -> None:
    """By the style of the cells: a new input must be in a table, a form or a list that is known."""
    known = {place for cells in single_cells(template).values() for place in cells.places}
    known |= {
        (rows.table.sheet, row, rows.number(key))
        for rows in tables()
        for key in rows.names
        for row in range(rows.first_row, rows.last_row + 1)
    }
    known |= set(named_area(template, "species_names").places)
    typed = {
        (sheet.title, cell.row, cell.column)
        for sheet in template
        for row in sheet.iter_rows()
        for cell in row
        if cell.style == "lc input" and cell.coordinate not in sheet.merged_cells
    }
    legend = {place for place in typed if place[0] == "Start" and template["Start"].cell(*place[1:])
              .value == "boxed"}  # fmt: skip
    assert len(typed) > 3000
    assert sorted(typed - known - legend) == []


@pytest.mark.parametrize("old", [*OLDEST, COMMITTED], ids=lambda path: path.stem)
def test_no_input_of_an_older_template_is_without_a_place(old: Path, template: Workbook) -> None:
    """By the style of the cells of the old one: a name that went away needs a line in moves."""
    workbook, found = opened(old), found_in(old)
    today = {name for rows in tables() for name in rows.names.values()} | set(
        single_cells(template)
    )
    typed = {
        name
        for name, area in found.names.items()
        if 1 in (len({row for _, row, _ in area.places}), len({n for *_, n in area.places}))
        and workbook[area.sheet][f"{get_column_letter(area.first_column)}{area.first_row}"].style
        == "lc input"
    }
    assert len(typed) > 60
    assert sorted(typed - today - MOVED) == []


@pytest.mark.parametrize("old", [*OLDEST, COMMITTED], ids=lambda path: path.stem)
def test_what_older_templates_had_of_their_own_is_known(old: Path, template: Workbook) -> None:
    """Else it would be kept as if the shop had typed it: see own_contents on what to run."""
    found = found_in(old)
    own = old_contents() | {form for _, form in own_forms(as_old(template), {})}
    brought = plain(old).done
    unknown = [place for place, form in own_forms(found, {}) if form not in own | brought]
    assert [place for place in unknown if place not in brought][:5] == []
    assert all(own_name(name) in own | {own_name(n) for n in template.defined_names}
               for name in found.names)  # fmt: skip


def test_every_move_leads_somewhere_or_its_input_is_still_there(template: Workbook) -> None:
    today = {name for rows in tables() for name in rows.names.values()} | set(
        single_cells(template)
    )
    for moves in MOVES:
        assert moves.before <= TEMPLATE
        assert moves.defaults.keys() <= {move.old for move in moves.lines} | {
            move.when[0] for move in moves.lines if move.when
        }
        for move in moves.lines:
            assert move.new in today or not move.old or move.old in today, move


@pytest.mark.parametrize(("number", "name"), TOLD_BY)
def test_templates_before_the_mark_are_told_by_a_name(number: int, name: str) -> None:
    for old in OLDEST:
        has = name in opened(old).defined_names
        assert has == (int(old.stem[-1]) >= number)


# What a shop may have done to its workbook


def rename_sheet(workbook: Workbook) -> None:
    """As a spreadsheet does it: names and formulas follow."""
    workbook["Boards"].title = "My boards"
    for defined in workbook.defined_names.values():
        defined.attr_text = defined.attr_text.replace("'Boards'!", "'My boards'!")


def test_a_renamed_sheet_is_found_by_its_names(tmp_path: Path) -> None:
    brought = upgrade(edited(FIRST, tmp_path, rename_sheet))
    assert brought.rows["Boards"] == 172
    assert brought.kept == []
    assert brought.workbook["Boards"]["A5"].value == "WA-01"


def shifted(attribute: str, left: int, by: int) -> str:
    """An area with its columns moved, as a spreadsheet moves them."""
    sheet, _, area = attribute.rpartition("!")
    corners = []
    for corner in area.split(":"):
        letter, row = corner.split("$")[1:]
        number = sum((ord(c) - 64) * 26**n for n, c in enumerate(reversed(letter)))
        number += by if number >= left else 0
        corners.append(f"${get_column_letter(number)}${row}")
    return f"{sheet}!{':'.join(corners)}"


def insert_column(workbook: Workbook) -> None:
    """A column of the shop's own between tag and log; values only, as formulas would move too."""
    sheet = workbook["Prices"]
    sheet.move_range("C1:E504", cols=1)
    sheet["C4"].value = "Seen at"
    sheet["C5"].value = "the fair"
    for name, defined in workbook.defined_names.items():
        if name in ("price_grade", "price_price", "price_key"):
            defined.attr_text = shifted(defined.attr_text, 3, 1)


def test_columns_that_were_moved_are_found_and_own_ones_kept(tmp_path: Path) -> None:
    brought = upgrade(edited(FIRST, tmp_path, insert_column))
    before, now = opened(FIRST)["Prices"], brought.workbook["Prices"]
    assert brought.rows["Prices"] == 24
    for row in range(FIRST_ROW, FIRST_ROW + 24):
        assert [now.cell(row, n).value for n in range(1, 5)] == [
            before.cell(row, n).value for n in range(1, 5)
        ]
    kept = why(brought)
    assert ("Prices", "C4", "Seen at") in kept
    assert ("Prices", "C5", "the fair") in kept


def test_old_orders_of_columns_are_found() -> None:
    """The first template has the size of a stack where today's has the day of its move."""
    old, new = opened(FIRST)["Stacks"], plain(FIRST).workbook["Stacks"]
    assert [old.cell(HEADER_ROW, n).value for n in (10, 11, 12)] == [
        "Sticker (in)", "Width (ft)", "Length (ft)"
    ]  # fmt: skip
    for key, column in (("sticker", 10), ("width", 11), ("length", 12)):
        assert STACKS.letter(key) != get_column_letter(column)
        for row in range(5, 8):
            assert (
                new[f"{STACKS.letter(key)}{row}"].value == old.cell(row, column).value is not None
            )


def lose_names(workbook: Workbook) -> None:
    for name in [name for name in workbook.defined_names if name.startswith(("board_", "price_"))]:
        del workbook.defined_names[name]


def test_columns_without_names_are_found_by_their_headers(tmp_path: Path) -> None:
    lost = edited(THIRD, tmp_path, lose_names)
    brought = upgrade(lost)
    whole = plain(THIRD)
    assert (brought.rows["Boards"], brought.rows["Prices"]) == (172, 24)
    assert contents(brought.workbook) == contents(whole.workbook) or brought.kept


def insert_rows(workbook: Workbook) -> None:
    """Two boards above the first one: the names of the columns then begin under them."""
    sheet = workbook["Boards"]
    sheet.move_range("A5:L176", rows=2)
    for row, tag in ((5, "new-1"), (6, "new-2")):
        sheet[f"A{row}"].value, sheet[f"G{row}"].value = tag, 96
    for name, defined in workbook.defined_names.items():
        if name.startswith("board_"):
            defined.attr_text = defined.attr_text.replace("$5:", "$7:").replace("$5004", "$5006")


def test_rows_put_in_above_the_first_are_rows_of_the_table(tmp_path: Path) -> None:
    brought = upgrade(edited(FIRST, tmp_path, insert_rows))
    tags = [brought.workbook["Boards"][f"A{row}"].value for row in range(5, 9)]
    assert tags == ["new-1", "new-2", "WA-01", "WA-02"]
    assert brought.rows["Boards"] == 174


def more_rows(workbook: Workbook) -> None:
    sheet = workbook["Boards"]
    for row in range(FIRST_ROW + BOARDS.rows, FIRST_ROW + BOARDS.rows + 30):
        sheet[f"A{row}"].value, sheet[f"F{row}"].value = f"more-{row}", 7.5
    workbook["Prices"]["A600"].value = "Oak, white"  # under the last row of the prices


def test_rows_beyond_the_template_s_come_with_their_formulas(tmp_path: Path) -> None:
    brought = upgrade(edited(SECOND, tmp_path, more_rows))
    sheet = brought.workbook["Boards"]
    last = FIRST_ROW + BOARDS.rows + 29
    assert sheet[f"A{last}"].value == f"more-{last}"
    letter = BOARDS.letter("bf")
    assert sheet[f"{letter}{last}"].value == BOARDS.formula(BOARDS.column("bf"), last)
    assert sheet[f"A{last}"].style == "lc input"
    assert brought.rows["Boards"] == 202
    assert why(brought) == [("Prices", "A600", "Oak, white")]


def no_room(workbook: Workbook) -> None:
    for name, defined in workbook.defined_names.items():
        if name.startswith("price_"):
            defined.attr_text = defined.attr_text.replace("$504", "$704")
    for row in (504, 505, 700):
        workbook["Prices"][f"A{row}"].value = f"wood {row}"


def test_rows_that_a_table_has_no_room_for_are_kept(tmp_path: Path) -> None:
    brought = upgrade(edited(THIRD, tmp_path, no_room))
    assert brought.workbook["Prices"]["A504"].value == "wood 504"
    assert [(k.cell, k.value, k.why) for k in brought.kept] == [
        (f"A{row}", f"wood {row}", f"no room on Prices: it ends in row {PRICES.last_row}")
        for row in (505, 700)
    ]


def own_things(workbook: Workbook) -> None:
    own = workbook.create_sheet("Customers")
    own["A1"].value, own["B2"].value = "Table maker", "=1+1"
    workbook["Boards"]["T7"].value = "ask for the rest of this log"
    workbook["Boards"]["T7"].comment = Comment("by phone", "me")
    workbook["Site"]["A300"].comment = Comment("a note on a blank cell", "me")
    workbook["Start"]["B3"].value = "closed in August"
    workbook["Boards"]["M9"].value = "=2*3"  # over the board feet
    workbook["Boards"]["M10"].value = 12.5
    workbook["Boards"]["F5"].value = "=7+1/4"
    workbook["Boards"]["F6"].value = "wide"
    workbook["Boards"]["G6"].value = 4000
    workbook["Boards"]["D7"].value = True
    workbook["Species"]["A130"].value = "Persimmon, own"
    workbook.defined_names["my_rate"] = DefinedName("my_rate", attr_text="Customers!$A$1")
    workbook.defined_names["my_share"] = DefinedName("my_share", attr_text="0.15")


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Refill:
    return upgrade(edited(FIRST, tmp_path_factory.mktemp("own"), own_things))


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "words"),
    [
        ("Customers", "A1", "Table maker", OWN_SHEET),
        ("Customers", "B2", "=1+1", OWN_SHEET),
        ("Boards", "T7", "ask for the rest of this log", REMARK),
        ("Boards", "T7", "by phone", NOTE),
        ("Site", "A300", "a note on a blank cell", NOTE),
        ("Start", "B3", "closed in August", REMARK),
        ("Boards", "M9", "=2*3", OVER_A_FORMULA),
        ("Boards", "M10", 12.5, OVER_A_FORMULA),
        ("Boards", "F5", "=7+1/4", "a formula without a value"),
        ("Boards", "F6", "wide", "it stands in Boards!F6 too, but it must be a number"),
        ("Boards", "G6", 4000, "it stands in Boards!G6 too, but it must be from"),
        ("", "my_rate", "Customers!A1", OWN_NAME),
        ("", "my_share", "0.15", OWN_NAME),
    ],
)
def test_what_has_no_place_is_kept_with_its_cell(
    own: Refill, sheet: str, cell: str, value: Any, words: str
) -> None:
    [found] = [each for each in own.kept if 
               (each.sheet, each.cell, each.value) == (sheet, cell, value)]  # fmt: skip
    assert words in found.why


def test_nothing_else_is_kept_and_all_of_it_is_on_its_sheet(own: Refill) -> None:
    assert len(own.kept) == 13
    sheet = own.workbook[SHEET]
    assert tuple(cell.value for cell in sheet[HEADER_ROW]) == HEADERS
    rows = [
        tuple(cell.value for cell in row) for row in sheet.iter_rows(min_row=FIRST_ROW, max_col=4)
    ]
    assert [(a or "", b, c, d) for a, b, c, d in rows] == [
        (k.sheet, k.cell, k.value, k.why) for k in own.kept
    ]
    assert [cell.data_type for cell in sheet["C"][FIRST_ROW - 1 :]].count("f") == 0
    assert own.workbook.sheetnames[-1] == SHEET


def test_a_species_that_was_typed_under_the_table_is_there_again(own: Refill) -> None:
    typed = [cell.value for cell in own.workbook["Species"]["A"] if cell.style == "lc input"]
    assert typed[:2] == ["Persimmon, own", None]


def test_a_value_that_is_refused_today_still_stands_in_its_row(own: Refill) -> None:
    sheet = own.workbook["Boards"]
    assert (sheet["F6"].value, sheet["G6"].value) == ("wide", 4000)


def test_what_was_kept_before_is_carried_by_the_next_upgrade(own: Refill, tmp_path: Path) -> None:
    again = upgrade(saved(own, tmp_path))
    said_again = [each for each in own.kept if "stands in" in each.why]
    assert len(said_again) == 2
    assert again.kept == [*said_again, *own.kept]


def one_sheet() -> Workbook:
    workbook = Workbook()
    workbook.create_sheet("Boards")
    return workbook


def test_a_typed_formula_brings_its_value() -> None:
    """As a spreadsheet stores it beside the formula; nothing is computed from it."""
    place = ("Boards", 5, 6)
    bring = Refill(OldWorkbook({place: OldCell(7.25, "=7+1/4")}, {}), 1, one_sheet())
    bring.place(place, place, Kind("Width (in)", "0.00"))
    assert bring.workbook["Boards"]["F5"].value == 7.25
    assert bring.kept == [Kept("Boards", "F5", "=7+1/4", "its value is in Boards!F5")]


def longer_list(workbook: Workbook) -> None:
    for row, text in ((5, "3/4"), (12, "14/4"), (13, "20/4")):
        workbook["Prices"][f"K{row}"].value = text


def test_the_list_of_thicknesses_grows_with_its_name(tmp_path: Path) -> None:
    brought = upgrade(edited(SECOND, tmp_path, longer_list))
    [(sheet, area)] = brought.workbook.defined_names["quarters_list"].destinations
    values = [cell.value for (cell,) in brought.workbook[sheet][area.replace("$", "")]]
    assert values == ["3/4", "5/4", "6/4", "8/4", "10/4", "12/4", "16/4", "14/4", "20/4"]
    assert brought.workbook["Prices"]["K13"].style == "lc input"
    assert brought.kept == []


def cleared(workbook: Workbook) -> None:
    workbook["Start"]["B5"].value = None
    for row in range(7, 12):
        workbook["Prices"][f"K{row}"].value = None


def test_a_field_that_was_cleared_stays_blank(tmp_path: Path) -> None:
    brought = upgrade(edited(THIRD, tmp_path, cleared))
    assert brought.workbook["Start"]["B5"].value is None
    assert [brought.workbook["Prices"][f"K{n}"].value for n in range(5, 12)] == (
        ["4/4", "5/4"] + [None] * 5
    )


def test_pictures_are_spoken_of(tmp_path: Path) -> None:
    found = copy_of(found_in(FIRST))
    bring = OldWorkbook(found.cells, found.names, pictures=["xl/media/image1.png"])
    filled = Refill(bring, 1, Workbook())
    upgrade_module._keep_rest(filled, as_old(filled.workbook), FIRST)
    assert Kept("", "", "xl/media/image1.png", PICTURE) in filled.kept


TEXTS = ("=1+1", "+1", "-1", "@x", "\ttab", '=WEBSERVICE("http://example.org")')


def test_texts_like_formulas_stay_texts(tmp_path: Path) -> None:
    def change(workbook: Workbook) -> None:
        for row, text in enumerate(TEXTS, 5):
            for column in ("J", "F", "T"):  # a text, a number, a remark
                cell = workbook["Boards"][f"{column}{row}"]
                cell.value, cell.data_type = text, "s"

    brought = upgrade(edited(FIRST, tmp_path, change))
    workbook = load_workbook(saved(brought, tmp_path))
    sheet = workbook["Boards"]
    for row, text in enumerate(TEXTS, 5):
        for column, quoted in (("J", False), ("F", True)):
            cell = sheet[f"{column}{row}"]
            assert (cell.data_type, cell.value.strip()) == ("s", text.strip())
            assert bool(cell.quotePrefix) is quoted
    kept = workbook[SHEET]
    found = [kept.cell(row, 3) for row in range(FIRST_ROW, kept.max_row + 1)]
    assert {cell.data_type for cell in found} == {"s"}
    assert all(cell.quotePrefix for cell in found)
    assert len(found) == 2 * len(TEXTS)


def test_numbers_that_no_cell_can_hold_are_kept(tmp_path: Path) -> None:
    bring = Refill(OldWorkbook({}, {}), 1, one_sheet())
    for row, number in enumerate((math.inf, 10**400), 5):
        place = ("Boards", row, 6)
        bring.old.cells[place] = OldCell(number)
        bring.place(place, place, Kind("Width (in)", "0.00"))
    assert [each.why for each in bring.kept] == ["no spreadsheet holds such a number"] * 2
    assert bring.workbook["Boards"]["F5"].value is None


@pytest.mark.parametrize(
    ("value", "kind", "words"),
    [
        (7, Kind("", "0.00", Limits("in", 1, 60)), ""),
        (0, Kind("", "0.00", Limits("in", 1, 60)), "it must be from 1 to 60 in"),
        ("7", Kind("", "0.00", Limits("in", 1, 60)), "it must be a number"),
        (True, Kind("", "0.00"), "it must be a number"),
        (datetime(2026, 1, 1), Kind("", "0.00"), "it is a date and must be a number"),
        (datetime(2026, 1, 1), Kind("", "yyyy-mm-dd", Limits("date")), ""),
        (46000, Kind("", "yyyy-mm-dd", Limits("date")), ""),
        ("soon", Kind("", "yyyy-mm-dd", Limits("date")), "it must be a date"),
        ("Quote", Kind("", "@", Limits("choice", choices=("Quote", "Invoice"))), ""),
        ("Gift", Kind("", "@", Limits("choice", choices=("Quote",))), 'it must be one of "Quote"'),
        (7, Kind("", "@"), ""),
    ],
)
def test_what_is_refused(value: Any, kind: Kind, words: str) -> None:
    assert refusal(value, kind) == words


# Inputs that are elsewhere today


ELSEWHERE = Moves(
    (
        Move("sale_number", "price_species", text="1"),
        Move("sale_buyer", "price_grade", when=("sale_kind", "Quote")),
        Move("sale_discount", "price_price", when=("sale_kind", "Invoice")),
        Move("sale_number", "weighing_board", for_each="sale_tag", text="1"),
        Move("sale_tag", "weighing_weight", header="Discount (%)"),
        Move("sale_stack", "shop_name"),
        Move("", "stack_name", text="made up"),
        Move("sale_number", "nowhere_at_all"),
    ),
    2,
    {"sale_kind": "Quote", "sale_discount": 0},
)
"""A sale's head that became a row of prices, its lines that became weighings."""


@pytest.mark.parametrize(("number", "said"), [("0007", "0007"), (None, "1")])
def test_moves_follow_their_table(number: str | None, said: str) -> None:
    cells = {
        "sale_number": number, "sale_kind": "Quote", "sale_buyer": "Table maker",
        "sale_discount": 5, "sale_stack": "Walnut 1",
    }  # fmt: skip
    found = copy_of(found_in(FIRST))
    for name, value in cells.items():
        [place] = found.names[name].places
        found.cells.pop(place, None)
        if value is not None:
            found.cells[place] = OldCell(value)
    bring = Refill(found, 1, build(), rows={"Prices": 3})
    move_together(bring, ELSEWHERE, tables(), single_cells(bring.workbook))
    prices, weighings = bring.workbook["Prices"], bring.workbook["Weighings"]
    assert [prices.cell(8, n).value for n in (1, 3, 4)] == [said, "Table maker", None]
    assert [weighings.cell(row, 2).value for row in range(5, 21)] == [said] * 15 + [None]
    old = opened(FIRST)["Sale"]
    assert [weighings.cell(row, 3).value for row in range(5, 20)] == [
        old[f"G{row}"].value for row in range(12, 27)
    ]
    assert bring.workbook["Start"]["B5"].value == "Walnut 1"
    assert bring.workbook["Stacks"]["A5"].value == "made up"
    assert (bring.rows["Prices"], bring.rows["Weighings"], bring.rows["Stacks"]) == (4, 15, 1)
    assert bring.kept == []


def test_moves_of_older_templates_leave_newer_ones_alone() -> None:
    bring = Refill(found_in(FIRST), ELSEWHERE.before, Workbook())
    move_together(bring, ELSEWHERE, tables(), {})
    assert contents(bring.workbook) == contents(Workbook())


def test_a_blank_form_makes_no_row(template: Workbook) -> None:
    """A quote without number, buyer or lines is what every new workbook has."""
    bring = Refill(as_old(template), 1, Workbook())
    move_together(bring, ELSEWHERE, tables(), single_cells(template))
    assert contents(bring.workbook) == contents(Workbook())


# In live Calc


@pytest.mark.calc
@pytest.mark.parametrize("old", [FIRST, THIRD], ids=lambda path: path.stem)
def test_a_workbook_that_calc_saved_loses_nothing(calc: Calc, tmp_path: Path, old: Path) -> None:
    before = plain(old)
    copy = tmp_path / "shop.xlsx"
    copy.write_bytes(old.read_bytes())
    calc.open(copy)
    calc.formula("T7", "remark", "Boards")
    calc.formula("M9", "=2*3", "Boards")
    calc.formula("A305", "more-1", "Boards")
    calc.calculate()
    path = tmp_path / "saved.xlsx"
    calc.store(path)
    brought = upgrade(path)
    assert brought.template == before.template
    assert brought.rows == before.rows | {"Boards": 173}
    assert sorted((k.sheet, k.cell, k.value.replace(" ", "")) for k in brought.kept) == [
        ("Boards", "M9", "=2*3"),
        ("Boards", "T7", "remark"),
    ]
    now, there = contents(brought.workbook), contents(before.workbook)
    differing = {
        key for key in there if "!" in key and now[key][0] != there[key][0]
    }  # fmt: skip
    assert differing <= {"Boards!A305"}
    assert now["Boards!A305"][0] == "more-1"
