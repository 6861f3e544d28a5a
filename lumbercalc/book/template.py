"""The template workbook: all sheets, put together and filled with computed values."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from openpyxl import Workbook

from lumbercalc.book.engine.compute import compute
from lumbercalc.book.macros import add_macros
from lumbercalc.book.page.styles import add_styles
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.checklist import CHECKLIST
from lumbercalc.book.sheets.checks import add_checks
from lumbercalc.book.sheets.cost_card import add_cost_card
from lumbercalc.book.sheets.costs import COSTS
from lumbercalc.book.sheets.curves import add_curves
from lumbercalc.book.sheets.functions import add_functions
from lumbercalc.book.sheets.hot_box import CORE_LOG, HOT_BOX
from lumbercalc.book.sheets.labels import add_labels
from lumbercalc.book.sheets.loads import LOADS
from lumbercalc.book.sheets.matched_set import add_matched_set
from lumbercalc.book.sheets.move_plan import add_move_plan
from lumbercalc.book.sheets.plan import add_plan
from lumbercalc.book.sheets.prices import add_prices
from lumbercalc.book.sheets.readings_by_stack import add_readings
from lumbercalc.book.sheets.sale import add_sale
from lumbercalc.book.sheets.sales import SALES
from lumbercalc.book.sheets.sales_lines import LINES
from lumbercalc.book.sheets.sales_tax import add_sales_tax
from lumbercalc.book.sheets.sample_boards import SAMPLES
from lumbercalc.book.sheets.sell_or_hold import add_hold_or_sell
from lumbercalc.book.sheets.site import add_site
from lumbercalc.book.sheets.site_months import add_site_months
from lumbercalc.book.sheets.sold import add_sold
from lumbercalc.book.sheets.species import add_species
from lumbercalc.book.sheets.stack_card import add_card
from lumbercalc.book.sheets.stacks import STACKS
from lumbercalc.book.sheets.start import add_start
from lumbercalc.book.sheets.summary import add_summary
from lumbercalc.book.sheets.weighings import WEIGHINGS
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.stored import with_values
from lumbercalc.files import write_faults, write_file
from lumbercalc.version import VERSION

CALCULATION_ENGINE = 191029
"""Excel's engine since 2019 (from memory), as the one that computed the stored values: a workbook
of an older engine is computed anew on load ([MS-XLS] 2.4.215, RecalcId), which without the
functions installed would put #NAME? in place of every number."""


def build(*, macros: bool = False) -> Workbook:
    """Put the template workbook together.

    Parameters
    ----------
    macros : bool
        With the VBA part for Excel on Windows.

    Returns
    -------
    Workbook
        Without values beside its formulas.

    Raises
    ------
    FileFault
        When it is to have macros and xlwings is not installed.
    """
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    add_styles(workbook)
    add_start(workbook)
    add_site(workbook)
    add_site_months(workbook)
    add_plan(workbook)
    BOARDS.write(workbook)
    STACKS.write(workbook)
    CHECKLIST.write(workbook)
    SAMPLES.write(workbook)
    WEIGHINGS.write(workbook)
    add_readings(workbook)
    add_card(workbook)
    add_move_plan(workbook)
    HOT_BOX.write(workbook)
    CORE_LOG.write(workbook)
    LOADS.write(workbook)
    COSTS.write(workbook)
    add_cost_card(workbook)
    add_hold_or_sell(workbook)
    add_labels(workbook)
    SALES.write(workbook)
    LINES.write(workbook)
    add_sale(workbook)
    add_matched_set(workbook)
    add_summary(workbook)
    add_sold(workbook)
    add_sales_tax(workbook)
    add_prices(workbook)
    add_species(workbook)
    add_functions(workbook)
    add_checks(workbook)
    add_curves(workbook)
    workbook.properties.title = "Lumber shop workbook"
    workbook.properties.creator = f"lumbercalc {VERSION}"
    workbook.calculation.fullCalcOnLoad = False
    workbook.calculation.calcId = CALCULATION_ENGINE
    if macros:
        add_macros(workbook)
    return workbook


def save(workbook: Workbook, path: Path, *, now: datetime, force: bool = False) -> Path | None:
    """Save a workbook with computed values beside its formulas.

    Parameters
    ----------
    workbook : Workbook
        From `build`, filled or not.
    path : Path
        Where.
    now : datetime
        For the name of the backup.
    force : bool
        Whether an existing file is replaced; a dated backup of it is kept.

    Returns
    -------
    Path or None
        The backup.

    Raises
    ------
    FileFault
        When it cannot be written; what is there stays as it is.
    """
    with write_faults(path), TemporaryDirectory() as folder:
        draft = Path(folder) / f"draft{path.suffix.lower()}"
        workbook.save(draft)
        content = with_values(draft.read_bytes(), compute(draft, TABLES))
    return write_file(path, content, force=force, now=now)
