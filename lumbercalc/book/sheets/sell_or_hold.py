"""Sheet Sell or hold: what a week's waiting costs each stack against what drier wood brings."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.page.form import row_of
from lumbercalc.book.page.layout import DATE, GREEN, RED, mark
from lumbercalc.book.page.table import FIRST_ROW, Column, Table
from lumbercalc.book.page.validation import limits_of
from lumbercalc.book.sheets.board_status import NO_PRICE
from lumbercalc.book.sheets.cost_reckoning import SAWN_BF, SOME_UNPRICED
from lumbercalc.book.sheets.named_stack import of_stack
from lumbercalc.book.sheets.readings import TOLERANCE
from lumbercalc.book.sheets.stack_advice import IS_READ_READY

DRY = f"dry by the forecast, or within {TOLERANCE} %: take readings, then sell it as dry"
READ_DRY = "dry by its readings: sell it as dry"
NO_BOARD = "no board on Boards lies in it"
NOT_YET = "no dates yet: see its check on Stacks"
NO_DATE = "no ready date: sell as it is, or move it to drier air"
TYPE_PRICE = "type what it would bring as it is now"
EVEN = "about even: less than $1 a week either way"
UNPRICED = "boards of it without a price are taken at the mean of the others"
HOLD = "hold: a week brings $"
SELL = "sell now: a week costs $"

_COSTS = "INDEX(cost_%s,{cost_row})"
_LOST = f'IF({{cost_row}}="",1-(1-(degrade+0)/100)*(1-(end_trim+0)/100),{_COSTS % "lost"}/100)'
_DONE = f"MAX(0,MIN(1,({of_stack('green')}-{{mc}})/({of_stack('green')}-{of_stack('goal')})))"
"""Share of the way from green to the target."""
_SHRUNK = f"SHRINK_SO_FAR(footage_shrink,{{mc}},{of_stack('goal')})"
_WATER = (
    f"WATER_LOSS({of_stack('species')},{SAWN_BF.replace('{bf}', of_stack('bf'))},"
    f'MIN({{mc}},IF({_COSTS % "wet"}="",{{mc}},{_COSTS % "wet"})),{of_stack("goal")})'
)
_LITRES = _COSTS % "litres"
_FAN = f"FAN_KWH({_COSTS % 'fan'}+0,7*{_COSTS % 'fan_hours'})"
_WEEKS = "MAX(1,{weeks})"
"""What is gained by waiting for two days is not gained three times over in a week."""
_DAMP = f'IF({_LITRES}="",0,DEHUMIDIFIER_KWH(MAX(0,{_WATER}),{_LITRES})/{_WEEKS})'
_READ = IS_READ_READY % "stack"
_NO_BOARD = f"IFERROR({of_stack('bf')}=0,FALSE)"


def _waiting(formula: str) -> str:
    """Guard a formula of a stack that has weeks to wait and both prices."""
    return f'=IF(AND(ISNUMBER({{weeks}}),ISNUMBER({{brings}})),{formula},"")'


HOLD_OR_SELL = Table(
    "Sell or hold",
    "hold",
    "One row for every stack: sell it as it is, or wait until it is dry? Prices are for the "
    "footage as it then is; the ready date is the likely one, an estimate.",
    (
        Column("stack", "Stack", "input", 20, "@", choices="=stack_name"),
        Column(
            "now_price",
            "Price as it is now ($/bf)",
            "input",
            11,
            "#,##0.00",
            limits=limits_of("LINE_TOTAL", "price_per_bf"),
            about="What a buyer pays today for the wood at its present moisture content.",
        ),
        Column(
            "dry_price",
            "Price when dry ($/bf)",
            "input",
            11,
            "#,##0.00",
            limits=limits_of("LINE_TOTAL", "price_per_bf"),
            about="Blank takes the mean of its boards on Prices.",
        ),
        Column(
            "pile",
            "Its row on Stacks",
            "result",
            8,
            "0",
            row_of("{stack}", "stack_name"),
            hidden=True,
        ),
        Column(
            "cost_row",
            "Its row on Costs",
            "result",
            8,
            "0",
            row_of("{stack}", "cost_stack"),
            hidden=True,
        ),
        Column("mc", "MC now (%)", "result", 9, "0.0", f'=IF({{pile}}="","",{of_stack("mc_now")})'),
        Column(
            "ready",
            "Ready, likely",
            "result",
            12,
            DATE,
            f'=IF({{pile}}="","",{of_stack("likely")})',
        ),
        Column(
            "weeks",
            "To wait (weeks)",
            "result",
            8,
            "0.0",
            f'=IF(NOT(ISNUMBER({{mc}})),"",IF({_NO_BOARD},"",IF({_READ},"dry",'
            'IF(NOT(ISNUMBER({ready})),"",IF(OR({ready}<=as_of,'
            f'{{mc}}<={of_stack("goal")}+{TOLERANCE}),"dry",({{ready}}-as_of)/7)))))',
        ),
        Column(
            "bf_now",
            "Saleable now (bf)",
            "result",
            10,
            "#,##0.0",
            f'=IF(ISNUMBER({{weeks}}),{of_stack("bf")}*(1-{_SHRUNK}/100)*(1-{_DONE}*({_LOST})),"")',
        ),
        Column(
            "bf_dry",
            "Saleable when dry (bf)",
            "result",
            10,
            "#,##0.0",
            f'=IF(ISNUMBER({{weeks}}),{of_stack("bf")}*(1-footage_shrink/100)*(1-({_LOST})),"")',
        ),
        Column(
            "brings",
            "Price when dry, used ($/bf)",
            "result",
            11,
            "#,##0.00",
            '=IF({pile}="","",IF({now_price}="","",IF({dry_price}<>"",{dry_price},'
            f'IF({{cost_row}}="","{NO_PRICE}",{_COSTS % "listed"}))))',
        ),
        Column(
            "better",
            "Better price brings ($ a week)",
            "result",
            11,
            "#,##0.00",
            _waiting(f"{{bf_now}}*({{brings}}-{{now_price}})/{_WEEKS}"),
        ),
        Column(
            "shrinks",
            "Footage lost ($ a week)",
            "result",
            11,
            "#,##0.00",
            _waiting(f"({{bf_now}}-{{bf_dry}})*{{brings}}/{_WEEKS}"),
        ),
        Column(
            "money",
            "Money tied up ($ a week)",
            "result",
            11,
            "#,##0.00",
            _waiting("CARRYING_COST({bf_now}*{now_price},interest,7)"),
        ),
        Column(
            "space",
            "Space ($ a week)",
            "result",
            10,
            "#,##0.00",
            _waiting(f'IF({{cost_row}}="",0,SPACE_COST({_COSTS % "floor"},{_COSTS % "month"},7))'),
        ),
        Column(
            "power",
            "Power ($ a week)",
            "result",
            10,
            "#,##0.00",
            _waiting(f'IF({{cost_row}}="",0,({_FAN}+{_DAMP})*kwh_price)'),
        ),
        Column(
            "net",
            "A week's waiting brings ($)",
            "result",
            12,
            "#,##0.00",
            _waiting("{better}-{shrinks}-{money}-{space}-{power}"),
        ),
        Column(
            "even",
            "Waiting pays from, dry ($/bf)",
            "result",
            12,
            "#,##0.00",
            _waiting(
                f"({{bf_now}}*{{now_price}}+({{money}}+{{space}}+{{power}})*{_WEEKS})/{{bf_dry}}",
            ),
        ),
        Column(
            "verdict",
            "In plain words",
            "result",
            63,
            "@",
            f'=IF({{pile}}="","",IF({{mc}}="","",IF({_NO_BOARD},"{NO_BOARD}",'
            f'IF({{weeks}}="dry",IF({_READ},"{READ_DRY}","{DRY}"),IF(ISTEXT({{ready}}),"{NO_DATE}",'
            f'IF({{now_price}}="","{TYPE_PRICE}",IF(NOT(ISNUMBER({{net}})),"",'
            f'IF(ABS({{net}})<1,"{EVEN}",IF({{net}}>0,'
            f'"{HOLD}"&ROUND({{net}},0)&" more than it costs",'
            f'"{SELL}"&ROUND(-{{net}},0)&" more than it brings")))))))))',
        ),
        Column(
            "note",
            "Check",
            "check",
            52,
            "@",
            '=IF({stack}="",IF(COUNT({now_price},{dry_price})=0,"","the stack is missing"),'
            'IF({pile}="","no such stack on Stacks",'
            'IF(COUNTIF(hold_stack,{stack})>1,"this stack stands twice",'
            'IF(OR(ISERROR({mc}),ISERROR({ready})),"its dates are errors: see Stacks",'
            f'IF({{mc}}="","{NOT_YET}",'
            'IF({mc}="not begun","not begun yet: see the as-of date on Start",'
            'IF({weeks}="dry","ok",'
            f'IF({of_stack("bf")}=0,IF(COUNTIF(board_stack,{{stack}})=0,"{NO_BOARD}","ok"),'
            f'IF(AND({{dry_price}}="",ISNUMBER({{brings}}),{SOME_UNPRICED}),"{UNPRICED}",'
            f'IF({{brings}}="{NO_PRICE}","no price when dry: type one, or see Costs",'
            'IF(ISERROR({net}),"a figure of it is wrong: see Prices and Costs",'
            'IF({cost_row}="","no row on Costs: power and space are left out","ok"))))))))))))',
        ),
    ),
    rows=40,
    last_row=204,
    pages_wide=2,
)
"""The table of the sheet."""


def add_hold_or_sell(workbook: Workbook) -> None:
    """Add the sheet, with what is to be held marked.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = HOLD_OR_SELL.write(workbook)
    letter = HOLD_OR_SELL.letter("verdict")
    area = f"{letter}{FIRST_ROW}:{letter}{FIRST_ROW + HOLD_OR_SELL.rows - 1}"
    mark(sheet, area, f'LEFT(${letter}{FIRST_ROW},4)="hold"', GREEN)
    mark(sheet, area, f'LEFT(${letter}{FIRST_ROW},8)="sell now"', RED)
