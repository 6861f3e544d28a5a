"""Names, figures, sources, estimates and a shop's own species."""

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from lumbercalc.wood import species
from lumbercalc.wood.published import published_rows, spelling


@pytest.fixture
def own_file(tmp_path: Path) -> Iterator[Path]:
    yield tmp_path / "own.csv"
    species.load_own(tmp_path / "none.csv")


@pytest.mark.parametrize(
    ("typed", "canonical"),
    [
        ("Walnut, black", "Walnut, black"),
        ("Black walnut", "Walnut, black"),
        ("walnut, black", "Walnut, black"),
        (" BLACK  WALNUT ", "Walnut, black"),
        ("northern red oak", "Oak, northern red"),
        ("red oak, northern", "Oak, northern red"),
        ("yellow poplar", "Yellow-poplar"),
        ("YELLOW-POPLAR", "Yellow-poplar"),
        ("red maple", "Maple, red (soft)"),
        ("Maple, sugar (hard)", "Maple, sugar (hard)"),
        ("hard maple", "Maple, sugar (hard)"),
        ("Cherry", "Cherry, black"),
        ("tulip poplar", "Yellow-poplar"),
        ("Juglans nigra", "Walnut, black"),
        ("quercus alba", "Oak, white"),
    ],
)
def test_match(typed: str, canonical: str) -> None:
    assert species.match(typed) == canonical


@pytest.mark.parametrize("typed", ["", "  ", "oak", "maple", "plastic", "Sequoia sempervirens"])
def test_match_refuses(typed: str) -> None:
    assert species.match(typed) is None


def test_every_canonical_name_matches_itself() -> None:
    assert [species.match(name) for name in species.names()] == list(species.names())


def test_no_trade_name_takes_a_canonical_name_away() -> None:
    canonical = {spelling(name) for name in species.names()}
    traded = {spelling(row["trade_name"]) for row in published_rows("trade_names.csv")}
    assert not traded & canonical


@pytest.mark.parametrize(
    ("typed", "among"),
    [
        ("blakc walnut", "Walnut, black"),
        ("oak", "Oak, northern red"),
        ("oak", "Oak, southern red"),  # nearer by its word than by its letters
        ("sugr maple", "Maple, sugar (hard)"),
        ("Cotonwood", "Cottonwood, eastern"),
    ],
)
def test_nearest(typed: str, among: str) -> None:
    offered = species.nearest(typed, 20)
    assert among in offered
    assert len(offered) == len(set(offered))
    assert len(species.nearest(typed)) <= 3


def test_nearest_offers_nothing_for_nonsense() -> None:
    assert species.nearest("xyzzy") == []
    assert species.nearest("") == []


def test_figure_has_the_shape_of_the_species() -> None:
    assert species.figure("Walnut, black", "green MC").shape == ()
    block = np.array([["Walnut, black", "Apple"], ["Oak, white", "Walnut, black"]], dtype=object)
    found = species.figure(block, "tangential shrinkage")
    np.testing.assert_array_equal(found, [[7.8, np.nan], [10.5, 7.8]])
    assert species.figure([], "green MC").shape == (0,)


def test_figure_names_a_wrong_species_and_a_wrong_figure() -> None:
    with pytest.raises(ValueError, match=r"'black walnut' .*nearest: Walnut, black"):
        species.figure(["Oak, white", "black walnut"], "green MC")
    with pytest.raises(ValueError, match="'density' is not one of: radial shrinkage"):
        species.figure(["Oak, white"], "density")
    with pytest.raises(ValueError, match="'black walnut'"):
        species.source("black walnut", "green MC")


@pytest.mark.parametrize(
    ("name", "figure", "text"),
    [
        (
            "Walnut, black",
            "radial shrinkage",
            "Wood Handbook FPL-GTR-190 (2010), Table 4-3; read there",
        ),
        (
            "Walnut, black",
            "green MC heartwood",
            "Wood Handbook FPL-GTR-190 (2010), Table 4-1; from memory",
        ),
        (
            "Maple, sugar (hard)",
            "tangential shrinkage",
            "Wood Handbook FPL-GTR-190 (2010), Table 4-3; second hand; "
            "seen on a species page repeating the table",
        ),
        (
            "Baldcypress",
            "radial shrinkage",
            "Wood Handbook FPL-GTR-113 (1999), Table 3-5; from memory",
        ),
        (
            "Alder, red",
            "green MC",
            "USDA Forest Service FIA species reference (2022), REF_SPECIES; "
            "citation code 5; read there",
        ),
        (
            "Oak, scarlet",
            "safe rate 4/4",
            "University of Kentucky FOR-128, Table 9; read there; grouping from memory",
        ),
        (
            "Oak, chestnut",
            "drying constant",
            "Drying constants derived for lumbercalc, three lines of evidence; estimated; "
            "the figure of white oak, with which the trade sells it",
        ),
        (
            "Sassafras",
            "drying constant",
            "estimated from specific gravity, by a line fitted to 21 listed hardwoods",
        ),
        (
            "Pine, red",
            "drying constant",
            "estimated from specific gravity, by a line fitted to 21 listed hardwoods; "
            "a softwood, outside that fit",
        ),
        ("Apple", "radial shrinkage", ""),
    ],
)
def test_source(name: str, figure: str, text: str) -> None:
    assert species.source(name, figure) == text


