"""The charts as they stand in the file: native, over the right cells, and every cell a number."""

from __future__ import annotations

import re
import zipfile
from datetime import datetime, time
from pathlib import Path, PurePosixPath
from typing import Any
from xml.etree.ElementTree import Element

import numpy as np
import pandas as pd
import pytest
from defusedxml.ElementTree import fromstring
from openpyxl.utils import range_boundaries
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.sheets.board_status import ON_HAND
from lumbercalc.book.sheets.card_curve import CARD_COURSE, CARD_EMC, CARD_LINES, CARD_POINTS
from lumbercalc.book.sheets.cost_card_steps import both
from lumbercalc.book.sheets.course import course_area
from lumbercalc.book.sheets.move_table import MOVE_PLAN, PLAN_LINE
from lumbercalc.book.sheets.plan_months import place_line
from lumbercalc.book.sheets.site import PLACES
from lumbercalc.book.sheets.stack_curves import (
    STACK_COURSES,
    STACK_LINES,
    STACKS_DRAWN,
    line_name_cell,
    name_cell,
)
from lumbercalc.book.sheets.summary import BY_SPECIES
from lumbercalc.book.template import build, save
from tests.book.computed_once import NOW
from tests.book.conftest import NINE_STACKS
from tests.book.sheets.test_stack_card import of_stack
from tests.book.stored_values import cells, named, rows, stored_in

CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"

SERIES = {
    "Start": [
        *(
            (name_cell(number), course_area(parts, "day"), course_area(parts, "likely"))
            for number, parts in enumerate(STACK_COURSES)
        ),
        (line_name_cell("target"), STACK_LINES.area("day"), STACK_LINES.area("target")),
        (line_name_cell("as_of"), STACK_LINES.area("as_of"), STACK_LINES.area("height")),
    ],
    "Plan": [place_line(number) for number in range(PLACES)],
    "Stack card": [
        ("weighed", CARD_POINTS.area("day"), CARD_POINTS.area("mc")),
        ("likely", course_area(CARD_COURSE, "day"), course_area(CARD_COURSE, "likely")),
        ("early", CARD_COURSE[1].area("day"), CARD_COURSE[1].area("early")),
        ("late", CARD_COURSE[1].area("day"), CARD_COURSE[1].area("late")),
        ("EMC of the air", CARD_EMC.area("day"), CARD_EMC.area("emc")),
        ("target", CARD_LINES.area("day"), CARD_LINES.area("target")),
        ("as of", CARD_LINES.area("as_of"), CARD_LINES.area("height")),
    ],
    "Move plan": [
        (
            "ready if it moves on this date",
            MOVE_PLAN.area("drawn_day"),
            MOVE_PLAN.area("drawn_ready"),
        ),
        ("ready if it stays", PLAN_LINE.area("day"), PLAN_LINE.area("ready")),
    ],
}


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("empty") / "empty.xlsx"
    save(build(), path, now=NOW)
    return path


def _target(archive: zipfile.ZipFile, part: str, kind: str) -> str:
    """Follow a part's one relation of a kind."""
    at = PurePosixPath(part)
    relations = fromstring(archive.read(str(at.parent / "_rels" / f"{at.name}.rels")))
    [found] = [one for one in relations.iter(RELATION) if one.get("Type", "").endswith(f"/{kind}")]
    return str(found.get("Target", "")).removeprefix("/")


def charts(path: Path) -> dict[str, Element]:
    """The chart over dates of each sheet that has one."""
    every = all_charts(path)
    return {sheet: every[sheet] for sheet in every if sheet not in ("Cost card", "Summary")}


def all_charts(path: Path) -> dict[str, Element]:
    """The chart of each sheet that has one."""
    found = {}
    sheets = stored_in(path).sheetnames
    with zipfile.ZipFile(path) as archive:
        for number, sheet in enumerate(sheets, 1):
            part = f"xl/worksheets/sheet{number}.xml"
            if b"<drawing" not in archive.read(part) and b":drawing" not in archive.read(part):
                continue
            drawing = _target(archive, part, "drawing")
            found[sheet] = fromstring(archive.read(_target(archive, drawing, "chart")))
    return found


def text(element: Element, path: str) -> str:
    found = element.find("/".join(f"{CHART}{tag}" for tag in path.split("/")))
    return "" if found is None else found.text or ""


