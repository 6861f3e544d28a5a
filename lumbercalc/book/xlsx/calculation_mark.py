"""The mark by which a workbook says that it is to be computed anew when it is loaded."""

from __future__ import annotations

from lumbercalc.book.xlsx.sheet_xml import apply_edits, elements, written


def calculate_on_load(content: bytes) -> bytes:
    """Mark a workbook's part to be recalculated when it is loaded.

    Parameters
    ----------
    content : bytes
        xl/workbook.xml, with a calcPr as every spreadsheet writes it.

    Returns
    -------
    bytes
        The same with fullCalcOnLoad="1" (ECMA-376 part 1, 18.2.2).
    """
    return _with_mark(content, "1")


def calculated(content: bytes) -> bytes:
    """Take the mark away by which a workbook is recalculated when it is loaded.

    Parameters
    ----------
    content : bytes
        xl/workbook.xml.

    Returns
    -------
    bytes
        The same without fullCalcOnLoad.
    """
    return _with_mark(content, "")


def is_calculated(content: bytes) -> bool:
    """Tell whether the stored values of a workbook are said to be those of its formulas.

    Parameters
    ----------
    content : bytes
        xl/workbook.xml.

    Returns
    -------
    bool
        False where it is marked to be recalculated when it is loaded.
    """
    settings = elements(content, {"calcPr"}).get("calcPr")
    return settings is None or settings.attributes.get("fullCalcOnLoad") not in ("1", "true")


def _with_mark(content: bytes, mark: str) -> bytes:
    settings = elements(content, {"calcPr"}).get("calcPr")
    if settings is None:
        return content
    given = {**settings.attributes, "fullCalcOnLoad": mark}
    if not mark:
        del given["fullCalcOnLoad"]
    if settings.attributes == given:
        return content
    return apply_edits(
        content, [(settings.start, settings.end, f"<{settings.name}{written(given)}/>")]
    )
