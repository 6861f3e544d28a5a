"""A logger's air into a workbook: what is shown and asked, written, and refused."""

from __future__ import annotations

import re
from pathlib import Path

import pandas as pd
import pytest
from openpyxl import load_workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.workbook import Workbook
from typer.testing import CliRunner

import lumbercalc as lc
from lumbercalc.book.invented_shop import sample_folder
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.site import SITE
from lumbercalc.cli import app
from tests.cli.commands import assert_one_line, run

LOG = sample_folder() / "hygrometer_log.csv"


@pytest.fixture
def shop(demo: Path, tmp_path: Path) -> Path:
    """A copy of the demo that may be changed."""
    path = tmp_path / "shop.xlsx"
    path.write_bytes(demo.read_bytes())
    return path


def air_of(shop: Path, place: str) -> dict[object, tuple[float, float]]:
    """Temperature and humidity by month or first day."""
    rows = load_workbook(shop)["Site"].iter_rows(FIRST_ROW, 304, 1, 4, values_only=True)
    return {month: (temp, rh) for name, month, temp, rh in rows if name == place}


def test_climate_updates_the_months_of_the_log(shop: Path) -> None:
    before = air_of(shop, "yard")
    result = run("climate", LOG, shop, "--place", "Yard", "--yes")
    assert result.exit_code == 0, result.output
    after = air_of(shop, "yard")
    assert {month for month in after if after[month] != before[month]} == {6, 7, 8}
    log = pd.read_csv(LOG, skiprows=4, na_values="---", names=["time", "temp", "rh"], header=0)
    log = log[log["rh"] <= 100].dropna().drop_duplicates("time")
    august = log[log["time"].str.startswith("08/")]
    # every day of August has its twelve readings, so that the mean of days is that of readings
    assert set(august.groupby(august["time"].str[:10]).size()) == {12}
    expected = lc.mean_emc(august["temp"].tolist(), august["rh"].tolist())
    # two decimals of humidity: half of 0.01 % RH at 1.2 % MC per % RH
    assert lc.emc(*after[8]) == pytest.approx(expected, abs=0.006)
    assert "wrote 3 rows of yard" in result.stdout
    assert "Ctrl+Shift+F9" in result.stdout
    assert "kept the old file as" in result.stderr
    assert len(list(shop.parent.iterdir())) == 2


def test_climate_shows_what_it_read_and_would_write(shop: Path) -> None:
    before = shop.read_bytes()
    result = run("climate", LOG, shop, "--place", "yard", "--dry-run")
    assert (result.exit_code, result.stderr) == (0, "")
    for words in (
        r"Rows read +901\b", r"'Temperature \(deg F\)'", "2025-06-20 09:00 to 2025-09-05 17:00",
        "month/day: there is no 20th month", "deg F, as the header says",
        r"Gaps over a day +1: 2025-07-21 03:00 to 2025-07-23 17:00", r"Duplicate times +2\b",
        r"Without a reading +3\b", r"Left out as bad +1; row 308: humidity '127.0'",
        r"11 +Jul +30 +74\.0 -> 72\.5 +72\.0 -> 75\.0 +13\.5 -> 14\.4",
        "not written: Sep, with readings on 5 days only; 7 are needed",
    ):  # fmt: skip
        assert re.search(words, result.stdout), words
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert shop.read_bytes() == before
    assert list(shop.parent.iterdir()) == [shop]


def test_climate_tells_of_times_in_utc(shop: Path, tmp_path: Path) -> None:
    log = tmp_path / "utc.csv"
    log.write_text(
        "\n".join(["Time,Temp F,RH", *(f"{n}-Jan-2026 14:05Z,50,60" for n in range(1, 9))])
    )
    result = run("climate", log, shop, "--place", "yard", "--dry-run")
    assert (result.exit_code, result.stderr) == (0, "")
    said = " ".join(result.stdout.split())
    assert "months by name; in UTC, as written: days begin some hours off the place's own" in said
    assert max(map(len, result.stdout.splitlines())) <= 80


