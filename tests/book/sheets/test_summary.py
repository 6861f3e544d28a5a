"""The Summary of the invented shop against its records, and against TALLY_SUMMARY."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pandas as pd
import pytest

import lumbercalc as lc
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.board_status import ON_HAND
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.matched_set import SET_LINES
from lumbercalc.book.sheets.sold import BY_MONTH
from lumbercalc.book.sheets.summary import BY_SORT, BY_SPECIES, summary_chart
from lumbercalc.wood.tally_summary import TOTAL
from tests.book.stored_values import named, rows, stored_in

SORT = ["species", "quarters", "grade", "status"]


@pytest.fixture(scope="module")
def workbook(demo: Path) -> openpyxl.Workbook:
    return stored_in(demo)


@pytest.fixture(scope="module")
def boards(workbook: openpyxl.Workbook) -> pd.DataFrame:
    """Every board with the status that is stored, and the board feet that count."""
    sheet = workbook["Boards"]
    keys = [*SORT, "tag", "pieces", "width", "length", "value"]
    found = pd.DataFrame(
        {
            key: [
                sheet[f"{BOARDS.letter(key)}{row}"].value
                for row in range(FIRST_ROW, FIRST_ROW + BOARDS.rows)
            ]
            for key in keys
        }
    )
    found = found[found["tag"].notna()]
    feet = lc.board_feet(found["quarters"], found["width"], found["length"], found["pieces"])
    found["bf"] = feet.where(found["status"] != "cut up", 0.0)
    found["value"] = pd.to_numeric(found["value"]).fillna(0.0)
    return found


@pytest.fixture(scope="module")
def summary(workbook: openpyxl.Workbook) -> pd.DataFrame:
    shown = rows(workbook, BY_SORT)
    return shown[shown["species"].fillna("") != ""]


def test_every_sort_stands_once_and_adds_up(summary: pd.DataFrame, boards: pd.DataFrame) -> None:
    expected = boards.groupby(SORT).agg(
        count=("tag", "size"), bf=("bf", "sum"), value=("value", "sum")
    )
    shown = summary.set_index(SORT)[["count", "bf", "dry", "value"]].astype(float)
    assert shown.index.is_unique
    assert set(shown.index) == set(expected.index)
    shown = shown.loc[expected.index]
    assert list(shown["count"]) == list(expected["count"])
    assert shown["bf"].to_numpy() == pytest.approx(expected["bf"].to_numpy(), abs=1e-9)
    assert shown["dry"].to_numpy() == pytest.approx(0.93 * expected["bf"].to_numpy(), abs=1e-9)
    assert shown["value"].to_numpy() == pytest.approx(expected["value"].to_numpy(), abs=1e-9)


@pytest.mark.parametrize("status", ["drying", "ready", "sold", "reserved", "held"])
def test_the_same_as_tally_summary(
    status: str, summary: pd.DataFrame, boards: pd.DataFrame
) -> None:
    own = boards[boards["status"] == status]
    table = lc.tally_summary(own["species"], own["quarters"], own["bf"], own["grade"])
    lines = [row for row in table if row[2] != TOTAL]
    shown = summary[summary["status"] == status]
    by_sort = {
        (row["species"], lc.thickness_in(row["quarters"]), row["grade"]): row["bf"]
        for row in shown.to_dict("records")
    }
    assert len(lines) == len(by_sort) > 0
    for species, thickness, grade, bf in lines:
        assert by_sort[species, float(thickness), grade] == pytest.approx(float(bf), abs=1e-9)


def test_what_is_on_hand_of_each_species(workbook: openpyxl.Workbook, boards: pd.DataFrame) -> None:
    shown = rows(workbook, BY_SPECIES)
    shown = shown[shown["species"].fillna("") != ""].set_index("species")
    hand = boards[boards["status"].isin(ON_HAND)]
    expected = 0.93 * hand.groupby("species")["bf"].sum()
    assert set(shown.index) == set(boards["species"])
    for species, bf in expected.items():
        assert shown.loc[species, "hand"] == pytest.approx(bf, abs=1e-9)
        assert sum(shown.loc[species, list(ON_HAND)]) == pytest.approx(bf, abs=1e-9)
    assert named(workbook, "summary_note") == "ok"


def test_the_chart_has_a_part_for_each_status_told_apart_without_color() -> None:
    chart = summary_chart()
    assert [series.tx.v for series in chart.series] == list(ON_HAND)
    fills = [series.graphicalProperties for series in chart.series]
    patterns = [fill.pattFill.prst if fill.pattFill else "plain" for fill in fills]
    assert len(set(patterns)) == len(ON_HAND)
    assert chart.grouping == "stacked"


def test_months_add_up_to_the_invoices(workbook: openpyxl.Workbook) -> None:
    shown = rows(workbook, BY_MONTH)
    shown = shown[shown["species"].fillna("") != ""]
    assert shown["sum"].sum() == pytest.approx(named(workbook, "sold_total"), abs=1e-9)
    assert named(workbook, "sold_note") == "ok"
    assert shown[["first", "species"]].apply(tuple, axis=1).is_unique
    assert len(shown["first"].unique()) == 6
    last = shown.iloc[-1]
    assert last["year"] == pytest.approx(named(workbook, "sold_total"), abs=1e-9)


def test_the_set_shown_has_a_board_that_was_cut_up(workbook: openpyxl.Workbook) -> None:
    shown = rows(workbook, SET_LINES).set_index("cut")
    assert shown.loc[12, "status"] == "cut up"
    assert shown.loc[12, "note"] == "cut up: its pieces count"
    assert named(workbook, "set_unordered") == 3  # two pieces and the bundle
    assert named(workbook, "set_gaps") == 0
