"""Formulas with the answers that live Calc gave, and how the engine's are held against them."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from lumbercalc.book.xlsx.cell_value import CellValue
from tests.book.engine.test_compute import computed


def answers_of(folder: Path, cells: dict[str, Any], cases: Iterable[str]) -> dict[str, CellValue]:
    """Compute formulas in column H of a sheet with cells: answers by formula."""
    formulas = {f"H{row}": formula for row, formula in enumerate(cases, 1)}
    values = computed(folder, cells | formulas)
    return {formula: values[address] for address, formula in formulas.items()}


def assert_as_calc(found: CellValue, expected: Any) -> None:
    """Hold an answer against Calc's: 14 digits of a number, and never a text for one."""
    assert found == (pytest.approx(expected, rel=1e-14) if type(expected) is float else expected)
    assert isinstance(found, str) == isinstance(expected, str)
