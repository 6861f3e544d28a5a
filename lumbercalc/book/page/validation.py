"""Data validation of the inputs, made from the limits that the functions declare."""

from __future__ import annotations

import re
from typing import Literal

from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import FIRST_SERIAL, LAST_SERIAL
from lumbercalc.sheet.limits import Limits

LONGEST_TITLE = 32
"""Characters, for Excel."""

MONEY = "$"
"""What the headers call what the functions, which know no currency, call money."""


def validate(
    sheet: Worksheet, area: str, limits: Limits | None, choices: str, title: str, about: str
) -> None:
    """Give an input the data validation of its declared limits, if anything is to be said.

    Parameters
    ----------
    sheet : Worksheet
        Where it is.
    area : str
        Its cells, such as "C5:C5004".
    limits : Limits or None
        As the functions check them.
    choices : str
        Formula of a list, "=" and a name, or "" for none.
    title, about : str
        Shown when the cell is chosen.
    """
    rule = _rule(limits, choices, title, about)
    if rule is not None:
        rule.add(area)
        sheet.add_data_validation(rule)


def _rule(limits: Limits | None, choices: str, title: str, about: str) -> DataValidation | None:
    words = "Choose from the list." if limits is None else f"It must be {limits.words()}."
    words = words.replace("money", MONEY)
    if choices:
        # a file has formulas without "=" (ECMA-376 part 1, 18.17.2)
        rule = DataValidation(type="list", formula1=choices.removeprefix("="), allow_blank=True)
        rule.errorStyle = "warning"
    elif limits is None:
        if not about:
            return None
        rule = DataValidation(allow_blank=True)  # any text: it only says what belongs there
    elif limits.choices:
        rule = DataValidation(
            type="list", formula1='"' + ",".join(limits.choices) + '"', allow_blank=True
        )
    elif limits.unit == "date":
        rule = DataValidation(
            type="date",
            operator="between",
            formula1=str(FIRST_SERIAL),
            formula2=str(LAST_SERIAL),
            allow_blank=True,
        )
    elif limits.lowest is not None and limits.highest is not None:
        kind: Literal["whole", "decimal"] = "whole" if limits.whole else "decimal"
        rule = DataValidation(
            type=kind,
            operator="between",
            formula1=f"{limits.lowest:.10g}",
            formula2=f"{limits.highest:.10g}",
            allow_blank=True,
        )
    else:
        return None
    if rule.type is not None:
        rule.errorTitle, rule.error = _short(title), words[:225]
        rule.showErrorMessage = True
    rule.promptTitle, rule.prompt = _short(title), (about or words)[:255]
    rule.showInputMessage = bool(about)
    return rule


def _short(title: str) -> str:
    """Shorten a header to what a title holds: without its unit, else up to its first comma."""
    without_unit = re.sub(r" \([^()]*\)$", "", title)
    lengths = (title, without_unit, title.partition(",")[0])
    return next((each for each in lengths if len(each) <= LONGEST_TITLE), title[:LONGEST_TITLE])


QUARTERS = "quarters_list"
"""Name of the cells of the thicknesses to choose from."""
THICKNESSES = f"={QUARTERS}"
"""Choices of a thickness: those on Prices, or any quarters as text."""


def limits_of(function: str, argument: str) -> Limits:
    """Give the declared limits of a function's argument.

    Parameters
    ----------
    function, argument : str
        Names in the catalogue.

    Returns
    -------
    Limits
        The one declaration.

    Examples
    --------
    >>> limits_of("EMC", "rh_pct").words()
    'from 1 to 100 % RH'
    """
    return next(a.limits for a in CATALOGUE[function].arguments if a.name == argument)
