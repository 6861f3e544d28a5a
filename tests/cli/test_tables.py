"""Functions and species: what is listed and explained, and a shop's own species."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.wood import species
from tests.cli.commands import assert_one_line, run


def test_functions_lists_the_catalogue() -> None:
    result = run("functions")
    assert result.exit_code == 0
    for name in CATALOGUE:
        assert re.search(rf"\b{name}\b", result.stdout)


@pytest.mark.parametrize("name", ["EMC", "emc", " Emc "])
def test_functions_explains_one(name: str) -> None:
    result = run("functions", name)
    assert result.exit_code == 0
    function = CATALOGUE["EMC"]
    for text in (function.summary, f"={function.formula}", f"Source: {function.source}"):
        assert text in result.stdout
    for argument in function.arguments:
        assert argument.name in result.stdout


@pytest.mark.parametrize("name", CATALOGUE)
def test_functions_shows_every_word_of_the_arguments(name: str) -> None:
    shown = set(re.split(r"[\s\u2502]+", run("functions", name).stdout))
    for argument in CATALOGUE[name].arguments:
        words = [word for word in argument.description.split() if len(word) < 20]
        assert [word for word in words if word not in shown] == []


@pytest.mark.parametrize("name", ["NOPE", "[bold]", "x" * 60])
def test_functions_refuses_a_name(name: str) -> None:
    assert_one_line(run("functions", name), f"there is no function {name!r}")


@pytest.mark.parametrize("name", ["board feet", "Board-Feet", "BOARD_FOOT"])
def test_a_function_of_almost_that_name_is_told(name: str) -> None:
    assert_one_line(run("functions", name), f"no function {name!r}; the nearest: BOARD_FEET")


def test_species_are_listed() -> None:
    assert run("species", "show").stdout.splitlines() == list(species.names())


@pytest.mark.parametrize("name", ["walnut", "Walnut, black", "BLACK WALNUT"])
def test_species_shows_figures_with_sources(name: str) -> None:
    result = run("species", "show", name)
    assert result.exit_code == 0
    assert result.stdout.splitlines()[0].strip() == "Walnut, black"
    # Wood Handbook FPL-GTR-190 (2010), Table 4-3: black walnut, tangential 7.8 %
    assert re.search(r"tangential shrinkage\W+7\.8\W+%\W+Wood Handbook", result.stdout)


@pytest.mark.parametrize("name", ["nope", "[/red]"])
def test_species_refuses_a_name(name: str) -> None:
    assert_one_line(run("species", "show", name), f"species {name!r} is not in the table")


def test_species_names_near_ones() -> None:
    assert_one_line(run("species", "show", "blck walnut"), "Walnut, black")


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A settings folder of its own, not there yet."""
    folder = tmp_path / "settings" / "shop"
    monkeypatch.setenv("LUMBERCALC_SETTINGS", str(folder))
    return folder


def test_species_add_writes_the_shop_s_own(settings: Path) -> None:
    figures = ("--figure", "specific gravity=0.76", "--figure", "green MC=70")
    result = run("species", "add", "Osage orange", *figures)
    assert result.exit_code == 0
    file = settings / "own_species.csv"
    assert result.stdout == f"added Osage orange to {file}\n"
    assert file.read_text() == "species,specific gravity,green MC\nOsage orange,0.76,70.0\n"
    assert run("species", "add", "Mulberry, red", "--figure", "green MC=60").exit_code == 0
    assert '"Mulberry, red",,60.0\n' in file.read_text()
    assert "Osage orange,0.76,70.0\n" in file.read_text()


@pytest.mark.parametrize(
    ("name", "figure", "words"),
    [
        ("Osage orange", "green MC", "'green MC' is not NAME=VALUE"),
        ("Osage orange", "weight=3", "'weight' is not one of: radial shrinkage"),
        ("Osage orange", "green MC=wet", "'wet' is not a number"),
        ("Osage orange", "green MC=", "'' is not a number"),
        ("Osage orange", "green MC=-3", "must be a number from"),
        ("Osage orange", "green MC=nan", "must be a number from"),
        ("Osage orange", "green MC=inf", "must be a number from"),
        ("Walnut, black", "green MC=70", "is already published"),
        ("black walnut", "green MC=70", "is already published"),
        (" ", "green MC=70", "species is blank"),
        ("Osage\norange", "green MC=70", "has a line break; take a name of one line"),
        ("Osage\x1b[2J", "green MC=70", "has a character that is not shown"),
    ],
)
def test_species_add_refuses(settings: Path, name: str, figure: str, words: str) -> None:
    assert_one_line(run("species", "add", name, "--figure", figure), words)
    assert not (settings / "own_species.csv").exists()


def test_species_add_says_where_it_cannot_write(settings: Path) -> None:
    settings.parent.write_text("a file where the folder must be")
    result = run("species", "add", "Osage orange", "--figure", "green MC=70")
    assert_one_line(result, f"{settings / 'own_species.csv'}: the file cannot be written")


def test_species_add_refuses_a_figure_that_is_given_twice(settings: Path) -> None:
    twice = ("--figure", "green MC=70", "--figure", "green MC=60")
    assert_one_line(run("species", "add", "Osage orange", *twice), "'green MC' is there twice")
    assert not (settings / "own_species.csv").exists()


def test_species_add_follows_a_link_keeps_the_rights_and_a_backup(settings: Path) -> None:
    settings.mkdir(parents=True)
    mine = settings.parent / "mine.csv"
    mine.write_text("species,green MC\nHedge apple,50\n")
    mine.chmod(0o600)
    (settings / "own_species.csv").symlink_to(mine)
    assert run("species", "add", "Osage orange", "--figure", "green MC=70").exit_code == 0
    assert (settings / "own_species.csv").is_symlink()
    assert mine.read_text() == "species,green MC\nHedge apple,50.0\nOsage orange,70.0\n"
    assert mine.stat().st_mode & 0o777 == 0o600
    [backup] = settings.parent.glob("mine.backup-*.csv")
    assert backup.read_text() == "species,green MC\nHedge apple,50\n"


def test_species_add_leaves_a_file_alone_that_another_changed_meanwhile(
    settings: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.mkdir(parents=True)
    file = settings / "own_species.csv"
    file.write_text("species,green MC\nHedge apple,50\n")
    with_own = species.with_own

    def another_comes_first(*given: Any) -> bytes:
        content = with_own(*given)
        file.write_text("species,green MC\nHedge apple,50\nMulberry,60\n")
        return content

    monkeypatch.setattr(species, "with_own", another_comes_first)
    result = run("species", "add", "Osage orange", "--figure", "green MC=70")
    assert_one_line(result, "the file was changed meanwhile")
    assert "Mulberry" in file.read_text()
    assert list(settings.iterdir()) == [file]


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00", b"name\nx\n", b"species,green MC\n" + b"x" * 200_000]
)
def test_species_add_leaves_a_broken_file_alone(settings: Path, content: bytes) -> None:
    settings.mkdir(parents=True)
    file = settings / "own_species.csv"
    file.write_bytes(content)
    assert_one_line(run("species", "add", "Osage orange", "--figure", "green MC=70"))
    assert file.read_bytes() == content
    assert list(settings.iterdir()) == [file]
