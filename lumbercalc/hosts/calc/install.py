"""Put the add-in into LibreOffice Calc, take it out, and say what is there."""

from __future__ import annotations

import json
import os
import re
import tempfile
from pathlib import Path
from typing import Any

import lumbercalc
from lumbercalc.hosts.calc import extension
from lumbercalc.hosts.calc.link import CallRefusedError, Link, WorkerMissingError
from lumbercalc.hosts.calc.office import TESTED, CalcError, Office, find_office, run
from lumbercalc.hosts.calc.way import ASKED, Way, find_way
from lumbercalc.hosts.step import Step

MEND = 'run "lumbercalc addin calc"'
"""What puts an add-in right that is missing or made for something else."""

OXT_NAME = "lumbercalc.oxt"
"""File name of the extension; Calc unpacks it into a folder of that name."""


def build(office: Office | None = None, by_worker: bool = False) -> bytes:
    """Build the extension for this Python and the LibreOffice of this machine.

    Parameters
    ----------
    office : Office, optional
        Which LibreOffice; the one that is found when left out.
    by_worker : bool
        Calculate in a process beside Calc, even where it could be done in Calc's own.

    Returns
    -------
    bytes
        The .oxt file; it calculates by a worker where no LibreOffice is installed.
    """
    try:
        way = ASKED if by_worker else find_way(office or find_office())
    except CalcError as missing:
        way = Way(None, str(missing))
    return extension.build(way)


def put_in(office: Office, by_worker: bool = False) -> None:
    """Build the extension for this Python and put it into Calc, in place of an older one.

    Parameters
    ----------
    office : Office
        Which LibreOffice.
    by_worker : bool
        Calculate in a process beside Calc, even where it could be done in Calc's own.

    Raises
    ------
    CalcError
        Calc cannot run Python, or refuses the extension.
    """
    python = _runs_python(office)
    if not python.done:
        raise CalcError(python.detail)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        oxt = Path(folder) / OXT_NAME
        oxt.write_bytes(build(office, by_worker))
        said = run([office.unopkg, "add", "-f", "-s", *_whose(), *office.options, oxt])
    taken = _installed(office).done and (not said.returncode or _for_this_python(office).done)
    if not taken:
        raise CalcError(f"Calc did not take the add-in: {_reason(said.stderr)}")


def install(office: Office | None = None, by_worker: bool = False) -> list[Step]:
    """Put the extension into Calc and see whether it has what it needs there.

    Parameters
    ----------
    office : Office, optional
        Which LibreOffice; the one that is found when left out.
    by_worker : bool
        Calculate in a process beside Calc, even where it could be done in Calc's own.

    Returns
    -------
    list of Step
        As `check` gives them, afterwards.

    Raises
    ------
    CalcError
        Calc is missing, cannot run Python, or refuses the extension.
    """
    office = office or find_office()
    put_in(office, by_worker)
    return check(office)


def remove(office: Office | None = None) -> list[Step]:
    """Take the add-in out of Calc.

    Parameters
    ----------
    office : Office, optional
        Which LibreOffice; the one that is found when left out.

    Returns
    -------
    list of Step
        One step: that it is out, or was not in.

    Raises
    ------
    CalcError
        Calc is missing, or keeps the extension.
    """
    office = office or find_office()
    if not _registered_version(office):
        return [Step("add-in removed", True, "it was not installed")]
    said = run([office.unopkg, "remove", *_whose(), *office.options, extension.IDENTIFIER])
    if _registered_version(office):
        raise CalcError(f"Calc kept the add-in: {_reason(said.stderr)}")
    return [Step("add-in removed", True, "formulas that use it show #NAME? from now on")]


def check(office: Office | None = None) -> list[Step]:
    """Say for each thing that the add-in needs whether it is so.

    Parameters
    ----------
    office : Office, optional
        Which LibreOffice; the one that is found when left out.

    Returns
    -------
    list of Step
        In the order in which to mend them.
    """
    try:
        office = office or find_office()
    except CalcError as missing:
        return [Step("LibreOffice Calc", False, str(missing))]
    return [
        Step("LibreOffice Calc", True, str(office.soffice)),
        _recent(office),
        _runs_python(office),
        _installed(office),
        _for_this_python(office),
        _way(office),
        _answers(),
        _seen(office),
    ]


