import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.tally import (
    board_feet,
    cubic_meters,
    inches_from_quarters,
    net_board_feet,
    slab_area,
    surface_measure,
    tally_board_feet,
    thickness_in,
)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("4/4", 1.0),
        ("8/4", 2.0),
        (" 5 / 4 ", 1.25),
        ("2/4", 0.5),
        ("32/4", 8.0),
        ("10/4", 2.5),
        ("1/4", None),
        ("33/4", None),
        ("100/4", None),
        ("8/8", None),
        ("1-1/8", None),
        ("1 1/4", None),
        ("5.5/4", None),
        ("-8/4", None),
        ("8/4 in", None),
        ("8/44", None),
        ("2", None),
        ("/4", None),
        ("", None),
        ("٨/4", None),
    ],
)
def test_inches_from_quarters(text, inches):
    assert inches_from_quarters(text) == inches


@given(st.integers(2, 32))
def test_every_whole_quarter_is_read(quarters):
    assert inches_from_quarters(f"{quarters}/4") == quarters / 4


def test_thickness_in_leaves_inches_alone():
    assert thickness_in([1, 1.25, 2]).tolist() == [1, 1.25, 2]


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ((1, 12, 1), 1),
        ((1, 6, 8), 4),
        ((2, 6, 8), 8),
        ((1.25, 12, 10), 12.5),
        ((1, 6, 8, 10), 40),
        ((0.99, 6, 8), 4),
        ((0.5, 6, 8, 2), 8),
    ],
)
def test_board_feet(size, expected):
    # A board foot is 144 cubic inches, by definition.
    assert board_feet(*size) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("width_in", "length_ft", "expected"),
    [
        (6, 8, 4),
        (6.25, 8, 4),
        (7, 8, 5),  # 4.667
        (9, 10, 8),  # 7.5, an exact half
        (4.2, 10, 4),  # 3.5, below itself in binary
        (6.6, 10, 6),  # 5.5, the same
        (8.9999, 10, 7),  # just under a half is no half
        (9.0001, 10, 8),
    ],
)
def test_surface_measure(width_in, length_ft, expected):
    assert surface_measure(width_in, length_ft) == expected


def test_a_half_that_binary_misses_is_one():
    thirds = 10 / 3  # width x length = 30 ft in, 2.5 ft2
    assert surface_measure([thirds, thirds], 9).tolist() == [3, 3]
    assert surface_measure([thirds, thirds], 9, True).tolist() == [3, 2]


def test_turns_pass_over_boards_that_are_no_half():
    widths, lengths = [9, 6.25, 9, 7, 9], [10, 8, 10, 8, 10]
    assert surface_measure(widths, lengths, True).tolist() == [8, 4, 7, 5, 8]


def test_turns_only_where_asked():
    assert surface_measure([9, 9, 9, 9], 10, [True, False, True, False]).tolist() == [8, 8, 7, 8]


def test_one_board_by_turns_goes_up():
    assert surface_measure(9, 10, True) == 8


@given(st.lists(st.just((9.0, 10.0)), min_size=2, max_size=40))
def test_halves_by_turns_cancel(boards):
    # The reason for the rule: up and down by turns keeps the tally fair to within half a foot.
    widths, lengths = zip(*boards, strict=True)
    tallied = surface_measure(widths, lengths, True).sum()
    assert abs(tallied - 7.5 * len(boards)) <= 0.5


@given(st.floats(1, 60), st.floats(1, 40))
def test_surface_measure_is_within_half_a_foot(width_in, length_ft):
    assert abs(surface_measure(width_in, length_ft) - width_in * length_ft / 12) <= 0.5 + 1e-6


@pytest.mark.parametrize(
    ("size", "expected"),
    [((2, 6.25, 8), 8), ((1.25, 9, 10), 10), ((0.75, 6, 8), 4), ((1, 6.25, 8, 3), 12)],
)
def test_tally_board_feet(size, expected):
    assert tally_board_feet(*size) == expected


@pytest.mark.parametrize(("gross", "shrink", "net"), [(1000, 7, 930), (1000, 0, 1000), (0, 7, 0)])
def test_net_board_feet(gross, shrink, net):
    assert net_board_feet(gross, shrink) == pytest.approx(net)


def test_cubic_meters():
    # NIST SP 811 (2008), App. B.8: 1 board foot is 2.359737 E-03 m3, to its last digit.
    assert cubic_meters(1) == pytest.approx(2.359737e-3, abs=5e-10)


@pytest.mark.parametrize(
    ("widths", "length_ft", "expected"),
    [([24], 8, 16), ([24, 18, 21], 8, 14), ([[24], [18]], 6, 10.5), (12, 1, 1)],
)
def test_slab_area(widths, length_ft, expected):
    assert slab_area(widths, length_ft) == expected


def test_a_slab_without_a_width_has_no_area():
    assert np.isnan(slab_area([], 8))


def test_a_slab_of_one_width_has_the_surface_of_a_board():
    # Noyes 1910, worked examples: 9 in x 13 ft is 9 ft 9 in of surface
    assert slab_area([9, 9, 9], 13) == pytest.approx(9.75)
