"""Workbooks built once for the tests that read them."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.records import fill
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.template import build, save
from tests.book.computed_once import NOW, own_copy
from tests.book.what_is_asked import clear_others


@pytest.fixture(scope="session")
def macro_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo with macros."""

    def make(path: Path) -> None:
        workbook = build(macros=True)
        fill(workbook, sample_folder())
        save(workbook, path, now=NOW)

    return own_copy(tmp_path_factory, "macro-demo.xlsm", make)


NINE_STACKS = (
    ("Slow", "yard", "open yard", "Oak, white", "8/4", "2026-04-01", "8"),
    ("Fast", "basement", "fan", "Ash, white", "4/4", "2026-06-01", "12"),
    *(
        (f"More {n}", "shed", "fan", "Ash, white", "4/4", f"2026-07-0{n}", "15")
        for n in range(1, 8)
    ),
)
"""Name, place, setting, species, thickness, start, target."""

ASKED = ("Stacks", "Plan", "Stack card", "Move plan", "Curves", "Cost card")
"""Sheets of that shop that are read."""


@pytest.fixture(scope="session")
def nine_stacks(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop that has weighed nothing: nine stacks, the first of them never ready."""
    folder = tmp_path_factory.mktemp("nine")
    for file in ("site.csv", "places.csv"):
        (folder / file).write_text((sample_folder() / file).read_text())
    (folder / "shop.csv").write_text("name,value\nas_of,2026-06-10\n")
    (folder / "choices.csv").write_text("name,value\nplan_stack,Fast\nplan_to,yard\n")
    keys = ["name", "place", "setting", "species", "quarters", "start", "target"]
    stacks = pd.DataFrame(NINE_STACKS, columns=keys)
    stacks.reindex(columns=STACKS.input_keys).to_csv(folder / "stacks.csv", index=False)

    def make(path: Path) -> None:
        workbook = build()
        fill(workbook, folder)
        clear_others(workbook, ASKED)
        save(workbook, path, now=NOW)

    return own_copy(tmp_path_factory, "nine-stacks.xlsx", make)
