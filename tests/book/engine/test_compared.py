"""What is computed was compared with Calc, and the engine has it; the template needs no more."""

from __future__ import annotations

import re
from functools import cache

import formulas

from lumbercalc.book.engine.compared import COMPARED
from lumbercalc.book.template import build
from lumbercalc.sheet.catalogue import CATALOGUE


@cache
def called() -> frozenset[str]:
    """The functions that the template calls."""
    texts = (
        re.sub('"[^"]*"', '""', cell.value)
        for sheet in build().worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    )
    return frozenset(name for text in texts for name in re.findall(r"([A-Z][A-Z0-9_.]*)\(", text))


def test_the_engine_has_all_of_them() -> None:
    known = set(formulas.get_functions()) | {"LET"}
    assert {name for name in COMPARED if not {name, f"_XLFN.{name}"} & known} == set()


def test_the_template_calls_no_other() -> None:
    assert len(called()) > 40
    assert called() - set(CATALOGUE) - COMPARED == set()
