"""Loads, Costs, Cost card and Sell or hold: two invented shops by hand, sums and directions."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.page.table import FIRST_ROW, Table
from lumbercalc.book.records import fill
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.cost_card_steps import ENDS, LOADS_STEPS, MONEY_STEPS, WATERFALL
from lumbercalc.book.sheets.cost_reckoning import NO_DATE
from lumbercalc.book.sheets.costs import COSTS
from lumbercalc.book.sheets.loads import LOADS, NO_LOAD
from lumbercalc.book.sheets.sell_or_hold import DRY, HOLD_OR_SELL
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.template import build, save
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.reader import open_workbook, read_table
from tests.book.computed_once import NOW
from tests.book.stored_values import named, rows, stored_in
from tests.book.what_is_asked import clear_others

CENT = 0.005
"""Half a cent: the amounts beside are worked by hand to the cent."""

BASE = {"stack": "S", "fan": 50, "fan_hours": 12, "litres": 1.5, "wet": 44, "area": 40}
DEARER: dict[str, dict[str, float]] = {
    "a stronger fan": {"fan": 60},
    "a fan that runs longer": {"fan_hours": 13},
    "a worse rating": {"litres": 1.4},
    "more water to the dehumidifier": {"wet": 50},
    "more floor": {"area": 41},
    "a higher rent": {"rent": 0.31},
    "more degrade": {"degrade": 6.5},
    "more end trim": {"trim": 4.5},
}
"""What makes a dry board foot dearer than the first row of shop A."""

TYPED: dict[str, tuple[dict[str, Any], str, float]] = {
    # 795.6 lb of wood x (80 - 8) %: never from above the green MC, which is 80 %
    "a dehumidifier from green": ({"wet": None}, "water", 572.83),
    "a dehumidifier from above green": ({"wet": 90}, "water", 572.83),
    "a room without rent": ({"rent": 0}, "space", 0),
    "nothing lost to degrade": ({"degrade": 0}, "saleable", 267.84),  # 300 x 0.93 x 0.96
    "the floor that Stacks has": ({"area": None}, "floor", 40),  # 4 ft x 10 ft
}
"""Figures of the first row of shop A where something else is typed."""

OFFERS = ((6, 8), (6.5, 8), (6, 8.5), (8, 8), (7.6, 8))
"""Price as it is now and when dry, in the rows of Sell or hold of shop A."""

ASKED = ("Boards", "Loads", "Costs", "Cost card", "Sell or hold")
"""Sheets of both shops that are read."""

SPLIT = np.random.default_rng(7)
SPLITS = {f"Load {n}": SPLIT.integers(1, 90, SPLIT.integers(1, 12)).tolist() for n in range(1, 9)}
"""Pieces of each board row of loads that are split at random."""


def board(tag: str, load: str, stack: str, pieces: int) -> dict[str, Any]:
    """A row of Boards: a piece of 2 x 6 in x 10 ft has 10 bf."""
    size = {"species": "Walnut, black", "quarters": "8/4", "width": 6, "length": 10}
    return {"tag": tag, "load": load, "stack": stack, "pieces": pieces, "log": "A"} | size


def stack(name: str, start: str, target: float, green: float) -> dict[str, Any]:
    """A row of Stacks sawn to 2 in, so that the tally is the wood."""
    species = {"species": "Walnut, black", "quarters": "8/4", "measured_in": 2}
    return {"name": name, "place": "yard", "setting": "fan", "start": start, "target": target} | {
        "measured_mc": green,
        **species,
    }


def shop(folder: Path, tables: dict[str, list[dict[str, Any]]], values: dict[str, Any]) -> Workbook:
    """Fill a workbook from rows by file, and from the shop's rates."""
    where = {"loads": LOADS, "boards": BOARDS, "stacks": STACKS}
    where |= {"stack_costs": COSTS, "sell_or_hold": HOLD_OR_SELL}
    for file, lines in tables.items():
        columns = pd.DataFrame(lines, dtype=object)
        columns.reindex(columns=where[file].input_keys).to_csv(folder / f"{file}.csv", index=False)
    as_of = values.pop("as_of")
    (folder / "shop.csv").write_text(f"name,value\nas_of,{as_of}\n")
    (folder / "costs.csv").write_text(
        "name,value\n" + "".join(f"{name},{value}\n" for name, value in values.items())
    )
    workbook = build()
    fill(workbook, folder)
    return workbook


