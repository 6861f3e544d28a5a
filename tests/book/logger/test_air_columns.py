"""The air's own temperature and humidity, and no dew point or wet bulb in their place."""

from __future__ import annotations

from pathlib import Path

import pytest

from lumbercalc.book.logger.log import read_log
from lumbercalc.faults import FileFault


def write(folder: Path, header: str, line: str) -> Path:
    """Forty readings: {t} is of the air in deg F, {rh} its humidity, {low} a dew point."""
    path = folder / "log.csv"
    rows = [
        f"2025-03-{1 + n // 4:02} {6 * (n % 4):02}:30,"
        + line.format(t=60.5 + n % 7, rh=41.5 + n % 30, low=38.5 + n % 7)
        for n in range(40)
    ]
    path.write_text("\n".join([f"Time,{header}", *rows, ""]), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("header", "line", "words"),
    [
        ("RH,Dew point F", "{rh},{low}", "humidity ('RH') and dew point ('Dew point F'), but no t"),
        ("RH,Dew point", "{rh},{low} F", "humidity ('RH') and dew point ('Dew point'), but no t"),
        ("RH,DP (°F)", "{rh},{low}", "humidity ('RH') and dew point ('DP (°F)'), but no temper"),
        ("Feuchte %,Taupunkt °C", "{rh},{low}", "dew point ('Taupunkt °C'), but no temperature"),
        ("RH,Wet bulb", "{rh},{low}°F", "humidity ('RH') and wet bulb ('Wet bulb'), but no temp"),
        ("RH,Wet-bulb temp F", "{rh},{low}", "wet bulb ('Wet-bulb temp F'), but no temperature"),
        ("RH,Twb °C", "{rh},{low}", "humidity ('RH') and wet bulb ('Twb °C'), but no temperature"),
        ("Temp F,Dew point F", "{t},{low}", "temperature ('Temp F') and dew point ('Dew point F')"),
        ("Temp F,EMC %", "{t},9.5", "moisture content ('EMC %'), but no humidity of the air"),
        ("A °F,EMC", "{t},9.5", "moisture content ('EMC'), but no humidity of the air"),
        ("Dew point,Wet bulb", "{low},{low}", "but no temperature and no humidity of the air; let"),
    ],
)
def test_what_follows_from_the_air_is_not_its_temperature_or_humidity(
    tmp_path: Path, header: str, line: str, words: str
) -> None:
    with pytest.raises(FileFault) as fault:
        read_log(write(tmp_path, header, line), unit="F")
    assert words in str(fault.value)
    assert "let the logger's program export that too" in str(fault.value)
    assert "--" not in str(fault.value)  # none is offered


@pytest.mark.parametrize(
    ("header", "line"),
    [
        ("Dew point (F),RH,Temp (F)", "{low},{rh},{t}"),
        ("Dew point (F),RH,Dry bulb (F)", "{low},{rh},{t}"),
        ("Dew point,RH,Air", "{low} F,{rh},{t} F"),
        ("Wet bulb temp (F),Dew point temp (F),RH,Temp (F)", "{low},{low},{rh},{t}"),
        ("Temp F,Hum,Humidex", "{t},{rh},66"),
        ("Temp F,RH,Specific humidity,Humidity ratio", "{t},{rh},7.1,0.012"),
        ("Temp F,RH,EMC %,Apparent temp F", "{t},{rh},9.5,61"),
    ],
)
def test_the_air_s_own_columns_beside_them(tmp_path: Path, header: str, line: str) -> None:
    log = read_log(write(tmp_path, header, line), unit="F")
    assert log.air["temp_f"].iloc[:7].tolist() == [60.5 + n for n in range(7)]
    assert log.air["rh_pct"].iloc[:7].tolist() == [41.5 + n for n in range(7)]


def test_another_column_may_be_chosen_in_place_of_a_dew_point(tmp_path: Path) -> None:
    path = write(tmp_path, "RH,A,Dew point F", "{rh},{t},{low}")
    with pytest.raises(FileFault, match=r"of the air; choose with --temperature HEADER .*: 'A'$"):
        read_log(path, unit="F")
    assert read_log(path, unit="F", temperature="A").columns == ("Time", "A", "RH")


def test_a_blank_cell_names_no_unit(tmp_path: Path) -> None:
    """A column of pressures with a gap was once read as temperatures."""
    path = write(tmp_path, "RH,Pressure", "{rh},29.9")
    path.write_text(path.read_text().replace("29.9", "", 1))
    with pytest.raises(FileFault, match="there is no column of temperature"):
        read_log(path, unit="F")


@pytest.mark.parametrize("unit", ["%", "%rH", "% r.H.", "RH", " RH%", " %RH"])
def test_units_of_a_humidity_beside_its_number(tmp_path: Path, unit: str) -> None:
    log = read_log(write(tmp_path, "A,B", f"{{rh}}{unit},{{t}}"), unit="F")
    assert log.columns == ("Time", "B", "A")
    assert log.air["rh_pct"].iloc[0] == 41.5
