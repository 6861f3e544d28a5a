"""What breaks under a live Calc: its worker, its environment; and two of it at once."""

from __future__ import annotations

import importlib.util
import os
import random
import shutil
import signal
import subprocess
import sys
import venv
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from threading import Timer

import pytest

from lumbercalc.hosts.calc.install import check
from lumbercalc.hosts.calc.office import Office
from lumbercalc.hosts.calc.way import NEEDED
from tests.conftest import running_calc
from tests.hosts.calc.calc_session import Calc, descendants, office_in
from tests.hosts.calc.test_calc import VALUE, gone

pytestmark = pytest.mark.calc

KILLS = 100
ROWS = 300


@pytest.fixture(scope="module")
def fragile(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """A Calc with a worker, which these tests may kill; nothing of it is left at the end."""
    calc_for_a_while = contextmanager(running_calc)
    with calc_for_a_while(tmp_path_factory.mktemp("fragile"), by_worker=True) as calc:
        yield calc
        below = [calc.process.pid, *descendants(calc.process.pid)]
    assert gone(below)


def fill(calc: Calc) -> None:
    """A column of widths, and of the board feet of 1 in x width x 12 ft: the width itself."""
    calc.new()
    calc.fill("A1", [[float(width)] for width in range(1, ROWS + 1)])
    calc.fill("B1", [["=BOARD_FEET(1;MOD(A1;100)+1;12)"]])
    calc.fill_down(f"B1:B{ROWS}")


def is_right(calc: Calc) -> bool:
    """Whether every cell is, by the definition of the board foot."""
    cells = calc.read()
    return all(cells[f"B{row}"].value == row % 100 + 1 for row in range(1, ROWS + 1))


def kill_worker(calc: Calc) -> None:
    for worker in calc.workers():
        os.kill(worker, signal.SIGKILL)


def state_of(pid: int) -> str:
    """Give the letter of a process's state, Z for one that nobody has waited for."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except OSError:
        return ""


def test_a_worker_killed_100_times_leaves_every_cell_right(fragile: Calc) -> None:
    moments = random.Random(7)
    fill(fragile)
    usual = fragile.calculate()
    below = set()
    for turn in range(KILLS):
        below |= set(fragile.workers())
        when = ("before", "during", "after")[turn % 3]
        if when == "before":
            kill_worker(fragile)
            fragile.calculate()
        elif when == "during":
            timer = Timer(moments.uniform(0, usual), kill_worker, [fragile])
            timer.start()
            fragile.calculate()
            timer.join()
        else:
            fragile.calculate()
            kill_worker(fragile)
            assert gone(fragile.workers())
        if when == "after":
            fragile.calculate()
        assert is_right(fragile), (turn, when)
    # Of the killed, every one was started, and none is left but the last, which is alive.
    assert len(below) > KILLS / 2
    left = [pid for pid in below | set(descendants(fragile.process.pid)) if state_of(pid) == "Z"]
    assert left == []
    assert len(fragile.workers()) <= 1


@pytest.mark.parametrize("kind", ["calc_as_installed", "fragile"])
def test_two_windows_at_once(kind: str, request: pytest.FixtureRequest) -> None:
    first: Calc = request.getfixturevalue(kind)
    with first.second_window() as second, ThreadPoolExecutor(2) as both:
        for window in (first, second):
            fill(window)
        for turn in range(5):
            if turn == 2:
                kill_worker(first)
            list(both.map(Calc.calculate, (first, second)))
            assert is_right(first)
            assert is_right(second)
        assert len(first.workers()) <= 1


def test_two_calcs_at_once_each_with_its_own_profile(
    fragile: Calc, calc_as_installed: Calc, calc_by_worker: Calc
) -> None:
    every = (fragile, calc_as_installed, calc_by_worker)
    with ThreadPoolExecutor(len(every)) as all_at_once:
        list(all_at_once.map(fill, every))
        for turn in range(5):
            if turn == 2:
                kill_worker(fragile)
            list(all_at_once.map(Calc.calculate, every))
            assert all(map(is_right, every))
    assert set(fragile.workers()).isdisjoint(calc_by_worker.workers())


def throw_away_environment(folder: Path) -> Path:
    """An environment of this Python's packages, which may be moved; its interpreter."""
    venv.create(folder)
    (packages,) = (folder / "lib").glob("python*/site-packages")
    for name in NEEDED:
        found = importlib.util.find_spec(name)
        assert found is not None
        assert found.origin is not None
        origin = Path(found.origin)
        source = origin.parent if origin.stem == "__init__" else origin
        if name == "lumbercalc":
            shutil.copytree(source, packages / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:  # compiled parts look for their libraries beside them
            for part in (source, source.with_name(f"{name}.libs")):
                if part.exists():
                    (packages / part.name).symlink_to(part)
    return folder / "bin" / "python"


def install_from(python: Path, folder: Path, by_worker: bool) -> Office:
    """Install the add-in as that environment does."""
    office = office_in(folder)
    script = (
        "import sys; from pathlib import Path; from dataclasses import replace\n"
        "from lumbercalc.hosts.calc.install import install\n"
        "from lumbercalc.hosts.calc.office import find_office\n"
        "office = replace(find_office(), profile=Path(sys.argv[1]), shared=Path(sys.argv[2]))\n"
        "print([str(step) for step in install(office, sys.argv[3] == 'True') if not step.done])"
    )
    told = subprocess.run(
        [python, "-I", "-c", script, str(office.profile), str(office.shared), str(by_worker)],
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.strip() == "[]", told.stdout
    return office


def ask(calc: Calc, *formulas: str) -> list[tuple[object, int]]:
    """Type formulas into a new sheet; value and error of each."""
    calc.new()
    calc.fill("A1", [[formula] for formula in formulas])
    cells = calc.read()
    found = [cells[f"A{row}"] for row in range(1, len(formulas) + 1)]
    return [(cell.value, cell.error) for cell in found]


BOARD = "=BOARD_FEET(1;6;8)"  # 1 in x 6 in x 8 ft / 12 = 4 bf, by the definition of the board foot
WHY_BOARD = '=PROBLEM("BOARD_FEET";1;6;8)'
SCIPYS = "=RH_FOR_EMC(70;9)"
WHY_SCIPYS = '=PROBLEM("RH_FOR_EMC";70;9)'
MEND = "lumbercalc addin calc"


@pytest.mark.parametrize("by_worker", [False, True], ids=["as installed", "by worker"])
@pytest.mark.skipif(sys.platform == "win32", reason="a folder in use cannot be moved there")
def test_an_environment_that_is_moved_away_is_told_in_words(
    tmp_path: Path, own_office: Office, by_worker: bool
) -> None:
    python = throw_away_environment(tmp_path / "environment")
    office = install_from(python, tmp_path, by_worker)
    calc = Calc(office)
    try:
        assert ask(calc, BOARD, WHY_BOARD) == [(4.0, 0), ("", 0)]
        (tmp_path / "environment").rename(tmp_path / "elsewhere")

        # What is loaded goes on; what is not says what mends it.
        board, why_board, number, why = ask(calc, BOARD, WHY_BOARD, SCIPYS, WHY_SCIPYS)
        assert (board, why_board) == ((4.0, 0), ("", 0))
        assert number == (None, VALUE)
        assert "scipy" in str(why[0])
        assert MEND in str(why[0])

        if kill := calc.workers():
            kill_worker(calc)
            assert gone(kill)
            number, why = ask(calc, BOARD, WHY_BOARD)
            assert number == (None, VALUE)
            assert str(python) in str(why[0])
            assert MEND in str(why[0])
    finally:
        calc.quit()

    calc = Calc(office)  # started without its environment
    try:
        number, why = ask(calc, BOARD, WHY_BOARD)
    finally:
        calc.quit()
    assert number == (None, VALUE)
    assert str(python) in str(why[0])
    assert MEND in str(why[0])
    steps = {step.name: step for step in check(office)}
    made = steps["add-in made from this Python"]
    assert not made.done
    assert f"{python}, which is not there any more" in made.detail
    assert MEND in made.detail
