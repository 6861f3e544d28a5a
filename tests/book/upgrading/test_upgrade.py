"""An older workbook in a new template: every typed cell is in its place, or kept and said."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from random import Random
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.inputs import input_columns, named_area, single_cells
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.records import fill
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.prices import PRICES
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.tables import TABLE_FILES
from lumbercalc.book.template import build
from lumbercalc.book.upgrading import own_contents
from lumbercalc.book.upgrading.beside import NOTE
from lumbercalc.book.upgrading.kept import HEADERS, SHEET
from lumbercalc.book.upgrading.moves import WENT_AWAY
from lumbercalc.book.upgrading.own_contents import add_contents, old_contents, own_forms, own_name
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.upgrading.upgrade import (
    OVER_A_FORMULA,
    OWN_NAME,
    OWN_SHEET,
    REMARK,
    _template,
    upgrade,
)
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook, as_old, read_old
from lumbercalc.book.xlsx.places import Area
from lumbercalc.faults import FileFault
from lumbercalc.version import TEMPLATE
from tests.book.old_shops import (
    COMMITTED,
    FIRST,
    OLDEST,
    SECOND,
    THIRD,
    contents_of_today,
    copy_of,
    edited,
    found_in,
    opened,
    plain,
    retyped,
    todays,
    upgraded,
    upgraded_file,
)
from tests.hosts.calc.calc_session import Calc


def typed_rows(workbook: Workbook, names_of: Workbook) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table as it was typed, read by the names of the columns alone."""
    found: dict[str, list[tuple[Any, ...]]] = {}
    for table in TABLE_FILES.values():
        columns = []
        for name in input_columns(table):
            if name in names_of.defined_names:
                area = named_area(workbook, name)
                sheet, letter = workbook[area.sheet], get_column_letter(area.first_column)
                last = min(area.last_row, sheet.max_row)  # those below would be made by a look
                block = sheet[f"{letter}{area.first_row}:{letter}{last}"]
                columns.append([cell.value for (cell,) in block])
        found[table.sheet] = [
            row for row in zip(*columns, strict=True) if any(cell is not None for cell in row)
        ]
    return found


def typed_cells(workbook: Workbook) -> dict[str, list[Any]]:
    """What stands in the fields, the lists and the choices."""
    found = {}
    for name in single_cells(todays()):
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


def why(brought: Refill) -> list[tuple[str, str, Any]]:
    return [(each.sheet, each.cell, each.value) for each in brought.kept]


KEPT = [
    *(("Boards", f"K{row}", "treated") for row in (5, 153, 154, 175)),
    ("Prices", "H12", 1446),
]
"""Of every old sample: boards that were treated, the tally of a load."""


# From the first template on


@pytest.mark.parametrize("old", OLDEST, ids=lambda path: path.stem)
def test_every_input_row_of_every_sample_is_there(old: Path) -> None:
    before = old.read_bytes()
    brought = plain(old)
    rows = typed_rows(opened(old), opened(old))
    now = typed_rows(brought.workbook, opened(old))
    moved = {"Sales": 1, "Sales lines": 15, "Loads": 1}
    assert {sheet: len(lines) for sheet, lines in rows.items() if lines} | moved == {
        sheet: count for sheet, count in brought.rows.items() if count
    }
    assert sum(brought.rows.values()) == sum(map(len, rows.values())) + 17 > 380
    assert {sheet: now[sheet] for sheet in rows if sheet != "Boards"} == {
        sheet: lines for sheet, lines in rows.items() if sheet != "Boards"
    }
    assert now["Boards"] == [
        tuple("signs" if cell == "treated" else cell for cell in row) for row in rows["Boards"]
    ]
    cells, cells_now = typed_cells(opened(old)), typed_cells(brought.workbook)
    assert len(cells) > 7
    assert {name: cells_now[name][: len(values)] for name, values in cells.items()} == cells
    assert why(brought) == KEPT
    assert brought.kept[4].why == WENT_AWAY["cost_bf"]
    assert brought.template == OLDEST.index(old) + 1
    assert old.read_bytes() == before


