"""The columns of a data logger's file: by words, by units, by number, or refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.logger.log import ClimateLog, read_log
from lumbercalc.faults import FileFault

CELSIUS = [(10.0 + n % 9, 45.5 + n % 30) for n in range(40)]
"""deg C and % RH: both columns fit 0 to 100, and the humidities are above 45."""


def write(folder: Path, *rows: str) -> Path:
    path = folder / "log.csv"
    path.write_text("\n".join([*rows, ""]), encoding="utf-8")
    return path


def times(form: str = "2025-03-{:02} {:02}:30") -> list[str]:
    return [form.format(1 + n // 4, 6 * (n % 4) + 1) for n in range(40)]


def assert_read(log: ClimateLog) -> None:
    assert log.air["temp_f"].tolist() == pytest.approx([t * 1.8 + 32 for t, _ in CELSIUS])
    assert log.air["rh_pct"].tolist() == [rh for _, rh in CELSIUS]
    assert [f"{time:%Y-%m-%d %H:%M}" for time in log.air.index] == times()
    assert (log.bad, log.blank, log.duplicates) == (0, 0, 0)


@pytest.mark.parametrize(
    "header",
    ["Time,H(%),T(C)", "Time,H (%),T (°C)", "Zeit,Feuchte,T (°C)", "Time,RH %,T °C", "t,a,T_C",
     "Zeit,Luftfeuchte (%),Temperatur (°C)", "Time,A,B\n,%,°C", "Time,A (%),B (Celsius)"],
)  # fmt: skip
def test_units_in_the_header_tell_the_columns(tmp_path: Path, header: str) -> None:
    rows = [f"{time},{rh},{t}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    log = read_log(write(tmp_path, header, *rows))
    assert_read(log)
    assert log.unit == "deg C, as the header says"


def test_rows_without_a_reading_may_stand_between_the_header_and_the_first(tmp_path: Path) -> None:
    rows = [f"{time},{t},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    silent = [f"2025-02-28 0{hour}:30,," for hour in range(4)]
    log = read_log(write(tmp_path, "Time,Temp C,RH", *silent, *rows))
    assert log.columns == ("Time", "Temp C", "RH")
    assert log.air["rh_pct"].tolist() == [rh for _, rh in CELSIUS]


def test_the_column_that_is_left_is_a_humidity_in_fog_too(tmp_path: Path) -> None:
    rows = [f"{time},{t},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    log = read_log(write(tmp_path, "Time,A (°C),B", *rows, "2025-03-12 01:30,10,103"))
    assert log.columns == ("Time", "A (°C)", "B")
    assert (log.fog, log.air["rh_pct"].iloc[-1]) == (1, 100)


@pytest.mark.parametrize("header", ["", "Time,A,B"])
@pytest.mark.parametrize(("rh_unit", "t_unit"), [("", "C"), ("", " °C"), (" % RH", " degC")])
def test_units_in_the_cells_tell_them_too(
    tmp_path: Path, header: str, rh_unit: str, t_unit: str
) -> None:
    rows = [
        f"{time},{rh}{rh_unit},{t}{t_unit}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)
    ]
    log = read_log(write(tmp_path, header, *rows))
    assert_read(log)
    assert log.unit == "deg C, as the readings say"


def test_nothing_that_tells_them_apart_is_asked_for(tmp_path: Path) -> None:
    rows = [f"{time},{rh},{t}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    path = write(tmp_path, *rows)
    with pytest.raises(
        FileFault, match=r"2, 3 apart, as both fit 0 to 100; choose with --temp.*NU"
    ):
        read_log(path)
    assert_read(read_log(path, temperature="3", humidity="2", unit="C"))
    log = read_log(path, temperature="3", unit="C")  # there is but one other
    assert_read(log)
    assert log.columns == ("column 1", "column 3", "column 2")
    with pytest.raises(FileFault, match="there is no column '4'"):
        read_log(path, temperature="4")
    path = write(tmp_path, "Time,A,B", *rows)
    with pytest.raises(FileFault, match=r"'A', 'B' apart, .*--temperature HEADER and --humidity H"):
        read_log(path)
    assert_read(read_log(path, temperature="b", humidity="A", unit="C"))
    frosty = [f"{time},{rh},{t}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    frosty[0] = f"{times()[0]},45.5,-10"
    log = read_log(write(tmp_path, *frosty), unit="C")  # no humidity is below 0
    assert log.air["temp_f"].iloc[0] == 14


def test_a_percent_that_is_no_humidity_is_passed_over(tmp_path: Path) -> None:
    rows = [f"{time},88,{t},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    assert_read(read_log(write(tmp_path, "Time,Battery (%),T (C),H (%)", *rows)))
    path = write(tmp_path, "Time,Pressure,Temp C,Level %", *rows)
    with pytest.raises(FileFault, match="there is no column of humidity; choose with --humidity H"):
        read_log(path)


def test_the_letter_of_a_channel_is_no_unit(tmp_path: Path) -> None:
    rows = [f"{time},{t * 1.8 + 32},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    log = read_log(write(tmp_path, "Time,Channel C temp,Channel C RH", *rows))
    assert_read(log)
    assert log.unit == "deg F, as the warmest readings are above 45"


def test_decimal_commas_between_commas_are_refused(tmp_path: Path) -> None:
    rows = [f"{time},10,{n + 10},61,37" for n, time in enumerate(times())]
    with pytest.raises(FileFault, match=r"40 of 40 rows .* row 2 has 5 cells and the header 3: "):
        read_log(write(tmp_path, "Time,Temperature C,Humidity", *rows))
    rows = [f"{time},{t},{rh},," for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    assert_read(read_log(write(tmp_path, "Time,Temp C,RH", *rows)))  # blank cells move nothing
    rows[7] += "a note, with a comma"
    log = read_log(write(tmp_path, "Time,Temp C,RH", *rows))
    assert (log.bad, len(log.air)) == (1, 39)
    assert log.examples[0].startswith("row 9 has 6 cells and the header 3")


def test_rows_narrower_than_the_others_are_read(tmp_path: Path) -> None:
    rows = [f"{time},{t},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    rows[15:] = [row + ",ok" for row in rows[15:]]
    assert_read(read_log(write(tmp_path, "Time,Temp C,RH,Note", *rows)))
    with pytest.raises(FileFault, match=r"25 of 40 rows .* row 17 has 4 cells and the header 3"):
        read_log(write(tmp_path, "Time,Temp C,RH", *rows))


def test_rows_with_the_time_in_another_column_are_not_lost(tmp_path: Path) -> None:
    rows = [f"{time},{t},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    rows[15:] = [f"{n},{row}" for n, row in enumerate(rows[15:])]
    with pytest.raises(FileFault, match="rows 2 to 16 have the time in another column than those"):
        read_log(write(tmp_path, "Time,Temp C,RH", *rows))
    began = ["Began,2025-03-01 00:00,40 readings", "Battery,2025-03-01 00:00,88"]
    rows = [f"{time},{t},{rh}" for time, (t, rh) in zip(times(), CELSIUS, strict=True)]
    assert_read(read_log(write(tmp_path, *began, "Time,Temp C,RH", *rows)))


@pytest.mark.parametrize(
    ("header", "form"),
    [
        ("Date,Time", "2025-03-{:02},{:02}.30"),
        ("Date,Time", "2025-03-{:02},{:02}:30"),
        ("Date", "2025-03-{:02}\u00a0{:02}:30"),
        ("Date", "2025-03-{:02}\u202f{:02}:30"),
        ("Date", '"2025-03-{:02} {:02}:30"'),
        ("Date,Time", "{:02}-Mar-2025,{:02}:30 EST"),
        ("Date,Time", '"Mar {:02}, 2025",{:02}:30'),
        ("Date/Time (GMT-05:00)", "2025-03-{:02}T{:02}:30:00-05:00"),
    ],
)
def test_clocks(tmp_path: Path, header: str, form: str) -> None:
    air = zip(times(form), CELSIUS, strict=True)
    rows = [f'{time}, "{t}", "{rh}"' for time, (t, rh) in air]
    assert_read(read_log(write(tmp_path, f'{header}, "Temp C", "RH"', *rows)))


def test_hours_and_halves_of_the_day_in_columns_of_their_own(tmp_path: Path) -> None:
    air = [f"{t},{rh}" for t, rh in CELSIUS]
    stamps = [(time[:10], int(time[11:13])) for time in times()]
    there = [f"{day} {hour:02}:00" for day, hour in stamps]
    rows = [f"{day},{hour},{each}" for (day, hour), each in zip(stamps, air, strict=True)]
    log = read_log(write(tmp_path, "Date,Hour,Temp C,RH", *rows))
    assert [f"{time:%Y-%m-%d %H:%M}" for time in log.air.index] == there
    for form in ("{},{}:00,{}M,{}", "{} {}:00,{}M,{}", "{},{},{}M,{}", "{} {}:00\u202f{}m,{}"):
        rows = [
            form.format(day, hour % 12 or 12, "AP"[hour // 12], each)
            for (day, hour), each in zip(stamps, air, strict=True)
        ]
        columns = form.count(",") - 1
        header = ",".join(["Date", "Time", "Half"][: columns + 1])
        log = read_log(write(tmp_path, f"{header},Temp C,RH", *rows))
        assert [f"{time:%Y-%m-%d %H:%M}" for time in log.air.index] == there, form
