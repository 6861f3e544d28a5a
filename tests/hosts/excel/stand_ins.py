"""xlwings as it is on Windows, on any machine: its own code, with stand-ins for pywin32 and Excel.

`call_as_excel("EMC", 70, 45)` sends the cells as the VBA module of `wrappers` does, and
`call_from_ranges` sends them as xlwings' own wrappers do: as ranges that xlwings reads itself.
What stands in here is what COM would hand over (a blank as None, an error as a whole number, a
currency cell as a Decimal); what happens to it from there on is xlwings' and lumbercalc's code.
"""

from __future__ import annotations

import asyncio
import atexit
import concurrent.futures
import ctypes
import importlib
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import cache
from types import ModuleType, SimpleNamespace
from typing import Any
from unittest import mock

import numpy
import pandas  # xlwings asks for it; loaded before the platform is another for a moment
import xlwings

import lumbercalc.hosts.excel.functions
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.dates import serial

LOADED = (asyncio, concurrent.futures, numpy, pandas, xlwings)
"""What must be loaded as on this machine, before xlwings is loaded as on Windows."""

asyncio.new_event_loop().close()  # from Python 3.14 on it looks at the platform at its first loop

SERVED = "lumbercalc.hosts.excel.functions"

ROOTS = {"xlwings", "pythoncom", "pywintypes", "win32com", "win32api", "win32con", "win32event"} | {
    *("win32gui", "win32process", "win32timezone")
}
"""The packages that are others on Windows."""

MISSING = -2147352572
"""How an argument left out arrives (DISP_E_PARAMNOTFOUND); from xlwings' `call_udf`."""

CODES = {text: code for code, text in lumbercalc.hosts.excel.functions.ERRORS.items()}
RANGE = "{00020846-0000-0000-C000-000000000046}"
"""Excel's interface Range; from xlwings' `is_range_instance`."""


class ComTime(datetime):
    """A date as pywin32 hands it over: with a time zone that means nothing."""


class ComObject:
    """An object of another program."""


class ComRange(ComObject):
    """A range of cells of Excel."""

    def __init__(self, value: Any) -> None:
        self.Value = value
        rows = value if isinstance(value, tuple) else ((value,),)
        self.Row = self.Column = 1
        self.Rows = SimpleNamespace(Count=len(rows))
        self.Columns = SimpleNamespace(Count=len(rows[0]))
        self.Worksheet = SimpleNamespace(Parent=SimpleNamespace(Application=APPLICATION))
        kind = SimpleNamespace(iid=RANGE)
        self._oleobj_ = SimpleNamespace(
            GetTypeInfo=lambda: SimpleNamespace(GetTypeAttr=lambda: kind)
        )


APPLICATION = SimpleNamespace(Hwnd=1, Version="16.0", MacroOptions=mock.Mock())


class NotPythonError(Exception):
    """What pywin32 raises for a value that is no Python object behind COM."""


def refuse(_: Any) -> Any:
    raise NotPythonError


def pywin32() -> dict[str, ModuleType]:
    """What xlwings imports of pywin32: the names that it asks for, and nothing behind them."""
    idispatch = "{00020400-0000-0000-C000-000000000046}"
    names: dict[str, dict[str, Any]] = {
        "pywintypes": {
            "TimeType": ComTime,
            "IID": str,
            "com_error": NotPythonError,
            "error": NotPythonError,
        },
        "pythoncom": {
            "__file__": "pythoncom.dll",
            "CoInitialize": lambda: None,
            "IID_IDispatch": idispatch,
            "TypeIIDs": {idispatch: type("PyIDispatch", (), {})},
            "ole_error": NotPythonError,
        },
        "win32api": {},
        "win32con": {},
        "win32event": {},
        "win32gui": {},
        "win32process": {"GetWindowThreadProcessId": lambda _: (1, 1)},
        "win32timezone": {"TimeZoneInfo": SimpleNamespace(utc=lambda: UTC)},
        "win32com": {},
        "win32com.client": {
            "CDispatch": ComObject,
            "CoClassBaseClass": ComObject,
            "DispatchBaseClass": ComObject,
            "Dispatch": lambda one: one,
            "DispatchEx": None,
            "gencache": mock.Mock(),
        },
        "win32com.server": {},
        "win32com.server.dispatcher": {},
        "win32com.server.policy": {},
        "win32com.server.util": {"unwrap": refuse},
    }
    modules = {}
    for name, contents in names.items():
        module = modules[name] = ModuleType(name)
        module.__dict__.update(contents)
        parent, _, child = name.rpartition(".")
        if parent:
            setattr(modules[parent], child, module)
    return modules


