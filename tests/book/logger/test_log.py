"""A data logger's file: formats, times, units, and readings that are left out."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.logger.log import MOST_BAD, read_log
from lumbercalc.faults import FileFault
from lumbercalc.sheet.vocabulary import RH_LIMITS, TEMP_LIMITS
from tests.book.logger.forms import FORMS

START = datetime(2025, 3, 28, 7, 30)
READINGS = [(START + timedelta(hours=6 * n), 50.5 + n % 7, 61.5 + n % 11) for n in range(60)]
"""Time, deg F, % RH: from March into April, no gap."""


def lines(
    form: str = "%Y-%m-%d %H:%M", delimiter: str = ",", mark: str = ".", header: str = ""
) -> list[str]:
    """The readings as a logger writes them."""
    rows = [header.replace(";", delimiter)] if header else []
    for time, temp, rh in READINGS:
        numbers = [f"{number:.1f}".replace(".", mark) for number in (temp, rh)]
        rows.append(delimiter.join([time.strftime(form), *numbers]))
    return rows


def write(folder: Path, rows: list[str], encoding: str = "utf-8") -> Path:
    path = folder / "log.csv"
    path.write_bytes("\r\n".join([*rows, ""]).encode(encoding))
    return path


def assert_all_read(path: Path, **asked: object) -> None:
    log = read_log(path, **asked)  # type: ignore[arg-type]
    assert [time.to_pydatetime() for time in log.air.index] == [time for time, _, _ in READINGS]
    assert log.air["temp_f"].tolist() == pytest.approx([temp for _, temp, _ in READINGS])
    assert log.air["rh_pct"].tolist() == pytest.approx([rh for _, _, rh in READINGS])
    assert (log.rows, log.bad, log.blank, log.duplicates) == (60, 0, 0, 0)
    assert log.gaps == []


HEADERS = (
    "Time;Temperature (°F);Humidity (%)",
    "Date and time;Temp F;RH",
    "timestamp;temp_f;rh_pct",
    "DATE;Air temp. deg F;% RH",
    "Time;Temp / Fahrenheit;Rel. humidity",
)
PREAMBLES = (
    [],
    ["Logger of the shed"],
    ["Serial;none", "Started;2025-03-01 00:00", "", "Interval;6 h"],
)


@settings(
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.sampled_from(FORMS),
    st.sampled_from([(",", "."), (";", "."), (";", ","), ("\t", "."), ("\t", ",")]),
    st.sampled_from(HEADERS),
    st.sampled_from(PREAMBLES),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "latin-1"]),
)
def test_every_format_is_read_as_the_same_air(
    tmp_path: Path, form: str, marks: tuple[str, str], header: str, before: list[str], encoding: str
) -> None:
    if marks[0] == "," and ", " in form:
        form = form.replace(", ", " ")
    rows = [row.replace(";", marks[0]) for row in before] + lines(form, *marks, header)
    assert_all_read(write(tmp_path, rows, encoding))


def test_other_shapes_of_the_same_air(tmp_path: Path) -> None:
    rows = lines("%m/%d/%Y,%I:%M:%S %p", header="Date;Time;Temperature (F);Humidity")
    assert_all_read(write(tmp_path, rows))  # the day in a column of its own
    rows = [f"{n},{row}," for n, row in enumerate(lines("%m/%d/%Y %H:%M"), 1)]
    by_number = {"temperature": "3", "humidity": "4"}  # both columns fit 0 to 100
    assert_all_read(write(tmp_path, rows), **by_number)  # counted, a last delimiter, no header
    rows = [row.replace(",", " °F,", 2).replace(" °F", "", 1) + " %RH" for row in lines()]
    assert_all_read(write(tmp_path, rows))  # units beside the numbers
    rows = ["Time,Temp,Humidity", ",°F,%RH", *lines()]
    assert_all_read(write(tmp_path, rows))  # a line of units under the header
    header = "Time;Temp (F);Dew point temp (F);Humidity;Max humidity"
    rows = [header.replace(";", ",")]
    rows += [f"{time},{temp},40.0,{rh},99" for time, temp, rh in READINGS]
    assert_all_read(write(tmp_path, rows))  # columns that are not the air's own
    swapped = [f"{time},{rh} %,{temp}" for time, temp, rh in READINGS]
    assert_all_read(write(tmp_path, swapped))  # no header: the % tells
    quoted = [f'"{row.replace(",", chr(34) + "," + chr(34))}"' for row in lines(header=HEADERS[0])]
    assert_all_read(write(tmp_path, quoted))


def test_rows_in_any_order(tmp_path: Path) -> None:
    rows = lines("%m/%d/%Y %H:%M")
    random.Random(4).shuffle(rows)
    assert_all_read(write(tmp_path, [HEADERS[0].replace(";", ","), *rows]))
    assert_all_read(write(tmp_path, [HEADERS[0].replace(";", ","), *reversed(lines())]))


def with_rows(folder: Path, *extra: str) -> Path:
    return write(folder, ["Time,Temp F,RH", *lines(), *extra])


def test_what_real_exports_have_around_the_readings(tmp_path: Path) -> None:
    """Common practice, no source: as programs of loggers and spreadsheets write their files."""
    rows = lines(header="Time;Temp F;RH")
    assert_all_read(write(tmp_path, ["Serial number 0012345", *rows]))
    assert_all_read(write(tmp_path, ["Serial number,0012345", "Shed,,,", "", *rows]))
    assert_all_read(write(tmp_path, [*rows, "", ",,", ""]))  # blank last lines
    semicolons = lines(delimiter=";", mark=",", header="Time;Temp F;RH")
    assert_all_read(write(tmp_path, ["sep=;", *semicolons], "utf-8-sig"))
    units = ["Time;Temp;RH", "yyyy-mm-dd hh:mm;°F;%", *semicolons[1:]]
    assert_all_read(write(tmp_path, units, "utf-16"))
    counted = ["#,Time,Temp F,RH", *(f"{n},{row}" for n, row in enumerate(rows[1:], 1))]
    assert_all_read(write(tmp_path, counted))


def test_duplicates_are_kept_once_and_the_first_of_them(tmp_path: Path) -> None:
    log = read_log(with_rows(tmp_path, lines()[3], f"{READINGS[5][0]},99,99", lines()[3]))
    assert (log.rows, log.duplicates, len(log.air)) == (63, 3, 60)
    assert log.air["temp_f"].iloc[5] == READINGS[5][1]
    assert log.air.index.is_monotonic_increasing


@pytest.mark.parametrize(
    "nothing", ["", "---", " -- ", "N/A", "nan", "NULL", "Err", "Error", "#N/A", "n.a.", "No data"]
)
def test_rows_without_a_reading_are_counted(tmp_path: Path, nothing: str) -> None:
    log = read_log(with_rows(tmp_path, f"2025-05-01,{nothing},50", f"2025-05-02,60,{nothing}"))
    assert (log.blank, log.bad, len(log.air), log.rows) == (2, 0, 60, 62)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("2025-05-01,60,140", f"row 62: humidity '140' must be {RH_LIMITS.words()}"),
        ("2025-05-01,60,-1", "humidity '-1'"),
        ("2025-05-01,60,wet", "humidity 'wet'"),
        ("2025-05-01,60,=1+1", "humidity '=1+1'"),
        ("2025-05-01,60", None),
        ("2025-05-01,600,40", f"temperature '600' must be {TEMP_LIMITS.words()}"),
        ("2025-05-01,1e5,40", "temperature '1e5'"),
        ("2025-05-01,inf,40", "temperature 'inf'"),
        ("2025-13-01,60,40", "'2025-13-01' is not a time"),
        ("End of the log", "'End of the log' is not a time"),
    ],
)
def test_what_is_impossible_is_counted_shown_and_left_out(
    tmp_path: Path, row: str, words: str | None
) -> None:
    log = read_log(with_rows(tmp_path, row))
    assert len(log.air) == 60
    assert (log.bad, log.blank) == ((0, 1) if words is None else (1, 0))
    assert all(words in example for example in log.examples if words)
    assert len(log.examples) == log.bad


def test_a_humidity_a_little_over_100_is_fog(tmp_path: Path) -> None:
    fog = [f"2025-05-{n:02},60,{100 + n}" for n in range(1, 7)]  # 106 % is none
    log = read_log(with_rows(tmp_path, *fog))
    assert (log.fog, log.bad) == (5, 1)
    assert log.examples == [f"row 67: humidity '106' must be {RH_LIMITS.words()}"]
    assert log.air["rh_pct"].iloc[-5:].tolist() == [100] * 5


def test_limits_are_told_in_the_unit_of_the_log(tmp_path: Path) -> None:
    rows = ["Time,Temp C,RH", *lines(), "2025-05-01,-99.9,50", "2025-05-02,\u22125.0,50"]
    log = read_log(write(tmp_path, rows))
    assert log.examples == ["row 62: temperature '-99.9' must be from -40 to 98.8 deg C"]
    assert log.air["temp_f"].iloc[-1] == pytest.approx(23)  # -5 deg C


def test_only_so_many_may_be_bad(tmp_path: Path) -> None:
    most = int(60 * MOST_BAD / (1 - MOST_BAD))
    bad = [f"2025-05-{n:02},60,140" for n in range(1, most + 2)]
    assert read_log(with_rows(tmp_path, *bad[:-1])).bad == most
    share = write(tmp_path, ["Time,Temp F,RH", *lines()[3:], *bad[:3]])  # 3 of 60
    assert read_log(share).bad == MOST_BAD * 60
    with pytest.raises(FileFault, match=f"{most + 1} of {61 + most} rows .* more than 5%; .*'140'"):
        read_log(with_rows(tmp_path, *bad))


def test_gaps_longer_than_a_day(tmp_path: Path) -> None:
    last = READINGS[-1][0]
    later = [last + timedelta(hours=24), last + timedelta(hours=49)]
    log = read_log(with_rows(tmp_path, *(f"{time},60,50" for time in later)))
    assert [(a.to_pydatetime(), b.to_pydatetime()) for a, b in log.gaps] == [(later[0], later[1])]


def test_columns_can_be_named(tmp_path: Path) -> None:
    rows = ["Time,Temp yard (F),Temp shed (F),RH yard,RH shed"]
    rows += [f"{time},1,{temp},2,{rh}" for time, temp, rh in READINGS]
    path = write(tmp_path, rows)
    assert_all_read(path, temperature="temp shed (F)", humidity="RH shed")
    with pytest.raises(FileFault, match=r"'Temp yard \(F\)', 'Temp shed \(F\)' may be the temp"):
        read_log(path)
    with pytest.raises(
        FileFault,
        match="'attic'; choose with --temperature HEADER among the columns: 'Temp yard",
    ):
        read_log(path, temperature="attic")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "the file is empty"),
        (b"\n\n", "the file is empty"),
        (b"Time,Temp,RH\n", "no row has a time"),
        (b"Time,Temp,RH\n46000,55,70\n\n", "between them; the last is '46000,55,70'"),
        (b"PK\x03\x04\x00\x00", "first and then the workbook; if it is the logger's, save it as"),
        (b"\xff\xfe\x00", "not a text file"),
        (b"2025-01-01 10:00 o'clock,60,50\n", "no row has a time .such as 2025-06-01 14:30.,"),
        (b"2025-01-01,60\n", "columns of numbers are 1; choose with --temperature NUMBER and --h"),
        (b"2025-01-01,60,50,40\n", "columns of numbers are 3"),
        (b"Time,Temp,RH\n2025-01-01,60&deg;F,50\n", "row 2: temperature '60&deg;F' must be"),
        (b"Time,Temp,RH\n2025-01-01,60,0.5\n2025-01-02,60,0.6\n", "2 of 2 rows cannot be used"),
        (b"Time,Temp,RH\n2025-01-01,60,---\n", "no row has both"),
        (b'2025-01-01,60,"' + b"x" * 200_000, "not a CSV file"),
    ],
)
def test_what_is_no_log(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(content)
    with pytest.raises(FileFault, match=words) as fault:
        read_log(path)
    assert "\n" not in str(fault.value)


def test_no_file_and_too_large_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(FileFault, match="there is no such file"):
        read_log(tmp_path / "log.csv")
    with pytest.raises(FileFault, match="this is a folder"):
        read_log(tmp_path)
    monkeypatch.setattr("lumbercalc.book.logger.lines.LARGEST_LOG", 100)
    with pytest.raises(FileFault, match="at most 100 are read"):
        read_log(write(tmp_path, lines()))


@given(st.binary(max_size=300))
@settings(
    max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_bytes_are_read_or_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"Time,Temp,RH\n2025-01-01 10:00,60,50\n" + content)
    try:
        log = read_log(path)
    except FileFault:
        return
    assert np.isfinite(log.air.to_numpy()).all()
    assert len(log.air) + log.duplicates + log.blank + log.bad == log.rows


def test_the_sample_log() -> None:
    log = read_log(sample_folder() / "hygrometer_log.csv")
    assert log.columns == ("Date and time", "Temperature (deg F)", "Humidity (%RH)")
    assert (log.bad, log.blank, log.duplicates, len(log.gaps)) == (1, 3, 2, 1)
    assert 60 < (log.last - log.first).days < 92
