"""The tables that a shop fills, row by row."""

from __future__ import annotations

from lumbercalc.book.page.table import Table
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.checklist import CHECKLIST
from lumbercalc.book.sheets.costs import COSTS
from lumbercalc.book.sheets.hot_box import CORE_LOG, HOT_BOX
from lumbercalc.book.sheets.labels import LABELS
from lumbercalc.book.sheets.loads import LOADS
from lumbercalc.book.sheets.prices import PRICES
from lumbercalc.book.sheets.readings import READINGS
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.sheets.sample_boards import SAMPLES
from lumbercalc.book.sheets.sell_or_hold import HOLD_OR_SELL
from lumbercalc.book.sheets.site import SITE
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.weighings import WEIGHINGS

TABLE_FILES: dict[str, Table] = {
    "site.csv": SITE,
    "boards.csv": BOARDS,
    "stacks.csv": STACKS,
    "checklist.csv": CHECKLIST,
    "sample_boards.csv": SAMPLES,
    "weighings.csv": WEIGHINGS,
    "readings.csv": READINGS,
    "hot_box.csv": HOT_BOX,
    "core_log.csv": CORE_LOG,
    "sales.csv": SALES,
    "sales_lines.csv": LINES,
    "prices.csv": PRICES,
    "loads.csv": LOADS,
    "stack_costs.csv": COSTS,
    "sell_or_hold.csv": HOLD_OR_SELL,
    "labels.csv": LABELS,
}
"""The file of records of each; its header row holds the keys of the table's input columns."""

TABLES = tuple(TABLE_FILES.values())
