"""Give the functions to Excel on Windows through xlwings, take them away, say what is there.

Written after xlwings' own code and tried with stand-ins for Windows; not run on Windows yet.
"""

from __future__ import annotations

import json
import re
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import get_type_hints

import lumbercalc
from lumbercalc.files import write_file
from lumbercalc.hosts.excel.machine import ExcelError, Machine
from lumbercalc.hosts.excel.settings import (
    change_settings,
    read_settings,
    with_module,
    without_module,
)
from lumbercalc.hosts.excel.wrappers import SERVED_BY, wrappers_text
from lumbercalc.hosts.step import Step

INTERPRETER, MODULES = "INTERPRETER_WIN", "UDF MODULES"
"""The settings that are changed."""

INSTALL = "lumbercalc addin excel"

LIBRARY = re.compile(r"xlwings(?:32|64)-[^\"]+\.dll")
"""What xlwings' VBA declares its functions to be in: a file of its very version."""

OWN_ENVIRONMENT = (
    "install lumbercalc in an environment of its own (py -m venv); the Python of Microsoft's "
    "Store, and pip's --user, put it where Excel does not look"
)
"""What mends a missing library: xlwings' issues 1538 and 1803."""


@dataclass(frozen=True)
class Record:
    """What was there before, for the day when the functions are taken away.

    Parameters
    ----------
    interpreter : str or None
        The Python that xlwings called; None where none was set.
    written : str
        The Python that it was set to.
    modules : bool
        Whether a list of modules was set.
    addin : bool
        Whether xlwings' add-in was there.
    """

    interpreter: str | None
    written: str
    modules: bool
    addin: bool


def install(machine: Machine, now: datetime) -> list[Step]:
    """Install xlwings' add-in, set it up for this Python, and write the VBA module.

    Parameters
    ----------
    machine : Machine
        This one, or a stand-in.
    now : datetime
        For the name of a backup of the user's settings.

    Returns
    -------
    list of Step
        As `check` gives them, afterwards.

    Raises
    ------
    ExcelError
        When something is missing that this cannot put there, or its own record cannot be used.
    FileFault
        When a file cannot be written; it is then as it was.
    """
    needed = _needed(machine)
    for step in needed:
        if not step.done:
            raise ExcelError(f"{step.name}: {step.detail}")
    settings = read_settings(machine.settings)
    earlier = _record(machine)
    ours = earlier is not None and settings.get(INTERPRETER) == earlier.written
    record = Record(
        interpreter=earlier.interpreter if earlier and ours else settings.get(INTERPRETER),
        written=str(machine.python),
        modules=earlier.modules if earlier else MODULES in settings,
        addin=earlier.addin if earlier else machine.addin.exists(),
    )
    machine.record.parent.mkdir(parents=True, exist_ok=True)
    _write(machine.record, json.dumps(asdict(record), indent=1).encode("ascii"), now)
    said = machine.run([str(machine.python), "-m", "xlwings.cli", "addin", "install"])
    if not _addin(machine).done:
        raise ExcelError(f"xlwings did not install its add-in: {_reason(said.stdout, said.stderr)}")
    modules = with_module(settings.get(MODULES, ""), SERVED_BY)
    changes = {INTERPRETER: str(machine.python), MODULES: modules}
    change_settings(machine.settings, changes, now)
    _write(machine.vba_module, wrappers_text().encode("ascii"), now)
    return check(machine)


def remove(machine: Machine, now: datetime) -> list[Step]:
    """Undo what `install` did, and nothing else.

    Parameters
    ----------
    machine : Machine
        This one, or a stand-in.
    now : datetime
        For the name of a backup of the user's settings.

    Returns
    -------
    list of Step
        What was undone, or is still there.

    Raises
    ------
    ExcelError
        When the record of what was there before cannot be used.
    FileFault
        When the settings cannot be written; they are then as they were.
    """
    record = _record(machine)
    if record is None:
        return [Step("functions removed", True, "they were not installed by lumbercalc")]
    steps = [_settings_back(machine, record, now), _addin_back(machine, record)]
    machine.vba_module.unlink(missing_ok=True)
    steps.append(Step("VBA module removed", True, "delete it in workbooks that imported it"))
    if all(step.done for step in steps):
        machine.record.unlink()
    return steps


def check(machine: Machine) -> list[Step]:
    """Say for each thing that the functions need in Excel whether it is so.

    Parameters
    ----------
    machine : Machine
        This one, or a stand-in.

    Returns
    -------
    list of Step
        In the order in which to mend them.
    """
    needed = _needed(machine)
    if not needed[0].done:
        return needed
    return [*needed, _addin(machine), _settings(machine), _vba_module(machine), _answers(machine)]


def _needed(machine: Machine) -> list[Step]:
    """Look for what must be there before anything is installed."""
    if not machine.windows:
        return [Step("Windows", False, "xlwings serves functions to Excel on Windows only")]
    excel = machine.excel()
    xlwings = machine.package("xlwings")
    win32 = machine.package("win32com")
    return [
        Step("Windows", True, "this is Windows"),
        Step("Excel", bool(excel), excel or "not found: install Excel for the desktop"),
        Step("xlwings", xlwings is not None, str(xlwings or "not found: pip install xlwings")),
        Step("pywin32", win32 is not None, str(win32 or "not found: pip install pywin32")),
        _library(machine),
    ]


