"""What is found in a workbook's formulas; one that is filled down is read word by word once."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace

from lumbercalc.book.engine.filled_down import relative
from lumbercalc.book.engine.formula_reader import LONGEST_FORMULA, read_formula
from lumbercalc.book.engine.formula_text import FormulaText, Known
from lumbercalc.book.xlsx.old_workbook import OldWorkbook
from lumbercalc.book.xlsx.places import Place, address

FAR_DOWN = re.compile(r"\d{7}")
"""A row from the millionth on: one of them is the last one, and beyond it there is none."""


def formula_texts(
    old: OldWorkbook,
    known: Known,
    arrays: Collection[Place],
    readers: Collection[Place],
    whole: Collection[str],
) -> dict[Place, FormulaText]:
    """Look through all formulas of a workbook.

    Parameters
    ----------
    old : OldWorkbook
        What the file holds.
    known : Known
        What they may refer to.
    arrays : collection of tuple
        Places of the array formulas that are computed.
    readers : collection of tuple
        Places of the formulas that see the whole tables.
    whole : collection of str
        Names, in lower case, of which these see all cells.

    Returns
    -------
    dict
        By place, each as `read_formula` finds it. Where a formula is that of another cell filled
        down, and nothing is wrong with that, it is not read again.
    """
    texts = {}
    alike: dict[tuple[str, ...], FormulaText] = {}
    for place, cell in old.cells.items():
        if not cell.formula:
            continue
        if place in readers:
            text = read_formula(cell.formula, place[0], known, whole)
        elif cell.area or len(cell.formula) > LONGEST_FORMULA or FAR_DOWN.search(cell.formula):
            text = read_formula(cell.formula, place[0], known)
        else:
            text = _like_another(place, cell.formula, known, alike)
        if not cell.area:
            text.not_followed.extend(text.alone)
        elif place not in arrays:
            text.not_followed.append(f"it fills the cells {cell.area[:40]}: too many")
        texts[place] = text
    return texts


def _like_another(
    place: Place, formula: str, known: Known, alike: dict[tuple[str, ...], FormulaText]
) -> FormulaText:
    """Take what was found in a formula that is the same but for where it stands."""
    shape, areas = relative(formula, address(place))
    key = (place[0], shape, *(area for area in areas if ":" in area))
    if key in alike:
        return replace(alike[key], text=formula)
    text = read_formula(formula, place[0], known)
    if text.text == formula and not (text.broken or text.not_followed or text.alone):
        alike[key] = text
    return text
