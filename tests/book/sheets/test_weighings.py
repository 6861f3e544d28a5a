"""What the weighing after a slip tells: its loss is counted from a weight that nobody believes."""

from __future__ import annotations

from datetime import date

import pytest

from lumbercalc.book.sheets.stack_advice import OVER_SAFE_RATE
from lumbercalc.book.sheets.weighings import FROM_DOUBT, GAINED, TOO_FAST, UNLIKE
from tests.book.small_shop import Row, Shop

START, FIRST, SECOND, THIRD = (date(2026, 10, day) for day in (1, 11, 16, 21))
AIR: list[Row] = [{"place": "yard", "month": month, "temp": 55, "rh": 65} for month in range(1, 13)]
STACK: Row = {
    "place": "yard", "setting": "open yard", "species": "Oak, northern red", "quarters": "4/4",
    "start": START, "target": 12,
}  # fmt: skip
STACKS = ("Slip", "Fast")
BOARDS = {"Slip": ("S1", "S2", "S3", "S4"), "Fast": ("F1",)}
SAMPLES: list[Row] = [
    {"board": board, "stack": stack, "date": START, "weight": 10.8, "ovendry": 6.0}
    for stack, boards in BOARDS.items()
    for board in boards
]
# of 6 lb ovendry 0.06 lb is 1 % MC: 10.2 to 9.9 is 1 % a day, 14.38 to 9.75 is 15.4 % a day
WEIGHED: list[tuple[date, str, float, str]] = [
    *((FIRST, f"S{n}", 10.2, "ok") for n in (1, 2, 3, 4)),
    (SECOND, "S1", 14.38, GAINED),
    *((SECOND, f"S{n}", 9.9, "ok") for n in (2, 3, 4)),
    (THIRD, "S1", 9.75, FROM_DOUBT),
    (THIRD, "S2", 9.75, "ok"),
    (THIRD, "S3", 9.75, "ok"),
    # 3 % a day, under red oak's safe 3.8, where S2, S3 and S4 lose 1.33 on average
    (THIRD, "S4", 9.0, UNLIKE),
    (SECOND, "F1", 9.9, "ok"),
    (THIRD, "F1", 8.6, TOO_FAST),  # 4.33 % a day, of wood at 65 %
]


@pytest.fixture(scope="module")
def made() -> Shop:
    rows = {
        "site": AIR,
        "stack": [STACK | {"name": name} for name in STACKS],
        "sample": SAMPLES,
        "weighing": [
            {"date": day, "board": board, "weight": weight} for day, board, weight, _ in WEIGHED
        ],
    }
    named = {"as_of": THIRD, "place_names": "yard"}
    asked = ("weighing_note", "weighing_loss", "stack_advice", "stack_loss_weighed", "stack_mc_now")
    return Shop(rows, named, (*asked, ("Stacks over the safe rate", "Stacks")))


def test_the_weighing_after_a_slip_upward_is_not_over_the_safe_rate(made: Shop) -> None:
    assert made.column("weighing", "note") == [words for *_, words in WEIGHED]
    after = [row[:2] for row in WEIGHED].index((THIRD, "S1"))
    assert made.at("weighing", "loss", after) == pytest.approx((14.38 - 9.75) / 0.06 / 5)


def test_nor_is_its_stack_and_its_loss_is_of_the_other_boards(made: Shop) -> None:
    """S2 to S4 lost 0.15, 0.15 and 0.9 lb in five days; F1 1.3 lb."""
    losses, advice = (made.of("stack", "name", key) for key in ("loss_weighed", "advice"))
    assert losses == pytest.approx({"Slip": 1.2 / 3 / 0.06 / 5, "Fast": 1.3 / 0.06 / 5})
    assert made.of("stack", "name", "mc_now")["Slip"] > 40  # wet enough to be told
    assert advice["Slip"] != OVER_SAFE_RATE
    assert advice["Fast"] == OVER_SAFE_RATE
    assert made.found("Stacks over the safe rate", "Stacks") == 1
