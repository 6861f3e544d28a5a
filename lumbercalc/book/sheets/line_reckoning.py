"""What a line of a quote or invoice comes to: parts of formulas."""

from __future__ import annotations

from lumbercalc.book.page.names import place

BY_BF, BY_MBF, BY_PIECE, BY_AREA = BASES = ("bf", "MBF", "piece", "ft2")
"""What a price is for: a board foot, a thousand of them, a piece, or a square foot of slab."""

QUANTITY = "#,##0.00###"
"""Format of a quantity: of an MBF five digits, of anything else two, or those that were typed."""

PRICE = "#,##0.00###"
"""Format of a price: the digits that were typed, so that the buyer can reckon the line again."""

PLACE = place("line", "sale")
OF_SALE = "INDEX(sales_%s,{sale_row})"
BACK_BEFORE = f"IF(ISNUMBER({OF_SALE % 'cancelled'}),{{returned}}>{OF_SALE % 'cancelled'},FALSE)"
"""Of a line with a day under Returned: its sale was cancelled before, and took all back then."""
OF_BOARD = "INDEX(board_%s,{board_row})"
OF_LOG = 'board_log,{log},board_fit_from,"<="&{log_day}'
"""A log's boards that are fit to sell, for an invoice those that were so on its day."""
WIDTHS = "{width_1}:{width_3}"

_KNOWN = "OR(" + ",".join(f'{{basis}}="{basis}"' for basis in BASES) + ")"
UNIT = (
    f'IF({{basis}}="",IF(AND({{tag}}="",{{log}}=""),"{BY_PIECE}","{BY_BF}"),'
    f'IF({_KNOWN},{{basis}},""))'
)
"""Of a word that is no basis it is blank, and the line is not priced."""

PIECES = f'IF({{board_row}}<>"",IF({OF_BOARD % "pieces"}="",1,{OF_BOARD % "pieces"}),{{pieces}})'
BY_COUNT = f'IF({{unit}}="{BY_PIECE}",{{quantity}}<>"",FALSE)'
_SHARE = f"IF({BY_COUNT},MIN(1,{{quantity}}/MAX(1,{PIECES})),1)"
MEASURED = f'{{quantity}}<>"",OR({{unit}}="{BY_BF}",{{unit}}="{BY_MBF}")'
BF = (
    f"IF(AND({MEASURED}),{{quantity}},"
    f'IF({{green}}="","",ROUND({_SHARE}*NET_BOARD_FEET({{green}},{OF_SALE % "loss"}),2)))'
)
"""Some pieces of a bundle are their share of it."""
_AREA = (
    f'IF(OR({{board_row}}="",COUNT({WIDTHS})=0),"",'
    f"ROUND(SLAB_AREA({WIDTHS},{OF_BOARD % 'length'}),2))"
)
AMOUNT = (
    f'IF(OR({{stopped}}=1,{{unit}}=""),"",IF({{unit}}="{BY_MBF}",IF({{bf}}="","",ROUND({{bf}}/1000,5)),'
    'IF({quantity}<>"",{quantity},'
    f'IF({{unit}}="{BY_PIECE}",{PIECES},IF({{unit}}="{BY_AREA}",{_AREA},{{bf}})))))'
)
"""In what the line is priced by; a hundredth of a board foot is the fifth digit of an MBF."""
_LIST = (
    f'IF({{board_row}}<>"",{OF_BOARD % "price"},'
    f'IF(SUM({{green}})>0,ROUND(SUMIFS(board_list,{OF_LOG})/{{green}},2),""))'
)
"""For a whole log the mean of its boards' prices, to the cent: one price that can be reckoned."""
CHARGED = (
    'IF({price}<>"",{price},'
    f'IF({{unit}}="{BY_BF}",{_LIST},IF({{unit}}="{BY_MBF}",IF(ISNUMBER({_LIST}),1000*{_LIST},""),"")))'
)
LINE = f'{{amount}},{{charged}},IF({{discount}}="",SUM({OF_SALE % "discount"}),{{discount}})'
_RETURNED = (
    '{back}=1,"; returned "&YEAR({returned})&"-"&RIGHT("0"&MONTH({returned}),2)&"-"&'
    'RIGHT("0"&DAY({returned}),2)'
)
WHAT = (
    'IF({board_row}<>"",{species},IF({log}<>"",{species}&", whole log: "&{pieces}&" boards",""))'
    '&IF({words}="","",IF(AND({tag}="",{log}=""),"","; ")&{words})&'
    f'IF({{surface}}="","",", "&{{surface}})&IF({_RETURNED},"")'
)
