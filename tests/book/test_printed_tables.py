"""What a table takes when it is printed, in live Calc."""

import re
from pathlib import Path

import pytest

from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.tables import TABLES
from tests.hosts.calc.calc_session import Calc

pytestmark = pytest.mark.calc


def pages(calc: Calc, path: Path) -> int:
    """Print all sheets to a file, and count its pages."""
    calc.store(path)
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", path.read_bytes()))


def test_the_arrow_of_the_first_column_keeps_blank_rows_from_the_paper(
    calc: Calc, demo: Path, tmp_path: Path
) -> None:
    """As Start says: a quarter of the sample's pages are rows that are prepared and blank."""
    calc.open(demo)
    before = pages(calc, tmp_path / "all.pdf")
    for table in TABLES:
        calc.hide_blank(f"A{HEADER_ROW}:A{FIRST_ROW + table.rows - 1}", table.sheet)
    after = pages(calc, tmp_path / "filtered.pdf")
    assert after < 0.75 * before
