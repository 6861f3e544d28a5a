"""The demo workbook, built once for the tests that read it."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.records import fill
from lumbercalc.book.sample import sample_folder
from lumbercalc.book.template import build, save


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The template filled with the invented shop, with computed values."""
    path = tmp_path_factory.mktemp("demo") / "demo.xlsx"
    workbook = build()
    fill(workbook, sample_folder())
    save(workbook, path)
    return path
