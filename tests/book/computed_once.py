"""Workbooks that more than one test asks for: each is made, and its values computed, only once."""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from shutil import copyfile

import pytest
from filelock import FileLock
from openpyxl import load_workbook
from openpyxl.workbook.defined_name import DefinedName

from lumbercalc.book.engine.compute import compute
from lumbercalc.book.macros import SETTINGS_SHEET
from lumbercalc.book.page.table import Table
from lumbercalc.book.xlsx.cell_value import Values

NOW = datetime(2026, 11, 25, 10, 0)
"""When the tests save them."""


def of_all_workers(factory: pytest.TempPathFactory) -> Path:
    """The folder that the processes of one run share."""
    own = factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


def made_once(file: Path, make: Callable[[Path], object]) -> Path:
    """Have the first worker that asks for a file make it; read it, do not change it."""
    with FileLock(file.with_suffix(".lock")):
        if not file.exists():
            draft = file.with_stem(f"{file.stem}-draft")
            make(draft)
            draft.replace(file)
    return file


def own_copy(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """Copy a workbook that is made once for all workers: Calc locks what it opens."""
    own = factory.mktemp("own") / name
    copyfile(made_once(of_all_workers(factory) / name, make), own)
    return own


def what_is_computed(path: Path, tables: Sequence[Table]) -> str:
    """Digest of all that `compute` computes with: a workbook and the same with macros have one."""
    workbook = load_workbook(path)
    content = sha256(repr([(table.name, table.sheet, table.last_row) for table in tables]).encode())
    for sheet in workbook.worksheets:
        if sheet.title == SETTINGS_SHEET:
            continue
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.value is not None):
            value = getattr(cell.value, "__dict__", cell.value)  # of an array formula its parts
            told = (sheet.title, cell.coordinate, cell.data_type, value)
            content.update(repr(told).encode("utf-8", "surrogatepass"))
        content.update(_names(sheet.defined_names))
    content.update(_names(workbook.defined_names))
    return content.hexdigest()


def _names(names: Mapping[str, DefinedName]) -> bytes:
    return repr(sorted((name, defined.attr_text) for name, defined in names.items())).encode()


def computed_in(folder: Path) -> Callable[[Path, Sequence[Table]], Values]:
    """A `compute` that keeps in a folder what it computed."""

    def kept(path: Path, tables: Sequence[Table]) -> Values:
        file = folder / f"{what_is_computed(path, tables)}.values"
        made_once(file, lambda draft: draft.write_bytes(pickle.dumps(compute(path, tables))))
        values: Values = pickle.loads(file.read_bytes())
        return values

    return kept
