"""Files of two loggers, two tables, two times or two units: told or refused, never averaged."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from lumbercalc.book.logger.log import read_log
from lumbercalc.faults import FileFault

START = datetime(2025, 3, 1)
FORM = "%Y-%m-%d %H:%M"


def rows(line: Callable[[datetime, float, float], str], hours: int = 2) -> list[str]:
    """Sixty readings of a yard in deg F and % RH."""
    times = [START + timedelta(hours=hours * n) for n in range(60)]
    return [line(time, 50.0 + n % 9, 60.0 + n % 7) for n, time in enumerate(times)]


def plain(time: datetime, temp: float, rh: float) -> str:
    return f"{time:{FORM}},{temp},{rh}"


def write(folder: Path, *lines: str) -> Path:
    path = folder / "log.csv"
    path.write_text("\n".join([*lines, ""]), encoding="utf-8")
    return path


def refused(path: Path, words: str, **asked: str) -> None:
    with pytest.raises(FileFault, match=words) as fault:
        read_log(path, **asked)  # type: ignore[arg-type]
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize("minutes", [0, 3])
def test_two_loggers_in_turn(tmp_path: Path, minutes: int) -> None:
    later = timedelta(minutes=minutes)
    lines = rows(
        lambda time, temp, rh: (
            f"{time:{FORM}},yard,{temp},{rh}\n{time + later:{FORM}},kiln room,95,25"
        )
    )
    for name in ("Device", "Sensor name", "Location"):
        path = write(tmp_path, f"Time,{name},Temp F,RH", *lines)
        refused(
            path, f"'{name}' names several loggers or places \\('yard', 'kiln room'\\).*file of"
        )
    path = write(tmp_path, "Time,Hinweis,Temp F,RH", *lines)
    if minutes:
        remarks = " ".join(read_log(path).remarks)
        assert "column 'Hinweis' holds 'yard', 'kiln room': if these are several" in remarks
        assert "jumps by more than 27 deg F (15 deg C) 119 times" in remarks
    else:
        refused(path, "60 of 120 rows have a time that was there before.* row 3: 2025-03-01 00:00")


def test_columns_that_tell_no_loggers_apart(tmp_path: Path) -> None:
    for name, cell in (("Device", "yard"), ("Sensor voltage", "{:.1f}"), ("Nr", "{:.0f}")):
        lines = rows(lambda t, temp, rh, c=cell: f"{t:{FORM}},{c.format(temp % 3)},{temp},{rh}")
        log = read_log(write(tmp_path, f"Time,{name},Temp F,RH", *lines))
        assert (log.remarks, len(log.air)) == ([], 60)


@pytest.mark.parametrize(
    ("name", "first", "second", "device"),
    [
        ("Time zone", "EST", "EDT", False),
        ("Day", "Mon", "Tuesday", False),
        ("Zone", "EAST", "WEST", True),
    ],
)
def test_a_zone_or_a_weekday_tells_no_loggers_apart(
    tmp_path: Path, name: str, first: str, second: str, device: bool
) -> None:
    lines = rows(lambda t, temp, rh: f"{t:{FORM}},{first if t.day < 4 else second},{temp},{rh}")
    path = write(tmp_path, f"Time,{name},Temp F,RH", *lines)
    if device:
        refused(path, "names several loggers or places")
    else:
        assert read_log(path).remarks == []


def test_of_two_columns_of_times_that_of_utc_is_passed_over(tmp_path: Path) -> None:
    lines = rows(lambda t, temp, rh: f"{t + timedelta(hours=5):{FORM}},{t:{FORM}},{temp},{rh}")
    for local in ("Time (local)", "Time (GMT-05:00)"):
        log = read_log(write(tmp_path, f"Time (UTC),{local},Temp F,RH", *lines))
        assert (log.first, log.columns[0]) == (START, local)


def test_times_that_come_again_with_other_readings(tmp_path: Path) -> None:
    lines = rows(lambda time, temp, rh: f"{time:%Y-%m-%d},{temp},{rh}")
    refused(
        write(tmp_path, "Time,Temp F,RH", *lines),
        "such as row 5: 2025-03-01 00:00 with 53.0 deg F and 63.0 % RH, before with 50.0 and 60.0",
    )
    steady = rows(lambda time, temp, rh: f"{time:%Y-%m-%d},50.{temp:.0f},60")
    assert read_log(write(tmp_path, "Time,Temp F,RH", *steady)).duplicates == 55
    autumn = [*rows(plain), "2025-03-02 00:00,99,99"]  # an hour that comes twice
    assert read_log(write(tmp_path, "Time,Temp F,RH", *autumn)).duplicates == 1


def test_a_second_table(tmp_path: Path) -> None:
    first, second = rows(plain)[:30], rows(plain)[30:]
    path = write(tmp_path, "Time,Temp F,RH", *first, "", "Shed", "Time,RH,Temp F", *second)
    refused(path, r"row 34 begins a second table with other columns \(Time, RH, Temp F\)")
    path = write(tmp_path, "Time,Temp F,RH", *first, "Time,Temp F,RH", *second)
    log = read_log(path)
    assert (log.rows, log.bad, len(log.air)) == (60, 0, 60)
    assert log.remarks == [
        "the header stands again in row 32: what is below is taken as of the same logger"
    ]


@pytest.mark.parametrize("header", ["Time,Temp F,RH", "Time,Fahrenheit(°F),Humidity(%)"])
def test_a_header_over_every_few_rows_is_no_bad_row(tmp_path: Path, header: str) -> None:
    lines = rows(plain)
    often = [line for n in range(0, 60, 10) for line in (header, *lines[n : n + 10])]
    log = read_log(write(tmp_path, *often))  # 5 of 65 rows: more than may be bad
    assert (log.rows, log.bad, len(log.air)) == (60, 0, 60)
    assert log.remarks == [
        "the header stands again in rows 12, 23, 34, ...: what is below is taken as of the same "
        "logger"
    ]


def test_two_columns_of_times(tmp_path: Path) -> None:
    lines = rows(lambda t, temp, rh: f"{t + timedelta(days=40):{FORM}},{t:{FORM}},{temp},{rh}")
    path = write(tmp_path, "Uploaded,Measured,Temp F,RH", *lines)
    refused(path, "'Uploaded', 'Measured' may be the time; choose with --time HEADER, .*1 or 2")
    refused(path, "there is no column 'Temp F'", time="Temp F")
    for asked in ("measured", "2"):
        assert read_log(path, time=asked).first == START
    assert read_log(path, time="uploaded").first == START + timedelta(days=40)
    path = write(tmp_path, *lines)
    refused(path, "columns 1, 2 may be the time; choose with --time NUMBER")
    assert read_log(path, time="2", temperature="3", humidity="4").first == START


def test_a_header_again_without_a_column_that_is_read(tmp_path: Path) -> None:
    """A column that the first table names, and the second does not, may be another one there."""
    lines = rows(lambda time, temp, rh: f"{temp},{rh},{time:{FORM}}")
    header = "Temp F,RH,Time"
    path = write(tmp_path, header, *lines[:30], header, *lines[30:])
    assert read_log(path).remarks == [
        "the header stands again in row 32: what is below is taken as of the same logger"
    ]
    for again in ("Temp F,RH", "Temp F,RH,"):
        path = write(tmp_path, header, *lines[:30], again, *lines[30:])
        refused(path, r"row 32 begins a second table with other columns \(Temp F, RH\)")


def test_a_unit_that_changes(tmp_path: Path) -> None:
    lines = rows(plain)
    celsius = [plain(*_celsius(line)) for line in lines[30:]]
    log = read_log(write(tmp_path, "Time,Temp F,RH", *lines[:30], *celsius))
    assert log.remarks == [
        "the temperature jumps by more than 27 deg F (15 deg C) once, first at 2025-03-03 12:00 "
        "from 52.0 to 11.7 deg F: if the unit or the logger changes there, make a file of each part"
    ]
    named = [f"{time:{FORM}},{t} °C,{rh}" for time, t, rh in map(_celsius, lines[30:])]
    path = write(tmp_path, "Time,Temp,RH", *[_named(line) for line in lines[:30]], *named)
    log = read_log(path)
    assert log.air["temp_f"].tolist() == pytest.approx([50.0 + n % 9 for n in range(60)], abs=0.1)
    assert log.unit == "deg F and deg C, each as its reading says"
    both = [f"{line},{'F' if n < 30 else 'C'}" for n, line in enumerate(lines)]
    refused(write(tmp_path, "Time,Temp,RH,Unit", *both), "'Unit' names both deg F and deg C")


@pytest.mark.parametrize(("hours", "told"), [(3, True), (4, False)])
def test_a_jump_is_of_readings_that_are_near(tmp_path: Path, hours: int, told: bool) -> None:
    times = [START + timedelta(hours=hours * n) for n in range(10)]
    lines = [f"{time:{FORM}},{50 if n < 5 else 80},60" for n, time in enumerate(times)]
    remarks = read_log(write(tmp_path, "Time,Temp F,RH", *lines)).remarks
    assert [remark[:21] for remark in remarks] == ["the temperature jumps"] * told


def _celsius(line: str) -> tuple[datetime, float, float]:
    time, temp, rh = line.split(",")
    return datetime.strptime(time, FORM), round((float(temp) - 32) / 1.8, 1), float(rh)


def _named(line: str) -> str:
    time, temp, rh = line.split(",")
    return f"{time},{temp}°F,{rh}"


def test_air_as_hot_as_a_kiln(tmp_path: Path) -> None:
    [remark] = read_log(write(tmp_path, "Time,Temp C,RH", *rows(plain))).remarks
    assert remark.startswith("the warmest readings are 136 deg F, and air over 130 deg F is a kiln")
