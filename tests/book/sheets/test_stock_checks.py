"""Stock that is thin, sold, emptied or cut up, and work that is priced by the foot."""

from __future__ import annotations

from datetime import date

import pytest

import lumbercalc as lc
from lumbercalc.book.page.notes import AFTER_AS_OF
from lumbercalc.book.sheets.loads import SEVERAL_SPECIES
from lumbercalc.book.sheets.matched_set import SET_LINES
from lumbercalc.book.sheets.sold import BY_MONTH
from lumbercalc.book.sheets.stack_advice import EMPTY
from tests.book.small_shop import AS_OF, PRICES, Row, Shop, board, cherry, oak

START, DAY = date(2026, 9, 1), date(2026, 11, 19)

STACKS: list[Row] = [
    {"name": name, "place": "shed", "setting": "fan", "species": species, "quarters": quarters,
     "start": START, "target": target, "width": 4, "length": 8}
    for name, species, quarters, target in (
        ("Oak 1", "Oak, white", "4/4", 14),
        ("Thin", "Cherry, black", "3/4", 12.6),
        ("Gone", "Oak, white", "4/4", 30),
    )
]  # fmt: skip
BOARDS: list[tuple[Row, str]] = [
    (oak("OA-01", 6, 10, stack="Oak 1", load="A", log="S", cut=1), "ok"),
    (oak("OA-02", 6, 10, stack="Oak 1", load="A", log="S", cut=2), "ok"),
    (oak("OA-03", 6, 10, stack="Oak 1", load="A", log="S", cut=2), "ok"),
    (oak("OA-04", 6, 10, stack="Oak 1", load="A", log="S", cut=75), "ok"),
    (board("CA-01", "Cherry, black", "3/4", 12, 8, stack="Thin", load="A"), "ok"),
    (oak("OB-01", 6, 10, stack="Gone", load="A", used=DAY), "ok"),
    (cherry("CB-01", 12, 8, load="A"), "cut up: under 60 % of it is in its pieces"),
    (cherry("CB-1a", 5, 8, parent="CB-01"), "the load of the board it was cut from is missing"),
    ({**oak("OC-01", 6, 10), "species": None}, "the species is missing"),
]
LOADS: list[tuple[Row, str]] = [
    ({"name": "A", "date": START, "purchase": 100}, SEVERAL_SPECIES),
    ({"name": "B", "date": DAY, "purchase": 100}, "no board is of this load, and some on Boards"),
]
COSTS: list[tuple[Row, str]] = [
    ({}, ""),
    ({"stack": "Oak 1", "fan": 55}, "the hours that the fan runs are missing"),
    ({"stack": "Thin", "degrade": 0.06}, "degrade under 0.5 %: type 6 for 6 %"),
    ({"stack": "Gone"}, "ok"),
    ({"fan": 55}, "the stack is missing"),
]
STEPS = ("brushed", "inspected", "base", "stickers", "top")
CHECKLIST: list[tuple[Row, str]] = [
    ({"stack": "Oak 1", "sealed": "yes"}, "a date is not a date"),
    ({"stack": "Thin", "top": date(2030, 1, 1)}, "a date is after the as-of date on Start"),
    (
        {"stack": "Gone", "sealed": DAY} | dict.fromkeys(STEPS[:-1], DAY),
        "ok",  # nothing is to be done for it any more
    ),
    ({"sealed": DAY}, "the stack is missing"),
]
CHARGES: list[tuple[Row, str]] = [
    ({"name": "HB-1", "day": DAY, "where": "thickest"}, "ok"),
    ({"name": "HB-2"}, "the day, or where the core was measured, is missing"),
    ({"name": "HB-3", "where": "thickest"}, "no readings on Core log"),  # its one is a text
    ({"name": "HB-4", "day": date(2027, 1, 1), "where": "thickest"}, AFTER_AS_OF),
    ({"day": DAY}, "the charge's name is missing"),
]
CORE: list[tuple[Row, str]] = [
    *(({"charge": "HB-1", "minute": 10 * n, "temp": 135}, "ok") for n in range(5)),
    *(({"charge": "HB-2", "minute": 10 * n, "temp": 135}, "ok") for n in range(5)),
    *(({"charge": "HB-4", "minute": 10 * n, "temp": 135}, "ok") for n in range(5)),
    ({"charge": "HB-3", "minute": 0, "temp": "134F"}, "time or temperature is not a number"),
]
READINGS: list[Row] = [
    {"date": DAY, "stack": "Oak 1", "board": tag, "meter": meter, "shows": 12.0, "temp": 70,
     "meter_sg": 0.6}
    for tag in ("OA-01", "OA-02")
    for meter in ("pin", "pinless")
]  # fmt: skip
SALES: list[Row] = [{"number": str(n), "invoiced": DAY, "shrink": 7} for n in (1, 2)]
LINES: list[Row] = [
    {"sale": "1", "tag": "OA-01", "price": 8},
    {"sale": "1", "words": "planing", "basis": "bf", "quantity": 100, "price": 0.4},
    {"sale": "2", "words": "refund", "quantity": 1, "price": -20},
]


AS_OF_IS_NONE = ("As-of date that is missing, or no date", "Start")
CHECKS = [
    ("Texts where numbers belong", "Prices", 1),
    (*AS_OF_IS_NONE, 0),
    ("Stacks with steps still to do", "Checklist", len(CHECKLIST) - 1),
]