def _library(machine: Machine) -> Step:
    """Look for what xlwings' VBA loads where it does: beside the Python, or one folder up."""
    name, package = "xlwings' library", machine.package("xlwings")
    if package is None:
        return Step(name, False, "not known without xlwings")
    asked = set(LIBRARY.findall((package / "xlwings.bas").read_text("utf-8", "replace")))
    places = (machine.python.parent, machine.python.parent.parent)
    for file in sorted(asked):  # one for each kind of Excel, of 32 and of 64 bits
        if not any((place / file).exists() for place in places):
            told = f"{file} not found beside {machine.python} or one folder up"
            return Step(name, False, f"{told}: {OWN_ENVIRONMENT}")
    return Step(name, True, ", ".join(sorted(asked)))


def _addin(machine: Machine) -> Step:
    package = machine.package("xlwings")
    if not machine.addin.exists() or package is None:
        return Step("xlwings' add-in", False, f'not in {machine.addin.parent}: run "{INSTALL}"')
    if machine.addin.read_bytes() != (package / "addin" / "xlwings.xlam").read_bytes():
        return Step("xlwings' add-in", False, f'of another version of xlwings: run "{INSTALL}"')
    return Step("xlwings' add-in", True, str(machine.addin))


def _settings(machine: Machine) -> Step:
    name, settings = "xlwings' settings", read_settings(machine.settings)
    if settings.get(INTERPRETER) != str(machine.python):
        calls = settings.get(INTERPRETER) or "no Python"
        return Step(name, False, f'they name {calls}, not {machine.python}: run "{INSTALL}"')
    if SERVED_BY not in settings.get(MODULES, "").split(";"):
        return Step(name, False, f'{SERVED_BY} is not among the modules: run "{INSTALL}"')
    return Step(name, True, str(machine.settings))


def _vba_module(machine: Machine) -> Step:
    file = machine.vba_module
    if not file.exists():
        return Step("VBA module", False, f'not written yet: run "{INSTALL}"')
    if file.read_bytes() != wrappers_text().encode("ascii"):
        mend = f'of another version: run "{INSTALL}", remove it in workbooks and import it anew'
        return Step("VBA module", False, mend)
    return Step("VBA module", True, str(file))


def _answers(machine: Machine) -> Step:
    asked = f"import {SERVED_BY} as excel; print(excel.LUMBERCALC_VERSION())"
    said = machine.run([str(machine.python), "-c", asked])
    version = said.stdout.strip()
    if version == lumbercalc.__version__:
        return Step("calculation", True, f"lumbercalc {version} answers")
    return Step("calculation", False, _reason(said.stdout, said.stderr))


def _settings_back(machine: Machine, record: Record, now: datetime) -> Step:
    settings = read_settings(machine.settings)
    changes: dict[str, str | None] = {}
    if settings.get(INTERPRETER) == record.written:
        changes[INTERPRETER] = record.interpreter
    if MODULES in settings:
        rest = without_module(settings[MODULES], SERVED_BY)
        changes[MODULES] = rest if rest or record.modules else None
    backup = change_settings(machine.settings, changes, now)
    if machine.settings.exists() and not machine.settings.read_bytes().strip():
        machine.settings.unlink()  # made by the installation
    told = f"as they were; the later ones are in {backup}" if backup else "as they were"
    return Step("xlwings' settings restored", True, told)


def _addin_back(machine: Machine, record: Record) -> Step:
    name = "xlwings' add-in removed"
    if record.addin:
        return Step(name, True, "it was there before, and stays")
    if machine.addin.exists():
        said = machine.run([str(machine.python), "-m", "xlwings.cli", "addin", "remove"])
        if machine.addin.exists():
            return Step(name, False, _reason(said.stdout, said.stderr))
    return Step(name, True, str(machine.addin))


def _record(machine: Machine) -> Record | None:
    if not machine.record.exists():
        return None
    try:
        record = Record(**json.loads(machine.record.read_bytes()))
        for name, kind in get_type_hints(Record).items():
            if not isinstance(value := getattr(record, name), kind):
                raise TypeError(f"{name} is {value!r}")
    except (ValueError, TypeError) as fault:
        raise ExcelError(
            f"{machine.record}: what was there before the functions cannot be read from it "
            f"({fault}): put the newest of its backups beside it in its place; without one, delete "
            f"it and see to {INTERPRETER} and {MODULES} in {machine.settings} yourself"
        ) from None
    return record


def _write(path: Path, content: bytes, now: datetime) -> None:
    """Write a file unless it is so already: a backup would hold nothing else."""
    if not path.exists() or path.read_bytes() != content:
        write_file(path, content, force=True, now=now)


def _reason(*outputs: str) -> str:
    """Give the last line that a program printed."""
    lines = [line.strip() for output in outputs for line in output.splitlines() if line.strip()]
    return lines[-1] if lines else "it gave no reason; close Excel and try again"
