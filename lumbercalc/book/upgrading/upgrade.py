"""Bring a shop's workbook of an older template into a new one; nothing that was typed is lost.

Inputs are found by the defined names of their columns and cells, so that columns, rows and sheets
may have been moved or renamed. Every other cell is the older template's own (`own_contents`), or
it is kept on a sheet of the new workbook.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from lumbercalc.book.inputs import single_cells
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.book.tables import TABLE_FILES
from lumbercalc.book.template import build
from lumbercalc.book.template_mark import MARK, template_of
from lumbercalc.book.upgrading.beside import bring_beside
from lumbercalc.book.upgrading.kept import HEADERS, SHEET, Kept, add_kept
from lumbercalc.book.upgrading.moves import WENT_AWAY, move_inputs
from lumbercalc.book.upgrading.own_contents import (
    contents_of,
    old_contents,
    own_forms,
    own_name,
    titles_by_names,
)
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.upgrading.refill_inputs import bring_cells, bring_rows, bring_species
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.old_workbook import OldWorkbook, as_old, read_old
from lumbercalc.book.xlsx.places import Area, Place, address
from lumbercalc.faults import FileFault
from lumbercalc.file_checks import refuse_open
from lumbercalc.version import TEMPLATE

MOST_KEPT = 200_000
"""Cells: a shop's own sheets of more are better kept in a workbook of their own."""

OVER_A_FORMULA = "typed over what the template computes, or has no place in today's"
OWN_SHEET = "on a sheet of your own"
REMARK = "not in a table of the template"
OWN_NAME = "a name of your own"


def upgrade(path: Path, *, macros: bool = False) -> Refill:
    """Read a workbook and bring it into a new one of today's template.

    Parameters
    ----------
    path : Path
        The shop's workbook; it is only read.
    macros : bool
        Whether the new one is an .xlsm, with the macros of today's.

    Returns
    -------
    Refill
        With the new workbook, without computed values yet.

    Raises
    ------
    FileFault
        When the file cannot be read, is open in a spreadsheet, is no workbook of lumbercalc, or
        one of a newer template.
    """
    refuse_open(path)
    return bring_over(read_old(open_archive(path)), path, macros=macros)


def bring_over(old: OldWorkbook, path: Path, *, macros: bool = False) -> Refill:
    """Bring what was read from a workbook into a new one of today's template.

    Parameters
    ----------
    old : OldWorkbook
        As it was found.
    path : Path
        Where; for messages.
    macros : bool
        Whether the new one has macros.

    Returns
    -------
    Refill
        With the new workbook, without computed values yet.
    """
    refill = Refill(old, _template(old, path), build(macros=macros))
    today = as_old(refill.workbook)
    single = single_cells(refill.workbook)
    for table in TABLE_FILES.values():
        bring_rows(refill, table)
    for name, cells in single.items():
        if name in old.names:
            bring_cells(refill, name, cells)
    bring_species(refill)
    move_inputs(refill, single)
    _keep_rest(refill, today, path)
    if refill.kept:
        add_kept(refill.workbook, refill.kept)
    return refill


def _template(old: OldWorkbook, path: Path) -> int:
    """Tell which template made a workbook: by its mark, else by the names that came with it."""
    template = template_of(old.names, old.value(MARK))
    if template is None:
        raise FileFault(f"{path}: no table made by lumbercalc new is in it")
    if template > TEMPLATE:
        raise FileFault(
            f"{path}: its template is {template:g}, newer than {TEMPLATE}, the one of this "
            "lumbercalc; take a newer lumbercalc"
        )
    return int(template)


def _keep_rest(refill: Refill, today: OldWorkbook, path: Path) -> None:
    """Keep every cell, note and name that neither was placed nor is the template's own."""
    old = refill.old
    titles = titles_by_names(old, today)
    own = old_contents() | contents_of(today)
    forms = list(own_forms(old, titles))
    sheets = _template_sheets(refill, forms, own)
    computed = {
        (area.sheet, area.first_column): area
        for name, area in old.names.items()
        if own_name(name) in own and area.first_column == area.last_column
    }
    went_away = {
        place: why
        for name, why in WENT_AWAY.items()
        if name in old.names
        for place in old.names[name].places
    }
    _carry_kept(refill)
    for place, form in forms:
        if place in refill.done or (form in own and place[0] in sheets):
            continue
        refill.keep_cell(place, went_away.get(place) or _why_kept(place, sheets, computed))
        if len(refill.kept) > MOST_KEPT:
            raise FileFault(
                f"{path}: more than {MOST_KEPT:,} cells are not the template's; keep sheets of "
                "your own in another workbook"
            )
    bring_beside(refill)
    texts = {name: f"{area.sheet}!{address(area.first)}" for name, area in old.names.items()}
    for name, text in (texts | old.other_names).items():
        if own_name(name) not in own:
            refill.kept.append(Kept("", name, text, OWN_NAME))


def _why_kept(place: Place, sheets: set[str], computed: dict[tuple[str, int], Area]) -> str:
    """Say what a cell is that is neither an input nor the template's own."""
    sheet, row, column = place
    if sheet not in sheets:
        return OWN_SHEET
    area = computed.get((sheet, column))
    over = area is not None and area.first_row <= row <= area.last_row
    return OVER_A_FORMULA if over else REMARK


def _template_sheets(
    refill: Refill, forms: list[tuple[Place, str]], own: frozenset[str]
) -> set[str]:
    """Tell a template's sheets from those of the shop, which may go by the name of one today."""
    count, known = Counter[str](), Counter[str]()
    for place, form in forms:
        count[place[0]] += 1
        known[place[0]] += form in own or place in refill.done
    named = {area.sheet for name, area in refill.old.names.items() if own_name(name) in own}
    return named | {sheet for sheet in count if 2 * known[sheet] > count[sheet]}


def _carry_kept(refill: Refill) -> None:
    """Carry what an earlier upgrade kept, as it is."""
    headers = refill.old.rows.get((SHEET, HEADER_ROW), {})
    if tuple(cell.value for _, cell in sorted(headers.items())) != HEADERS:
        return
    for (sheet, row), cells in refill.old.rows.items():
        if sheet == SHEET:
            refill.done.update(dict.fromkeys((sheet, row, column) for column in cells))
            if row >= FIRST_ROW:
                texts = [cells[n].value if n in cells else "" for n in range(1, len(HEADERS) + 1)]
                refill.kept.append(Kept(str(texts[0]), str(texts[1]), texts[2], str(texts[3])))
