"""Where the air of a place goes on the sheet Site."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.logger.means import Air
from lumbercalc.book.logger.rows import PLACE_LETTER, find_place, plan
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.records import fill
from lumbercalc.book.sheets.site import MATRIX_COLUMN, PLACES, SITE
from lumbercalc.book.template import build
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.reader import open_workbook
from lumbercalc.book.xlsx.sheet_xml import Formula
from lumbercalc.faults import FileFault

JUNE, JULY = date(2025, 6, 2), date(2025, 7, 7)
SPAN = (date(2025, 6, 1), date(2025, 6, 30))


def site(rows: Sequence[tuple[Any, ...]]) -> pd.DataFrame:
    """Rows of (place, month, temp, rh)."""
    blank = [None] * (len(SITE.columns) - 4)
    return pd.DataFrame(
        [[*row, *blank] for row in rows],
        index=range(FIRST_ROW, FIRST_ROW + len(rows)),
        columns=[column.key for column in SITE.columns],
        dtype=object,
    )


def air(*keys: int | date) -> list[Air]:
    return [Air(key, 20, 60.0 + n, 50.0 + n) for n, key in enumerate(keys)]


def typed(cells: dict[str, Any]) -> dict[str, Any]:
    return {address: what for address, what in cells.items() if not isinstance(what, Formula)}


def test_months_are_updated_where_they_stand_and_others_added_below() -> None:
    there = site([("yard", 5, 50, 60), ("shed", 6, 1, 2), ("Yard ", "June", 70, 80)])
    made = plan(there, "yard", air(5, 6, 7), SPAN)
    assert typed(made.cells) == {
        "C5": 60.0, "D5": 50.0, "C7": 61.0, "D7": 51.0,
        "A8": "yard", "B8": 7, "C8": 62.0, "D8": 52.0,
    }  # fmt: skip
    assert [(each.row, each.old) for each in made.placed] == [
        (5, (50, 60)),
        (7, (70, 80)),
        (8, None),
    ]
    formulas = {address for address, what in made.cells.items() if isinstance(what, Formula)}
    assert formulas == {f"{SITE.letter(c.key)}8" for c in SITE.columns if c.formula}
    assert made.months_missing == [1, 2, 3, 4, 8, 9, 10, 11, 12]


def test_an_empty_sheet_is_filled_from_its_first_row() -> None:
    assert [each.row for each in plan(site([]), "yard", air(1, 2), SPAN).placed] == [5, 6]


def test_dated_rows_within_the_span_are_replaced() -> None:
    there = site(
        [
            ("yard", date(2025, 5, 26), 50, 60),
            ("yard", datetime(2025, 6, 2), 51, 61),
            ("yard", 45817, 52, 62),  # 2025-06-09
            ("shed", date(2025, 6, 2), 53, 63),
            ("yard", "2025-06-16", 54, 64),
            ("yard", JULY, 55, 65),
        ]
    )
    made = plan(there, "yard", air(JUNE, date(2025, 6, 12)), SPAN)
    assert made.cells == {
        "C6": 60.0, "D6": 50.0,
        "B7": 45820.0, "C7": 61.0, "D7": 51.0,
        "A9": None, "B9": None, "C9": None, "D9": None,
    }  # fmt: skip
    assert made.dropped == [date(2025, 6, 9), date(2025, 6, 16)]
    more = plan(there, "yard", air(*(date(2025, 6, day) for day in (1, 8, 15, 22))), SPAN)
    assert [each.row for each in more.placed] == [6, 7, 9, 11]
    assert more.cells["A11"] == "yard"


@pytest.mark.parametrize(
    ("day", "replaced"),
    [(date(2025, 5, 31), False), (SPAN[0], True), (SPAN[1], True), (date(2025, 7, 1), False)],
)
def test_the_first_and_the_last_day_of_the_log_are_its_own(day: date, replaced: bool) -> None:
    made = plan(site([("yard", day, 50, 60)]), "yard", air(JUNE), SPAN)
    assert made.dropped == ([day] if replaced else [])


def test_dated_rows_go_beside_months_and_all_twelve_months_beside_dated_rows() -> None:
    months = [("yard", month, 50, 60) for month in range(1, 13)]
    made = plan(site(months), "yard", air(JUNE), SPAN)
    assert [(each.row, each.old) for each in made.placed] == [(17, None)]
    assert made.beside_months
    assert made.months_missing == []
    assert plan(site(months[:11]), "yard", air(JUNE), SPAN).months_missing == [12]
    dated = site([("yard", JULY, 55, 65)])
    made = plan(dated, "yard", air(JUNE), SPAN)
    assert not made.beside_months
    assert made.months_missing == []
    made = plan(dated, "yard", air(*range(1, 13)), SPAN)
    assert [each.row for each in made.placed] == [*range(6, 18)]
    assert not made.beside_months


@pytest.mark.parametrize(
    ("rows", "keys", "words"),
    [
        (
            [("yard", JULY, 1, 1)],
            [*range(1, 12)],
            r"dated rows of 'yard' already \(row 5\); .* all twelve, and Dec would be missing: use "
            "--dated",
        ),
        (
            [("yard", 3, 1, 1), ("yard", JULY, 1, 1)],
            [6],
            r"dated rows .*\(row 6\).* Jan, Feb,",
        ),
        ([("yard", 3, 1, 1), ("YARD", "mar", 1, 1)], [6], "rows 5 and 6 both hold 3"),
        ([("yard", None, 1, 1)], [6], "Site!B5: the cell is blank"),
        ([("yard", "soon", 1, 1)], [6], "Site!B5: .*soon"),
        ([("yard", 13, 1, 1)], [6], "Site!B5: .*13"),
        ([("shed", 1, 1, 1)] * 299, [6, 7], "no room for 2 rows of 'yard': it ends in row 304"),
    ],
)
def test_what_is_refused(rows: list[tuple[Any, ...]], keys: list[Any], words: str) -> None:
    with pytest.raises(FileFault, match=words):
        plan(site(rows), "yard", air(*keys), SPAN)


def test_the_last_row_of_the_sheet_can_be_filled() -> None:
    made = plan(site([("shed", 1, 1, 1)] * 299), "yard", air(6), SPAN)
    assert made.placed[0].row == SITE.last_row


def test_a_place_is_found_added_or_has_no_room(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    book = build()
    fill(book, sample_folder())

    def found(name: str) -> tuple[str, dict[str, str]]:
        book.save(path)
        return find_place(open_workbook(open_archive(path)), name, path)

    assert found("YARD") == ("yard", {})
    assert found("attic") == ("attic", {f"{PLACE_LETTER}8": "attic"})
    for n in range(PLACES):
        book["Site"].cell(5 + n, MATRIX_COLUMN).value = f"place {n}"
    with pytest.raises(FileFault, match="no room for 'attic'; its places: place 0, "):
        found("attic")
    del book.defined_names["place_names"]
    with pytest.raises(FileFault, match="place_names is not the name of"):
        found("attic")
