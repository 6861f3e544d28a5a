"""A headless Calc with a profile of its own and the add-in in it, for the tests."""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from copy import copy
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from lumbercalc.hosts.calc import extension
from lumbercalc.hosts.calc.office import Office, find_office, office_environment
from lumbercalc.sheet.catalogue import CATALOGUE

DRIVER = Path(__file__).with_name("calc_driver.py")
SHOWN_NAMES = {extension.method_name(name).upper(): name for name in CATALOGUE}
""""BOARDFEET", as Calc's own interface has it, to "BOARD_FEET", as it is typed."""


class Cell(NamedTuple):
    """One cell that is not empty: what was typed and what it shows."""

    address: str
    formula: str
    kind: str
    """ "number", "text" or "error"."""
    value: float | str | None
    error: int
    """0, or Calc's error code: 502 Err:502, 503 #NUM!, 504 Err:504, 519 #VALUE!, 525 #NAME?."""


def office_in(folder: Path) -> Office:
    """Point the installed Calc at a profile and a shared folder that nobody else uses."""
    return replace(find_office(), profile=folder / "user", shared=folder / "shared")


def free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


class Calc:
    """A running Calc; every method is one request to it."""

    def __init__(self, office: Office) -> None:
        self.python, self.port = office.python(), free_port()
        self.process = subprocess.Popen(
            [
                office.soffice,
                *office.options,
                "--headless",
                "--norestore",
                "--nologo",
                f"--accept=socket,host=127.0.0.1,port={self.port};urp;",
            ],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env=office_environment(),
            start_new_session=True,
        )
        self._drive()

    def _drive(self) -> None:
        self.driver = subprocess.Popen(
            [self.python, DRIVER, str(self.port)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env=office_environment(),
        )
        self._reply()

    @contextmanager
    def second_window(self) -> Iterator[Calc]:
        """Open another window of the same Calc, with a workbook of its own."""
        window = copy(self)
        window._drive()
        yield window
        window._ask("close")
        window.driver.communicate()

    def new(self) -> None:
        """Close the workbook and start an empty one."""
        self._ask("new")

    def open(self, path: Path) -> None:
        """Close the workbook and open another."""
        self._ask("open", str(path))

    def calculate(self) -> float:
        """Recalculate every cell [s]."""
        seconds: float = self._ask("calculate")
        return seconds

    def refresh(self) -> float:
        """Recalculate what hangs on changed cells [s]."""
        seconds: float = self._ask("refresh")
        return seconds

    def sheets(self) -> list[str]:
        """Name the sheets in order."""
        names: list[str] = self._ask("sheets")
        return names

    def formula(self, cell: str, formula: str, sheet: str = "") -> None:
        """Type a formula (with ; between the arguments) into a cell of a sheet, else the first."""
        self._ask("formula", cell, formula, sheet)

    def array(self, cells: str, formula: str, sheet: str = "") -> None:
        """Enter an array formula."""
        self._ask("array", cells, formula, sheet)

    def fill(self, cell: str, rows: Sequence[Sequence[float | str]], sheet: str = "") -> None:
        """Set numbers, texts or formulas from a first cell on."""
        self._ask("fill", cell, rows, sheet)

    def fill_down(self, cells: str, sheet: str = "") -> None:
        """Copy the first row of some cells down; of a long column quicker than filling it."""
        self._ask("fill_down", cells, sheet)

    def put_in_column(self, letter: str, sheet: str) -> None:
        """Insert an empty column before another."""
        self._ask("put_in_column", letter, sheet)

    def put_in_row(self, row: int, sheet: str) -> None:
        """Insert an empty row before another."""
        self._ask("put_in_row", row, sheet)

    def delete_row(self, row: int, sheet: str) -> None:
        """Delete a row; those below move up."""
        self._ask("delete_row", row, sheet)

    def hide_blank(self, cells: str, sheet: str) -> None:
        """Filter a column with its header for what is not empty, as its arrow does."""
        self._ask("hide_blank", cells, sheet)

    def count_from(self, day: date) -> None:
        """Set the day from which the document counts days."""
        self._ask("count_from", day.year, day.month, day.day)

    def rename(self, sheet: str, name: str) -> None:
        """Give a sheet another name."""
        self._ask("rename", sheet, name)

    def shown(self, cell: str, sheet: str = "") -> str:
        """Give the text that a cell shows."""
        text: str = self._ask("shown", cell, sheet)
        return text

    def read(self, sheet: str = "") -> dict[str, Cell]:
        """Give every cell of a sheet that is not empty, by address; of the first unless named."""
        return {
            address: Cell(address, shown_names(formula), *rest)
            for address, formula, *rest in self._ask("read", sheet)
        }

    def functions(self) -> dict[str, tuple[str, list[list[str]]]]:
        """Give help and arguments (name, help) of every function that Calc knows, by name."""
        return {name: (words, arguments) for name, words, arguments in self._ask("functions")}

    def basic(
        self, modules: dict[str, str], function: str, calls: Sequence[Sequence[float | str]]
    ) -> list[Any]:
        """Call "module.function" of Basic modules, once with each list of arguments."""
        answers: list[Any] = self._ask("basic", modules, function, calls)
        return answers

    def store(self, path: Path) -> None:
        """Write a copy as .xlsx, .ods or .pdf."""
        self._ask("store", str(path))

    def workers(self) -> list[int]:
        """Number the worker processes under this Calc."""
        return [pid for pid in descendants(self.process.pid) if "calc.worker" in command_line(pid)]

    def quit(self) -> None:
        """End Calc as a user does; kill it if it stays."""
        try:
            self._ask("quit")
            self.driver.communicate(timeout=20)
            self.process.wait(timeout=20)
        except (RuntimeError, OSError, subprocess.TimeoutExpired):
            self.kill()

    def kill(self) -> None:
        """End Calc with its whole process group, without notice."""
        self.driver.kill()
        self.driver.communicate()
        for pid in (*descendants(self.process.pid), self.process.pid):
            if "soffice" in command_line(pid):
                os.kill(pid, signal.SIGKILL)
        self.process.wait()

    def _ask(self, do: str, *arguments: Any) -> Any:
        assert self.driver.stdin is not None
        self.driver.stdin.write(json.dumps({"do": do, "with": arguments}) + "\n")
        self.driver.stdin.flush()
        return self._reply()

    def _reply(self) -> Any:
        assert self.driver.stdout is not None
        line = self.driver.stdout.readline()
        if not line:
            self.kill()
            raise RuntimeError("Calc did not answer")
        reply = json.loads(line)
        if "error" in reply:
            raise RuntimeError(reply["error"])
        return reply["result"]


def shown_names(formula: str) -> str:
    """Write the functions of the add-in in a formula under the names that users see."""
    return re.sub(
        rf"{re.escape(extension.SERVICE.upper())}\.(\w+)",
        lambda found: SHOWN_NAMES[found[1]],
        formula,
    )


def descendants(pid: int) -> list[int]:
    """Number the processes under one, deepest last; from Linux's /proc."""
    children: dict[int, list[int]] = {}
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            parent = int(entry.read_text().rsplit(")", 1)[1].split()[1])
        except OSError:  # it has ended meanwhile
            continue
        children.setdefault(parent, []).append(int(entry.parent.name))
    found = list(children.get(pid, []))
    for child in found:
        found.extend(children.get(child, []))
    return found


def command_line(pid: int) -> str:
    """Give what a process was started with; "" once it has ended."""
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes().replace(b"\0", b" ").decode()
    except OSError:
        return ""
