"""Stack card: the row of Stacks that is chosen, its forecast by day, and its own weighings."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pandas as pd
import pytest
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.card_curve import CARD_COURSE, CARD_EMC, CARD_LINES, CARD_POINTS, POINTS
from lumbercalc.book.sheets.stack_card import AHEAD, CARD, CARD_WEIGHINGS, NOW, READY, SETUP
from lumbercalc.book.sheets.stacks import STACKS
from tests.book.conftest import NINE_STACKS
from tests.book.stored_values import named, rows, stored_in

TOLERANCE = 1e-9
"""Relative: the same functions, called from a cell and from Python."""

FIGURES = [
    field.name for field in (*SETUP, *NOW, *AHEAD, *READY) if field.name not in ("", "card_size")
]
SITE = pd.read_csv(sample_folder() / "site.csv")


@pytest.fixture(scope="module")
def workbook(demo: Path) -> Workbook:
    return stored_in(demo)


@pytest.fixture(scope="module")
def unweighed(nine_stacks: Path) -> Workbook:
    return stored_in(nine_stacks)


def of_stack(workbook: Workbook, name: str) -> dict[str, Any]:
    """The row of a stack on Stacks."""
    sheet = workbook[STACKS.sheet]
    for row in range(FIRST_ROW, FIRST_ROW + STACKS.rows):
        if sheet[f"{STACKS.letter('name')}{row}"].value == name:
            keys = [column.key for column in STACKS.columns]
            values = {key: sheet[f"{STACKS.letter(key)}{row}"].value for key in keys}
            return {key: None if value == "" else value for key, value in values.items()}
    raise AssertionError(name)


def begun(stack: dict[str, Any]) -> tuple[Any, ...]:
    return tuple(stack[key] for key in ("species", "sawn", "green", "start"))


def moved(stack: dict[str, Any]) -> dict[str, Any]:
    keys = {"move_date": "move_date", "move_place": "move_place", "move_factor": "move_air"}
    return {name: stack[key] for name, key in keys.items() if stack[key] is not None}


def weighed(stack: dict[str, Any]) -> dict[str, Any]:
    known = stack["known_on"]
    return {} if known is None else dict(from_date=known, from_mc=stack["known_mc"])


def forecast(stack: dict[str, Any], days: list[datetime], *, past: bool, band: str) -> Any:
    return lc.mc_forecast(
        *begun(stack), days, SITE, stack["air"], stack["rate"], place=stack["place"], band=band,
        **({} if band == "likely" or stack["spread"] is None else {"rate_spread": stack["spread"]}),
        **({} if past else weighed(stack)), **moved(stack),
    )  # fmt: skip


@pytest.mark.parametrize("name", FIGURES)
def test_figure_is_that_of_the_row_on_stacks(workbook: Workbook, name: str) -> None:
    stack = of_stack(workbook, "Cherry 1")
    assert named(workbook, name) == stack[name.removeprefix("card_")]


def test_head_advice_and_check_are_of_the_chosen_stack(workbook: Workbook) -> None:
    sheet, stack = workbook[CARD], of_stack(workbook, "Cherry 1")
    assert sheet["A1"].value == "Stack card: Cherry 1"
    assert sheet["A2"].value == named(workbook, "shop_name")
    assert named(workbook, "card_size") == f"{stack['width']:g} x {stack['length']:g}"
    assert named(workbook, "card_advice") == stack["advice"]


def test_likely_course_is_the_forecast_from_the_start_then_from_the_last_weighing(
    workbook: Workbook,
) -> None:
    stack = of_stack(workbook, "Cherry 1")
    for part, past in zip(CARD_COURSE, (True, False), strict=True):
        drawn = rows(workbook, part)
        expected = forecast(stack, list(drawn["day"]), past=past, band="likely")
        np.testing.assert_allclose(drawn["likely"].astype(float), expected, rtol=TOLERANCE)
    past_days, ahead_days = (list(rows(workbook, part)["day"]) for part in CARD_COURSE)
    assert past_days[0] == stack["start"]
    assert past_days[-1] == ahead_days[0] == stack["known_on"]
    assert ahead_days[-1] == stack["late"] + timedelta(days=14)
    assert past_days + ahead_days == sorted(past_days + ahead_days)


def test_band_is_that_of_the_drying_curve_from_the_last_weighing_on(workbook: Workbook) -> None:
    stack = of_stack(workbook, "Cherry 1")
    curve = lc.drying_curve(
        *begun(stack), stack["target"], SITE, stack["air"], stack["rate"],
        rate_spread=stack["spread"], place=stack["place"], step_days=1, **weighed(stack),
        **moved(stack),
    )  # fmt: skip
    by_day = {day: values for day, *values in curve}
    compared = 0
    for row in rows(workbook, CARD_COURSE[1]).itertuples():
        if row.day.date() in by_day:
            compared += 1
            expected = by_day[row.day.date()]
            assert [row.likely, row.early, row.late] == pytest.approx(expected, rel=TOLERANCE)
    assert compared >= 35  # the last rows are later than the curve, which ends at the target


def test_early_is_the_driest_and_late_the_wettest(workbook: Workbook) -> None:
    ahead = rows(workbook, CARD_COURSE[1])
    assert (ahead["early"] < ahead["likely"]).all()
    assert (ahead["likely"] < ahead["late"]).all()


def test_emc_is_that_of_the_place_in_the_month_before_and_after_the_move(
    workbook: Workbook,
) -> None:
    stack = of_stack(workbook, "Cherry 1")
    air = SITE.set_index(["place", "month"])
    drawn = rows(workbook, CARD_EMC)
    places = [stack["place" if day < stack["move_date"] else "move_place"] for day in drawn["day"]]
    assert set(places) == {"shed", "basement"}
    for place, row in zip(places, drawn.itertuples(), strict=True):
        there = air.loc[(place, row.day.month)]
        assert row.emc == pytest.approx(lc.emc(there["temp"], there["rh"]), rel=TOLERANCE)


def weighings_of(stack: str) -> pd.DataFrame:
    """Weighings in the records, with the moisture content that weight and set-up give."""
    boards = pd.read_csv(sample_folder() / "sample_boards.csv")
    made = pd.read_csv(sample_folder() / "weighings.csv", parse_dates=["date"])
    made = made.merge(boards.drop(columns="date"), on="board", suffixes=("", "_green"))
    green = made[["section1", "section2"]].mean(axis=1)
    ovendry = (made["weight_green"] - made["tare"]) / (1 + green / 100)
    made["mc"] = 100 * ((made["weight"] - made["tare"]) / ovendry - 1)
    return made[made["stack"] == stack].sort_values("date", kind="stable")


def test_points_are_every_weighing_and_then_the_last_again(workbook: Workbook) -> None:
    expected, drawn = weighings_of("Cherry 1"), rows(workbook, CARD_POINTS)
    count = len(expected)
    assert named(workbook, "card_points") == count < len(drawn) == POINTS
    assert list(drawn["day"][:count]) == list(expected["date"])
    np.testing.assert_allclose(drawn["mc"][:count].astype(float), expected["mc"], rtol=TOLERANCE)
    assert set(drawn["mc"][count:]) == {drawn["mc"][count - 1]}
    assert set(drawn["day"][count:]) == {drawn["day"][count - 1]}


def test_last_weighings_stand_latest_first(workbook: Workbook) -> None:
    expected = weighings_of("Cherry 1")[::-1][: CARD_WEIGHINGS.rows]
    shown = rows(workbook, CARD_WEIGHINGS)
    assert list(shown["date"]) == list(expected["date"])
    assert list(shown["board"]) == list(expected["board"])
    np.testing.assert_allclose(shown["mc"].astype(float), expected["mc"], rtol=TOLERANCE)


def test_stack_that_is_not_weighed_is_drawn_from_its_start_with_the_whole_band(
    unweighed: Workbook,
) -> None:
    stack = of_stack(unweighed, "Slow")
    past, ahead = (rows(unweighed, part) for part in CARD_COURSE)
    assert set(past["day"]) == {stack["start"]}
    assert set(past["likely"]) == {stack["green"]}
    for band in ("likely", "early", "late"):
        expected = forecast(stack, list(ahead["day"]), past=False, band=band)
        np.testing.assert_allclose(ahead[band].astype(float), expected, rtol=TOLERANCE)
    points = rows(unweighed, CARD_POINTS)
    assert set(zip(points["day"], points["mc"], strict=True)) == {(stack["start"], stack["green"])}


def test_blank_choice_shows_the_first_stack_and_one_never_ready_is_drawn_for_two_years(
    unweighed: Workbook,
) -> None:
    assert named(unweighed, "card_stack") is None
    assert named(unweighed, "card_name") == NINE_STACKS[0][0]
    assert named(unweighed, "card_late") == "not reached"
    start, to = (named(unweighed, name) for name in ("card_start", "card_to"))
    assert to - start == timedelta(days=730)
    assert set(rows(unweighed, CARD_LINES)["target"]) == {8}
    assert rows(unweighed, CARD_WEIGHINGS)["date"].replace("", None).isna().all()


def test_page_is_one(demo: Path) -> None:
    sheet = openpyxl.load_workbook(demo)[CARD]
    assert sheet.page_setup.orientation == "portrait"
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 1)
    assert sheet.print_area.endswith(f"$A$1:$F${CARD_WEIGHINGS.last_row}")
