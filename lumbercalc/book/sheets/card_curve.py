"""What the chart of Stack card draws, as rows of the sheet Curves."""

from __future__ import annotations

from lumbercalc.book.page.block import Block
from lumbercalc.book.page.form import Field, chosen_or_first, row_of
from lumbercalc.book.page.table import HEADER_ROW, Column
from lumbercalc.book.sheets.course import CURVES, DAY, FROM_STACKS, TWO_YEARS, begins, course

CURVE_ROWS = (20, 40)
"""Up to the last weighing, and from it on."""
EMC_ROWS = 36
POINTS = 120
"""Weighings that are drawn; of more than that, an even choice."""

_CELLS = {key: f"card_{key}" for key in (*FROM_STACKS, "drawn", "begin", "to")}

CARD_FIELDS = [
    Field(
        "card_name",
        "Stack on the card",
        "result",
        "@",
        chosen_or_first("card_stack", "stack_name"),
    ),
    Field("card_row", "Its row on Stacks", "result", "0", row_of("card_name", "stack_name")),
    Field("card_drawn", "Drawn (1) or not (0)", "result", "0", "=IF(ISNUMBER(card_rate),1,0)"),
    Field("card_begin", "Forecast begins on", "result", DAY, begins(_CELLS)),
    Field(
        "card_to",
        "Last day drawn",
        "result",
        DAY,
        "=IF(card_drawn=0,0,MAX(as_of,card_known_on,IF(ISNUMBER(card_late),card_late+14,"
        "IF(ISNUMBER(card_likely),card_likely+(card_likely-card_start)/2,"
        f"card_start+{TWO_YEARS}))))",
    ),
    Field("card_points", "Weighings drawn", "result", "0", "=COUNT(weighing_card)"),
    Field("card_first_day", "First day", "result", DAY, "=IF(card_drawn=0,0,card_start)"),
    Field("card_first_mc", "MC then (%)", "result", "0.0", "=IF(card_drawn=0,0,card_green)"),
]
"""What the chart begins with."""

CARD_COURSE = course(_CELLS, ("0", "0"), CURVE_ROWS, (HEADER_ROW, 4), "card_spread")
"""Course of the stack, with early and late from its last weighing on."""

_PLACE_THEN = "IF(AND(ISNUMBER(card_move_date),{day}>=card_move_date),card_move_place,card_place)"

CARD_EMC = Block(
    CURVES,
    (
        Column("n", "Point", "result", 7, "0"),
        Column(
            "day",
            "Date",
            "result",
            12,
            DAY,
            f"=IF(card_drawn=0,0,card_start+ROUND({{n}}*(card_to-card_start)/{EMC_ROWS - 1},0))",
        ),
        Column(
            "emc",
            "EMC (% MC)",
            "result",
            9,
            "0.0",
            f"=IF(card_drawn=0,0,IFERROR(1*INDEX(place_emc,MATCH({_PLACE_THEN},place_names,0),"
            "MONTH({day})),MAX(0,{emc.above})))",
        ),
    ),
    EMC_ROWS,
    HEADER_ROW,
    10,
)
"""EMC of the place, by the months of Site."""

CARD_POINTS = Block(
    CURVES,
    (
        Column("n", "Point", "result", 7, "0"),
        Column(
            "pick",
            "Row on Weighings",
            "result",
            11,
            "0",
            "=IF(card_points=0,0,MATCH(SMALL(weighing_card,MIN(card_points,"
            f"ROUNDUP(({{n}}+1)*MAX({POINTS},card_points)/{POINTS},0))),weighing_card,0))",
        ),
        Column(
            "day",
            "Date",
            "result",
            12,
            DAY,
            "=IF({pick}=0,card_first_day,INDEX(weighing_day,{pick}))",
        ),
        Column(
            "mc",
            "Measured (% MC)",
            "result",
            10,
            "0.0",
            "=IF({pick}=0,card_first_mc,INDEX(weighing_used,{pick}))",
        ),
    ),
    POINTS,
    HEADER_ROW,
    14,
)
"""Weighings in order of their dates, the last one repeated; the start where there are none."""

CARD_LINES = Block(
    CURVES,
    (
        Column("n", "End", "result", 7, "0"),
        Column("day", "Date", "result", 12, DAY, "=IF({n}=0,card_first_day,card_to)"),
        Column(
            "target",
            "Target (% MC)",
            "result",
            9,
            "0.0",
            "=IF(AND(card_drawn=1,ISNUMBER(card_goal)),card_goal,0)",
        ),
        Column("as_of", "As of", "result", 12, DAY, '=IF(as_of="",card_first_day,as_of)'),
        Column("height", "Height (% MC)", "result", 9, "0.0", "={n}*card_first_mc"),
    ),
    2,
    HEADER_ROW,
    19,
)
"""Target, and the upright line at the as-of date."""

CARD_BLOCKS = (*CARD_COURSE, CARD_EMC, CARD_POINTS, CARD_LINES)
