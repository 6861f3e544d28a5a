"""The drying model against published drying times, case by case.

Run as `python tests/published/validate_drying.py`; it writes drying_validation.md beside it. The
cases are rows of drying_cases.csv: what was read in its source ("seen") or is remembered from it
("memory") is scored, what a third party tells ("second hand") is computed but not scored.
"""

from __future__ import annotations

import csv
from calendar import month_name
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.air import rh_for_emc
from lumbercalc.wood.climate import Climate
from lumbercalc.wood.drying import STACK_FACTORS
from lumbercalc.wood.drying_course import DryingCourse
from lumbercalc.wood.forecast import drying_days, ready_days

HERE = Path(__file__).parent
CASES = HERE / "drying_cases.csv"
PAGE = HERE / "drying_validation.md"

SCORED = ("seen", "memory")
EVERY_DAY = np.datetime64("2025-01-01") + np.arange(365)
MONTHS = [name[:3] for name in month_name[1:]]

AIR_OF = {
    "southern Wisconsin": "RO-MAD-JAN",
    "central North Carolina": "YP8-RAL-WARM",
    "eastern Missouri": "RO-1IN-GEN",
    "Upper Michigan": "SM-UPMI-MIN",
}
"""The rows whose monthly air stands for a yard."""

BORROWED = ("southern Wisconsin", "central North Carolina", "eastern Missouri")
"""Yards that lend their air to rows without any; Upper Michigan's is an estimate."""

STAND_INS = {
    "sweetgum heartwood": ("Sweetgum", "the table's figure is for heartwood"),
    "mixed air-dried 4/4": ("Oak, northern red", "mixed; taken as red oak, as its row says"),
    "UK hardwoods 25 mm air-dried": ("Oak, northern red", "species not stated; taken as red oak"),
}
"""Species that the table of species does not know by the row's name, and what is taken instead."""

SETTINGS = (
    ("piles 6-16 ft wide", "wide or sheltered"),
    ("still air", "still air"),
    ("kiln", "fan"),
    ("box", "fan"),
    ("outdoors", "open yard"),
)
"""Words of the row's place, and the setting that they mean; the first that fits."""

STARTS = {
    "best date": "shortest of every start of the year",
    "worst date": "longest of every start of the year",
    "mean of loads": "mean of every start of the year; the loads' own dates are not known",
    "min = spring-summer; max = fall-winter": "shortest and longest of every start of the year, "
    "in any of three yards: the row gives no air",
    "any": "steady air",
    "unknown warm month; Sep used": "begun on 1 September",
}
"""Starts that are not a month, and how they are computed."""

TUNED = {
    "SM-UPMI-MIN": "A (these times, among others)",
    "SM-UPMI-MAX": "A (these times, among others)",
    "SM-UPMI-MEAN": "A (these times, among others)",
    "BC-INDOOR": "F (this figure)",
    "TN233-NORTHERN-RED-OAK": "F (its shortest time)",
    "RO-MAD-JAN": "F (outdoor red oak)",
    "RO-MAD-JUN": "F (outdoor red oak)",
    "RO-1IN-GEN": "F (outdoor red oak)",
    "YP8-RAL-WARM": "A (these times, among others)",
    "YP8-RAL-NOV": "A (these times, among others)",
}
"""What of the model was tuned on the case itself: its constant A, or the factor of its setting."""

TUNED_ON_RANGES = "A (its shortest time, among others), F (red oak's)"
"""The same for the printed ranges of every other species."""

SAWN_IN = 1.125
"""Nominal one-inch lumber as sawn, common practice; the printed ranges say 1 in."""


@dataclass(frozen=True)
class Comparison:
    """One published figure and the model's."""

    case: str
    species: str
    what: str
    low: float
    high: float
    factor: float
    setting: str
    days: float
    circular: str
    basis: str
    own_air: bool

    @property
    def middle(self) -> float:
        """Middle of the published figure [days]."""
        return (self.low + self.high) / 2.0

    @property
    def log_error(self) -> float:
        """Logarithm of the model's days over the published middle."""
        return float(np.log(self.days / self.middle))

    @property
    def percent(self) -> float:
        """Error of the model [%]."""
        return 100.0 * (self.days / self.middle - 1.0)


@dataclass(frozen=True)
class Score:
    """Errors of several comparisons: their number, and [%, ln, %]."""

    number: int
    bias: float
    rms_log: float
    median: float


