"""Headers with a comma inside a name that nothing quotes."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.logger.header import find_header
from lumbercalc.book.logger.log import read_log

READING = ["2025-03-01 00:30", "60.5", "41.5", "38.5"]


@pytest.mark.parametrize(
    ("header", "names"),
    [
        ("Time, UTC,Temp F,RH,Dew point F", ["Time, UTC", "Temp F", "RH", "Dew point F"]),
        (
            "Time, GMT-05:00,Temp, °F,RH, %,Dew point, °F,Note",
            ["Time, GMT-05:00", "Temp, °F", "RH, %", "Dew point, °F"],
        ),
        ("Time,Temp,F,RH", ["Time", "Temp", "F", "RH"]),  # as wide as the readings
        ("Time,Temp,F,RH,Note", ["Time", "Temp", "F", "RH"]),  # over a column of units
        ("Time,%,°C,RH,Note", ["Time", "%", "°C", "RH"]),  # too narrow if they were joined
    ],
)
def test_a_unit_or_a_zone_behind_a_comma(header: str, names: list[str]) -> None:
    assert find_header([header.split(","), READING], 1, len(READING)).names == names


def test_a_header_wider_than_every_reading_is_told(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    rows = [f"2025-03-{n:02},60.5,41.5" for n in range(1, 29)]
    path.write_text("\n".join(["Time,Temp F,RH,Note, if any", *rows]))
    [remark] = read_log(path).remarks
    assert remark.startswith("the header has 5 columns and the readings 3: if a comma stands")
    path.write_text("\n".join(["Time,Temp F,RH,Note", *rows, "2025-03-29,60.5,41.5,moved"]))
    assert read_log(path).remarks == []
