"""Whether a stored value is the computed one."""

from __future__ import annotations

import pytest

from lumbercalc.book.xlsx.cell_value import CellValue, same


@pytest.mark.parametrize(
    ("stored", "fresh", "equal"),
    [
        (10.0, 10.0, True),
        (10.0, 10.0 * (1 + 1e-10), True),  # no spreadsheet keeps more than 15 digits
        (10.0, 10.0 * (1 + 1e-8), False),
        (0.0, 1 - 0.9 - 0.1, True),  # which a spreadsheet takes for 0
        (1.0, True, True),  # as Calc stores TRUE
        ("ok", "ok", True),
        ("ok", "OK", False),
        (None, "", True),
        (None, 0.0, False),
        ("", 0.0, False),
        ("7", 7.0, False),
        ("#VALUE!", "#NUM!", True),  # hosts differ in their errors
        ("#INPUT: width_in is 0", "#NUM!", True),
        ("#NUM!", 7.0, False),
        (7.0, "#NUM!", False),
        (None, "#NUM!", False),
        ("#NAME?", "#NUM!", False),  # saved where the functions were not
        ("#NAME?", "#NAME?", True),
    ],
)
def test_a_stored_value_is_the_computed_one(
    stored: CellValue | None, fresh: CellValue, equal: bool
) -> None:
    assert same(stored, fresh) is equal
