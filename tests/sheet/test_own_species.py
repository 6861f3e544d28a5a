"""The shop's own species: read once when the package is imported, whatever state the file is in."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from lumbercalc.sheet import own_species

ROOT = Path(__file__).parents[2]
OWN = "species,specific gravity,green MC\nOsage orange,0.76,\nMulberry,0.59,70\n"

WARNED = "the shop's own species in"
BOARD_FEET = "print(lc.board_feet('8/4', 7.5, 8))"


def shop(settings: Path, *lines: str) -> subprocess.CompletedProcess[str]:
    """Run lines of Python in a process whose settings are in a folder."""
    return subprocess.run(
        [sys.executable, "-c", "\n".join(("import lumbercalc as lc", *lines))],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "LUMBERCALC_SETTINGS": str(settings), "PYTHONPATH": str(ROOT)},
    )


def written(folder: Path, content: str | bytes) -> Path:
    raw = content if isinstance(content, bytes) else content.encode("utf-8")
    (folder / "own_species.csv").write_bytes(raw)
    return folder


def test_own_figures_are_known_and_called_the_shop_s_own(tmp_path: Path) -> None:
    done = shop(
        written(tmp_path, OWN),
        "print(lc.species_value('Osage orange', 'specific gravity'))",
        "print(lc.species_value('orange, osage', 'specific gravity'))",
        "print(lc.species_source('Osage orange', 'specific gravity'))",
        "print(lc.species_value('Mulberry', 'green MC'))",
        "print(lc.species_source('Walnut, black', 'green MC'))",
    )
    assert done.stderr == ""
    *own, walnut = done.stdout.splitlines()
    assert own == ["0.76", "0.76", "the shop's own figure", "70.0"]
    assert "shop" not in walnut


def test_own_species_are_used_by_the_functions(tmp_path: Path) -> None:
    heavy = (
        "print(lc.lumber_weight('Osage orange', 100, 12) > lc.lumber_weight('oak, white', 100, 12))"
    )
    done = shop(written(tmp_path, OWN), heavy)
    assert (done.stdout, done.stderr) == ("True\n", "")


def test_a_figure_that_the_shop_does_not_know_is_refused(tmp_path: Path) -> None:
    done = shop(written(tmp_path, OWN), "lc.species_value('Osage orange', 'green MC')")
    assert "green MC" in done.stderr.splitlines()[-1]
    assert done.returncode == 1


def test_without_a_file_nothing_is_said(tmp_path: Path) -> None:
    done = shop(tmp_path / "none", BOARD_FEET)
    assert (done.stdout, done.stderr) == ("10.0\n", "")


@pytest.mark.parametrize(
    "content",
    [
        "name,green MC\nOsage orange,70\n",
        "species,weight\nOsage orange,3\n",
        "species,green MC\nOsage orange,wet\n",
        "species,green MC\nOsage orange,-70\n",
        "species,green MC\nWalnut,70\n",
        "species,green MC\nOsage orange,70,9\n",
        "species,green MC\nOsage orange,70\norange osage,71\n",
        "",
        b"\x89PNG\r\n\x1a\n\x00",
        b"species,green MC\n" + b"x" * 200_000 + b",70\n",
    ],
    ids=[
        "no species", "no figure", "text", "negative", "published", "ragged", "twice", "empty",
        "picture", "endless",
    ],
)  # fmt: skip
def test_a_broken_file_only_warns(tmp_path: Path, content: str | bytes) -> None:
    settings = written(tmp_path, content)
    done = shop(settings, BOARD_FEET, "print(lc.species_value('walnut', 'specific gravity'))")
    assert done.stdout == "10.0\n0.51\n"
    assert done.stderr.count(WARNED) == 1
    assert str(settings / "own_species.csv") in done.stderr
    assert "Traceback" not in done.stderr


def test_a_folder_in_place_of_the_file_does_not_stop_anything(tmp_path: Path) -> None:
    (tmp_path / "own_species.csv").mkdir()
    done = shop(tmp_path, BOARD_FEET)
    assert (done.stdout, done.stderr) == ("10.0\n", "")


def test_the_command_line_and_the_calc_worker_know_them(tmp_path: Path) -> None:
    settings = written(tmp_path, OWN)
    request = '{"name": "SPECIES_VALUE", "arguments": ["Osage orange", "specific gravity"]}'
    done = shop(
        settings,
        "from lumbercalc.hosts.calc.worker import answer",
        f"print(answer({request}))",
        "from lumbercalc.cli import app",
        "app(['species', 'show', 'osage orange'])",
    )
    assert done.stdout.startswith("{'rows': [[0.76]]}\n")
    assert "the shop's own figure" in done.stdout


def test_a_file_that_may_not_be_looked_at_is_warned_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(self: Path) -> bool:
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setenv("LUMBERCALC_SETTINGS", str(tmp_path))
    monkeypatch.setattr(Path, "is_file", refused)
    with pytest.warns(UserWarning, match="own_species.csv are not used: .*Permission denied"):
        own_species.load_own_species()
