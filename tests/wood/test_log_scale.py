import numpy as np
import pytest

from lumbercalc.wood.log_scale import log_scale


@pytest.mark.parametrize(
    ("diameter_in", "length_ft", "expected"),
    [
        # International by hand, from the rule: 12 in, 16 ft is 107.12 before the 0.905; a fifth
        # section at 14 in is 33.18.
        (12, 18, 110),  # 0.905 x (107.12 + 33.18 / 2) = 111.96
        (12, 19, 120),  # 0.905 x (107.12 + 33.18 x 3 / 4) = 119.46
        (12, 20, 125),  # 0.905 x (107.12 + 33.18) = 126.97
        (12, 4, 20),  # 0.905 x 23.16 = 20.96
        (12, 2, 10),  # half of that, 10.48
    ],
)
def test_international_counts_a_short_section_by_its_share(diameter_in, length_ft, expected):
    assert log_scale(diameter_in, length_ft, "International 1/4") == expected


@pytest.mark.parametrize(
    ("diameter_in", "rule"),
    [(4, "Doyle"), (3, "Doyle"), (1, "Doyle"), (3.2, "International 1/4"), (20, "another")],
)
def test_log_scale_gives_nothing_outside_its_rule(diameter_in, rule):
    assert np.isnan(log_scale(diameter_in, 16, rule))


@pytest.mark.parametrize("rule", ["Doyle", "International 1/4"])
def test_thicker_and_longer_logs_scale_more(rule):
    diameters = np.arange(6, 41)
    assert (np.diff(log_scale(diameters, 16, rule)) > 0).all()
    assert (np.diff(log_scale(20, np.arange(8, 21), rule)) > 0).all()


def test_international_comes_in_fives():
    scale = log_scale(np.arange(5, 41), 13.5, "International 1/4")
    assert (scale % 5 == 0).all()


def test_doyle_is_hard_on_small_logs():
    # Common practice, no source: Doyle falls below International on thin logs and passes it on
    # very thick ones.
    thin, thick = (log_scale(diameter, 16, ["Doyle", "International 1/4"]) for diameter in (8, 40))
    assert thin[0] < thin[1]
    assert thick[0] > thick[1]


def test_doyle_begins_above_four_inches():
    # The rule, ((d - 4) / 4)^2 x length: 5 in and 16 ft are one board foot, 4.5 in a quarter.
    assert log_scale([5, 4.5], 16, "Doyle").tolist() == [1, 0]


def test_rule_can_change_by_row():
    scale = log_scale([12, 12], [16, 16], ["Doyle", "International 1/4"])
    assert scale.tolist() == [64, 95]


def test_no_logs_at_all():
    assert log_scale([], [], []).shape == (0,)
