"""Sheets Hot box and Core log: each charge that was heated against insects, and its record."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import AFTER_AS_OF, first_note, of_named_row
from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.page.validation import limits_of
from lumbercalc.sheet.limits import Limits

LOG_LAST_ROW = 1004

CORE_LOG = Table(
    "Core log",
    "core",
    "A row for every reading of the core of the thickest piece, at most 10 minutes apart while it "
    "is hot.",
    (
        Column("charge", "Charge", "input", 14, "@", choices="=charge_name"),
        Column(
            "minute",
            "Time (min from the start)",
            "input",
            14,
            "0.0",
            limits=limits_of("HEAT_TREATED", "minutes"),
        ),
        Column(
            "temp",
            "Core (deg F)",
            "input",
            12,
            "0.0",
            limits=limits_of("HEAT_TREATED", "core_temps_f"),
        ),
        Column("remarks", "Remarks", "input", 40, "@"),
        Column(
            "note",
            "Check",
            "check",
            40,
            "@",
            '=IF(AND({charge}="",{minute}="",{temp}=""),"",'
            'IF(OR({charge}="",{minute}="",{temp}=""),"charge, time or temperature is missing",'
            'IF(COUNT({minute},{temp})<2,"time or temperature is not a number",'
            'IF(COUNTIF(charge_name,{charge})=0,"no such charge on Hot box","ok"))))',
        ),
        Column(
            "used",
            "Core, as a number (deg F)",
            "result",
            12,
            "0.0;;",
            "=IF(ISNUMBER({temp}),{temp},0)",
            hidden=True,
        ),
    ),
    rows=60,
    last_row=LOG_LAST_ROW,
)
"""The readings."""

_RECORD = "core_minute,core_temp,core_charge,{name}"
_WHY = f'PROBLEM("HEAT_TREATED",{_RECORD})'

NOTES = (
    ("COUNTIF(charge_name,{name})>1", "charge stands twice"),
    ("N({readings})=0", "no readings on Core log"),
    ('OR({day}="",{where}="")', "the day, or where the core was measured, is missing"),
    ('AND(as_of<>"",SUM({day})>as_of)', AFTER_AS_OF),
)
"""When a charge is to be looked at (conditions that hold together), and the words."""
_NOTE = first_note(
    NOTES, f'IF({_WHY}<>"",{_WHY},IF({{held}}="held","","not held: the boards stay apart"))'
)

HOT_BOX = Table(
    "Hot box",
    "charge",
    "A record of heat against insects, for the shop: 132.8 deg F (56 deg C) in the core for 30 "
    "minutes. Never a certificate. Hot boxes burn: never leave one alone; smoke alarm, heaters and "
    "cords by their labels and the local electrical and fire code.",
    (
        Column("name", "Charge", "input", 14, "@"),
        Column("day", "Heated on", "input", 12, DATE, limits=Limits("date")),
        Column(
            "boards",
            "Boards in it",
            "input",
            40,
            "@",
            about="On stickers, and dry: such heat checks wet wood (common practice). It leaves no "
            "protection: new insects may come to sapwood without a finish (Wood Handbook ch. 14, "
            "from memory).",
        ),
        Column(
            "where",
            "Where the core was measured",
            "input",
            44,
            "@",
            about="In the middle of the thickest piece, where the box is coldest, the hole closed "
            "around the probe. Try the probe in ice water first: one that shows more than 32 deg F "
            "calls a cold core hot.",
        ),
        Column(
            "readings",
            "Readings",
            "result",
            10,
            "0",
            '=IF({name}="","",COUNTIFS(core_charge,{name},core_temp,">-100"))',
        ),
        Column(
            "hottest",
            "Hottest core (deg F)",
            "result",
            12,
            "0.0",
            '=IF(N({readings})=0,"",SUMPRODUCT(MAX((core_charge={name})*core_used)))',
        ),
        Column(
            "held",
            "Core held 30 min at 132.8 deg F",
            "result",
            16,
            "@",
            f'=IF(N({{readings}})=0,"",IF({_WHY}<>"","no record",'
            f'IF(HEAT_TREATED({_RECORD}),"held","not held")))',
        ),
        Column(
            "note",
            "Check",
            "check",
            60,
            "@",
            of_named_row("name", ("day", "where"), "the charge's name is missing", _NOTE),
        ),
    ),
    rows=20,
    last_row=104,
)
"""The charges."""
