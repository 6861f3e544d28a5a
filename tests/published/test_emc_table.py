"""Wood Handbook, FPL-GTR-190 (2010), Table 4-2: equilibrium moisture content of wood."""

import csv
from pathlib import Path

import numpy as np
import pytest

from lumbercalc.wood.air import emc, rh_for_emc

TABLE = Path(__file__).with_name("wood_handbook_2010_table_4_2_emc.csv")

# The table is eq. 4-5 rounded to 0.1 (0.05), and was reckoned in deg F: the two forms of the
# equation differ by up to 0.013 % MC.
TOLERANCE = 0.06


@pytest.fixture(scope="module")
def table() -> dict[str, np.ndarray]:
    with TABLE.open(newline="") as file:
        rows = list(csv.DictReader(file))
    return {
        name: np.array([float(row[name]) for row in rows])
        for name in ("temp_f", "temp_c", "rh_pct", "emc_pct")
    }


def test_table_is_the_whole_grid(table):
    cells = set(zip(table["temp_f"], table["rh_pct"], strict=True))
    assert cells == {(t, h) for t in range(30, 151, 20) for h in range(5, 100, 5)}
    assert len(table["temp_f"]) == len(cells) == 133


def test_table_temperatures_agree(table):
    # Both scales are printed, deg C to 0.1.
    np.testing.assert_allclose((table["temp_f"] - 32) / 1.8, table["temp_c"], atol=0.051)


def test_table_rises_with_humidity_and_falls_with_warmth(table):
    grid = table["emc_pct"].reshape(7, 19)
    assert (np.diff(grid, axis=1) > 0).all()
    assert (np.diff(grid, axis=0) <= 0).all()


def test_emc_gives_every_cell(table):
    np.testing.assert_allclose(
        emc(table["temp_f"], table["rh_pct"]), table["emc_pct"], atol=TOLERANCE, rtol=0
    )


def test_rh_for_emc_gives_every_cell_back(table):
    # A cell stands for the humidities whose EMC is within the tolerance of the printed one.
    humidity = table["rh_pct"]
    lower = rh_for_emc(table["temp_f"], table["emc_pct"] - TOLERANCE)
    upper = rh_for_emc(table["temp_f"], table["emc_pct"] + TOLERANCE)
    assert (lower <= humidity).all()
    assert (humidity <= upper).all()


def test_cell_misprinted_in_a_reprint():
    # 110 deg F, 20 % RH is 4.0 in the Wood Handbook; a much copied reprint has 3.0.
    assert emc(110, 20) == pytest.approx(4.0, abs=TOLERANCE)
