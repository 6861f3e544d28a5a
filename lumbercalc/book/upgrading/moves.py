"""Bring over what stands elsewhere today than in the older template, and say what went away.

An input whose name stayed needs nothing here, wherever its column or its sheet went.
"""

from __future__ import annotations

from lumbercalc.book.inputs import Cells, kind_of
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.loads import LOADS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.upgrading.kept import Kept
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.upgrading.refill_inputs import column_under
from lumbercalc.book.xlsx.cell_value import name_of
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Place, address
from lumbercalc.book.xlsx.typed import type_in

MOVED_IN = 4
"""The first template in which all of the following stand where they are today."""

SALE = {
    "sale_number": "number",
    "sale_buyer": "buyer",
    "sale_stack": "stack",
    "sale_discount": "discount",
    "sale_delivery": "delivery",
    "sale_tax_rate": "tax_rate",
    "sale_deposit": "deposit",
}
"""The one sale of the sheet Sale: names of its cells, and columns of Sales."""
INVOICED = "invoiced"
SALE_DAYS = {"quote": "quoted", "invoice": INVOICED}
"""Where its date goes by what it was."""
SALE_TAGS = "sale_tag"
SALE_LINES = {
    "Discount (%)": "discount",
    "Dry board feet (bf)": "quantity",
    "Price ($/bf)": "price",
}
"""Headers beside its tags, and columns of Sales lines; all but the discount were looked up."""
FIRST_SALE = "1"
"""Number of a sale that had none: Sales lines name it."""

LOAD = {
    "cost_purchase": "purchase",
    "cost_milling": "milling",
    "cost_hauling": "hauling",
    "cost_sealer": "sealer",
    "cost_power": "other",
    "cost_labor": "paid",
}
"""The cost of the one load on Prices: names of its cells, and columns of Loads."""
FIRST_LOAD = "Load 1"
POWER = "other: fan and dehumidifier power"

TREATED = "treated"
"""Word for a board with insect signs that had been treated; today what was done is written."""
HELD = "signs, and treated as what was done: held until you type the day of its release"

WENT_AWAY = {
    "sale_kind": "a sale is a quote or an invoice by the day that is typed on Sales",
    "sale_date": "type it on Sales, as the day of the quote or of the invoice",
    "cost_bf": "Loads adds up the boards that name their load on Boards",
    "waiting": "Sell or hold reckons the wait of each stack",
}
"""Why what stood in these cells is kept, if it has found no place."""


def move_inputs(refill: Refill, single: dict[str, Cells]) -> None:
    """Bring over the inputs that stand elsewhere today.

    Parameters
    ----------
    refill : Refill
        Has all that is found by its name.
    single : dict of str to Cells
        Today's inputs that are no table.
    """
    if refill.template < MOVED_IN:
        _move_sale(refill, single["sale_choice"].places[0])
        _move_load(refill)
        _move_treated(refill)


def _move_sale(refill: Refill, choice: Place) -> None:
    """Make the sale a row of Sales with its lines on Sales lines, and the one that Sale shows."""
    old = refill.old
    tags = old.names[SALE_TAGS].places if SALE_TAGS in old.names else []
    tags = [tag for tag in tags if tag in old.cells]
    if not tags and not any(old.value(name) for name in (*SALE, "sale_date")):
        return
    row = _free_row(refill, SALES)
    for name, key in SALE.items():
        _bring(refill, name, SALES, key, row)
    day = SALE_DAYS.get(name_of(old.value("sale_kind")), "")
    if day and old.value("sale_date") is not None:
        _bring(refill, "sale_date", SALES, day, row)
        refill.done[old.names["sale_kind"].first] = None  # the column of the date says it
    if day == INVOICED:
        _freeze(refill, old.value("footage_shrink"), SALES, "shrink", row)
    number = refill.cell(_target(SALES, "number", row))
    if number.value is None:
        type_in(number, FIRST_SALE)
    type_in(refill.cell(choice), number.value)
    refill.rows[SALES.sheet] += 1
    columns = _line_columns(old, tags[0]) if tags else {}
    for line, tag in enumerate(tags, _free_row(refill, LINES)):
        type_in(refill.cell(_target(LINES, "sale", line)), number.value)
        _place(refill, tag, LINES, "tag", line)
        for key, column in columns.items():
            beside = (tag[0], tag[1], column)
            if beside not in old.cells:
                continue
            if key == "discount" or not old.cells[beside].formula:
                _place(refill, beside, LINES, key, line)
            elif day == INVOICED:
                _freeze(refill, old.cells[beside].value, LINES, key, line)
    refill.rows[LINES.sheet] += len(tags)


def _freeze(refill: Refill, value: object, table: Table, key: str, row: int) -> None:
    """Type what an invoice had looked up: its money stays as it was, whatever changes later."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        type_in(refill.cell(_target(table, key, row)), value)


def _line_columns(old: OldWorkbook, tag: Place) -> dict[str, int]:
    """Find the columns beside the tags by their headers, which stand somewhere above."""
    columns = {}
    for header, key in SALE_LINES.items():
        above = (column_under(old, tag[0], row, header) for row in range(tag[1] - 1, 0, -1))
        column = next((column for column in above if column is not None), None)
        if column is not None:
            columns[key] = column
    return columns


def _move_load(refill: Refill) -> None:
    """Make the cost of the load a row of Loads; its sum stays what it was."""
    if not any(refill.old.value(name) for name in LOAD):
        return
    row = _free_row(refill, LOADS)
    type_in(refill.cell(_target(LOADS, "name", row)), FIRST_LOAD)
    if refill.old.value("cost_power"):
        type_in(refill.cell(_target(LOADS, "what", row)), POWER)
    for name, key in LOAD.items():
        _bring(refill, name, LOADS, key, row)
    refill.rows[LOADS.sheet] += 1


def _move_treated(refill: Refill) -> None:
    """Write what was done with a board beside its insect signs; no day of release is made up."""
    insects = BOARDS.number("insects")
    for source, there in list(refill.done.items()):
        if there is None or (there[0], there[2]) != (BOARDS.sheet, insects):
            continue
        value = refill.old.cells[source].value if source in refill.old.cells else None
        if name_of(value) == TREATED:
            done = _target(BOARDS, "treatment", there[1])
            if refill.cell(done).value is None:
                type_in(refill.cell(there), "signs")
                type_in(refill.cell(done), TREATED)
                refused = (source[0], address(source), value)
                refill.kept = [k for k in refill.kept if (k.sheet, k.cell, k.value) != refused]
                refill.kept.append(Kept(*refused, HELD))


def _bring(refill: Refill, name: str, table: Table, key: str, row: int) -> None:
    if name in refill.old.names:
        _place(refill, refill.old.names[name].first, table, key, row)


def _place(refill: Refill, source: Place, table: Table, key: str, row: int) -> None:
    refill.place(source, _target(table, key, row), kind_of(table.column(key)))


def _target(table: Table, key: str, row: int) -> Place:
    return table.sheet, row, table.number(key)


def _free_row(refill: Refill, table: Table) -> int:
    """Give the first row of a table below all that was placed there."""
    rows = [there[1] for there in refill.done.values() if there and there[0] == table.sheet]
    return 1 + max(rows, default=FIRST_ROW - 1)