def test_every_figure_has_a_source_and_no_blank_has_one() -> None:
    for figure in species.FIGURES:
        there = np.isfinite(species.figure(species.names(), figure))
        told = [bool(species.source(name, figure)) for name in species.names()]
        np.testing.assert_array_equal(there, told)


def of_its_own() -> list[str]:
    rows = published_rows("drying_constants.csv")
    return [row["species"] for row in rows if row["basis"] != "estimated"]


def test_drying_constant_is_estimated_where_none_of_its_own_is_listed() -> None:
    estimated = species.drying_constant_is_estimated(species.names())
    assert set(np.array(species.names())[~estimated]) == set(of_its_own())


def test_no_oak_dries_faster_than_the_one_with_which_it_is_sold() -> None:
    """TN-233 (1960, from memory), green 1 in to 20 %, days: northern red oak 70 to 200, northern
    white 80 to 250, southern red 100 to 300, southern white 120 to 320."""
    slower = {
        "Oak, northern red": ["Oak, southern red", "Oak, water", "Oak, willow", "Oak, laurel"],
        "Oak, white": ["Oak, chestnut", "Oak, overcup", "Oak, post", "Oak, swamp chestnut"],
    }
    for sold_with, others in slower.items():
        constants = species.figure(others, "drying constant")
        assert (constants <= species.figure(sold_with, "drying constant")).all()


def test_estimate_is_the_least_squares_line() -> None:
    """Normal equations of a straight line: its residuals sum to 0, alone and times ln SG."""
    constant, slope, count = species.drying_constant_line()
    first: dict[str, dict[str, str]] = {}
    for row in published_rows("drying_constants.csv"):
        first.setdefault(row["printed_name"], row)
    gravity = np.log(species.figure([r["species"] for r in first.values()], "specific gravity"))
    residual = np.log([float(r["drying_constant"]) for r in first.values()])
    residual = residual - (constant + slope * gravity)
    assert count == len(first)
    assert residual.sum() == pytest.approx(0, abs=1e-10)
    assert (residual * gravity).sum() == pytest.approx(0, abs=1e-10)
    found = species.figure("Sassafras", "drying constant")
    assert found == pytest.approx(np.exp(constant) * 0.42**slope, rel=1e-12)


def test_denser_wood_is_estimated_to_dry_slower() -> None:
    listed = {row["species"] for row in published_rows("drying_constants.csv")}
    estimated = [name for name in species.names() if name not in listed]
    gravity = species.figure(estimated, "specific gravity")
    order = np.argsort(gravity)
    constants = species.figure(estimated, "drying constant")[order]
    assert (np.diff(constants) <= 0).all()


def test_estimates_miss_the_listed_figures_by_less_than_their_stated_spread() -> None:
    """The estimate is given out with a spread of 0.5 in its logarithm."""
    constant, slope, _ = species.drying_constant_line()
    listed = of_its_own()
    estimate = constant + slope * np.log(species.figure(listed, "specific gravity"))
    actual = np.log(species.figure(listed, "drying constant"))
    assert np.sqrt(np.mean((actual - estimate) ** 2)) < 0.5


def save_own(file: Path, name: str, figures: dict[str, float]) -> None:
    file.write_bytes(species.with_own(file, name, figures))


