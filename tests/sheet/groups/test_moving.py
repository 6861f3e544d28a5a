"""A stack that moves, from cells: the arguments, their rules, and the plan as a table."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import pytest

import lumbercalc as lc
from lumbercalc.sheet.answer import NOT_REACHED
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.groups.moving import STAYS
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import mc_forecast, ready_date

OAK = "Oak, northern red"
START = "2026-05-01"
SITE = [["Yard", START, 50, 75], ["Room", START, 90, 40], ["Shed", "2026-07-01", 70, 50]]
YEAR = [[70, 50]] * 12
AIR = Climate.places({"Yard": Climate.steady(50, 75), "Room": Climate.steady(90, 40)})
MOVE = {"move_date": "2026-06-01", "move_place": "room"}

GIVEN: dict[str, Any] = {
    "species": OAK,
    "thickness_in": 1.125,
    "green_mc": 80,
    "start_date": START,
    "climate": SITE,
    "place": "yard",
    "target_mc": 10,
    "forecast_date": "2026-06-15",
    "dates": ["2026-05-08", "2026-06-08"],
    "mcs": [62.0, 35.0],
    "board_feet": 400,
    "move_place": "room",
}
MOVING = ("MC_FORECAST", "READY_DATE", "DRYING_CURVE", "DRYING_RATE", "RATE_SPREAD")
FORECASTS = MOVING[:3]


def cells(name: str, **other: Any) -> list[Any]:
    """Arguments of a function by name; only the plan has a place to move to unless asked for."""
    known = GIVEN if name == "MOVE_PLAN" else GIVEN | {"move_place": None}
    return [(known | other).get(argument.name) for argument in CATALOGUE[name].arguments]


def problem(name: str, **other: Any) -> str:
    answer = call(name, cells(name, **other))
    assert answer.values == [None], name
    assert call("PROBLEM", [name, *cells(name, **other)]).values == list(answer.problems.values())
    return answer.problems[0]


def test_a_move_in_cells_is_the_move_of_the_forecasts() -> None:
    move = {"place": "Yard", "move_date": MOVE["move_date"], "move_place": "Room"}
    stack = DryingCourse(OAK, 1.125, 80, START, AIR, **move)
    expected = mc_forecast(replace(stack, move_factor=0.6), "2026-06-15")
    assert call("MC_FORECAST", cells("MC_FORECAST", move_factor=0.6, **MOVE)).values == [expected]
    expected = ready_date(stack, 10, "late")
    answer = call("READY_DATE", cells("READY_DATE", band="late", **MOVE))
    assert answer.values == [expected]


def test_a_stack_that_moves_on_its_first_day_is_one_of_the_second_place() -> None:
    moved = call("MC_FORECAST", cells("MC_FORECAST", **MOVE | {"move_date": START}))
    assert moved.values == call("MC_FORECAST", cells("MC_FORECAST", place="room")).values


@pytest.mark.parametrize("name", MOVING)
def test_every_forecast_and_fit_takes_a_move(name: str) -> None:
    stays, moves = (call(name, cells(name, **move)) for move in ({}, MOVE))
    assert not stays.problems
    assert not moves.problems
    same = name == "RATE_SPREAD"  # what was lost tells how sure the rate is, whatever the air
    assert (moves.values == stays.values) is same


def test_rows_that_stay_and_rows_that_move_in_one_column() -> None:
    columns = {
        "move_date": [None, "2026-06-01", "2026-06-01"],
        "move_place": ["", "ROOM", "attic"],
        "move_factor": [None, 0.6, None],
    }
    answer = call("READY_DATE", cells("READY_DATE", target_mc=15, **columns))
    alone = [
        call("READY_DATE", cells("READY_DATE", target_mc=15, **move)).values[0]
        for move in ({}, MOVE | {"move_factor": 0.6})
    ]
    assert answer.values == [*alone, None]
    assert answer.problems == {2: 'move_place is the text "attic"; climate holds Yard, Room, Shed'}


def test_a_single_forecast_takes_a_band_as_a_curve_has() -> None:
    curve = call("DRYING_CURVE", cells("DRYING_CURVE", rate_spread=0.2, **MOVE))
    third = curve.values[8:12]
    bands = [
        lc.mc_forecast(
            *cells("MC_FORECAST", forecast_date=third[0], rate_spread=0.2, band=band, **MOVE)
        )
        for band in ("likely", "early", "late")
    ]
    assert bands == third[1:]


@pytest.mark.parametrize("name", MOVING)
@pytest.mark.parametrize(
    ("move", "said"),
    [
        ({"move_date": "2026-06-01"}, "move_date is 2026-06-01; it must come with move_place"),
        ({"move_place": "room"}, 'move_place is the text "Room"; it must come with move_date'),
        ({"move_factor": 0.6}, "move_factor is 0.6; it must come with move_date"),
        (
            MOVE | {"move_date": "2026-04-30"},
            "move_date is 2026-04-30; it must not be before start_date, 2026-05-01",
        ),
        (
            MOVE | {"move_place": "attic"},
            'move_place is the text "attic"; climate holds Yard, Room, Shed',
        ),
        (
            MOVE | {"move_place": "shed"},
            "climate has no air in Shed on move_date, 2026-06-01; its first dated row must not be",
        ),
        (
            MOVE | {"climate": YEAR, "place": None},
            "move_place is given, but climate has no column of places",
        ),
        (MOVE | {"move_factor": 3}, "move_factor is 3 ratio; it must be from 0.05 to 2 ratio"),
    ],
)
def test_what_a_move_is_refused_for(name: str, move: dict[str, Any], said: str) -> None:
    assert problem(name, **move).startswith(said)


@pytest.mark.parametrize("name", FORECASTS)
def test_only_the_place_of_the_day_needs_air(name: str) -> None:
    """A stack that was in the shed since its air is known, and weighed there, has its air."""
    weighed = {"from_date": "2026-07-10", "from_mc": 40, "forecast_date": "2026-08-01"}
    shed = {"move_date": "2026-07-05", "move_place": "shed"}
    assert not call(name, cells(name, **weighed, **shed)).problems
    back = {"place": "shed", "move_date": "2026-05-01", "move_place": "yard"}
    assert not call(name, cells(name, target_mc=15, **back)).problems
    assert problem(name, **back | {"move_date": "2026-05-02"}).startswith(
        "climate has no air on start_date, 2026-05-01"
    )


def test_not_reached_says_what_the_air_on_the_way_allows() -> None:
    columns = {"move_date": [None, "2026-06-01"], "move_place": [None, "room"]}
    answer = call("READY_DATE", cells("READY_DATE", target_mc=3, **columns))
    assert answer.values == [NOT_REACHED] * 2
    # EMC at 50 deg F, 75 % RH is 14.8 % MC, at 90 deg F, 40 % RH 7.4 % MC: Wood Handbook
    # FPL-GTR-190 (2010) Table 4-2, printed to 0.1 % MC.
    held = [float(remark.split("wood at ")[1].split(" %")[0]) for remark in answer.remarks.values()]
    assert held == pytest.approx([14.8, 7.4], abs=0.1)


def test_not_reached_names_the_place_that_the_stack_moves_to() -> None:
    """Dry enough in the first place in time, were it not for the move to the damp one."""
    move = {"move_date": "2026-05-10", "move_place": "yard", "place": "room"}
    [remark] = call("READY_DATE", cells("READY_DATE", target_mc=9, **move)).remarks.values()
    assert "the driest air of Yard, where it moves to, holds wood at 14." in remark


def table(**other: Any) -> list[list[Any]]:
    answer = call("MOVE_PLAN", cells("MOVE_PLAN", **other))
    assert not answer.problems
    return answer.rows(problem=str, day=lambda day: day.isoformat(), blank=None)


def test_the_plan_is_a_table_that_begins_with_staying() -> None:
    rows = table(target_mc=16, step_days=7)
    assert rows[0][0] == STAYS
    assert rows[0][1] is None
    assert rows[0][4:] == [0, 0]
    assert rows[1][:2] == [START, 80]
    for moved, _, ready, first, second, pints in rows[1:]:
        move = {"move_date": moved, "move_place": "room", "move_factor": 1}
        alone = lc.ready_date(*cells("READY_DATE", target_mc=16, **move))
        assert ready == alone.isoformat()
        assert first + second == (alone - date.fromisoformat(START)).days
        assert pints > 0


def test_the_plan_fills_the_rows_that_are_asked_for() -> None:
    whole = table(target_mc=16)
    assert table(target_mc=16, row_count=2) == whole[:2]
    padded = table(target_mc=16, row_count=len(whole) + 2)
    assert padded[: len(whole)] == whole
    assert padded[len(whole) :] == [[None] * 6] * 2


def test_a_plan_that_only_the_room_fulfils() -> None:
    rows = table(target_mc=10)
    assert rows[0][:4] == [STAYS, None, NOT_REACHED, None]
    assert all(row[2] > START for row in rows[1:])
    damp = call("MOVE_PLAN", cells("MOVE_PLAN", target_mc=5))
    assert damp.values[2::6] == [NOT_REACHED] * damp.shape[0]
    assert damp.values[8 + 1 : 12] == [0, None, None]
    said = damp.remarks[2]
    assert "target_mc is 5 % MC" in said
    assert "air of Yard holds wood at 14.8 % MC" in said
    assert "that of Room at 7.4 % MC" in said
    why = call("PROBLEM", ["MOVE_PLAN", *cells("MOVE_PLAN", target_mc=5)])
    assert why.shape == damp.shape
    assert why.values[2] == why.values[8] == said
    assert why.values[0] == ""


@pytest.mark.parametrize(
    ("other", "said"),
    [
        ({"move_place": "attic"}, 'move_place is the text "attic"; climate holds Yard, Room, Shed'),
        ({"place": "attic"}, 'place is the text "attic"; climate holds Yard, Room, Shed'),
        ({"climate": YEAR}, "place is given, but climate has no column of places"),
        (
            {"move_place": "shed"},
            "climate has no air in Shed on 2026-05-01, the first day to move on",
        ),
        ({"place": "shed"}, "climate has no air on start_date, 2026-05-01"),
        ({"board_feet": -1}, "board_feet is -1 bf; it must be from 0"),
        ({"from_mc": 40}, "from_date and from_mc go together"),
        ({"target_mc": 60, "green_mc": 50}, "target_mc is 60 % MC; it must not be above green_mc"),
        ({"start_date": "9999-06-01"}, "the result is a date after 9999"),
        ({"step_days": 0.5}, "step_days is 0.5 days; it must be a whole number"),
    ],
)
def test_what_a_plan_is_refused_for(other: dict[str, Any], said: str) -> None:
    assert problem("MOVE_PLAN", **other).startswith(said)


def test_a_plan_without_a_required_cell_is_blank() -> None:
    for name in ("place", "move_place", "board_feet"):
        assert call("MOVE_PLAN", cells("MOVE_PLAN", **{name: ""})).values == [None]


def test_the_shed_is_planned_for_from_the_weighing_on() -> None:
    rows = table(move_place="shed", from_date="2026-07-02", from_mc=40, target_mc=16)
    assert rows[1][0] == "2026-07-02"
    assert isinstance(rows[1][1], float)
    assert np.isclose(rows[1][1], 40)
