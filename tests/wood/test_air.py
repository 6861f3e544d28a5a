import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lumbercalc.wood.air import celsius, emc, mean_emc, rh_for_emc

temperatures = st.floats(0, 200)
humidities = st.floats(0, 99.9)


def test_the_scales_of_temperature_meet_at_40_below_zero():
    assert celsius([-40, 32, 212]).tolist() == [-40, 0, 100]


def test_wetter_air_holds_wetter_wood():
    assert (np.diff(emc(70, np.arange(0, 101))) > 0).all()


def test_warmer_air_holds_drier_wood():
    assert (np.diff(emc(np.arange(30, 211, 10), 65)) < 0).all()


def test_bone_dry_air_holds_bone_dry_wood():
    assert emc(70, 0) == 0


@settings(deadline=None)  # the first call imports SciPy
@given(temperatures, humidities)
def test_rh_for_emc_undoes_emc(temp_f, rh_pct):
    assert rh_for_emc(temp_f, emc(temp_f, rh_pct)) == pytest.approx(rh_pct, abs=1e-6)


@settings(deadline=None)  # the first call imports SciPy
@given(temperatures, st.floats(0, 20))
def test_emc_undoes_rh_for_emc(temp_f, emc_pct):
    assert emc(temp_f, rh_for_emc(temp_f, emc_pct)) == pytest.approx(emc_pct, abs=1e-6)


def test_no_air_holds_wood_wetter_than_saturated_air_does():
    most = float(emc(70, 100))
    assert rh_for_emc(70, most - 0.001) < 100
    assert np.isnan(rh_for_emc(70, most + 0.001))


def test_rows_without_an_answer_leave_the_others_alone():
    found = rh_for_emc([70, 70, 70], [9, 40, 6])
    assert np.isnan(found).tolist() == [False, True, False]
    assert found[0] == rh_for_emc(70, 9)


def test_empty_columns():
    for found in (emc([], []), rh_for_emc([], [])):
        assert found.shape == (0,)


def test_mean_emc_weighs_rows_the_same_in_any_order():
    temps, humidity = np.array([30, 50, 70, 90]), np.array([80, 70, 60, 50])
    expected = emc(temps, humidity).mean()
    assert mean_emc(temps, humidity) == pytest.approx(expected)
    assert mean_emc(temps[::-1], humidity[::-1]) == pytest.approx(expected)
    assert isinstance(mean_emc(temps, humidity), float)


def test_mean_emc_of_swinging_air_is_above_that_of_the_mean_air():
    # EMC bends upward with humidity above about 50 % RH.
    assert mean_emc([70, 70], [50, 90]) > emc(70, 70)


def test_importing_air_does_not_import_scipy():
    # SciPy takes a good part of a second, at every start of the worker.
    program = "import sys, lumbercalc.wood.air; sys.exit('scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