def score(comparisons: Iterable[Comparison]) -> Score:
    """Sum comparisons up; the bias is that of the mean ln error."""
    logs = np.array([each.log_error for each in comparisons])
    percents = 100.0 * np.expm1(logs)
    return Score(
        len(logs),
        float(100.0 * np.expm1(logs.mean())),
        float(np.sqrt(np.mean(logs**2))),
        float(np.median(np.abs(percents))),
    )


@cache
def rows() -> tuple[dict[str, str], ...]:
    """Read the cases."""
    with CASES.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def monthly(cell: str) -> NDArray[np.float64]:
    """Twelve figures of a cell."""
    return np.array([float(each) for each in cell.split(";")])


@cache
def yards() -> Climate:
    """Air of the yards whose months the rows give."""
    by_case = {row["case"]: row for row in rows()}
    return Climate.places(
        {
            name: Climate.monthly(
                monthly(by_case[case]["temp_F"]), monthly(by_case[case]["rh_pct"])
            )
            for name, case in AIR_OF.items()
        }
    )


def species_of(row: dict[str, str]) -> str | None:
    """Name of the row's species in the table of species."""
    if row["species"] in STAND_INS:
        return STAND_INS[row["species"]][0]
    return species_table.match(row["species"])


def setting_of(row: dict[str, str]) -> str:
    """Setting of the row's stack."""
    return next(setting for words, setting in SETTINGS if words in row["place_condition"])


def not_computed(row: dict[str, str]) -> str:
    """Tell why a row cannot be computed; empty where it can."""
    if not species_of(row):
        return "names no species, and no air"
    if not row["start_mc"]:
        return "no green MC and no air in the row"
    return ""


def model_days(row: dict[str, str]) -> NDArray[np.float64]:
    """Days of the row's start, or of every start that it stands for."""
    species, factor = species_of(row) or row["species"], STACK_FACTORS[setting_of(row)]
    thickness, green, target = (
        float(row[name]) for name in ("thickness_in", "start_mc", "target_mc")
    )
    if row["start_month"] == "any":
        temp = float(row["temp_F"])
        rh = float(row["rh_pct"] or rh_for_emc(temp, float(row["emc_pct"])))
        return np.atleast_1d(drying_days(species, thickness, green, target, temp, rh, factor))
    if row["temp_F"]:
        air = Climate.monthly(monthly(row["temp_F"]), monthly(row["rh_pct"]))
        start = start_dates(row["start_month"])
        return ready_days(DryingCourse(species, thickness, green, start, air, factor), target)
    each_day, place = EVERY_DAY[:, None], np.array(BORROWED)
    course = DryingCourse(species, thickness, green, each_day, yards(), factor, place=place)
    return ready_days(course, target).ravel()


def start_dates(start: str) -> NDArray[np.datetime64]:
    """Dates on which a row begins."""
    month = {"unknown warm month; Sep used": "Sep"}.get(start, start)
    if month in MONTHS:
        return np.array([f"2025-{MONTHS.index(month) + 1:02d}-01"], dtype="datetime64[D]")
    return EVERY_DAY


def comparisons(row: dict[str, str]) -> list[Comparison]:
    """Compare a row; a printed range has two figures, its shortest and its longest time."""
    days = model_days(row)
    low, high = float(row["published_days_low"]), float(row["published_days_high"])
    start = row["start_month"]
    if start.startswith("min"):
        figures = [("shortest", low, low, days.min()), ("longest", high, high, days.max())]
    elif start == "mean of loads":
        figures = [("mean", low, high, days.mean())]
    elif start == "worst date":
        figures = [("longest", low, high, days.max())]
    elif start == "best date":
        figures = [("shortest", low, high, days.min())]
    else:
        figures = [("", low, high, days[0])]
    setting = setting_of(row)
    tuned = TUNED_ON_RANGES if start.startswith("min") else ""
    return [
        Comparison(
            row["case"], row["species"], what, least, most, STACK_FACTORS[setting], setting,
            float(model), TUNED.get(row["case"], tuned), row["basis"], bool(row["temp_F"]),
        )
        for what, least, most, model in figures
    ]  # fmt: skip


@cache
def compared() -> tuple[Comparison, ...]:
    """Compare every row that can be computed."""
    return tuple(each for row in rows() if not not_computed(row) for each in comparisons(row))


def scored() -> list[Comparison]:
    """Comparisons with what was read in its source or is remembered from it."""
    return [each for each in compared() if each.basis in SCORED]


