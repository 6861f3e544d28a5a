"""Named styles by role, so that a cell says what it is by more than its color."""

from __future__ import annotations

from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.utils.indexed_list import IndexedList
from openpyxl.workbook import Workbook

FONT = "Liberation Sans"
SIZE = 10
SWISS = 2
"""Family of letters without serifs: where FONT is missing, another of its kind takes its place."""
WRAPPED = Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)
"""Of texts that may need two lines."""
INK = "2B2620"
BARK = "4A3B2A"
SAPWOOD = "FBF4E4"
PAPER = "FFFFFF"
GRAIN = "C9B79C"
MOSS = "4F6B3A"
RUST = "A23B1E"
STONE = "6B645A"

_thin = Side(style="thin", color=GRAIN)
_hair = Side(style="hair", color=GRAIN)
_strong = Side(style="medium", color=BARK)


def _style(
    name: str,
    *,
    bold: bool = False,
    italic: bool = False,
    size: float = SIZE,
    color: str = INK,
    fill: str | None = None,
    border: Border | None = None,
    align: Alignment | None = None,
) -> NamedStyle:
    style = NamedStyle(name=name)
    style.font = Font(name=FONT, family=SWISS, size=size, bold=bold, italic=italic, color=color)
    style.alignment = align or Alignment(vertical="center")
    if fill:
        style.fill = PatternFill("solid", fgColor=fill)
    if border:
        style.border = border
    return style


def named_styles() -> list[NamedStyle]:
    """Make the workbook's named styles.

    Returns
    -------
    list of NamedStyle
        title, lead, header, input, result, answer (the result that a sheet is for), check, note,
        label, plain, section, text, caution and total.
    """
    box = Border(left=_thin, right=_thin, top=_thin, bottom=_thin)
    padded = Alignment(horizontal="left", vertical="center", indent=1)
    return [
        _style("lc title", bold=True, size=18, color=PAPER, fill=BARK, align=padded),
        _style("lc lead", italic=True, color=STONE, align=padded),
        _style(
            "lc header",
            bold=True,
            color=PAPER,
            fill=BARK,
            border=Border(bottom=_strong, left=_thin, right=_thin),
            align=Alignment(horizontal="center", vertical="center", wrap_text=True),
        ),
        _style("lc input", fill=SAPWOOD, border=box),
        _style("lc result", border=Border(bottom=_hair), fill=PAPER),
        _style("lc answer", bold=True, border=Border(bottom=_hair), fill=PAPER),
        _style("lc check", italic=True, color=MOSS, border=Border(bottom=_hair), align=padded),
        _style("lc note", color=STONE, align=WRAPPED),
        _style("lc label", bold=True, color=BARK, align=padded),
        _style("lc plain", align=padded),
        _style("lc section", bold=True, size=12, color=BARK, border=Border(bottom=_strong)),
        _style("lc text", align=WRAPPED, border=Border(bottom=_hair)),
        _style("lc caution", color=RUST, bold=True, align=WRAPPED),
        _style("lc total", bold=True, border=Border(top=_strong, bottom=_thin)),
    ]


def add_styles(workbook: Workbook) -> None:
    """Register the named styles in a workbook, and its own letters as those of plain cells.

    Spreadsheets measure the width of a column in digits of the plain cells' font. openpyxl begins
    with Calibri 11: where that is missing, what takes its place may be a quarter wider, and what
    fits there is cut where it is not.

    Parameters
    ----------
    workbook : Workbook
        A new one.
    """
    plain = Font(name=FONT, family=SWISS, size=SIZE)
    workbook._fonts = IndexedList([plain])  # type: ignore[attr-defined]  # its only way
    workbook._named_styles["Normal"].font = plain  # type: ignore[attr-defined]
    for style in named_styles():
        workbook.add_named_style(style)
