"""Bring the air that a data logger recorded into the sheet Site of a workbook."""

from __future__ import annotations

from calendar import month_abbr
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table
from rich.text import Text

from lumbercalc.book.logger.marks import Unit
from lumbercalc.cli.console import counted, one_line_faults, out, plain, steps, tell_of_backup
from lumbercalc.terminal import harmless, text_cell

if TYPE_CHECKING:  # pandas would slow the start of every other command
    from lumbercalc.book.logger.climate import Draft
    from lumbercalc.book.logger.means import Air

SHOWN_GAPS = 3
RECALCULATE = (
    "results that depend on it are still those of before: open the workbook, recalculate "
    "everything (Ctrl+Shift+F9 in Calc, Ctrl+Alt+F9 in Excel) and save"
)


def climate(
    log: Annotated[Path, typer.Argument(help="The data logger's CSV file.")],
    workbook: Annotated[Path, typer.Argument(help="The shop's workbook; close it first.")],
    place: Annotated[str, typer.Option("--place", help="Where the logger hung, such as yard.")],
    dated: Annotated[
        bool, typer.Option("--dated", help="A dated row for each week, not one for each month.")
    ] = False,
    unit: Annotated[
        Unit | None, typer.Option("--unit", help="Of the temperatures; else told from the file.")
    ] = None,
    day_first: Annotated[
        bool | None,
        typer.Option("--day-first/--month-first", help="What 3/4/2025 means; else told."),
    ] = None,
    time: Annotated[
        str, typer.Option("--time", help="Header or number of its column, if there are several.")
    ] = "",
    temperature: Annotated[
        str, typer.Option("--temperature", help="The same for the temperatures.")
    ] = "",
    humidity: Annotated[str, typer.Option("--humidity", help="The same for the humidities.")] = "",
    yes: Annotated[bool, typer.Option("--yes", "-y", help="Write without asking.")] = False,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show what would change, and change nothing.")
    ] = False,
) -> None:
    """Bring a data logger's readings into the sheet Site, by month or by week.

    Shows what was read and which rows change, then asks. A dated backup is kept;
    nothing else in the workbook is touched.
    """
    from lumbercalc.book.logger.climate import draft as make_draft
    from lumbercalc.book.logger.log import read_log

    with one_line_faults(), steps() as progress:
        progress.add_task("reading the log", total=None)
        read = read_log(
            log,
            unit=unit,
            day_first=day_first,
            time=time,
            temperature=temperature,
            humidity=humidity,
        )
        draft = make_draft(read, workbook, place, dated=dated)
    out.print(_what_was_read(draft))
    out.print(_what_changes(draft))
    for line in _remarks(draft):
        plain(out, line)
    if dry_run:
        return
    if not yes and not typer.confirm(f"Write these rows into {harmless(str(workbook))}?"):
        plain(out, "nothing was changed")
        raise typer.Exit(1)
    with one_line_faults():
        backup = draft.write(datetime.now())
    tell_of_backup(backup)
    plain(out, f"wrote {counted(len(draft.plan.placed), 'row')} of {draft.place} to {workbook}")
    plain(out, RECALCULATE)


def _what_was_read(draft: Draft) -> Table:
    log = draft.log
    table = Table(box=SIMPLE_HEAD, show_header=False, padding=(0, 1, 0, 0))
    gaps = [f"{before:%Y-%m-%d %H:%M} to {after:%Y-%m-%d %H:%M}" for before, after in log.gaps]
    more = f"; and {len(gaps) - SHOWN_GAPS} more" if len(gaps) > SHOWN_GAPS else ""
    time, temp, rh = map(repr, log.columns)
    for label, text in (
        ("Rows read", f"{log.rows:,}"),
        ("Columns", f"time {time}, temperature {temp}, humidity {rh}"),
        ("Span", f"{log.first:%Y-%m-%d %H:%M} to {log.last:%Y-%m-%d %H:%M}"),
        ("Dates", log.order),
        ("Temperature", log.unit),
        (
            "Gaps over a day",
            f"{len(gaps)}: " + "; ".join(gaps[:SHOWN_GAPS]) + more if gaps else "0",
        ),
        ("Duplicate times", f"{log.duplicates:,}" + (" (kept once)" if log.duplicates else "")),
        ("Without a reading", f"{log.blank:,}"),
        *([("Over 100 % RH", f"{log.fog:,}, taken as 100")] if log.fog else []),
        ("Left out as bad", "; ".join([f"{log.bad:,}", *log.examples])),
    ):
        table.add_row(label, text_cell(text))
    return table


def _what_changes(draft: Draft) -> Table:
    """Show the rows: what stands there, what comes, and the EMC of both."""
    table = Table(title=text_cell(draft.place), title_justify="left", box=SIMPLE_HEAD)
    table.add_column("Row", justify="right")
    table.add_column("From")
    for header in ("Days", "deg F", "% RH", "EMC %"):
        table.add_column(header, justify="right", no_wrap=True)
    for placed in draft.plan.placed:
        temp, rh = placed.old or (None, None)
        new = placed.air
        table.add_row(
            str(placed.row),
            _period(new),
            str(new.days),
            _change(temp, new.temp_f),
            _change(rh, new.rh_pct),
            _change(_emc(temp, rh), _emc(new.temp_f, new.rh_pct)),
        )
    return table


def _emc(temp: Any, rh: Any) -> float | None:
    """EMC of what stands in a row; None unless both are numbers."""
    from lumbercalc.wood.air import emc

    numbers = isinstance(temp, (int, float)) and isinstance(rh, (int, float))
    return float(emc(temp, rh)) if numbers else None


def _change(old: Any, new: float | None) -> Text:
    before = f"{old:.1f} -> " if isinstance(old, (int, float)) else f"{old} -> " if old else ""
    return text_cell(f"{before}{new:.1f}")


def _remarks(draft: Draft) -> Iterator[str]:
    from lumbercalc.book.logger.means import MONTH_DAYS, WEEK_DAYS
    from lumbercalc.wood.place_air import HOLDS_DAYS

    yield from draft.log.remarks
    if draft.new_place:
        yield f"{draft.place} is new: it is added to the places of the sheet Site"
    for each in draft.too_few:
        least = MONTH_DAYS if isinstance(each.key, int) else WEEK_DAYS
        days = counted(each.days, "day")
        yield f"not written: {_period(each)}, with readings on {days} only; {least} are needed"
    if draft.plan.dropped:
        days = ", ".join(str(day) for day in draft.plan.dropped)
        yield f"replaced by these: the rows dated {days}"
    last = draft.plan.placed[-1].air.key
    if not isinstance(last, int):
        if draft.plan.beside_months:
            yield f"beside the months a dated row holds for {HOLDS_DAYS} days at most"
        else:
            yield f"the row of {last} holds on until a later row is added"
    if draft.plan.months_missing:
        months = ", ".join(month_abbr[month] for month in draft.plan.months_missing)
        yield f"{draft.place} still lacks {months}: forecasts need all twelve months"


def _period(air: Air) -> str:
    return month_abbr[air.key] if isinstance(air.key, int) else str(air.key)
