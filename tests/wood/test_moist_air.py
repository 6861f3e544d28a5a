import sys
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.air import emc
from lumbercalc.wood.moist_air import dew_point, emc_wet_bulb, exit_rh, heated_rh


def test_empty_columns():
    for found in (dew_point([], []), heated_rh([], [], 70)):
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


@pytest.fixture
def in_si():
    psychrolib.SetUnitSystem(psychrolib.SI)
    yield
    psychrolib.SetUnitSystem(psychrolib.IP)


@pytest.mark.usefixtures("in_si")
def test_other_code_of_the_process_keeps_its_units():
    assert dew_point(77, 100 * 0.12656 / 0.45973) == pytest.approx(41, abs=0.02)
    assert psychrolib.GetUnitSystem() == psychrolib.SI


@pytest.mark.usefixtures("in_si")
def test_threads_do_not_change_the_units_under_each_other():
    temps = np.linspace(40, 100, 200)
    alone = dew_point(temps, 50)
    interval = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    try:
        with ThreadPoolExecutor(8) as threads:
            found = list(threads.map(lambda _: dew_point(temps, 50), range(40)))
    finally:
        sys.setswitchinterval(interval)
    assert all(np.array_equal(each, alone) for each in found)
    assert psychrolib.GetUnitSystem() == psychrolib.SI


@pytest.mark.usefixtures("in_si")
def test_psychrolib_as_numba_has_it(monkeypatch):
    """As read in PsychroLib 2.5.0, at its end: every Get... is compiled, anew for each system."""
    real, set_system = psychrolib.GetSatVapPres, psychrolib.SetUnitSystem

    def compiled(system):
        def pressure(temp):
            assert system == psychrolib.PSYCHROLIB_UNITS, "it was compiled for other units"
            return real(temp)

        return pressure

    def set_units(system):
        set_system(system)
        psychrolib.GetSatVapPres = compiled(system)

    def crash():
        pytest.fail("a ufunc without an argument ends the process")

    monkeypatch.setattr(psychrolib, "GetSatVapPres", compiled(psychrolib.SI))
    monkeypatch.setattr(psychrolib, "SetUnitSystem", set_units)
    monkeypatch.setattr(psychrolib, "GetUnitSystem", crash)
    assert heated_rh(20, 80, 70) == pytest.approx(11.1, abs=0.05)
    assert psychrolib.PSYCHROLIB_UNITS == psychrolib.SI


def test_what_is_unknown_of_the_air_stays_unknown():
    assert np.isnan(exit_rh(70, 60, [np.nan, 49], [500, np.nan])).all()


def test_a_row_that_comes_again_is_computed_once(monkeypatch):
    asked = []
    real = psychrolib.GetSatVapPres

    def pressure(temp_f):
        asked.append(temp_f)
        return real(temp_f)

    monkeypatch.setattr(psychrolib, "GetSatVapPres", pressure)
    found = heated_rh([[20.0, 40.0], [20.0, 20.0]], 80, 70)
    assert sorted(asked) == [20.0, 40.0, 70.0]
    assert (found[0, 0], found[1].tolist()) == (found[1, 0], [found[0, 0]] * 2)
    assert found[0, 1] > found[0, 0]
