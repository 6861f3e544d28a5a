"""Hot box and Checklist: what the record shows, and what is still to do."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl.workbook import Workbook

import lumbercalc as lc
from lumbercalc.book.sheets.checklist import CHECKLIST
from lumbercalc.book.sheets.hot_box import CORE_LOG, HOT_BOX
from tests.book.stored_values import column, stored_in


@pytest.fixture(scope="module")
def workbook(demo: Path) -> Workbook:
    return stored_in(demo)


def test_charge_is_held_by_its_own_readings(workbook: Workbook) -> None:
    minutes, core = column(workbook, CORE_LOG, "minute"), column(workbook, CORE_LOG, "temp")
    rows = [place for place, minute in enumerate(minutes) if minute is not None]
    assert lc.heat_treated([minutes[r] for r in rows], [core[r] for r in rows]) is True
    assert column(workbook, HOT_BOX, "held")[0] == "held"
    assert column(workbook, HOT_BOX, "hottest")[0] == max(core[r] for r in rows)
    assert column(workbook, HOT_BOX, "note")[0] == "ok"


def test_step_without_a_date_is_still_to_do(workbook: Workbook) -> None:
    stacks = column(workbook, CHECKLIST, "stack")
    todo = dict(zip(stacks, column(workbook, CHECKLIST, "note"), strict=True))
    assert todo["Walnut 1"] == "ok"
    assert todo["Cherry 1"] == "lay weight on top"
