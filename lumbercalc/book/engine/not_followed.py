"""Which formulas of a workbook are not computed, by their words and those of the names they use."""

from __future__ import annotations

from lumbercalc.book.engine.formula_size import Extent, together
from lumbercalc.book.engine.formula_text import FormulaText
from lumbercalc.book.xlsx.places import Area, Place

BAD_NAME = "the name {} cannot be computed with: {}"


def not_followed(
    texts: dict[Place, FormulaText], names: dict[str, FormulaText], areas: dict[str, Area]
) -> dict[Place, str]:
    """Say of each formula that is not given to the engine why.

    Parameters
    ----------
    texts : dict
        What was found in each formula.
    names : dict
        The same of each defined name that is no area, by the name.
    areas : dict
        The other defined names.

    Returns
    -------
    dict
        The first reason by the place of the formula.
    """
    extents = _extents_of_names(names, areas)
    bad = {
        name.casefold(): BAD_NAME.format(name, (text.broken + text.not_followed)[0])
        for name, text in names.items()
        if text.broken or text.not_followed
    }
    missing = {}
    for place, text in texts.items():
        why = text.broken + text.not_followed + [bad[name] for name in text.names if name in bad]
        named = (extents[name] for name in text.names if name in extents)
        too_large = together([text.extent, *named]).too_large
        if why or too_large:
            missing[place] = [*why, too_large][0]
    return missing


def _extents_of_names(names: dict[str, FormulaText], areas: dict[str, Area]) -> dict[str, Extent]:
    """Give the extent of each name; those of formulas, which may use each other, share one."""
    extents = {name.casefold(): Extent(area.height, area.width) for name, area in areas.items()}
    used = [extents[name] for text in names.values() for name in text.names if name in extents]
    shared = together([*used, *(text.extent for text in names.values())])
    return extents | {name.casefold(): shared for name in names}