def put(workbook: Workbook, key: str, *values: Any) -> None:
    """Put figures in place of formulas of Stacks: the forecast is not what is tested."""
    for row, value in enumerate(values, FIRST_ROW):
        workbook[STACKS.sheet][f"{STACKS.letter(key)}{row}"].value = value


@pytest.fixture(scope="module")
def shop_a(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A basement with a fan and a dehumidifier: one load in two parts, one of them stacked."""
    folder = tmp_path_factory.mktemp("a")
    load = {"name": "L", "purchase": 600, "hauling": 50, "milling": 150, "sealer": 10}
    load |= {"stickers": 15, "hours": 5, "rate": 20}
    split = [{"name": name, "purchase": 100 + n} for n, name in enumerate(SPLITS)]
    parts = [
        board(f"{name}-{n}", name, "", pieces)
        for name, counts in SPLITS.items()
        for n, pieces in enumerate(counts)
    ]
    workbook = shop(
        folder,
        {
            "loads": [load, *split],
            "boards": [
                board("A1", "L", "S", 30),
                board("A2", "L", "W", 20),
                board("N1", "", "N", 10),
                board("R1", "", "R", 10),
                *parts,
            ],
            "stacks": [
                stack("S", "2026-01-01", 8, 80) | {"width": 4, "length": 10},
                *(stack(name, "2026-01-01", 8, 80) for name in "WNR"),
            ],
            "stack_costs": [
                BASE,
                *(BASE | change for change in DEARER.values()),
                *(BASE | change for change, *_ in TYPED.values()),
                {"stack": "W", "litres": 1.5, "wet": 44, "area": 40},
            ],
            "sell_or_hold": [
                {"stack": "S", "now_price": now, "dry_price": dry} for now, dry in OFFERS
            ]
            + [{"stack": name, "now_price": 6, "dry_price": 8} for name in "WNR"],
        },
        {"as_of": "2026-06-22", "footage_shrink": 7, "degrade": 6, "end_trim": 4,
         "kwh_price": 0.15, "space_rent": 0.3, "interest": 9, "margin": 40},
    )  # fmt: skip
    likely = date(2026, 7, 20)
    put(workbook, "likely", likely, likely, date(2026, 6, 24), date(2026, 6, 22))
    put(workbook, "mc_now", 19, 60, 19, 19)
    path = folder / "a.xlsx"
    clear_others(workbook, ASKED)
    save(workbook, path, now=NOW)
    return path


@pytest.fixture(scope="module")
def shop_b(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A yard without power: two loads in one stack, another stack that is never ready."""
    folder = tmp_path_factory.mktemp("b")
    first = {"name": "L1", "purchase": 180, "hauling": 20, "milling": 40}
    workbook = shop(
        folder,
        {
            "loads": [
                first | {"hours": 3, "rate": 15, "paid": 15},
                {"name": "L2", "purchase": 360},
            ],
            "boards": [
                board("B1", "L1", "S", 10),
                board("B2", "L2", "S", 6),
                board("B3", "L2", "V", 18),
                board("B4", "L3", "", 1),
                board("B5", "", "T", 1),
            ],
            "stacks": [stack(name, "2026-01-01", 12, 60) for name in "STV"],
            "stack_costs": [
                {"stack": "S", "area": 50, "degrade": 10},
                {"stack": "T", "area": 50},
                {"stack": "U"},
                {"stack": "V", "area": 50, "litres": 1.5},
            ],
            "sell_or_hold": [{"stack": "T", "now_price": 3, "dry_price": 3.2}],
        },
        {"as_of": "2026-02-05", "footage_shrink": 5, "degrade": 3, "end_trim": 0,
         "space_rent": 0.1, "interest": 5, "margin": 25},
    )  # fmt: skip
    put(workbook, "likely", date(2026, 3, 15), "not reached", date(2026, 3, 15))
    put(workbook, "mc_now", 30, 30, 30)
    path = folder / "b.xlsx"
    clear_others(workbook, ASKED)
    save(workbook, path, now=NOW)
    return path


def read(path: Path, table: Table) -> pd.DataFrame:
    workbook = open_workbook(open_archive(path))
    return read_table(workbook, table, path).rows.reset_index(drop=True)


HAND_A = {
    # load L: 600 + 50 + 150 + 10 + 15 + 5 h x 20 = 925; 30 + 20 pieces of 10 bf: 925 / 500 = 1.85
    "bf": 300.0,
    "bought": 555.00,  # 300 x 1.85
    "days": 200,  # 1 January to 20 July
    "fan_kwh": 120.0,  # 50 W x 12 h x 200 / 1000
    # specific gravity 0.51 x 62.4 lb/ft3 x 300/12 ft3 x (44 - 8)/100 = 795.6 x 0.36
    "water": 286.416,
    "damp_kwh": 86.61,  # 286.416 lb x 0.45359237 = 129.916 kg, or L; / 1.5 L/kWh
    "power": 30.99,  # (120 + 86.611) x 0.15
    "space": 78.90,  # 40 ft2 x 0.30 x (200 x 12/365 = 6.5753 months)
    "money": 27.37,  # 555 x 9 % x 200/365
    "total": 692.27,  # 555 + 30.992 + 78.904 + 27.370
    "saleable": 251.77,  # 300 x 0.93 x 0.94 x 0.96
    "each": 2.75,  # 692.266 / 251.7696 = 2.7496
    "at_margin": 4.58,  # 2.7496 / 0.6
}
HAND_B = {
    # L1: 180 + 20 + 40 + 3 h x 15 + 15 = 300 for 100 bf; L2: 360 for 60 + 180 bf, 1.50 a bf
    "bf": 160.0,
    "bought": 390.00,  # 100 x 3.00 + 60 x 1.50
    "days": 73,  # 1 January to 15 March, a fifth of 365
    "fan_kwh": 0.0,
    "water": 0.0,
    "damp_kwh": 0.0,
    "power": 0.0,
    "space": 12.00,  # 50 ft2 x 0.10 x 2.4 months
    "money": 3.90,  # 390 x 5 % / 5
    "total": 405.90,
    "saleable": 136.80,  # 160 x 0.95 x 0.90
    "each": 2.97,  # 405.90 / 136.80 = 2.9671
    "at_margin": 3.96,  # 2.9671 / 0.75
}


@pytest.mark.parametrize("key", HAND_A)
def test_costs_of_shop_a_are_those_worked_by_hand(shop_a: Path, key: str) -> None:
    assert read(shop_a, COSTS)[key][0] == pytest.approx(HAND_A[key], abs=CENT)


@pytest.mark.parametrize("key", HAND_B)
def test_costs_of_shop_b_are_those_worked_by_hand(shop_b: Path, key: str) -> None:
    assert read(shop_b, COSTS)[key][0] == pytest.approx(HAND_B[key], abs=CENT)


@pytest.mark.parametrize(("row", "typed"), list(enumerate(TYPED, 1 + len(DEARER))))
def test_what_is_typed_goes_before_what_the_shop_has(shop_a: Path, row: int, typed: str) -> None:
    _, key, expected = TYPED[typed]
    assert read(shop_a, COSTS)[key][row] == pytest.approx(expected, abs=CENT)


HELD_A = {
    # 4 weeks from 22 June; 19 % MC: half the shrinkage, 7 x (30 - 19)/(30 - 8) = 3.5 %;
    # of degrade and trim, 1 - 0.94 x 0.96 = 9.76 %, the share (80 - 19)/(80 - 8) = 0.84722
    "weeks": 4.0,
    "bf_now": 265.56,  # 300 x 0.965 x (1 - 0.84722 x 0.0976)
    "bf_dry": 251.77,
    "better": 132.78,  # 265.562 x (8 - 6) / 4
    "shrinks": 27.58,  # (265.562 - 251.770) x 8 / 4
    "money": 2.75,  # 265.562 x 6 x 9 % x 7/365
    "space": 2.76,  # 40 x 0.30 x 7 x 12/365
    # fan 50 x 12 x 7 / 1000 = 4.2 kWh; 795.6 lb x 11 % x 0.45359237 / 1.5 = 26.464 kWh in 4 weeks
    "power": 1.62,  # (4.2 + 6.616) x 0.15
    "net": 98.06,  # 132.781 - 27.584 - 2.750 - 2.762 - 1.622
    "even": 6.44,  # (265.562 x 6 + (2.750 + 2.762 + 1.622) x 4) / 251.770
}


@pytest.mark.parametrize("key", HELD_A)
def test_week_of_waiting_is_that_worked_by_hand(shop_a: Path, key: str) -> None:
    assert read(shop_a, HOLD_OR_SELL)[key][0] == pytest.approx(HELD_A[key], abs=CENT)


def test_a_dehumidifier_waits_until_the_wood_is_dry_enough_for_it(shop_a: Path) -> None:
    """W is at 60 %: 530.4 lb of wood x (44 - 8) % x 0.45359237 / 1.5 = 57.740 kWh in 4 weeks."""
    assert read(shop_a, HOLD_OR_SELL)["power"][5] == pytest.approx(57.740 / 4 * 0.15, abs=CENT)


def test_a_stack_without_a_row_on_costs_loses_what_the_shop_does(shop_a: Path) -> None:
    """N: 100 bf x 0.93 x 0.94 x 0.96, and now 100 x 0.965 x (1 - 0.84722 x 0.0976)."""
    shown = read(shop_a, HOLD_OR_SELL).loc[6]
    assert shown["bf_dry"] == pytest.approx(83.92, abs=CENT)
    # two days bring 88.52 bf x $2 once, and not three times in a week
    assert shown["better"] == pytest.approx(88.52 * 2, abs=2 * CENT)
    assert (shown["power"], shown["space"]) == (0, 0)


def test_a_stack_is_dry_on_its_likely_day(shop_a: Path) -> None:
    shown = read(shop_a, HOLD_OR_SELL).loc[7]
    assert (shown["weeks"], shown["verdict"]) == ("dry", DRY)


def test_verdicts_in_plain_words(shop_a: Path, shop_b: Path) -> None:
    shown = read(shop_a, HOLD_OR_SELL)
    assert shown["verdict"][0] == "hold: a week brings $98 more than it costs"
    assert shown["verdict"][3] == "sell now: a week costs $36 more than it brings"
    [never] = read(shop_b, HOLD_OR_SELL)["verdict"]
    assert never == "no ready date: sell as it is, or move it to drier air"


def test_price_from_which_waiting_pays_brings_nothing_either_way(shop_a: Path) -> None:
    shown = read(shop_a, HOLD_OR_SELL)
    for row in shown[:-1].to_dict("records"):  # the last one is dry
        waiting = (row["money"] + row["space"] + row["power"]) * max(1, row["weeks"])
        brings = row["bf_dry"] * row["even"] - row["bf_now"] * row["now_price"]
        assert brings == pytest.approx(waiting, abs=1e-9)
        assert (row["net"] > 0) == (row["brings"] > row["even"])


def test_more_money_now_is_a_reason_to_sell_and_a_better_price_later_to_hold(shop_a: Path) -> None:
    net = read(shop_a, HOLD_OR_SELL)["net"]
    assert net[1] < net[0] < net[2]
    assert net[3] < net[4] < net[0]


@pytest.mark.parametrize(("row", "change"), list(enumerate(DEARER, 1)))
def test_what_makes_a_dry_board_foot_dearer(shop_a: Path, row: int, change: str) -> None:
    each = read(shop_a, COSTS)["each"]
    assert each[row] > each[0], change


def test_what_is_wrong_with_a_row_of_costs_is_said(shop_a: Path, shop_b: Path) -> None:
    assert set(read(shop_a, COSTS)["note"][:-1]) == {"this stack stands twice"}
    costs = read(shop_b, COSTS)
    assert list(costs["note"]) == [
        "none of its boards has a price on Prices",
        "boards of it are without a load on Boards",
        "no such stack on Stacks",
        "the price of a kWh is missing on Prices",
    ]
    assert list(costs["days"]) == [73, NO_DATE, None, 73]
    assert list(costs["each"][1:3]) == [None, None]


def test_board_of_a_load_that_is_not_there_is_said(shop_b: Path) -> None:
    costs = read(shop_b, BOARDS)["cost"].tolist()
    assert costs[:3] == pytest.approx([300, 90, 270])
    assert costs[3:] == [NO_LOAD, None]
    assert list(read(shop_b, LOADS)["note"]) == ["ok", "ok"]


@pytest.mark.parametrize("shop_of", ["shop_a", "shop_b", "demo"])
def test_shares_sum_to_the_load_whatever_the_split(
    shop_of: str, request: pytest.FixtureRequest
) -> None:
    path: Path = request.getfixturevalue(shop_of)
    boards = read(path, BOARDS)
    shares = pd.to_numeric(boards["cost"], errors="coerce").groupby(boards["load"]).sum()
    for load in read(path, LOADS).to_dict("records"):
        assert shares[load["name"]] == pytest.approx(load["total"], rel=1e-12)


def test_equal_boards_of_a_load_cost_the_same(demo: Path) -> None:
    boards = read(demo, BOARDS)
    boards = boards[boards["tally"] > 0]  # a board that was cut up counts in its pieces
    each = boards["cost"].astype(float) / boards["bf"].astype(float)
    assert (each.groupby(boards["load"]).std() < 1e-12).all()


@pytest.mark.parametrize("shop_of", ["shop_a", "demo"])
def test_waterfall_ends_at_the_cost_of_a_dry_board_foot(
    shop_of: str, request: pytest.FixtureRequest
) -> None:
    workbook = stored_in(request.getfixturevalue(shop_of))
    steps, ends = rows(workbook, WATERFALL), rows(workbook, ENDS)
    kept = np.prod(1 - steps["lost"][MONEY_STEPS:].astype(float) / 100)
    shrink = float(steps["lost"][MONEY_STEPS])
    money = steps["takes"][:MONEY_STEPS].astype(float).sum()
    expected = lc.cost_per_bf(
        money, named(workbook, "waterfall_bf"), shrink, 100 * (1 - kept / (1 - shrink / 100))
    )
    assert steps["sum"].iloc[-1] == pytest.approx(expected, rel=1e-12)
    assert ends["sum"][0] == pytest.approx(expected, rel=1e-12)
    assert steps["adds"].astype(float).sum() == pytest.approx(expected, rel=1e-12)
    assert steps["share"].astype(float).sum() == pytest.approx(100, rel=1e-12)


@pytest.mark.parametrize("shop_of", ["shop_a", "demo"])
def test_steps_from_the_loads_sum_to_the_share_on_costs(
    shop_of: str, request: pytest.FixtureRequest
) -> None:
    path = request.getfixturevalue(shop_of)
    workbook = stored_in(path)
    costs = read(path, COSTS).set_index("stack")
    chosen = costs.loc[[named(workbook, "waterfall_name")]].iloc[0]
    takes = rows(workbook, WATERFALL)["takes"].tolist()
    assert sum(takes[:LOADS_STEPS]) == pytest.approx(chosen["bought"], rel=1e-12)
    assert sum(takes[LOADS_STEPS:MONEY_STEPS]) == pytest.approx(
        chosen["total"] - chosen["bought"], rel=1e-12
    )


def test_columns_stand_where_the_one_before_ends(demo: Path) -> None:
    workbook = stored_in(demo)
    steps = rows(workbook, WATERFALL)
    tops = steps["under"] + steps["drawn"]
    assert list(steps["under"][1:]) == pytest.approx(list(tops[:-1]), rel=1e-9)
    shown = steps[["bought", "drying", "losing", "ends"]].astype(float).sum(axis=1)
    assert list(shown) == pytest.approx(list(steps["drawn"]))
