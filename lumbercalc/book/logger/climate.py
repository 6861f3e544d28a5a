"""From a data logger's file to the rows of the sheet Site: drafted first, then written."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

from lumbercalc.book.logger.log import ClimateLog
from lumbercalc.book.logger.means import MONTH_DAYS, WEEK_DAYS, Air, monthly, weekly
from lumbercalc.book.logger.rows import Plan, find_place, plan
from lumbercalc.book.page.table import FIRST_ROW
from lumbercalc.book.sheets.site import SITE
from lumbercalc.book.xlsx.archive import Archive, open_archive
from lumbercalc.book.xlsx.edit import change_cells
from lumbercalc.book.xlsx.reader import StoredTable, open_workbook, read_table, refuse_1904
from lumbercalc.book.xlsx.sheet_xml import Content
from lumbercalc.faults import FileFault
from lumbercalc.file_checks import may_write
from lumbercalc.sheet.climate_table import PLACE
from lumbercalc.sheet.readers import read_text
from lumbercalc.wood.own_species import FORMULA_STARTS


@dataclass(frozen=True, eq=False)
class Draft:
    """What a log would change in a workbook.

    Parameters
    ----------
    archive : Archive
        Of the workbook.
    place : str
        As the sheet has it, or will have it.
    log : ClimateLog
        What was read.
    plan : Plan
        Rows to write.
    new_place : dict
        The cell of the list of places that takes a new place.
    too_few : list of Air
        Months or weeks with too few days of readings; they are not written.
    """

    archive: Archive
    place: str
    log: ClimateLog
    plan: Plan
    new_place: dict[str, Content]
    too_few: list[Air]

    def write(self, now: datetime) -> Path | None:
        """Change the workbook; a dated backup is kept beside it.

        Parameters
        ----------
        now : datetime
            For the name of the backup.

        Returns
        -------
        Path or None
            The backup.

        Raises
        ------
        FileFault
            When the file cannot be changed; it is then as it was.
        """
        cells = {**self.plan.cells, **self.new_place}
        return change_cells(self.archive, SITE.sheet, cells, like_row=FIRST_ROW, now=now)


def draft(log: ClimateLog, workbook: Path, place: str, *, dated: bool) -> Draft:
    """Decide what a log changes in a workbook.

    Parameters
    ----------
    log : ClimateLog
        From `read_log`.
    workbook : Path
        Made by ``lumbercalc new``; it is only read.
    place : str
        Where the logger hung.
    dated : bool
        Rows by week and date instead of rows by calendar month.

    Returns
    -------
    Draft
        To be shown and written.

    Raises
    ------
    FileFault
        When the workbook cannot be used, or nothing would be written.
    """
    name = _place(place)
    may_write(workbook, force=True)
    archive = open_archive(workbook)
    book = open_workbook(archive)
    refuse_1904(book, workbook)
    site = read_table(book, SITE, workbook)
    _refuse_moved(site, workbook)
    name, new_place = find_place(book, name, workbook)
    enough, too_few = weekly(log.air) if dated else monthly(log.air)
    if not enough:
        most = max(each.days for each in too_few)
        period, least = ("week", WEEK_DAYS) if dated else ("month", MONTH_DAYS)
        raise FileFault(
            f"{log.path}: at most {most} days of a {period} have readings; {least} are needed"
            + ("" if dated or most < WEEK_DAYS else f", or {WEEK_DAYS} of a week with --dated")
        )
    return Draft(
        archive=archive,
        place=name,
        log=log,
        plan=plan(site.rows, name, enough, (log.first.date(), log.last.date())),
        new_place=new_place,
        too_few=too_few,
    )


def _refuse_moved(site: StoredTable, path: Path) -> None:
    """Refuse a sheet whose columns or rows were moved: formulas of new rows name its cells."""
    for key, column in site.columns.items():
        if column.first != (SITE.sheet, FIRST_ROW, SITE.number(key)):
            raise FileFault(
                f"{path}: {SITE.column(key).header!r} begins at {site.where(key, column.first_row)}"
                f", and must at {SITE.sheet}!{SITE.letter(key)}{FIRST_ROW} for rows to be written; "
                "take out what was put in before it"
            )


def _place(typed: str) -> str:
    """Check the name of a place as the records and the functions do."""
    name = " ".join(typed.split())
    if not name or name.startswith(FORMULA_STARTS) or ILLEGAL_CHARACTERS_RE.search(name):
        raise FileFault(f"--place {typed[:40]!r} must be the name of a place, such as yard")
    return read_text(PLACE, name)
