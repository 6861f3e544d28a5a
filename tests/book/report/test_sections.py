"""The report of a small workbook: its tables of stacks, beside those of the day."""

from __future__ import annotations

from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.workbook.defined_name import DefinedName
from rich.console import Console

from lumbercalc.book.report.sections import report
from lumbercalc.book.sheets.stack_advice import STANDS_STILL
from tests.book.report.test_day import STACK, stored


@pytest.mark.parametrize(
    ("stack", "told"),
    [
        ({}, "ok"),
        ({"note": "no place", "advice": STANDS_STILL}, f"no place; {STANDS_STILL}"),
        ({"note": "ok", "advice": STANDS_STILL}, STANDS_STILL),
        ({"note": None}, "not computed"),
        ({"note": None, "advice": None}, "not computed"),
    ],
)
def test_what_a_stack_says_of_itself(tmp_path: Path, stack: dict[str, Any], told: str) -> None:
    path = stored(tmp_path / "shop.xlsx", {"stack": [STACK | stack]})
    workbook = load_workbook(path)
    workbook.create_sheet("Sale")
    workbook.defined_names["sale_number"] = DefinedName("sale_number", attr_text="'Sale'!$B$2")
    workbook.save(path)
    console = Console(width=200, record=True, file=StringIO())
    for section in report(path):
        console.print(section)
    below = console.export_text().split("To look at")[1]
    [line] = [line for line in below.splitlines() if line.strip().startswith("Oak 1")]
    assert line.strip().removeprefix("Oak 1").strip() == told