def drawn(chart: Element) -> list[tuple[str, str, str]]:
    """Name, days and values of each series."""
    return [
        (
            text(one, "tx/strRef/f") or text(one, "tx/v"),
            text(one, "xVal/numRef/f"),
            text(one, "yVal/numRef/f"),
        )
        for one in chart.iter(f"{CHART}ser")
    ]


def test_charts_stand_on_their_sheets_over_their_cells(demo: Path) -> None:
    found = {sheet: drawn(chart) for sheet, chart in charts(demo).items()}
    assert found == SERIES


@pytest.mark.parametrize("sheet", [*SERIES, "Cost card", "Summary"])
def test_chart_ends_with_the_printed_columns(sheet: str) -> None:
    page = build()[sheet]
    _, _, last, _ = range_boundaries(re.sub(r".*!|\$", "", page.print_area))
    [chart] = page._charts  # type: ignore[attr-defined]  # openpyxl has no other way to them
    begin, end = chart.anchor._from, chart.anchor.to
    assert (begin.col, begin.colOff, end.col, end.colOff) == (0, 0, last, 0)
    under = [row for row in range(begin.row + 1, end.row + 1) for cell in page[row] if cell.value]
    assert under == []


@pytest.mark.parametrize("sheet", SERIES)
def test_chart_is_straight_lines_over_dates(demo: Path, sheet: str) -> None:
    chart = charts(demo)[sheet]
    assert len(list(chart.iter(f"{CHART}scatterChart"))) == 1
    assert {one.get("val") for one in chart.iter(f"{CHART}smooth")} <= {"0", None}
    formats = [one.get("formatCode") for one in chart.iter(f"{CHART}numFmt")]
    assert "yyyy\\-mm\\-dd" in formats[0]
    assert {one.get("val") for one in chart.iter(f"{CHART}delete")} == {"0"}


def test_only_weighings_and_moving_dates_are_points_without_a_line(demo: Path) -> None:
    points = {
        name
        for sheet, chart in charts(demo).items()
        for one, (name, *_) in zip(chart.iter(f"{CHART}ser"), SERIES[sheet], strict=True)
        if one.find(f"{CHART}marker/{CHART}symbol").get("val") == "circle"  # type: ignore[union-attr]
    }
    assert points == {"weighed", "ready if it moves on this date"}


STACKED = {
    " ": "under",
    "to the stack": "bought",
    "drying": "drying",
    "losses": "losing",
    "cost and prices": "ends",
}
"""Series of Cost card, and the columns they are over."""


def test_cost_card_is_columns_that_stand_on_one_out_of_sight(demo: Path) -> None:
    chart = all_charts(demo)["Cost card"]
    [bars] = chart.iter(f"{CHART}barChart")
    assert bars.find(f"{CHART}grouping").get("val") == "stacked"  # type: ignore[union-attr]
    assert bars.find(f"{CHART}overlap").get("val") == "100"  # type: ignore[union-attr]
    found = {text(one, "tx/v"): text(one, "val/numRef/f") for one in chart.iter(f"{CHART}ser")}
    assert found == {name: both(key) for name, key in STACKED.items()}
    assert {text(one, "cat/strRef/f") for one in chart.iter(f"{CHART}ser")} == {both("step")}
    [first, *others] = chart.iter(f"{CHART}ser")
    fills = [[fill.tag for fill in one.find(f"{CHART}spPr")] for one in (first, *others)]  # type: ignore[union-attr]
    assert fills[0][0].endswith("noFill")
    assert not [fill for fill in fills[1:] if fill[0].endswith("noFill")]


SHOWN = ("LegendKey", "Val", "CatName", "SerName", "Percent", "BubbleSize")
"""What a label of a chart may show: ECMA-376 part 1, 21.2.2.49, in this order."""


def test_each_label_says_of_everything_whether_it_is_shown(demo: Path) -> None:
    # what is left out is true (part 1, 21.2.2.187 and the like)
    labels = [
        one
        for chart in all_charts(demo).values()
        for tag in ("dLbl", "dLbls")
        for one in chart.iter(f"{CHART}{tag}")
    ]
    assert len(labels) > 2
    for one in labels:
        said = [each.tag for each in one if each.tag.startswith(f"{CHART}show")]
        assert said == [f"{CHART}show{what}" for what in SHOWN]


