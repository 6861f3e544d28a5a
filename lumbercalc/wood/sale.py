"""Sale: price, and what an invoice says."""

import datetime
from decimal import ROUND_HALF_UP, Decimal, localcontext

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood.floats import floats

# Three floats of 17 digits each multiply to at most 51: nothing is rounded before the cents.
EXACT_DIGITS = 60


def price_for_margin(cost: ArrayLike, margin_pct: ArrayLike) -> NDArray[np.float64]:
    """Price of which a given share is margin.

    Parameters
    ----------
    cost : array_like of float [money]
        Cost.
    margin_pct : array_like of float [% of the price]
        Margin wanted.

    Returns
    -------
    ndarray of float [money]
        Price; NaN for a margin of the whole price or more.

    Examples
    --------
    >>> print(price_for_margin(6, 40).round(2))
    10.0
    """
    paid, margin = floats(cost, margin_pct)
    share = 1 - margin / 100
    return paid / np.where(share > 0, share, np.nan)


def line_total(
    board_feet: ArrayLike, price_per_bf: ArrayLike, discount_pct: ArrayLike = 0
) -> NDArray[np.float64]:
    """Total of an invoice line, to the cent.

    Parameters
    ----------
    board_feet : array_like of float [bf]
        Board feet.
    price_per_bf : array_like of float [money per bf]
        Price.
    discount_pct : array_like of float, optional [%]
        Discount.

    Returns
    -------
    ndarray of float [money]
        Total, half a cent rounded up. It is reckoned in decimals as the figures are written, so
        that it agrees with a check by hand.

    Examples
    --------
    >>> print(line_total(100.5, 0.01), line_total([24, 31.5], 9.5, 10))
    1.01 [205.2  269.33]
    """
    totals: NDArray[np.float64] = np.vectorize(_line_total, otypes=[np.float64])(
        board_feet, price_per_bf, discount_pct
    )
    return totals


def sales_tax(amount: ArrayLike, tax_pct: ArrayLike) -> NDArray[np.float64]:
    """Sales tax on an amount, to the cent.

    Parameters
    ----------
    amount : array_like of float [money]
        What is taxed; taken to the cent first, as it is printed.
    tax_pct : array_like of float [%]
        Rate of the tax.

    Returns
    -------
    ndarray of float [money]
        Tax, half a cent rounded up (away from zero), in decimals as the figures are written.

    Examples
    --------
    >>> print(sales_tax(101.3, 5), sales_tax([2006.97, 40], [6, 6.375]))
    5.07 [120.42   2.55]
    """
    taxes: NDArray[np.float64] = np.vectorize(_sales_tax, otypes=[np.float64])(amount, tax_pct)
    return taxes


def mc_statement(
    readings: ArrayLike, reading_date: np.datetime64 | datetime.date, method: str = ""
) -> str:
    """Write the moisture line of an invoice.

    Parameters
    ----------
    readings : array_like of float [% MC]
        Readings of the lot.
    reading_date : datetime64[D] or date
        Day they were taken.
    method : str, optional
        How they were taken, such as "pin meter".

    Returns
    -------
    str
        Mean, range, count, method and date.

    Examples
    --------
    >>> import datetime
    >>> mc_statement([6.9, 7.8, 8.6], datetime.date(2026, 11, 2), "pin meter")
    'Moisture content 7.8 % on average (6.9 to 8.6 %), 3 readings, pin meter, 2026-11-02.'
    """
    exact = [_decimal(reading) for reading in np.ravel(readings)]
    average = sum(exact, Decimal()) / len(exact)
    lowest, mean, highest = (_halves_up(x, "0.1") for x in (min(exact), average, max(exact)))
    if len(exact) == 1:
        found = [f"Moisture content {mean} %", "1 reading"]
    else:
        found = [
            f"Moisture content {mean} % on average ({lowest} to {highest} %)",
            f"{len(exact)} readings",
        ]
    if method:
        found.append(method)
    found.append(str(np.asarray(reading_date, dtype="datetime64[D]")))
    return ", ".join(found) + "."


def _decimal(number: float) -> Decimal:
    """Give the shortest decimal that stands for this float: the figure as somebody wrote it."""
    return Decimal(repr(float(number)))


def _halves_up(number: Decimal, step: str) -> Decimal:
    return number.quantize(Decimal(step), ROUND_HALF_UP)


def _line_total(board_feet: float, price_per_bf: float, discount_pct: float) -> float:
    with localcontext(prec=EXACT_DIGITS):
        kept = 1 - _decimal(discount_pct) / 100
        return float(_halves_up(_decimal(board_feet) * _decimal(price_per_bf) * kept, "0.01"))


def _sales_tax(amount: float, tax_pct: float) -> float:
    with localcontext(prec=EXACT_DIGITS):
        taxed = _halves_up(_decimal(amount), "0.01")
        return float(_halves_up(taxed * _decimal(tax_pct) / 100, "0.01"))
