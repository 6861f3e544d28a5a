"""Sheet Sales lines: what each quote and invoice is of; tags, whole logs, slabs or plain words."""

from __future__ import annotations

from lumbercalc.book.page.form import row_of
from lumbercalc.book.page.layout import DATE
from lumbercalc.book.page.table import Column, Table, hidden
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.board_status import line_key
from lumbercalc.book.sheets.line_notes import note
from lumbercalc.book.sheets.line_reckoning import (
    AMOUNT,
    BACK_BEFORE,
    BASES,
    BF,
    CHARGED,
    LINE,
    OF_BOARD,
    OF_LOG,
    OF_SALE,
    PLACE,
    PRICE,
    QUANTITY,
    UNIT,
    WHAT,
)
from lumbercalc.book.sheets.sale_statement import INVOICE_BY, other_stack
from lumbercalc.book.sheets.sales_reckoning import DISCOUNT, INVOICE, QUOTE
from lumbercalc.sheet.limits import Limits

SURFACES = ("rough", "surfaced")


def _of_sale(formula: str) -> str:
    return f'=IF({{sale_row}}="","",{formula})'


_CAME_BACK = "SUMIFS(line_sum,line_sale,{sale},line_returned,%s)"
_BEFORE = f"{OF_SALE % 'gross'}+SUM({OF_SALE % 'delivery'})-" + _CAME_BACK % '"<"&{returned}'
_THAT_DAY = _CAME_BACK % "{returned}"
_TAX_BACK = (
    f"(SALES_TAX(ROUND({_BEFORE},2),{{back_rate}})"
    f"-SALES_TAX(ROUND({_BEFORE}-{_THAT_DAY},2),{{back_rate}}))*{{sum}}/{_THAT_DAY}"
)
"""The tax of a sale before its returns of a day less that after them, a line's share of it."""


