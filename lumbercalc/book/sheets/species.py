"""Sheet Species: the table that the functions use, with the standing of every figure."""

from __future__ import annotations

import numpy as np
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from lumbercalc.book.page.layout import head, print_setup
from lumbercalc.book.page.names import define
from lumbercalc.book.page.table import FIRST_ROW, HEADER_ROW
from lumbercalc.wood import species
from lumbercalc.wood.published import Figure

NUMBER_FORMATS = {
    "% MC": "0",
    "%": "0.0",
    "% MC/day": "0.0",
    "cm2/s": "0.0",
    "": "0.00",
}
"""By unit; a coefficient has five digits."""
COEFFICIENT_FORMAT = "0.00000"
LIST_ROOM = 60
"""Rows under the table for the shop's own species names."""


def add_species(workbook: Workbook) -> None:
    """Add the sheet.

    Parameters
    ----------
    workbook : Workbook
        With the named styles.
    """
    sheet = workbook.create_sheet("Species")
    head(
        sheet,
        "Species",
        "Figures that the functions use; for the publication of each type "
        '=SPECIES_SOURCE("Walnut, black","green MC"). Your own species: lumbercalc species add.',
        len(species.FIGURES) + 2,
    )
    figures = species.FIGURES
    headers = ["Species", *(_header(figure) for figure in figures.values())]
    for number, text in enumerate([*headers, "Source of the shrinkage"], 1):
        cell = sheet.cell(HEADER_ROW, number)
        cell.value, cell.style = text[0].upper() + text[1:], "lc header"
        sheet.column_dimensions[cell.column_letter].width = 12
    names = species.names()
    columns = {name: species.figure(names, name) for name in figures}
    for row, species_name in enumerate(names, FIRST_ROW):
        first = sheet.cell(row, 1)
        first.value, first.style = species_name, "lc label"
        for number, name in enumerate(figures, 2):
            cell = sheet.cell(row, number)
            cell.style = "lc result"
            value = float(columns[name][row - FIRST_ROW])
            if not np.isnan(value):
                cell.value = round(value, 5)
            cell.number_format = NUMBER_FORMATS.get(figures[name].unit, COEFFICIENT_FORMAT)
        source = sheet.cell(row, len(figures) + 2)
        source.value = species.source(species_name, "tangential shrinkage")
        source.style = "lc lead"
    last = FIRST_ROW + len(names) - 1
    for row in range(last + 1, last + 1 + LIST_ROOM):
        sheet.cell(row, 1).style = "lc input"
    sheet.column_dimensions["A"].width = 27
    sheet.column_dimensions[get_column_letter(len(figures) + 1)].width = 15
    sheet.column_dimensions[get_column_letter(len(figures) + 2)].width = 94
    sheet.row_dimensions[HEADER_ROW].height = 58
    sheet.freeze_panes = f"B{FIRST_ROW}"
    sheet.auto_filter.ref = f"A{HEADER_ROW}:{get_column_letter(len(figures) + 2)}{last}"
    define(workbook, "species_names", f"'Species'!$A${FIRST_ROW}:$A${last + LIST_ROOM}")
    print_setup(sheet, f"A1:{get_column_letter(len(figures) + 2)}{last}")
    sheet.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"


def _header(figure: Figure) -> str:
    """Write a column's header; the drying constant is a factor, not itself a diffusivity."""
    if figure.name == "drying constant":
        return "drying constant: factor before exp(-5280 K/T) (cm2/s)"
    return f"{figure.name} ({figure.unit})" if figure.unit else figure.name