def test_climate_takes_no_dew_point_for_the_temperature(shop: Path, tmp_path: Path) -> None:
    log = tmp_path / "dew.csv"
    log.write_text(
        "\n".join(["Time,RH,Dew point F", *(f"2026-01-{n:02},60,38" for n in range(1, 9))])
    )
    before = shop.read_bytes()
    assert_one_line(
        run("climate", log, shop, "--place", "yard", "--yes"),
        "humidity ('RH') and dew point ('Dew point F'), but no temperature of the air",
    )
    assert shop.read_bytes() == before


@pytest.mark.parametrize(("answer", "writes"), [("y\n", True), ("n\n", False), ("", False)])
def test_climate_asks(shop: Path, answer: str, writes: bool) -> None:
    before = shop.read_bytes()
    result = CliRunner().invoke(app, ["climate", str(LOG), str(shop), "--place", "yard"], answer)
    assert result.exit_code == (0 if writes else 1)
    assert (shop.read_bytes() != before) is writes
    assert len(list(shop.parent.iterdir())) == (2 if writes else 1)


def test_climate_by_week_of_a_new_place(shop: Path) -> None:
    result = run("climate", LOG, shop, "--place", "lean-to", "--dated", "--yes")
    assert result.exit_code == 0, result.output
    assert "lean-to is new" in result.stdout
    assert "the row of 2025-09-01 holds on" in result.stdout
    days = list(air_of(shop, "lean-to"))
    assert days == [45828, *range(45831, 45902, 7)]  # 2025-06-20, then Mondays
    assert load_workbook(shop)["Site"]["J8"].value == "lean-to"
    written = air_of(shop, "lean-to")
    assert run("climate", LOG, shop, "--place", "lean-to", "--dated", "--yes").exit_code == 0
    assert air_of(shop, "lean-to") == written
    assert_one_line(
        run("climate", LOG, shop, "--place", "lean-to", "--yes"), "dated rows", "row 41"
    )


def test_climate_by_week_beside_the_months_of_a_place(shop: Path) -> None:
    months = air_of(shop, "yard")
    result = run("climate", LOG, shop, "--place", "yard", "--dated", "--yes")
    assert result.exit_code == 0, result.output
    assert "beside the months a dated row holds for 31 days at most" in result.stdout
    assert "lacks" not in result.stdout
    both = air_of(shop, "yard")
    assert {key: both[key] for key in months} == months
    assert len(both) == 12 + 12


def test_climate_says_which_months_a_place_lacks(shop: Path) -> None:
    result = run("climate", LOG, shop, "--place", "lean-to", "--dry-run")
    assert "lean-to still lacks Jan, Feb, Mar, Apr, May, Sep, Oct, Nov, Dec" in result.stdout


def test_climate_beyond_the_rows_of_the_template_brings_their_formulas(shop: Path) -> None:
    for place in ("attic", "loft", "barn"):
        assert run("climate", LOG, shop, "--place", place, "--dated", "--yes").exit_code == 0
    sheet = load_workbook(shop)["Site"]
    last = FIRST_ROW + SITE.rows - 1
    assert sheet.cell(last + 1, 1).value == "barn"
    for column in SITE.columns:
        if column.formula:
            letter = SITE.letter(column.key)
            assert sheet[f"{letter}{last + 1}"].value == SITE.formula(column, last + 1)


@pytest.mark.parametrize(
    ("place", "options", "words"),
    [
        (" ", [], "--place ' ' must be the name of a place"),
        ("=1+1", [], "--place '=1+1' must be the name of a place"),
        ("x" * 61, [], "place is"),
        ("yard", ["--temperature", "Temp 2"], "there is no column 'Temp 2'"),
        ("yard", ["--day-first"], "is not a time"),
    ],
)
def test_climate_refuses(shop: Path, place: str, options: list[str], words: str) -> None:
    before = shop.read_bytes()
    assert_one_line(run("climate", LOG, shop, "--place", place, *options, "--yes"), words)
    assert shop.read_bytes() == before
    assert list(shop.parent.iterdir()) == [shop]