def rows_of(pairs: list[tuple[Row, str]]) -> list[Row]:
    return [row for row, _ in pairs]


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "site": [{"place": "shed", "month": m, "temp": 50, "rh": 50} for m in range(1, 13)],
        "stack": STACKS,
        "board": rows_of(BOARDS),
        "load": rows_of(LOADS),
        "cost": rows_of(COSTS),
        "checklist": rows_of(CHECKLIST),
        "charge": rows_of(CHARGES),
        "core": rows_of(CORE),
        "reading": READINGS,
        "sales": SALES,
        "line": LINES,
        "price": [*PRICES, {"species": "Cherry, black", "quarters": "3/4", "grade": "FAS",
                            "price": "8,00"}],
    }  # fmt: skip
    named = {"as_of": AS_OF, "set_choice": "S", "kwh_price": 0.2}
    columns = ("Stacks", "board_note", "load_note", "cost_note", "checklist_note", "charge_note",
               "core_note", "reading_counts", "reading_note")  # fmt: skip
    cells = ("waterfall_name", "waterfall_row", "sale_number", "sold_total_bf", "sold_price",
             "sold_note", "tax_note", "set_bf", "set_whole")  # fmt: skip
    counts = [(what, sheet) for what, sheet, _ in CHECKS]
    return Shop(rows, named, (*columns, *cells, BY_MONTH, SET_LINES, *counts))


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("board", BOARDS),
        ("load", LOADS),
        ("cost", COSTS),
        ("checklist", CHECKLIST),
        ("charge", CHARGES),
        ("core", CORE),
    ],
)
def test_each_row_says_what_is_wrong_with_it(
    made: Shop, table: str, expected: list[tuple[Row, str]]
) -> None:
    for said, (_, words) in zip(made.column(table, "note"), expected, strict=True):
        assert str(said).startswith(words) if words else said == "", said


def test_logs_that_are_not_sawn_yet_are_no_fault() -> None:
    rows: dict[str, list[Row]] = {"load": rows_of(LOADS), "board": [oak("OA-01", 6, 10, load="A")]}
    made = Shop(rows, {"as_of": AS_OF}, ("load_note", "load_per_bf"))
    assert made.column("load", "note") == ["ok", "ok"]
    assert made.column("load", "per_bf") == [20, "no boards"]


def test_thin_stock_weighs_what_it_is_sawn_to(made: Shop) -> None:
    """8 bf tallied as 1 in thick are 7/8 in of wood: 3/4 in and 1/8 in more as sawn."""
    mc, bf = made.at("stack", "mc_now", 1), made.at("stack", "bf", 1)
    assert bf == 8
    assert made.at("stack", "weight", 1) == pytest.approx(
        lc.lumber_weight("Cherry, black", bf, mc, 0.875), rel=1e-9
    )


def test_an_emptied_stack_is_not_the_next_one_ready(made: Shop) -> None:
    assert made.column("stack", "advice")[2] == EMPTY
    assert isinstance(made.at("stack", "likely", 2), float)
    assert made.at("stack", "open", 2) == ""
    assert made.at("stack", "open", 0) == made.at("stack", "likely", 0)


def test_a_sheet_of_one_thing_shows_the_first_that_has_a_name(made: Shop) -> None:
    assert made.named("waterfall_name") == "Oak 1"  # the first row of Costs is blank
    assert made.named("waterfall_row") == 2
    assert made.named("sale_number") == "1"


def test_a_board_read_with_two_meters_is_one_board(made: Shop) -> None:
    """The wetter of both counts: 12 x 0.6 / 0.6 by pinless, 11.5 by pin."""
    counts = made.column("reading", "counts")
    assert [isinstance(each, float) for each in counts] == [False, True, False, True]
    assert [said == "ok" for said in made.column("reading", "note")] == [False, True, False, True]


def test_work_by_the_foot_is_no_lumber_sold(made: Shop) -> None:
    assert made.block(BY_MONTH, "species")[:3] == ["Oak, white", "no species", ""]
    assert made.block(BY_MONTH, "bf")[:2] == [4.65, ""]
    assert made.block(BY_MONTH, "sum")[:2] == [37.2, 40.0]
    assert made.named("sold_total_bf") == 4.65
    assert made.named("sold_price") == 8.0
    assert made.named("sold_note") == "a line of an invoice is refused: see Sales lines"
    assert made.named("tax_note") == "a sale of this year is refused: see Sales"


def test_a_matched_set_leaves_out_what_is_sold_and_says_what_it_does_not_show(made: Shop) -> None:
    assert made.block(SET_LINES, "status")[0] == "sold"
    assert made.named("set_bf") == pytest.approx(3 * 5 * 0.93)
    assert made.named("set_whole").startswith("not all are shown: a cut order stands twice")


@pytest.mark.parametrize(("what", "sheet", "count"), CHECKS)
def test_they_are_counted_on_checks(made: Shop, what: str, sheet: str, count: int) -> None:
    assert made.found(what, sheet) == count


def test_an_as_of_date_that_is_none_is_counted() -> None:
    shop = Shop({"stack": STACKS[:1]}, {"as_of": "20 Nov 2026"}, [AS_OF_IS_NONE])
    assert shop.found(*AS_OF_IS_NONE) == 1