def groups() -> dict[str, list[Comparison]]:
    """Scored comparisons by how far they can be trusted."""
    every = scored()
    return {
        "all scored": every,
        "without the circular ones": [each for each in every if not each.circular],
        "air in the row": [each for each in every if each.own_air],
        "printed ranges, on borrowed air": [each for each in every if not each.own_air],
        "of these the shortest times": [
            each for each in every if not each.own_air and each.what == "shortest"
        ],
        "of these the longest times": [
            each for each in every if not each.own_air and each.what == "longest"
        ],
    }


def how(row: dict[str, str]) -> str:
    """Tell how a row is computed."""
    start = row["start_month"]
    text = STARTS.get(start) or f"begun on the first of {start}"
    if start == "any" and not row["rh_pct"]:
        text += f", {row['temp_F']} deg F at the humidity that gives {row['emc_pct']} % EMC"
    elif start == "any":
        text += f", {row['temp_F']} deg F and {row['rh_pct']} % RH"
    if row["species"] in STAND_INS:
        text += "; " + STAND_INS[row["species"]][1]
    return text


def signed(percent: float) -> str:
    """Whole percent with its sign; zero has none."""
    return f"{round(percent):+d}" if round(percent) else "0"


def as_sawn() -> dict[str, Score]:
    """Score the printed ranges once more, on boards sawn thicker than their nominal inch."""
    thicker = [
        each
        for row in rows()
        if row["start_month"].startswith("min")
        for each in comparisons(row | {"thickness_in": str(SAWN_IN)})
    ]
    return {
        what: score(each for each in thicker if each.what == what)
        for what in ("shortest", "longest")
    }


def _table(some: Iterable[Comparison]) -> list[str]:
    lines = [
        "| case | species | published, days | middle | F and setting | model, days | error |"
        " circular |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for each in some:
        published = f"{each.low:g}" if each.low == each.high else f"{each.low:g}-{each.high:g}"
        lines.append(
            f"| {' '.join([each.case, each.what]).strip()} | {each.species} | {published} |"
            f" {each.middle:g} | {each.factor:g} {each.setting} | {each.days:.0f} |"
            f" {signed(each.percent)} % | {each.circular or 'no'} |"
        )
    return lines


def page() -> str:
    """Write the comparison as a page."""
    second_hand = [each for each in compared() if each.basis not in SCORED]
    lines = [
        "# The drying model against published drying times",
        "",
        "Made by `python tests/published/validate_drying.py` from drying_cases.csv. Nothing is"
        " weighed in these: rate 1, no band. The thickness, green MC and air are those of the row,"
        " where the sources mostly do not state them and the climates are monthly means from"
        " memory.",
        "",
        "## Scored: read in the source, or remembered from it",
        "",
        *_table(scored()),
        "",
        "## Summary",
        "",
        "ln error is ln(model / published middle); the bias is that of its mean.",
        "",
        "| | n | bias | rms ln error | median absolute error |",
        "|---|---|---|---|---|",
    ]
    for name, some in groups().items():
        total = score(some)
        lines.append(
            f"| {name} | {total.number} | {signed(total.bias)} % | {total.rms_log:.2f} |"
            f" {total.median:.0f} % |"
        )
    thicker = as_sawn()
    lines += [
        "",
        "The two comparisons that are not circular stand on air that the row assumes (100 deg F"
        " and 5 % EMC in a kiln whose abstract states neither): a check of consistency, no measure"
        " of a yard. The printed ranges are computed at the 1 in of their rows; boards sawn"
        f" {SAWN_IN:g} in would make the bias {signed(thicker['shortest'].bias)} % for the shortest"
        f" times and {signed(thicker['longest'].bias)} % for the longest. The print pairs each"
        " species with the region where it is cut, the model with the fastest and the slowest of"
        " three yards.",
        "",
        "## Second hand: computed, not scored",
        "",
        *_table(second_hand),
        "",
        "## How each case is computed",
        "",
        "F is the share of full drying speed in the setting that the row describes: 0.9 open yard"
        " (outdoors, no word of wide piles), 0.7 wide or sheltered (piles 6-16 ft wide), 0.6 still"
        " air (indoors), 1 fan (kiln or drying box: the model with nothing taken off). Of a printed"
        " range the shortest and the longest time are two comparisons. Temperature and"
        " humidity are those of the row; its EMC serves where it has no humidity. Borrowed air is"
        f" that of the rows for {', '.join(BORROWED)}.",
        "",
        "| case | setting | how |",
        "|---|---|---|",
    ]
    for row in rows():
        why = not_computed(row)
        setting, text = ("", f"not computed: {why}") if why else (setting_of(row), how(row))
        lines.append(f"| {row['case']} | {setting} | {text} |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(page())