@pytest.mark.parametrize(
    ("days", "options", "words"),
    [
        (4, [], "at most 4 days of a month have readings; 7 are needed, or 3 of a week with --da"),
        (2, [], "at most 2 days of a month have readings; 7 are needed"),
        (2, ["--dated"], "at most 2 days of a week have readings; 3 are needed"),
    ],
)
def test_climate_says_how_many_days_are_too_few(
    shop: Path, tmp_path: Path, days: int, options: list[str], words: str
) -> None:
    log = tmp_path / "few.csv"
    rows = [f"2026-03-{day:02d} 13:00,55,70" for day in range(2, 2 + days)]
    log.write_text("\n".join(["Time,Temp F,RH %", *rows]))
    result = run("climate", log, shop, "--place", "yard", *options, "--yes")
    assert_one_line(result, words)
    assert ("--dated" in result.stderr) is (days >= 3)


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("none.xlsx", None, "there is no such file"),
        ("shop.ods", b"x", "must end in .xlsx"),
        ("text.xlsx", b"no workbook", "not a workbook that can be read"),
    ],
)
def test_climate_into_no_workbook(
    tmp_path: Path, name: str, content: bytes | None, words: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    before = sorted(tmp_path.iterdir())
    assert_one_line(run("climate", LOG, tmp_path / name, "--place", "yard", "--yes"), words)
    assert sorted(tmp_path.iterdir()) == before


def test_climate_into_a_workbook_that_counts_days_from_1904(shop: Path, tmp_path: Path) -> None:
    workbook, other = load_workbook(shop), tmp_path / "mac.xlsx"
    workbook.epoch = CALENDAR_MAC_1904
    workbook.save(other)
    before = other.read_bytes()
    written = run("climate", LOG, other, "--place", "yard", "--yes", "--dated")
    assert_one_line(written, "it counts days from 1904; set it to count from 1900")
    assert other.read_bytes() == before


def test_climate_into_another_workbook_or_from_no_log(shop: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.xlsx"
    Workbook().save(other)
    assert_one_line(
        run("climate", LOG, other, "--place", "yard", "--yes"),
        "Site has no column named site_place",
    )
    assert_one_line(run("climate", tmp_path / "none.csv", shop, "--place", "yard"), "no such file")
    few = tmp_path / "few.csv"
    few.write_text("Time,Temp F,RH\n2025-06-01,60,50\n2025-06-02,60,50\n")
    assert_one_line(
        run("climate", few, shop, "--place", "yard", "--yes"), "at most 2 days of a month"
    )
    (tmp_path / ".~lock.shop.xlsx#").write_text("")
    assert_one_line(run("climate", LOG, shop, "--place", "yard", "--yes"), "open in a spreadsheet")


def test_climate_tells_what_it_did_to_a_strange_log(shop: Path, tmp_path: Path) -> None:
    log = tmp_path / "strange.csv"
    rows = [
        f"2025-06-{1 + n // 8:02} {3 * (n % 8):02}:00,2025-06-{1 + n // 8:02} {3 * (n % 8):02}:05,"
        f"{101 if n % 9 == 0 else 60},{50 if n != 7 else 90}"
        for n in range(60)
    ]
    log.write_text("\n".join(["Taken,Sent,H (%),T (F)", *rows]))
    options = ["--place", "yard", "--dry-run"]
    assert_one_line(
        run("climate", log, shop, *options), "'Taken', 'Sent' may be the time", "--time"
    )
    result = run("climate", log, shop, *options, "--time", "taken")
    assert result.exit_code == 0, result.output
    said = " ".join(result.stdout.split())
    assert "time 'Taken', temperature 'T (F)', humidity 'H (%)'" in said
    assert "Over 100 % RH 7, taken as 100" in said  # of 60 readings every ninth
    assert "jumps by more than 27 deg F (15 deg C) 2 times, first at 2025-06-01 21:00" in said
