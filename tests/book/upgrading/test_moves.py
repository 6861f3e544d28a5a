"""What stands elsewhere today: hand-made shops of every older template, cell by cell."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.inputs import input_columns, single_cells
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.sheets.loads import LOADS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.tables import TABLE_FILES
from lumbercalc.book.template_mark import TOLD_BY
from lumbercalc.book.upgrading.kept import Kept
from lumbercalc.book.upgrading.moves import (
    FIRST_LOAD,
    HELD,
    LOAD,
    POWER,
    SALE,
    SALE_DAYS,
    SALE_LINES,
    SALE_TAGS,
    WENT_AWAY,
)
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook
from lumbercalc.version import TEMPLATE
from tests.book.old_shops import (
    COMMITTED,
    FIRST,
    OLDEST,
    SECOND,
    THIRD,
    blank,
    first_cells,
    found_in,
    opened,
    plain,
    put,
    retyped,
    todays,
    typed_names,
    upgraded,
)

TODAY = {name for table in TABLE_FILES.values() for name in input_columns(table)}
ELSEWHERE = {*SALE, SALE_TAGS, *LOAD, *WENT_AWAY}

DAY = datetime(2025, 4, 12)

SHOP: dict[str, tuple[Any, ...]] = {
    "shop_name": ("Creek side boards",),
    "as_of": (datetime(2025, 9, 30),),
    "place_names": ("yard", "shed"),
    "site_place": ("yard", "yard", "shed"),
    "site_month": (4, 5, 4),
    "site_temp": (51.5, 60, 55),
    "site_rh": (66, 70, 61),
    "board_tag": ("A-1", "A-2", "=odd tag", "7"),
    "board_log": ("A", "A", None, "A"),
    "board_species": ("Cherry, black", "Cherry, black", "Ash, white", None),
    "board_quarters": ("4/4", "4/4", "8/4", "4/4"),
    "board_width": (7.25, 6, 9.5, None),
    "board_length": (8, 8, 10, 6),
    "board_insects": ("none", "treated", "signs", None),
    "board_stack": ("Cherry 1", "Cherry 1", None, None),
    "stack_name": ("Cherry 1", "Ash 1"),
    "stack_place": ("yard", "shed"),
    "stack_start": (DAY, datetime(2025, 5, 1)),
    "stack_width": (4, 3.5),
    "stack_move_date": (datetime(2025, 8, 1),),
    "stack_move_place": ("shed",),
    "sample_board": ("C1", "C2"),
    "sample_stack": ("Cherry 1", "Cherry 1"),
    "sample_date": (DAY, DAY),
    "sample_weight": (6.4, 5.9),
    "weighing_date": (datetime(2025, 6, 1), datetime(2025, 7, 1)),
    "weighing_board": ("C1", "C1"),
    "weighing_weight": (4.9, 4.25),
    "reading_date": (datetime(2025, 9, 29),),
    "reading_stack": ("Cherry 1",),
    "reading_shows": (9.5,),
    "card_stack": ("Ash 1",),
    "plan_step": (7,),
    "price_species": ("Cherry, black", "Ash, white"),
    "price_quarters": ("4/4", "8/4"),
    "price_price": (9.5, 6.75),
    "quarters_list": ("4/4", "9/4", None),
    "footage_shrink": (6.5,),
    "margin": (35,),
}
"""Cells of a shop by the names of their columns, on every sheet that an older template had."""

COST = {
    "cost_purchase": 310, "cost_milling": 120.5, "cost_hauling": 40, "cost_sealer": 12,
    "cost_power": 33, "cost_labor": 0, "cost_bf": 250,
}  # fmt: skip
HEAD = {
    "sale_kind": "Invoice", "sale_number": "0007", "sale_date": datetime(2025, 9, 20),
    "sale_buyer": "Boat builder", "sale_stack": "Cherry 1", "sale_discount": 5,
    "sale_delivery": 25, "sale_tax_rate": 6.25, "sale_deposit": 100,
}  # fmt: skip
TAGS = ("A-1", None, "A-2", "=odd tag")
DISCOUNTS = (None, 3, 12.5, 0)


def hand_made(old: Path) -> OldWorkbook:
    found = blank(old)
    for name, values in SHOP.items():
        if name in found.names:
            for place, value in zip(found.names[name].places, values, strict=False):
                put(found, place, value)
    for name, value in {**COST, **HEAD}.items():
        put(found, found.names[name].places[0], value)
    for place, tag, discount in zip(found.names["sale_tag"].places, TAGS, DISCOUNTS, strict=False):
        put(found, place, tag)
        put(found, (place[0], place[1], 7), discount)
    return found


@pytest.fixture(scope="module", params=OLDEST, ids=lambda path: path.stem)
def shop(request: pytest.FixtureRequest) -> Refill:
    return upgraded(hand_made(request.param))


def row_of(workbook: Workbook, table: Table, row: int = FIRST_ROW) -> dict[str, Any]:
    """The typed cells of a row that are not blank."""
    cells = {
        column.key: workbook[table.sheet].cell(row, table.number(column.key)).value
        for column in input_columns(table).values()
    }
    return {key: value for key, value in cells.items() if value is not None}


# Every typed cell


def test_every_cell_of_a_hand_made_shop_is_in_its_place(shop: Refill) -> None:
    moved = {"board_insects": ("none", "signs", "signs", None)}
    brought = {name: values for name, values in SHOP.items() if name in shop.old.names}
    assert len(brought) >= 32
    for name, values in (brought | moved).items():
        assert tuple(first_cells(shop.workbook, name, len(values))) == values, name
    sheets = {area.sheet for name, area in shop.old.names.items() if name in {*brought, *COST}}
    filled = {"Start", "Site", "Boards", "Stacks", "Sample boards", "Weighings", "Prices"}
    assert sheets == (filled | {"Readings", "Stack card", "Move plan"} if shop.template == 3
                      else filled)  # fmt: skip
    assert shop.rows == {
        "Site": 3, "Boards": 4, "Stacks": 2, "Sample boards": 2, "Weighings": 2, "Prices": 2,
        "Sales": 1, "Sales lines": 3, "Loads": 1,
    } | ({"Readings": 1} if shop.template == 3 else {})  # fmt: skip


def test_only_what_has_no_place_today_is_kept(shop: Refill) -> None:
    treatment = shop.workbook["Boards"]["M6"]
    assert treatment.value == "treated"
    assert {(k.sheet, k.cell, k.value, k.why) for k in shop.kept} == {
        ("Boards", "K6", "treated", HELD),
        ("Prices", "H12", 250, WENT_AWAY["cost_bf"]),
        ("Sale", "G13", 3, "not in a table of the template"),  # a discount without a tag
    }


@pytest.mark.parametrize("old", [*OLDEST, COMMITTED], ids=lambda path: path.stem)
def test_every_input_cell_of_every_template_goes_where_its_name_is(old: Path) -> None:
    """Each gets a value that stands nowhere else, in its first row and two rows below."""
    found, today = blank(old), TODAY | set(single_cells(todays()))
    expected: dict[str, list[Any]] = {}
    for number, name in enumerate(sorted((typed_names(old) & today) - {"template_version"}), 1):
        first, *others = found.names[name].places
        is_text = opened(old)[first[0]].cell(*first[1:]).number_format == "@"
        expected[name] = [f"{name} 1" if is_text else number]
        put(found, first, expected[name][0])
        if len(others) > 1:
            expected[name] += [None, f"{name} 3" if is_text else number + 0.5]
            put(found, others[1], expected[name][2])
    brought = upgraded(found)
    assert len(expected) > 50
    for name, values in expected.items():
        assert first_cells(brought.workbook, name, len(values)) == values, name
    assert [each for each in brought.kept if "it stands in" not in each.why] == []


# The one sale of older templates


def test_the_sale_is_a_row_of_sales_and_the_one_that_is_shown(shop: Refill) -> None:
    assert row_of(shop.workbook, SALES) == {
        "number": "0007", "buyer": "Boat builder", "invoiced": datetime(2025, 9, 20),
        "stack": "Cherry 1", "discount": 5, "delivery": 25, "tax_rate": 6.25, "deposit": 100,
        "shrink": 6.5,
    }  # fmt: skip
    assert row_of(shop.workbook, SALES, FIRST_ROW + 1) == {}
    assert first_cells(shop.workbook, "sale_choice", 1) == ["0007"]


def test_its_lines_are_rows_of_sales_lines(shop: Refill) -> None:
    lines = [row_of(shop.workbook, LINES, row) for row in range(FIRST_ROW, FIRST_ROW + 4)]
    looked_up = ("quantity", "price")  # what the old sample had stored beside its formulas
    assert [{k: v for k, v in line.items() if k not in looked_up} for line in lines] == [
        {"sale": "0007", "tag": "A-1"},
        {"sale": "0007", "tag": "A-2", "discount": 12.5},
        {"sale": "0007", "tag": "=odd tag", "discount": 0},
        {},
    ]
    assert shop.workbook[LINES.sheet][f"{LINES.letter('tag')}7"].data_type == "s"


@pytest.mark.parametrize("old", OLDEST, ids=lambda path: path.stem)
def test_an_invoice_keeps_its_money(old: Path) -> None:
    """Lines, tax and what is due from the typed cells alone: what the old workbook had stored."""
    sheet, row, column = found_in(old).names["sale_kind"].places[0]
    found = retyped(old, {f"{sheet}!C4": "Invoice"})
    assert (sheet, row, column) == ("Sale", 4, 3)
    workbook = upgraded(found).workbook
    sale = row_of(workbook, SALES)
    lines = [row_of(workbook, LINES, FIRST_ROW + below) for below in range(15)]
    total = sum(
        float(lc.line_total(each["quantity"], each["price"], each.get("discount", 0)))
        for each in lines
    )
    base = total + sale["delivery"]
    tax = float(lc.sales_tax(base, sale["tax_rate"]))
    assert total == pytest.approx(found.value("sale_subtotal"), abs=1e-9)
    assert tax == pytest.approx(found.value("sale_tax"), abs=1e-9)
    due = base + tax - sale["deposit"]
    assert due == pytest.approx(found.value("sale_due"), abs=1e-9)


def test_a_quote_looks_its_prices_up_as_before() -> None:
    lines = [row_of(plain(FIRST).workbook, LINES, FIRST_ROW + below) for below in range(16)]
    old = opened(FIRST)["Sale"]
    assert lines == [
        {"sale": "Q-2026-014", "tag": old[f"A{row}"].value}
        | ({} if old[f"G{row}"].value is None else {"discount": old[f"G{row}"].value})
        for row in range(12, 27)
    ] + [{}]
    assert any("discount" in line for line in lines)
    sale = row_of(plain(FIRST).workbook, SALES)
    assert (sale["quoted"], "invoiced" in sale) == (datetime(2026, 11, 20), False)


def test_what_was_typed_over_a_looked_up_price_is_typed_today() -> None:
    brought = upgraded(retyped(SECOND, {"Sale!F12": 7.5, "Sale!E13": 11, "Sale!H14": 100}))
    lines = [row_of(brought.workbook, LINES, FIRST_ROW + below) for below in range(3)]
    assert [(line.get("price"), line.get("quantity")) for line in lines] == [
        (7.5, None), (None, 11), (None, None)
    ]  # fmt: skip
    assert [(k.cell, k.value) for k in brought.kept if k.sheet == "Sale"] == [("H14", 100)]


@pytest.mark.parametrize(
    ("kind", "number", "kept"),
    [
        ("quote", None, []),
        ("Gift", 12, [("C4", "Gift", "sale_kind"), ("C6", DAY, "sale_date")]),
        (None, 12, [("C6", DAY, "sale_date")]),
    ],
)
def test_a_sale_without_a_number_or_of_another_kind(
    kind: str | None, number: int | None, kept: list[tuple[str, Any, str]]
) -> None:
    brought = upgraded(
        retyped(SECOND, {"Sale!C4": kind, "Sale!C5": number, "Sale!C6": DAY, "Sale!C9": None})
    )
    sale = row_of(brought.workbook, SALES)
    assert sale["number"] == (number or "1")
    assert sale.get("quoted") == (DAY if kind == "quote" else None)
    assert first_cells(brought.workbook, "line_sale", 16) == [sale["number"]] * 15 + [None]
    assert first_cells(brought.workbook, "sale_choice", 1) == [sale["number"]]
    assert [k for k in brought.kept if k.sheet == "Sale"] == [
        Kept("Sale", cell, value, WENT_AWAY[name]) for cell, value, name in kept
    ]


def test_a_blank_sale_and_a_blank_load_make_no_row() -> None:
    """A quote without number, buyer or lines is what every new workbook had."""
    found = blank(FIRST)
    for name in ("sale_discount", "sale_delivery", "sale_tax_rate", "sale_deposit", "waiting"):
        put(found, found.names[name].places[0], {"waiting": 90}.get(name, 0))
    put(found, found.names["sale_kind"].places[0], "Quote")
    brought = upgraded(found)
    assert {sheet: rows for sheet, rows in brought.rows.items() if rows} == {}
    assert [row_of(brought.workbook, table) for table in (SALES, LINES, LOADS)] == [{}, {}, {}]
    assert brought.kept == []


# The load, and boards that had been treated


def test_the_load_is_a_row_of_loads_with_the_same_sum(shop: Refill) -> None:
    load = row_of(shop.workbook, LOADS)
    assert load == {
        "name": FIRST_LOAD, "what": POWER, "purchase": 310, "hauling": 40, "milling": 120.5,
        "sealer": 12, "paid": 0, "other": 33,
    }  # fmt: skip
    stored = found_in(THIRD).value("cost_total")
    sample = row_of(plain(THIRD).workbook, LOADS)
    assert sum(value for value in sample.values() if not isinstance(value, str)) == stored


def test_a_board_that_was_treated_keeps_its_signs_until_it_is_released() -> None:
    found = retyped(THIRD, {"Boards!K5": "Treated", "Boards!K6": "none"})
    found.cells["Boards", 7, 11] = OldCell("treated", '="treat"&"ed"')
    boards = upgraded(found).workbook["Boards"]
    assert [(boards[f"K{row}"].value, boards[f"L{row}"].value, boards[f"M{row}"].value)
            for row in (5, 6, 7)] == [
        ("signs", None, "treated"), ("none", None, None), ("signs", None, "treated")
    ]  # fmt: skip


# The table of moves itself


@pytest.mark.parametrize("old", [*OLDEST, COMMITTED], ids=lambda path: path.stem)
def test_no_input_of_an_older_template_is_without_a_place(old: Path) -> None:
    """By the style of its cells: a name that went away needs a line in moves."""
    typed = typed_names(old)
    assert len(typed) > 60
    assert sorted(typed - TODAY - set(single_cells(todays())) - ELSEWHERE) == []


@pytest.mark.parametrize("old", [*OLDEST, COMMITTED], ids=lambda path: path.stem)
def test_nothing_that_was_computed_is_typed_today(old: Path) -> None:
    """Else its formulas would come as if the shop had typed them."""
    there = found_in(old).names.keys() & (TODAY | set(single_cells(todays())))
    assert sorted(there - typed_names(old)) == []


def test_every_move_leads_to_an_input_of_today() -> None:
    assert {*SALE.values(), *SALE_DAYS.values(), "shrink"} <= keys(SALES)
    assert {*SALE_LINES.values(), "sale", "tag"} <= keys(LINES)
    assert {*LOAD.values(), "name", "what"} <= keys(LOADS)
    assert "sale_choice" in single_cells(todays())


def keys(table: Table) -> set[str]:
    return {column.key for column in input_columns(table).values()}


@pytest.mark.parametrize(("number", "name"), TOLD_BY)
def test_templates_before_the_mark_are_told_by_a_name(number: int, name: str) -> None:
    for template, old in ((1, FIRST), (2, SECOND), (3, THIRD), (TEMPLATE, COMMITTED)):
        assert (name in found_in(old).names) == (template >= number)


def test_a_built_workbook_without_the_mark_is_told_by_its_sales() -> None:
    found = retyped(COMMITTED, {})
    found.names.pop("template_version", None)
    assert upgraded(found).template == TOLD_BY[0][0]