def replaceable() -> dict[str, ModuleType]:
    """The loaded modules that are others on Windows."""
    return {
        name: module
        for name, module in sys.modules.items()
        if name.split(".")[0] in ROOTS or name == SERVED
    }


@contextmanager
def replaced(modules: dict[str, ModuleType]) -> Iterator[None]:
    """Replace all modules of xlwings, and the functions, by others; afterwards all is as before."""

    before = replaceable()
    for name in before:
        del sys.modules[name]
    sys.modules.update(modules)
    try:
        yield
    finally:
        for name in replaceable():
            del sys.modules[name]
        sys.modules.update(before)
        vars(lumbercalc.hosts.excel)["functions"] = before[SERVED]


@cache
def windows_modules() -> dict[str, ModuleType]:
    """Load xlwings, its server and the functions as on Windows."""
    door = SimpleNamespace(CLSIDFromString=lambda *_: 0)
    with (
        replaced(pywin32()),
        mock.patch.object(sys, "platform", "win32"),
        mock.patch.object(ctypes, "windll", SimpleNamespace(), create=True),
        mock.patch.object(ctypes, "oledll", SimpleNamespace(ole32=door), create=True),
        mock.patch.object(ctypes, "PyDLL", mock.Mock()),
        mock.patch.object(atexit, "register", lambda one: one),  # it would look for Excel
    ):
        importlib.import_module("xlwings.com_server").loop.close()
        importlib.import_module(SERVED)
        return replaceable()


@contextmanager
def on_windows() -> Iterator[dict[str, ModuleType]]:
    """Let imports find xlwings as on Windows."""
    modules = windows_modules()
    with replaced(modules):
        yield modules


def call_as_excel(name: str, *cells: Any) -> Any:
    """Call a function as the VBA module does, with what Value2 gives of the cells.

    Parameters
    ----------
    name : str
        Name in the catalogue.
    cells : object
        Of each argument one cell, or a list of cells (a column) or of rows: numbers, texts, truth
        values, dates, Decimals (currency cells), None for a blank, "#N/A" and the like for an
        error. Arguments that are not given are left out.

    Returns
    -------
    object
        One cell or rows of cells, as Excel takes them; a refusal is a text with the marker.
    """
    return _called(name, [_arranged(given, _value2) for given in cells], left_out=None)


def call_from_ranges(name: str, *cells: Any) -> Any:
    """Call a function as xlwings' own wrapper does, with ranges whose Value xlwings reads.

    Parameters
    ----------
    name : str
        Name in the catalogue.
    cells : object
        The same as for `call_as_excel`.

    Returns
    -------
    object
        One cell or rows of cells, as Excel takes them.
    """
    return _called(name, [ComRange(_arranged(given, _value)) for given in cells], MISSING)


def _called(name: str, sent: list[Any], left_out: int | None) -> Any:
    if not CATALOGUE[name].repeats:
        sent = sent + [left_out] * (len(CATALOGUE[name].arguments) - len(sent))
    with on_windows() as modules:
        answer = modules["xlwings.com_server"].XLPython().CallUDF(SERVED, name, tuple(sent))
    if not isinstance(answer, list):
        return _kept(answer)
    rows = answer if isinstance(answer[0], list) else [answer]
    return [[_kept(cell) for cell in row] for row in rows]


def _arranged(given: Any, cell_of: Any) -> Any:
    """Arrange cells as COM does: a cell alone, or rows as tuples of tuples."""
    if not isinstance(given, (list, tuple)):
        return cell_of(given)
    rows = [row if isinstance(row, (list, tuple)) else [row] for row in given]
    if len(rows) == len(rows[0]) == 1:
        return cell_of(rows[0][0])
    return tuple(tuple(cell_of(cell) for cell in row) for row in rows)


def _value2(cell: Any) -> Any:
    """Send a cell's Value2: every number a float, dates as serial numbers."""
    if isinstance(cell, datetime):
        return serial(cell.date()) + (cell - datetime.combine(cell, time())) / timedelta(days=1)
    if isinstance(cell, date):
        return serial(cell)
    if isinstance(cell, str):
        return CODES.get(cell, cell or None)
    return float(cell) if isinstance(cell, (int, Decimal)) and type(cell) is not bool else cell


def _value(cell: Any) -> Any:
    """Send a cell's Value: dates as such, currency as a Decimal cut to four places."""
    if isinstance(cell, date):
        day = cell if isinstance(cell, datetime) else datetime.combine(cell, time())
        return ComTime.combine(day.date(), day.time(), UTC)
    return cell.quantize(Decimal("0.0001")) if isinstance(cell, Decimal) else _value2(cell)


def _kept(cell: Any) -> Any:
    """Keep of an answer's cell what Excel keeps: a date has no time zone there."""
    return cell.replace(tzinfo=None) if isinstance(cell, datetime) else cell
