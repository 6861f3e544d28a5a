"""The machine that Excel is on: where things lie there, and what is installed."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from lumbercalc.hosts import programs

EXCEL_KEY = r"SOFTWARE\Microsoft\Windows\CurrentVersion\App Paths\excel.exe"
"""Where Windows is told of an installed Excel."""


class ExcelError(OSError):
    """Excel is missing, or the functions cannot be given to it; the message says what to do."""


@dataclass(frozen=True)
class Machine:
    """A machine, as far as Excel and Python on it matter.

    Parameters
    ----------
    windows : bool
        Whether it is Windows.
    home, appdata : Path
        The user's folder, and the one of the settings of programs.
    python : Path
        The program of the Python that answers.
    excel : callable
        Gives the program of Excel; "" where it is not installed.
    package : callable
        Gives the folder of an installed Python package by name; None where it is missing.
    run : callable
        Runs a command and gives what it said.
    """

    windows: bool
    home: Path
    appdata: Path
    python: Path
    excel: Callable[[], str]
    package: Callable[[str], Path | None]
    run: Callable[[Sequence[str]], programs.Said]

    @property
    def settings(self) -> Path:
        """Xlwings' settings of the user, as its VBA looks for them."""
        return self.home / ".xlwings" / "xlwings.conf"

    @property
    def vba_module(self) -> Path:
        """The VBA module that the shop imports."""
        return self.settings.with_name("lumbercalc.bas")

    @property
    def record(self) -> Path:
        """What was there before, and what was put there."""
        return self.settings.with_name("lumbercalc.json")

    @property
    def addin(self) -> Path:
        """Xlwings' add-in, in the folder whose workbooks Excel opens when it starts."""
        return self.appdata / "Microsoft" / "Excel" / "XLSTART" / "xlwings.xlam"


def this_machine() -> Machine:
    """Describe the machine that this runs on.

    Returns
    -------
    Machine
        With nothing asked of it yet.
    """
    home = Path.home()
    return Machine(
        windows=sys.platform == "win32",
        home=home,
        appdata=Path(os.environ.get("APPDATA", home / "AppData" / "Roaming")),
        python=Path(sys.executable),
        excel=_registered_excel,
        package=package_folder,
        run=_run,
    )


def _registered_excel() -> str:
    if sys.platform == "win32":
        import winreg

        for root in (winreg.HKEY_LOCAL_MACHINE, winreg.HKEY_CURRENT_USER):
            try:
                return winreg.QueryValue(root, EXCEL_KEY)
            except OSError:
                continue
    return ""


def package_folder(name: str) -> Path | None:
    """Find where an installed Python package lies, without loading it.

    Parameters
    ----------
    name : str
        Such as "xlwings".

    Returns
    -------
    Path or None
        None where it is not installed.
    """
    found = find_spec(name)
    if found is None or not found.submodule_search_locations:
        return None
    return Path(next(iter(found.submodule_search_locations)))


def _run(command: Sequence[str]) -> programs.Said:
    try:
        return programs.run(command)
    except TimeoutError as slow:
        raise ExcelError(f"{slow}: close Excel and try again") from None
