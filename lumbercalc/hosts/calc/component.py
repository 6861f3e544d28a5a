"""The add-in as Calc loads it: every worksheet function is handed to the shop's environment.

Runs inside Calc, on Calc's Python: standard library and uno only, Python 3.8 and later.
A refused cell is #NUM!; a call that could not be made at all is #VALUE!.

One cell goes back as a plain value. Were it a block of one cell, Calc would take it for a matrix:
an IF inside an IF would then fail (Err:509), and in an .xlsx its text would equal no other text.
Calc takes a block from a method that may also give a plain value only as a volatile result that
says its rows at once, and keeps it until the document is closed; so equal blocks are one object.
"""

# mypy: disable-error-code="import-not-found,misc,no-any-return"
# ruff: noqa: N802, N816 - UNO's own names, documented there

from __future__ import annotations

import json
import os
import sys
import weakref
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any

import uno
import unohelper
from com.sun.star.lang import Locale, XServiceInfo
from com.sun.star.sheet import ResultEvent, XAddIn, XVolatileResult
from com.sun.star.uno import RuntimeException
from lumbercalc_addin.inside import UnfitError, load
from lumbercalc_addin.link import CallRefusedError, Link, WorkerMissingError, rows_of
from lumbercalc_addin.packing import packed, unpacked

with open(
    os.path.join(os.path.dirname(os.path.abspath(__file__)), "functions.json"), encoding="utf-8"
) as settings:
    SETTINGS = json.load(settings)

SERVICES = (SETTINGS["service"], "com.sun.star.sheet.AddIn")
TAKES_DAYS = {one["name"] for one in SETTINGS["functions"] if one["takes_days"]}


@lru_cache(maxsize=None)  # noqa: UP033 - for old Pythons
def calculation() -> Callable[[str, Sequence[Any]], Any]:
    """Give what answers the calls: the environment inside Calc if it loads, else the worker."""
    if SETTINGS["inside"] is not None:
        try:
            reply = load(SETTINGS["inside"])
        except UnfitError as unfit:
            print(f"lumbercalc: the worker answers, because {unfit}", file=sys.stderr)
        else:
            return lambda name, arguments: rows_of(reply(name, arguments))
    return Link(SETTINGS["command"], SETTINGS["environment"]).ask


class Block(unohelper.Base, XVolatileResult):
    """Rows of cells that Calc is told of as soon as it listens, and that never change."""

    def __init__(self, rows: tuple[tuple[Any, ...], ...]) -> None:
        self.rows = rows

    def addResultListener(self, listener: Any) -> None:
        """Tell the listener of the rows at once."""
        event = ResultEvent()
        event.Source = self
        event.Value = uno.Any("[][]any", self.rows)
        listener.modified(event)

    def removeResultListener(self, listener: Any) -> None:
        """Nothing is kept of the listener."""


BLOCKS: weakref.WeakValueDictionary[tuple[Any, ...], Block] = weakref.WeakValueDictionary()
"""The blocks that Calc still holds, by their cells; NaN is unequal to itself, its bytes are not."""


def given_back(rows: Any) -> Any:
    """Give an answer's rows as Calc takes them: one plain value, or a block."""
    if isinstance(rows, dict):
        key: Any = tuple(rows.values())
    elif len(rows) == 1 and len(rows[0]) == 1:
        return rows[0][0]
    else:
        key = tuple(tuple(None if cell != cell else cell for cell in row) for row in rows)
    block = BLOCKS.get(key)
    if block is None:
        block = BLOCKS[key] = Block(tuple(map(tuple, unpacked(rows))))
    return block


def refuse_other_days(document: Any) -> None:
    """Refuse a day of a document that counts days from another one than the functions do."""
    first = document.getPropertyValue("NullDate")
    if (first.Year, first.Month, first.Day) != (1899, 12, 30):
        raise CallRefusedError(
            f"this workbook counts days from {first.Year}-{first.Month:02d}-{first.Day:02d}; set "
            "it to count from 1899-12-30, as the functions do: Tools, Options, Calc, Calculate"
        )


def worksheet_function(name: str, repeats: bool) -> Callable[..., Any]:
    """Make the method that answers for one function of the catalogue."""

    def method(self: Any, *arguments: Any) -> Any:
        document = None
        if repeats or name in TAKES_DAYS:
            document, arguments = arguments[0], arguments[1:]
        if repeats:
            arguments = (*arguments[:-1], *(arguments[-1] or ()))
        while arguments and arguments[-1] is None:  # left out by the one who typed it
            arguments = arguments[:-1]
        try:
            asked = arguments[0] if repeats and arguments else name
            if str(asked).strip().upper() in TAKES_DAYS:
                refuse_other_days(document)
            rows = calculation()(name, [packed(cells) for cells in arguments])
        except (WorkerMissingError, CallRefusedError) as failure:
            if name == SETTINGS["explains"]:
                return str(failure)
            raise RuntimeException(str(failure), self) from failure
        return given_back(rows)

    return method


def add_in(context: Any) -> Any:
    """Make the add-in; its interface is known only once the extension is registered."""
    from org.lumbercalc import XFunctions

    class AddIn(unohelper.Base, XFunctions, XAddIn, XServiceInfo):
        """The functions, and what Calc asks of every add-in; the help comes from CalcAddIns.xcu."""

        def __init__(self) -> None:
            self.locale = Locale("en", "US", "")

        def getProgrammaticFuntionName(self, name: str) -> str:
            return name

        def getDisplayFunctionName(self, name: str) -> str:
            return name

        def getFunctionDescription(self, name: str) -> str:
            return ""

        def getDisplayArgumentName(self, name: str, position: int) -> str:
            return ""

        def getArgumentDescription(self, name: str, position: int) -> str:
            return ""

        def getProgrammaticCategoryName(self, name: str) -> str:
            return "Add-In"

        def getDisplayCategoryName(self, name: str) -> str:
            return "Add-In"

        def setLocale(self, locale: Any) -> None:
            self.locale = locale

        def getLocale(self) -> Any:
            return self.locale

        def getServiceName(self) -> str:
            return SERVICES[0]

        def getImplementationName(self) -> str:
            return SERVICES[0]

        def supportsService(self, name: str) -> bool:
            return name in SERVICES

        def getSupportedServiceNames(self) -> tuple[str, ...]:
            return SERVICES

    for function in SETTINGS["functions"]:
        setattr(
            AddIn,
            function["method"],
            worksheet_function(function["name"], function["repeats"]),
        )
    return AddIn()


g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(add_in, SERVICES[0], SERVICES)
