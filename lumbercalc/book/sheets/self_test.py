"""The self-test on the sheet Checks: functions against values that others have published."""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.layout import GREEN, RED, ROW_HEIGHT, alignment, mark, padded
from lumbercalc.book.page.names import define

NUMBER = padded("0.####")
COLUMNS = (
    ("Self-test: a function", "lc text", "@"),
    ("It gives", "lc result", NUMBER),
    ("Published", "lc result", NUMBER),
    ("Source", "lc text", "@"),
    ("Within", "lc result", f'[<0.000001]"exact"_);{NUMBER}'),
    ("Agrees", "lc check", '"TRUE";"TRUE";"FALSE"'),  # Calc would show 1
)
"""Header, style and number format."""


@dataclass(frozen=True)
class Published:
    """A function's answer as others have printed it.

    Parameters
    ----------
    name : str
        Defined name of the cell that says whether it agrees; begins with "test_".
    formula : str
        Without "=".
    value : float
        As published.
    tolerance : float
        Half a unit of the last printed digit, or what the source leaves open.
    source : str
        Publication, and how the value was come by.
    """

    name: str
    formula: str
    value: float
    tolerance: float
    source: str


EXACT = 1e-9
"""Binary arithmetic."""

PUBLISHED = (
    Published(
        "test_board_feet",
        "BOARD_FEET(1,9,13)",
        9.75,
        EXACT,
        "Noyes, Handwork in Wood (1910): 9 ft 9 in of board measure",
    ),
    Published(
        "test_surface_measure",
        "SURFACE_MEASURE(6.25,8)",
        4,
        0,
        "American Hardwood Export Council on the NHLA rules: 4-1/6 counts 4",
    ),
    Published("test_log_scale", 'LOG_SCALE(16,16,"Doyle")', 144, 0, "printed Doyle tables"),
    Published(
        "test_lumber_weight",
        'LUMBER_WEIGHT("northern red oak",1000,74.5)',
        5250,
        262.5,
        "Northeastern Loggers' Association, green red oak; 5 %, it states neither MC nor thickness",
    ),
    Published(
        "test_emc",
        "EMC(70,50)",
        9.2,
        0.06,
        "Wood Handbook FPL-GTR-190 (2010) Table 4-2, printed to 0.1",
    ),
    Published(
        "test_heated_rh",
        "HEATED_RH(41,100,77)",
        27.529,
        0.017,
        "ASHRAE Handbook Fundamentals (2017) ch. 1 Table 3: 0.12656 / 0.45973 psi, within 600 ppm",
    ),
    Published(
        "test_mold_index",
        'MOLD_INDEX({68;68;68;68;68;68},{90;90;90;90;90;90},117.6,"pine sapwood")',
        1,
        0.03,
        "Hukka & Viitanen (1999), as in published implementations: 4.2 weeks at 20 deg C, 90 %",
    ),
    Published(
        "test_mc_by_weight",
        "MC_BY_WEIGHT(120,99.99)",
        20.0,
        0.05,
        "Wengert, Measuring MC by weight (2000), printed to 0.1 %",
    ),
    Published(
        "test_mc_upper",
        "MC_UPPER({7;8;9;8})",
        8.9606,
        0.0003,
        "Student's t 2.353 (3 degrees of freedom, 95 %), NIST e-Handbook 1.3.6.7.2, from memory",
    ),
    Published(
        "test_shrinkage",
        'SHRINKAGE("black walnut","tangential",30,0)',
        7.8,
        EXACT,
        "Wood Handbook FPL-GTR-190 (2010) Table 4-3",
    ),
    Published(
        "test_width_movement",
        'WIDTH_MOVEMENT(1,"black walnut","radial",9,10)',
        0.0019,
        EXACT,
        "Wood Handbook FPL-GTR-190 (2010) Table 13-5",
    ),
    Published(
        "test_safe_rate",
        'SAFE_RATE("northern red oak",1.125)',
        3.8,
        EXACT,
        "Univ. of Kentucky FOR-128 Table 9 (Wengert), red oak, upland, 4/4",
    ),
    Published(
        "test_top_weight",
        "TOP_WEIGHT(8,4)",
        1600,
        EXACT,
        "Univ. of Kentucky FOR-128 p. 68: 50 lb/ft2",
    ),
    Published(
        "test_heat_treated",
        "HEAT_TREATED({0;10;20;30},{132.8;132.8;132.8;132.8})*1",
        1,
        0,
        "ISPM 15, heat treatment: 56 deg C in the core for 30 minutes (1 is TRUE)",
    ),
    Published(
        "test_species_value",
        'SPECIES_VALUE("black walnut","specific gravity")',
        0.51,
        EXACT,
        "USDA Forest Service FIA REF_SPECIES v. 2022, green volume",
    ),
)
"""In the order of the sheet Functions."""


def add_self_test(workbook: Workbook, sheet: Worksheet, row: int) -> int:
    """Write the self-test as rows of a sheet.

    The verdict compares cells: a spreadsheet without the functions then keeps its stored TRUE,
    which it would compute anew if the formula named one of them.

    Parameters
    ----------
    workbook : Workbook
        Takes the defined names, and "self_tests" for all of them.
    sheet : Worksheet
        With columns A to F.
    row : int
        Of the headers.

    Returns
    -------
    int
        The last row.
    """
    first, last = row + 1, row + len(PUBLISHED)
    for number, (header, _, number_format) in enumerate(COLUMNS, 1):
        cell = sheet.cell(row, number)
        cell.value, cell.style = header, "lc section"
        if number > 1:  # the first one stands under the titles of the other sections
            cell.alignment = alignment(number_format)
    for at, each in enumerate(PUBLISHED, first):
        told: tuple[str | float, ...] = (
            f"={each.formula}", f"={each.formula}", each.value, each.source, each.tolerance,
            f"=ABS(B{at}-C{at})<=E{at}",
        )  # fmt: skip
        for number, (content, (_, style, number_format)) in enumerate(
            zip(told, COLUMNS, strict=True), 1
        ):
            cell = sheet.cell(at, number)
            cell.value, cell.style, cell.number_format = content, style, number_format
            if number_format != "@":
                cell.alignment = alignment(number_format)
        sheet.cell(at, 1).data_type = "s"  # the text of the formula, not the formula
        sheet.row_dimensions[at].height = 2 * ROW_HEIGHT
        define(workbook, each.name, f"'{sheet.title}'!$F${at}")
    define(workbook, "self_tests", f"'{sheet.title}'!$F${first}:$F${last}")
    # not to F: a mark on a truth value in the General format makes Calc 25.2 crash on export
    compared = f"ABS($B{first}-$C{first})", f"$E{first}"
    mark(sheet, f"F{first}:F{last}", ">".join(compared), RED)
    mark(sheet, f"F{first}:F{last}", "<=".join(compared), GREEN, bold=False)
    return last
