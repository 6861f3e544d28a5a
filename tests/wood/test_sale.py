import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.sale import (
    line_total,
    mc_statement,
    price_for_margin,
    sales_tax,
)

# Expected amounts are worked by hand; nothing here is a figure of the trade.


@given(st.floats(0.01, 1000), st.floats(0, 95))
def test_margin_is_a_share_of_the_price(cost, margin_pct):
    price = price_for_margin(cost, margin_pct)
    assert 100 * (price - cost) / price == pytest.approx(margin_pct, abs=1e-9)


def test_no_price_is_all_margin():
    assert np.isnan(price_for_margin(6, 100))


@pytest.mark.parametrize(
    ("board_feet", "price_per_bf", "discount_pct", "expected"),
    [
        (24, 9.5, 0, 228.0),
        (24, 9.5, 10, 205.2),
        (24, 9.5, 100, 0),
        # Exact half cents, which binary floating point puts just below themselves.
        (1, 1.005, 0, 1.01),
        (1.005, 1, 0, 1.01),
        (2.675, 1, 0, 2.68),
        (100.5, 0.01, 0, 1.01),
        (0.5, 2.01, 0, 1.01),
        (1.15, 0.7, 10, 0.72),  # 0.7245
        (31.5, 9.5, 10, 269.33),  # 269.325
        (8.1, 0.05, 50, 0.20),  # 0.2025
        # Just below a half stays below.
        (1, 1.00499999999, 0, 1.00),
        # Board feet as a division leaves them: 25/3 at 12.15 is 101.25.
        (25 / 3, 12.15, 0, 101.25),
        (1005, 0.001, 0, 1.01),
    ],
)
def test_line_total(board_feet, price_per_bf, discount_pct, expected):
    assert line_total(board_feet, price_per_bf, discount_pct) == expected


@given(st.integers(0, 10**6), st.integers(0, 10**5), st.integers(0, 100))
def test_line_total_agrees_with_whole_number_arithmetic(tenths, cents, discount):
    # Tenths of a bf, cents and whole per cent multiply to units of 1/1000 of a cent.
    exact_cents = (tenths * cents * (100 - discount) + 500) // 1000
    assert line_total(tenths / 10, cents / 100, discount) == exact_cents / 100


def test_more_discount_costs_less():
    assert (np.diff(line_total(100, 9.5, [0, 5, 10, 50])) < 0).all()


@given(st.integers(0, 10**6), st.integers(0, 10**5), st.integers(0, 100))
def test_a_price_by_the_thousand_is_the_price_by_the_board_foot(hundredths, dollars, discount):
    # $ per MBF of whole dollars are thousandths of a dollar per board foot.
    by_thousand = line_total(round(hundredths / 1e5, 5), dollars, discount)
    assert by_thousand == line_total(hundredths / 100, dollars / 1000, discount)


@pytest.mark.parametrize(
    ("amount", "tax_pct", "expected"),
    [
        (100, 6, 6.00),
        (2006.97, 6, 120.42),  # 120.4182
        (101.3, 5, 5.07),  # 5.065
        (101.29999999999998, 5, 5.07),  # as a sum of cents comes out in binary
        (40, 6.375, 2.55),
        (8.1, 6.25, 0.51),  # 0.50625
        (10, 8.875, 0.89),  # 0.8875
        (1.25, 6, 0.08),  # 0.075
        (0, 6, 0),
        (99.99, 0, 0),
    ],
)
def test_sales_tax(amount, tax_pct, expected):
    assert sales_tax(amount, tax_pct) == expected


@given(st.integers(0, 10**7), st.integers(0, 20_000))
def test_sales_tax_agrees_with_whole_number_arithmetic(cents, thousandths):
    # Cents times thousandths of a per cent are units of 1/100 000 of a cent.
    exact_cents = (cents * thousandths + 50_000) // 100_000
    assert sales_tax(cents / 100, thousandths / 1000) == exact_cents / 100


@pytest.mark.parametrize(
    ("readings", "method", "expected"),
    [
        (
            [6.9, 7.2, 7.5, 7.6, 7.7, 7.8, 7.8, 7.9, 8.0, 8.1, 8.5, 8.6],
            "pin meter",
            "Moisture content 7.8 % on average (6.9 to 8.6 %), 12 readings, pin meter, 2026-11-02.",
        ),
        (
            [8, 9],
            "",
            "Moisture content 8.5 % on average (8.0 to 9.0 %), 2 readings, 2026-11-02.",
        ),
        # 7.85 exactly: halves up, though binary has it below.
        (
            [7.8, 7.9],
            "",
            "Moisture content 7.9 % on average (7.8 to 7.9 %), 2 readings, 2026-11-02.",
        ),
        (
            [[6.25], [8.35]],
            "oven",
            "Moisture content 7.3 % on average (6.3 to 8.4 %), 2 readings, oven, 2026-11-02.",
        ),
        ([7.8], "pin meter", "Moisture content 7.8 %, 1 reading, pin meter, 2026-11-02."),
        (7.8, "", "Moisture content 7.8 %, 1 reading, 2026-11-02."),
    ],
)
def test_mc_statement(readings, method, expected):
    assert mc_statement(readings, np.datetime64("2026-11-02"), method) == expected


@pytest.mark.parametrize(
    "reading_date",
    [
        np.datetime64("2026-11-02"),
        np.datetime64("2026-11-02T15:30"),
        np.array("2026-11-02", dtype="datetime64[D]"),
        datetime.date(2026, 11, 2),
        datetime.datetime(2026, 11, 2, 15, 30),
    ],
)
def test_mc_statement_writes_the_day(reading_date):
    assert mc_statement([7.8], reading_date).endswith(", 2026-11-02.")
