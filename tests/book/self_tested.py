"""The self-tests of a workbook that has them all."""

from __future__ import annotations

from pathlib import Path

from lumbercalc.book.checking.self_tests import PREFIX, self_tests
from lumbercalc.book.sheets import self_test
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.reader import open_workbook


def failing(path: Path) -> list[str]:
    """Say of each that is not stored as TRUE what is; none of them may be missing."""
    archive = open_archive(path)
    names = open_workbook(archive).defined_names
    there = {name for name in names if name.startswith(PREFIX)}
    assert there == {each.name for each in self_test.PUBLISHED}
    return [finding.told.rpartition(" is ")[2] for finding in self_tests(archive)]
