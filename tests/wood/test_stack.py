import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.stack import (
    fan_cfm,
    stack_board_feet,
    stack_height,
    stack_layers,
    stickers,
    top_weight,
)
from lumbercalc.wood.tally import board_feet

inches = st.floats(0.25, 4)


@pytest.mark.parametrize(
    ("length_ft", "spacing_in", "count"),
    # 8 ft is 6 gaps of 16 in, 4 of 24, 8 of 12; a part of a gap takes another sticker.
    [(8, 16, 7), (8, 24, 5), (8, 12, 9), (10, 16, 9), (8.1, 24, 6), (1, 16, 2), (0.5, 16, 2)],
)
def test_stickers(length_ft, spacing_in, count):
    assert stickers(length_ft, spacing_in) == count


@given(st.floats(1, 40), st.floats(4, 48))
def test_no_gap_between_stickers_is_wider_than_asked_for(length_ft, spacing_in):
    count = stickers(length_ft, spacing_in)
    assert 12 * length_ft / (count - 1) <= spacing_in * (1 + 1e-6)


def test_longer_stacks_and_closer_stickers_need_more():
    assert (np.diff(stickers([4, 8, 12, 16])) > 0).all()
    assert (np.diff(stickers(8, [32, 24, 16, 12])) > 0).all()


def test_spacing_and_base_and_fill_that_are_left_out():
    assert stickers(8) == stickers(8, 16)
    assert stack_layers(48, 1, 1) == stack_layers(48, 1, 1, 0)
    assert stack_height(24, 1, 1) == stack_height(24, 1, 1, 0)
    assert stack_board_feet(24, 4, 8, 1) == stack_board_feet(24, 4, 8, 1, 90)
    assert top_weight(8, 4) == top_weight(8, 4, 50)


@pytest.mark.parametrize(
    ("height_in", "thickness_in", "sticker_in", "base_in", "layers"),
    [
        (48, 1, 1, 0, 24),
        (48, 1.125, 0.75, 12, 19),
        (12 + 20 * 1.875, 1.125, 0.75, 12, 20),  # just fits
        (0.3 * 3, 0.2, 0.1, 0, 3),  # 2.9999... in binary
        (13, 1.125, 0.75, 12, 0),
        (10, 1, 1, 12, 0),
    ],
)
def test_stack_layers(height_in, thickness_in, sticker_in, base_in, layers):
    assert stack_layers(height_in, thickness_in, sticker_in, base_in) == layers


@given(st.floats(20, 300), inches, inches, st.floats(0, 18))
def test_the_layers_that_fit_are_as_high_as_allowed_and_one_more_is_not(height, board, gap, base):
    layers = stack_layers(height, board, gap, base)
    assert stack_height(layers, board, gap, base) <= height + 1e-6
    assert stack_height(layers + 1, board, gap, base) > height


def test_thicker_stickers_and_a_higher_base_leave_fewer_layers():
    assert (np.diff(stack_layers(60, 1.125, [0.5, 0.75, 1, 1.5])) < 0).all()
    assert (np.diff(stack_layers(60, 1.125, 0.75, [0, 6, 12, 18])) < 0).all()


def test_a_full_stack_has_the_board_feet_of_its_boards():
    # 12 layers of six boards, 8 in wide: 4 ft without a gap.
    assert stack_board_feet(12, 4, 8, 1, 100) == pytest.approx(board_feet(1, 8, 8, 72))


def test_thin_boards_in_a_stack_count_as_an_inch():
    # NHLA practice, as for single boards.
    assert stack_board_feet(12, 4, 8, 0.5) == stack_board_feet(12, 4, 8, 1)
    assert stack_board_feet(12, 4, 8, 2) == 2 * stack_board_feet(12, 4, 8, 1)


def test_gaps_between_boards_leave_fewer_board_feet():
    assert (np.diff(stack_board_feet(12, 4, 8, 1, [100, 90, 75])) < 0).all()


def test_air_is_open_area_times_speed():
    # Definition: 10 gaps of 1 in by 12 ft are 10 ft2.
    assert fan_cfm(10, 1, 12, 300) == pytest.approx(3000)


@pytest.mark.parametrize("place", range(4))
def test_more_of_anything_needs_more_air(place):
    more = [10.0, 0.75, 8.0, 200.0]
    less = fan_cfm(*more)
    more[place] *= 1.5
    assert fan_cfm(*more) == pytest.approx(1.5 * less)


@pytest.mark.parametrize(("psf", "pounds"), [(50, 1600), (150, 4800)])
def test_top_weight(psf, pounds):
    # Definition, at the weights of Univ. of Kentucky FOR-128 p. 68.
    assert top_weight(8, 4, psf) == pytest.approx(pounds)
