"""Sheet Sales lines: what each quote and invoice is of; tags, whole logs, slabs or plain words."""

from __future__ import annotations

from lumbercalc.book.notes import first_note, looks_like_a_share
from lumbercalc.book.sheets.board_status import line_key, place
from lumbercalc.book.sheets.sales import INVOICE, QUOTE
from lumbercalc.book.sheets.stacks import DATE
from lumbercalc.book.table import Column, Table
from lumbercalc.book.validation import limits_of
from lumbercalc.sheet.limits import Limits

BY_BF, BY_MBF, BY_PIECE, BY_AREA = BASES = ("bf", "MBF", "piece", "ft2")
"""What a price is for: a board foot, a thousand of them, a piece, or a square foot of slab."""

QUANTITY = "#,##0.00###"
"""Format of a quantity: of an MBF five digits, of anything else two."""

SURFACES = ("rough", "surfaced")

_SALE = "INDEX(sales_%s,{sale_row})"
_BOARD = "INDEX(board_%s,{board_row})"
_SET = "board_log,{log},board_fit,1"
_WIDTHS = "{width_1}:{width_3}"
_TYPED = 'OR({sale}<>"",{tag}<>"",{log}<>"",{words}<>"")'


def _of_sale(formula: str) -> str:
    return f'=IF({{sale_row}}="","",{formula})'


def _hidden(key: str, header: str, formula: str, number_format: str = "0") -> Column:
    return Column(key, header, "result", 9, number_format, formula, hidden=True)


def _taken(what: str, takes: str) -> Column:
    header = f"{what.capitalize()} {takes}"
    formula = f'=IF({{{what}}}="","",IF({{takes}}="{takes}",{{{what}}},""))'
    return _hidden(f"{takes}_{what}", header, formula, "@")


_BF = (
    f'IF(AND({{quantity}}<>"",OR({{unit}}="{BY_BF}",{{unit}}="{BY_MBF}")),{{quantity}},'
    'IF({green}="","",ROUND(NET_BOARD_FEET({green},' + _SALE % "loss" + "),2)))"
)
_PIECES = f'IF({{board_row}}<>"",IF({_BOARD % "pieces"}="",1,{_BOARD % "pieces"}),{{set}})'
_AREA = (
    f'IF(OR({{board_row}}="",COUNT({_WIDTHS})=0),"",'
    f"ROUND(SLAB_AREA({_WIDTHS},{_BOARD % 'length'}),2))"
)
_AMOUNT = (
    f'IF({{stopped}}=1,"",IF({{unit}}="{BY_MBF}",IF({{bf}}="","",ROUND({{bf}}/1000,5)),'
    'IF({quantity}<>"",{quantity},'
    f'IF({{unit}}="{BY_PIECE}",{_PIECES},IF({{unit}}="{BY_AREA}",{_AREA},{{bf}})))))'
)
"""In what the line is priced by; a hundredth of a board foot is the fifth digit of an MBF."""
_LIST = (
    f'IF({{board_row}}<>"",{_BOARD % "price"},'
    f'IF(SUM({{green}})>0,ROUND(SUMIFS(board_list,{_SET})/{{green}},2),""))'
)
"""For a whole log the mean of its boards' prices, to the cent: one price that can be reckoned."""
_CHARGED = (
    'IF({price}<>"",{price},'
    f'IF({{unit}}="{BY_BF}",{_LIST},IF({{unit}}="{BY_MBF}",IF(ISNUMBER({_LIST}),1000*{_LIST},""),"")))'
)
_LINE = f'{{amount}},{{charged}},IF({{discount}}="",SUM({_SALE % "discount"}),{{discount}})'
_RETURNED = (
    '{back}=1,"; returned "&YEAR({returned})&"-"&RIGHT("0"&MONTH({returned}),2)&"-"&'
    'RIGHT("0"&DAY({returned}),2)'
)
_WHAT = (
    'IF({board_row}<>"",{species},IF({log}<>"",{species}&", whole log: "&{set}&" boards",""))'
    '&IF({words}="","",IF(AND({tag}="",{log}=""),"","; ")&{words})&'
    f'IF({{surface}}="","",", "&{{surface}})&IF({_RETURNED},"")'
)
_WHY = f'PROBLEM("LINE_TOTAL",{_LINE})'

_ANY_BOARD = "INDEX(board_%s,MAX(1,SUM({board_row})))"
"""Of a line without a board it is the first board's, so that a condition is never an error."""
_WANTS = f'{{board_row}}<>"",OR({{takes}}<>"",{{kind}}="{QUOTE}")'
_TAKEN = f"SUM({_ANY_BOARD % 'line'})"
_OF_LOG = 'COUNTIFS(board_log,{log},board_fit,1,board_line,">0")'
_MINE = f"COUNTIFS(board_log,{{log}},board_fit,1,board_line,{place('sale')})"

