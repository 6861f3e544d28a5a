"""Refresh the values that are stored in a workbook, in a copy: nothing else of it changes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path

from lumbercalc.book.checking.finding import Finding, Kind
from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.xlsx.archive import readable
from lumbercalc.book.xlsx.calculation_mark import calculated
from lumbercalc.book.xlsx.cell_value import CellValue, same
from lumbercalc.book.xlsx.edit import change_parts
from lumbercalc.book.xlsx.parts import BOOK, sheet_files
from lumbercalc.book.xlsx.places import address
from lumbercalc.book.xlsx.value_xml import put_values
from lumbercalc.file_checks import refuse_changed
from lumbercalc.files import write_file


def copy_beside(path: Path) -> Path:
    """Give the name of the copy where none was asked for.

    Parameters
    ----------
    path : Path
        The workbook.

    Returns
    -------
    Path
        Beside it, such as "shop-refreshed.xlsx".
    """
    return path.with_name(f"{path.stem}-refreshed{path.suffix}")


def fix_values(fresh: Fresh, target: Path, now: datetime) -> int:
    """Write a copy of a workbook with fresh values beside its formulas.

    Refreshed is what `Fresh.to_refresh` holds. What cannot be computed keeps its stored value.

    Parameters
    ----------
    fresh : Fresh
        The workbook with its formulas computed.
    target : Path
        The copy; there must be no such file.
    now : datetime
        Time of writing.

    Returns
    -------
    int
        Values that differ from those of the workbook.

    Raises
    ------
    FileFault
        When the workbook was changed meanwhile, or the copy cannot be written; nothing is then.
    """
    by_sheet: dict[str, dict[str, CellValue]] = {}
    for place, value in fresh.to_refresh.items():
        by_sheet.setdefault(place[0], {})[address(place)] = value
    archive = fresh.archive
    with readable(archive.path), archive.parts() as parts:
        changes: dict[str, Callable[[bytes], bytes]] = {
            part: partial(put_values, values=by_sheet[sheet], every=False)
            for part, sheet in sheet_files(parts).items()
            if sheet in by_sheet
        }
        if not fresh.computed.missing:
            changes[BOOK] = calculated
        content = change_parts(archive, changes)
        refuse_changed(archive.path, archive.seen)
    write_file(target, content, force=False, now=now)
    refreshed = fresh.to_refresh.items()
    return sum(not same(fresh.old.stored(place), value) for place, value in refreshed)


def others_refreshed(fresh: Fresh) -> list[str]:
    """List what `fix_values` changes in formulas that are not ours, and are not told as stale.

    Parameters
    ----------
    fresh : Fresh
        The workbook with its formulas computed.

    Returns
    -------
    list of str
        A line for each cell in which something else is stored.
    """
    ours = set(fresh.ours)
    return [
        str(Finding(Kind.REFRESHED, place, fresh.difference(place)))
        for place in fresh.to_refresh
        if place not in ours and fresh.old.stored(place) is not None
    ]
