"""Moisture content from weights, and what a lot's readings say."""

import numpy as np
import pytest
from numpy.typing import NDArray

from lumbercalc.wood.moisture import (
    mc_by_weight,
    mc_upper,
    ovendry_weight,
    readiness,
    samples_needed,
    share_within,
    weight_at_mc,
)


@pytest.mark.parametrize(
    ("weight", "ovendry", "mc_pct", "tolerance"),
    [
        # Wengert, Measuring MC by weight (2000), read there; printed to 0.1 %.
        (120.00, 99.99, 20.0, 0.05),
        # Wengert, Wood Doctor (2011), read there; printed to 1 %.
        (100, 75, 33, 0.5),
        # Conners, Univ. of Kentucky FOR-128 p. 26-27, read there; exact.
        (10, 5, 100, 1e-9),
        # Bousquet, Univ. of Vermont Extension, Lumber Drying, weights read there; exact.
        (30, 20, 50, 1e-9),
        # Dry Kiln Operator's Manual AH-188 (1991) ch. 6, from memory; printed to 0.1 %.
        (98.55, 59.20, 66.5, 0.05),
    ],
)
def test_mc_by_weight(weight: float, ovendry: float, mc_pct: float, tolerance: float) -> None:
    assert mc_by_weight(weight, ovendry) == pytest.approx(mc_pct, abs=tolerance)


def test_sample_board_formulas() -> None:
    """Wengert, Drying Oak Lumber step 3B (2012), read there; as in AH-188 ch. 6.

    Calculated ovendry weight is the first weight over (100 + first MC) x 100; MC afterwards is
    (weight over that - 1) x 100. Exact.
    """
    first_mc = np.mean([81.2, 78.8])
    calculated = ovendry_weight(9.0, first_mc)
    assert calculated == pytest.approx(9.0 / (100 + 80.0) * 100)
    assert mc_by_weight(6.0, calculated) == pytest.approx((6.0 / 5.0 - 1) * 100)


def test_weights_go_round() -> None:
    mc = np.array([0, 6, 8, 20, 80, 150])
    np.testing.assert_allclose(mc_by_weight(weight_at_mc(12.5, mc), 12.5), mc, atol=1e-10)
    np.testing.assert_allclose(ovendry_weight(weight_at_mc(12.5, mc), mc), 12.5, rtol=1e-12)


@pytest.mark.parametrize(
    ("count", "confidence_pct", "t"),
    [
        # Student's t, one-sided, from any printed table (NIST e-Handbook 1.3.6.7.2), from memory.
        (4, 95, 2.353),
        (6, 95, 2.015),
        (10, 95, 1.833),
        (10, 90, 1.383),
        (31, 99, 2.457),
    ],
)
def test_mc_upper_is_the_t_bound(count: int, confidence_pct: float, t: float) -> None:
    readings = 8 + np.sin(np.arange(count))
    bound = readings.mean() + t * readings.std(ddof=1) / np.sqrt(count)
    # Half a unit of t's last printed digit, times a standard error below 0.5.
    assert mc_upper(readings, confidence_pct) == pytest.approx(bound, abs=0.0005 * 0.5)


def test_mc_upper_nears_the_mean_with_more_readings() -> None:
    bounds = [mc_upper(np.tile([7, 8, 9], n)) for n in (1, 2, 4, 8, 16)]
    assert (np.diff(bounds) < 0).all()
    assert bounds[-1] > 8


def test_mc_upper_rises_with_confidence() -> None:
    assert mc_upper([7, 8, 9], 99) > mc_upper([7, 8, 9], 95) > mc_upper([7, 8, 9], 50)
    assert mc_upper([7, 8, 9], 50) == pytest.approx(8)


def test_one_reading_has_no_bound() -> None:
    assert np.isnan(mc_upper([8]))
    assert np.isnan(share_within([], 8))


def test_share_within_counts_the_limits() -> None:
    assert share_within([7.3, 8.3, 9.3, 9.4, 7.2], 8.3) == pytest.approx(60)
    assert share_within([7.3, 8.3, 9.3, 9.4, 7.2], 8.3, 0.5) == pytest.approx(20)
    assert share_within([12, 13], 8) == 0


@pytest.mark.parametrize(
    ("samples", "within_pct", "t"),
    [
        # Redwood moisture sampling study (abstract, read): 12 samples bound a lot's mean within
        # 10.8 % of itself, 6 within 15.9 %. Two-sided 95 % t is assumed and from memory.
        (12, 10.8, 2.201),
        (6, 15.9, 2.571),
    ],
)
def test_redwood_sampling(samples: int, within_pct: float, t: float) -> None:
    """Each statement implies a spread between boards, and gives its number of samples back.

    The two imply 17.0 and 15.1 % of the mean: not quite one and the same, so they are no
    proof of the confidence assumed, but both are in the range the trade plans with.
    """
    implied_cv = within_pct * np.sqrt(samples) / t
    assert 15 < implied_cv < 17.1
    # A hair of slack on the margin: t is printed to three decimals.
    assert samples_needed(implied_cv, within_pct + 0.003) == samples


def test_samples_needed_is_the_smallest_number_that_does() -> None:
    """By its definition, with SciPy's own Student's t as the judge."""
    from scipy import stats

    sd, confidence = np.meshgrid([0.1, 0.4, 0.8, 1.3, 2.7, 6.0], [80, 90, 95, 99])
    found = samples_needed(sd, 1, confidence)

    def margin(n: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(stats.t.ppf(0.5 + confidence / 200, n - 1) * sd / np.sqrt(n))

    assert (margin(found) <= 1).all()
    more_than_two = found > 2
    assert more_than_two.sum() > 10
    assert (margin(np.maximum(found - 1, 2))[more_than_two] > 1).all()


def test_samples_needed_directions() -> None:
    assert (np.diff(samples_needed([0.5, 1, 2, 4], 1)) > 0).all()
    assert (np.diff(samples_needed(2, [0.5, 1, 2])) < 0).all()
    assert samples_needed(2, 1, 99) > samples_needed(2, 1, 90)
    assert samples_needed(0, 1) == 2


@pytest.mark.parametrize(
    ("readings", "answer"),
    [
        # FOR-128 p. 76: at least 4 boards. Dry as they may be, three do not speak for the lot.
        ([8, 8, 8], "too few readings"),
        ([12, 12, 12], "too few readings"),
        ([8, 8, 8, 8], "ready"),
        ([9, 9, 9, 9], "ready"),
        ([9.1, 9.1, 9.1, 9.1], "not yet"),
        ([14, 15, 13, 16], "not yet"),
        # The mean is 8 and well known, but one board is above 8 + 2 x 1.
        ([7.9] * 19 + [10.1], "uneven"),
        ([7.9] * 19 + [10.0], "ready"),
        # No board is above 10, but the mean's upper bound is above 9.
        ([7, 10, 7, 10], "uneven"),
        # Only the wet side is judged.
        ([5, 5, 5, 5], "ready"),
    ],
)
def test_readiness(readings: list[float], answer: str) -> None:
    assert readiness(readings, 8) == answer


def test_readiness_limits_pass_in_binary_too() -> None:
    assert readiness([9.3] * 4, 8.3) == "ready"
    assert readiness([8.3] * 4, 7.3) == "ready"


def test_readiness_follows_tolerance_and_confidence() -> None:
    readings = [7.5, 8.5, 9.4, 8.6]
    assert readiness(readings, 8, 1, 95) == "uneven"
    assert readiness(readings, 8, 1, 60) == "ready"
    assert readiness(readings, 8, 2, 95) == "ready"
