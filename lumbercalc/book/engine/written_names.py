"""Names of functions and sheets: as files write them, and as the engine reads them."""

from __future__ import annotations

import re

from lumbercalc.sheet.catalogue import CATALOGUE

QUOTED = r"'(?:[^']|'')*+'"
"""Nothing in it is tried a second time: a formula of apostrophes is read as fast as any other."""
PREFIXES = re.compile(
    r'"(?:[^"]|"")*"'
    rf"|(?:{QUOTED}!|\[\d+\]!|_xlfn\.|_xlws\.|_xludf\.|org\.lumbercalc\.addin\.)++"
    r"(?:(?P<name>[A-Za-z]\w*)(?=\())?"
    rf"|{QUOTED}",
    re.IGNORECASE,
)
"""What spreadsheets write before the name of a function: of the file that it comes from, for one
newer than the format, for one that was not there when the file was saved. Texts and whatever else
is quoted are read over."""
APOSTROPHE = "\ue000"
"""A character of nobody in its place in the name of a sheet, in which the engine reads none."""


def for_the_engine(sheet: str) -> str:
    """Name a sheet as the engine can read it.

    Parameters
    ----------
    sheet : str
        Its name.

    Returns
    -------
    str
        As it stands in the text of formulas too.

    Examples
    --------
    >>> for_the_engine("Last year"), len(for_the_engine("Last year's"))
    ('Last year', 11)
    """
    return sheet.replace("'", APOSTROPHE)


def without_prefixes(formula: str) -> str:
    """Write calls of our functions under their plain names.

    Parameters
    ----------
    formula : str
        As a file has it.

    Returns
    -------
    str
        Texts in it stay as they are.

    Examples
    --------
    >>> without_prefixes('=_xlfn.EMC(70,50)&"_xlfn.EMC(70,50)"')
    '=EMC(70,50)&"_xlfn.EMC(70,50)"'
    """

    def plain(found: re.Match[str]) -> str:
        ours = (found["name"] or "").upper() in CATALOGUE
        return str(found["name"]) if ours else found[0]

    return PREFIXES.sub(plain, formula)