def test_the_filled_workbook_of_today_comes_back_as_it_is(tmp_path: Path) -> None:
    """The invented shop of today, filled by its records, and upgraded from its own workbook."""
    workbook = build()
    rows = fill(workbook, sample_folder())
    path = tmp_path / "today.xlsx"
    workbook.save(path)
    brought = upgraded_file(path)
    assert brought.template == TEMPLATE
    assert brought.kept == []
    assert SHEET not in brought.workbook.sheetnames
    assert brought.rows == rows
    assert min(rows.values()) > 0
    assert contents(brought.workbook) == contents(workbook)


def contents(workbook: Workbook, sheets: set[str] | None = None) -> dict[str, Any]:
    def day(value: Any) -> Any:
        return value.date() if isinstance(value, datetime) else value

    return {
        f"{sheet.title}!{cell.coordinate}": (day(cell.value), cell.number_format, cell.style)
        for sheet in workbook
        if sheets is None or sheet.title in sheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None or cell.has_style
    } | {name: defined.attr_text for name, defined in workbook.defined_names.items()}


# The template's number and what it has of its own


def test_the_mark_tells_the_template() -> None:
    assert as_old(todays()).value("template_version") == TEMPLATE
    words = f"its template is {TEMPLATE + 1}, newer than {TEMPLATE}"
    with pytest.raises(FileFault, match=words):
        upgraded(marked(TEMPLATE + 1))
    assert _template(marked(TEMPLATE), THIRD) == TEMPLATE
    assert _template(marked(True), THIRD) == 3


def marked(number: object) -> OldWorkbook:
    found = retyped(THIRD, {"Start!Z1": number})
    found.names["template_version"] = Area("Start", 26, 1, 26, 1)
    return found


def test_a_workbook_of_somebody_else_is_refused(tmp_path: Path) -> None:
    Workbook().save(tmp_path / "other.xlsx")
    with pytest.raises(FileFault, match="no table made by lumbercalc new is in it"):
        upgrade(tmp_path / "other.xlsx")