HELD_NOTE = "held for insect signs: not for sale"
CUT_NOTE = "cut up: sell its pieces"
TAKEN_NOTE = "this board is in another sale"
LOG_TAKEN_NOTE = "not the whole log is free: type its tags instead"

NOTES = (
    ('{sale}=""', "the number of the sale is missing"),
    ('{sale_row}=""', "no such number on Sales"),
    ('{tag}="",{log}="",{words}=""', "tag, log or words are missing"),
    ('{tag}<>"",{log}<>""', "a tag or a log, not both"),
    ('{tag}<>"",{board_row}=""', "no such board on Boards"),
    ('{log}<>"",SUM({set})=0', "no board of this log is fit to sell"),
    (f"{_WANTS},{_ANY_BOARD % 'held'}=1", HELD_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'cut_up'}=1", CUT_NOTE),
    (f"{_WANTS},{_ANY_BOARD % 'fit'}=0", "used: not for sale"),
    (f'{_WANTS},{_TAKEN}<>IF({{takes}}="",0,{place("sale")})', TAKEN_NOTE),
    (
        f'IF({{log}}="",FALSE,AND(OR({{takes}}<>"",{{kind}}="{QUOTE}"),'
        f'{_OF_LOG}>IF({{takes}}="",0,{_MINE})))',
        LOG_TAKEN_NOTE,
    ),
    (looks_like_a_share("{discount}"), "discount under 0.5 %: type 5 for 5 %"),
    ("ISTEXT({returned})", "the day of the return is not a date"),
    (
        '{back}=1,OR(AND(as_of<>"",SUM({returned})>as_of),'
        f"SUM({{returned}})<SUM({_SALE % 'date'}))",
        "the day of the return is before the sale, or after the as-of date on Start",
    ),
    (f'{{unit}}="{BY_AREA}",{{quantity}}="",{{amount}}=""', "slab widths or quantity are missing"),
    ('{amount}=""', "the quantity is missing"),
    (
        'IF(OR({log}="",{price}<>""),FALSE,COUNTIFS(' + _SET + ',board_price,"no price")>0)',
        "no price on Prices for a board of this log: type one",
    ),
    ('{charged}=""', "no price: type one, or put it on Prices"),
    (
        f'{{kind}}="{INVOICE}",{{price}}=""',
        "type the price, so that a change on Prices leaves this invoice as it is",
    ),
    (
        f'{{kind}}="{INVOICE}",{{log}}<>"",{{quantity}}=""',
        "type the quantity of the log, so that later boards leave this invoice as it is",
    ),
)
"""When a line is to be looked at (conditions that hold together), and the words."""


def _note() -> str:
    return f'=IF(NOT({_TYPED}),"",{first_note(NOTES, _WHY)})'