def test_summary_is_columns_of_what_is_on_hand_by_species(demo: Path) -> None:
    chart = all_charts(demo)["Summary"]
    found = {text(one, "tx/v"): text(one, "val/numRef/f") for one in chart.iter(f"{CHART}ser")}
    assert found == {status: BY_SPECIES.area(status) for status in ON_HAND}
    names = {text(one, "cat/strRef/f") for one in chart.iter(f"{CHART}ser")}
    assert names == {BY_SPECIES.area("species")}


@pytest.mark.parametrize("shop", ["demo", "nine_stacks", "empty"])
def test_every_charted_cost_is_a_number(shop: str, request: pytest.FixtureRequest) -> None:
    workbook = stored_in(request.getfixturevalue(shop))
    for key in STACKED.values():
        values = cells(workbook, both(key))
        assert {type(value) for value in values} <= {int, float}
        assert min(values) >= 0


@pytest.mark.parametrize("shop", ["demo", "nine_stacks", "empty"])
def test_every_charted_cell_is_a_number(shop: str, request: pytest.FixtureRequest) -> None:
    workbook = stored_in(request.getfixturevalue(shop))
    for series in SERIES.values():
        for name, days, values in series:
            for area in (days, values):
                kinds = {type(value) for value in cells(workbook, area)}
                assert kinds <= {int, float, datetime, time}, (name, area)  # a time is day 0


def course_of(workbook: Workbook, number: int) -> pd.DataFrame:
    return rows(workbook, *STACK_COURSES[number])


@pytest.mark.parametrize(("number", "name"), [(0, "Walnut 1"), (1, "Oak 1"), (2, "Cherry 1")])
def test_course_of_each_stack_is_its_forecast_and_ends_on_its_likely_date(
    demo: Path, number: int, name: str
) -> None:
    workbook = stored_in(demo)
    assert cells(workbook, f"{name_cell(number)}:{name_cell(number).split('!')[1]}") == [name]
    stack = of_stack(workbook, name)
    past, ahead = (rows(workbook, part) for part in STACK_COURSES[number])
    moved = {"move_date": "move_date", "move_place": "move_place", "move_factor": "move_air"}
    given: dict[str, Any] = {
        key: stack[column] for key, column in moved.items() if stack[column] is not None
    }
    for part, weighed in (
        (past, {}),
        (ahead, {"from_date": stack["known_on"], "from_mc": stack["known_mc"]}),
    ):
        expected = lc.mc_forecast(
            stack["species"], stack["sawn"], stack["green"], stack["start"], list(part["day"]),
            pd.read_csv(sample_folder() / "site.csv"), stack["air"], stack["rate"],
            place=stack["place"], **weighed, **given,
        )  # fmt: skip
        np.testing.assert_allclose(part["likely"].astype(float), expected, rtol=1e-9)
    assert past["day"].iloc[0] == stack["start"]
    assert ahead["day"].iloc[-1] == stack["likely"]
    assert ahead["likely"].iloc[-1] <= stack["target"]


def test_stacks_that_are_not_there_are_one_point_on_the_target(demo: Path) -> None:
    workbook = stored_in(demo)
    for number in range(3, STACKS_DRAWN):
        rows_of = course_of(workbook, number)
        assert set(rows_of["day"]) == {named(workbook, "curve_first")}
        assert set(rows_of["likely"]) == {named(workbook, "target_mc")}
        assert cells(workbook, f"{name_cell(number)}:{name_cell(number).split('!')[1]}") == [" "]


def test_of_more_than_eight_stacks_the_last_are_drawn(nine_stacks: Path) -> None:
    workbook = stored_in(nine_stacks)
    names = [
        cells(workbook, f"{name_cell(number)}:{name_cell(number).split('!')[1]}")[0]
        for number in range(STACKS_DRAWN)
    ]
    assert names == [name for name, *_ in NINE_STACKS[1:]]


def test_empty_workbook_shows_no_stack_and_no_error(empty: Path) -> None:
    workbook = stored_in(empty)
    assert workbook["Stack card"]["A1"].value == "Stack card"
    assert "no stack yet" in named(workbook, "plan_words")
    errors = [
        f"{sheet}!{cell.coordinate}"
        for sheet in ("Stack card", "Move plan", "Curves", "Costs", "Cost card", "Sell or hold")
        for row in workbook[sheet].iter_rows()
        for cell in row
        if str(cell.value).startswith("#")
    ]
    assert errors == []
