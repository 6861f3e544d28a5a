"""Shrinkage and movement against the Wood Handbook, FPL-GTR-190 (2010), eqs. 13-2 and 13-3."""

import numpy as np
import pytest

from lumbercalc.wood import species as species_table
from lumbercalc.wood.shrinkage import (
    EARLY_SATURATED,
    sawn_size,
    shrinkage,
    size_at_mc,
)

SPECIES = [
    name
    for name in species_table.names()
    if np.isfinite(species_table.figure(name, "tangential shrinkage"))
]


@pytest.mark.parametrize(
    ("direction", "figure"),
    [
        ("tangential", "tangential shrinkage"),
        ("radial", "radial shrinkage"),
        ("volume", "volumetric shrinkage"),
    ],
)
def test_green_to_ovendry_is_the_table(direction: str, figure: str) -> None:
    """Table 4-3 is eq. 13-3 from 30 % MC to 0; exact but for binary arithmetic."""
    found = shrinkage(SPECIES, direction, 30, 0)
    np.testing.assert_allclose(found, species_table.figure(SPECIES, figure), rtol=1e-12)


@pytest.mark.parametrize(
    ("species", "direction", "coefficient"),
    [
        # FPL-GTR-190 Table 13-5, read there.
        ("Walnut, black", "radial", 0.00190),
        ("Walnut, black", "tangential", 0.00274),
        ("Beech, American", "tangential", 0.00431),
        ("Alder, red", "radial", 0.00151),
    ],
)
def test_one_per_cent_at_10_pct_mc_is_the_printed_coefficient(
    species: str, direction: str, coefficient: float
) -> None:
    """Eq. 13-3 per 1 % MC from 10 % MC; tolerance: half a unit of the last printed digit."""
    assert shrinkage(species, direction, 10, 9) / 100 == pytest.approx(coefficient, abs=5e-6)


@pytest.mark.parametrize("name", sorted(EARLY_SATURATED))
@pytest.mark.parametrize("way", ["radial", "tangential"])
def test_coefficients_of_what_shrinks_from_22_pct_on(name: str, way: str) -> None:
    """FPL-GTR-190 Table 13-5, from memory; tolerance: half a unit of the last printed digit."""
    printed = float(species_table.figure(name, f"{way} coefficient"))
    assert shrinkage(name, way, 10, 9) / 100 == pytest.approx(printed, abs=5e-6)
    assert shrinkage(name, way, 60, 22) == 0 < shrinkage(name, way, 60, 21)
    assert shrinkage(name, way, 60, 0) == pytest.approx(
        float(species_table.figure(name, f"{way} shrinkage"))
    )


def test_no_other_coefficient_follows_from_22_pct() -> None:
    """Table 13-5 follows from Table 4-3 with 30 %, but for group entries: not one is near 22."""
    for name in set(SPECIES) - EARLY_SATURATED:
        printed = float(species_table.figure(name, "tangential coefficient"))
        whole = float(species_table.figure(name, "tangential shrinkage"))
        assert np.isnan(printed) or (1 / printed - 10) / (100 / whole - 1) > 24.5


def test_nothing_shrinks_above_30_pct_mc() -> None:
    assert shrinkage("Oak, white", "tangential", 68, 30) == 0
    assert shrinkage("Oak, white", "tangential", 68, 8) == shrinkage(
        "Oak, white", "tangential", 30, 8
    )
    assert size_at_mc(6, "Oak, white", "tangential", 68, 45) == 6


def test_drier_is_smaller_and_swelling_is_negative() -> None:
    by_mc = shrinkage("Oak, white", "tangential", 30, np.arange(30, -1, -1))
    assert (np.diff(by_mc) > 0).all()
    assert shrinkage("Oak, white", "tangential", 8, 12) < 0


def test_flatsawn_shrinks_more_than_quartersawn() -> None:
    flatsawn = shrinkage(SPECIES, "tangential", 30, 8)
    quartersawn = shrinkage(SPECIES, "radial", 30, 8)
    volume = shrinkage(SPECIES, "volume", 30, 8)
    assert (flatsawn > quartersawn).all()
    assert (volume > flatsawn).all()


def test_there_and_back_is_the_same_size() -> None:
    dry = size_at_mc(10, SPECIES, "tangential", 25, 7)
    np.testing.assert_allclose(size_at_mc(dry, SPECIES, "tangential", 7, 25), 10, rtol=1e-12)


def test_two_steps_are_one() -> None:
    halfway = size_at_mc(10, SPECIES, "tangential", 80, 15)
    np.testing.assert_allclose(
        size_at_mc(halfway, SPECIES, "tangential", 15, 8),
        size_at_mc(10, SPECIES, "tangential", 80, 8),
        rtol=1e-12,
    )


@pytest.mark.parametrize("allowance", [0, 0.25])
def test_sawn_size_leaves_what_was_asked_for(allowance: float) -> None:
    green = sawn_size(1.75, SPECIES, "radial", 70, 8, allowance)
    left = size_at_mc(green, SPECIES, "radial", 70, 8)
    np.testing.assert_allclose(left, 1.75 + allowance, rtol=1e-12)
    assert (green > 1.75 + allowance).all()


def test_no_figure_is_nan() -> None:
    assert np.isnan(shrinkage("Apple", "tangential", 30, 8))


def test_columns_of_every_argument() -> None:
    found = shrinkage(
        ["Walnut, black", "Oak, white", "Apple"], ["radial", "volume", "radial"], [80, 60, 70], 8
    )
    assert found.shape == (3,)
    assert found[0] == shrinkage("Walnut, black", "radial", 80, 8)
    assert found[1] == shrinkage("Oak, white", "volume", 60, 8)
    assert np.isnan(found[2])
    assert shrinkage("Walnut, black", ["radial", "radial"], 80, 8).tolist() == [found[0]] * 2
