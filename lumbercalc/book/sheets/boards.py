"""Sheet Boards: every board or bundle, its board feet green and dry, and what it would bring."""

from __future__ import annotations

from lumbercalc.book.sheets.loads import NO_LOAD
from lumbercalc.book.table import Column, Table
from lumbercalc.book.validation import limits_of
from lumbercalc.sheet.limits import Limits

INSECTS = ("none", "signs", "treated")

_MEASURED = 'OR({tag}="",{quarters}="",{width}="",{length}="")'
_SIZE = '{quarters},{width},{length},IF({pieces}="","",{pieces})'

_WHY = (
    f'TRIM(PROBLEM("BOARD_FEET",{_SIZE})&" "&'
    'PROBLEM("SPECIES_VALUE",{species},"specific gravity"))'
)

BOARDS = Table(
    "Boards",
    "board",
    "One row for every board or bundle. Type thickness as text in quarters (8/4); "
    "boards with insect signs stay out of stacks until they are treated.",
    (
        Column("tag", "Tag", "input", 10, "@", about="Your own mark on the board; never twice."),
        Column("log", "Log", "input", 8, "@"),
        Column("cut", "Cut order in the log", "input", 8, "0"),
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
            choices="=quarters_list",
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
        Column("defects", "Defects", "input", 16, "@"),
        Column(
            "insects", "Insect signs", "input", 9, "@", limits=Limits("choice", choices=INSECTS)
        ),
        Column("stack", "Stack", "input", 12, "@", choices="=stack_name"),
        Column("load", "Load", "input", 12, "@", choices="=load_name"),
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
        Column(
            "price",
            "Price ($/bf)",
            "result",
            10,
            "#,##0.00",
            '=IF({bf}="","",IFERROR(INDEX(price_price,'
            'MATCH({species}&"|"&{quarters}&"|"&{grade},price_key,0)),"no price"))',
        ),
        Column(
            "value",
            "Value ($)",
            "result",
            11,
            "#,##0.00",
            '=IF(ISNUMBER({price}),LINE_TOTAL(ROUND({dry_bf},2),{price}),"")',
        ),
        Column(
            "counted",
            "Board feet that count (bf)",
            "result",
            10,
            "#,##0.00",
            '=IF({bf}="","",{bf})',
            hidden=True,
        ),
        Column(
            "cost",
            "Share of its load ($)",
            "result",
            11,
            "#,##0.00",
            '=IF(OR({load}="",{counted}=""),"",IF(ISNA(MATCH({load},load_name,0)),'
            f'"{NO_LOAD}",IF({{counted}}=0,0,'
            "INDEX(load_per_bf,MATCH({load},load_name,0))*{counted})))",
        ),
        Column(
            "note",
            "Check",
            "check",
            44,
            "@",
            '=IF({tag}="","",IF(COUNTIF(board_tag,{tag})>1,"tag is used twice",'
            'IF(OR({quarters}="",{width}="",{length}=""),"thickness, width or length is missing",'
            'IF({insects}="signs","insect signs: keep apart",'
            'IF(AND({stack}<>"",COUNTIF(stack_name,{stack})=0),"no such stack on Stacks",'
            f'IF({_WHY}="","ok",{_WHY}))))))',
        ),
    ),
    rows=300,
)
"""The table of the sheet."""
