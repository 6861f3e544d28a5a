"""The unit of a log's temperatures: as it is named or asked for, or told by the warmest of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.logger.log import read_log
from lumbercalc.faults import FileFault


def write(folder: Path, *rows: str) -> Path:
    path = folder / "log.csv"
    path.write_text("\n".join([*rows, ""]), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("header", "values", "asked", "unit", "words"),
    [
        ("Temp (C)", [10, 20], None, "C", "as the header says"),
        ("Temp °C", [10, 20], None, "C", "as the header says"),
        ("Temp (°C)", [10, 20], "F", "F", "as asked"),
        ("Temp", [10, 70], None, "F", "as the warmest readings are above 45"),
        ("Temp", [10, 20], "C", "C", "as asked"),
        ("Temp", [10, 70], "C", "C", "as asked"),
        ("Temp Celsius", [10, 70], None, "C", "as the header says"),
        ("Temp (F)", [10, 20], None, "F", "as the header says"),
        ("Temp channel", [10, 70], None, "F", "as the warmest readings are above 45"),
        ("Temp", ["10 °F", "20 °F"], None, "F", "as the readings say"),
        ("Temp", ["10 ℃", "20 ℃"], None, "C", "as the readings say"),  # signs of one letter
        ("Temp", ["10 ℉", "20 ℉"], None, "F", "as the readings say"),
    ],
)
def test_unit(
    tmp_path: Path, header: str, values: list[object], asked: str | None, unit: str, words: str
) -> None:
    rows = [f"Time,{header},RH"]
    rows += [f"2025-06-{n:02},{value},50" for n, value in enumerate(values * 3, 1)]
    log = read_log(write(tmp_path, *rows), unit=asked)  # type: ignore[arg-type]
    assert log.unit.startswith(f"deg {unit}, ")
    assert words in log.unit
    first = float(str(values[0]).split()[0])
    assert log.air["temp_f"].iloc[0] == pytest.approx(first if unit == "F" else first * 1.8 + 32)


@pytest.mark.parametrize("header", ["Temp", "Temp channel"])
def test_a_frosty_month_without_a_unit_is_not_guessed_at(tmp_path: Path, header: str) -> None:
    rows = [f"Time,{header},RH", *(f"2025-01-{n:02},{20 + n},50" for n in range(1, 24))]
    path = write(tmp_path, *rows)
    with pytest.raises(
        FileFault, match=r"name no unit, and 21 to 43 can be deg F or deg C; .*--un"
    ):
        read_log(path)
    assert read_log(path, unit="F").air["temp_f"].iloc[0] == 21


def test_one_stray_reading_tells_no_unit(tmp_path: Path) -> None:
    """A logger in the sun for an hour: 1 of 168 readings of a cold week."""
    hours = [(f"2025-01-{n // 24 + 1:02} {n % 24:02}:00", 20 + n % 24) for n in range(168)]
    rows = [f"{time},{120 if n == 60 else temp},50" for n, (time, temp) in enumerate(hours)]
    with pytest.raises(FileFault, match="name no unit, and 20 to 120 can be deg F or deg C"):
        read_log(write(tmp_path, "Time,Temp,RH", *rows))
