import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.mold import WOOD_CLASSES, critical_rh, mold_index

CLASSES = pytest.mark.parametrize("wood_class", WOOD_CLASSES)

DAMP = (68, 97)
DRY = (68, 60)


def record(*spells):
    """Make hourly columns of (air, hours) spells."""
    rows = [air for air, hours in spells for _ in range(hours)]
    return tuple(np.array(rows, dtype=float).T)


@CLASSES
def test_nothing_grows_in_dry_freezing_or_hot_air(wood_class):
    for temp_f, rh_pct in ((70, 79), (32, 100), (20, 100), (122, 100), (150, 100)):
        assert mold_index([temp_f] * 365, [rh_pct] * 365, 24, wood_class) == 0


@pytest.mark.parametrize("wood_class", ["medium resistant", "resistant"])
def test_resistant_surfaces_need_damper_air(wood_class):
    assert mold_index([70] * 365, [84.9] * 365, 24, wood_class) == 0
    assert mold_index([70] * 365, [86] * 365, 24, wood_class) > 0


@CLASSES
def test_damper_air_and_a_longer_time_mean_more(wood_class):
    by_air = [mold_index([68] * 90, [rh] * 90, 24, wood_class) for rh in (88, 92, 96, 100)]
    assert (np.diff(by_air) > 0).all()
    by_time = [mold_index([68] * n, [95] * n, 24, wood_class) for n in (10, 20, 40, 80)]
    assert (np.diff(by_time) > 0).all()


def test_warmer_air_means_more_until_it_is_too_hot():
    weeks = [mold_index([temp] * 30, [95] * 30) for temp in (40, 50, 60, 70, 90, 120)]
    assert (np.diff(weeks) > 0).all()


def test_classes_go_from_the_readiest_to_the_least():
    found = [mold_index([68] * 365, [97] * 365, 24, each) for each in list(WOOD_CLASSES)[1:]]
    assert (np.diff(found) < 0).all()


@pytest.mark.parametrize(
    ("wood_class", "most"),
    # At 100 % RH the greatest index is the sum of the class's three terms.
    [("pine sapwood", 6), ("very sensitive", 6), ("sensitive", 5.3), ("medium resistant", 3.5)],
)
def test_the_greatest_index(wood_class, most):
    years = [68] * 5000, [100] * 5000
    assert mold_index(*years, 24, wood_class) == pytest.approx(most, abs=1e-3)


@pytest.mark.parametrize("wood_class", ["pine sapwood", "sensitive"])
@pytest.mark.parametrize("hours", [1, 6, 24, 168])
def test_steady_air_gives_the_same_in_rows_of_any_length(wood_class, hours):
    rows = 12 * 168 // hours
    in_rows = mold_index([68] * rows, [93] * rows, hours, wood_class)
    assert in_rows == pytest.approx(mold_index([68], [93], 12 * 168, wood_class), rel=1e-9)


def test_rows_agree_with_small_steps_of_the_equation():
    # Euler's rule on dM/dt = k1 k2 / (7 tm), a hundred steps an hour: within a thousandth.
    tm, tv = np.exp(
        [
            -0.68 * np.log(20) - 13.9 * np.log(95) + 66.02,
            -0.74 * np.log(20) - 12.72 * np.log(95) + 61.5,
        ]
    )
    critical = critical_rh(np.array(20.0), 80)
    above = (critical - 95) / (critical - 100)
    most = 1 + 7 * above - 2 * above**2
    index, step = 0.0, 1 / 2400
    for _ in range(40 * 2400):
        k1 = 1 if index < 1 else 2 / (tv / tm - 1)
        index += step * k1 * (1 - np.exp(2.3 * (index - most))) / (7 * tm)
    assert mold_index([68] * 40, [95] * 40, 24, "pine sapwood") == pytest.approx(index, abs=1e-3)


@pytest.mark.parametrize(
    ("dry_hours", "lost"),
    # Hukka and Viitanen 1999: 0.032 a day in the first 6 h, none until 24 h, then 0.016 a day.
    [(3, 0.004), (6, 0.008), (12, 0.008), (24, 0.008), (48, 0.024), (24 + 240, 0.168)],
)
def test_decline_in_dry_air(dry_hours, lost):
    before = mold_index(*record((DAMP, 24 * 60)), 1)
    after = mold_index(*record((DAMP, 24 * 60), (DRY, dry_hours)), 1)
    assert before - after == pytest.approx(lost)


def test_every_dry_spell_begins_anew():
    one = mold_index(*record((DAMP, 2000), (DRY, 48)), 1)
    two = mold_index(*record((DAMP, 1999), (DRY, 24), (DAMP, 1), (DRY, 24)), 1)
    assert two > one


def test_a_surface_never_falls_below_clean():
    assert mold_index(*record((DRY, 500), (DAMP, 24), (DRY, 5000)), 1) == 0
    assert mold_index([], []) == 0


def test_growth_beyond_what_the_air_now_allows_stays():
    grown = mold_index([68] * 200, [98] * 200)
    assert mold_index([68] * 300, [98] * 200 + [81] * 100) == grown


@given(
    st.lists(st.tuples(st.floats(-20, 150), st.floats(1, 100)), min_size=1, max_size=50),
    st.floats(0.1, 168),
    st.sampled_from(list(WOOD_CLASSES)),
)
def test_no_record_leaves_the_scale(rows, hours, wood_class):
    temps, rhs = zip(*rows, strict=True)
    assert 0 <= mold_index(temps, rhs, hours, wood_class) <= 6


def test_a_hundred_thousand_rows():
    # Eleven years by the hour.
    hours = np.arange(100_000)
    temps, rhs = 60 + 20 * np.sin(hours / 1400), 85 + 14 * np.sin(hours / 4)
    assert 0 < mold_index(temps, rhs, 1) < 6
