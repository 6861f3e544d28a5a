"""The moisture statement of a sale: of which round it is, and when there is none."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

import lumbercalc as lc
from lumbercalc.book.engine.compute import compute
from lumbercalc.book.sheets.sale_statement import (
    DOUBTED,
    LEFT_OUT,
    MEAN_MC,
    NOT_THERE,
    NOTHING,
    OTHER_STACK_NOTE,
    STATEMENT,
)
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, board, oak

START, JUNE, AUTUMN = date(2026, 3, 1), date(2026, 6, 1), date(2026, 10, 1)
LAST, SOLD, READ = date(2026, 11, 1), date(2026, 11, 10), date(2026, 11, 18)

STACKS: list[Row] = [
    {"name": name, "place": "basement", "setting": "fan", "species": species, "quarters": quarters,
     "start": START, "target": 8}
    for name, species, quarters in (
        ("no tare", "Oak, white", "4/4"),
        ("pounds", "Oak, white", "4/4"),
        ("twice", "Oak, white", "4/4"),
        ("walnut", "Walnut, black", "8/4"),
        ("wet", "Oak, white", "4/4"),
        ("half", "Oak, white", "4/4"),
        ("new", "Oak, white", "4/4"),
    )
]  # fmt: skip


def samples(stack: str, weights: list[tuple[date, float]], **cells: Any) -> Any:
    """Two sample boards, and what the scale showed."""
    boards = [f"{stack} {n}" for n in (1, 2)]
    typed = {"stack": stack, "date": START, "unit": "g", "section1": 68, "section2": 68} | cells
    return (
        [{"board": each} | typed for each in boards],
        [
            {"date": day, "board": each, "weight": shown}
            for day, shown in weights
            for each in boards
        ],
    )


# 1,680 g green at 68 % are 1,000 g ovendry: 1,083 g are 8.3 %, and 1,043 without 38 g of tare 4.3 %
WEIGHED = [
    samples("no tare", [(AUTUMN, 1121), (LAST, 1081)], tare=38, weight=1718),
    samples("pounds", [(LAST, 2376)], unit="lb", weight=8.8),  # 5.238 lb ovendry; 2,376 g typed
    samples("twice", [(AUTUMN, 1090), (LAST, 1081)], weight=1680),
]


def read(stack: str, shows: float, tag: str, day: date = READ) -> Row:
    return {"date": day, "stack": stack, "board": tag, "meter": "pinless", "shows": shows,
            "meter_sg": 0.6}  # fmt: skip


READINGS = [
    *(read("walnut", shows, f"w{shows}") for shows in (8.0, 8.5)),
    *(read("twice", shows, f"t{shows}", JUNE) for shows in (14.0, 15.0)),
    *(read("wet", shows, f"x{shows}") for shows in (8.0, 8.5, 31.0)),
    *(
        read("half", shows, f"h{shows}", day)
        for shows, day in ((14.0, date(2026, 11, 17)), (8.0, READ), (8.5, READ))
    ),
]
BOARDS = [
    oak("T1", 6, 10, stack="twice"),
    oak("T2", 6, 10, stack="twice"),
    oak("T3", 6, 10, log="L", stack="twice"),
    oak("N1", 6, 10, log="L", stack="new"),
    oak("N2", 6, 10),
    board("W1", "Walnut, black", "8/4", 7.5, 8, stack="walnut"),
    board("W2", "Walnut, black", "8/4", 12, 8, stack="walnut"),
    board("W2a", "Walnut, black", "8/4", 11.5, 8, parent="W2"),
]
SALES: list[tuple[Row, int, str]] = [
    ({"number": "tare", "invoiced": SOLD, "stack": "no tare"}, DOUBTED,
     "no moisture statement: its stack's last weighing is in doubt, see Weighings"),
    ({"number": "before", "invoiced": date(2026, 10, 9), "stack": "no tare"}, 0, "ok"),
    ({"number": "pounds", "quoted": SOLD, "stack": "pounds"}, DOUBTED, "no moisture statement"),
    ({"number": "twice", "invoiced": date(2026, 10, 9), "stack": "twice"}, 0, "ok"),
    ({"number": "early", "invoiced": JUNE, "stack": "twice"}, 0, "ok"),
    ({"number": "later", "invoiced": JUNE, "stack": "walnut"}, NOTHING,
     "no moisture statement: its stack was not weighed or read by the day of the sale"),
    ({"number": "wet", "quoted": SOLD, "stack": "wet"}, LEFT_OUT,
     "no moisture statement: wet readings of its stack are left out, see Readings"),
    ({"number": "half", "quoted": SOLD, "stack": "half"}, LEFT_OUT, "no moisture statement: wet"),
    ({"number": "none", "quoted": SOLD, "stack": "nowhere"}, NOT_THERE, "no such stack on Stacks"),
    ({"number": "mixed", "quoted": SOLD, "stack": "walnut", "temp": 70, "rh": 35}, 0,
     "look at its lines"),
    ({"number": "log", "quoted": SOLD, "stack": "twice"}, 0, "look at its lines"),
    ({"number": "lapsed", "quoted": JUNE, "until": JUNE, "stack": "new"}, NOTHING, "ok"),
]  # fmt: skip
WORDS: Row = {"words": "work", "quantity": 1, "price": 8}
LINES: list[tuple[Row, str]] = [
    *(({"sale": sale["number"]} | WORDS, "ok") for sale, _, _ in SALES),
    ({"sale": "twice", "tag": "T1", "price": 8}, "ok"),
    ({"sale": "mixed", "tag": "W1", "price": 8}, "ok"),
    ({"sale": "mixed", "tag": "W2a", "price": 8}, "ok"),  # a piece of a board that lay there
    ({"sale": "mixed", "tag": "T2", "price": 8}, OTHER_STACK_NOTE),
    ({"sale": "mixed", "tag": "N2", "price": 8}, OTHER_STACK_NOTE),
    ({"sale": "log", "log": "L", "price": 8}, OTHER_STACK_NOTE),
]


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "site": [{"place": "basement", "month": m, "temp": 68, "rh": 40} for m in range(1, 13)],
        "stack": STACKS,
        "sample": [row for boards, _ in WEIGHED for row in boards],
        "weighing": [row for _, weights in WEIGHED for row in weights],
        "reading": READINGS,
        "board": BOARDS,
        "sales": [{"shrink": 7} | sale for sale, _, _ in SALES],
        "line": [line for line, _ in LINES],
        "price": PRICES,
    }
    named = {"as_of": AS_OF, "place_names": "basement", "sale_choice": "mixed"}
    asked = ("sales_unstated", "sales_note", "sales_weighed", "sales_read", "line_note", "Sale")
    return Shop(rows, named, asked)


@pytest.mark.parametrize("row", range(len(SALES)))
def test_a_sale_says_why_it_has_no_statement(made: Shop, row: int) -> None:
    _, why, words = SALES[row]
    assert made.at("sales", "unstated", row) == why
    said = str(made.at("sales", "note", row))
    assert said == words if words == "ok" else said.startswith(words)


@pytest.mark.parametrize("row", range(len(LINES)))
def test_a_line_says_that_its_board_is_of_another_stack(made: Shop, row: int) -> None:
    assert made.at("line", "note", row) == LINES[row][1]


def test_the_round_by_the_day_of_the_invoice_counts(made: Shop) -> None:
    days = {
        name: (
            made.of("sales", "number", "weighed")[name],
            made.of("sales", "number", "read")[name],
        )
        for name in ("before", "twice", "early", "mixed")
    }
    serials = {day: float((day - date(1899, 12, 30)).days) for day in (JUNE, AUTUMN, READ)}
    assert days == {
        "before": (serials[AUTUMN], 0),
        "twice": (serials[AUTUMN], serials[JUNE]),
        "early": (0, serials[JUNE]),
        "mixed": (0, serials[READ]),
    }


def test_the_movement_is_of_the_boards_of_that_stack_alone(made: Shop) -> None:
    """7.5 in and 11.5 in of walnut; the two oak boards are 6 in wide.

    The mean of the readings is 8.25 x 0.6 / 0.51, the basic gravity of walnut (Wood Handbook 2010,
    Table 5-3).
    """
    assert made.named("sale_statement").startswith("Moisture content 9.7 %")
    assert made.named("sale_width") == 9.5
    mc, emc = made.named("sale_mc"), lc.emc(70, 35)
    line = "Expected in your place: " + lc.movement_line(9.5, "Walnut, black", mc, emc)
    assert line in [value for (sheet, _), value in made.values.items() if sheet == "Sale"]


DAY, OLD = date(2026, 11, 14), date(2026, 10, 1)
MIXED = "12.0 % on average (11.0 to 13.0 %), 2 readings, meters, 2026-10-01."
SCALES = "10.0 % on average (9.5 to 10.5 %), 2 readings, weighed sample boards, 2026-11-14."


@pytest.mark.parametrize(
    ("weighed", "by_meter", "unstated", "said", "mean"),
    [
        (DAY, date(2026, 11, 19), 0, "A by meter", 9.125),
        (date(2026, 11, 19), date(2026, 11, 19), 0, "A by meter", 9.125),
        (DAY, OLD, 0, SCALES, 10.0),
        (DAY, 0, 0, SCALES, 10.0),
        (0, date(2026, 11, 19), 0, "A by meter", 9.125),
        (0, OLD, 0, MIXED, 12.0),  # an older round, for an older invoice
        (DAY, 0, DOUBTED, "", ""),
        (DAY, date(2026, 11, 19), LEFT_OUT, "", ""),
        (0, 0, NOTHING, "", ""),
    ],
)
def test_the_sale_prefers_the_meter_unless_the_boards_were_weighed_later(
    weighed: Any, by_meter: Any, unstated: int, said: str, mean: Any, tmp_path: Path
) -> None:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    columns: dict[str, list[Any]] = {
        "sale_row": [1],
        "sale_stack": ["A"],
        "sales_weighed": [weighed],
        "sales_read": [by_meter],
        "sales_unstated": [unstated],
        "lot_stack": ["A", "B"],
        "lot_day": [date(2026, 11, 19)] * 2,
        "lot_statement": ["A by meter", "B by meter"],
        "lot_mean": [9.125, 19.125],
        "weighing_stack": ["A", "A", "B", "B"],
        "weighing_day": [DAY] * 4,
        "weighing_used": [9.5, 10.5, 19.5, 20.5],
        "reading_stack": ["A", "A", "B", "A"],
        "reading_day": [OLD, OLD, OLD, date(2026, 11, 19)],
        "reading_mc": [11.0, 13.0, 21.0, 9.125],
        "reading_meter": ["pin", "pinless", "pin", "pin"],
    }
    for number, (name, cells) in enumerate(columns.items(), 1):
        letter = get_column_letter(number)
        for row, cell in enumerate(cells, 1):
            sheet[f"{letter}{row}"].value = cell
        area = f"'{sheet.title}'!${letter}$1:${letter}${len(cells)}"
        workbook.defined_names[name] = DefinedName(name, attr_text=area)
    sheet["Z1"].value, sheet["Z2"].value = STATEMENT, MEAN_MC
    path = tmp_path / "statement.xlsx"
    workbook.save(path)
    computed = compute(path)
    assert str(computed[sheet.title, "Z1"]).endswith(said)
    assert computed[sheet.title, "Z2"] == mean
    assert (computed[sheet.title, "Z1"] == "") is (said == "")
