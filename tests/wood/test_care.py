import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.care import HEAT_F, deciding_gap, heat_treated, longest_heat

HOT, COLD = 133.0, 132.0
EVERY_TEN = np.arange(0, 100, 10)


def test_the_heat_is_56_degrees_celsius():
    # ISPM 15: 56 deg C.
    assert pytest.approx(56 * 1.8 + 32) == HEAT_F


@pytest.mark.parametrize(
    ("minutes", "core", "stay"),
    [
        ([0, 10, 20, 30], [HOT] * 4, 30),
        ([0, 10, 20, 29], [HOT] * 4, 29),
        ([5], [HOT], 0),
        ([], [], 0),
        ([0, 10, 20, 30], [COLD] * 4, 0),
        ([0, 10, 20, 30, 40], [COLD, HOT, HOT, HOT, COLD], 20),
        ([0, 10, 20, 30, 40, 50], [HOT, HOT, COLD, HOT, HOT, HOT], 20),
        ([0, 30, 60], [HOT, COLD, HOT], 0),
    ],
)
def test_longest_heat(minutes, core, stay):
    assert longest_heat(minutes, core) == stay


@pytest.mark.parametrize(
    ("core", "treated"),
    [
        ([HOT] * 10, True),
        ([COLD, COLD, HOT, HOT, HOT, HOT, COLD, COLD, COLD, COLD], True),
        ([HOT, HOT, HOT, COLD, HOT, HOT, HOT, COLD, HOT, HOT], False),  # 20 min three times
        ([HEAT_F] * 10, True),
        ([(56 - 1e-13) * 1.8 + 32] * 10, True),  # a degree Celsius that was converted
        ([HEAT_F - 0.1] * 10, False),
    ],
)
def test_heat_treated(core, treated):
    assert heat_treated(EVERY_TEN, core) is treated


def test_minutes_made_of_clock_times():
    clock = 1440 * (0.4 + EVERY_TEN[:4] / 1440)  # a day's part, as a sheet has it
    assert heat_treated(clock, [HOT] * 4)


def test_a_gap_breaks_the_time_where_readings_must_be_close():
    assert longest_heat([0, 10, 40, 50], [HOT] * 4) == 50
    assert longest_heat([0, 10, 40, 50], [HOT] * 4, 10) == 10


@pytest.mark.parametrize(
    ("minutes", "core", "gap"),
    [
        ([0, 30], [HOT] * 2, (0, 30)),
        ([0, 20, 25, 50], [COLD, HOT, HOT, HOT], (25, 50)),
        ([0, 60, 70, 80, 90], [COLD, HOT, HOT, HOT, HOT], None),  # while it was warming
        ([0, 10, 20, 30, 90], [HOT] * 5, None),  # after it was long enough
        # a gap in a time that is too short even with it decides nothing
        ([0, 15, 20, 30, 80], [HOT, HOT, COLD, HOT, HOT], (30, 80)),
        ([0, 20], [HOT] * 2, None),  # too short, with or without what the gap hides
        ([], [], None),
    ],
)
def test_the_gap_that_decides(minutes, core, gap):
    assert deciding_gap(minutes, core) == gap


@given(st.lists(st.floats(120, 150), min_size=1, max_size=20), st.floats(0, 20))
def test_a_warmer_core_never_stays_hot_for_less(core, warmer):
    minutes = 5 * np.arange(len(core))
    assert longest_heat(minutes, np.array(core) + warmer) >= longest_heat(minutes, core)