def _taken(what: str, takes: str) -> Column:
    header = f"{what.capitalize()} {takes}"
    formula = f'=IF({{{what}}}="","",IF({{takes}}="{takes}",{{{what}}},""))'
    return hidden(f"{takes}_{what}", header, formula, "@")


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
            11,
            QUANTITY,
            limits=limits_of("LINE_TOTAL", "board_feet"),
            about="In bf (of an MBF too), pieces or ft2; blank takes it from Boards.",
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
            PRICE,
            limits=limits_of("LINE_TOTAL", "price_per_bf"),
            about="For what the line is priced by; blank takes it from Prices.",
        ),
        Column(
            "discount",
            "Discount (%)",
            "input",
            9,
            DISCOUNT,
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
        Column("kind", "What it is", "result", 14, "@", _of_sale(OF_SALE % "kind")),
        Column("what", "What is printed", "result", 46, "@", _of_sale(WHAT)),
        Column(
            "bf",
            "Board feet, dry (bf)",
            "result",
            10,
            "#,##0.00",
            _of_sale(f'IF({{stopped}}=1,"",{BF})'),
        ),
        Column(
            "amount", "Quantity (bf, MBF, pieces, ft2)", "result", 11, QUANTITY, _of_sale(AMOUNT)
        ),
        Column("unit", "by", "result", 7, "@", _of_sale(UNIT)),
        Column(
            "charged",
            "Price ($)",
            "result",
            10,
            PRICE,
            _of_sale(f'IF(ISTEXT({CHARGED}),"",{CHARGED})'),
        ),
        Column(
            "sum",
            "Total ($)",
            "result",
            11,
            "#,##0.00",
            _of_sale(f'IF(OR({{amount}}="",{{charged}}=""),"",LINE_TOTAL({LINE}))'),
        ),
        Column("note", "Check", "check", 60, "@", note()),
        hidden("sale_row", "Row on Sales", row_of("{sale}", "sales_number")),
        hidden("board_row", "Row on Boards", row_of("{tag}", "board_tag")),
        hidden(
            "log_day",
            "Day by which the log's boards are fit",
            f'=IF({{log}}="","",IF({{sale_row}}="",{INVOICE_BY},'
            f"IF(ISNUMBER({OF_SALE % 'invoiced'}),{OF_SALE % 'invoiced'},{INVOICE_BY})))",
        ),
        hidden("set", "Boards of the log", f'=IF({{log}}="","",COUNTIFS({OF_LOG}))'),
        hidden(
            "pieces",
            "Pieces of the log",
            f'=IF({{log}}="","",SUMIFS(board_pieces,{OF_LOG})+{{set}}'
            f'-COUNTIFS({OF_LOG},board_pieces,">0"))',
        ),
        hidden(
            "green",
            "Board feet, green (bf)",
            f'=IF({{board_row}}<>"",{OF_BOARD % "bf"},'
            f'IF({{log}}="","",IF({{set}}=0,"",SUMIFS(board_bf,{OF_LOG}))))',
            "0.00",
        ),
        hidden(
            "species",
            "Species",
            f'=IF({{board_row}}<>"",{OF_BOARD % "species"}&"",IF({{log}}="","",'
            'IFERROR(INDEX(board_species,MATCH({log},board_log,0))&"","")))',
            "@",
        ),
        hidden(
            "back",
            "Returned (1) or not (0)",
            _of_sale(f"IF(AND(ISNUMBER({{returned}}),NOT({BACK_BEFORE})),1,0)"),
        ),
        hidden(
            "kept_bf", "Board feet, dry, not returned (bf)", _of_sale("IF({back}=1,0,{bf})"), "0.00"
        ),
        hidden(
            "sum_back", "Total of what was returned ($)", _of_sale("IF({back}=1,{sum},0)"), "0.00"
        ),
        hidden(
            "takes",
            "Takes its boards",
            _of_sale(
                f'IF({{back}}=1,"",IF({{kind}}="{INVOICE}","sold",'
                f'IF({OF_SALE % "reserves"}=1,"reserved","")))'
            ),
            "@",
        ),
        *(_taken("log", takes) for takes in ("sold", "reserved")),
        hidden(
            "by_log",
            "Lines that take whole logs",
            f'=IF({PLACE}>1,"",SUMPRODUCT((line_takes<>"")*(line_log<>"")))',
        ),
        hidden(
            "key",
            "Key of the board it takes",
            '=IF(OR({board_row}="",{takes}=""),"",'
            + line_key("{board_row}", '{takes}="sold"', PLACE)
            + ")",
        ),
        hidden(
            "nth_key",
            "Keys of all lines, sorted",
            f'=IFERROR(SMALL(line_key,{PLACE}),"")',
        ),
        hidden(
            "stopped",
            "Not for sale (1)",
            # An invoice went out: what becomes of its board later is told, and changes no month.
            _of_sale(
                f'IF({{board_row}}="",0,IF(AND({OF_BOARD % "fit"}=0,{{kind}}="{QUOTE}"),1,0))'
            ),
        ),
        hidden(
            "other_stack",
            "Not of the stack of the statement (1)",
            _of_sale(other_stack(OF_LOG)),
        ),
        hidden("look", "To look at (1)", '=IF({note}="","",IF({note}="ok",0,1))'),
        hidden("fine_of", "Row on Sales, of a line that is ok", '=IF({look}=0,{sale_row},"")'),
        hidden(
            "month",
            "Month and species sold",
            '=IF({takes}<>"sold","",IF(NOT(ISNUMBER({sum})),"",'
            f'100*YEAR({OF_SALE % "date"})+MONTH({OF_SALE % "date"})&"|"&{{species}}))',
            "@",
        ),
        hidden(
            "month_first",
            "First line of that month and species",
            f'=IF({{month}}="","",IF(MATCH({{month}},line_month,0)={PLACE},{PLACE},""))',
        ),
        hidden(
            "page",
            "Row, of the printed sale",
            f'=IF({{sale}}="","",IF({{sale}}=sale_number,{PLACE},""))',
        ),
        hidden(
            "back_rate",
            "Tax rate of what came back to an invoice (%)",
            _of_sale(
                f"IF(AND({{back}}=1,ISNUMBER({OF_SALE % 'invoiced'})),"
                f'SUM({OF_SALE % "tax_rate"}),"")'
            ),
            "0.000",
        ),
        hidden(
            "back_tax",
            "Its tax ($)",
            f'=IF({{back_rate}}="","",IF(OR({{back_rate}}=0,N({{sum}})=0),0,{_TAX_BACK}))',
            "0.0000",
        ),
    ),
    rows=300,
    frozen=3,
    pages_wide=2,
)
"""The table of the sheet."""
