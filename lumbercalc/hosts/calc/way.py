"""Which way the add-in calculates: in Calc's own process, or by a worker; tried, not guessed.

The same small program (`inside`) runs on this Python and then on Calc's. Calc's own process is
the way only where both load the same files and give the same answers; a crash ends a child alone.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Any, NamedTuple

import lumbercalc
from lumbercalc.hosts import programs
from lumbercalc.hosts.calc.office import Office, office_environment
from lumbercalc.sheet.catalogue import CATALOGUE

THE_SAME = ("lumbercalc", "numpy", "psychrolib", "scipy")
"""Modules that decide a figure: in Calc, too, they must come from this environment's files."""

NEEDED = (*THE_SAME, "platformdirs")
"""Modules that the calculation loads; Calc may have one of its own of the others."""


class Way(NamedTuple):
    """How the add-in calculates, and why.

    Parameters
    ----------
    inside : dict or None
        What `inside.load` checks when Calc starts; None where the worker answers.
    why : str
        In words.
    """

    inside: dict[str, Any] | None
    why: str

    def __str__(self) -> str:
        """Say it in one line."""
        return f"{'in Calc itself' if self.inside else 'by a worker process'}: {self.why}"


ASKED = Way(None, "as asked for with --worker")
"""The way of a shop that wants Calc's process left alone."""


class _FailedError(RuntimeError):
    """A trial came to no report, or to a bad one."""


def find_way(office: Office) -> Way:
    """Try whether Calc's own Python can load this environment.

    Parameters
    ----------
    office : Office
        Which LibreOffice.

    Returns
    -------
    Way
        The worker wherever anything fails.
    """
    calls = [[function.name, function.example.arguments] for function in CATALOGUE.values()]
    try:
        python = office.python()
        asked: dict[str, Any] = {"folders": [], "modules": {}, "calls": calls, "names": NEEDED}
        here = _trial(
            Path(sys.executable), asked, {**office_environment(), **package_environment()}
        )
        asked["folders"] = _folders(here["modules"])
        asked["modules"] = {name: here["modules"][name] for name in THE_SAME}
        there = _trial(python, asked, office_environment(), here["suffix"])
    except (OSError, _FailedError) as failed:  # a CalcError is one
        return Way(None, str(failed))
    if there["answers"] != here["answers"]:
        return Way(None, f"{python} gives other answers than {sys.executable}")
    inside = {"build": there["build"], "folders": asked["folders"], "modules": asked["modules"]}
    return Way(inside, f"{python} ({there['version']}) loads this environment")


def package_environment() -> dict[str, str]:
    """Name the folder that this package runs from, where an interpreter would not look itself.

    Returns
    -------
    dict of str to str
        Variables for a child of this Python; none where the package is installed.
    """
    folder = Path(lumbercalc.__file__).resolve().parents[1]
    installed = folder.name in ("site-packages", "dist-packages")
    return {} if installed else {"PYTHONPATH": str(folder)}


def _folders(modules: Mapping[str, list[Any]]) -> list[str]:
    """List the folders that the modules were found in, each once."""
    files = (Path(origin) for origin, _ in modules.values())
    found = (file.parents[1] if file.stem == "__init__" else file.parent for file in files)
    return [str(folder) for folder in dict.fromkeys(found)]


def _trial(
    python: Path, asked: Mapping[str, Any], environment: Mapping[str, str], suffix: str = ""
) -> dict[str, Any]:
    program = resources.files("lumbercalc.hosts.calc").joinpath("inside.py")
    with resources.as_file(program) as path:
        try:
            ended = programs.run([python, path], environment, json.dumps(asked))
        except OSError as fault:
            raise _FailedError(f"{python} could not be tried ({fault})") from None
    try:
        told: dict[str, Any] = json.loads(ended.stdout.splitlines()[-1])
    except (IndexError, ValueError):
        words = [*ended.stderr.splitlines(), f"exit code {ended.returncode}"]
        last = next(line.strip() for line in words[-2:] if line.strip())
        raise _FailedError(f"{python} failed when it was tried ({last})") from None
    if suffix and told["suffix"] != suffix:
        raise _FailedError(
            f"Calc's Python {told['version']} loads modules {told['suffix']}, "
            f"this environment's are {suffix}"
        )
    if "unfit" in told:
        raise _FailedError(f"{python} cannot load this environment ({told['unfit']})")
    return told
