import subprocess
import sys

import numpy as np
import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lumbercalc.wood.air import (
    celsius,
    dew_point,
    emc,
    emc_wet_bulb,
    heated_rh,
    mean_emc,
    rh_for_emc,
)

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
    for found in (emc([], []), rh_for_emc([], []), dew_point([], []), heated_rh([], [], 70)):
        assert found.shape == (0,)


@pytest.mark.parametrize(
    ("temp_f", "tolerance"),
    # Below freezing the Handbook's constants (eq. 35) are rounded: 1 part in 10,000 of RH at 25 F.
    [(70, 1e-9), (110, 1e-9), (25, 5e-4)],
)
def test_wet_bulb_at_the_dry_bulb_is_saturated_air(temp_f, tolerance):
    assert emc_wet_bulb(temp_f, temp_f) == pytest.approx(emc(temp_f, 100), rel=tolerance)


def test_a_deeper_wet_bulb_depression_means_drier_wood():
    assert (np.diff(emc_wet_bulb(100, [95, 90, 80, 70, 65])) < 0).all()


@pytest.mark.parametrize(
    ("dry_bulb_f", "wet_bulb_f"),
    [(70, 70.5), (70, 90), (100, 40)],  # 40 deg F is lower than in air without any water
)
def test_no_air_has_such_a_wet_bulb(dry_bulb_f, wet_bulb_f):
    assert np.isnan(emc_wet_bulb(dry_bulb_f, wet_bulb_f))


def test_thin_air_draws_a_wet_bulb_down_less_for_the_same_humidity():
    # So the same pair of readings means damper air higher up.
    assert (np.diff(emc_wet_bulb(80, 65, [0, 3000, 6000])) > 0).all()


def test_elevation_is_sea_level_unless_told():
    assert emc_wet_bulb(80, 65) == emc_wet_bulb(80, 65, 0)


@given(st.floats(0, 120), st.floats(1, 100))
def test_dew_point_is_where_cooled_air_is_saturated(temp_f, rh_pct):
    dew = dew_point(temp_f, rh_pct)
    assert dew <= temp_f
    assert heated_rh(dew, 100, temp_f) == pytest.approx(rh_pct, rel=1e-3)


def test_air_without_water_has_no_dew_point():
    assert np.isnan(dew_point(70, 0))


def test_damper_air_has_a_higher_dew_point():
    assert (np.diff(dew_point(70, [10, 30, 50, 80, 100])) > 0).all()


def test_heated_air_is_drier():
    assert (np.diff(heated_rh(20, 80, [20, 40, 60, 80])) < 0).all()


@given(st.floats(-20, 100), st.floats(1, 100))
def test_air_that_is_not_heated_stays_as_it_is(temp_f, rh_pct):
    assert heated_rh(temp_f, rh_pct, temp_f) == pytest.approx(rh_pct)


def test_air_cooled_past_its_dew_point_sheds_water():
    room = dew_point(80, 60)
    assert heated_rh(80, 60, room + 1) < 100
    assert heated_rh(80, 60, room - 1) == 100


def test_mean_emc_weighs_rows_the_same_in_any_order():
    temps, humidity = np.array([30, 50, 70, 90]), np.array([80, 70, 60, 50])
    expected = emc(temps, humidity).mean()
    assert mean_emc(temps, humidity) == pytest.approx(expected)
    assert mean_emc(temps[::-1], humidity[::-1]) == pytest.approx(expected)
    assert isinstance(mean_emc(temps, humidity), float)


def test_mean_emc_of_swinging_air_is_above_that_of_the_mean_air():
    # EMC bends upward with humidity above about 50 % RH.
    assert mean_emc([70, 70], [50, 90]) > emc(70, 70)


@pytest.fixture
def in_si():
    psychrolib.SetUnitSystem(psychrolib.SI)
    yield
    psychrolib.SetUnitSystem(psychrolib.IP)


@pytest.mark.usefixtures("in_si")
def test_other_code_of_the_process_keeps_its_units():
    assert dew_point(77, 100 * 0.12656 / 0.45973) == pytest.approx(41, abs=0.02)
    assert psychrolib.GetUnitSystem() == psychrolib.SI


def test_importing_air_does_not_import_scipy():
    # SciPy takes a good part of a second, at every start of the worker.
    program = "import sys, lumbercalc.wood.air; sys.exit('scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
