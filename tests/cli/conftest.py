"""What the tests of more than one command use."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book import template
from lumbercalc.book.xlsx.cell_value import Values


@pytest.fixture
def uncomputed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Write workbooks without computing them, for tests of files and not of values."""

    def no_values(path: Path, tables: object) -> Values:
        return {}

    monkeypatch.setattr(template, "compute", no_values)
    monkeypatch.setattr(template, "with_values", lambda content, values: content)