def test_own_species_are_saved_and_loaded(own_file: Path) -> None:
    save_own(own_file, "Osage  orange", {"specific gravity": 0.76})
    save_own(own_file, "Mulberry, red", {"green MC": 70, "drying constant": 18})
    assert species.match("osage orange") is None
    species.load_own(own_file)
    assert species.match("ORANGE osage") == "Osage orange"
    assert "Mulberry, red" in species.names()
    found = species.figure(["Osage orange", "Mulberry, red", "Walnut, black"], "green MC")
    np.testing.assert_array_equal(found, [np.nan, 70, 79])
    assert species.source("Mulberry, red", "green MC") == "the shop's own figure"
    np.testing.assert_array_equal(
        species.drying_constant_is_estimated(["Osage orange", "Mulberry, red"]), [True, False]
    )
    assert species.figure("Osage orange", "drying constant") < species.figure(
        "Sassafras", "drying constant"
    )


def test_saving_again_changes_what_is_given_and_leaves_the_rest(own_file: Path) -> None:
    save_own(own_file, "Osage orange", {"specific gravity": 0.76, "green MC": 50})
    save_own(own_file, "Mulberry, red", {"green MC": 70})
    save_own(own_file, "orange, osage", {"specific gravity": 0.8})
    species.load_own(own_file)
    assert "Osage orange" not in species.names()
    assert species.figure("orange, osage", "specific gravity") == 0.8
    assert species.figure("orange, osage", "green MC") == 50
    assert species.figure("Mulberry, red", "green MC") == 70
    assert [path.name for path in own_file.parent.iterdir()] == ["own.csv"]


@pytest.mark.parametrize(
    ("name", "figures", "text"),
    [
        ("Black walnut", {"green MC": 80.0}, "'Black walnut' is already published, as 'Walnut, b"),
        ("hard maple", {"green MC": 80.0}, "already published, as 'Maple, sugar"),
        (" ", {"green MC": 80.0}, "species is blank"),
        *((f"{sign}1+1", {"green MC": 80.0}, "begins like a formula") for sign in "=+-@"),
        ("Osage orange", {"weight": 80.0}, "'weight' is no figure"),
        ("Osage orange", {"green MC": 0.0}, "green MC is 0.0; it must be a number from"),
        ("Osage orange", {"green MC": float("nan")}, "green MC is nan"),
        ("Osage orange", {"green MC": float("inf")}, "green MC is inf"),
    ],
)
def test_with_own_refuses(own_file: Path, name: str, figures: dict[str, float], text: str) -> None:
    with pytest.raises(ValueError, match=text):
        save_own(own_file, name, figures)
    assert not own_file.exists()


@pytest.mark.parametrize(
    ("content", "text"),
    [
        ("name,green MC\nOsage orange,50\n", "no column 'species'"),
        ("species,green MC\nOsage orange,wet\n", "line 2: green MC is 'wet'"),
        ("species,green MC\nOsage orange,50\nWalnut,60\n", "line 3: species 'Walnut' is already"),
        ("species,green MC\nOsage orange,50\norange osage,60\n", "line 3: .* is there twice"),
        ("species,mood\nOsage orange,50\n", "line 2: 'mood' is no figure"),
        ("species,green MC\n,50\n", "line 2: species is blank"),
        ("species,green MC\nOsage orange,50,60\n", "line 2: '' is no figure"),
    ],
)
def test_load_own_refuses_and_keeps_what_was_there(own_file: Path, content: str, text: str) -> None:
    save_own(own_file, "Mulberry, red", {"green MC": 70})
    species.load_own(own_file)
    own_file.write_text(content, encoding="utf-8")
    with pytest.raises(ValueError, match=text):
        species.load_own(own_file)
    assert species.figure("Mulberry, red", "green MC") == 70


@pytest.mark.parametrize(
    "content", ["species,green MC\nChêne,60\n".encode("cp1252"), b"species\n" + b"x" * 200_000]
)
def test_what_is_no_csv_in_utf_8_is_named(own_file: Path, content: bytes) -> None:
    own_file.write_bytes(content)
    with pytest.raises(ValueError, match=f"^{re.escape(str(own_file))}: this is not a CSV file in"):
        species.load_own(own_file)


def test_a_path_is_shown_as_it_is(tmp_path: Path) -> None:
    file = tmp_path / "two  blanks.csv"
    file.write_text("species,specific gravity\nOsage orange,9\n")
    with pytest.raises(ValueError, match=r"/two  blanks\.csv, line 2: .* to [\d.]+, half"):
        species.load_own(file)


def test_own_species_saved_by_a_spreadsheet_are_read(own_file: Path) -> None:
    own_file.write_text("\ufeffspecies,green MC\r\nOsage orange,\r\n,\r\n", encoding="utf-8")
    species.load_own(own_file)
    assert species.match("osage orange") == "Osage orange"
    assert np.isnan(species.figure("Osage orange", "green MC"))
