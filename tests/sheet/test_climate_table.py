"""A table of air in its three forms, and what is refused of it."""

from __future__ import annotations

from calendar import month_name
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from lumbercalc.sheet.cells import block
from lumbercalc.sheet.climate_table import ClimateTable, read_climate
from lumbercalc.sheet.refusal import Refused

MONTHLY = [[30 + month, 60 + month] for month in range(12)]
DATED = [["2026-05-01", 60, 75], ["2026-09-01", 70, 45]]
SHED = [["Shed", name, *air] for name, air in zip(month_name[1:], MONTHLY, strict=True)]
SHOP = [["Shop", "2026-05-01", 70, 45]]
MEASURED = [["Shed", "2026-05-04", 71, 48], ["Shed", "2026-05-11", 73, 52]]


def table(rows: list[list[Any]]) -> ClimateTable:
    read = read_climate(block(rows))
    assert read is not None
    return read


def test_a_blank_table_is_none() -> None:
    assert read_climate(block([[None, None], ["", None]])) is None


def air_on(rows: list[list[Any]], day: str) -> list[tuple[float, float]]:
    climate = table(rows).climate
    assert climate is not None
    temp_f, rh_pct = climate.daily(day, 1)
    return list(zip(temp_f[:, 0].tolist(), rh_pct[:, 0].tolist(), strict=True))


def test_twelve_months() -> None:
    assert air_on(MONTHLY, "2026-01-16") == [pytest.approx((30, 60))]  # noon of the mid-month


def test_blank_rows_are_passed_over() -> None:
    padded = [[None, ""], *MONTHLY, [None, None]]
    assert air_on(padded, "2026-12-16") == air_on(MONTHLY, "2026-12-16")


def test_dated_rows_in_any_order() -> None:
    assert air_on(DATED[::-1], "2026-08-31") == [(60, 75)]
    assert air_on(DATED, "2027-01-01") == [(70, 45)]


@pytest.mark.parametrize(
    "day", [date(2026, 5, 1), 46143, Decimal(46143), np.datetime64("2026-05-01")]
)
def test_dates_of_every_host(day: Any) -> None:
    assert air_on([[day, 60, 75]], "2026-05-01") == [(60, 75)]


@pytest.mark.parametrize(
    "months",
    [
        list(month_name)[1:],
        [name[:3].upper() for name in month_name[1:]],
        list(range(1, 13)),
        [float(month) for month in range(12, 0, -1)],
        [Decimal(month) for month in range(1, 13)],
        [np.int64(month) for month in range(1, 13)],
    ],
)
def test_months_by_name_or_number_in_any_order(months: list[Any]) -> None:
    order = [int(month) - 1 if not isinstance(month, str) else i for i, month in enumerate(months)]
    rows = [["Shed", month, *MONTHLY[i]] for month, i in zip(months, order, strict=True)]
    assert air_on(rows, "2026-01-16") == [pytest.approx((30, 60))]


def test_months_without_a_place() -> None:
    rows = [[month, *air] for month, air in zip(month_name[1:], MONTHLY, strict=True)]
    assert air_on(rows[::-1], "2026-01-16") == air_on(MONTHLY, "2026-01-16")
    assert air_on([*rows, ["2026-01-10", 71, 48]], "2026-01-16") == [(71, 48)]


@pytest.mark.parametrize("first", ["2025-01-01", "2025-05-01"])
def test_first_days_of_twelve_months_are_the_months(first: str) -> None:
    # What a cell holds that shows Jan; as dates alone December's air would hold for ever.
    months = np.datetime64(first, "M") + np.arange(12)
    rows = [[f"{month}-01", *MONTHLY[int(month.astype(int)) % 12]] for month in months]
    assert air_on(rows, "2031-07-20") == air_on(MONTHLY, "2031-07-20")
    in_a_shed = [["Shed", *row] for row in rows]
    assert air_on(in_a_shed, "2031-07-20") == air_on(MONTHLY, "2031-07-20")
    for other in (rows[:11], [*rows[:11], [f"{months[11]}-02", *rows[11][1:]]]):
        assert air_on(other, "2031-07-20") == [
            tuple(MONTHLY[int(months[len(other) - 1].astype(int)) % 12])
        ]


@pytest.mark.parametrize("name", ["Sept", "sept.", "Sep.", "SEPTEMBER", "9", 9])
def test_september(name: Any) -> None:
    rows = [[month, *air] for month, air in zip(range(1, 13), MONTHLY, strict=True)]
    rows[8][0] = name
    assert air_on(rows, "2026-09-16") == air_on(MONTHLY, "2026-09-16")


