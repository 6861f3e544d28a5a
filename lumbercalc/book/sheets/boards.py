"""Sheet Boards: every board or bundle, its board feet green and dry, and what it would bring."""

from __future__ import annotations

from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.notes import reasons, unless_a_number
from lumbercalc.book.page.table import Column, Table
from lumbercalc.book.page.validation import THICKNESSES, limits_of
from lumbercalc.book.sheets.board_notes import note
from lumbercalc.book.sheets.board_status import DAYS, HIDDEN, NO_PRICE, STATUS
from lumbercalc.book.sheets.loads import BY_PRICE, NO_LOAD
from lumbercalc.book.sheets.prices import PRICE_KEY
from lumbercalc.sheet.limits import Limits

INSECTS = ("none", "signs")

_MEASURED = 'OR({tag}="",{quarters}="",{width}="",{length}="")'
_SIZE = '{quarters},{width},{length},IF({pieces}="","",{pieces})'

_OF_LOAD = "INDEX(load_%s,MATCH({load},load_name,0))"

_WHY = reasons(
    unless_a_number("{bf}", f'PROBLEM("BOARD_FEET",{_SIZE})'),
    'PROBLEM("SPECIES_VALUE",{species},"specific gravity")',
)

BOARDS = Table(
    "Boards",
    "board",
    "One row for every board or bundle, thickness as text in quarters (8/4). Status follows from "
    "the row and from the sales. A board with insect signs is held until it is released.",
    (
        Column(
            "tag",
            "Tag",
            "input",
            12,
            "@",
            about="Your own mark on the board; never twice. Of a board that was ever sold leave "
            "the row as it is: its invoice is reckoned from it. Measured again or cut, it gets a "
            "new row and tag, with the old one under Cut from.",
        ),
        Column("log", "Log", "input", 8, "@"),
        Column(
            "cut",
            "Cut order in the log",
            "input",
            8,
            "0",
            limits=Limits("(cut order)", 1, 500, whole=True),
        ),
        Column(
            "species",
            "Species",
            "input",
            20,
            "@",
            choices="=species_names",
            limits=limits_of("SPECIES_VALUE", "species"),
            about="Choose from the list, or type a trade name.",
        ),
        Column(
            "quarters",
            "Thickness (quarters)",
            "input",
            11,
            "@",
            choices=THICKNESSES,
            about="Text such as 4/4 or 8/4. The cell is text, so that no date is made of it.",
        ),
        Column(
            "width", "Width (in)", "input", 9, "0.00", limits=limits_of("BOARD_FEET", "width_in")
        ),
        Column(
            "length", "Length (ft)", "input", 9, "0.00", limits=limits_of("BOARD_FEET", "length_ft")
        ),
        Column(
            "pieces",
            "Pieces",
            "input",
            8,
            "0",
            limits=limits_of("BOARD_FEET", "pieces"),
            about="Blank counts as 1.",
        ),
        Column("grade", "Grade", "input", 12, "@"),
        Column("defects", "Defects", "input", 23, "@"),
        Column(
            "insects",
            "Insect signs",
            "input",
            11,
            "@",
            limits=Limits("choice", choices=INSECTS),
            about="signs: the board is held, out of its stack and of every sale, until it is "
            "released and you wrote what was done.",
        ),
        Column(
            "released",
            "Released on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="Of a board with insect signs: the day from which it may be used again.",
        ),
        Column(
            "treatment",
            "What was done",
            "input",
            25,
            "@",
            about="Before a board with insect signs was released, such as: heated, with the record "
            "of whoever did it. Insecticides: by the label, some for licensed hands only.",
        ),
        Column(
            "parent",
            "Cut from (tag)",
            "input",
            12,
            "@",
            choices="=board_tag",
            about="Tag of the board this one was cut from; that one then counts no more.",
        ),
        Column("stack", "Stack", "input", 12, "@", choices="=stack_name"),
        Column("load", "Load", "input", 12, "@", choices="=load_name"),
        Column(
            "ready",
            "Ready on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="The day it was taken off the stack dry.",
        ),
        Column(
            "used",
            "Used on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="The day you used it up yourself, or threw it away.",
        ),
        Column(
            "bf",
            "Board feet, green (bf)",
            "result",
            10,
            "#,##0.00",
            f'=IF({_MEASURED},"",BOARD_FEET({_SIZE}))',
        ),
        Column(
            "dry_bf",
            "Board feet, dry (bf)",
            "result",
            10,
            "#,##0.00",
            '=IF({bf}="","",NET_BOARD_FEET({bf},footage_shrink))',
        ),
        Column("status", "Status", "result", 10, "@", STATUS),
        Column("days", "Days since stacked", "result", 9, "0", DAYS),
        Column(
            "sale",
            "In sale",
            "result",
            10,
            "@",
            '=IF({tag}="","",IF({line}>0,INDEX(line_sale,MAX(1,{line})),""))',
        ),
        Column(
            "price",
            "Price ($/bf)",
            "result",
            10,
            "#,##0.00",
            '=IF({bf}="","",IFERROR(INDEX(price_price,'
            f'MATCH({PRICE_KEY},price_key,0)),"{NO_PRICE}"))',
        ),
        Column(
            "value",
            "Value on hand ($)",
            "result",
            11,
            "#,##0.00",
            '=IF(ISTEXT({price}),"",IF(AND({fit}=1,{status}<>"sold"),'
            'LINE_TOTAL(ROUND({dry_bf},2),{price}),""))',
        ),
        Column(
            "cost",
            "Share of its load ($)",
            "result",
            11,
            "#,##0.00",
            '=IF(OR({load}="",{tally}=""),"",IF(ISNA(MATCH({load},load_name,0)),'
            f'"{NO_LOAD}",IF({{tally}}=0,0,IF({_OF_LOAD % "by"}="{BY_PRICE}",'
            f"IF(ISNUMBER({_OF_LOAD % 'per_dollar'}),"
            f'{_OF_LOAD % "per_dollar"}*{{worth}},"{NO_PRICE}"),'
            f"{_OF_LOAD % 'per_bf'}*{{tally}}))))",
        ),
        Column("note", "Check", "check", 44, "@", note(_WHY)),
        *HIDDEN,
    ),
    rows=300,
    pages_wide=2,
)
"""The table of the sheet."""
