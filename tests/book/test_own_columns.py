"""Columns and rows that a shop put in, and sheets that it renamed, in live Calc.

The commands read the rows where the names of the columns lead.
"""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from openpyxl.workbook import Workbook
from rich.console import Console

from lumbercalc.book.labels.labels import Shop
from lumbercalc.book.page.block import MORE_ROWS
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.quote.copy import copy_of_sale
from lumbercalc.book.quote.find import find_sale
from lumbercalc.book.quote.tables import sale_tables
from lumbercalc.book.report.sections import report
from lumbercalc.book.sheets.boards import BOARDS
from lumbercalc.book.sheets.checks import CHECKS, WITHOUT_FORMULAS
from lumbercalc.book.sheets.site import SITE
from lumbercalc.book.sheets.summary import BY_SPECIES, FORM_ROW, SUMMARY
from lumbercalc.book.tables import TABLES
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.hosts.calc.pdf import pdf_of
from tests.book.stored_values import stored_in
from tests.hosts.calc.calc_session import Calc

pytestmark = pytest.mark.calc

SALE = "S-1010"
STACK = "Oak 1"


def looked_at(workbook: Workbook) -> list[tuple[str, str, float]]:
    """What is to be looked at on Checks, where, and how many."""
    rows = workbook["Checks"].iter_rows(FIRST_ROW, FIRST_ROW + len(CHECKS) - 1, 1, 4, True)
    return [(what, where, found) for what, where, found, verdict in rows if verdict == "look"]


def told(path: Path) -> str:
    """What report and quote print, and labels of a stack and its boards."""
    console = Console(width=120, record=True, file=StringIO())
    for section in (*report(path), *sale_tables(find_sale(open_archive(path), SALE))):
        console.print(section)
    shop = Shop(path)
    labels = shop.labels([STACK, *shop.boards_of(STACK)])
    return console.export_text() + "\n".join(f"{each.name} {each.lines}" for each in labels)


@pytest.fixture(scope="module")
def own(calc: Calc, demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo with a column and a row put into each sheet but Site, and two sheets renamed.

    The functions take the air of Site as one block of columns; one more among them is refused.
    """
    calc.open(demo)
    for sheet in {table.sheet for table in TABLES} - {SITE.sheet}:
        calc.put_in_column("B", sheet)
        calc.put_in_row(HEADER_ROW - 1, sheet)
    calc.fill("B5", [["my own"]], "Boards")
    calc.fill("B6", [["rack 3"]], "Boards")
    calc.rename("Boards", "My boards")
    calc.rename("Sale", "Paper")
    path = tmp_path_factory.mktemp("own") / "shop.xlsx"
    calc.store(path)
    return path


def test_the_commands_tell_the_same(own: Path, demo: Path) -> None:
    assert told(own) == told(demo)


def test_a_cell_is_named_where_it_stands(own: Path) -> None:
    [first, *_] = Shop(own).boards.values()
    assert first["cell"] == "My boards!A6"


def test_the_checks_find_no_more(own: Path, demo: Path) -> None:
    assert looked_at(stored_in(own)) == looked_at(stored_in(demo))


def test_a_row_right_under_the_header_is_told_and_confuses_nothing(
    calc: Calc, demo: Path, tmp_path: Path
) -> None:
    """Calc, as Excel, takes it for one above the cells that the names of columns lead to."""
    calc.open(demo)
    calc.put_in_row(FIRST_ROW, BOARDS.sheet)
    calc.fill(f"A{FIRST_ROW}", [["WA-99"]], BOARDS.sheet)
    calc.store(tmp_path / "shop.xlsx")
    before, after = (looked_at(stored_in(path)) for path in (demo, tmp_path / "shop.xlsx"))
    assert after == [*before, (WITHOUT_FORMULAS, BOARDS.sheet, 1)]


def test_the_first_row_may_be_deleted(calc: Calc, demo: Path, tmp_path: Path) -> None:
    calc.open(demo)
    calc.delete_row(FIRST_ROW, BOARDS.sheet)
    calc.store(tmp_path / "shop.xlsx")
    assert looked_at(stored_in(tmp_path / "shop.xlsx")) == looked_at(stored_in(demo))


def test_rows_may_be_put_in_where_species_are_more_than_rows(calc: Calc, demo: Path) -> None:
    """Of the rows of the sample's species two are left; then the sheet is made whole as it says."""
    calc.open(demo)
    first, note, rows = BY_SPECIES.first_row, f"B{FORM_ROW + 2}", BY_SPECIES.rows
    totals = f"{BY_SPECIES.letter('hand')}%d"
    whole = calc.shown(totals % (first + rows), SUMMARY)
    for _ in range(rows - 2):
        calc.delete_row(first + 1, SUMMARY)
    calc.calculate()
    assert calc.shown(note, SUMMARY) == f"more species than rows: {MORE_ROWS}"
    for _ in range(rows - 2):
        calc.put_in_row(first + 1, SUMMARY)
    last = BY_SPECIES.letter(BY_SPECIES.columns[-1].key)
    calc.fill_down(f"A{first}:{last}{first + rows - 2}", SUMMARY)
    calc.calculate()
    assert calc.shown(note, SUMMARY) == "ok"
    assert calc.shown(totals % (first + rows), SUMMARY) == whole


def test_the_paper_is_printed(own: Path, tmp_path: Path) -> None:
    copy = tmp_path / "sale.xlsx"
    copy.write_bytes(copy_of_sale(open_archive(own), SALE))
    assert pdf_of(copy).startswith(b"%PDF")
