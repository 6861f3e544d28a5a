"""The environment loaded into Calc's own process, where Calc's Python is a build that can.

Runs inside Calc, on Calc's Python: standard library only, Python 3.8 and later. Run as a program
it tries the same in a process of its own, which may crash where Calc must not.
"""

from __future__ import annotations

import gc
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from importlib.machinery import EXTENSION_SUFFIXES
from importlib.util import find_spec
from typing import Any


class UnfitError(RuntimeError):
    """The environment cannot safely be loaded by this Python; the message says why."""


def build() -> str:
    """Name the exact build of this Python: what loads in one build may crash another.

    Returns
    -------
    str
        Its version, compiler, and the ending of its compiled modules.
    """
    return f"{sys.version} {EXTENSION_SUFFIXES[0]}"


def state(module: str) -> list[Any] | None:
    """Tell which file a module is, or would be, loaded from, and when that was written.

    Parameters
    ----------
    module : str
        Name without dots: it is not imported.

    Returns
    -------
    list of str and int, or None
        Path and time of the last change [ns]; None for a module without a file, or without any.

    Examples
    --------
    >>> state("no_such_module") is None
    True
    """
    found = find_spec(module)
    if found is None or found.origin is None or not os.path.isfile(found.origin):
        return None
    return [found.origin, os.stat(found.origin).st_mtime_ns]


def load(tried: Mapping[str, Any]) -> Callable[[str, Sequence[Any]], dict[str, Any]]:
    """Load the environment into this process, if all is as it was when it was tried.

    Parameters
    ----------
    tried : mapping
        "build" of the Python that loaded it, "folders" of the environment's packages, and the
        `state` of each of its "modules".

    Returns
    -------
    callable
        Takes the name and the arguments of a call, gives rows under "rows" or the reason under
        "error"; never raises.

    Raises
    ------
    UnfitError
        When anything differs or fails; what was added to the search path is taken out again.
    """
    if build() != tried["build"]:
        raise UnfitError(f"this Python is {build()}, not {tried['build']}")
    # At the end: Calc's own modules must stay the ones that its other extensions get.
    added = [folder for folder in tried["folders"] if folder not in sys.path]
    sys.path.extend(added)
    try:
        for module, was in tried["modules"].items():
            if state(module) != was:
                raise UnfitError(f"{module} is not the one in {was[0]}, or has changed since")
        answers: Callable[[str, Sequence[Any]], dict[str, Any]]
        answers = import_module("lumbercalc.hosts.calc.reply").reply
    except (Exception, SystemExit) as fault:
        sys.path[:] = [folder for folder in sys.path if folder not in added]
        if isinstance(fault, UnfitError):
            raise
        raise UnfitError(f"{type(fault).__name__}: {fault}") from fault
    # What is loaded stays: columns of many rows must not have Python look through all of it.
    gc.collect()
    gc.freeze()
    return answers


def report(asked: Mapping[str, Any]) -> dict[str, Any]:
    """Load the environment and make calls, and tell what came of it.

    Parameters
    ----------
    asked : mapping
        "folders" and "modules" as `load` takes them, "calls": pairs of name and arguments, and
        the "names" of modules to tell about.

    Returns
    -------
    dict
        "build", "version" and "suffix" of this Python; then "answers" as one text and the
        `state` of the "modules" that were named, or why it is "unfit".
    """
    about = {
        "build": build(),
        "version": sys.version.split()[0],
        "suffix": EXTENSION_SUFFIXES[0],
    }
    try:
        reply = load({**asked, "build": build()})
    except UnfitError as unfit:
        return {**about, "unfit": str(unfit)}
    answers = [reply(name, arguments) for name, arguments in asked["calls"]]
    failed = [answer["error"] for answer in answers if "error" in answer]
    if failed:
        return {**about, "unfit": failed[0]}
    return {
        **about,
        "answers": json.dumps(answers),
        "modules": {name: state(name) for name in asked["names"]},
    }


def main() -> None:
    """Read what is asked from standard input, print the report as the last line."""
    beside = os.path.dirname(os.path.abspath(__file__))
    sys.path[:] = [folder for folder in sys.path if os.path.abspath(folder) != beside]
    print("\n" + json.dumps(report(json.load(sys.stdin))))


if __name__ == "__main__":
    main()