def _recent(office: Office) -> Step:
    version = office.version()
    words = ".".join(map(str, version)) or "unknown"
    if version >= TESTED:
        return Step("version", True, words)
    return Step("version", False, f"{words}: tested with 25.2 and later; please upgrade")


def _runs_python(office: Office) -> Step:
    if office.runs_python():
        return Step("Python in Calc", True, "extensions in Python run")
    return Step(
        "Python in Calc",
        False,
        "this LibreOffice runs no Python extensions: add its Python scripting part "
        "(Debian and Ubuntu: sudo apt install python3-uno)",
    )


def _installed(office: Office) -> Step:
    version = _registered_version(office)
    if version == lumbercalc.__version__:
        return Step("add-in", True, f"version {version}")
    have = f"version {version}, not {lumbercalc.__version__}" if version else "not installed"
    return Step("add-in", False, f"{have}: {MEND}")


def _for_this_python(office: Office) -> Step:
    name, built = "add-in made from this Python", _installed_settings(office)
    if built is None:
        return Step(name, False, MEND)
    wanted = json.loads(extension.settings(Way(built["inside"], built["way"])))
    python = built["command"][0]
    if built == wanted:
        return Step(name, True, python)
    if built["command"] != wanted["command"]:
        gone = "" if Path(python).is_file() else ", which is not there any more"
        return Step(name, False, f"it calls {python}{gone}: {MEND}")
    return Step(name, False, f"its list of functions is another one: {MEND}")


def _way(office: Office) -> Step:
    name, built = "way", _installed_settings(office)
    if built is None:
        return Step(name, False, MEND)
    have = Way(built["inside"], built["way"])
    now = ASKED if have == ASKED else find_way(office)
    if have.inside == now.inside:
        return Step(name, True, f"calculates {now}")
    return Step(name, False, f"made to calculate {have}; now it would {now}: {MEND}")


def _installed_settings(office: Office) -> dict[str, Any] | None:
    """Read what the installed add-in was told; None where there is none."""
    unpacked = [
        found
        for folder in office.extension_folders
        for found in folder.glob(f"*/{OXT_NAME}/functions.json")
    ]
    if not unpacked:
        return None
    newest = max(unpacked, key=lambda found: found.stat().st_ctime)  # Calc keeps old ones a while
    settings: dict[str, Any] = json.loads(newest.read_text("utf-8"))
    return {"inside": None, "way": "", **settings}  # an older add-in has neither


def _answers() -> Step:
    settings = json.loads(extension.settings(ASKED))
    link = Link(settings["command"], settings["environment"])
    try:
        version = link.ask("LUMBERCALC_VERSION", [])[0][0]
    except (WorkerMissingError, CallRefusedError) as failure:
        return Step("calculation", False, str(failure))
    finally:
        link.close()
    return Step("calculation", True, f"lumbercalc {version} answers")


def _seen(office: Office) -> Step:
    if office.is_running():
        return Step(
            "Calc restarted",
            False,
            "LibreOffice is open: close all its windows and start it again to see a change",
        )
    return Step("Calc restarted", True, "it is closed, and sees the add-in at its next start")


def _registered_version(office: Office) -> str:
    listed = run([office.unopkg, "list", *_whose(), *office.options]).stdout
    entry = re.search(
        rf"^Identifier: {re.escape(extension.IDENTIFIER)}\s+Version: (\S+).*?is registered: (\w+)",
        listed,
        re.MULTILINE | re.DOTALL,
    )
    return entry[1] if entry and entry[2] == "yes" else ""


def _whose() -> tuple[str, ...]:
    # unopkg refuses the administrator's own profile
    return ("--shared",) if hasattr(os, "geteuid") and os.geteuid() == 0 else ()


def _reason(complaint: str) -> str:
    lines = [line.strip() for line in complaint.splitlines() if line.strip()]
    telling = [line for line in lines if "javaldx" not in line and "unopkg failed" not in line]
    return telling[0] if telling else "it gave no reason; close LibreOffice and try again"
