"""Where inputs of older templates are today, as a table: old name, new name.

An input whose name stayed needs no line here, wherever its column or its sheet went. A line whose
new name is not in today's template does nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Move:
    """One input's way.

    Parameters
    ----------
    old : str
        Defined name of its cells in older templates; "" writes `text`.
    new : str
        Name in today's template: of a table's column "<table>_<key>", or of a cell.
    header : str
        Of a column without a name of its own: its header, in the table of the named column `old`.
    when : tuple of str
        A name and the value that it must have; () for always.
    for_each : str
        Repeats one cell in every row in which this column is filled.
    text : str
        In place of a blank cell.
    """

    old: str
    new: str
    header: str = ""
    when: tuple[str, str] | tuple[()] = ()
    for_each: str = ""
    text: str = ""


@dataclass(frozen=True)
class Moves:
    """Inputs that moved together: those of a form become one row of a table, for example.

    Parameters
    ----------
    lines : tuple of Move
        From the same older template.
    before : int
        The first template in which they stand where they are today.
    defaults : dict
        What blank older templates had in them: nothing is moved where nothing else stands.
    """

    lines: tuple[Move, ...]
    before: int
    defaults: dict[str, Any]


FIRST_SALE = "1"
"""Number of a sale that had none."""

ONE_SALE_TO_SALES = Moves(
    (
        Move("sale_number", "sales_number", text=FIRST_SALE),
        Move("sale_number", "sale_choice", text=FIRST_SALE),
        Move("sale_buyer", "sales_buyer"),
        Move("sale_date", "sales_quoted", when=("sale_kind", "Quote")),
        Move("sale_date", "sales_invoiced", when=("sale_kind", "Invoice")),
        Move("sale_stack", "sales_stack"),
        Move("sale_discount", "sales_discount"),
        Move("sale_delivery", "sales_delivery"),
        Move("sale_tax_rate", "sales_tax_rate"),
        Move("sale_deposit", "sales_deposit"),
        Move("sale_number", "line_sale", for_each="sale_tag", text=FIRST_SALE),
        Move("sale_tag", "line_tag"),
        Move("sale_tag", "line_discount", header="Discount (%)"),
    ),
    4,
    {
        "sale_kind": "Quote",
        "sale_discount": 0,
        "sale_delivery": 0,
        "sale_tax_rate": 0,
        "sale_deposit": 0,
    },
)
"""The one sale of the sheet Sale is a row of Sales with its lines on Sales lines."""

ONE_LOAD_TO_LOADS = Moves(
    (
        Move("", "load_name", text="Load 1"),
        Move("cost_purchase", "load_purchase"),
        Move("cost_milling", "load_milling"),
        Move("cost_hauling", "load_hauling"),
        Move("cost_sealer", "load_sealer"),
        Move("cost_labor", "load_paid"),
    ),
    4,
    {},
)
"""The costs of the one load on Prices are a row of Loads; its power is reckoned on Costs."""

MOVES = (ONE_SALE_TO_SALES, ONE_LOAD_TO_LOADS)

TOLD_BY = ((3, "reading_date"), (2, "stack_move_date"), (1, "board_tag"))
"""Templates before the mark on Start: the newest that has this name."""