def test_every_input_of_the_template_is_one_that_an_upgrade_brings() -> None:
    """By the style of the cells: a new input must be in a table, a form or a list that is known."""
    template = todays()
    known = {place for cells in single_cells(template).values() for place in cells.places}
    known |= {
        (table.sheet, row, table.number(column.key))
        for table in TABLE_FILES.values()
        for column in input_columns(table).values()
        for row in range(FIRST_ROW, FIRST_ROW + table.rows)
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
def test_what_older_templates_had_of_their_own_is_known(old: Path) -> None:
    """Else it would be kept as if the shop had typed it: see own_contents on what to run."""
    own = old_contents() | contents_of_today()
    assert why(plain(old)) == (KEPT if old in OLDEST else [])
    assert {name for name in found_in(old).names if own_name(name) not in own} == set()


def labelled(*labels: str) -> Workbook:
    workbook = Workbook()
    workbook.worksheets[0].title = "Boards"
    workbook.worksheets[0].append(labels)
    return workbook


def test_only_what_today_s_template_has_no_more_is_added(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old, file = tmp_path / "old.xlsx", tmp_path / "contents.txt"
    labelled("Tag", "a label of long ago").save(old)
    monkeypatch.setattr(own_contents, "build", lambda: labelled("Tag", "a new label"))
    file.write_text("# what it is\nffffffffffff\n")
    assert add_contents(old, file) == 1
    assert add_contents(old, file) == 0
    forms = own_forms(read_old(open_archive(old)), {})
    [form] = [form for place, form in forms if place == ("Boards", 1, 2)]
    assert file.read_text().splitlines() == ["# what it is", *sorted((form, "ffffffffffff"))]


@pytest.mark.parametrize(
    ("written", "saved"),
    [
        ("=EMC(A1,50)", "=emc(A1,50)"),  # Calc saves so what it does not know
        ("=IF(A1=TRUE,Sum(B2),1)", "=IF(A1=TRUE(),SUM(B2),1.0)"),
        ('=IF(A1="emc(1)",TRUE,1)', '=IF(A1="emc(1)",TRUE(),1)'),
    ],
)
def test_a_formula_is_the_templates_own_however_a_spreadsheet_saved_it(
    written: str, saved: str
) -> None:
    here, there = labelled("x", "y"), labelled("x", "y")
    here["Boards"]["C1"], there["Boards"]["C1"] = written, saved
    own, other = (dict(own_forms(as_old(book), {})) for book in (here, there))
    assert own == other
    there["Boards"]["C1"] = saved.replace("A1", "A2")
    assert dict(own_forms(as_old(there), {})) != own


@pytest.mark.parametrize("old", [*OLDEST, COMMITTED], ids=lambda path: path.stem)
def test_whatever_is_typed_anywhere_is_somewhere(old: Path) -> None:
    """In tables, over formulas and labels, beside and under them, and on a sheet of its own."""
    lot, found = Random(7), copy_of(found_in(old))
    reach: dict[str, tuple[int, int]] = {"Mine": (20, 9)}
    for sheet, row, column in found.cells:
        last = reach.get(sheet, (0, 0))
        reach[sheet] = max(last[0], row), max(last[1], column)
    typed: list[Any] = []
    for sheet, (rows, columns) in reach.items():
        for _ in range(60):
            place = sheet, lot.randint(1, rows + 3), lot.randint(1, columns + 3)
            typed.append(f"typed {len(typed)}" if lot.random() < 0.5 else 5e6 + len(typed))
            found.cells[place] = OldCell(typed[-1])
    found.names.pop("template_version", None)  # else a number typed there tells a newer template
    there = {cell.value for cell in found.cells.values()}
    assert len(there & set(typed)) > 600
    now = {cell.value for sheet in upgraded(found).workbook for row in sheet.iter_rows()
           for cell in row}  # fmt: skip
    assert (there & set(typed)) - now == set()


# What a shop may have done to its workbook


def rename_sheet(workbook: Workbook) -> None:
    """As a spreadsheet does it: names and formulas follow."""
    workbook["Boards"].title = "My Boards'24"
    for defined in workbook.defined_names.values():
        defined.attr_text = defined.attr_text.replace("'Boards'!", "'My Boards''24'!")


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


TEXTS = ("=1+1", "+1", "-1", "@x", "\ttab", '=WEBSERVICE("http://example.org")')


def type_texts(workbook: Workbook) -> None:
    for row, text in enumerate(TEXTS, 5):
        for column in ("J", "F", "T"):  # a text, a number, a remark
            cell = workbook["Boards"][f"{column}{row}"]
            cell.value, cell.data_type = text, "s"


@pytest.fixture(scope="module")
def changed(tmp_path_factory: pytest.TempPathFactory) -> Refill:
    """A workbook with a column put in, texts that begin as formulas do, and a sheet renamed."""

    def change(workbook: Workbook) -> None:
        insert_column(workbook)
        type_texts(workbook)
        rename_sheet(workbook)

    return upgraded_file(edited(FIRST, tmp_path_factory.mktemp("changed"), change))


def test_a_renamed_sheet_is_found_by_its_names(changed: Refill) -> None:
    assert changed.rows == plain(FIRST).rows
    assert [
        each for each in why(changed) if each[0] == "My Boards'24" and each[2] not in TEXTS
    ] == [("My Boards'24", cell, value) for sheet, cell, value in KEPT if sheet == "Boards"]
    assert changed.workbook["Boards"]["A5"].value == "WA-01"


def test_columns_that_were_moved_are_found_and_own_ones_kept(changed: Refill) -> None:
    before, now = opened(FIRST)["Prices"], changed.workbook["Prices"]
    assert changed.rows["Prices"] == 24
    for row in range(FIRST_ROW, FIRST_ROW + 24):
        assert [now.cell(row, n).value for n in range(1, 5)] == [
            before.cell(row, n).value for n in range(1, 5)
        ]
    kept = why(changed)
    assert ("Prices", "C4", "Seen at") in kept
    assert ("Prices", "C5", "the fair") in kept


def test_texts_like_formulas_stay_texts(changed: Refill, tmp_path: Path) -> None:
    workbook = load_workbook(saved(changed, tmp_path))
    sheet, kept = workbook["Boards"], workbook[SHEET]
    for row, text in enumerate(TEXTS, 5):
        for column, quoted in (("J", False), ("F", True)):
            cell = sheet[f"{column}{row}"]
            assert (cell.data_type, cell.value.strip()) == ("s", text.strip())
            assert bool(cell.quotePrefix) is quoted
    texts = {text.strip() for text in TEXTS}
    found = [cell for row in range(FIRST_ROW, kept.max_row + 1)
             if str((cell := kept.cell(row, 3)).value).strip() in texts]  # fmt: skip
    assert {cell.data_type for cell in found} == {"s"}
    assert all(cell.quotePrefix for cell in found)
    assert len(found) == 2 * len(TEXTS)


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


def test_columns_without_names_are_found_by_their_headers() -> None:
    lost = copy_of(found_in(THIRD))
    for name in found_in(THIRD).names:
        if name.startswith(("board_", "price_")):
            del lost.names[name]
    brought = upgraded(lost)
    assert brought.rows == plain(THIRD).rows
    assert contents(brought.workbook, {"Boards", "Prices"}) == (
        contents(plain(THIRD).workbook, {"Boards", "Prices"})
    )


def test_rows_put_in_above_the_first_are_rows_of_the_table() -> None:
    """Two boards: the names of the columns then begin under them."""
    found = copy_of(found_in(FIRST))
    inputs = {(sheet, row, n) for sheet, row, n in found.cells if sheet == "Boards"
              and 5 <= row <= 176 and n <= 12}  # fmt: skip
    moved = {(sheet, row + 2, n): found.cells.pop((sheet, row, n)) for sheet, row, n in inputs}
    found.cells.update(moved)
    for row, tag in ((5, "new-1"), (6, "new-2")):
        found.cells["Boards", row, 1], found.cells["Boards", row, 7] = OldCell(tag), OldCell(96)
    for name, area in found_in(FIRST).names.items():
        if name.startswith("board_"):
            found.names[name] = Area("Boards", area.first_column, 7, area.last_column, 5006)
    brought = upgraded(found)
    tags = [brought.workbook["Boards"][f"A{row}"].value for row in range(5, 9)]
    assert tags == ["new-1", "new-2", "WA-01", "WA-02"]
    assert brought.rows["Boards"] == 174


BEYOND = FIRST_ROW + BOARDS.rows
COSTS_OF_ONE_S_OWN = {
    "Costs!A1": "Stack", "Costs!B1": "Costs", "Costs!C1": "Fuel", "Costs!A2": "Oak 1",
    "Costs!B2": 40, "Costs!C2": 12.5, "Costs!A3": "Oak 2", "Costs!B3": 35,
}  # fmt: skip
OWN_NUMBERS = {"Sale!G30": 3, "Prices!J19": 90, "Functions!Z2": 7}
THICKNESSES = {"Prices!K5": "3/4", "Prices!K12": "14/4", "Prices!K13": "20/4"}


@pytest.fixture(scope="module")
def longer() -> Refill:
    """A workbook with more rows than the template had, a longer list, and things of one's own."""
    more = {f"Boards!A{row}": f"more-{row}" for row in range(BEYOND, BEYOND + 30)}
    more |= {f"Boards!F{row}": 7.5 for row in range(BEYOND, BEYOND + 30)}
    under = {"Prices!A600": "Oak, white"}  # the last row of the prices is 504
    return upgraded(retyped(SECOND, more | under | COSTS_OF_ONE_S_OWN | OWN_NUMBERS | THICKNESSES))


def test_rows_beyond_the_template_s_come_with_their_formulas(longer: Refill) -> None:
    sheet, last = longer.workbook["Boards"], BEYOND + 29
    assert sheet[f"A{last}"].value == f"more-{last}"
    letter = BOARDS.letter("bf")
    assert sheet[f"{letter}{last}"].value == BOARDS.formula(BOARDS.column("bf"), last)
    assert sheet[f"A{last}"].style == "lc input"
    assert longer.rows["Boards"] == 202


def test_what_is_no_row_is_kept(longer: Refill) -> None:
    """Numbers are the template's own beside their labels only: Sale had lines with numbers."""
    own = COSTS_OF_ONE_S_OWN | OWN_NUMBERS | {"Prices!A600": "Oak, white"}
    kept = {f"{sheet}!{cell}": value for sheet, cell, value in why(longer)}
    assert kept == own | {f"{sheet}!{cell}": value for sheet, cell, value in KEPT}


def test_a_sheet_of_one_s_own_may_have_the_name_of_one_of_today_s(longer: Refill) -> None:
    """Words that are labels there are the shop's own here."""
    assert "Costs" in todays().sheetnames
    assert {
        f"{each.sheet}!{each.cell}": each.value for each in longer.kept if each.why == OWN_SHEET
    } == COSTS_OF_ONE_S_OWN


def test_the_list_of_thicknesses_grows_with_its_name(longer: Refill) -> None:
    [(sheet, area)] = longer.workbook.defined_names["quarters_list"].destinations
    values = [cell.value for (cell,) in longer.workbook[sheet][area.replace("$", "")]]
    assert values == ["3/4", "5/4", "6/4", "8/4", "10/4", "12/4", "16/4", "14/4", "20/4"]
    assert longer.workbook["Prices"]["K13"].style == "lc input"


@pytest.fixture(scope="module")
def too_long() -> Refill:
    """A workbook with more prices than there is room for, and cells that were cleared."""
    found = retyped(
        THIRD,
        {f"Prices!A{row}": f"wood {row}" for row in (504, 505, 700)}
        | {f"Prices!K{row}": None for row in range(7, 12)}
        | {"Start!B5": None},
    )
    for name, area in found_in(THIRD).names.items():
        if name.startswith("price_"):
            found.names[name] = Area("Prices", area.first_column, 5, area.last_column, 704)
    return upgraded(found)


def test_rows_that_a_table_has_no_room_for_are_kept(too_long: Refill) -> None:
    assert too_long.workbook["Prices"]["A504"].value == "wood 504"
    assert [(k.cell, k.value, k.why) for k in too_long.kept if (k.sheet, k.cell, k.value)
            not in KEPT] == [
        (f"A{row}", f"wood {row}", f"no room on Prices: it ends in row {PRICES.last_row}")
        for row in (505, 700)
    ]  # fmt: skip


def test_a_field_that_was_cleared_stays_blank(too_long: Refill) -> None:
    assert too_long.workbook["Start"]["B5"].value is None
    assert [too_long.workbook["Prices"][f"K{n}"].value for n in range(5, 12)] == (
        ["4/4", "5/4"] + [None] * 5
    )


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
    return upgraded_file(edited(FIRST, tmp_path_factory.mktemp("own"), own_things))


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
    assert len(own.kept) == 13 + len(KEPT)
    assert set(KEPT) <= set(why(own))
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
    again = upgraded_file(saved(own, tmp_path))
    said_again = [each for each in own.kept if "stands in" in each.why]
    assert len(said_again) == 2
    assert again.kept == [*said_again, *own.kept]


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
    brought = upgraded_file(path)
    assert brought.template == before.template
    assert brought.rows == before.rows | {"Boards": 173}
    kept = {(k.sheet, k.cell, str(k.value).replace(" ", "")) for k in brought.kept}
    assert kept == {(sheet, cell, str(value)) for sheet, cell, value in why(before)} | {
        ("Boards", "M9", "=2*3"),
        ("Boards", "T7", "remark"),
    }
    sheets = set(todays().sheetnames)
    now, there = contents(brought.workbook, sheets), contents(before.workbook, sheets)
    differing = {
        key for key in there if "!" in key and now[key][0] != there[key][0]
    }  # fmt: skip
    assert differing <= {"Boards!A305"}
    assert now["Boards!A305"][0] == "more-1"