def test_places_of_both_kinds() -> None:
    both = table(SHED + SHOP)
    assert both.climate is not None
    assert both.climate.names == ("Shed", "Shop")
    assert both.named("sHOP") == "Shop"
    assert both.place_problem("shed") == both.place_problem("Shop") == ""


def test_dated_rows_of_a_place_go_before_its_months() -> None:
    rows = [MEASURED[1], *SHED, MEASURED[0]]
    months = air_on(SHED, "2026-05-03"), air_on(SHED, "2026-06-11")
    assert air_on(rows, "2026-05-03") == months[0]  # before the record
    assert air_on(rows, "2026-05-10") == [(71, 48)]
    assert air_on(rows, "2026-06-10") == [(73, 52)]
    assert air_on(rows, "2026-06-11") == months[1]  # 31 days after its last row


@pytest.mark.parametrize(
    ("rows", "place", "said"),
    [
        (SHED + SHOP, "", "place is missing; climate holds Shed, Shop"),
        (SHED + SHOP, "attic", 'place is the text "attic"; climate holds Shed, Shop'),
        (MONTHLY, "shed", "place is given, but climate has no column of places"),
        ([*SHED[1:], *SHOP], "shed", "Shed: climate lacks January; it must have all 12 months"),
        (SHED[1:], "", "Shed: climate lacks January; it must have all 12 months"),
        (
            [*SHED[:9], ["Shed", 13, 40, 70], *SHED[10:], *SHOP],
            "shed",
            "Shed: climate row 10: month is 13; it must be 1 to 12, or a date",
        ),
        (
            [*SHED[:9], ["Shed", "soon", 40, 70], *SHED[10:], *SHOP],
            "shed",
            'Shed: climate row 10: month is the text "soon"; it must be 1 to 12, or a date',
        ),
        (
            [*SHED[:11], ["Shed", "2026-12-01", 40, 70]],
            "shed",
            "Shed: climate lacks December; it must have all 12 months",
        ),
        ([*SHED, *MEASURED, MEASURED[0]], "shed", "Shed: climate row 15: 2026-05-04 stands twice"),
        (
            [*SHED, ["Shed", "2026-05-04", 140, 60]],
            "shed",
            "Shed: climate row 13: temp_f is 140 deg F; it must be from -40 to 130 deg F",
        ),
        ([*SHED, *MEASURED], "shed", ""),
        (SHED, "", ""),
        ([*SHED[1:], *SHOP], "shop", ""),
    ],
)
def test_what_is_said_of_a_place(rows: list[list[Any]], place: str, said: str) -> None:
    assert table(rows).place_problem(place) == said


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([[70]], "climate has 1 column; it must be 12 rows"),
        ([["a", "b", "c", "d", "e"]], "climate has 5 columns"),
        (MONTHLY[:11], "climate lacks December"),
        ([*MONTHLY[:5], [None, None], *MONTHLY[6:]], "climate row 6 is blank; it must be 12 rows"),
        ([*MONTHLY, [50, 50]], "climate has 13 rows"),
        ([*MONTHLY[:2], [50, 140], *MONTHLY[3:]], "climate row 3: rh_pct is 140 % RH; it must be"),
        ([*MONTHLY[:2], [50, None], *MONTHLY[3:]], "climate row 3: rh_pct is missing"),
        ([*MONTHLY[:2], [50, "#N/A"], *MONTHLY[3:]], "climate row 3: rh_pct is the error #N/A"),
        ([*DATED, DATED[0]], "climate row 3: 2026-05-01 stands twice"),
        ([["May", 60, 75]], "climate lacks January, February, March, April, June"),
        ([["soon", 60, 75]], 'climate row 1: date is the text "soon"'),
        ([[None, 60, 75]], "climate row 1: date is missing"),
        ([[None, "May", 60, 75]], "climate row 1: place is missing"),
        ([[5, 60, 75], [None, 60, 75]], "climate row 2: month is missing"),
        ([[5, 60, 75], [Decimal("sNaN"), 60, 75]], "climate row 2: month is missing"),
        ([[Decimal("sNaN"), 60, 75]], "climate row 1: date is missing"),
    ],
)
def test_refusals(rows: list[list[Any]], said: str) -> None:
    with pytest.raises(Refused) as refused:
        table(rows)
    assert str(refused.value).startswith(said)


def test_a_month_that_stands_twice() -> None:
    assert "stands twice" in table([*SHED, SHED[0]]).place_problem("shed")


def test_a_refusal_in_the_table_goes_out_unchanged() -> None:
    with pytest.raises(Refused) as refused:
        table([*MONTHLY[:11], [50, "#INPUT: temp_f is odd"]])
    assert str(refused.value) == "temp_f is odd"
