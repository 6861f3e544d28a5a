"""Constants, settings, safe rate and one day of drying."""

import numpy as np
import pytest

from lumbercalc.wood.drying import (
    drying_constant,
    drying_speed,
    safe_rate,
    stack_factor,
    temperature_factor,
)

OAK = "Oak, northern red"


def test_stack_factor_of_an_unknown_setting_is_nan():
    assert stack_factor("fan") == 1
    assert np.isnan(stack_factor("barn"))


def test_every_setting_slows_more_than_the_one_before():
    factors = stack_factor(["fan", "open yard", "wide or sheltered", "still air"])
    assert np.all(np.diff(factors) < 0)


@pytest.mark.parametrize(
    ("thickness_in", "rate"),
    [
        # Univ. of Kentucky FOR-128 Table 9 (Wengert): upland red oak 3.8 (4/4) and 1.5 (8/4).
        (0.75, 3.8),
        (1.125, 3.8),
        (2.125, 1.5),
        # Half way on the log scale: the geometric mean.
        ((1.125 * 2.125) ** 0.5, (3.8 * 1.5) ** 0.5),
        # FOR-128 Table 6: twice as thick, 0.4 of the rate.
        (4.25, 1.5 * 0.4),
    ],
)
def test_safe_rate_of_red_oak(thickness_in, rate):
    assert safe_rate(OAK, thickness_in) == pytest.approx(rate)


def test_safe_rate_with_one_printed_figure_takes_the_rule_for_the_other():
    # Table 9 prints 4/4 alone for lowland red oak: 1.0 at the low end.
    assert safe_rate("Oak, water", [1.125, 2.125]) == pytest.approx([1.0, 0.4])


def test_safe_rate_falls_with_thickness():
    rates = safe_rate("Walnut, black", np.linspace(1.125, 4, 50))
    assert np.all(np.diff(rates) < 0)


def test_safe_rate_is_nan_where_none_is_printed():
    assert np.isnan(safe_rate("Alder, red", 1.125))


def test_drying_speed_goes_with_the_inverse_square_of_thickness():
    one, two = drying_speed(OAK, [1.0, 2.0])
    assert one / two == pytest.approx(4)


def test_drying_speed_goes_with_rate_and_setting():
    assert drying_speed(OAK, 1.0, 0.9, 0.5) == pytest.approx(0.45 * drying_speed(OAK, 1.0))


def test_temperature_factor_doubles_in_twenty_degrees():
    # A practice page gives 2 per 20 deg F; the 5280 K of Simpson and Hart give 2.02 near 60 deg F.
    assert temperature_factor(70) / temperature_factor(50) == pytest.approx(2.02, abs=0.02)


def test_listed_constants_are_taken_and_others_estimated():
    assert drying_constant([OAK, "Walnut, black"]).tolist() == [19.2, 25.0]
    assert np.isfinite(drying_constant("Alder, red"))
