"""Sheet Plan: its figures against the functions, the flags of damp stacks, the words above them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.records import fill
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.plan_months import LETTERS, READY_HEADER
from lumbercalc.book.sheets.plan_options import AIR_SPEED, PLAN
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.template import build, save
from tests.book.computed_once import NOW
from tests.book.small_shop import board, put
from tests.book.stored_values import named
from tests.book.what_is_asked import clear_others

AIR = {"cellar": (65.0, 60.0), "loft": (75.0, 50.0), "pit": (62.0, 88.0), "barn": (50.0, 55.0)}
"""[F, % RH], the same all year."""
YARDS_TEMPS = (28, 31, 40, 51, 61, 70, 74, 72, 65, 53, 42, 32)
OPTIONS = (
    # place, setting, speed, sticker, width, length, ceiling, base
    ("cellar", "", "", 0.75, 4, 8, 84, 6),
    ("cellar", "still air", "", 0.5, 4, 8, 84, 6),
    ("cellar", "fan", "", 0.5, 4, 8, 84, 6),
    ("cellar", "still air", "", 0.75, 2, 8, 84, 6),
    ("loft", "fan", 600, 0.75, 4, 8, 40, 6),
    ("yard", "open yard", "", 0.75, 4, 8, 84, 12),
    ("cellar", "fan", "", 0.75, 4, 8, 6.5, 6),
    ("cellar", "fan", "", 9, 4, 8, 84, 6),
    ("pit", "still air", "", 0.5, 4, 8, 84, 6),
    ("barn", "open yard", "", 0.75, 4, 8, 84, 7.5),
    ("porch", "still air", "", 0.75, 2, 8, 40, 6),
    ("cellar", "still air", "", 0.75, 1.5, 8, 120, 6),
)
(
    UNFINISHED, STILL_WIDE, FAN_WIDE, STILL_NARROW, LOW, YARD, NO_ROOM, BAD, PIT, NEAR_THE_GROUND,
    TWO, TALL,
) = range(len(OPTIONS))  # fmt: skip
KEYS = ("place", "setting", "speed", "sticker", "width", "length", "ceiling", "base")
LOAD = {
    "planned_species": '"Oak, northern red"',
    "planned_quarters": "4/4",
    "planned_stack": "Next",
    "planned_start": "2026-05-05",
    "planned_target_typed": "12",
    "planned_green": "80",
}
ROWS = [
    board("OA", "Oak, northern red", "4/4", 12, 10, pieces=49, stack="Next"),
    board("OB", "Oak, northern red", "8/4", 12, 2.5, stack="Next"),
    board("CA", "Cherry, black", "4/4", 12, 5, stack="Next"),
]
"""500 bf."""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Workbook:
    return planned(tmp_path_factory.mktemp("plan"), OPTIONS, LOAD)


def planned(
    folder: Path, choices: Sequence[tuple[Any, ...]], of_load: Mapping[str, str]
) -> Workbook:
    """The template with these choices for this load, computed."""
    air = [
        f"{place},{month},{temp},{rh}"
        for place, (temp, rh) in AIR.items()
        for month in range(1, 13)
    ]
    air += [f"yard,{month},{temp},70" for month, temp in enumerate(YARDS_TEMPS, 1)]
    air.append("porch,2026-05-01,65,60")
    (folder / "site.csv").write_text("\n".join(["place,month,temp,rh", *air]))
    (folder / "places.csv").write_text("place\nyard\ncellar\nloft\npit\nbarn\nporch\n")
    options = [",".join(str(value) for value in option) for option in choices]
    (folder / "plan.csv").write_text("\n".join([",".join(KEYS), *options]))
    load = [f"{name},{value}" for name, value in of_load.items()]
    (folder / "choices.csv").write_text("\n".join(["name,value", *load]))
    path = folder / "plan.xlsx"
    workbook = build()
    fill(workbook, folder)
    put(workbook, BOARDS, ROWS)
    put(workbook, STACKS, [{"name": "Next", "place": "cellar"}])
    clear_others(workbook, [PLAN.sheet])
    save(workbook, path, now=NOW)
    return openpyxl.load_workbook(path, data_only=True)


def shown(book: Workbook, key: str, option: int) -> Any:
    """A figure of an option, as stored."""
    return book[PLAN.sheet][f"{PLAN.columns[option]}{PLAN.row(key)}"].value


def mc(option: int, day: int) -> float:
    """Forecast of the load after some days, from Python."""
    place, setting = OPTIONS[option][:2]
    return float(
        lc.mc_forecast("Oak, northern red", 1.125, 80, "2026-05-05",
                       f"2026-{5 + (4 + day) // 31:02d}-{(4 + day) % 31 + 1:02d}",
                       [AIR[place]] * 12, lc.stack_factor(setting))
    )  # fmt: skip


@pytest.mark.parametrize("option", [STILL_WIDE, FAN_WIDE, STILL_NARROW, LOW])
def test_figures_are_what_the_functions_answer(book: Workbook, option: int) -> None:
    place, setting, speed, sticker, width, length, ceiling, base = OPTIONS[option]
    fits = lc.stack_layers(ceiling, 1.125, sticker, base)
    layer = lc.stack_board_feet(1, width, length, 1)
    need = -(-500 // layer)
    layers = min(need, fits)
    in_one = min(500, layers * layer)
    assert shown(book, "fits", option) == fits
    assert shown(book, "need", option) == need
    assert shown(book, "stacks", option) == -(-need // fits)
    assert shown(book, "height", option) == pytest.approx(
        lc.stack_height(layers, 1.125, sticker, base)
    )
    assert shown(book, "stickers", option) == lc.stickers(length) * need
    wet = lc.lumber_weight("Oak, northern red", in_one, 80, 1.125)
    assert shown(book, "wet_lb", option) == pytest.approx(wet)
    dry = lc.lumber_weight("Oak, northern red", in_one, 12, 1.125)
    assert shown(book, "dry_lb", option) == pytest.approx(dry)
    assert shown(book, "footprint", option) == width * length * -(-need // fits)
    assert shown(book, "floor", option) == pytest.approx(
        lc.floor_load(wet + lc.top_weight(length, width), length, width)
    )
    water = lc.water_loss("Oak, northern red", in_one * 1.125, 80, mc(option, 14)) / 14
    assert shown(book, "water_first", option) == pytest.approx(water)
    pints = lc.dehumidifier_pints("Oak, northern red", in_one * 1.125, (80 - mc(option, 14)) / 14)
    assert shown(book, "pints", option) == pytest.approx(pints)
    all_of_it = lc.water_loss("Oak, northern red", in_one * 1.125, 80, 12)
    mean = all_of_it / shown(book, "days", option)
    assert shown(book, "water_mean", option) == pytest.approx(mean)
    cfm = lc.fan_cfm(layers, sticker, length, speed or AIR_SPEED[setting])
    assert shown(book, "cfm", option) == pytest.approx(cfm)
    assert shown(book, "exit_rh", option) == pytest.approx(lc.exit_rh(*AIR[place], water, cfm))
    fastest = mc(option, 1) - mc(option, 2)
    assert shown(book, "loss", option) == pytest.approx(fastest)
    assert shown(book, "margin", option) == pytest.approx(3.8 - fastest)


def test_water_of_the_four_fortnights_is_what_the_air_takes_away(book: Workbook) -> None:
    # Mass balance in the sheet: the weight that the stack loses in 8 weeks, 1 %.
    for option in (FAN_WIDE, STILL_NARROW):
        carried = 14 * sum(shown(book, f"water{n}", option) for n in (1, 2, 3, 4))
        bf = shown(book, "bf", option)
        lost = lc.lumber_weight("Oak, northern red", bf, 80, 1.125) - lc.lumber_weight(
            "Oak, northern red", bf, shown(book, "mc4", option), 1.125
        )
        assert carried == pytest.approx(lost, rel=0.01)


def test_the_air_is_that_of_the_middle_of_each_fortnight(book: Workbook) -> None:
    """12 and 26 May, 9 and 23 June; the mean of a place without air of that month."""
    assert [shown(book, f"temp{n}", YARD) for n in (1, 2, 3, 4)] == [61, 61, 70, 70]
    assert [shown(book, f"temp{n}", TWO) for n in (1, 2, 3, 4)] == [65] * 4


def test_thin_stickers_in_a_wide_stack_need_a_fan(book: Workbook) -> None:
    # Directions of common practice, no source: 4 ft with half-inch stickers in still air comes out
    # damp at the leaving side; with a fan it does not; nor does 2 ft with 3/4 in.
    assert shown(book, "exit_rh", STILL_WIDE) >= 85
    assert shown(book, "verdict", STILL_WIDE) == "damp"
    for dry in (FAN_WIDE, STILL_NARROW):
        assert shown(book, "exit_rh", dry) < 85
        assert shown(book, "verdict", dry) != "damp"
    assert shown(book, "mold", STILL_WIDE) > shown(book, "mold", STILL_NARROW)


def test_verdicts(book: Workbook) -> None:
    assert shown(book, "verdict", LOW) == "too fast"  # over red oak's 3.8 % a day
    assert shown(book, "verdict", YARD) == "never dry"  # 12 % is below the yard's driest month
    assert shown(book, "verdict", PIT) == "never dry, damp"  # wood there holds 19 % and more
    assert shown(book, "verdict", NO_ROOM) == "no room"
    assert shown(book, "verdict", BAD) == "error"
    assert shown(book, "verdict", UNFINISHED) == "incomplete"
    assert shown(book, "verdict", TWO) == "2 stacks"  # 32 layers of 1-7/8 in, 18 in each
    assert shown(book, "verdict", NEAR_THE_GROUND) == "base low"  # 7-1/2 in of 8, outdoors
    assert shown(book, "verdict", TALL) == "tall"  # over 7 ft of 1-1/2 ft


def test_a_wood_without_a_safe_rate_has_no_choice_without_a_flag(tmp_path: Path) -> None:
    # FOR-128 Table 9, as read, has no hickory.
    book = planned(
        tmp_path, [OPTIONS[STILL_NARROW]], LOAD | {"planned_species": '"Hickory, shagbark"'}
    )
    assert shown(book, "margin", 0) == "no rate"
    assert shown(book, "verdict", 0) == "no rate"
    assert "No choice without a flag yet" in book[PLAN.sheet]["A14"].value


def test_words_name_the_choice_the_argument_and_the_limit(book: Workbook) -> None:
    words = book[PLAN.sheet]["A14"].value
    days = shown(book, "days", STILL_NARROW)
    assert words == (
        "2 of its rows on Boards are of another species or thickness. "
        f"Choice {BAD + 1}: sticker_in is 9 in; it must be from 0.25 to 3 in. "
        f"Soonest without a flag: choice {STILL_NARROW + 1}, cellar, still air, "
        f"{days:g} days. Stickers: {lc.sticker_advice(2, 0.75, False)}."
    )


def test_ready_dates_by_month_begin_with_the_first_of_the_month(book: Workbook) -> None:
    sheet = book[PLAN.sheet]
    row = READY_HEADER + 2  # the cellar, as its first complete choice has it
    assert sheet[f"A{row}"].value == "cellar"
    for letter in (LETTERS[0], LETTERS[7]):
        stacked = sheet[f"{letter}{READY_HEADER}"].value
        ready = lc.ready_date(
            "Oak, northern red", 1.125, 80, stacked, 12, [AIR["cellar"]] * 12, 0.6
        )
        assert sheet[f"{letter}{row}"].value.date() == ready
    assert named(book, "planned_load") == 500
