"""Labels of boards and stacks: what stands on them, from the rows that a workbook stores."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pandas as pd

from lumbercalc.book.sheets.board_status import CUT_UP, HELD
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.labels import KEEP_APART, LABELS, NOT_THERE
from lumbercalc.book.sheets.readings import READINGS
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.cell_value import day_of, day_text, half_up, last_names, name_of, text_of
from lumbercalc.book.xlsx.reader import StoredTable, open_workbook, read_table
from lumbercalc.book.xlsx.stale import why_stale
from lumbercalc.faults import FileFault
from lumbercalc.sheet.dates import serial

WHERE = "cell"
"""Key under which a row has the address of its name."""


@dataclass(frozen=True)
class Label:
    """What stands on a label.

    Parameters
    ----------
    name : str
        Tag of the board or name of the stack: large, and bare in the QR code.
    lines : tuple of str
        Under it: species; thickness, log and cut; moisture content with its date, and the stack.
    where : str
        Cell of the name, for messages.
    """

    name: str
    lines: tuple[str, ...]
    where: str


class Shop:
    """The rows of a workbook that labels rest on.

    Parameters
    ----------
    path : Path
        A workbook made from the template, saved with computed values; `stale` says why they are
        not those of its inputs, where the file tells so.
    """

    def __init__(self, path: Path) -> None:
        archive = open_archive(path)
        workbook = open_workbook(archive)
        self.path = path
        boards, stacks = (read_table(workbook, table, path) for table in (BOARDS, STACKS))
        self.stale = why_stale([boards, stacks], archive)
        self.boards = _by_name(boards, "tag")
        self.stacks = _by_name(stacks, "name")
        self.readings = read_table(workbook, READINGS, path).rows
        self.chosen = [text_of(tag) for tag in read_table(workbook, LABELS, path).rows["tag"]]

    def parted(self, text: str) -> list[str]:
        """Part a text into names at its commas; a name of the workbook with a comma stays whole.

        Parameters
        ----------
        text : str
            Tags of boards or names of stacks; one with a comma among others in quotation marks.

        Returns
        -------
        list of str
            Names, known or not.
        """
        if name_of(text) in self.boards or name_of(text) in self.stacks:
            return [text.strip()]
        names = next(csv.reader([" ".join(text.split())], skipinitialspace=True), [])
        return [name.strip() for name in names if name.strip()]

    def labels(self, names: Sequence[str]) -> list[Label]:
        """Make labels of boards and stacks.

        Parameters
        ----------
        names : sequence of str
            Tags of boards or names of stacks, as typed in the workbook or in other case.

        Returns
        -------
        list of Label
            In the same order.

        Raises
        ------
        FileFault
            When a name is neither.
        """
        return [self._label(name) for name in names]

    def boards_of(self, stack: str) -> list[str]:
        """Give the tags of the boards that lie in a stack.

        Parameters
        ----------
        stack : str
            Its name.

        Returns
        -------
        list of str
            In the order of Boards.

        Raises
        ------
        FileFault
            When there is no such stack, or nothing lies in it.
        """
        if name_of(stack) not in self.stacks:
            last = last_names(row["name"] for row in self.stacks.values())
            raise FileFault(
                f"{self.path}: Stacks has no stack {stack[:40]!r}; the last are: {last}"
            )
        tags = [
            text_of(board["tag"])
            for board in self.boards.values()
            if name_of(board["lies"]) == name_of(stack)
        ]
        if not tags:
            raise FileFault(f"{self.path}: no board on Boards lies in {stack[:40]!r}")
        return tags

    def not_for_sale(self, names: Sequence[str]) -> list[str]:
        """Tell which of some boards are held, or not here any more.

        Parameters
        ----------
        names : sequence of str
            Tags of boards or names of stacks.

        Returns
        -------
        list of str
            Such as "OA-51 is held".
        """
        boards = (self.boards.get(name_of(name)) for name in names)
        return [
            f"{text_of(board['tag'])} is {board['status']}"
            for board in boards
            if board is not None and board["status"] in (HELD, CUT_UP, "sold", "used")
        ]

    def _label(self, name: str) -> Label:
        if (board := self.boards.get(name_of(name))) is not None:
            return self._of_board(board)
        if (stack := self.stacks.get(name_of(name))) is not None:
            return self._of_stack(stack)
        raise FileFault(f"{self.path}: {name[:40]!r}: {NOT_THERE}")

    def _of_board(self, board: dict[str, Any]) -> Label:
        tag, stack = text_of(board["tag"]), text_of(board["stack"])
        piece = [text_of(board["quarters"])]
        piece += [f"{key} {text_of(board[key])}" for key in ("log", "cut") if text_of(board[key])]
        own = self.readings[self.readings["board"].map(name_of) == name_of(tag)]
        read = _latest(own, "mc")
        moisture = _moisture(read, _weighed(self.stacks.get(name_of(stack))))
        held = board["status"] == HELD
        state = KEEP_APART if held else _joined(moisture, stack)
        lines = (text_of(board["species"]), ", ".join(piece), state)
        return Label(tag, lines, board[WHERE])

    def _of_stack(self, stack: dict[str, Any]) -> Label:
        name = text_of(stack["name"])
        piece = [text_of(stack["quarters"])]
        if day_of(stack["start"]):
            piece.append(f"stacked {day_text(stack['start'])}")
        own = self.readings[self.readings["stack"].map(name_of) == name_of(name)]
        read = _latest(own, "counts")
        state = _moisture(read, _weighed(stack))
        lines = (
            text_of(stack["species"]),
            ", ".join(piece),
            _joined(state, text_of(stack["here"])),
        )
        return Label(name, lines, stack[WHERE])


def _by_name(stored: StoredTable, key: str) -> dict[str, dict[str, Any]]:
    """Give the rows by the name of each, with its cell; of a name that stands twice the first."""
    found: dict[str, dict[str, Any]] = {}
    for number, cells in stored.numbered():
        if name := name_of(cells[key]):
            found.setdefault(name, cells | {WHERE: stored.where(key, number)})
    return found


Dated = tuple[float, float]
"""Day as a serial number, moisture content [%]."""


def _latest(rows: pd.DataFrame, key: str) -> Dated | None:
    """Give the latest day with a moisture content, and its mean."""
    mc = pd.to_numeric(rows[key], errors="coerce")
    day = pd.to_numeric(rows["day"], errors="coerce")
    there = mc.notna() & (day > 0)
    if not there.any():
        return None
    last = day[there].max()
    return float(last), float(mc[there & (day == last)].mean())


def _weighed(stack: dict[str, Any] | None) -> Dated | None:
    """Give the day and the mean of the stack's last weighing, or of boards set up since."""
    if stack is None or not isinstance(stack["known_mc"], (float, int)):
        return None
    day = day_of(stack["known_on"])
    return None if day is None else (serial(day), float(stack["known_mc"]))


def _moisture(read: Dated | None, weighed: Dated | None) -> str:
    """Say the later of both; of one day the meter's, which is of this very board."""
    if read is None and weighed is None:
        return ""
    # of two that are as late max gives the first
    day, mc = max((x for x in (read, weighed) if x is not None), key=lambda x: x[0])
    return f"{half_up(mc, 1)} % MC {day_text(day)}"


def _joined(state: str, where: str) -> str:
    return ", ".join(part for part in (state, where) if part)
