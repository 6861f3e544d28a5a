"""The user's settings of xlwings: lines of "NAME","value", of which each person has their own."""

from __future__ import annotations

import locale
import os
import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from lumbercalc.faults import FileFault
from lumbercalc.files import write_file

LINE = re.compile(r'\s*"([^"]*)"\s*,\s*"([^"]*)"\s*')


def read_settings(path: Path) -> dict[str, str]:
    """Read the settings.

    Parameters
    ----------
    path : Path
        The file; it need not exist.

    Returns
    -------
    dict of str to str
        Values by name in capitals: xlwings looks them up without regard to case.

    Examples
    --------
    >>> read_settings(Path("none.conf"))
    {}
    """
    found = (LINE.fullmatch(line) for line in _lines(path))
    return {line[1].upper(): line[2] for line in found if line}


def change_settings(path: Path, changes: Mapping[str, str | None], now: datetime) -> Path | None:
    """Change some settings, which then stand first; every other line stays as it is.

    Parameters
    ----------
    path : Path
        The file; it need not exist.
    changes : dict
        Values by name; None takes a setting away.
    now : datetime
        For the name of the backup.

    Returns
    -------
    Path or None
        The backup; None where nothing changed, or nothing was there.

    Raises
    ------
    FileFault
        When a value has a letter that the machine's code page lacks, or nothing can be written;
        the file is then as it was.
    """
    lines = _lines(path)
    kept = [line for line in lines if _name(line) not in changes]
    added = [f'"{name}","{value}"' for name, value in changes.items() if value is not None]
    # First: VBA's Input # reads on over the ends of lines, name and value by turns, and a blank
    # line or a remark above would make values of the names.
    written = [*added, *kept]
    if written == lines:
        return None
    text = "".join(f"{line}{os.linesep}" for line in written)
    page = locale.getencoding()  # VBA reads it so; what is in none of it goes out as it came
    try:
        content = text.encode(page, errors="surrogateescape")
    except UnicodeEncodeError as lacking:
        raise FileFault(
            f"{path}: {text[lacking.start : lacking.end]!r} in "
            f"{_line_at(text, lacking.start)} is no letter of this machine's code page, {page}, in "
            "which Excel reads its settings: install lumbercalc in a folder without it"
        ) from None
    path.parent.mkdir(parents=True, exist_ok=True)
    return write_file(path, content, force=True, now=now)


def with_module(modules: str, module: str) -> str:
    """Add a module to a list of them.

    Parameters
    ----------
    modules : str
        With ";" between them.
    module : str
        To add, unless it is there.

    Returns
    -------
    str
        The list.

    Examples
    --------
    >>> with_module("ours", "lumbercalc.hosts.excel.functions")
    'ours;lumbercalc.hosts.excel.functions'
    """
    listed = _listed(modules)
    return ";".join(listed if module in listed else [*listed, module])


def without_module(modules: str, module: str) -> str:
    """Take a module out of a list of them.

    Parameters
    ----------
    modules : str
        With ";" between them.
    module : str
        To take out.

    Returns
    -------
    str
        The list.

    Examples
    --------
    >>> without_module("ours;lumbercalc.hosts.excel.functions", "lumbercalc.hosts.excel.functions")
    'ours'
    """
    return ";".join(each for each in _listed(modules) if each != module)


def _listed(modules: str) -> list[str]:
    return [each.strip() for each in modules.split(";") if each.strip()]


def _lines(path: Path) -> list[str]:
    if not path.exists():
        return []
    return path.read_text(encoding=locale.getencoding(), errors="surrogateescape").splitlines()


def _line_at(text: str, place: int) -> str:
    return text[text.rfind("\n", 0, place) + 1 :].splitlines()[0]


def _name(line: str) -> str:
    found = LINE.fullmatch(line)
    return found[1].upper() if found else ""