LINES = Table(
    "Sales lines",
    "line",
    "One row for every line of a quote or invoice: a tag, a whole log, or words with a quantity. "
    "A board that comes back gets a day; the row stays.",
    (
        Column("sale", "Number of the sale", "input", 12, "@", choices="=sales_number"),
        Column("tag", "Tag", "input", 10, "@", choices="=board_tag"),
        Column(
            "log",
            "or whole log",
            "input",
            11,
            "@",
            about="All its boards that are fit to sell, as a matched set: see Matched set.",
        ),
        Column("words", "or words", "input", 28, "@", about="Of anything that has no tag."),
        Column(
            "basis",
            "Priced by",
            "input",
            9,
            "@",
            limits=Limits("choice", choices=BASES),
            about="bf, MBF (1,000 bf), piece, or ft2 of a live-edge slab. Blank is bf for boards, "
            "piece for words.",
        ),
        Column(
            "quantity",
            "Quantity, if typed (bf, pieces, ft2)",
            "input",
            10,
            "#,##0.00",
            limits=limits_of("LINE_TOTAL", "board_feet"),
            about="In bf, pieces or ft2; blank takes it from Boards.",
        ),
        Column(
            "surface",
            "Surface",
            "input",
            10,
            "@",
            limits=Limits("choice", choices=SURFACES),
        ),
        *(
            Column(
                f"width_{number}",
                f"Slab width {number} (in)",
                "input",
                10,
                "0.00",
                limits=limits_of("SLAB_AREA", "widths_in"),
                about="At both ends and in the middle; their mean counts.",
            )
            for number in (1, 2, 3)
        ),
        Column(
            "price",
            "Price, if typed ($)",
            "input",
            10,
            "#,##0.00",
            limits=limits_of("LINE_TOTAL", "price_per_bf"),
            about="For what the line is priced by; blank takes it from Prices.",
        ),
        Column(
            "discount",
            "Discount (%)",
            "input",
            9,
            "0.0",
            limits=limits_of("LINE_TOTAL", "discount_pct"),
            about="Blank takes the one of the sale.",
        ),
        Column(
            "returned",
            "Returned on",
            "input",
            12,
            DATE,
            limits=Limits("date"),
            about="The day the board came back.",
        ),
        Column("kind", "What it is", "result", 13, "@", _of_sale(_SALE % "kind")),
        Column("what", "What is printed", "result", 40, "@", _of_sale(_WHAT)),
        Column(
            "bf",
            "Board feet, dry (bf)",
            "result",
            10,
            "#,##0.00",
            _of_sale(f'IF({{stopped}}=1,"",{_BF})'),
        ),
        Column(
            "amount", "Quantity (bf, MBF, pieces, ft2)", "result", 11, QUANTITY, _of_sale(_AMOUNT)
        ),
        Column(
            "unit",
            "by",
            "result",
            7,
            "@",
            _of_sale(
                f'IF({{basis}}<>"",{{basis}},IF(AND({{tag}}="",{{log}}=""),"{BY_PIECE}","{BY_BF}"))'
            ),
        ),
        Column(
            "charged",
            "Price ($)",
            "result",
            10,
            "#,##0.00",
            _of_sale(f'IF(ISTEXT({_CHARGED}),"",{_CHARGED})'),
        ),
        Column(
            "sum",
            "Total ($)",
            "result",
            11,
            "#,##0.00",
            _of_sale(f'IF(OR({{amount}}="",{{charged}}=""),"",LINE_TOTAL({_LINE}))'),
        ),
        Column("note", "Check", "check", 60, "@", _note()),
        _hidden(
            "sale_row",
            "Row on Sales",
            '=IF({sale}="","",IFERROR(MATCH({sale},sales_number,0),""))',
        ),
        _hidden(
            "board_row",
            "Row on Boards",
            '=IF({tag}="","",IFERROR(MATCH({tag},board_tag,0),""))',
        ),
        _hidden("set", "Boards of the log", f'=IF({{log}}="","",COUNTIFS({_SET}))'),
        _hidden(
            "green",
            "Board feet, green (bf)",
            f'=IF({{board_row}}<>"",{_BOARD % "bf"},'
            f'IF({{log}}="","",IF({{set}}=0,"",SUMIFS(board_bf,{_SET}))))',
            "0.00",
        ),
        _hidden(
            "species",
            "Species",
            f'=IF({{board_row}}<>"",{_BOARD % "species"}&"",IF({{log}}="","",'
            'IFERROR(INDEX(board_species,MATCH({log},board_log,0))&"","")))',
            "@",
        ),
        _hidden("back", "Returned (1) or not (0)", _of_sale("IF(ISNUMBER({returned}),1,0)")),
        _hidden(
            "takes",
            "Takes its boards",
            _of_sale(
                f'IF({{back}}=1,"",IF({{kind}}="{INVOICE}","sold",'
                f'IF({_SALE % "reserves"}=1,"reserved","")))'
            ),
            "@",
        ),
        *(_taken("log", takes) for takes in ("sold", "reserved")),
        _hidden(
            "by_log",
            "Lines that take whole logs",
            f'=IF({place("sale")}>1,"",SUMPRODUCT((line_takes<>"")*(line_log<>"")))',
        ),
        _hidden(
            "key",
            "Key of the board it takes",
            '=IF(OR({board_row}="",{takes}=""),"",'
            + line_key("{board_row}", '{takes}="sold"', place("sale"))
            + ")",
        ),
        _hidden(
            "nth_key",
            "Keys of all lines, sorted",
            f'=IF({place("sale")}>COUNT(line_key),"",SMALL(line_key,{place("sale")}))',
        ),
        _hidden(
            "stopped",
            "Not for sale (1)",
            _of_sale(
                f'IF({{board_row}}="",0,IF(AND({_BOARD % "fit"}=0,OR({{kind}}="{QUOTE}",'
                f'AND({{takes}}="sold",{_SALE % "paid"}=""))),1,0))'
            ),
        ),
        _hidden("look", "To look at (1)", '=IF({note}="","",IF({note}="ok",0,1))'),
        _hidden(
            "month",
            "Month and species sold",
            '=IF({takes}<>"sold","",IF({sum}="","",'
            f'100*YEAR({_SALE % "date"})+MONTH({_SALE % "date"})&"|"&{{species}}))',
            "@",
        ),
        _hidden(
            "month_first",
            "First line of that month and species",
            f'=IF({{month}}="","",IF(MATCH({{month}},line_month,0)={place("sale")},'
            f'{place("sale")},""))',
        ),
        _hidden(
            "page",
            "Row, of the printed sale",
            f'=IF({{sale}}="","",IF({{sale}}=sale_number,{place("sale")},""))',
        ),
    ),
    rows=300,
    frozen=3,
    pages_wide=2,
)
"""The table of the sheet."""
