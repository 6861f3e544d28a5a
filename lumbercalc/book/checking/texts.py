"""Texts where numbers belong, and what else an input of the template may not hold."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, time, timedelta
from typing import Any

from openpyxl.utils import get_column_letter

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.inputs import Kind as InputKind
from lumbercalc.book.inputs import declared_inputs
from lumbercalc.book.template_mark import MARK, template_of
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Place
from lumbercalc.sheet.refusal import shown
from lumbercalc.version import TEMPLATE
from lumbercalc.wood.tally import inches_from_quarters

LIKE_A_NUMBER = re.compile(
    r"[ ']*[-+]?[$\u20ac\u00a3]? ?(\d[\d.,' ]*|\.\d+)( ?\d+ ?/ ?\d+|/\d+)?"
    r" ?(%|\"|''|in|ft|lb|g|bf)?\.? ?",
    re.IGNORECASE,
)
"""As people type one that a spreadsheet takes for a text: 7,5 or 7 1/2 or 12 % or $ 4.50; each run
of blanks is one."""
LIKE_A_CODE = re.compile(r"0\d|\d+ (?!\d{3}(?!\d))\d++(?! ?/)|\d{4,} \d")
"""A post code, a telephone number: a nought in front, or blanks that part no thousands."""
LONGEST_NUMBER = 40
"""Characters, for the time that a text made for it would take: it grows with their cube."""


def texts(old: OldWorkbook) -> Iterator[Finding]:
    """Find texts where numbers belong, and values that an input may not hold.

    Parameters
    ----------
    old : OldWorkbook
        As the file has it.

    Yields
    ------
    Finding
        Of the template's inputs by what is declared of them; on other sheets, of a column whose
        typed cells are mostly numbers.
    """
    inputs = _inputs(old)
    template = {area.sheet for name, area in old.names.items() if name in inputs}
    yield from _in_template(old, inputs)
    columns: dict[tuple[str, int], list[tuple[Place, Any]]] = defaultdict(list)
    for place, cell in old.cells.items():
        if not cell.formula and place[0] not in template:
            columns[place[0], place[2]].append((place, cell.value))
    for (_, column), cells in columns.items():
        numbers = sum(_is_number(value) for _, value in cells)
        if numbers < 2 or numbers <= len(cells) / 2:
            continue
        for place, value in cells:
            if isinstance(value, str) and _like_a_number(value):
                letter = get_column_letter(column)
                told = f"{shown(value)} among the {numbers} numbers of column {letter}"
                yield Finding(Kind.TEXT, place, told)


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float, date, time, timedelta)) and not isinstance(value, bool)


def _like_a_number(text: str) -> bool:
    if inches_from_quarters(text) is not None:  # such as 8/4, which as a number is a date
        return False
    spaced = " ".join(text.split())
    if len(spaced) > LONGEST_NUMBER or LIKE_A_CODE.match(spaced):
        return False
    return LIKE_A_NUMBER.fullmatch(spaced) is not None


def _inputs(old: OldWorkbook) -> dict[str, InputKind]:
    """Give what inputs may hold; a name of the template in another's workbook is not its input."""
    template = template_of(old.names, old.value(MARK))
    if template is None:
        return {}
    declared = declared_inputs()
    if template == TEMPLATE:
        return declared
    # an older template had other words to choose from
    return {name: kind for name, kind in declared.items() if kind.number_format != "@"}


def _in_template(old: OldWorkbook, declared: dict[str, InputKind]) -> Iterator[Finding]:
    for name, kind in declared.items():
        area = old.names.get(name)
        for place in area.places if area else ():
            cell = old.cells.get(place)
            reason = "" if cell is None or cell.formula else kind.refusal(cell.value)
            if cell is not None and reason:
                is_text = isinstance(cell.value, str) and kind.number_format != "@"
                told = f"{kind.label} is {shown(cell.value)}; {reason}"
                yield Finding(Kind.TEXT if is_text else Kind.RULE, place, told)
